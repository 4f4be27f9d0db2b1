"""Lesson 11 in a room: its file box knows the learner's own layouts and the ready-made ones, and nothing else."""

import pytest

from lessons_lib import Q_
from lessons_lib.bench.readings import Readings
from lessons_lib.bench.store import Saved, Store
from lessons_lib.lessons import at_the_bench, your_own_run
from lessons_lib.lessons.your_own_run import own_files
from lessons_lib.storage import preferences


@pytest.fixture
def panel(monkeypatch, tmp_path):
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "members" / "ana-1"))
    monkeypatch.setenv(preferences.ROOM_VARIABLE, "1")
    return your_own_run.panel()


def put(folder, name: str, text: str | None = None):
    """A layout in a folder, that of the wash-house unless another text is given."""
    folder.mkdir(parents=True, exist_ok=True)
    ready = list(own_files.ready_made().values())[1].read_text(encoding="utf-8")
    (folder / name).write_text(ready if text is None else text, encoding="utf-8")
    return folder / name


def test_no_path_leads_out_of_the_learners_folder(panel, tmp_path):
    neighbour = put(tmp_path / "members" / "ben-2" / "my-layouts", "secret.toml", "what Ben wrote = 1")
    own = preferences.layouts_folder()
    put(own, "mine.toml")
    (own / "link.toml").symlink_to(neighbour)
    ways = (
        str(neighbour),
        "../../ben-2/my-layouts/secret.toml",
        "../../ben-2/my-layouts/secret",
        "mine.toml/../../../ben-2/my-layouts/secret.toml",
        "/etc/passwd",
        "~/.profile",
        "..",
        "link.toml",
        "link",
        str(own / "mine.toml"),
        "bunk_cabin\0.toml",
        "x" * 5000,
    )
    before = panel.sentence
    for way in ways:
        panel.open_typed(way)
        said = panel._status.value
        assert "▲" in said and panel.sentence == before, way
        assert "Ben" not in said and "root:" not in said and str(own) not in said, way
    panel.open_typed("mine")
    assert "Wash-house" in panel.sentence and "▲" not in panel._status.value


def test_results_of_the_bench_are_their_owners_alone(panel, monkeypatch, tmp_path):
    """One file for the whole room once listed, and restored, what a neighbour had measured."""
    readings = Readings(Q_([60.0, 59.0, 58.0, 57.0], "degC"), time=Q_([0.0, 1.0, 2.0, 3.0], "min"))
    Store().save("what Ana measured", Saved({}, readings, None))
    assert list(Store().all()) == ["what Ana measured"]
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "members" / "ben-2"))
    assert not Store().all() and "Ana" not in " ".join(at_the_bench.panel()._saved.options)


@pytest.mark.parametrize("in_room", [True, False])
def test_nobody_writes_over_the_ready_made_layouts(monkeypatch, tmp_path, in_room):
    ready = put(tmp_path / "ready", "bunk_cabin.toml")
    monkeypatch.setattr(own_files, "READY", ready.parent)
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "own"))
    if in_room:
        monkeypatch.setenv(preferences.ROOM_VARIABLE, "1")
    panel, before = your_own_run.panel(), ready.read_bytes()
    panel.open_typed(str(tmp_path / "own" / ".." / "ready" / "bunk_cabin.toml"))  # the way it was once written over
    panel.change("leg", 0, "length", "14 m")
    panel.writing.name.value = "bunk_cabin"
    for _ in range(2):
        panel.writing.writers[0].press()
    assert ready.read_bytes() == before
    assert 'length = "14 m"' in (preferences.layouts_folder() / "bunk_cabin.toml").read_text(encoding="utf-8")


def test_a_written_file_comes_as_a_link_and_no_folder_of_the_server_is_told(panel, tmp_path):
    assert 'href="/files"' in panel.writing.where.value
    panel.writing.writers[0].press()
    assert '<a href="/files/my-bunk-cabin.toml" download>' in panel.writing.where.value
    assert "● Written: my-bunk-cabin.toml." in panel._status.value
    (preferences.layouts_folder() / "my-bunk-cabin.toml").write_text("somebody else's", encoding="utf-8")
    panel.writing.writers[0].press()
    assert "Another page or program changed my-bunk-cabin.toml" in panel._status.value
    preferences.layouts_folder().rename(tmp_path / "gone")
    preferences.layouts_folder().write_text("a file where the folder should be")
    panel.writing.writers[0].press()
    assert "▲ Not written" in panel._status.value
    assert str(tmp_path) not in panel.writing.where.value + panel._status.value
