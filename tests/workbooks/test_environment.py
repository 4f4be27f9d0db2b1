"""Set-up takes the tested set first: the versions, held against their hashes, that the tests were run with."""

import importlib.metadata
import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import environment
import pytest
from packaging.requirements import Requirement

PROJECT = tomllib.loads((environment.ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
ENTRY = re.compile(r"^(\S+==\S+)(?: ; (.*?))? \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", re.MULTILINE)


def entries(extra: str) -> "list[Requirement]":
    """Gives the packages of a tested set that this machine takes."""
    text = environment.tested_set(extra).read_text(encoding="utf-8")
    found = [Requirement(f"{pin};{marker}" if marker else pin) for pin, marker, _ in ENTRY.findall(text)]
    assert len(found) == len(re.findall(r"^\S", text, re.MULTILINE)), "a package without a version or without a hash"
    return [entry for entry in found if entry.marker is None or entry.marker.evaluate()]


def wanted(extra: str) -> "list[Requirement]":
    """Gives what pyproject.toml asks for with an extra."""
    there = environment.EXTRAS[: environment.EXTRAS.index(extra) + 1]
    asked = [*PROJECT["dependencies"], *(line for name in there[1:] for line in PROJECT["optional-dependencies"][name])]
    return [entry for entry in map(Requirement, asked) if entry.name != PROJECT["name"]]


def plain(name: str) -> str:
    return name.lower().replace("_", "-").replace(".", "-")


@pytest.mark.parametrize("extra", environment.EXTRAS, ids=lambda extra: extra or "lessons")
def test_the_tested_set_holds_what_the_project_asks_for(extra):
    pinned = {plain(entry.name): next(iter(entry.specifier)).version for entry in entries(extra)}
    for asked in wanted(extra):
        assert asked.specifier.contains(pinned[plain(asked.name)]), asked


def test_a_smaller_set_has_the_same_versions_as_a_larger_one():
    smaller, middle, larger = (
        {f"{entry.name}{entry.specifier}" for entry in entries(extra)} for extra in environment.EXTRAS
    )
    assert smaller < middle < larger


def test_this_very_environment_was_set_up_from_the_tested_set():
    for entry in entries("test"):
        assert entry.specifier.contains(importlib.metadata.version(entry.name)), (
            f"{entry} was tested, {importlib.metadata.version(entry.name)} is here: set up anew, or run"
            " tests/renew_tested_set.py and every test"
        )


@pytest.mark.parametrize("fits", [True, False], ids=["fits", "does not fit"])
def test_set_up_takes_the_tested_set_first_and_goes_on_where_it_does_not_fit(monkeypatch, capsys, fits):
    given = []

    def pip(command):
        given.append(command)
        failed = len(given) == 1 and not fits
        return subprocess.CompletedProcess(command, int(failed), "no file fits\n" if failed else "")

    monkeypatch.setattr(environment, "_run_quietly", pip)
    environment._install(Path("python"), "room")
    first, second = given
    assert "--require-hashes" in first and first[-1] == str(environment.tested_set("room"))
    assert second[-2:] == ["--editable", ".[room]"]
    assert ("tested packages can't all be had" in capsys.readouterr().out) == (not fits)


def test_pip_reads_the_tested_set_and_misses_nothing_here(monkeypatch):
    """The very first step of set-up, run without a network: each line has a version and a hash, and all is there already."""
    given = []
    monkeypatch.setattr(
        environment, "_run_quietly", lambda command: given.append(command) or subprocess.CompletedProcess(command, 0)
    )
    environment._install(Path(sys.executable), "test")  # the other sets are parts of it
    monkeypatch.undo()
    done = environment._run_quietly([*given[0], "--no-index", "--dry-run"])
    assert done.returncode == 0, done.stdout


def test_a_set_up_that_fails_says_what_to_check(monkeypatch):
    monkeypatch.setattr(
        environment, "_run_quietly", lambda command: subprocess.CompletedProcess(command, 1, "no network\n")
    )
    with pytest.raises(environment.SetupProblem, match="no network\n\n.*connected to the internet"):
        environment._install(Path("python"), "")


def test_pages_run_in_the_lessons_own_start_of_python(tmp_path):
    """Without a debugger and on one core, although ipykernel brought a start of its own into the same environment."""
    _, variables, _ = environment.lab_command(Path(sys.executable), browser=False, state=tmp_path / "lab")
    asked = (
        "from jupyter_client.kernelspec import KernelSpecManager as K; print(K().get_kernel_spec('python3').to_json())"
    )
    told = subprocess.run([sys.executable, "-c", asked], env=variables, capture_output=True, text=True, check=True)
    spec = json.loads(told.stdout)
    assert spec["env"] == {"OPENBLAS_NUM_THREADS": "1"} and "debugpy" in " ".join(spec["argv"])
