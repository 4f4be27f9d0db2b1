"""A learner's own files in a room: listed, given out, brought along; nobody else's, and nothing that is no layout."""

import sys
from pathlib import Path

import pytest

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"
sys.path.insert(0, str(WORKBOOKS))
files = pytest.importorskip("room.files", reason='install the extra "room" to run this test')

from lessons_lib.lessons.your_own_run import own_files  # noqa: E402
from lessons_lib.quantities.errors import InputError  # noqa: E402

LAYOUT = list(own_files.ready_made().values())[1].read_bytes()


@pytest.mark.parametrize(
    "name, kept_as",
    [
        ("barn.toml", "barn.toml"),
        ("../../barn.toml", "barn.toml"),
        ("C:\\yard\\barn.toml", "barn.toml"),
        ("/etc/barn.toml", "barn.toml"),
        ("Gästehaus.toml", "Gästehaus.toml"),
    ],
)
def test_a_layout_is_kept_in_the_learners_folder_under_its_plain_name(tmp_path, name, kept_as):
    folder = tmp_path / "ana" / "my-layouts"
    assert files.keep_layout(folder, name, LAYOUT) == kept_as
    assert (folder / kept_as).read_bytes() == LAYOUT
    assert [file for file in tmp_path.rglob("*.toml")] == [folder / kept_as]


@pytest.mark.parametrize(
    "name, content, why",
    [
        ("barn.exe", LAYOUT, "ends in .toml"),
        ("barn", LAYOUT, "ends in .toml"),
        (".toml", LAYOUT, "name of a file"),
        ("..toml", LAYOUT, "name of a file"),
        ("b" * 300 + ".toml", LAYOUT, "name of a file"),
        ("b\0arn.toml", LAYOUT, "name of a file"),
        ("<b>.toml", LAYOUT, "name of a file"),
        ("barn.toml", b"", "no legs"),
        ("barn.toml", b"<html>", "barn.toml"),
        ("barn.toml", b"\xff\xfe\x00", "barn.toml"),
        ("barn.toml", b"a = " + b"[" * 50_000, "barn.toml"),
        ("barn.toml", b"\n" * 200_001, "200 kB"),
        ("barn.toml", LAYOUT.replace(b"[[leg]]", b"[[lag]]"), "leg"),
    ],
)
def test_what_is_no_layout_is_refused_in_words_and_not_kept(tmp_path, name, content, why):
    folder = tmp_path / "my-layouts"
    with pytest.raises(InputError, match=why) as refused:
        files.keep_layout(folder, name, content)
    assert str(tmp_path) not in str(refused.value) and "/tmp" not in str(refused.value)
    assert not files.own_files(folder)


def test_nothing_is_written_over_and_there_is_an_end(tmp_path, monkeypatch):
    files.keep_layout(tmp_path, "barn.toml", LAYOUT)
    with pytest.raises(InputError, match="there already"):
        files.keep_layout(tmp_path, "barn.toml", LAYOUT + b"\n")
    assert (tmp_path / "barn.toml").read_bytes() == LAYOUT
    monkeypatch.setattr(files, "MOST_FILES", 1)
    with pytest.raises(InputError, match="1 files"):
        files.keep_layout(tmp_path, "second.toml", LAYOUT)


def test_only_files_of_ones_own_are_listed(tmp_path):
    secret = tmp_path / "answers.toml"
    secret.write_text("of somebody else")
    folder = tmp_path / "my-layouts"
    files.keep_layout(folder, "barn.toml", LAYOUT)
    for name in ("a-A4.pdf", "a-take-off.csv", ".hidden.toml", "notes.txt", "a-A4.html"):
        (folder / name).write_text("x")
    (folder / "link.toml").symlink_to(secret)
    (folder / "folder.toml").mkdir()
    assert [name for name, _, _ in files.own_files(folder)] == ["barn.toml", "a-A4.html", "a-A4.pdf", "a-take-off.csv"]
    assert files.own_files(tmp_path / "nowhere") == []
