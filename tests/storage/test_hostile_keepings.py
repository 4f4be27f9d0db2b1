"""What the workbook itself keeps, spoilt by a hand, a disk or another program: each is begun anew or told in a sentence.

Choices, plan, results, drafts, answers, and a room's own two files. Nothing hangs, and no work is lost.
"""

import os
import time
from contextlib import contextmanager

import pytest
from environment import SetupProblem
from room import state
from room.members import Members, Refused

from lessons_lib import InputError
from lessons_lib.bench.store import Store
from lessons_lib.classroom import kept_plan
from lessons_lib.exercises import learner, read_class
from lessons_lib.lessons.your_own_run import drafts
from lessons_lib.storage import preferences

SPOILT = {
    "brackets in brackets": b"[" * 100_000,
    "tables in tables": b'{"a":' * 100_000,
    "a number of 10,000 digits": b'{"people": ' + b"1" * 10_000 + b"}",
    "half a character": b'{"name": "\\ud800", "seat": "\\ud800", "goods": "\\ud800", "names": "\\ud800", "begins": "\\ud800"}',
    "no number": b'{"people": NaN, "name": Infinity, "unit system": -Infinity}',
    "lists for words": b'{"lessons": [["01"]], "unit system": ["SI"], "goods": [1], "name": {"a": 1}, "seat": [], "port": "x"}',
    "another encoding": b'{"name": "\xe9"}',
    "zeros": b"\0" * 1000,
    "nothing": b"",
    "a list": b"[]",
}


def choices():
    preferences.unit_system(), preferences.reader(), preferences.region(preferences.unit_system())
    preferences.keep_reader("Ana", "3")
    assert preferences.reader() == ("Ana", "3")


def plan():
    kept_plan.kept_plan().people_named()
    kept_plan.keep(people=5, names="")
    assert kept_plan.kept_plan().people == 5


def answers():
    assert learner("Ana", 7).file.is_file() and len(read_class().skipped) <= 1


KEPT = {  # what is kept: where it lies, and how it is read and then used
    "choices": (lambda: preferences.folder() / "choices.json", choices),
    "plan": (kept_plan.file, plan),
    "results": (lambda: Store().file, lambda: Store().all()),
    "a draft": (lambda: drafts._folder() / "barn-1a2b3c4d-x.json", lambda: drafts.Drafts().found()),
    "answers": (lambda: learner("Ana", 7).file, answers),
    "the room's learners": (
        lambda: preferences.folder() / "members.json",
        lambda: Members(preferences.folder()).admit("Ana", "", "kite12"),
    ),
    "the room": (lambda: preferences.folder() / "room.json", lambda: state.kept(preferences.folder(), 8000)),
}
OWN = ("choices", "plan", "results", "a draft", "answers")  # in a folder where a reader may put anything
WORK = ("results", "a draft", "answers", "the room's learners")  # what nobody could choose or draw again


@pytest.fixture(params=KEPT)
def place(request):
    """What is kept, and an empty place for it."""
    path = KEPT[request.param][0]()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    return request.param, path


@contextmanager
def told_in_two_seconds():
    """Errors are sentences to a person."""
    begun = time.process_time()
    try:
        yield
    except (InputError, Refused, SetupProblem) as told:
        assert len(str(told)) < 600 and str(told).rstrip().endswith(".")
    assert time.process_time() - begun < 2


@pytest.mark.parametrize("how", SPOILT)
def test_spoilt_is_told_or_begun_anew(place, how):
    what, path = place
    path.write_bytes(SPOILT[how])
    with told_in_two_seconds():
        KEPT[what][1]()
    assert what not in WORK or SPOILT[how] in [one.read_bytes() for one in path.parent.iterdir() if one.is_file()]


@pytest.mark.parametrize("place", OWN, indirect=True)
def test_much_too_large_is_not_read(place):
    what, path = place
    with path.open("wb") as stream:
        stream.truncate(4_000_000_000)  # sparse: it takes no room
    with told_in_two_seconds():
        KEPT[what][1]()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
@pytest.mark.parametrize("place", OWN, indirect=True)
def test_a_pipe_in_its_place_keeps_nobody_waiting(place):
    what, path = place
    os.mkfifo(path)
    with told_in_two_seconds():
        KEPT[what][1]()
    assert path.is_fifo()
