"""A class on one machine: every learner signs in and has a server, a user number and a folder of their own; served by JupyterHub as root.

Standard library only, like environment.py. What the hub itself reads stands in instructor/hub.
"""

import json
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

from environment import ENVIRONMENT, ROOT, WORKBOOKS, SetupProblem, free_port
from room.command import LOOK, lay_out, port_at

HUB = WORKBOOKS / "instructor" / "hub"
sys.path.insert(0, str(HUB))
from limits import limited  # noqa: E402
from register import new_code  # noqa: E402

STATE = Path("/var/lib/hot-water-runs")
FIRST, LAST = 60601, 60999  # user numbers that systems leave free; the one before them is the proxy's
PROXY = "configurable-http-proxy@5.3.0"
MEGABYTES, IDLE = 600, 45  # of memory for one page; minutes without a touch
CLOSED = ("workbooks", "tests", ".git")  # parts of the project that hold the instructor's pages
SIGN_OUT = """{%- block body_header -%}
{{ super() }}<p><a href="/hub/logout">Sign out</a> when you leave this computer.</p>
{%- endblock body_header -%}
"""
RISKS = """Before you give this address away:
  * Whoever has the code can sign in and use this computer's time and disk. Give it to the class only, on a network that you trust:
    nothing on the way is encrypted, neither the code nor the learners' words.
  * Each learner has a user number and a folder that no other learner can read. Marking runs in the learner's own Python, so the questions
    with what works out their answers can be read there; your printed key, your pages and the class's files can't.
  * The hub runs as root. Other accounts of this computer are kept out of: {closed}.
  * One page takes at most {megabytes} MB of memory, and ends after {idle} minutes without a touch."""


def class_command(
    python,
    address,
    port=None,
    state=STATE,
    megabytes=MEGABYTES,
    idle=IDLE,
    code=None,
    proxy=None,
    project=ROOT,
    first=FIRST,
    last=LAST,
):
    """Return the arguments and variables that serve a class, the address that learners type, and the code.

    state : folder of all that is kept: "learners" (their folders), "hub" (who they are, the code; root's alone), "served" (pages, made anew)
    megabytes : of memory for each process of a learner; idle : minutes; code : the room's, None: the one of the last time or a new one
    proxy : command of the hub's proxy; first, last : user numbers for learners
    Raises SetupProblem: not root, not Linux, an address or a setting that can't be used, a project that learners can read too little or too much of.
    """
    check_rights()
    _check_settings(megabytes, idle, code)
    port = port_at(address, port, "class")
    _check_numbers(first, last)
    _close(project)
    _check_readable(python, project, first, megabytes)
    for folder, mode in ((state, 0o711), (state / "hub", 0o700), (state / "learners", 0o711)):
        folder.mkdir(parents=True, exist_ok=True)
        folder.chmod(mode)
    lay_out_class(state / "served")
    settings = state / "hub" / "settings.json"
    if not code:
        code = json.loads(settings.read_text(encoding="utf-8"))["code"] if settings.exists() else new_code()
    settings.write_text(
        json.dumps(
            dict(
                address=address,
                port=port,
                hub_port=free_port(),
                proxy_port=free_port(),
                code=code.lower(),
                megabytes=megabytes,
                idle=idle,
                first=first,
                last=last,
                project=str(project),
                proxy=[
                    "setpriv",
                    "--reuid={}".format(first - 1),
                    "--regid={}".format(first - 1),
                    "--clear-groups",
                    "--no-new-privs",
                    "--pdeathsig=KILL",
                    *(proxy or proxy_command()),
                ],
            )
        ),
        encoding="utf-8",
    )
    # The hub ends with this window; what it started ends with the hub.
    arguments = [
        "setpriv",
        "--pdeathsig=TERM",
        str(python),
        "-m",
        "jupyterhub",
        "--config={}".format(HUB / "hub_config.py"),
    ]
    variables = {
        name: os.environ[name] for name in ("PATH", "HOME", "LANG", "LC_ALL", "PYTHONPATH") if name in os.environ
    }
    variables.update(HOT_WATER_RUNS_CLASS=str(state), PYTHONDONTWRITEBYTECODE="1")
    return arguments, variables, "http://{}:{}/".format(address, port), code.lower()


def check_rights():
    """Refuse, in plain words, a system or an account that can't give each learner a user number."""
    if not sys.platform.startswith("linux") or not (shutil.which("setpriv") and shutil.which("prlimit")):
        raise SetupProblem(
            "A class needs a Linux machine with the package util-linux: each learner gets a user number there. Use --room, or a Linux machine."
        )
    if os.geteuid() != 0:
        raise SetupProblem(
            "A class needs the rights of root, for each learner gets a user number of this computer: please give the same command "
            'with "sudo" before it. Without these rights there is --room, where all share one folder.'
        )


def proxy_command(folder=ENVIRONMENT / "proxy"):
    """The command of the hub's proxy, fetched into the environment if it is not there yet. Raises SetupProblem: no Node.js, or no internet."""
    script = folder / "node_modules" / "configurable-http-proxy" / "bin" / "configurable-http-proxy"
    node, npm = shutil.which("node"), shutil.which("npm")
    if not node or not (script.exists() or npm):
        raise SetupProblem(
            'A class needs Node.js 18 or newer with npm: on Debian or Ubuntu please give the command "sudo apt install nodejs npm", '
            "elsewhere install it from nodejs.org, then give the same command again."
        )
    if not script.exists():
        fetch = [npm, "install", "--prefix", str(folder), "--no-audit", "--no-fund", PROXY]
        step = subprocess.run(
            fetch, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", errors="replace"
        )
        if step.returncode != 0:
            raise SetupProblem(
                "{}\n\nThe hub's proxy could not be fetched: please check the connection to the internet.".format(
                    step.stdout.strip()
                )
            )
    return [node, str(script)]


def risks(megabytes, idle):
    """What an instructor reads before the address."""
    return RISKS.format(closed=", ".join(CLOSED), megabytes=megabytes, idle=idle)


def _check_settings(megabytes, idle, code):
    if not 300 <= megabytes <= 64000:
        raise SetupProblem("--memory {}: a page needs 300 MB and more; {} is usual.".format(megabytes, MEGABYTES))
    if not 5 <= idle <= 1440:
        raise SetupProblem("--idle {}: from 5 to 1440 minutes are possible; {} are usual.".format(idle, IDLE))
    if code is not None and not (code.isascii() and code.isalnum() and 6 <= len(code) <= 40):
        raise SetupProblem(
            "--code: please give 6 to 40 letters and digits without accents, or leave it out and get one."
        )


def _check_numbers(first, last):
    """User numbers for learners must be nobody's, for whatever runs under them is ended."""
    import pwd  # not on Windows

    taken = [one.pw_name for one in pwd.getpwall() if first - 1 <= one.pw_uid <= last]
    if taken:
        raise SetupProblem(
            "The user numbers {} to {} are kept for learners, and an account of this computer has one: {}.".format(
                first - 1, last, taken[0]
            )
        )


def _close(project):
    """Keep other accounts out of the instructor's pages. Raises SetupProblem: something of the project can be written to by everybody."""
    for name in CLOSED:
        part = project / name
        if part.exists():
            part.chmod(stat.S_IMODE(part.stat().st_mode) & ~0o007)
    for folder, folders, files in os.walk(str(project)):
        for name in [*folders, *files]:
            mode = os.lstat(os.path.join(folder, name)).st_mode
            if mode & stat.S_IWOTH and not stat.S_ISLNK(mode):
                raise SetupProblem(
                    "Every account of this computer may change {}: please take that right away (chmod -R o-w {}), then give the same "
                    "command again.".format(os.path.join(folder, name), project)
                )


def _check_readable(python, project, number, megabytes):
    """Learners' Python must run with the library, under a learner's number and limits. Raises SetupProblem where it doesn't."""
    check = [*limited(number, megabytes), str(python), "-c", "import lessons_lib, voila"]
    variables = {"PYTHONPATH": str(project), "PATH": os.environ["PATH"], "HOME": "/", "OPENBLAS_NUM_THREADS": "1"}
    step = subprocess.run(
        check,
        cwd="/",
        env=variables,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    if step.returncode != 0:
        raise SetupProblem(
            "{}\n\nLearners can't run the project in {}: please put it, and the Python that sets it up, where every account may read (for example "
            "the project in /opt, set up anew with /usr/bin/python3), then give the same command again.".format(
                step.stdout.strip()[-400:], project
            )
        )


def lay_out_class(served):
    """Pages for learners, readable by all and writable by nobody but root."""
    if served.exists():
        shutil.rmtree(str(served))
    before = os.umask(0o022)
    try:
        lay_out(served, LOOK + SIGN_OUT)
        shutil.copy(str(HUB / "page_server.py"), str(served))
    finally:
        os.umask(before)


if __name__ == "__main__":  # for the image of a cluster
    lay_out_class(Path(sys.argv[1]))
