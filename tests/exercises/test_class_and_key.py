"""What an instructor sees: a class counted right, other files named and left alone, names hidden; worksheet and key that agree."""

import json
import os
import shutil
import time

import pytest

from lessons_lib import Q_, InputError
from lessons_lib.exercises import (
    folder,
    key,
    learner,
    lessons,
    mark,
    of_lesson,
    question,
    questions,
    read_class,
    variant,
    worksheet,
)
from lessons_lib.exercises.class_reading import LINK
from lessons_lib.exercises.reading import read_amount
from lessons_lib.quantities.display import KINDS, SI, SYSTEMS, US

SHARE, LITRES = question("01-hot-share"), question("01-water-at-the-tap")


def room():
    """Three learners: one right at once, one right at last, one stuck on a question and right on another."""
    ana, ben, cem = learner("Ana", 1), learner("Ben", 2), learner("Cem", 3)
    ana.answer(SHARE, ana.variant(SHARE).shown_answer())
    divided = ben.variant(SHARE).wrongs[0].value.magnitude
    ben.answer(SHARE, f"{divided:.3f} %")
    ben.answer(SHARE, ben.variant(SHARE).shown_answer())
    divided = cem.variant(SHARE).wrongs[0].value.magnitude
    for text in (f"{divided:.3f} %", f"{divided:.3f} %", "1 %"):
        cem.answer(SHARE, text)
    cem.answer(LITRES, cem.variant(LITRES).shown_answer())
    for who, celsius in ((ana, 40), (ben, 50), (cem, 55)):
        who.keep_guess("02", Q_(celsius, "degC"), "temperature")
    for who in (ana, ben):
        who.compare_guess("02", Q_(52, "degC"))
    return ana, ben, cem


def test_a_class_is_counted():
    room()
    found = read_class()
    assert found.learners == ("Ana", "Ben", "Cem") and not found.skipped
    share, litres = found.questions
    assert (share.question, share.tried, share.right, share.right_at_once) == ("01-hot-share", 3, 2, 1)
    assert share.share_right == pytest.approx(2 / 3) and share.stuck == ("Cem",) and litres.share_right == 1
    assert (
        share.mistakes[0][0] == "divided temperatures"
        and len(share.mistakes[0][1]) == 2
        and found.stuck == (("Cem", ("01-hot-share",)),)
    )
    assert dict(found.mistakes) == {"divided temperatures": 2, "another mistake": 1}
    (guess,) = found.guesses
    assert (guess.key, guess.model.magnitude, guess.median.magnitude) == ("02", 52, 50)
    assert [(label, one.guessed.magnitude, one.model is None) for label, one in guess.guesses] == [
        ("Ana", 40, False),
        ("Ben", 50, False),
        ("Cem", 55, True),
    ]


def test_an_answer_is_told_with_the_unit_that_was_meant():
    for name, system, texts in (("Ana", SI, ("91", "91 gal", "2")), ("Ben", US, ("91", "3 1/2", "0.2"))):
        for text in texts:
            learner(name, 1).answer(LITRES, text, system)
    for text in ("0.12", "12", "13 %"):
        learner("Cem", 1).answer(SHARE, text)
    told = {one.question: {text for _, _, texts in one.mistakes for text in texts} for one in read_class().questions}
    assert told[LITRES.id] == {"91 L", "91 gal", "2 L", "3 1/2 gal", "0.2 gal"}
    assert told[SHARE.id] == {"0.12", "12 %", "13 %"}


def test_names_can_be_hidden():
    room()
    found = read_class(hide_names=True)
    assert set(found.learners) == {"learner 1", "learner 2", "learner 3"}
    assert not any(name in repr(found) for name in ("Ana", "Ben", "Cem"))
    assert [one.share_right for one in found.questions] == [one.share_right for one in read_class().questions]


def test_two_of_one_name_stay_two():
    learner("Ana", 1), learner("Ana", 2), learner("Ana"), learner("", 9)
    assert sorted(read_class().learners) == ["Ana", "Ana (seat 1)", "Ana (seat 2)", "seat 9"]


def test_other_files_are_named_and_left_alone():
    room()
    strange = {
        "notes.txt": "hello",
        "photo.jpg": "\x00",
        "other.json": '{"a": 1}',
        "broken.json": "{",
        "<b>.json": "[]",
    }
    for name, text in strange.items():
        (folder() / name).write_text(text, encoding="utf-8")
    (folder() / "more").mkdir()
    newer = json.loads(learner("Ana", 1).file.read_text(encoding="utf-8")) | {"version": 2}
    (folder() / "newer.json").write_text(json.dumps(newer), encoding="utf-8")
    before = {file.name: file.read_bytes() for file in folder().iterdir() if file.is_file()}
    found = read_class()
    assert {name for name, _ in found.skipped} == {*strange, "more", "newer.json"} and len(found.learners) == 3
    assert "another version" in dict(found.skipped)["newer.json"]
    assert before == {file.name: file.read_bytes() for file in folder().iterdir() if file.is_file()}


def test_odd_names_and_a_pipe_stop_nobodys_board():
    room()
    odd = ["n" * 250 + ".json", "a\nb.json", "=1+1.json", " .json", "é.json"]
    for name in odd:
        (folder() / name).write_text("{", encoding="utf-8")
    if hasattr(os, "mkfifo"):
        os.mkfifo(folder() / "pipe.json")
        odd.append("pipe.json")
    found = read_class()
    assert {name for name, _ in found.skipped} == set(odd) and len(found.learners) == 3


def test_the_board_of_two_thousand_files():
    """10,000 took 1.5 s when this was measured; here fewer, to be quick."""
    text = room()[0].file.read_text(encoding="utf-8")
    for place in range(2000):
        (folder() / f"ana-{place}.json").write_text(text, encoding="utf-8")
    begun = time.process_time()
    assert len(read_class().learners) == 2003
    assert time.process_time() - begun < 4


@pytest.mark.parametrize("linked", ["file", "answers", "learner"])
def test_a_link_shows_nobody_elses_answers(tmp_path, linked):
    """Who may write in one folder of the class could otherwise show the board what lies in another one."""
    room()
    elsewhere = tmp_path / "elsewhere" / "answers"
    shutil.copytree(folder(), elsewhere)
    mine = tmp_path / "class" / "ana"
    links = {"file": mine / "answers" / "ben.json", "answers": mine / "answers", "learner": mine}
    links[linked].parent.mkdir(parents=True)
    targets = {"file": next(elsewhere.glob("*.json")), "answers": elsewhere, "learner": elsewhere.parent}
    links[linked].symlink_to(targets[linked])
    found = read_class(tmp_path / "class")
    assert not found.learners and [why for _, why in found.skipped] == [LINK]


def test_answers_to_unknown_questions_are_named():
    ana, *_ = room()
    content = json.loads(ana.file.read_text(encoding="utf-8"))
    content["tries"][0]["question"] = "99-gone"
    ana.file.write_text(json.dumps(content), encoding="utf-8")
    found = read_class()
    assert ("answers to 99-gone", "no question of this workbook") in found.skipped and found.questions[0].tried == 2


def test_no_folder_and_an_empty_one(tmp_path):
    with pytest.raises(InputError, match="no folder"):
        read_class(tmp_path / "nowhere")
    assert read_class(tmp_path).learners == () and read_class(tmp_path).questions == ()


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("seat", [1, 7, "23", "Ana"])
def test_worksheet_and_key_of_one_seat_agree(seat, system):
    sheet, solved = worksheet(seat, system=system), key(seat, system=system)
    assert [line.asked for line in solved] == list(sheet) and len(sheet) == len(questions())
    for lesson in lessons():  # numbered within a lesson, as its page and every print number them
        numbers = range(1, len(of_lesson(lesson)) + 1)
        assert [line.name for line in sheet if line.lesson == lesson] == [f"{lesson} · {one}" for one in numbers]
    for line in solved:
        own = variant(question(line.asked.question), seat, system)
        assert line.asked.text == own.text
        given = line.answer[system].split(":")[0] if own.question.kind == "choice" else line.answer[system]
        assert mark(own, given).right, "what the key says is marked right"
        if own.is_number:
            assert_same(line.answer, own.question.answer.kind)


def assert_same(answer, kind):
    """Both systems' answers say the same, as far as their rounding goes."""
    metric, customary = (read_amount(answer[system], kind, system).quantity for system in SYSTEMS)
    places = KINDS[kind].decimals
    step, step_us = (
        unit.replace("deg", "delta_deg") if unit in ("degC", "degF") else unit for unit in KINDS[kind].units
    )
    half_us = Q_(0.07 if kind == "thickness" else 0.51 * 10.0 ** -places[1], step_us)  # inches go in eighths
    off = abs(metric.to(KINDS[kind].units[0]).magnitude - customary.to(KINDS[kind].units[0]).magnitude)
    assert off <= 0.51 * 10.0 ** -places[0] + half_us.to(step).magnitude, answer


def test_a_worksheet_gives_no_answer_away():
    for line, solved in zip(worksheet(7, of_lesson("05")), key(7, of_lesson("05"))):
        assert not hasattr(line, "answer") and solved.worked not in repr(line)


def test_a_key_says_what_is_behind_each_wrong_answer():
    for line in key(7):
        own = variant(question(line.asked.question), 7)
        assert line.misconceptions and line.allowed
        assert all(
            one.thinking and one.ask.endswith("?") and set(one.answer) == set(SYSTEMS) for one in line.misconceptions
        )
        if own.question.kind == "choice":
            assert own.shown_answer() not in {one.answer[SI] for one in line.misconceptions}
            assert len(line.misconceptions) == len(line.asked.choices) - 1


def test_a_key_says_which_steps_of_an_order_may_change_places():
    """By letters of the seat, and only those that are free: every pair that it names may be swapped where the two stand side by side."""
    (line,) = key(7, [question("10-order-of-work")])
    vessel, test = line.answer[SI].split(", ")[:2]
    assert line.allowed == f"in either order: {vessel} and {test}"
    (line,) = key(7, [question("07-draining")])
    power, tag, shut, cool, open_, drain = line.answer[SI].split(", ")
    assert (
        line.allowed
        == f"in either order: {tag} and {shut} or {cool} or {open_} or {drain}; {shut} and {cool}; {cool} and {open_}"
    )


def test_seats_have_keys_of_their_own():
    assert len({repr(worksheet(seat, of_lesson("01"))) for seat in range(1, 21)}) == 20
