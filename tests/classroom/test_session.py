"""A session: the timetable has no gap, what does not fit is said, kit follows benches and people; the tables say what the lessons' pages say."""

import re

import pytest
from words_on_page import seen

from lessons_lib import Q_, InputError
from lessons_lib.classroom.class_prints import session_prints
from lessons_lib.classroom.lesson_pages import lesson_page, lesson_pages
from lessons_lib.classroom.session import AT_A_BENCH, WITHOUT_BREAK, lessons, plan
from lessons_lib.classroom.session_panel import session_lists, session_planner
from lessons_lib.quantities.display import KINDS, SYSTEMS, US
from lessons_lib.storage import tables

NUMBERS = {
    "ten": 10,
    "fifteen": 15,
    "twenty": 20,
    "twenty-five": 25,
    "thirty": 30,
    "forty": 40,
    "an hour and a half": 90,
    "an hour": 60,
}
PAGES = list(lesson_pages())


def test_a_timetable_without_gaps():
    for minutes, people, benches in ((90, 12, 3), (240, 30, 2), (600, 200, 1)):
        made = plan(minutes, people, benches, ("01", "02", "05", "08"))
        assert made.parts[0].start == 0 and all(
            one.end == other.start for one, other in zip(made.parts, made.parts[1:])
        )
        assert made.fits == (made.needed <= minutes) and made.at_once * made.rounds >= people
        assert made.at_once <= AT_A_BENCH * made.benches


def test_a_long_session_has_breaks():
    made = plan(600, 12, 3, lessons())
    rests = [part.start for part in made.parts if part.what == "Break"]
    assert rests and rests[0] <= WITHOUT_BREAK
    longest = max(int(row["path"]) + int(row["bench"]) + int(row["talk"]) for row in tables.rows("session_minutes"))
    assert all(later - sooner <= WITHOUT_BREAK + longest for sooner, later in zip(rests, rests[1:]))


def test_what_does_not_fit_says_what_to_drop():
    made = plan(60, 12, 3, ("01", "02", "05"))
    assert (
        not made.fits
        and made.told()
        == "60 minutes are too short for lessons 01, 02, 05: together they need 95. Drop 05, or take 95 minutes."
    )
    assert plan(60, 12, 3, ("01", "02")).fits
    crowd = plan(60, 30, 2, ("01", "02"))
    assert "Lay out 8 benches (then 60 minutes)" in crowd.told().replace("lay", "Lay")
    assert plan(60, 30, 8, ("01", "02")).fits
    assert (
        plan(20, 5, 2, ("02",)).told()
        == "20 minutes are too short for lesson 02: together they need 35. Take 35 minutes."
    )


def test_what_is_dropped_is_enough():
    made = plan(100, 12, 3, ("01", "03", "07", "10"))
    drop = re.search(r"Drop ([\d and]+),", made.told())[1].split(" and ")
    assert plan(100, 12, 3, tuple(one for one in made.lessons if one not in drop)).fits


def test_kit_is_the_most_that_a_lesson_asks_for():
    kit = {one.item: one for one in plan(120, 10, 3, ("01", "02", "05")).kit}
    assert (
        kit["thermometer"].count == 6
        and kit["goggles"].count == 10
        and kit["spare mixing valve taken apart"].count == 1
    )
    assert kit["tape measure"].lessons == ("02", "05")
    assert {one.item: one.count for one in plan(120, 2, 3, ("02",)).kit}["thermometer"] == 4, (
        "no more benches than people"
    )


@pytest.mark.parametrize(
    "given, why",
    [
        ((0, 12, 3, ("01",)), "minutes"),
        ((90, 0, 3, ("01",)), "people"),
        ((90, 12, 0, ("01",)), "benches"),
        ((90, 1000, 3, ("01",)), "1 to 200"),
        ((90, 12, 3, ()), "none"),
        ((90, 12, 3, ("01", "01")), "each once"),
        ((90, 12, 3, ("99",)), "lesson"),
        ((90, "many", 3, ("01",)), "people"),
        ((90.5, 12, 3, ("01",)), "whole"),
        ((float("nan"), 12, 3, ("01",)), "minutes"),
    ],
)
def test_what_can_not_be_planned_is_said(given, why):
    with pytest.raises(InputError, match=why):
        plan(*given)


@pytest.mark.parametrize("lesson", PAGES)
def test_the_minutes_are_those_of_the_page(lesson):
    row = tables.row("session_minutes", "lesson", lesson, "lesson")
    words = lesson_page(lesson).labelled("For the instructor", "Minutes").lower()
    found = [NUMBERS[word] for word in re.findall("|".join(sorted(NUMBERS, key=len, reverse=True)), words)]
    assert found[:2] == [int(row["path"]), int(row["path"]) + int(row["bench"])]


@pytest.mark.parametrize("lesson", PAGES)
def test_the_kit_is_that_of_the_page(lesson):
    """Every thing of the table has its noun on the page; a few short things are named otherwise there."""
    page = lesson_page(lesson)
    words = " ".join((page.labelled("For the instructor", "Kit"), page.risks)).lower()
    for row in (row for row in tables.rows("kit") if row["lesson"] == lesson):
        nouns = re.findall(r"[a-z]{3,}", row["item"].lower())
        assert any(noun in words or noun.rstrip("s") in words for noun in nouns), row["item"]


def test_the_tables_name_known_things():
    planned = set(lessons())
    assert (
        {row["lesson"] for row in tables.rows("kit")} == {row["lesson"] for row in tables.rows("readings")} == planned
    )
    assert {row["per"] for row in tables.rows("kit")} == {"bench", "room", "person"}
    assert {row["kind"] for row in tables.rows("readings")} <= set(KINDS)
    assert {row["kind"] for row in tables.rows("record")} <= set(KINDS) | {"words", "yes or no"}


def test_the_panel_follows_its_controls():
    planner = session_planner()
    for name in ("minutes", "people", "benches"):
        limits = planner.controls[name].ranges[planner.system]
        for value in (limits.low, limits.high):
            planner.controls[name].slider.value = value
            assert "Ready" in planner._status.value and planner.sentence in planner.picture.describe(planner.scene)
        planner.reset()
    planner.controls["people"].box.value = "30"
    assert planner.scene.plan.people == 30 and planner.scene.plan.rounds == 3
    planner.keep()
    planner.controls["lessons"].boxes["05"].value = True
    assert planner.scene.plan.lessons == ("01", "02", "05") and "too short" in planner.sentence
    assert planner.answer == f"The session needs {planner.scene.plan.needed - planner.scene.plan.minutes} min more"
    for box in planner.controls["lessons"].boxes.values():
        box.value = False
    assert "none is ticked" in planner._status.value and planner.scene.plan.lessons
    planner.reset()
    assert planner.scene.plan.lessons == ("01", "02") and "it fits" in seen(planner)
    assert planner.answer.startswith("The session fits: ") and planner.answer in seen(planner)
    planner.controls["people"].box.value = "many"
    assert "possible is 1 to 60" in planner.controls["people"].told.value


def test_the_lists_follow_the_panel():
    planner = session_planner()
    lists = session_lists(planner)
    planner.set({"lessons": ("08",), "people": Q_(6.0, "")})
    assert "lesson 08: at least 180 min" in repr(lists) and lesson_page("08").risks in repr(lists)
    assert planner._repr_mimebundle_()["text/plain"] == planner.sentence and planner.png.startswith(b"\x89PNG")


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_prints_of_a_session_are_written(system, tmp_path):
    planner = session_planner()
    planner.set({"people": Q_(2.0, "")})
    planner.set_system(system)
    printer = session_prints(planner)
    printer.ticks.set(tuple(printer.kinds))
    printer.paper.value = "Letter"
    printer.button.click()
    names = {file.name for file in (tmp_path / "sheets").iterdir()}
    units = "us-customary" if system == US else "metric"
    assert {
        "bench-card-01-A5.pdf",
        f"seat-sheets-02-1-2-{units}-Letter.pdf",
        "leave-home-Letter.pdf",
        "lesson-01-on-paper-Letter.pdf",
    } <= names
    assert len(names) == 11 and printer.said.startswith("● Written")
    planner.set({"minutes": Q_(20.0, "min")})
    printer.over.value = True
    printer.button.click()
    assert printer.said.startswith("▲") and "too short" in printer.said
    printer.ticks.set(())
    printer.button.click()
    assert printer.said == "▲ Nothing is ticked."
