"""A class served on this machine from a copy of the project. For tests and benchmarks; a reason is given where it cannot be."""

import importlib.util
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import psutil

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "workbooks"))
import class_hub  # noqa: E402
from environment import SetupProblem  # noqa: E402
from limits import end_all_of, limited  # noqa: E402

FIRST, LAST = 61101, 61150  # apart from those of a class that this machine may be serving
CODE = "r00mcode"


class NotHere(Exception):
    """Why no class can be served on this machine."""


class ClassServer:
    """A folder with a copy of the project and the class's state, and the hub when it runs.

    address : of the hub; state : folder of the class; project : the copy; hub : its process
    """

    def __init__(self, at: str = "127.0.0.1", megabytes: int = class_hub.MEGABYTES):
        for module in ("jupyterhub", "voila"):
            if importlib.util.find_spec(module) is None:
                raise NotHere(f'{module} is not installed: install the extra "class"')
        try:
            class_hub.check_rights()
            self._proxy = class_hub.proxy_command(Path(sys.prefix) / "proxy")
        except SetupProblem as problem:
            raise NotHere(str(problem)) from None
        self.folder = Path(tempfile.mkdtemp(prefix="class-"))
        self.folder.chmod(0o711)
        self.state, self.project = self.folder / "state", self.folder / "project"
        for part in ("lessons_lib", "data", "workbooks"):
            shutil.copytree(ROOT / part, self.project / part, ignore=shutil.ignore_patterns("__pycache__"))
        self._python, self._at, self._megabytes = self._python_for_learners(), at, megabytes

    def _python_for_learners(self) -> Path:
        """This Python, or the system's with this one's packages where this one lies in a home that nobody else may enter."""
        system = Path(f"/usr/bin/python{sys.version_info.major}.{sys.version_info.minor}")
        for python in (Path(sys.executable), system):
            if python.exists() and _runs(python, "pass"):
                break
        else:
            self._leave("no Python on this machine is readable by other accounts")
        if python == system:
            own = self.folder / "python"
            subprocess.run([str(system), "-m", "venv", "--without-pip", str(own)], check=True)
            packages = Path(importlib.util.find_spec("voila").origin).parent.parent
            next(own.glob("lib/*/site-packages")).joinpath("these.pth").write_text(f"{packages}\n", encoding="utf-8")
            (own / "share").symlink_to(Path(sys.prefix) / "share")
            python = own / "bin" / "python"
        if not _runs(python, "import jupyterhub, voila"):
            self._leave("the packages of this Python are not readable by other accounts")
        return python

    def _leave(self, why: str) -> None:
        shutil.rmtree(self.folder)
        raise NotHere(why)

    def start(self) -> None:
        """Start the hub, and wait until it lets people in."""
        arguments, variables, self.address, _ = class_hub.class_command(
            self._python,
            self._at,
            None,
            self.state,
            self._megabytes,
            code=CODE,
            proxy=self._proxy,
            project=self.project,
            first=FIRST,
            last=LAST,
        )
        self.hub = subprocess.Popen(arguments, env=variables, cwd="/")
        for _ in range(600):
            try:
                urllib.request.urlopen(f"{self.address}hub/login", timeout=5).close()
                return
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                if self.hub.poll() is not None:
                    raise AssertionError("the hub ended by itself") from None
                time.sleep(0.2)
        raise AssertionError("the hub did not start")

    def close(self) -> None:
        """End the hub and whatever learners left, and remove all files."""
        if self.hub.poll() is None:
            self.hub.terminate()
            try:
                self.hub.wait(timeout=30)
            except subprocess.TimeoutExpired:
                self.hub.kill()
                self.hub.wait()
        end_all_of(range(FIRST, LAST + 1))
        shutil.rmtree(self.folder, ignore_errors=True)


def _runs(python: Path, code: str) -> bool:
    """Whether a learner's process could run this."""
    command = [*limited(FIRST, class_hub.MEGABYTES), str(python), "-c", code]
    return (
        subprocess.run(
            command, cwd="/", env={"HOME": "/", "PATH": "/usr/bin:/bin"}, stderr=subprocess.DEVNULL
        ).returncode
        == 0
    )


@contextmanager
def served(**options):
    """A running class. Raises NotHere."""
    server = ClassServer(**options)
    server.start()
    try:
        yield server
    finally:
        server.close()


def processes(hub: int) -> dict[int, int]:
    """Every process that the hub started, and itself: process → user number."""
    family = [psutil.Process(hub), *psutil.Process(hub).children(recursive=True)]
    found = {}
    for one in family:
        try:
            found[one.pid] = one.uids().real
        except psutil.NoSuchProcess:
            continue  # ended meanwhile
    return found
