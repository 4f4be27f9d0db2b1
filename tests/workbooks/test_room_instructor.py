"""The instructor's page of a running room, over HTTP: closed to learners, and each button does what its sentence says."""

import csv
import io
import json
import re
import time
import urllib.parse
from html import unescape
from pathlib import Path

import pytest
from room_visitor import Visitor, opened

from lessons_lib import Q_
from lessons_lib.exercises import learner, of_lesson, question

PAGES = ("/instructor", "/instructor/board", "/instructor/delete", "/instructor/results.csv", "/instructor/board.csv")
MARKUP, FORMULA = '<img src=x onerror="alert(1)">', "=1+1|calc"
SHARE = "01-hot-share"


class Browser(Visitor):
    """A visitor of whose answers the status and the page are looked at."""

    def get(self, path: str) -> tuple[int, str]:
        """Gives status and text of a page."""
        answer = self.ask(path)
        return answer.status, answer.text

    def post(self, path: str, **fields) -> tuple[int, str]:
        """Sends a form, and gives status and text of what comes back."""
        answer = self.ask(path, fields)
        return answer.status, answer.text


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A running room."""
    with pytest.MonkeyPatch.context() as patch, opened(tmp_path_factory.mktemp("kept"), patch) as running:
        yield running


@pytest.fixture
def at_work(room):
    """The running room with nobody in it, and the instructor's browser."""
    browser = Browser(room)
    assert browser.get(f"/instructor?key={room.instructor}")[0] == 302
    browser.get("/instructor/delete")
    assert browser.post("/instructor/delete", word="delete")[0] == 200
    return room, browser


def entered(room, name: str, seat: str = "", word: str = "own word") -> Browser:
    """A learner who came in by the door."""
    visitor = Browser(room)
    answer = visitor.enter(name, word, seat)
    assert answer.status == 303, answer.told
    return visitor


def members(room) -> dict:
    """Gives the room's list of learners, the one who came last at the end."""
    return json.loads((room.state / "members.json").read_text(encoding="utf-8"))


def account(room, name: str) -> str:
    """Gives the account of a name."""
    return next(one for one, member in members(room).items() if member["name"] == name)


def answers(room, name: str) -> Path:
    """Gives the folder of somebody's answers."""
    return room.state / "members" / account(room, name) / "answers"


def wrong(who, asked) -> str:
    """Gives an answer that is one of the known mistakes."""
    return f"{who.variant(asked).wrongs[0].value.magnitude:.3f} %"


def words(page: str) -> str:
    """Gives what a reader sees of a page."""
    return " ".join(unescape(re.sub(r"<(script|style).*?</\1>|<[^>]+>", " ", page, flags=re.S)).split())


def test_learners_and_strangers_get_plain_words(at_work):
    room, instructor = at_work
    ana, stranger = entered(room, "Ana"), Browser(room)
    for who in (ana, stranger):
        for path in (*PAGES, f"/instructor/learner?account={account(room, 'Ana')}"):
            status, text = who.get(path)
            assert status == 403 and "Ana</td>" not in text and room.instructor not in text, path
            assert "instructor" in text or "code of this room" in text
        who.get("/")
        status, _ = who.post("/instructor/delete", word="delete")
        assert status == 403
        assert who.post("/instructor/learner", account=account(room, "Ana"), act="remove", sure="yes")[0] == 403
    assert "This page is for the instructor." in ana.get("/instructor")[1]
    assert "Ana" in instructor.get("/instructor")[1]


def test_only_the_key_of_the_window_opens_it(room):
    assert f"/instructor?key={room.instructor}" in room.told and len(room.instructor) >= 20
    browser = Browser(room)
    status, text = browser.get("/instructor?key=" + room.instructor[:-1] + "x")
    assert status == 403 and "not the key" in text and browser.get("/instructor")[0] == 403
    answer = browser.ask(f"/instructor?key={room.instructor}")
    cookie = next(one for one in answer.headers.get_all("Set-Cookie") if one.startswith("room-instructor="))
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and "expires" not in cookie.lower()
    status, text = browser.get("/instructor")
    assert status == 200 and room.instructor not in text
    forged = Browser(room)
    forged.give_code()
    forged.cookies["room-instructor"] = forged.cookies["room-code"]
    assert forged.get("/instructor")[0] == 403


def test_nothing_is_done_without_a_form_of_the_room(at_work):
    room, instructor = at_work
    entered(room, "Ana")
    own = account(room, "Ana")
    for path, fields in (
        ("/instructor/delete", {"word": "delete"}),
        ("/instructor/learner", {"account": own, "act": "remove", "sure": "yes"}),
    ):
        assert instructor.post(path, _xsrf="", **fields)[0] == 403
        assert instructor.get(f"{path}?{urllib.parse.urlencode(fields)}")[0] == 200
    assert account(room, "Ana") == own


def test_it_shows_who_is_in_and_what_they_did(at_work):
    room, instructor = at_work
    assert "Nobody has come in yet" in words(instructor.get("/instructor")[1])
    entered(room, "Ana", "7")
    entered(room, "Ben")
    ana, asked, other = learner("Ana", "7", answers(room, "Ana")), question(SHARE), of_lesson("02")[0]
    ana.answer(asked, wrong(ana, asked))
    ana.answer(asked, ana.variant(asked).shown_answer())
    ana.answer(other, "1")
    status, page = instructor.get("/instructor")
    rows = re.findall(r"<tr><td>.*?</tr>", page.partition("Lesson by lesson")[0])
    shown = [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in rows]
    assert status == 200 and [words(one[0]) for one in shown] == ["● Ana", "● Ben"]
    assert shown[0][1] == "7" and shown[0][5:8] == ["2", "1", "3"] and shown[1][5:8] == ["0", "0", "0"]
    assert "2 learners, 2 of them here" in words(page) and "1 of 1 0 of 1" in words(page)


def test_who_has_a_page_open_is_here_and_the_code_stays_to_be_read_out(at_work):
    room, instructor = at_work
    ana, long_ago = entered(room, "Ana"), time.time() - 3600
    _, kernel = ana.open()
    kept = members(room)
    for one in kept.values():
        one["seen"] = long_ago
    (room.state / "members.json").write_text(json.dumps(kept), encoding="utf-8")
    assert "1 learner, 0 of them here" in words(instructor.get("/instructor")[1])
    assert ana.ask(f"/awake/{kernel}").status == 200
    page = words(instructor.get("/instructor")[1])
    assert "1 learner, 1 of them here" in page and "● Ana" in page and "just now" in page
    assert room.code in page, "somebody may come late"


def test_who_only_opened_a_page_neither_answered_nor_guessed(at_work):
    room, instructor = at_work
    for name, keep in (
        ("Ana", lambda who: who.answer(of_lesson("01")[1], "A")),
        ("Ben", lambda who: who.keep_guess("02", Q_(50, "degC"), "temperature")),
        ("Cem", lambda who: who.keep_draft(of_lesson("01")[1], "half ty")),
    ):
        entered(room, name)
        keep(learner(name, "", answers(room, name)))
    assert "2 learners have answered or guessed" in words(instructor.get("/instructor/board")[1])


def test_the_results_are_a_table_for_spreadsheets(at_work):
    room, instructor = at_work
    entered(room, FORMULA)
    who, asked = learner(FORMULA, "", answers(room, FORMULA)), question(SHARE)
    for text in (wrong(who, asked), who.variant(asked).shown_answer()):
        who.answer(asked, text)
    content = json.loads(who.file.read_text(encoding="utf-8"))
    for entry, when in zip(content["tries"], ("2026-03-02T09:00:00+00:00", "2026-03-02T09:07:00+00:00")):
        entry["when"] = when
    content["tries"].append({**content["tries"][1], "id": "x", "when": "2026-03-02T09:30:00+00:00"})
    content["tries"].append({**content["tries"][1], "id": "y", "when": "not a time"})
    who.file.write_text(json.dumps(content), encoding="utf-8")
    status, text = instructor.get("/instructor/results.csv")
    assert status == 200 and text.startswith("\ufeff")
    head, *rows = csv.reader(io.StringIO(text.removeprefix("\ufeff")))
    assert head == ["name", "seat", "in since", "last seen", "lesson", "tried", "right", "answers", "minutes"]
    assert [row[4:] for row in rows] == [["01", "1", "1", "4", "7"], ["all", "1", "1", "4", "7"]]
    assert {row[0] for row in rows} == {f"'{FORMULA}"}


def test_the_board_begins_with_the_greatest_need_and_names_nobody_unasked(at_work):
    room, instructor = at_work
    asked, other = question(SHARE), of_lesson("01")[1]
    for name, text in (("Ana", None), ("Ben", wrong)):
        entered(room, name)
        who = learner(name, "", answers(room, name))
        who.answer(other, who.variant(other).shown_answer().split(":")[0])
        who.answer(asked, text(who, asked) if text else who.variant(asked).shown_answer())
        who.keep_guess("02", Q_(50, "degC"), "temperature")
    _, page = instructor.get("/instructor/board")
    order = re.findall(r"<strong>(.*?)</strong>: (.*?)<", page)
    assert order[0] == ("01 · 3 hot share", "1 of 2 right, 1 at once.") and order[1][1].startswith("2 of 2 right")
    assert "“divided temperatures”: 1 learner" in words(page) and "50 °C or 122 °F" in words(page)
    assert "Ana" not in page and "Ben" not in page
    _, named = instructor.get("/instructor/board?names=shown")
    assert "“divided temperatures”: 1 learner (Ben); answered" in words(named)
    assert "hot share" not in instructor.get("/instructor/board?lesson=02")[1]
    _, text = instructor.get("/instructor/board.csv")
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))
    assert rows[1] == ["01 · 3", "01", "2", "1", "1", "0", "divided temperatures", "1"] and "Ben" not in text


def test_a_freed_word_is_chosen_anew(at_work):
    room, instructor = at_work
    entered(room, "Ana", word="first word")
    _, page = instructor.get(f"/instructor/learner?account={account(room, 'Ana')}")
    status, page = instructor.post("/instructor/learner", account=account(room, "Ana"), act="free")
    assert status == 200 and "The word of Ana is forgotten" in words(page)
    kept = members(room)
    assert kept[account(room, "Ana")]["word"] == "" and "first word" not in json.dumps(kept)
    entered(room, "Ana", word="second word")
    with pytest.raises(AssertionError, match="with another word"):
        entered(room, "Ana", word="first word")


def test_a_learner_of_another_name_keeps_the_answers(at_work):
    room, instructor = at_work
    entered(room, "Anna", "7")
    entered(room, "Ben")
    anna, asked = learner("Anna", "7", answers(room, "Anna")), question(SHARE)
    anna.answer(asked, anna.variant(asked).shown_answer())
    own = account(room, "Anna")
    instructor.get(f"/instructor/learner?account={own}")
    status, page = instructor.post("/instructor/learner", account=own, act="rename", name="Ana ")
    assert status == 200 and "Anna is called Ana from now on" in words(page) and account(room, "Ana") == own
    assert learner("Ana", "7", answers(room, "Ana")).solved(asked)
    assert [file.name for file in answers(room, "Ana").glob("[!.]*")] == [
        learner("Ana", "7", answers(room, "Ana")).file.name
    ]
    for name in ("ben", "?!"):
        status, page = instructor.post("/instructor/learner", account=own, act="rename", name=name)
        assert status == 400 and f'value="{name}"' in page, "what was typed is still there"
    assert account(room, "Ana") == own


def test_a_removed_learner_is_out_at_once(at_work):
    room, instructor = at_work
    ana = entered(room, "Ana")
    learner("Ana", "", answers(room, "Ana"))
    own, folder = account(room, "Ana"), answers(room, "Ana").parent
    _, kernel = ana.open()
    assert ana.get(f"/api/kernels/{kernel}")[0] == 200
    assert "02 how hot at the tap" in instructor.get("/instructor")[1]
    instructor.get(f"/instructor/learner?account={own}")
    status, page = instructor.post("/instructor/learner", account=own, act="remove")
    assert status == 400 and "Nothing was deleted" in words(page) and folder.exists()
    status, page = instructor.post("/instructor/learner", account=own, act="remove", sure="yes")
    assert status == 200 and "Ana is out of the room. All answers" in words(page) and not folder.exists()
    status, page = ana.get("/voila/render/start-here.ipynb")
    assert status == 403 and "Your name" in page and ana.get(f"/api/kernels/{kernel}")[0] == 403
    entered(room, "Ana", word="another word")
    assert account(room, "Ana") and not answers(room, "Ana").exists(), "whoever comes under that name begins anew"
    instructor.post("/instructor/learner", account=account(room, "Ana"), act="remove", sure="yes")
    assert "Ana" not in instructor.get("/instructor")[1]
    assert instructor.get(f"/instructor/learner?account={own}")[0] == 404


def test_everything_goes_once_the_word_is_typed(at_work):
    room, instructor = at_work
    browsers = [entered(room, "Ana"), entered(room, "Ben")]
    learner("Ana", "", answers(room, "Ana"))
    _, page = instructor.get("/instructor/delete")
    assert "all 2 learners" in words(page)
    status, page = instructor.post("/instructor/delete", word="yes")
    assert status == 400 and "Nothing was deleted" in words(page) and account(room, "Ana")
    status, page = instructor.post("/instructor/delete", word=" Delete ")
    assert status == 200 and "Everybody is out of the room" in words(page)
    assert members(room) == {}
    assert list((room.state / "members").iterdir()) == []
    assert {browser.get("/voila/render/start-here.ipynb")[0] for browser in browsers} == {403}


def test_hostile_names_are_text(at_work):
    room, instructor = at_work
    for name in (MARKUP, FORMULA, "{{ room.kept }}", "../../x", "𝔄na 🚿" + "x" * 300):
        entered(room, name, seat=MARKUP)
        who = learner(name, MARKUP, room.state / "members" / list(members(room))[-1] / "answers")
        who.answer(question(SHARE), wrong(who, question(SHARE)))
        content = json.loads(who.file.read_text(encoding="utf-8"))
        content["tries"][0]["mistake"] = MARKUP
        who.file.write_text(json.dumps(content), encoding="utf-8")
    pages = [instructor.get(path)[1] for path in ("/instructor", "/instructor/board?names=shown")]
    pages += [instructor.get(f"/instructor/learner?account={one}")[1] for one in members(room)]
    secret = json.loads((room.state / "room.json").read_text(encoding="utf-8"))["secret"]
    for page in pages:
        assert "<img" not in page and secret not in page and room.instructor not in page
    assert "&lt;img" in pages[0] and "{{ room.kept }}" in pages[0]
    assert "5 learners" in words(pages[0]) and "5 learners have answered" in words(pages[1])


def test_files_of_ten_thousand_answers_hold_nothing_up(at_work):
    room, instructor = at_work
    for name in ("Ana", "Ben", "Cem"):
        entered(room, name)
        who = learner(name, "", answers(room, name))
        who.answer(question(SHARE), wrong(who, question(SHARE)))
        content = json.loads(who.file.read_text(encoding="utf-8"))
        content["tries"] = [{**content["tries"][0], "id": str(place)} for place in range(10_000)]
        who.file.write_text(json.dumps(content), encoding="utf-8")
    (answers(room, "Ana") / "broken.json").write_text("{", encoding="utf-8")
    begun = time.perf_counter()
    status, page = instructor.get("/instructor")
    print(f"three files of 10,000 answers were read in {time.perf_counter() - begun:.2f} s")
    assert status == 200 and len(re.findall(r">10000<", page)) == 3
    assert "1 thing was left out" in words(instructor.get("/instructor/board")[1])


def test_what_is_kept_is_told_before_the_first_answer(room):
    browser = Browser(room)
    status, page = browser.get("/privacy")
    browser.give_code()
    assert status == 200 and words(page.partition("<ul>")[2].partition("</ul>")[0]) in words(browser.get("/name")[1])
    for said in ("What is kept", "Who reads it", "Where it is", "How long", "not encrypted"):
        assert said in words(page)
