"""Files that nobody writes by hand: too large, too deep, too long, no files at all. Each is a sentence within two seconds, and
nothing is lost. Seconds are those of this process, whatever else the machine does."""

import os
import time
from contextlib import contextmanager
from pathlib import Path

import pytest

from lessons_lib import InputError, Weather
from lessons_lib.bench.readings import Readings
from lessons_lib.building import LayoutDocument, load_layout
from lessons_lib.exercises import learner_file
from lessons_lib.lessons.your_own_run import own_files
from lessons_lib.lessons.your_own_run.panel import OwnRun
from lessons_lib.quantities.errors import shown, unknown_name
from lessons_lib.storage.files import NotThere, TooLarge, kept_aside, read_bytes, write_whole
from lessons_lib.storage.tables import DATA

GOOD = (DATA / "layouts" / "bunk_cabin.toml").read_text(encoding="utf-8")
LENGTH, NAME = 'length = "15 m"', '"out of the workshop"'
posix = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")


@contextmanager
def two_seconds():
    begun = time.process_time()
    yield
    assert time.process_time() - begun < 2


def instead(old: str, new: str) -> str:
    assert old in GOOD
    return GOOD.replace(old, new)


def chain(name: str, count: int, between: str = ".") -> str:
    return between.join([name] * count)


LAYOUTS = {
    "nested brackets": ("x = " + "[" * 300_000, "line 1: more than 20 brackets"),
    "nested brackets below a good file": (
        GOOD + "x = " + "[" * 300_000 + "]" * 300_000,
        r"line \d\d+: more than 20 brackets",
    ),
    "nested tables": ("x = " + "{a=" * 200_000, "line 1: more than 20 brackets"),
    "behind a text with four quotation marks": (
        'x = ["""x"""", ' + "[" * 200_000 + ', "y"]',
        "line 1: more than 20 brackets",
    ),
    "a number of 10,000 digits": (
        instead(LENGTH, f"length = {'1' * 10_000}"),
        r"line \d+: a word or number has more than 200",
    ),
    "the same in quotation marks": (instead(LENGTH, f'length = "{"1" * 10_000} m"'), r"line \d+: length: .* no number"),
    "sixteens": (f"x = 0x{'f' * 900_000}", "line 1: a word or number has more"),
    "dotted keys": (chain("a", 300_000) + " = 1", "line 1: more than 5 names"),
    "dotted keys with blanks": (chain("a", 200_000, " . ") + " = 1", "line 1: more than 5 names"),
    "dotted keys in quotation marks": (chain('"a"', 200_000) + " = 1", "line 1: more than 5 names"),
    "dotted keys behind a text": (
        'x = {b = """x"""", ' + chain("a", 200_000) + ' = 1, c = "y"}',
        "line 1: more than 5 names",
    ),
    "many dotted keys": ("\n".join(f"a.b{number}=1" for number in range(90_000)), "too many for a layout"),
    "many tables": ("\n".join(f"[a{number}]" for number in range(90_000)), "too many for a layout"),
    "a long flat list": (f"x = [{'[],' * 200_000}]", "too many for a layout"),
    "blanks": ("a" + " " * 900_000, "line 1: "),
    "a bracket and blanks": ("[a" + " " * 900_000 + "x", "line 1: "),
    "a key of blanks, twice": (f'"a{" " * 400_000}" = 1\n' * 2, "line 2: .* was given a value before"),
    "quotation marks": ('"' * 900_000, "line 1: "),
    "quotation marks that do not close": ('"""\\' * 150_000, "line 1: "),
    "a long key": (f'"{"k" * 900_000}" = 1', 'word: "k+…" is not known'),
    "feet in feet": (instead(LENGTH, f'length = "{"1 ft " * 100_000}"'), r"line \d+: length: "),
    "a name without an end": (
        instead(NAME, f'"{"x" * 100_000}"'),
        r"line \d+: name: .* 100000 characters; possible are up to 200",
    ),
    "a name with a bell": (instead(NAME, '"out\\u0007"'), r"line \d+: name: .* cannot be shown"),
    "a name of nothing": (instead(NAME, '"\\u0000"'), r"line \d+: name: .* cannot be shown"),
    "a zero byte": (GOOD + "\0", r"line \d+: "),
}


@pytest.mark.parametrize("what", LAYOUTS)
def test_hostile_layouts(what, tmp_path):
    text, said = LAYOUTS[what]
    file = tmp_path / "yard.toml"
    file.write_text(text, encoding="utf-8")
    with two_seconds(), pytest.raises(InputError, match=said) as caught:
        load_layout(file)
    assert len(str(caught.value)) < 600
    with two_seconds():
        try:
            LayoutDocument.open(file)
        except InputError as error:
            assert len(str(error)) < 600


@pytest.mark.parametrize("mark", ["\\n", "\\t", "  ", "\\u00a0"])
def test_a_line_break_in_a_name_is_a_blank(mark, tmp_path):
    file = tmp_path / "yard.toml"
    file.write_text(instead(NAME, f'"out of{mark}the workshop"'), encoding="utf-8")
    assert "out of the workshop" in [leg.name for leg in load_layout(file).legs]


def odd_files(folder: Path) -> dict:
    """Kind → path of things that are no file with something to read, or a much too large one."""
    large = folder / "large.toml"
    with large.open("wb") as stream:
        stream.truncate(4_000_000_000)  # sparse: it takes no room
    (folder / "folder.toml").mkdir()
    os.mkfifo(folder / "pipe.toml")
    return {
        "folder": folder / "folder.toml",
        "pipe": folder / "pipe.toml",
        "large": large,
        "device": Path("/dev/zero"),
        "long name": folder / f"{'n' * 300}.toml",
        "below a file": large / "x.toml",
        "NUL": folder / "a\0b.toml",
        "surrogate": folder / "a\ud800.toml",
        "absent": folder / "absent.toml",
    }


ODD = ("folder", "pipe", "large", "device", "long name", "below a file", "NUL", "surrogate", "absent")


@posix
@pytest.mark.parametrize("kind", ODD)
def test_what_is_no_file_is_a_sentence_to_every_reader(kind, tmp_path):
    path = odd_files(tmp_path)[kind]
    for reads in (
        lambda: read_bytes(path, 1000),
        lambda: load_layout(path),
        lambda: LayoutDocument.open(path),
        lambda: Readings.from_csv(path),
        lambda: Weather.from_csv(path),
        lambda: learner_file.load(path),
    ):
        with two_seconds(), pytest.raises((InputError, learner_file.Damaged)) as caught:
            reads()
        assert len(str(caught.value)) < 300


@posix
@pytest.mark.parametrize("kind", ODD)
def test_what_is_no_file_is_never_written_over_nor_renamed(kind, tmp_path):
    path, document = odd_files(tmp_path)[kind], LayoutDocument(GOOD)
    before = {name: os.lstat(tmp_path / name).st_ino for name in os.listdir(tmp_path)}
    if kind == "absent":
        assert "absent.toml" in document.save(path, replace=True)
        return
    if kind == "large":  # no layout: kept aside, and said so
        assert "kept as large-unreadable-1.toml" in document.save(path, replace=True)
        assert os.lstat(tmp_path / "large-unreadable-1.toml").st_ino == before["large.toml"]
        return
    with two_seconds(), pytest.raises(InputError, match="(?i)choose another|check its name"):
        document.save(path, replace=True)
    with pytest.raises(InputError):
        write_whole(path, "x", replace=True)
    with pytest.raises(InputError):
        kept_aside(path)
    assert {name: os.lstat(tmp_path / name).st_ino for name in os.listdir(tmp_path)} == before


def test_a_file_is_read_up_to_its_limit_and_a_head_if_asked(tmp_path):
    file = tmp_path / "x"
    file.write_bytes(b"12345")
    assert read_bytes(file, 5) == b"12345" and read_bytes(file, 3, cut=True) == b"123"
    with pytest.raises(TooLarge, match="too large"):
        read_bytes(file, 4)
    with pytest.raises(NotThere, match="No such file"):
        read_bytes(tmp_path / "y", 4)


@posix
def test_the_panel_is_never_ready_beside_an_error(tmp_path):
    panel = OwnRun()
    odd = odd_files(tmp_path)
    for kind in ODD:
        with two_seconds():
            panel.open_typed(str(odd[kind]))
        assert "▲" in panel._status.value and "● Ready" not in panel._status.value, kind
    for typed in ("~nobody-of-this-name/x", "\0", "x" * 5000, "a\nb", "/", "..", "." * 300):
        panel.open_typed(typed)
        assert "● Ready" not in panel._status.value, typed
    for what, (text, _) in LAYOUTS.items():
        file = tmp_path / f"{what}.toml"
        file.write_text(text, encoding="utf-8")
        with two_seconds():
            panel.open_typed(str(file))
        assert "● Ready" not in panel._status.value, what


def test_names_of_two_lines_and_150_characters_are_drawn(tmp_path):
    panel, file = OwnRun(), tmp_path / "yard.toml"
    file.write_text(instead(NAME, '"out of\\nthe ' + "w" * 150 + '"'), encoding="utf-8")
    panel.open_typed(str(file))
    assert "● Ready" in panel._status.value


def test_a_mistake_of_the_program_is_not_called_ready(monkeypatch):
    panel = OwnRun()

    def broken(self, so_far):
        raise RuntimeError("a mistake")

    with monkeypatch.context() as patched:
        patched.setattr(LayoutDocument, "layout", broken)
        with pytest.raises(RuntimeError):
            panel.set("tank", "set_temperature", "57 °C")
        assert "● Ready" not in panel._status.value and "mistake of the program" in panel._status.value
    panel.undo()
    assert "● Ready" in panel._status.value


def test_a_mistake_while_drawing_is_not_called_ready(monkeypatch):
    panel = OwnRun()

    def broken():
        raise RuntimeError("a mistake")

    with monkeypatch.context() as patched:
        patched.setattr(panel, "_draw", broken)
        with pytest.raises(RuntimeError):
            panel.set("tank", "set_temperature", "57 °C")
        with pytest.raises(RuntimeError):
            panel.update()
        assert "● Ready" not in panel._status.value
    panel.undo()
    assert "● Ready" in panel._status.value and panel.scene.layout.set_temperature.magnitude != 57


def test_found_knows_no_impossible_names():
    for typed in ("a\0b", "n" * 5000, "~nobody-of-this-name/x"):
        with two_seconds(), pytest.raises(InputError, match="is not known"):
            own_files.found(typed)


def test_what_was_given_is_cut_short_in_messages():
    assert shown("a\nb\tc") == "a b c" and len(shown("x" * 10_000)) == 60 and shown("x" * 10_000).endswith("…")
    assert shown(10**5000) == "a number of thousands of digits" and shown("x" * 60) == "x" * 60
    with two_seconds():
        assert len(str(unknown_name("word", "tank" * 500_000, ["tank", "tap"]))) < 200
