"""The tool that changes code to see whether a test notices: on a toy whose fate is known for each change."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("cosmic_ray", reason="the extra `mutation` is not installed")

from cosmic_ray.mutating import mutate_code  # noqa: E402
from mutations import CHANGES, mutations, statement  # noqa: E402

TOOL = Path(__file__).with_name("mutate.py")
TOY = {
    "pyproject.toml": '[tool.pytest.ini_options]\naddopts = "--import-mode=importlib -q"\n',
    "lessons_lib/__init__.py": "from .toys.sums import spare, twice\n",
    "lessons_lib/toys/__init__.py": "",
    "lessons_lib/toys/sums.py": '''"""Sums."""

FACTOR = 2.0
MARGIN = 7.0


def twice(x):
    """Two times."""
    return FACTOR * x


def spare(x):
    """Some more than x, and 3 is no number to change."""
    return x + MARGIN - min(x, 1.0)


def alone(x):
    """No test runs this one."""
    return -x
''',
    "tests/toys/test_sums.py": """from lessons_lib import spare, twice


def test_twice():
    assert twice(3.0) == 6.0


def test_spare():
    assert spare(2.0) > 2.0


def test_red():
    assert not twice
""",
}
NOTICED = [
    "3  a number by 3 %",
    "9  a factor dropped",
    "9  a factor dropped",
    "9  * to /",
    "14  + to -",
    "14  a term dropped",
]
MISSED = ["4  a number by 3 %", "14  - to +", "14  a number by 3 %", *["14  a term dropped"] * 2]
NOT_RUN = ["19  a sign lost"]


@pytest.fixture
def toy(tmp_path):
    for name, text in TOY.items():
        file = tmp_path / "toy" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return tmp_path / "toy"


@pytest.mark.parametrize("operator", CHANGES.values(), ids=list(CHANGES))
def test_each_kind_of_change_is_made_as_its_examples_say(operator):
    assert operator.examples()
    for one in operator.examples():
        assert mutate_code(one.pre_mutation_code, operator(), one.occurrence) == one.post_mutation_code


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
def test_a_toy_fares_as_known_and_nothing_is_left_behind(toy, tmp_path):
    """What is noticed, what is missed, what no test runs, and the test that fails without a change."""
    own = tmp_path / "own"
    own.mkdir()
    command = [sys.executable, "-B", TOOL, "lessons_lib/toys", "--root", toy, "--learn", "20"]
    own_run = {
        **os.environ,
        "TMPDIR": str(own),
        "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",
    }  # plug-ins take most of its time
    done = subprocess.run(command, capture_output=True, text=True, env=own_run)
    assert done.returncode == 0, done.stderr
    said = done.stdout.splitlines()
    assert "left out, for they fail without a change: ['tests/toys/test_sums.py::test_red']" in said[1]
    for fate, kinds in ("noticed", NOTICED), ("MISSED", MISSED), ("NO TEST RUNS IT", NOT_RUN):
        found = [line.partition("sums.py:")[2].partition(":")[0] for line in said[2:] if line.startswith(fate + " ")]
        assert sorted(found) == sorted(kinds), done.stdout
    assert said[-1] == f"lessons_lib/toys: {len(NOTICED)} of {len(NOTICED + MISSED + NOT_RUN)} changes noticed"
    files = {str(path.relative_to(toy)): path.read_text(encoding="utf-8") for path in toy.rglob("*") if path.is_file()}
    assert files == TOY and not list(own.iterdir())


def test_one_line_and_the_statement_that_it_belongs_to(toy):
    at_line = mutations(toy, "lessons_lib/toys/sums.py:9")
    assert [one.kind for one in at_line] == ["a factor dropped", "a factor dropped", "* to /"]
    text = TOY["lessons_lib/toys/sums.py"]
    assert statement(text, 9) == range(9, 10) and statement(text, 3) is None
