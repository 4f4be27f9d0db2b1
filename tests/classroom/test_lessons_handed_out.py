"""The lessons that an instructor hands out: kept at each tick, never none, and all where their file is spoilt."""

import pytest

from lessons_lib.classroom import lessons_handed_out
from lessons_lib.exercises import handed_out, learner, lessons, of_lesson
from lessons_lib.lessons.start_here.progress import _told_by_school, progress_of
from lessons_lib.quantities.errors import InputError
from lessons_lib.storage import own_material, preferences


def write(text: str) -> None:
    own_material.folder().mkdir(parents=True, exist_ok=True)
    own_material.lessons().write_text(text, encoding="utf-8")


def test_all_at_first_and_each_tick_counts_at_once():
    panel = lessons_handed_out()
    assert panel.said == "You hand out all lessons." and handed_out.handed_out() == lessons()
    for number in lessons():
        if number not in ("02", "07"):
            panel.ticks.boxes[number].value = False
    assert (
        handed_out.handed_out() == ("02", "07") and "You hand out the start page and lessons 02 and 07." in panel.said
    )
    again = lessons_handed_out()
    assert again.ticks.value == ("02", "07")
    again.ticks.boxes["07"].value = False
    assert "the start page and lesson 02." in again.said
    again.ticks.boxes["02"].value = False
    assert handed_out.handed_out() == ("02",) == again.ticks.value and "At least one lesson is handed out" in again.said
    again.all()
    assert handed_out.handed_out() == lessons() and not own_material.lessons().exists()


@pytest.mark.parametrize(
    "text, told",
    [
        ("", "this is no list of lessons"),
        ("[]", "this is no list of lessons"),
        ('{"lessons": "02"}', "this is no list of lessons"),
        ('{"lessons": [2]}', "this is no list of lessons"),
        ('{"lessons": {"02": 1}, "x": 1', "this is no list of lessons"),
        ('{"lessons": null}', "this is no list of lessons"),
        ("[" * 9000, "this is no list of lessons"),
        ('{"lessons": []}', "it names no lesson"),
        ('{"lessons": ["02", "99"]}', '"99" is not known'),
        ("x" * 10_001, "too large"),
    ],
)
def test_a_spoilt_file_means_all_lessons_and_is_told(text, told):
    write(text)
    assert handed_out.handed_out() == lessons()
    panel = lessons_handed_out()
    assert panel.said.startswith("▲ lessons.json") and told in panel.said and "You hand out all lessons." in panel.said
    panel.all()
    assert handed_out.slip() == "" and panel.said.endswith("You hand out all lessons.")


def test_what_cannot_be_handed_out_is_refused():
    for named in ((), ("15",)):
        with pytest.raises(InputError, match=r"lessons\.json"):
            handed_out.hand_out(named)
    assert not own_material.lessons().exists()


def test_the_order_is_that_of_teaching_and_nothing_counts_twice():
    handed_out.hand_out(("07", "02", "07"))
    assert handed_out.handed_out() == ("02", "07")


def test_in_a_room_a_begun_lesson_that_is_not_handed_out_keeps_what_was_right(monkeypatch):
    ana = learner("Ana")
    for lesson, wrong in (("02", "1 °C"), ("03", "A")):
        ana.answer(of_lesson(lesson)[0], wrong)
    handed_out.hand_out(("02",))
    at_home = [one.told() for one in progress_of(ana)]
    assert "Still to do" in at_home[1]
    assert _told_by_school() == ["Your school hands out lesson 02. The other lessons are here too."]
    monkeypatch.setenv(preferences.ROOM_VARIABLE, "1")
    in_room = [one.told() for one in progress_of(ana)]
    assert in_room[0] == at_home[0] and in_room[1].startswith("Lesson 03 is not handed out now. ")
    assert _told_by_school() == []


def test_where_all_are_handed_out_nothing_is_said_of_it():
    assert _told_by_school() == []
