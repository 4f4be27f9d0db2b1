"""A learner's file: whole or not at all, restored, merged, never written over; hostile names; kill -9 while saving."""

import json
import os
import re
import signal
import subprocess
import sys
import threading
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError
from lessons_lib.exercises import folder, learner, mark, question
from lessons_lib.exercises.names import LONGEST, clean, file_name
from lessons_lib.quantities.display import SI, US

SHARE, ORDER = question("01-hot-share"), question("10-order-of-work")


def right(who, one=SHARE, system=SI):
    return who.variant(one, system).shown_answer()


def files():
    return sorted(file.name for file in folder().iterdir() if not file.name.startswith("."))


def test_answers_are_restored():
    first = learner("Ana", 7)
    assert not first.notices and not first.answer(SHARE, "1 %").right
    assert first.answer(SHARE, right(first)).right
    again = learner(" ANA ", "07")
    assert (
        [one["right"] for one in again.tries(SHARE)] == [False, True]
        and again.solved(SHARE)
        and again.wrong_so_far(SHARE) == 1
    )
    assert "Welcome back: 1 answered question restored" in again.notices[0]
    assert again.draft(SHARE) == right(first) and len(files()) == 1


def test_stages_follow_the_kept_tries():
    """Also over a reopened notebook: the third wrong answer brings the worked solution."""
    stages = []
    for _ in range(3):
        who = learner("Ana", 7)
        before = who.wrong_so_far(SHARE)
        stages.append(len(who.answer(SHARE, "1 %").feedback(before)))
    assert stages == [2, 3, 4]


def test_an_answer_that_cannot_be_read_is_no_try():
    who = learner("Ana")
    for text in ("", "banana", "3 kg", "x" * 10_000):
        with pytest.raises(InputError):
            who.answer(SHARE, text)
    assert not who.tries(SHARE)


def test_drafts_come_back_until_they_are_given():
    who = learner("Ana")
    for typed in ("0", "0.", "0.6"):
        who.keep_draft(SHARE, typed)
    assert learner("Ana").draft(SHARE) == "0.6"
    who.answer(SHARE, "0.5")
    assert learner("Ana").draft(SHARE) == "0.5"
    who.keep_draft(SHARE, "0.7")
    assert learner("Ana").draft(SHARE) == "0.7" and learner("Ana").draft(ORDER) == ""


def test_the_first_guess_stays_and_is_held_against_the_model():
    who = learner("Ana")
    who.keep_guess("02", Q_(104, "degF"), "temperature", "very sure")
    who.keep_guess("02", Q_(50, "degC"), "temperature")  # the cell was run twice
    assert who.guess("02").told(SI) == "Your guess: 40 °C (very sure)."
    assert (
        who.compare_guess("02", Q_(50, "degC")).told(US)
        == "You guessed 104 °F (very sure); the model gives 122 °F: 18 °F too low."
    )
    assert learner("Ana").guess("02").model.to("degC").magnitude == pytest.approx(50)
    assert who.guess("03") is None
    with pytest.raises(InputError, match="none was kept"):
        who.compare_guess("03", Q_(1, "m"))
    with pytest.raises(InputError, match="guess"):
        who.keep_guess("03", Q_(1, "kg"), "temperature")
    with pytest.raises(InputError, match="kind"):
        who.keep_guess("03", Q_(1, "kg"), "weight")


def test_two_learners_of_one_name():
    one, two, bare = learner("Ana", 1), learner("Ana", 2), learner("Ana")
    assert len({who.file for who in (one, two, bare)}) == 3
    assert "another file under this name (seat 1)" in two.notices[0] and "seat 1, seat 2" in bare.notices[0]
    one.answer(SHARE, "1 %")
    assert not two.tries(SHARE) and one.variant(SHARE).values != two.variant(SHARE).values
    assert "another learner uses this name: add a mark" in learner("Ana", 1).notices[0]


def test_in_a_room_the_way_back_to_ones_own_name_is_its_door(monkeypatch):
    learner("Ana").answer(SHARE, "1 %")
    monkeypatch.setenv("HOT_WATER_RUNS_ROOM", "1")
    assert learner("Ana").notices == [
        'Welcome back: 1 answered question restored, over all lessons. Not you? Then press "Somebody else".'
    ]


def test_a_seat_alone_or_a_name_alone_is_enough():
    assert learner("", 4).numbers_from == "4" and learner("Ana").numbers_from == "Ana"
    with pytest.raises(InputError, match="name"):
        learner("  ", "")


HOSTILE = [
    "<script>alert(1)</script>",
    "../../etc/passwd",
    "..\\..\\boot.ini",
    "/",
    "C:\\con",
    "con",
    "nul.json",
    ".",
    "..",
    "~",
    "-rf",
    "a\x00b",
    "a\nb",
    "%s%n",
    "{0.__class__}",
    "$(reboot)",
    "`id`",
    "'; DROP TABLE answers; --",
    "\u202egnp.exe",
    "\ud800",
    "Åsa Ångström",
    "名前",
    "🙂",
    "x" * 10_000,
    "é" * 10_000,
]


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names(name):
    who = learner(name, 3)
    assert (
        re.fullmatch(r"[a-z0-9-]{1,40}\.json", who.file.name)
        and who.file.parent == folder()
        and files() == [who.file.name]
    )
    assert len(who.name) <= LONGEST and who.name.isprintable()
    who.answer(SHARE, "1 %")
    assert len(learner(name, 3).tries(SHARE)) == 1
    assert ("shortened" in " ".join(who.notices)) == (len(name) > LONGEST)


@given(st.text(max_size=200), st.text(max_size=50))
@settings(max_examples=200, deadline=None)
def test_any_name_is_a_safe_file_name(name, seat):
    try:
        found = file_name(name, seat)
    except InputError:
        assert not clean(name) and not clean(seat)
    else:
        assert re.fullmatch(r"[a-z0-9-]{1,40}\.json", found)


@pytest.mark.parametrize(
    "broken",
    [
        "",
        "{",
        "[]",
        "null",
        '"text"',
        "\x00\x01\x02",
        '{"format": "something else"}',
        '{"format": "hot water runs: answers", "version": 1}',
        '{"format": "hot water runs: answers", "version": 1, "name": "a", "seat": "", "tries": [1], "drafts": {}, "guesses": {}}',
        '{"format": "hot water runs: answers", "version": 1, "name": "a", "seat": "", "tries": [], "drafts": {"a": 1}, "guesses": {}}',
        '{"format": "hot water runs: answers", "version": 1, "name": "a", "seat": "", "tries": [], "drafts": {}, "guesses": {"g": {"when": "", '
        '"kind": "temperature", "value": NaN, "unit": "degC", "sure": ""}}}',
        "[" * 100_000,
    ],
    ids=range(12),
)
def test_a_damaged_file_is_kept_beside_and_said_so(broken):
    who = learner("Ana", 7)
    who.file.write_text(broken, encoding="utf-8")
    again = learner("Ana", 7)
    assert "could not be read" in again.notices[0]
    kept = folder() / f"{who.file.stem}-unreadable-1.json"
    assert kept.name in again.notices[0] and kept.read_text(encoding="utf-8") == broken
    again.answer(SHARE, "1 %")
    assert len(learner("Ana", 7).tries(SHARE)) == 1


def test_each_damaged_file_gets_a_name_of_its_own():
    for place in (1, 2, 3):
        learner("Ana", 7).file.write_text(f"broken {place}", encoding="utf-8")
    learner("Ana", 7)
    assert sum("unreadable" in name for name in files()) == 3


def test_damage_and_deletion_meanwhile_lose_nothing():
    who = learner("Ana", 7)
    who.answer(SHARE, "1 %")
    who.file.write_text("{", encoding="utf-8")
    who.answer(SHARE, "2 %")
    assert "damaged meanwhile" in who.notices[-1] and len(learner("Ana", 7).tries(SHARE)) == 2
    who.file.unlink()
    who.answer(SHARE, "3 %")
    assert len(learner("Ana", 7).tries(SHARE)) == 3


@pytest.mark.parametrize("version", [0, 2, "1", None, 1.5])
def test_a_file_of_another_version_is_refused_and_untouched(version):
    who = learner("Ana", 7)
    content = json.loads(who.file.read_text(encoding="utf-8")) | {"version": version, "more": "from the future"}
    text = json.dumps(content)
    who.file.write_text(text, encoding="utf-8")
    for call in (lambda: learner("Ana", 7), lambda: who.answer(SHARE, "1 %")):
        with pytest.raises(InputError, match="another version"):
            call()
    assert who.file.read_text(encoding="utf-8") == text and files() == [who.file.name]


def test_a_folder_that_cannot_be_used(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match="cannot be used"):
        learner("Ana", 7, where=blocked / "answers")


def test_two_notebooks_of_one_learner_lose_nothing():
    """Each holds what it read when it was opened; both write."""
    one, two = learner("Ana", 7), learner("Ana", 7)
    one.answer(SHARE, "1 %")
    two.answer(SHARE, "2 %")
    one.keep_guess("02", Q_(40, "degC"), "temperature")
    two.keep_draft(ORDER, "AB")
    one.answer(SHARE, "3 %")
    assert [one["text"] for one in learner("Ana", 7).tries(SHARE)] == ["1 %", "2 %", "3 %"]
    assert learner("Ana", 7).draft(ORDER) == "AB" and learner("Ana", 7).guess("02") is not None


def test_many_writers_at_once_lose_nothing():
    def write(place):
        who = learner("Ana", 7)
        for number in range(10):
            who.answer(SHARE, f"{place}.{number} %")

    threads = [threading.Thread(target=write, args=(place,)) for place in range(1, 7)]
    [one.start() for one in threads]
    [one.join() for one in threads]
    assert len({one["text"] for one in learner("Ana", 7).tries(SHARE)}) == 60


def kept_number() -> int:
    return int(learner("Ana", 7).draft(SHARE) or 0)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
@pytest.mark.parametrize("times", [30, pytest.param(100, marks=pytest.mark.million)])
def test_kill_while_saving_loses_at_most_the_last_keystroke(times):
    """Again and again, a little later each time: what the writer reported as kept before it was killed is kept, the file is whole, and nothing is set aside."""
    own = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    writer = subprocess.Popen(
        [sys.executable, "-c", FORKING], stdout=subprocess.PIPE, stdin=subprocess.PIPE, text=True, env=own
    )
    try:
        for place in range(times):
            writer.stdin.write(f"{0.004 + 0.07 * place / times}\n")
            writer.stdin.flush()
            reported = int(writer.stdout.readline())
            assert reported <= kept_number() <= reported + 1
    finally:
        writer.stdin.close()
        writer.wait(timeout=20)
    assert files() == [learner("Ana", 7).file.name]
    assert not [name for name in os.listdir(folder()) if name.endswith(".new")], (
        "what a killed writer left is cleared away"
    )


# Started once, for the library takes a second to load: for each line it forks a writer, kills it after that many seconds, and says
# how far the writer had come by its own report.
FORKING = """
import os, signal, sys, time
from lessons_lib.exercises import learner, question
one = question("01-hot-share")
for line in sys.stdin:
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        who = learner("Ana", 7)
        number = int(who.draft(one) or 0)
        os.write(write, b"%d\\n" % number)
        while True:
            number += 1
            who.keep_draft(one, str(number))
            os.write(write, b"%d\\n" % number)
    os.close(write)
    first = b""
    while not first.endswith(b"\\n"):
        first += os.read(read, 1)
    time.sleep(float(line))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    rest = b""
    while chunk := os.read(read, 65536):
        rest += chunk
    os.close(read)
    print(int((first + rest).split()[-1]), flush=True)
"""


def test_nothing_typed_is_ever_run(tmp_path, monkeypatch):
    """Texts that look like code come back as the text they were."""
    who = learner("__import__('os').abort()", 1)
    for text in ("__import__('os').abort()", "<script>1</script>", "{who.__class__}", "\ud800"):
        who.keep_draft(SHARE, text)
        assert learner("__import__('os').abort()", 1).draft(SHARE) == text.encode("utf-8", "replace").decode()


def test_marking_kept_tries_agrees_with_marking():
    who = learner("Ana", 7)
    for text in ("1 %", "33 %", right(who)):
        marked = who.answer(SHARE, text)
        assert marked == mark(who.variant(SHARE), text) and who.tries(SHARE)[-1]["mistake"] == marked.mistake


def test_entries_sort_by_time():
    who = learner("Ana", 7)
    for number in range(5):
        who.answer(SHARE, f"{number} %")
        time.sleep(0.001)
    moments = [one["when"] for one in learner("Ana", 7).tries(SHARE)]
    assert moments == sorted(moments) and len(set(moments)) == 5
