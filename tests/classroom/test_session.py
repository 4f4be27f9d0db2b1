"""A session: the timetable has no gap, what does not fit is said, kit follows benches and people; the tables say what the lessons' pages say."""

import json
import re
from html import escape

import pypdfium2
import pytest
from own_thread import in_own_thread
from words_on_page import seen

from lessons_lib import Q_, InputError
from lessons_lib.classroom.answer_key_panel import HIDDEN, HIDE, answer_key
from lessons_lib.classroom.class_prints import session_prints
from lessons_lib.classroom.kept_plan import KeptPlan, file, keep, kept_plan
from lessons_lib.classroom.lesson_minutes import CHANGE, lessons, minutes_of
from lessons_lib.classroom.lesson_pages import lesson_page, lesson_pages
from lessons_lib.classroom.prints.keys import overview
from lessons_lib.classroom.prints.session_sheet import session_sheet
from lessons_lib.classroom.rotation import KEPT, SHORTEST, WAYS, benches_of, go_round
from lessons_lib.classroom.session import AT_A_BENCH, plan
from lessons_lib.classroom.session_clock import clock, read_clock, told_ahead
from lessons_lib.classroom.session_panel import session_lists, session_planner
from lessons_lib.classroom.session_timer import SessionTimer
from lessons_lib.classroom.timetable import BENCH, MEAL, PATH, TOO_SOON, WITHOUT_BREAK, WITHOUT_MEAL
from lessons_lib.classroom.who_is_where import where_groups_go
from lessons_lib.quantities.display import KINDS, SI, SYSTEMS, US
from lessons_lib.sheets import Table
from lessons_lib.storage import tables

NUMBERS = {
    "ten": 10,
    "fifteen": 15,
    "twenty": 20,
    "twenty-five": 25,
    "thirty": 30,
    "thirty-five": 35,
    "forty": 40,
    "forty-five": 45,
    "an hour and a half": 90,
    "an hour": 60,
}
PAGES = list(lesson_pages())


def sides(sheet, paper: str) -> list[str]:
    """The words of each side of the PDF."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(sheet.pdf(paper))]


def test_a_timetable_without_gaps():
    for minutes, people, benches in ((90, 12, 3), (240, 30, 2), (600, 200, 1)):
        made = plan(minutes, people, benches, ("01", "02", "05", "08"))
        assert made.parts[0].start == 0 and all(
            one.end == other.start for one, other in zip(made.parts, made.parts[1:])
        )
        assert made.fits == (made.needed <= minutes) and made.at_once * made.rounds >= people
        assert made.at_once <= AT_A_BENCH * made.benches and sum(made.groups) == people


@pytest.mark.parametrize("way", WAYS)
def test_a_long_session_has_breaks(way):
    """Nobody works much longer than an hour and a half at a stretch, and no break cuts what belongs together."""
    made = plan(600, 12, 12, lessons()[:8], way)
    rests = [part for part in made.parts if part.what in ("Break", "Meal")]
    longest = max(sum(one) for one in ((minutes_of(lesson).path, minutes_of(lesson).bench) for lesson in lessons()))
    for sooner, later in zip(([made.parts[0], *rests]), rests):
        assert TOO_SOON < later.start - sooner.end <= max(WITHOUT_BREAK, longest + 60)
    for part, after in zip(made.parts, made.parts[1:]):
        assert not (part.kind == PATH and after in rests and part.lessons == made.sets[0].lessons[-1:])
    assert all(one.minutes == MEAL for one in rests if one.what == "Meal")
    assert [one for one in rests if one.what == "Meal"] or made.needed < WITHOUT_MEAL


def test_a_bench_is_not_cut_short_and_rests_between_groups():
    """Lesson 03 draws again after 20 minutes, 06 reads twice after ten minutes each; what a group leaves warm waits."""
    crowd = plan(300, 16, 2, ("03", "06"))
    for lesson in ("03", "06"):
        turns = [part.minutes for part in crowd.parts if part.kind == BENCH and part.lessons == (lesson,)]
        takes = minutes_of(lesson)
        assert takes.wait >= 20 and turns == [takes.bench + max(takes.rest, CHANGE), takes.bench]
        assert takes.meanwhile in next(one.what for one in crowd.parts if one.kind == BENCH and lesson in one.lessons)


def test_30_people_at_7_benches_need_not_double_everything():
    chosen = ("01", "02", "04", "05", "08", "09")
    alike = plan(600, 30, 7, chosen)
    assert alike.rounds == 2
    sooner = plan(600, 30, 7, chosen, SHORTEST)
    assert sooner.needed < alike.needed and {one for each in sooner.sets for one in each.lessons} == set(chosen)
    for way in WAYS:
        assert plan(600, 30, 7, chosen, SHORTEST).needed <= plan(600, 30, 7, chosen, way).needed
    in_order = plan(240, 14, 7, chosen, SHORTEST)
    assert in_order.lessons == chosen, "the order of teaching stays where it costs no time"
    moved = plan(360, 30, 7, ("01", "02", "03", "04", "05", "06"), SHORTEST)
    assert moved.lessons[-1] == "03" and "have changed places" in moved.told()
    assert not any("changed places" in one.told() for one in (in_order, alike))


def test_each_bench_keeps_its_lesson():
    made = plan(600, 14, 7, ("01", "02", "04"), KEPT)
    assert len(made.sets) == 1 and made.rounds == 3 and max(made.groups) <= AT_A_BENCH
    kit = {one.item: one.count for one in made.kit}
    alike = {one.item: one.count for one in plan(600, 14, 7, ("01", "02", "04")).kit}
    assert kit["pressure gauge on a hose thread"] < alike["pressure gauge on a hose thread"]
    with pytest.raises(InputError, match="each lesson needs one"):
        plan(600, 14, 2, ("01", "02", "04"), KEPT)


@pytest.mark.parametrize("count", range(1, 6))
def test_groups_go_round(count):
    """Every group does every lesson once, no bench has two groups; and no turn too many (Kőnig 1916)."""
    chosen = lessons()[:count]
    for benches in range(count, 10):
        for groups in range(1, 13):
            turns, laid_out = go_round(chosen, benches, groups), benches_of(chosen, benches)
            visits = [(group, laid_out[bench]) for turn in turns for bench, group in turn.items()]
            assert sorted(visits) == sorted((group, one) for group in range(groups) for one in chosen)
            assert all(len(set(turn.values())) == len(turn) for turn in turns)
            assert len(turns) == max(count, -(-groups // (benches // count)))


def test_what_is_said_of_groups_is_what_is_planned():
    people = tuple(f"Learner {number}" for number in range(1, 10))
    made = plan(300, 9, 2, ("01", "02"), KEPT)
    told = dict(where_groups_go(made, people))
    assert all(any(one in line for line in told["Groups"]) for one in people)
    lines = told["Who is where, lessons 01, 02"]
    assert len(lines) == len(made.groups) and all(line.count("at bench") == 2 for line in lines)
    words = "".join(sides(session_sheet(made, 9 * 60, people), "A4"))
    assert "Learner 9" in words and "09:05" in words and words.count("at bench") == 2 * len(made.groups)


@pytest.mark.parametrize(
    "typed, minutes",
    [
        ("9:30", 570),
        ("9.30", 570),
        ("0930", 570),
        ("9", 540),
        ("14h15", 855),
        ("2 pm", 840),
        ("12 a.m.", 0),
        ("", None),
    ],
)
def test_a_beginning_is_read_as_people_write_it(typed, minutes):
    assert read_clock(typed) == minutes


@pytest.mark.parametrize("typed", ["25:00", "noon", "9:75", "1 May", "9:30 x", "-3"])
def test_what_is_no_time_of_day_is_said(typed):
    with pytest.raises(InputError, match="not a time of day"):
        read_clock(typed)


def test_a_clock_beside_the_parts():
    assert [clock(540, 185, system) for system in SYSTEMS] == ["12:05", "12:05 p.m."]
    assert clock(540, -600, SI) == "23:00 the day before" and clock(None, 25, US) == "25 min"


def test_what_begins_beforehand_says_what_it_is():
    ahead = plan(90, 12, 3, ("08",)).ahead[0]
    assert told_ahead(ahead, 540, SI) == f"lesson 08, at least 180 min beforehand (at 06:00): {ahead.what}"
    assert ahead.what.startswith("plug in the tape")
    for lesson in lessons():
        assert bool(minutes_of(lesson).lead) == bool(minutes_of(lesson).begin), lesson


def test_what_does_not_fit_says_what_to_drop():
    made = plan(60, 12, 3, ("01", "02", "05"))
    assert (
        not made.fits
        and made.told()
        == "60 minutes are too short for lessons 01, 02, 05: together they need 95. Drop 05, or take 95 minutes."
    )
    assert plan(60, 12, 3, ("01", "02")).fits
    crowd = plan(60, 30, 2, ("01", "02"))
    assert "lay out 8 benches (then 60 minutes)" in crowd.told().lower()
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
        ((90, 12, 3, ("01",), "at random"), "way"),
        ((90.5, 12, 3, ("01",)), "whole"),
        ((float("nan"), 12, 3, ("01",)), "minutes"),
    ],
)
def test_what_can_not_be_planned_is_said(given, why):
    with pytest.raises(InputError, match=why):
        plan(*given)


@pytest.mark.parametrize("lesson", PAGES)
def test_the_minutes_are_those_of_the_page(lesson):
    words = lesson_page(lesson).labelled("For the instructor", "Minutes").lower()
    found = [NUMBERS[word] for word in re.findall("|".join(sorted(NUMBERS, key=len, reverse=True)), words)]
    takes = minutes_of(lesson)
    assert found[:2] == [takes.path, takes.path + takes.bench]


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
    assert "lesson 08, at least 180 min" in repr(lists) and lesson_page("08").risks in repr(lists)
    assert planner._repr_mimebundle_()["text/plain"] == planner.sentence and planner.png.startswith(b"\x89PNG")


@pytest.mark.parametrize("system", SYSTEMS)
@in_own_thread
def test_the_prints_of_a_session_are_written(system, tmp_path):
    planner = session_planner()
    planner.set({"people": Q_(2.0, "")})
    planner.set_system(system)
    printer = session_prints(planner)
    *sheets, on_paper = printer.kinds  # the lessons on paper take longest: once is enough
    printer.ticks.set((*sheets, on_paper) if system == US else sheets)
    printer.paper.value = "Letter"
    printer.button.click()
    names = {file.name for file in (tmp_path / "prints" / "session").iterdir()}
    units = "us-customary" if system == US else "metric"
    assert {
        "bench-cards-01-02-90-min-2-people-2-benches-Letter.pdf",
        "instructor-01-02-90-min-2-people-2-benches-Letter.pdf",
        f"seat-1-01-02-{units}-Letter.pdf",
        f"seat-2-01-02-{units}-Letter.pdf",
        f"leave-home-{units}-Letter.pdf",
    } <= names
    lessons = {f"lesson-{one}-on-paper-us-customary-Letter.pdf" for one in ("01", "02")}
    assert (lessons <= names) == (system == US)
    assert len(names) == 6 + len(lessons & names) and printer.said.startswith("● Written")
    planner.set({"minutes": Q_(20.0, "min")})
    printer.button.click()
    assert printer.said.startswith("▲") and "too short" in printer.said
    assert {file.name for file in (tmp_path / "prints" / "session").iterdir()} == names, "nothing was changed"
    printer.ticks.set(())
    printer.button.click()
    assert printer.said == "▲ Nothing is ticked."


def test_the_plan_is_kept_and_the_key_follows():
    planner = session_planner()
    planner.controls["people"].box.value = "14"
    planner.controls["lessons"].boxes["05"].value = True
    planner.controls["begins"].box.value = "9:30"
    again = session_planner()
    assert again.scene.plan == planner.scene.plan and again.scene.begins == 570
    assert answer_key().chosen == (tuple(map(str, range(1, 15))), ("01", "02", "05"))
    again.controls["names"].box.value = "Ana, Ben"
    assert "2 for 14 people" in again._status.value and kept_plan().names == ""
    again.controls["people"].box.value = "2"
    assert again.scene.people == ("Ana", "Ben") and answer_key().chosen[0] == ("Ana", "Ben")
    printer = session_prints(again)
    printer.paper.value = "Letter"
    assert session_prints(again).paper.value == kept_plan().paper == "Letter"
    again.reset()
    assert again.scene.plan.people == KeptPlan().people and kept_plan() == KeptPlan(paper="Letter")


@pytest.mark.parametrize(
    "content",
    [
        "",
        "[]",
        "{",
        '{"lessons": [["01"], {"a": 1}], "people": 3}',
        '{"minutes": "many", "people": 1e9, "lessons": 3, "way": "?", "paper": "wall"}',
        json.dumps({"minutes": 10**9, "people": 0, "benches": -3, "lessons": ["99"], "names": "9-1", "begins": "x"}),
    ],
)
def test_a_spoilt_plan_breaks_nothing(content):
    keep(people=5)
    file().write_text(content, encoding="utf-8")
    planner = session_planner()
    assert planner.scene.plan.lessons and "Traceback" not in planner._status.value
    assert answer_key().chosen and session_prints(planner).paper.value == "A4"


def test_answers_are_hidden_until_asked_for():
    page = answer_key()
    answer = overview(*page.chosen, page.system).blocks
    cells = [cell for block in answer if isinstance(block, Table) for row in block.rows for cell in row[1:]]
    assert HIDDEN in page.html and not any(cell and cell in page.html for cell in cells if len(cell) > 3)
    page.reveal.value = True
    assert HIDDEN not in page.html and page.reveal.description == HIDE
    assert all(escape(cell) in page.html for cell in cells)


@in_own_thread
def test_the_clock_counts_down_a_part():
    now = [1000.0]
    planner = session_planner()
    timer = SessionTimer(planner, clock=lambda: now[0])
    assert not timer.running and "5:00" in timer.shown.value and "Ten-minute path" in timer.shown.value
    timer.button.click()
    now[0] += 61
    timer.show()
    assert timer.running and timer.left == 239 and "3:59" in timer.shown.value and timer.button.description == "Stop"
    now[0] += 300
    timer.show()
    assert "over by 1:01" in timer.shown.value
    timer.following.click()
    assert timer.part.value == 1 and timer.running and "10:00" in timer.shown.value
    planner.controls["people"].box.value = "30"
    assert not timer.running and len(timer.part.options) == len(planner.scene.plan.parts) and timer.part.value == 0
    timer.part.value = len(timer.part.options) - 1
    timer.following.click()
    assert not timer.running and "session is over" in timer.shown.value
