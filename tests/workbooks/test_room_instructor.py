"""The instructor's page of a running room, over HTTP: closed to learners, and each button does what its sentence says."""

import csv
import importlib.util
import io
import json
import re
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
from html import unescape
from http.cookiejar import CookieJar
from pathlib import Path

import pytest

from lessons_lib import Q_
from lessons_lib.exercises import learner, of_lesson, question

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"
sys.path.insert(0, str(WORKBOOKS))
from room import command  # noqa: E402

PAGES = ("/instructor", "/instructor/board", "/instructor/delete", "/instructor/results.csv", "/instructor/board.csv")
MARKUP, FORMULA = '<img src=x onerror="alert(1)">', "=1+1|calc"
SHARE = "01-hot-share"


class NoLesson(urllib.request.HTTPRedirectHandler):
    """Follows the room from page to page, but opens no lesson: that takes seconds."""

    def redirect_request(self, request, answer, code, words, headers, url):
        """Gives the next request, or None before a lesson."""
        return None if "/voila/" in url else super().redirect_request(request, answer, code, words, headers, url)


class Browser:
    """Somebody's browser, with cookies of its own."""

    def __init__(self, address: str):
        self.address, self.cookies = address, CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies), NoLesson)

    def get(self, path: str) -> tuple[int, str]:
        """Gives status and text of a page."""
        return self._fetched(path, None)

    def post(self, path: str, xsrf: bool = True, **fields) -> tuple[int, str]:
        """Sends a form, as a page of the room would, and gives status and text of what comes back."""
        if xsrf:
            fields["_xsrf"] = next(one.value for one in self.cookies if one.name == "_xsrf")
        return self._fetched(path, urllib.parse.urlencode(fields).encode())

    def _fetched(self, path: str, content) -> tuple[int, str]:
        try:
            with self._opener.open(self.address + path, content, timeout=60) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, refusal.read().decode()


class RunningRoom:
    """A room that runs on this machine alone. state : its folder; address; kept : what it remembers"""

    def __init__(self, folder: Path):
        self.state = folder / "room"
        arguments, variables = command.room_command(Path(sys.executable), "127.0.0.1")
        self.process = subprocess.Popen(arguments, env=variables, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        self.printed = ""
        while "/instructor?key=" not in self.printed:
            line = self.process.stdout.readline().decode()
            assert line, f"the room did not open: {self.printed}"
            self.printed += line
        self.address = re.search(r"http://127\.0\.0\.1:\d+", self.printed).group()
        self.kept = json.loads((self.state / "room.json").read_text(encoding="utf-8"))

    def enters(self, name: str, seat: str = "", word: str = "own word") -> Browser:
        """A learner comes in by the door."""
        browser = Browser(self.address)
        browser.get("/")
        browser.post("/", code=self.kept["code"])
        status, text = browser.post("/name", name=name, seat=seat, word=word)
        assert status == 303, text
        return browser

    def instructor(self) -> Browser:
        """The instructor's browser, let in by the line of the window."""
        browser = Browser(self.address)
        status, text = browser.get(f"/instructor?key={self.kept['instructor']}")
        assert status == 200 and "<h1>The room</h1>" in text
        return browser

    def account(self, name: str) -> str:
        """Gives the account of a name."""
        members = json.loads((self.state / "members.json").read_text(encoding="utf-8"))
        return next(account for account, member in members.items() if member["name"] == name)

    def answers(self, name: str) -> Path:
        """Gives the folder of somebody's answers."""
        return self.state / "members" / self.account(name) / "answers"


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A running room, emptied before each test that asks for `at_work`."""
    if importlib.util.find_spec("voila") is None:
        pytest.skip('Voilà is not installed: install the extra "room" to run this test')
    folder = tmp_path_factory.mktemp("kept")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HOT_WATER_RUNS_FOLDER", str(folder))
        running = RunningRoom(folder)
    yield running
    running.process.terminate()
    running.process.wait(timeout=30)


@pytest.fixture
def at_work(room):
    """The room with nobody in it, and the instructor's browser."""
    browser = room.instructor()
    browser.get("/instructor/delete")
    browser.post("/instructor/delete", word="delete")
    return room, browser


def wrong(who, asked) -> str:
    """Gives an answer that is one of the known mistakes."""
    return f"{who.variant(asked).wrongs[0].value.magnitude:.3f} %"


def words(page: str) -> str:
    """Gives what a reader sees of a page."""
    return " ".join(unescape(re.sub(r"<(script|style).*?</\1>|<[^>]+>", " ", page, flags=re.S)).split())


def test_learners_and_strangers_get_plain_words(at_work):
    room, instructor = at_work
    ana, stranger = room.enters("Ana"), Browser(room.address)
    for who in (ana, stranger):
        for path in (*PAGES, f"/instructor/learner?account={room.account('Ana')}"):
            status, text = who.get(path)
            assert status == 403 and "Ana</td>" not in text and room.kept["instructor"] not in text, path
            assert "instructor" in text or "code of this room" in text
        who.get("/")
        status, _ = who.post("/instructor/delete", word="delete")
        assert status == 403
        assert who.post("/instructor/learner", account=room.account("Ana"), act="remove", sure="yes")[0] == 403
    assert "This page is for the instructor." in ana.get("/instructor")[1]
    assert "Ana" in instructor.get("/instructor")[1]


def test_only_the_key_of_the_window_opens_it(room):
    assert f"/instructor?key={room.kept['instructor']}" in room.printed and len(room.kept["instructor"]) >= 20
    browser = Browser(room.address)
    status, text = browser.get("/instructor?key=" + room.kept["instructor"][:-1] + "x")
    assert status == 403 and "not the key" in text and browser.get("/instructor")[0] == 403
    status, text = browser.get(f"/instructor?key={room.kept['instructor']}")
    assert status == 200 and room.kept["instructor"] not in text
    assert browser.get("/instructor")[0] == 200
    (cookie,) = [one for one in browser.cookies if one.name == "room-instructor"]
    assert cookie.has_nonstandard_attr("HttpOnly") and cookie.get_nonstandard_attr("SameSite") == "Strict"
    forged = Browser(room.address)
    forged.get("/")
    for one in forged.cookies:
        one.name = "room-instructor" if one.name == "room-code" else one.name
    assert forged.get("/instructor")[0] == 403


def test_nothing_is_done_without_a_form_of_the_room(at_work):
    room, instructor = at_work
    room.enters("Ana")
    account = room.account("Ana")
    for path, fields in (
        ("/instructor/delete", {"word": "delete"}),
        ("/instructor/learner", {"account": account, "act": "remove", "sure": "yes"}),
    ):
        assert instructor.post(path, xsrf=False, **fields)[0] == 403
        assert instructor.get(f"{path}?{urllib.parse.urlencode(fields)}")[0] == 200
    assert room.account("Ana") == account


def test_it_shows_who_is_in_and_what_they_did(at_work):
    room, instructor = at_work
    assert "Nobody has come in yet" in words(instructor.get("/instructor")[1])
    room.enters("Ana", "7")
    room.enters("Ben")
    ana, asked, other = learner("Ana", "7", room.answers("Ana")), question(SHARE), of_lesson("02")[0]
    ana.answer(asked, wrong(ana, asked))
    ana.answer(asked, ana.variant(asked).shown_answer())
    ana.answer(other, "1")
    status, page = instructor.get("/instructor")
    rows = re.findall(r"<tr><td>.*?</tr>", page.partition("Lesson by lesson")[0])
    shown = [re.findall(r"<td[^>]*>(.*?)</td>", row) for row in rows]
    assert status == 200 and [words(one[0]) for one in shown] == ["● Ana", "● Ben"]
    assert shown[0][1] == "7" and shown[0][5:8] == ["2", "1", "3"] and shown[1][5:8] == ["0", "0", "0"]
    assert "2 learners, 2 of them here" in words(page) and "1 of 1 0 of 1" in words(page)


def test_the_results_are_a_table_for_spreadsheets(at_work):
    room, instructor = at_work
    room.enters(FORMULA)
    who, asked = learner(FORMULA, "", room.answers(FORMULA)), question(SHARE)
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
        room.enters(name)
        who = learner(name, "", room.answers(name))
        who.answer(other, who.variant(other).shown_answer().split(":")[0])
        who.answer(asked, text(who, asked) if text else who.variant(asked).shown_answer())
        who.keep_guess("02", Q_(50, "degC"), "temperature")
    _, page = instructor.get("/instructor/board")
    order = re.findall(r"<strong>(.*?)</strong>: (.*?)<", page)
    assert order[0] == ("01 hot share", "1 of 2 right, 1 at once.") and order[1][1].startswith("2 of 2 right")
    assert "divided temperatures: 1 learner" in words(page) and "50 °C or 122 °F" in words(page)
    assert "Ana" not in page and "Ben" not in page
    _, named = instructor.get("/instructor/board?names=shown")
    assert "divided temperatures: 1 learner (Ben)" in words(named)
    assert "01 hot share" not in instructor.get("/instructor/board?lesson=02")[1]
    _, text = instructor.get("/instructor/board.csv")
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"))))
    assert rows[1] == [SHARE, "01", "2", "1", "1", "0", "divided temperatures", "1"] and "Ben" not in text


def test_a_freed_word_is_chosen_anew(at_work):
    room, instructor = at_work
    room.enters("Ana", word="first word")
    _, page = instructor.get(f"/instructor/learner?account={room.account('Ana')}")
    status, page = instructor.post("/instructor/learner", account=room.account("Ana"), act="free")
    assert status == 200 and "The word of Ana is forgotten" in words(page)
    members = json.loads((room.state / "members.json").read_text(encoding="utf-8"))
    assert members[room.account("Ana")]["word"] == "" and "first word" not in json.dumps(members)
    room.enters("Ana", word="second word")
    with pytest.raises(AssertionError, match="with another word"):
        room.enters("Ana", word="first word")


def test_a_learner_of_another_name_keeps_the_answers(at_work):
    room, instructor = at_work
    room.enters("Anna", "7")
    room.enters("Ben")
    anna, asked = learner("Anna", "7", room.answers("Anna")), question(SHARE)
    anna.answer(asked, anna.variant(asked).shown_answer())
    account = room.account("Anna")
    instructor.get(f"/instructor/learner?account={account}")
    status, page = instructor.post("/instructor/learner", account=account, act="rename", name="Ana ")
    assert status == 200 and "Anna is called Ana from now on" in words(page) and room.account("Ana") == account
    assert learner("Ana", "7", room.answers("Ana")).solved(asked)
    assert [file.name for file in room.answers("Ana").glob("[!.]*")] == [
        learner("Ana", "7", room.answers("Ana")).file.name
    ]
    for name in ("ben", "?!"):
        status, page = instructor.post("/instructor/learner", account=account, act="rename", name=name)
        assert status == 400 and f'value="{name}"' in page, "what was typed is still there"
    assert room.account("Ana") == account


def test_a_removed_learner_is_out_at_once(at_work):
    room, instructor = at_work
    ana = room.enters("Ana")
    learner("Ana", "", room.answers("Ana"))
    account, folder = room.account("Ana"), room.answers("Ana").parent
    status, lesson = ana.get("/voila/render/02-how-hot-at-the-tap.ipynb")
    kernel = re.search(r'"kernelId":\s*"([^"]+)"', lesson).group(1)
    assert status == 200 and ana.get(f"/api/kernels/{kernel}")[0] == 200
    assert "02 how hot at the tap" in instructor.get("/instructor")[1]
    instructor.get(f"/instructor/learner?account={account}")
    status, page = instructor.post("/instructor/learner", account=account, act="remove")
    assert status == 400 and "Nothing was deleted" in words(page) and folder.exists()
    status, page = instructor.post("/instructor/learner", account=account, act="remove", sure="yes")
    assert status == 200 and "Ana is out of the room. All answers" in words(page) and not folder.exists()
    status, page = ana.get("/voila/render/start-here.ipynb")
    assert status == 403 and "Your name" in page and ana.get(f"/api/kernels/{kernel}")[0] == 403
    room.enters("Ana", word="another word")
    assert room.account("Ana") and not room.answers("Ana").exists(), "whoever comes under that name begins anew"
    instructor.post("/instructor/learner", account=room.account("Ana"), act="remove", sure="yes")
    assert "Ana" not in instructor.get("/instructor")[1]
    assert instructor.get(f"/instructor/learner?account={account}")[0] == 404


def test_everything_goes_once_the_word_is_typed(at_work):
    room, instructor = at_work
    browsers = [room.enters("Ana"), room.enters("Ben")]
    learner("Ana", "", room.answers("Ana"))
    _, page = instructor.get("/instructor/delete")
    assert "all 2 learners" in words(page)
    status, page = instructor.post("/instructor/delete", word="yes")
    assert status == 400 and "Nothing was deleted" in words(page) and room.account("Ana")
    status, page = instructor.post("/instructor/delete", word=" Delete ")
    assert status == 200 and "Everybody is out of the room" in words(page)
    assert json.loads((room.state / "members.json").read_text(encoding="utf-8")) == {}
    assert list((room.state / "members").iterdir()) == []
    assert {browser.get("/voila/render/start-here.ipynb")[0] for browser in browsers} == {403}


def test_hostile_names_are_text(at_work):
    room, instructor = at_work
    for name in (MARKUP, FORMULA, "{{ room.kept }}", "../../x", "𝔄na 🚿" + "x" * 300):
        room.enters(name, seat=MARKUP)
        who = learner(name, MARKUP, room.state / "members" / room_accounts(room)[-1] / "answers")
        who.answer(question(SHARE), wrong(who, question(SHARE)))
        content = json.loads(who.file.read_text(encoding="utf-8"))
        content["tries"][0]["mistake"] = MARKUP
        who.file.write_text(json.dumps(content), encoding="utf-8")
    pages = [instructor.get(path)[1] for path in ("/instructor", "/instructor/board?names=shown")]
    pages += [instructor.get(f"/instructor/learner?account={one}")[1] for one in room_accounts(room)]
    for page in pages:
        assert "<img" not in page and room.kept["secret"] not in page and room.kept["instructor"] not in page
    assert "&lt;img" in pages[0] and "{{ room.kept }}" in pages[0]
    assert "5 learners" in words(pages[0]) and "5 learners have answered" in words(pages[1])


def room_accounts(room) -> list[str]:
    """Gives the accounts, the one who came last at the end."""
    return list(json.loads((room.state / "members.json").read_text(encoding="utf-8")))


def test_files_of_ten_thousand_answers_hold_nothing_up(at_work):
    room, instructor = at_work
    for name in ("Ana", "Ben", "Cem"):
        room.enters(name)
        who = learner(name, "", room.answers(name))
        who.answer(question(SHARE), wrong(who, question(SHARE)))
        content = json.loads(who.file.read_text(encoding="utf-8"))
        content["tries"] = [{**content["tries"][0], "id": str(place)} for place in range(10_000)]
        who.file.write_text(json.dumps(content), encoding="utf-8")
    (room.answers("Ana") / "broken.json").write_text("{", encoding="utf-8")
    begun = time.perf_counter()
    status, page = instructor.get("/instructor")
    print(f"three files of 10,000 answers were read in {time.perf_counter() - begun:.2f} s")
    assert status == 200 and len(re.findall(r">10000<", page)) == 3
    assert "1 thing was left out" in words(instructor.get("/instructor/board")[1])


def test_what_is_kept_is_told_before_the_first_answer(room):
    browser = Browser(room.address)
    status, page = browser.get("/privacy")
    assert status == 200
    for said in ("What is kept", "Who reads it", "Where it is", "How long", "not encrypted"):
        assert said in words(page)
