"""Lesson 11 opens with the school's own building: chosen by a press or brought, looked at first, put aside and not deleted."""

import datetime

import pytest

from lessons_lib import load_layout
from lessons_lib.building import of_school
from lessons_lib.classroom import opening_building
from lessons_lib.lessons import your_own_run
from lessons_lib.lessons.your_own_run import own_files, tries
from lessons_lib.lessons.your_own_run.own_goods import document_of
from lessons_lib.quantities.display import US
from lessons_lib.storage import own_material, preferences

HALL = """
name = "Training hall"
[water]
pressure = "250 kPa"
cold_inlet = "10 °C"
[night]
air = "-10 °C"
hours = "12 h"
[tank]
set_temperature = "60 °C"
[places]
indoors = "18 °C"
[usual]
pipe = "copper EN 1057"
size = "22 mm"
insulation = "polyethylene foam"
thickness = "13 mm"
place = "indoors"
[[leg]]
name = "along the hall"
from = "tank"
go = "east"
length = "7 m"
[[leg]]
name = "down to the basin"
from = "along the hall"
go = "down"
length = "2 m"
size = "15 mm"
[[tap]]
name = "basin"
leg = "down to the basin"
kind = "sink"
flow = "5 L/min"
useful = "40 °C"
"""
TITLE = "Training hall (your school's)"
CABIN = own_files.cabin_title()


@pytest.fixture
def hall():
    """A school's own building, kept as its instructor keeps it."""
    of_school.keep(HALL.encode(), "hall.toml")


def brought(panel, name: str, content: bytes) -> None:
    """Chooses a file of this computer, as a browser sends it."""
    when = datetime.datetime(2026, 1, 1, tzinfo=datetime.UTC)
    file = {"name": name, "type": "", "size": len(content), "content": memoryview(content), "last_modified": when}
    panel.brought.widget.value = (file,)


def status(panel) -> str:
    return panel._status.value


def test_a_layout_of_the_menu_becomes_the_opening_one_and_goes_back_again():
    folder = preferences.layouts_folder()
    folder.mkdir(parents=True)
    (folder / "hall.toml").write_text(HALL, encoding="utf-8")
    panel = opening_building()
    assert f"Lesson 11 opens with: {CABIN}." in panel.said and panel.menu.label == "hall.toml"
    panel.take()
    assert f"Lesson 11 opens with: {TITLE}." in panel.said and "● Taken: hall.toml" in panel.said
    assert "INVENTED" not in panel.said and own_material.opening().read_text(encoding="utf-8") == HALL
    assert (folder / "hall.toml").is_file()
    panel.take_back()
    (aside,) = (own_material.folder() / "put aside").iterdir()
    assert str(aside) in panel.said and aside.read_text(encoding="utf-8") == HALL
    assert f"Lesson 11 opens with: {CABIN}." in panel.said
    panel.take_back()
    assert "Nothing to take back" in panel.said


def test_without_a_layout_the_panel_says_what_to_do():
    panel = opening_building()
    assert str(preferences.layouts_folder()) in panel.said
    panel.take()
    assert "Save one in lesson 11 first" in panel.said and not own_material.opening().exists()


def test_a_file_that_is_brought_takes_the_place_of_the_one_before_which_is_kept(hall):
    panel = opening_building()
    brought(panel, "wing.toml", HALL.replace("Training hall", "New wing").encode())
    assert "New wing (your school's)" in panel.said and panel.brought.widget.value == ()
    (aside,) = (own_material.folder() / "put aside").iterdir()
    assert aside.read_text(encoding="utf-8") == HALL


@pytest.mark.parametrize(
    "content, told",
    [
        (HALL.replace('"7 m"', '"7 bananas"').encode(), "wing.toml, line 23: length"),
        (HALL.replace('go = "east"', "").encode(), "wing.toml, line 19"),
        (b"[[leg", "wing.toml, line 1"),
        (b"", "no legs"),
        (b"\xff\xfe\x00", "this is not plain text"),
        (b"#" * (of_school.LARGEST_LAYOUT + 1), "200 kB are too large; at most 200 kB"),
        (b"x = " + b"[" * 9000, "brackets stand within each other"),
    ],
)
def test_a_slip_is_a_sentence_and_changes_nothing(hall, content, told):
    panel = opening_building()
    panel.keep(content, "wing.toml")
    assert "▲ Nothing was changed. wing.toml" in panel.said and told in panel.said, panel.said
    assert own_material.opening().read_text(encoding="utf-8") == HALL
    assert not (own_material.folder() / "put aside").exists()


def test_a_full_disk_leaves_the_building_before(hall, monkeypatch):
    def full(*_, **__):
        raise of_school.InputError("opening.toml was not written (No space left on device).")

    monkeypatch.setattr(of_school, "write_whole", full)
    panel = opening_building()
    panel.keep(HALL.replace("Training hall", "New wing").encode(), "wing.toml")
    assert "No space left" in panel.said and TITLE in panel.said


def test_a_broken_building_leaves_tern_banks_and_is_told_once(material):
    own_material.opening().write_text(HALL.replace('"7 m"', '"7 bananas"'), encoding="utf-8")
    lesson, page = your_own_run.panel(), opening_building()
    assert lesson.title == CABIN and TITLE not in lesson.files
    for said in (status(lesson), page.said):
        assert "opening.toml, line 23" in said and "Until then lesson 11 opens with Tern Bank" in said
    lesson.change("leg", 0, "length", "4 m")
    assert "opening.toml" not in status(lesson)


def test_the_panel_opens_with_it_as_it_is_written_and_tries_its_steps_on_the_cabin(hall):
    panel = your_own_run.panel()
    assert panel.title == TITLE and panel.document.text == HALL
    assert f"Choose <em>{CABIN}</em> in the box <em>Layout</em>." in panel.tries.told.value
    layout = panel.finished().layout
    assert layout.invented == "" and load_layout(own_files.READY / "bunk_cabin.toml").invented
    assert panel.writing.name.value == "my-training-hall"
    panel.change("leg", 0, "length", "8 m")
    panel.writing.writers[0].press()
    assert (preferences.layouts_folder() / "my-training-hall.toml").is_file()
    assert own_material.opening().read_text(encoding="utf-8") == HALL
    panel.tries.go(3)
    assert panel.title == CABIN and f"The panel shows {CABIN} again" in panel.tries.told.value


def test_a_us_reader_meets_it_as_it_is_written(hall):
    assert document_of(own_material.opening(), US).text == HALL


def test_a_copy_of_tern_banks_stays_marked():
    panel = opening_building()
    panel.keep((own_files.READY / "bunk_cabin.toml").read_bytes(), "cabin.toml")
    assert "Its papers say: INVENTED: Tern Bank" in panel.said


def test_in_a_room_learners_begin_with_it_and_find_their_unsaved_work_on_it_again(hall, tmp_path, monkeypatch):
    monkeypatch.setenv(own_material.MATERIAL_VARIABLE, str(own_material.folder()))
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "ana"))
    monkeypatch.setenv(preferences.ROOM_VARIABLE, "1")
    panel = your_own_run.panel()
    panel.change("leg", 0, "length", "8 m")
    again = your_own_run.panel()
    assert panel.title == again.title == TITLE and "was not saved" in again.offer.words.value
    of_school.take_back()
    again.offer.take_up()  # also when the instructor has changed it meanwhile
    assert again.title == TITLE and again.document.rows()[0]["length"] == "8 m"


def test_without_own_material_the_steps_are_as_they_were():
    assert tries.tries_where(CABIN) is tries.TRIES
