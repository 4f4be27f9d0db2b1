"""The workbook's own Python environment, and the command that opens JupyterLab in it.

Standard library only, and nothing newer than Python 3.6 syntax: a Python that is too old must get
far enough to say so in plain words.
"""

import hashlib
import importlib.util
import os
import secrets
import shutil
import signal
import socket
import subprocess
import sys
from pathlib import Path
from typing import Callable, Optional

OLDEST_PYTHON = (3, 11)
WORKBOOKS = Path(__file__).resolve().parent
ROOT = WORKBOOKS.parent
ENVIRONMENT = ROOT / ".venv"
STAMP = ENVIRONMENT / "installed.txt"
LAB_SETTINGS = WORKBOOKS / ".jupyterlab"
LAB_STATE = ENVIRONMENT / "jupyterlab"
EXTRAS = ("", "room", "test")  # each holds what stands before it
TESTED = ROOT / ".tested"  # what the tests were run with; tests/renew_tested_set.py renews it
START_PAGE = "/lab/tree/start-here.ipynb?reset"  # a window without the pages that were open before
# Ctrl-C must not show a traceback while JupyterLab is still starting; once it runs, it closes tidily.
# The grammar of international web addresses, which nothing here checks, would take seconds to build at each start.
LAB_START = """
import sys
sys.modules["rfc3987_syntax"] = None
try:
    from jupyterlab.labapp import main
    main()
except KeyboardInterrupt:
    sys.exit(130)
"""


class SetupProblem(Exception):
    """Something the reader has to put right; the message says what."""


def run_in_environment(make_command: Callable, extra: str = "") -> int:
    """Prepare the environment, run one command in it from the checkout's root, return its exit code.

    `make_command` gets the environment's python and returns the arguments and the variables.
    """
    try:
        arguments, variables = make_command(ensure_environment(extra))
        return _run(arguments, variables)
    except SetupProblem as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


def ensure_environment(extra: str = "") -> Path:
    """Return the python of an environment that has the project (with the extra), setting it up if needed."""
    _check_this_python()
    python = ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    usable = _usable(python)
    if usable and _installed(extra):
        return python
    print("Setting up Hot Water Runs. This needs the internet and takes a couple of minutes...", flush=True)
    if not usable:
        _make_environment()
    _install(python, extra)
    STAMP.write_text(_fingerprint(extra), encoding="utf-8")
    print("The set-up is done.", flush=True)
    return python


def lab_command(
    python: Path,
    port: Optional[int] = None,
    browser: bool = True,
    extra: "tuple[str, ...]" = (),
    folder: Path = WORKBOOKS,
    state: Path = LAB_STATE,
) -> "tuple[list[str], dict[str, str], str]":
    """Return the arguments and variables that open JupyterLab in `folder`, and the start page's address.

    JupyterLab keeps its settings and working files in `state`, apart from the user's own. The
    settings that come with the workbook are copied there anew for each start.
    """
    config = state / "config"
    if config.exists():
        shutil.rmtree(str(config))
    shutil.copytree(str(LAB_SETTINGS), str(config))
    lean_kernel(state / "data")
    shutil.copytree(str(LAB_SETTINGS / "labextensions"), str(state / "data" / "labextensions"), dirs_exist_ok=True)
    token = secrets.token_hex(16)
    port = port or free_port()
    arguments = [
        str(python),
        "-c",
        LAB_START,
        "--port={}".format(port),
        "--ServerApp.root_dir={}".format(folder),
        "--LabApp.default_url={}".format(START_PAGE),
        "--FileCheckpoints.checkpoint_dir={}".format(state / "checkpoints"),
    ]
    if not browser:
        arguments.append("--no-browser")
    variables = {name: value for name, value in os.environ.items() if not name.startswith("JUPYTER")}
    variables.update(
        JUPYTER_TOKEN=token,
        JUPYTER_CONFIG_DIR=str(config),
        JUPYTER_DATA_DIR=str(state / "data"),
        JUPYTER_PREFER_ENV_PATH="0",  # the lessons' own start of Python goes before the one that came with ipykernel
        JUPYTER_RUNTIME_DIR=str(state / "runtime"),
        JUPYTERLAB_SETTINGS_DIR=str(state / "settings"),
        JUPYTERLAB_WORKSPACES_DIR=str(config / "workspaces"),  # none yet: each start is a fresh one
        IPYTHONDIR=str(config / "ipython"),
    )
    address = "http://localhost:{}{}&token={}".format(port, START_PAGE, token)
    return [*arguments, *extra], variables, address


def lean_kernel(data: Path) -> None:
    """Put the lessons' own start of Python into a Jupyter data folder: without a debugger, and calculating on one core.

    That spares each open page some 10 MB, which counts in a room.
    """
    shutil.copytree(str(LAB_SETTINGS / "kernels"), str(data / "kernels"), dirs_exist_ok=True)


def free_port() -> int:
    """A port nobody uses, so that no page left over from an earlier start gets in the way."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def _check_this_python() -> None:
    """Refuse, in plain words, a Python that cannot make the environment."""
    if sys.version_info < OLDEST_PYTHON:
        raise SetupProblem(
            "Hot Water Runs needs Python 3.11 or newer and this is Python {}.{}: "
            "please install a newer Python, then give the same command again.".format(*sys.version_info)
        )
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise SetupProblem(
            "This Python lacks a part that is needed: on Debian or Ubuntu please give the command "
            '"sudo apt install python3-venv", elsewhere install Python from python.org, '
            "then give the same command again."
        )


def _usable(python: Path) -> bool:
    """Whether the environment is there, still runs, is new enough and can install things."""
    if not python.exists():
        return False
    check = "import sys, pip; sys.exit(sys.version_info < {})".format(OLDEST_PYTHON)
    return subprocess.run([str(python), "-c", check], stderr=subprocess.DEVNULL).returncode == 0


def tested_set(extra: str) -> Path:
    """The file of the packages, with their versions and hashes, that the tests with this extra were run with."""
    return TESTED / "{}.txt".format(extra or "lessons")


def _fingerprint(extra: str) -> str:
    """What an up-to-date stamp says: a moved checkout, a changed pyproject.toml or tested set changes it."""
    project = (ROOT / "pyproject.toml").read_bytes() + tested_set(extra).read_bytes()
    return "{} [{}]".format(hashlib.sha256(project + str(ROOT).encode()).hexdigest(), extra)


def _installed(extra: str) -> bool:
    """Whether the stamp says the project is installed with at least this extra."""
    if not STAMP.exists():
        return False
    return STAMP.read_text(encoding="utf-8") in map(_fingerprint, EXTRAS[EXTRAS.index(extra) :])


def _make_environment() -> None:
    """Make the environment, in place of an unusable one if there is any."""
    _quietly(
        [sys.executable, "-m", "venv", "--clear", str(ENVIRONMENT)],
        "Python could not make the folder {}: please check that this folder may be written to "
        "and that the disk is not full, then give the same command again.".format(ENVIRONMENT),
    )


def _install(python: Path, extra: str) -> None:
    """Install the tested set, each file held against its hash, then the project, editable, with the extra.

    A Python that the tested set does not fit gets the newest packages that pyproject.toml allows.
    """
    pip = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    tested = [*pip, "--no-deps", "--require-hashes", "--requirement", str(tested_set(extra))]
    if _run_quietly(tested).returncode != 0:
        print("The tested packages can't all be had for this computer. Set-up takes others that fit...", flush=True)
    _quietly(
        [*pip, "--editable", ".[{}]".format(extra) if extra else "."],
        "The set-up could not be finished: please check that this computer is connected "
        "to the internet, then give the same command again.",
    )


def _quietly(command: "list[str]", advice: str) -> None:
    """Run a step of the set-up; show what it printed only if it fails, followed by the advice."""
    step = _run_quietly(command)
    if step.returncode != 0:
        raise SetupProblem("{}\n\n{}".format(step.stdout.strip(), advice))


def _run_quietly(command: "list[str]") -> "subprocess.CompletedProcess[str]":
    """Run a step of the set-up from the checkout's root, and keep what it prints."""
    return subprocess.run(
        command, cwd=str(ROOT), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", errors="replace"
    )


def _run(arguments: "list[str]", variables: "dict[str, str]") -> int:
    """Run the command until it ends and return its exit code."""
    with subprocess.Popen(arguments, env=variables, cwd=str(ROOT)) as process:
        # Ctrl-C reaches the command as well, which then closes in its own time; a request to end is passed on.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        signal.signal(signal.SIGTERM, lambda *_: process.terminate())
        return process.wait()
