"""An instructor changes minutes, kit and pipe from the page: what differs is kept beside the workbook, a slip is a sentence."""

import pytest

from lessons_lib import Pipe, classroom
from lessons_lib.classroom.lesson_minutes import minutes_of
from lessons_lib.classroom.session import plan
from lessons_lib.quantities.display import US
from lessons_lib.runs.pipe import in_full, sizes
from lessons_lib.storage import preferences, tables


@pytest.fixture
def page(material):
    made = classroom.minutes_and_kit()
    made.lesson.value = "02"
    return made


def press(part, words: str) -> None:
    """Presses the button of these words."""
    found = [one for one in _within(part.widget) if getattr(one, "description", None) == words]
    found[0].click()


def _within(widget):
    yield widget
    for one in getattr(widget, "children", ()):
        yield from _within(one)


def test_minutes_are_kept_and_planned_with(page, material):
    before = plan(200, 4, 1, ["02"]).needed
    page.minutes["hands"].value = 25
    press(page, "Keep")
    material.read_again()
    assert "Kept" in page.said and minutes_of("02").hands == 25
    assert plan(200, 4, 1, ["02"]).needed == before + 15
    assert [one["lesson"] for one in tables.own("session_minutes")] == ["02"]


def test_what_is_as_in_the_workbook_is_not_written(page, material):
    press(page, "Keep")
    assert not list(material.folder.glob("*.csv"))
    page.minutes["hands"].value += 5
    press(page, "Keep")
    page.minutes["hands"].value -= 5
    press(page, "Keep")
    assert not list(material.folder.glob("*.csv")) and len(list((material.folder / "put aside").iterdir())) == 1


def test_kit_is_changed_added_and_left_out(page, material):
    press(page, "One more thing")
    added = page.things[-1]
    added.item.value, added.count.value, added.per.value, added.weight.value = "our crate", 2, "room", "4,5"
    first = page.things[0]
    first.count.value = 0
    press(page, "Keep")
    material.read_again()
    kit = {one.item: one for one in plan(200, 4, 3, ["02"]).kit}
    assert (kit["our crate"].count, kit["our crate"].kilograms) == (2, 9.0) and first.item.value not in kit
    assert len(tables.own("kit")) == 2


def test_a_weight_is_typed_in_pounds_too(page, material):
    """A pound is 0.453 592 37 kg exactly (international agreement of 1959, from memory)."""
    press(page, "One more thing")
    page.things[-1].item.value, page.things[-1].per.value = "our crate", "room"
    page.things[-1].weight.value = "10 lb"
    press(page, "Keep")
    assert page.things[-1].weight.value == "4.53592 kg"
    press(page, "Keep")
    assert tables.own("kit")[0]["kg"] == "4.53592"


def test_lessons_keep_their_own(page, material):
    page.minutes["hands"].value = 25
    press(page, "Keep")
    page.lesson.value = "03"
    page.minutes["talk"].value = 7
    press(page, "Keep")
    press(page, "As in the workbook")
    material.read_again()
    assert minutes_of("02").hands == 25 and minutes_of("03").talk == 5 and page.said == "As in the workbook."


def test_what_is_not_kept_is_not_lost_by_choosing_another_lesson(page):
    before = page.lesson.value
    page.minutes["hands"].value = 25
    page.lesson.value = "03"
    assert page.lesson.value == before and page.minutes["hands"].value == 25 and "not kept yet" in page.said
    page.lesson.value = "03"  # once more: leave it
    assert page.lesson.value == "03" and page.said == "As in the workbook."
    page.lesson.value = before
    assert page.lesson.value == before and page.minutes["hands"].value == minutes_of(before).hands


@pytest.mark.parametrize(
    "item, weight, told",
    [
        ("our crate", "heavy", '"heavy" is not a number'),
        ("our crate", "-2", "kg: -2"),
        ("Stopwatch", "", "stands there twice"),
    ],
)
def test_a_slip_is_told_and_nothing_is_written(page, material, item, weight, told):
    page.minutes["hands"].value = 25
    press(page, "One more thing")
    page.things[-1].item.value, page.things[-1].weight.value = item, weight
    press(page, "Keep")
    assert page.said.startswith("▲ Not kept.") and told in page.said and not list(material.folder.glob("*.csv"))
    assert page.minutes["hands"].value == 25 and page.things[-1].item.value == item  # what was typed stays


def test_a_slip_of_the_spreadsheet_is_told_on_the_page(material):
    text = "lesson,item,per,count,kg\n02,crate,table,1,\n"
    (material.folder / "kit.csv").write_text(text, encoding="utf-8")
    page = classroom.minutes_and_kit()
    assert "kit.csv, row 2, per" in page.slips.value
    page.lesson.value = "02"
    page.minutes["hands"].value = 25
    press(page, "Keep")
    assert (material.folder / "kit.csv").read_text(encoding="utf-8") == text  # minutes are another table


def test_a_slip_is_told_beside_the_plan_too(material):
    (material.folder / "kit.csv").write_text("lesson,item,per,count,kg\n02,crate,table,1,\n", encoding="utf-8")
    (material.folder / "questions" / "02-own-1.toml").write_text("[[question", encoding="utf-8")
    material.read_again()
    lists = repr(classroom.session_lists(classroom.session_planner()))
    assert "kit.csv, row 2, per" in lists and "02-own-1.toml" in lists


def typed(part, family: str, outside: str, wall: str, name: str = "") -> None:
    part.family.value, part.outside.value, part.wall.value, part.name.value = family, outside, wall, name
    press(part, "Add this size")


def test_a_pipe_is_added_by_its_two_measures(material):
    part = classroom.rack_pipes()
    typed(part, "copper EN 1057", "16 mm", "1.2 mm")
    assert "holds 0.15 L in 1 m" in part.said  # 3.1416 / 4 * 1.36 cm * 1.36 cm * 100 cm = 145 cm3
    material.read_again()
    pipe = Pipe.nominal("copper EN 1057", "16 mm x 1.2 mm")
    assert pipe.inside_diameter.to("mm").magnitude == pytest.approx(13.6) and pipe.material == "copper"
    press(part, "Take away")
    material.read_again()
    assert "16 mm x 1.2 mm" not in sizes("copper EN 1057") and "No size of your own" not in part.said


def test_the_form_opens_with_pipe_of_the_readers_side(material):
    assert classroom.rack_pipes().family.value == "copper EN 1057"
    preferences.keep_unit_system(US)
    assert classroom.rack_pipes().family.value == "copper K"


def test_a_name_of_ones_own_stands_beside_the_slider(material):
    part = classroom.rack_pipes()
    typed(part, "copper EN 1057", "20 mm", "1 mm", "yard rack")
    typed(part, "copper EN 1057", "21 mm", "1 mm")
    typed(part, "copper K", "20 mm", "1 mm")
    material.read_again()
    assert in_full("copper EN 1057", "yard rack") == "yard rack"
    assert in_full("copper EN 1057", "21 mm x 1 mm") == "21 × 1 mm"
    assert in_full("copper K", "0.7874 in x 0.039 in") == "0.7874 in x 0.039 in"


def test_measures_in_the_other_units_are_taken(material):
    part = classroom.rack_pipes()
    typed(part, "PEX CTS", "17.78 mm", "0.09 in", "our 0.7")
    material.read_again()
    assert Pipe.nominal("PEX CTS", "our 0.7").outside_diameter.to("in").magnitude == pytest.approx(0.7)


@pytest.mark.parametrize(
    "family, outside, wall, name, told",
    [
        ("copper EN 1057", "", "1 mm", "", "outside diameter"),
        ("copper EN 1057", "16", "1 mm", "", "carries no unit"),
        ("copper EN 1057", "16 mm", "7 mm", "", "Read both off the pipe"),
        ("copper EN 1057", "16 mm", "1 m", "", "wall thickness"),
        ("copper EN 1057", "22 mm", "1 mm", "", "is called 22 mm"),
        ("copper EN 1057", "16 mm", "1 mm", "22 MM", "a size of that name"),
        ("copper L", "16 kg", "1 mm", "", "outside diameter"),
        ("copper L", "16 mm", "1 mm", "the pipe of the loft behind the yard", "20 find room"),
    ],
)
def test_what_no_pipe_is_gets_told(material, family, outside, wall, name, told):
    part = classroom.rack_pipes()
    typed(part, family, outside, wall, name)
    assert part.said.startswith("▲ Not kept.") and told in part.said and not tables.own("pipes")
