"""Lesson 11 loses nothing: half-done work drawn and kept at every edit, others' changes asked about, kill -9 at any moment."""

import os
import re
import signal
import subprocess
import sys
from html import unescape

import pytest

from lessons_lib import LayoutDocument
from lessons_lib.building.sketch.isometric import Isometric
from lessons_lib.lessons import your_own_run
from lessons_lib.lessons.your_own_run import drafts, own_files
from lessons_lib.storage import preferences

CABIN, WASH_HOUSE, WORKSHOP, TEMPLATE = list(own_files.ready_made())
WORK = """
import os, signal
from lessons_lib.lessons import your_own_run
panel = your_own_run.panel()
panel.change("leg", 0, "length", "14 m")
panel.writing.writers[0].press()
panel.change("leg", 0, "length", "13 m")
{then}
os.kill(os.getpid(), signal.SIGKILL)
"""
WHILE_SAVING = "os.fsync = lambda *_: os.kill(os.getpid(), signal.SIGKILL)\npanel.writing.writers[0].press()"


@pytest.fixture
def panel(no_background):
    return your_own_run.panel()


def plain(widget) -> str:
    return unescape(re.sub(r"<[^>]+>", "", widget.value))


def kept() -> list:
    return list((preferences.layouts_folder() / drafts.FOLDER).glob("*"))


@pytest.mark.parametrize("then", ["", WHILE_SAVING], ids=["between edits", "while saving"])
def test_killed_at_any_moment(then, no_background):
    """The file is whole, the work since is offered by the page that opens next, and Undo goes back to the file."""
    done = subprocess.run([sys.executable, "-c", WORK.format(then=then)], env=os.environ, timeout=300)
    assert done.returncode == -signal.SIGKILL
    file = preferences.layouts_folder() / "my-bunk-cabin.toml"
    assert LayoutDocument.open(file).rows()[0]["length"] == "14 m"
    panel = your_own_run.panel()
    assert re.search(r"Your work on my-bunk-cabin from \d\d:\d\d today was not saved", plain(panel.offer.words))
    assert panel.offer.widget.layout.display is None
    panel.offer.take_up()
    assert panel.title == "my-bunk-cabin.toml" and panel.document.rows()[0]["length"] == "13 m"
    assert "a draft is kept" in plain(panel._status) and len(kept()) == 1
    panel.undo()
    assert panel.document.text == file.read_text(encoding="utf-8") and not kept()
    panel.document.change("leg", 0, "length", "12 m")
    panel.writing.writers[0].press()
    assert LayoutDocument.open(file).rows()[0]["length"] == "12 m"


def test_work_on_a_building_that_came_along_is_left_or_thrown_away(panel):
    panel.change("leg", 0, "length", "14 m")
    panel.open(WORKSHOP)
    panel.change("leg", 0, "length", "3 m")
    assert len(kept()) == 2
    second = your_own_run.panel()
    assert "workshop" in plain(second.offer.words)
    second.offer.leave()
    assert "bunk_cabin" in plain(second.offer.words) and len(kept()) == 2
    second.offer.throw_away()
    assert second.offer.widget.layout.display == "none" and len(kept()) == 1
    third = your_own_run.panel()
    third.offer.take_up()
    assert third.title == WORKSHOP and third.document.text == panel.document.text
    assert not (preferences.layouts_folder() / "workshop.toml").exists()


def test_a_draft_of_an_older_file_is_not_written_over_the_newer_one(panel):
    """Taken up after somebody else changed the file, the work is shown; Save asks."""
    panel.writing.writers[0].press()
    file = panel.files[panel.title]
    panel.change("leg", 0, "length", "13 m")
    newer = file.read_text(encoding="utf-8") + "# newer\n"
    file.write_text(newer, encoding="utf-8")
    second = your_own_run.panel()
    second.offer.take_up()
    second.writing.writers[0].press()
    assert "changed my-bunk-cabin.toml" in plain(second._status) and file.read_text(encoding="utf-8") == newer


def test_drafts_that_cannot_be_read_or_kept_are_told(panel):
    folder = preferences.layouts_folder() / drafts.FOLDER
    folder.mkdir(parents=True)
    (folder / "odd.json").write_text("{", encoding="utf-8")
    second = your_own_run.panel()
    assert (
        "odd.json could not be read" in plain(second.offer.words) and second.offer.buttons[0].layout.display == "none"
    )
    (folder / "odd.json").unlink()
    folder.rmdir()
    folder.write_text("a file where the folder should be")
    second.change("leg", 0, "length", "14 m")
    assert "no draft of it can be kept" in plain(second._status) and second.document.rows()[0]["length"] == "14 m"


def test_two_pages_never_write_over_each_other_unasked(panel):
    """Of two pages with one file the second to save is asked, after each change anew; Read again takes the other's."""
    panel.writing.writers[0].press()
    file = panel.files[panel.title]
    second = your_own_run.panel()
    second.open_typed("my-bunk-cabin")
    panel.change("leg", 0, "length", "14 m")
    panel.writing.writers[0].press()  # the reader's own file, as it was read: no question
    theirs = file.read_text(encoding="utf-8")
    second.change("leg", 1, "length", "2 m")
    save = second.writing.writers[0]
    save.press()
    said = plain(second.writing.answer)
    assert re.search(r"changed my-bunk-cabin.toml at \d\d:\d\d today", said) and said == plain(second._status)
    assert all(way in said for way in ("Press again", "Read again", "change the name"))
    assert file.read_text(encoding="utf-8") == theirs
    panel.change("leg", 0, "length", "13.5 m")
    panel.writing.writers[0].press()
    theirs = file.read_text(encoding="utf-8")
    save.press()  # what was asked about is not what lies there now
    assert file.read_text(encoding="utf-8") == theirs and "changed" in plain(second.writing.answer)
    mine = second.document.text
    second.read_again()
    assert second.document.text == theirs
    second.undo()
    assert second.document.text == mine
    save.press()
    assert file.read_text(encoding="utf-8") == mine  # it was read and looked at: the other's change is known


def test_answers_stand_beneath_the_buttons_and_go_with_the_next_edit(panel):
    assert panel.writing.answer is panel.writing.parts[-1]
    panel.writing.writers[0].press()
    assert plain(panel.writing.answer).startswith("● Written") and plain(panel.writing.answer) == plain(panel._status)
    panel.change("leg", 0, "length", "14 m")
    assert plain(panel.writing.answer) == "" and "Not saved yet" in plain(panel._status)


def test_a_house_is_drawn_as_far_as_it_goes(panel):
    """Legs without taps and one without a length: all are drawn, what is missing is marked and named, the rest is worked out."""
    panel.open(TEMPLATE)
    first = panel.png
    panel.add("leg", 3)
    panel.change("leg", 2, "length", None)
    said = plain(panel._status)
    assert said.startswith("▲ Drawn as far as it goes.") and panel.png != first
    assert 'leg 3, "sink drop": no length yet' in said and '"kitchen sink": it waits for the length' in said
    assert len(panel.scene.layout.legs) == 7 and [tap.name for tap in panel.scene.found.taps] == ["shower"]
    marks = [box[0] for box in sketch(panel).boxes]
    assert {"kitchen sink?", "tap?"} <= set(marks)
    assert (
        "no length yet" in panel.table.rows[2].told.value and "no tap at its end yet" in panel.table.rows[4].told.value
    )
    panel._views.value = "Take-off"
    assert "Nothing can be listed" in panel._results.value
    panel.remove("tap", 0)
    panel.remove("tap", 0)
    assert "no tap can be worked out yet" in panel.sentence and "nan" not in panel.sentence
    for view in ("Taps", "Cold legs"):
        panel._views.value = view
        assert panel._results.value
    assert panel.headline(panel.scene, panel.system) and "No tap can be worked out yet" not in plain(panel._status)
    while panel.document.can_undo:
        panel.undo()
    assert plain(panel._status) == "● Ready" and not kept()


def sketch(panel) -> Isometric:
    return panel.picture.sketch
