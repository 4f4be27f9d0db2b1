"""A class on one machine: who is let in, what is kept, and, with a real hub, that no learner gets at what is another's or the instructor's."""

import asyncio
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from types import SimpleNamespace

import psutil
import pytest

HERE = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(HERE), str(HERE.parent / "workbooks")]
import class_answers  # noqa: E402
import class_hub  # noqa: E402
import class_server  # noqa: E402
from class_client import Kernel, Visitor  # noqa: E402
from class_server import CODE, FIRST, LAST  # noqa: E402
from environment import SetupProblem  # noqa: E402
from register import LONGEST, MOST, Refused, Register, new_code  # noqa: E402

from lessons_lib.exercises.class_reading import read_class  # noqa: E402
from lessons_lib.exercises.learner import learner  # noqa: E402
from lessons_lib.storage import preferences  # noqa: E402

WORD = "lukewarm water"
NO_NAMES = [
    "",
    "   ",
    "..",
    ".",
    "../x",
    "a/b",
    "a\\b",
    "/etc",
    "~root",
    "a..b",
    "-a",
    "1st",
    "a" * (LONGEST + 1),
    "x" * 300,
    "a\x00b",
    "a\nb",
    "a\tb",
    "a\u202eb",
    "<b>Ana</b>",
    "Ana&",
    "Ana;",
    "{{7}}",
    "%61",
    "\ud83d\ude00",
    "\u0410na",
    "An\u03b1",
    "\u0301a",
    "a\u200bb",
]
linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a class is served on Linux only")
root = pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="user numbers are root's to give: run the tests as root"
)


@pytest.fixture
def register(tmp_path):
    return Register(tmp_path / "learners.json", FIRST, LAST)


@pytest.mark.parametrize("name", NO_NAMES, ids=ascii)
def test_what_is_no_name_is_refused_and_leaves_nothing(register, name):
    with pytest.raises(Refused, match="Type a name"):
        register.admit(name, WORD)
    assert not register.file.exists()


@pytest.mark.parametrize(
    "name", ["Ana", "Ana Müller", "O'Brien-Lee", "J. Smith 2", "Νίκη", "Мария", "山田 はな", "ＡＮＡ", "A\u0301da"]
)
def test_names_of_people_are_let_in(register, name):
    who = register.admit(name, WORD)
    assert who == who.lower() and who.isascii() and "/" not in who and ".." not in who
    assert register.learners()[who]["number"] == FIRST and register.admit(name, WORD) == who


def test_a_name_belongs_to_its_word(register):
    register.admit("Ana", WORD)
    before = register.file.read_bytes()
    for name, word, why in (
        ("Ana", "another word", "taken"),
        (" aNA ", "another word", "taken"),
        ("Ana", "short", "characters"),
    ):
        with pytest.raises(Refused, match=why):
            register.admit(name, word)
    assert register.file.read_bytes() == before and WORD.encode() not in before


@pytest.mark.parametrize(
    "here, like", [("\u0421\u043e\u0441\u0430", "Coca"), ("oca", "\u043e\u0441\u0430"), ("Tot", "\u03a4\u03bf\u03c4")]
)
def test_a_name_that_only_looks_like_another_is_refused(register, here, like):
    register.admit(here, WORD)
    with pytest.raises(Refused, match="looks just like"):
        register.admit(like, WORD)
    assert len(register.learners()) == 1


def test_learners_have_numbers_of_their_own_until_the_class_is_full(register):
    few = Register(register.file, FIRST, FIRST + 2)
    accounts = [few.admit(name, WORD) for name in ("Ana", "Ben", "Cleo")]
    assert [few.learners()[one]["number"] for one in accounts] == [FIRST, FIRST + 1, FIRST + 2]
    with pytest.raises(Refused, match="full with 3"):
        few.admit("Dora", WORD)
    assert few.admit("Ben", WORD) == accounts[1] and MOST >= 30


def test_a_forgotten_word_is_chosen_anew_and_the_number_stays(register):
    ana = register.admit("Ana", WORD)
    assert register.forget_word("ana") and not register.forget_word("Ben")
    assert register.admit("Ana", "quite another") == ana and register.learners()[ana]["number"] == FIRST
    with pytest.raises(Refused, match="taken"):
        register.admit("Ana", WORD)


@pytest.fixture
def signing_in(register, monkeypatch):
    """Sign in without a server; the waits are written down instead of waited."""
    pytest.importorskip("jupyterhub", reason='install the extra "class" to run this test')
    from sign_in import RoomAuthenticator

    waits, door = [], RoomAuthenticator(code=CODE, register=register, allow_all=True)

    async def wait(seconds):
        waits.append(seconds)

    monkeypatch.setattr(asyncio, "sleep", wait)

    def sign_in(computer="10.0.0.1", **fields):
        handler = SimpleNamespace(request=SimpleNamespace(remote_ip=computer))
        with ThreadPoolExecutor(1) as apart:  # a browser test of the same process leaves its loop in this thread
            return apart.submit(asyncio.run, door.get_authenticated_user(handler, fields)).result()["name"]

    sign_in.waits = waits
    return sign_in


@pytest.mark.parametrize(
    "fields, why",
    [
        (dict(code="wrong", username="Ana", password=WORD), "not this room's code"),
        (dict(username="Ana", password=WORD), "not this room's code"),
        (dict(code="", username="Ana", password=WORD), "not this room's code"),
        (dict(code=CODE, username="../x", password=WORD), "Type a name"),
        (dict(code=CODE), "Type a name"),
        (dict(code=CODE, username="Ana"), "A word of your own"),
        (dict(code=CODE, username="Ana", password="x" * 300), "A word"),
    ],
)
def test_the_sign_in_page_says_why_in_a_sentence(signing_in, register, fields, why):
    from tornado.web import HTTPError

    with pytest.raises(HTTPError) as refusal:
        signing_in(**fields)
    assert refusal.value.status_code == 403 and why in refusal.value.log_message and not register.file.exists()


def test_each_wrong_try_costs_more_and_only_the_computer_that_made_it(signing_in):
    from tornado.web import HTTPError

    for _ in range(25):
        with pytest.raises(HTTPError):
            signing_in(code="guess", username="Ana", password=WORD)
    assert signing_in.waits == [min(one, 20) for one in range(1, 26)]
    assert (
        signing_in("10.0.0.2", code=f" {CODE.upper()} ", username="Ana", password=WORD).startswith("ana-")
        and len(signing_in.waits) == 25
    )


def test_codes_are_new_each_time_and_hard_to_guess():
    codes = {new_code() for _ in range(50)}
    assert len(codes) == 50 and all(len(one) == 8 and one.isalnum() for one in codes)


@linux
@pytest.mark.parametrize(
    "options, why",
    [
        (dict(address="0.0.0.0"), "not all of them"),
        (dict(address="203.0.113.7"), "--class 192.168"),
        (dict(megabytes=100), "300 MB"),
        (dict(idle=0), "5 to 1440"),
        (dict(code="ab"), "6 to 40"),
        (dict(code="né" * 5), "6 to 40"),
        (dict(first=0, last=10), "account of this computer"),
    ],
)
def test_what_cannot_be_served_is_refused_in_plain_words(tmp_path, monkeypatch, options, why):
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    given = dict(address="127.0.0.1", state=tmp_path / "state", project=tmp_path, first=FIRST, last=LAST) | options
    with pytest.raises(SetupProblem, match=why):
        class_hub.class_command(Path(sys.executable), **given)
    assert not (tmp_path / "state").exists()


@linux
def test_without_the_rights_of_root_it_says_what_to_do(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(SetupProblem, match="sudo"):
        class_hub.class_command(Path(sys.executable), "127.0.0.1", state=tmp_path / "state")
    with pytest.raises(SetupProblem, match="sudo"):
        class_answers.collect(tmp_path / "all", tmp_path)


@linux
def test_a_project_that_everybody_may_change_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    (tmp_path / "lessons_lib").mkdir()
    (tmp_path / "lessons_lib" / "open.py").touch()
    (tmp_path / "lessons_lib" / "open.py").chmod(0o666)
    with pytest.raises(SetupProblem, match="may change .*open.py"):
        class_hub.class_command(
            Path(sys.executable), "127.0.0.1", state=tmp_path / "state", project=tmp_path, first=FIRST, last=LAST
        )


@linux
def test_learners_get_nothing_of_the_hub_with_their_pages(tmp_path):
    class_hub.lay_out_class(tmp_path / "served")
    there = {file.name for file in (tmp_path / "served").rglob("*") if file.is_file()}
    assert {name for name in there if not name.endswith(".ipynb")} == {
        "kernel.json",
        "page_server.py",
        "conf.json",
        "index.html.j2",
        "ipython_kernel_config.py",
    }
    assert "start-here.ipynb" in there and "answer-key.ipynb" not in there


@root
def test_answers_are_collected_and_nothing_that_a_learner_could_point_to(tmp_path, monkeypatch):
    monkeypatch.delenv("SUDO_UID", raising=False)
    homes = [tmp_path / "learners" / str(FIRST + place) for place in range(4)]
    for home in homes[:2]:
        learner("Ana", "", home / "answers").keep_draft(SimpleNamespace(id="02-drop"), home.name)
    secret = tmp_path / "secret.json"
    secret.write_text("{}", encoding="utf-8")
    (homes[0] / "answers" / "link.json").symlink_to(secret)
    os.link(secret, homes[0] / "answers" / "second-name.json")
    os.mkfifo(homes[0] / "answers" / "pipe.json")
    (homes[0] / "answers" / "large.json").write_bytes(b" " * (class_answers.LARGEST + 1))
    homes[2].mkdir()
    (homes[2] / "answers").symlink_to(tmp_path)
    homes[3].mkdir()
    copied, left = class_answers.collect(tmp_path / "all", tmp_path)
    assert copied == 2 and len(left) == 5 and {"60" in one or "61" in one for one in left} == {True}
    assert read_class(tmp_path / "all").learners == ("Ana", "Ana (2)") and read_class(tmp_path / "all").skipped == ()
    assert (tmp_path / "all").stat().st_mode & 0o077 == 0


def test_the_name_of_the_sign_in_is_the_readers_until_another_is_given(monkeypatch):
    assert preferences.reader() == ("", "")
    monkeypatch.setenv(preferences.NAME_VARIABLE, "Ana Müller")
    assert preferences.reader() == ("Ana Müller", "")
    preferences.keep_reader("Ana M", "7")
    assert preferences.reader() == ("Ana M", "7")


def test_a_learners_server_has_few_pages_and_ends_those_that_rest(tmp_path):
    """The server's own configuration without a hub: a fourth page ends another, and in the end all do that nobody touches."""
    pytest.importorskip("voila", reason='install the extra "class" to run this test')
    command = [
        sys.executable,
        "-m",
        "jupyter_server",
        f"--config={class_hub.HUB / 'page_server.py'}",
        "--ServerApp.port=0",
        "--no-browser",
        "--allow-root",
    ]
    class_hub.lay_out_class(tmp_path / "served")
    run = Path(tempfile.mkdtemp(prefix="run-"))  # the path of a socket has 107 characters at most
    variables = {
        **os.environ,
        "HOT_WATER_RUNS_IDLE": "0.15",
        "JUPYTER_TOKEN": CODE,
        "JUPYTER_RUNTIME_DIR": str(run),
        "JUPYTER_CONFIG_DIR": str(tmp_path),
        "JUPYTER_PATH": str(tmp_path / "served" / "data"),
    }
    server = subprocess.Popen(command, env=variables, cwd=tmp_path, stderr=subprocess.DEVNULL)
    try:
        address = _address(run)

        def asked(path, method="GET"):
            request = urllib.request.Request(
                f"{address}api/{path}",
                b"{}" if method == "POST" else None,
                {"Authorization": f"token {CODE}"},
                method=method,
            )
            with urllib.request.urlopen(request, timeout=60) as answer:
                return json.loads(answer.read())

        begun = [asked("kernels", "POST")["id"] for _ in range(4)]
        left = {kernel["id"] for kernel in asked("kernels")}
        assert left < set(begun) and begun[-1] in left and len(left) <= 3
        until = time.monotonic() + 60
        while asked("kernels") and time.monotonic() < until:
            time.sleep(1)
        assert asked("kernels") == []
        with pytest.raises(urllib.error.HTTPError, match="404"):
            asked("terminals")
        with pytest.raises(urllib.error.HTTPError, match="404"):
            asked("../lab")
    finally:
        server.terminate()
        server.wait(timeout=30)
        shutil.rmtree(run)


def _address(folder: Path) -> str:
    """Where a server that writes its file into a folder can be reached."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        for file in folder.glob("jpserver-*.json"):
            try:
                return json.loads(file.read_text(encoding="utf-8"))["url"]
            except ValueError:
                break  # half-written
        time.sleep(0.2)
    raise AssertionError("the server did not start")


@pytest.fixture
def class_at_work():
    """A hub at an address of its own, so that what listens there and what listens for this machine alone can be told apart."""
    try:
        server = class_server.ClassServer("127.0.0.2")
    except class_server.NotHere as reason:
        pytest.skip(str(reason))
    server.start()
    yield server
    server.close()


ANSWER = """
from lessons_lib import Q_
from lessons_lib.storage import preferences
from lessons_lib.exercises.learner import learner
me = learner(*preferences.reader())
print(me.name, me.keep_guess("02", Q_({degrees}, "degC"), "temperature").guessed.magnitude, me.file.parent)
"""
TRY = """
import os
for path in {read!r}:
    try:
        print("READ", path, os.listdir(path) if os.path.isdir(path) else open(path, "rb").read(20))
    except PermissionError:
        print("refused")
for path in {write!r}:
    try:
        print("WROTE", path, open(path, "a").close())
    except PermissionError:
        print("refused")
for name in ("setuid", "setgid"):
    try:
        print("BECAME", getattr(os, name)(0))
    except PermissionError:
        print("refused")
try:
    print("ENDED", os.kill({hub}, 0))
except PermissionError:
    print("refused")
"""


def entered(address: str, name: str) -> tuple[Visitor, str, Kernel]:
    """A learner who signed in and opened a lesson: visitor, page, kernel."""
    visitor = Visitor(address)
    visitor.sign_in(CODE, name, WORD)
    visitor.server()
    return visitor, visitor.page("02-how-hot-at-the-tap"), visitor.kernel()


def listening(hub: int) -> set[str]:
    """Addresses at which a process and all that it started wait for callers."""
    family = [psutil.Process(hub), *psutil.Process(hub).children(recursive=True)]
    return {
        one.laddr.ip for process in family for one in process.net_connections("tcp") if one.status == psutil.CONN_LISTEN
    }


def test_two_learners_and_a_hub_that_is_killed(class_at_work):
    state, project, address = class_at_work.state, class_at_work.project, class_at_work.address
    stranger = Visitor(address)
    status, _, text = stranger.sign_in(CODE, "<b>../x</b>", WORD)
    assert (
        status == 403 and "Type a name" in text and "<b>../x" not in text and list((state / "learners").iterdir()) == []
    )
    with ThreadPoolExecutor() as pool:
        ana, ben = pool.map(lambda name: entered(address, name), ("Ana Müller", "Ben"))
    assert listening(class_at_work.hub.pid) == {"127.0.0.1", "127.0.0.2"}
    known = {
        one["name"]: state / "learners" / str(one["number"])
        for one in json.loads((state / "hub" / "learners.json").read_text()).values()
    }
    for (_, text, kernel), name, degrees, other in ((ana, "Ana Müller", 51.5, "Ben"), (ben, "Ben", 42.0, "Ana Müller")):
        assert (
            "How hot at the tap" in text
            and "For the instructor" not in text
            and "from lessons_lib" not in text
            and "Traceback" not in text
        )
        assert kernel.run(ANSWER.format(degrees=degrees)).strip() == f"{name} {degrees} {known[name] / 'answers'}"
        assert known[name].stat().st_mode & 0o777 == 0o700
        read = [
            known[other],
            known[other] / "answers",
            state / "hub",
            state / "hub" / "learners.json",
            project / "workbooks" / "instructor",
        ]
        write = [
            project / "workbooks" / "x",
            project / "lessons_lib" / "__init__.py",
            project / "data" / "x",
            state / "served" / "pages" / "start-here.ipynb",
            state / "served" / "x",
            state / "learners" / "x",
            known[other] / "x",
        ]
        tried = kernel.run(
            TRY.format(read=[str(one) for one in read], write=[str(one) for one in write], hub=class_at_work.hub.pid)
        )
        assert tried.split() == ["refused"] * (len(read) + len(write) + 3), tried
        assert kernel.run("import os; print(os.getuid(), os.getgroups())").split()[0] == known[name].name
    assert ana[0].fetch(f"{ben[0].own}api/status")[0] in (403, 404) and stranger.fetch(f"{ben[0].own}api/contents")[
        0
    ] in (403, 404)
    assert Visitor(address).sign_in(CODE, "ana müller", "not her word")[0] == 403

    os.kill(class_at_work.hub.pid, signal.SIGKILL)
    class_at_work.hub.wait()
    left_over = subprocess.Popen(["setpriv", f"--reuid={FIRST}", f"--regid={FIRST}", "--clear-groups", "sleep", "600"])
    time.sleep(0.5)
    class_at_work.start()
    assert left_over.wait(timeout=10) == -signal.SIGKILL
    again = Visitor(class_at_work.address)
    again.sign_in(CODE, "Ana Müller", WORD)
    again.server()
    assert again.kernel().run(ANSWER.format(degrees=1)).split()[2] == "51.5", "the first guess is kept"
    assert [one for one in known["Ben"].glob("answers/*.json")]
