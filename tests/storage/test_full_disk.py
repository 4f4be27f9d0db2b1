"""A disk that is full: told where the learner looks, nothing lost that was there, and kept after all once there is room again."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from lessons_lib import Q_, InputError
from lessons_lib.exercises import learner, question
from lessons_lib.panels.exercises import Exercise
from lessons_lib.panels.page_state import answering, choose_learner
from lessons_lib.storage import preferences

ASKED = "02-tap-before-the-valve"
FULL = "No space left on device"


@pytest.fixture
def disk(tmp_path, monkeypatch):
    """A disk of 64 kB, where the reader's files lie."""
    if not sys.platform.startswith("linux") or os.geteuid() != 0:
        pytest.skip("a small disk is mounted for this test: run it as root on Linux")
    folder = tmp_path / "disk"
    folder.mkdir()
    if (
        subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(folder)], capture_output=True).returncode
        != 0
    ):
        pytest.skip("this system lets nobody mount a disk")
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(folder))
    yield folder
    subprocess.run(["umount", str(folder)], check=True)


def fill(disk: Path) -> dict:
    """Write until nothing more fits; what was there before."""
    before = {file: file.read_bytes() for file in disk.rglob("*") if file.is_file()}
    with pytest.raises(OSError), (disk / "other").open("wb", buffering=0) as stream:
        while True:
            stream.write(b"x" * 4096)
    return before


def unchanged(before: dict) -> bool:
    return all(file.read_bytes() == content for file, content in before.items())


def test_whatever_a_learner_keeps_is_told_and_kept_later(disk):
    me, asked = learner("Ana"), question(ASKED)
    me.keep_draft(asked, "55 C")
    before = fill(disk)
    for keep in (
        lambda: me.answer(asked, "12 °C"),
        lambda: me.keep_draft(asked, "x" * 3000),
        lambda: me.keep_guess("02", Q_(50, "degC"), "temperature"),
        lambda: preferences.keep_reader("Ana", "7"),
        lambda: learner("Ben"),
    ):
        with pytest.raises(InputError, match=FULL):
            keep()
    assert unchanged(before) and not list(disk.rglob("*.new"))
    (disk / "other").unlink()
    me.keep_draft(asked, "56 C")
    again = learner("Ana")
    assert again.draft(asked) == "56 C" and len(again.tries(asked)) == 1 and again.guess("02").guessed == Q_(50, "degC")


def test_it_is_said_on_the_page(disk):
    choose_learner("Ana", "")
    one = Exercise(question(ASKED))
    before = fill(disk)
    one.box.set("4711")
    one.give()
    assert FULL in one.said and FULL in one.told.value and unchanged(before)
    choose_learner("Ben", "")
    assert FULL in answering().told
