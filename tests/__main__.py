"""`python3 tests`: set up if needed, then run all tests on all cores. Arguments, where there are any, go to pytest instead."""

import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "workbooks"))

from environment import run_in_environment  # noqa: E402

ALL_CORES = [
    "-n",
    "auto",
    "--dist",
    "loadfile",
    "--no-loadscope-reorder",
]  # a notebook's cells belong to one kernel, so files stay whole; the browser's, few and long, come early


def pytest_command(python: Path) -> "tuple[list[str], dict[str, str]]":
    """Return the command that runs the tests, and its variables.

    A hundred Pythons read the lessons in a run: each leaves what it has compiled to the next, whatever the shell says.
    `left_out` holds what none of them needs and takes long to read.
    """
    variables = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    variables["PYTHONPATH"] = str(Path(__file__).resolve().parent / "left_out")
    return [str(python), "-m", "pytest", *(sys.argv[1:] or ALL_CORES)], variables


if __name__ == "__main__":
    sys.exit(run_in_environment(pytest_command, extra="test"))
