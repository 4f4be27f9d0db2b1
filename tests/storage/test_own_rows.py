"""A school's own rows and questions lie beside the workbook: they count everywhere, and a slip in one spoils nothing else."""

import pytest
from own_question import QUESTION

from lessons_lib import Q_, Pipe
from lessons_lib.classroom.lesson_minutes import minutes_of
from lessons_lib.classroom.session import plan
from lessons_lib.exercises import bank
from lessons_lib.panels import exercises
from lessons_lib.quantities.errors import InputError
from lessons_lib.runs.pipe import sizes
from lessons_lib.storage import own_rows, tables

MINUTES = "lesson,path,hands,wait,rest,talk,lead,meanwhile,begin\n"
KIT = "lesson,item,per,count,kg\n"
PIPES = "family,size,material,region,unit,outside_diameter,wall,source,how_known\n"


def test_minutes_of_ones_own_replace_the_workbooks(material):
    before, others = minutes_of("02"), minutes_of("03")
    (material.folder / "session_minutes.csv").write_text(MINUTES + "02,10,25,0,0,5,0,,\n", encoding="utf-8")
    material.read_again()
    assert (before.hands, minutes_of("02").hands) == (10, 25) and minutes_of("03") == others
    assert plan(200, 4, 1, ["02"]).needed - 15 == 10 + 10 + 10 + 5  # opening, closing, path, hands, talk, before


@pytest.mark.parametrize("mark", ["\ufeff", ""])
def test_a_spreadsheets_table_is_read_as_it_is_meant(material, mark):
    """With a byte order mark, semicolons, and 2 for 02."""
    text = mark + (MINUTES + "2,10,25,0,0,5,0,,\n").replace(",", ";")
    (material.folder / "session_minutes.csv").write_text(text, encoding="utf-8")
    material.read_again()
    assert minutes_of("02").hands == 25 and not tables.own_slips()


def test_kit_of_ones_own_is_added_and_replaces(material):
    own = KIT + "02,stopwatch,bench,3,\n02,our blue crate,room,1,4.5\n02,tape measure,bench,0,\n"
    (material.folder / "kit.csv").write_text(own, encoding="utf-8")
    material.read_again()
    kit = {one.item: one for one in plan(200, 4, 2, ["02"]).kit}
    assert kit["stopwatch"].count == 6 and kit["our blue crate"].kilograms == 4.5
    assert "tape measure" not in kit and kit["thermometer"].count == 4  # none wanted; as the workbook has it


def test_a_pipe_of_ones_own_stands_among_its_family(material):
    before = sizes("copper EN 1057")
    row = "copper EN 1057,16 mm of ours,copper,Europe,mm,16,1,our rack,measured\n"
    (material.folder / "pipes.csv").write_text(PIPES + row, encoding="utf-8")
    material.read_again()
    assert [one for one in sizes("copper EN 1057") if one not in before] == ["16 mm of ours"]
    place = sizes("copper EN 1057").index("16 mm of ours")
    assert sizes("copper EN 1057")[place + 1] == "18 mm"
    assert Pipe.nominal("copper EN 1057", "16 mm of ours").inside_diameter == Q_(14, "mm")


SLIPS = [
    ("session_minutes", MINUTES + "02,10,fifteen,0,0,5,0,,", 'row 2, hands: "fifteen" was given'),
    ("session_minutes", MINUTES + "77,10,15,0,0,5,0,,", "row 2, lesson"),
    ("session_minutes", MINUTES + "02,10,15,0,0,5,0,,,,more", "cells where the header has"),
    ("session_minutes", "lesson,path\n02,10", 'there is no column "hands"'),
    ("session_minutes", "", "the file is empty"),
    ("kit", KIT + "02,crate,table,1,", "row 2, per"),
    ("kit", KIT + "02,,bench,1,", "row 2, item: it is empty"),
    ("kit", KIT + "02,crate,bench,1,-3", "kg: -3 was given"),
    ("pipes", PIPES + "copper EN 1057,16 mm,copper,Europe,mm,16,6,a,b", "wall 6 mm were given"),
    ("pipes", PIPES + "copper EN 1057,160 mm,copper,Europe,mm,160,2,a,b", "outside 160 mm"),
    ("pipes", PIPES + "lead,16 mm,copper,Europe,mm,16,1,a,b", "row 2, family"),
    (
        "pipes",
        PIPES + "copper EN 1057,16 mm,PEX,Europe,mm,16,1,a,b",
        "material: PEX was given; copper EN 1057 has copper",
    ),
    ("pipes", PIPES + "copper EN 1057,16 mm,copper,Europe,in,16,1,a,b", "unit: in was given"),
]


@pytest.mark.parametrize("name, text, told", SLIPS, ids=[told for *_, told in SLIPS])
def test_a_slip_names_file_row_and_remedy_and_breaks_nothing_else(material, name, text, told):
    before = tables.rows(name)
    (material.folder / f"{name}.csv").write_text(text, encoding="utf-8")
    material.read_again()
    (slip,) = tables.own_slips()
    assert slip.startswith(f"{name}.csv") and told in slip and "Until then" in slip
    assert tables.rows(name) == before


def test_one_slip_leaves_the_other_rows(material):
    text = MINUTES + "02,10,25,0,0,5,0,,\n03,10,x,0,0,5,0,,\n"
    (material.folder / "session_minutes.csv").write_text(text, encoding="utf-8")
    material.read_again()
    assert minutes_of("02").hands == 25 and minutes_of("03").hands == 15 and "row 3" in tables.own_slips()[0]


def test_rows_are_written_and_read_again(material):
    own_rows.keep("kit", [{"lesson": "02", "item": 'crate, "blue"', "per": "room", "count": "1", "kg": ""}])
    material.read_again()
    assert [row["item"] for row in tables.own("kit")] == ['crate, "blue"']
    own_rows.keep("kit", [])
    material.read_again()
    assert tables.own("kit") == [] and not (material.folder / "kit.csv").exists()


def test_a_question_of_ones_own_stands_after_the_workbooks(material):
    count = len(bank.of_lesson("02"))
    (material.folder / "questions" / "02-own-1.toml").write_text(QUESTION, encoding="utf-8")
    material.read_again()
    assert bank.name_of("own-02-1") == f"02 · {count + 1}" and bank.of_school("own-02-1")
    shown = [one.question.id for one in exercises("02", count).exercises]
    assert shown == [bank.of_lesson("02")[count - 1].id, "own-02-1"]
    assert "own-02-1" not in [one.question.id for one in exercises("02", 1, 2).exercises]


@pytest.mark.parametrize(
    "name, text, told",
    [
        ("02-own-1", QUESTION.replace('answer = "near"', 'answer = "nearest"'), "nearest"),
        ("02-own-1", QUESTION.replace("own-02-1", "own-02-2"), '"own-02-1", and so on'),
        ("02-own-1", QUESTION + QUESTION, "holds one question"),
        ("77-own-1", QUESTION, "lesson"),
        ("02-own-1", "[[question", "Mend the file"),
    ],
)
def test_a_slip_in_a_question_of_ones_own_leaves_all_others(material, name, text, told):
    before = bank.questions()
    (material.folder / "questions" / f"{name}.toml").write_text(text, encoding="utf-8")
    (material.folder / "questions" / "03-own-1.toml").write_text(QUESTION.replace("own-02", "own-03"), encoding="utf-8")
    material.read_again()
    (slip,) = bank.own_slips()
    assert slip.startswith(f"{name}.toml") and told in slip
    assert {one.id for one in bank.questions()} == {one.id for one in before} | {"own-03-1"} and not bank.broken()


def test_an_unknown_question_is_still_an_error(material):
    with pytest.raises(InputError, match="own-02-1"):
        bank.question("own-02-1")
