"""The lessons served to a room: started on this machine alone, a page runs by itself, shows no code and nothing of the instructor's."""

import importlib.util
import json
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"
sys.path.insert(0, str(WORKBOOKS))
import environment  # noqa: E402
from room import command as room  # noqa: E402

HERE = "127.0.0.1"


def fetched(url: str) -> str:
    """The words of a page that a kernel makes."""
    with urllib.request.urlopen(url, timeout=120) as answer:
        return answer.read().decode()


@pytest.fixture
def served(tmp_path):
    """The address of a running room."""
    if importlib.util.find_spec("voila") is None:
        pytest.skip('Voilà is not installed: install the extra "room" to run this test')
    arguments, variables, address = room.room_command(Path(sys.executable), HERE, None, tmp_path / "room")
    variables.update(PYTHONPATH=str(WORKBOOKS.parent), HOT_WATER_RUNS_FOLDER=str(tmp_path / "choices"))
    server = subprocess.Popen(arguments, env=variables, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    for _ in range(300):
        try:
            urllib.request.urlopen(address.split("/voila")[0] + "/login", timeout=1).close()
            break
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.2)
    yield address
    server.terminate()
    server.wait(timeout=30)


def test_a_lesson_is_served_without_code(served):
    page = fetched(served.replace("start-here", "02-how-hot-at-the-tap"))
    assert (
        "How hot at the tap" in page and "At the bench" in page and "application/vnd.jupyter.widget-view+json" in page
    )
    assert "from lessons_lib" not in page and "panels.on_page" not in page and "Traceback" not in page
    assert "For the instructor" not in page and "Run All Cells" not in page


def test_the_code_is_asked_for_and_instructors_pages_are_not_there(served):
    without = fetched(served.replace("start-here", "02-how-hot-at-the-tap").partition("?")[0])
    assert "How hot at the tap" not in without and "password" in without.lower()
    with pytest.raises(urllib.error.HTTPError, match="404"):
        fetched(served.replace("start-here", "instructor/answer-key"))


def test_pages_for_the_room_are_for_learners(tmp_path):
    room.room_pages(tmp_path)
    names = {file.name for file in WORKBOOKS.glob("*.ipynb")}
    assert {file.name for file in tmp_path.iterdir()} == names and "start-here.ipynb" in names
    for name in names:
        cells = json.loads((tmp_path / name).read_text(encoding="utf-8"))["cells"]
        before = json.loads((WORKBOOKS / name).read_text(encoding="utf-8"))["cells"]
        words = "\n".join("".join(cell["source"]) for cell in cells)
        assert "instructor/" not in words and "## For the instructor" not in words and "Run All Cells" not in words
        assert "**Stop.**" in words or name == "start-here.ipynb" and "## Stop" in words
        assert sum(cell["cell_type"] == "code" for cell in cells) == sum(cell["cell_type"] == "code" for cell in before)
        for target in re.findall(r"\]\(([^)#]+\.ipynb)\)", words):
            assert (tmp_path / target).exists(), target


@pytest.mark.parametrize(
    "address, why",
    [
        ("0.0.0.0", "not all of them"),
        ("203.0.113.7", "can't be used"),
        ("nowhere at all", "can't be used"),
        ("", "not all"),
    ],
)
def test_an_address_that_is_not_this_machines_is_refused(address, why, tmp_path):
    with pytest.raises(environment.SetupProblem, match=why):
        room.room_command(Path(sys.executable), address, None, tmp_path / "room")
    assert not (tmp_path / "room").exists()


def test_it_listens_where_it_was_told_and_nowhere_else(tmp_path):
    arguments, _, address = room.room_command(Path(sys.executable), HERE, None, tmp_path / "room")
    assert f"--Voila.ip={HERE}" in arguments and address.startswith(f"http://{HERE}:")
    codes = {
        room.room_command(Path(sys.executable), HERE, None, tmp_path / "room")[2].rpartition("=")[2] for _ in range(3)
    }
    assert len(codes) == 3, "a new code for each start"


def test_a_set_up_for_tests_or_a_room_serves_for_what_needs_less(tmp_path, monkeypatch):
    monkeypatch.setattr(environment, "STAMP", tmp_path / "installed.txt")
    for there, enough in (
        ("", {""}),
        ("room", {"", "room"}),
        ("test", {"", "room", "test"}),
    ):
        environment.STAMP.write_text(environment._fingerprint(there), encoding="utf-8")
        assert {extra for extra in environment.EXTRAS if environment._installed(extra)} == enough
