"""The lessons served to a room: its code, its door, its pages, and what happens when something is wrong."""

import json
import re
import shutil
import socket
import ssl
import stat
import subprocess
import sys
import time
import urllib.request
from contextlib import AsyncExitStack
from pathlib import Path
from types import SimpleNamespace

import environment
import psutil
import pytest
from room import command
from room_visitor import HERE, Visitor, ended_with_all, in_own_loop, opened, widget_states

from lessons_lib.exercises import handed_out, lessons

WORKBOOKS = environment.WORKBOOKS
LESSON = "/voila/render/02-how-hot-at-the-tap.ipynb"
START = "/voila/render/start-here.ipynb"
CLOSED = "14-hot-water-that-comes-back.ipynb"


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """A room that asks for seats, and whose instructor hands out all lessons but one."""
    folder = tmp_path_factory.mktemp("room")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HOT_WATER_RUNS_FOLDER", str(folder))
        handed_out.hand_out([one for one in lessons() if one != CLOSED[:2]])
        with opened(folder, patch, seats=True) as found:
            yield found


@pytest.fixture
def code():
    """The module of the room's code."""
    pytest.importorskip("mnemonic", reason='install the extra "room" to run this test')
    from room import code

    return code


def test_a_fresh_code_cannot_be_guessed_and_can_be_read_out(code):
    some = [code.fresh() for _ in range(300)]
    assert len(set(some)) == 300 and all(re.fullmatch(r"[a-z]{3,8}( [a-z]{3,8}){3}", one) for one in some)
    assert code.bits() >= 40
    assert len({word for one in some for word in one.split()}) > 800, "words from the whole list"
    fastest = code.IN_ALL / code.LONGEST  # [1/s] tries with the brake on, from everywhere at once
    assert 2 ** code.bits() / fastest / (365 * 24 * 3600) > 10_000, "years"


@pytest.mark.parametrize(
    "typed", ["Bread-Body  enhance OSTRICH", "breadbodyenhanceostrich", " bread\tbody-enhance\u2011ostrich\n"]
)
def test_case_blanks_and_hyphens_do_not_count(code, typed):
    assert code.same(typed, "bread body enhance ostrich")


@pytest.mark.parametrize(
    "typed", ["", "bread body enhance", "bread body enhance ostrich x", "ostrich bread body enhance", "x" * 9999]
)
def test_other_words_are_another_code(code, typed):
    assert not code.same(typed, "bread body enhance ostrich") and not code.same(typed, "x" * 200 + "y")


@pytest.mark.parametrize("given", ["", "1234", "water", "water water water", "a b c d", "three-words", "- - -"])
def test_a_code_of_ones_own_that_is_too_easy_is_refused(code, given):
    with pytest.raises(
        environment.SetupProblem, match="too easy to guess.*at least three different words with 12 letters"
    ):
        code.own(given)
    assert code.own("Quiet  river-Lamp 7") == "Quiet river Lamp 7"


def test_wrong_tries_slow_the_one_who_makes_them_down_and_hardly_anybody_else(code):
    now = [0.0]
    brake = code.Brake(lambda: now[0])
    for place in range(30):
        brake.was_wrong(f"10.0.0.{place}")
    assert brake.wait("10.0.0.1") == 0, "a slip each slows nobody"
    waits = []
    for _ in range(30):
        waits.append(brake.wait("10.0.0.99"))
        brake.was_wrong("10.0.0.99")
    assert waits[:5] == [0] * 5 and waits == sorted(waits) and waits[-1] == code.LONGEST <= 5
    assert brake.wait("10.0.0.1") <= 0.5 and brake.wrong == 60
    now[0] += 60
    assert 0 < brake.wait("10.0.0.99") < code.LONGEST
    now[0] += 120
    assert brake.wait("10.0.0.99") == 0, "forgotten"
    for place in range(1000):
        brake.was_wrong(f"10.0.{place}.1")
    assert brake.wait("10.9.9.9") == code.LONGEST, "many addresses are one attack"


def test_tries_that_wait_are_few(code, monkeypatch):
    brake = code.Brake()

    async def crowd(addresses):
        async with AsyncExitStack() as stack:
            for come, address in enumerate(addresses):
                try:
                    await stack.enter_async_context(brake.turn(address))
                except code.TooMany:
                    return come
        return len(addresses)

    assert in_own_loop(crowd(["a"] * 99)) == code.AT_ONCE
    assert in_own_loop(crowd([f"{place}" for place in range(99)])) == code.IN_ALL
    assert in_own_loop(crowd(["a"] * 3)) == 3, "those who waited are gone"


def test_the_way_in_is_code_then_name_then_the_lesson(room):
    visitor = Visitor(room)
    assert visitor.ask("/").asks_for == "code"
    assert visitor.give_code(room.code.upper().replace(" ", "-")).status == 303
    assert visitor.ask("/").asks_for == "name"
    kept = visitor.ask("/").text
    for word in ("What is kept:", "Who reads it:", "your instructor", "until the instructor deletes it"):
        assert word in kept
    assert visitor.ask("/name", {"name": "Ana", "seat": "Seat 07", "word": "kite"}).headers["Location"] == START
    page, kernel = visitor.open()
    assert "How hot at the tap" in page and "application/vnd.jupyter.widget-view+json" in page
    line = visitor.socket(kernel)
    shown = " ".join(str(one["state"].get("value")) for one in widget_states(line).values())
    line.close()
    assert "Answering: Ana, seat 7." in shown and 'href="/leave"' in shown
    assert "from lessons_lib" not in page and "panels.on_page" not in page and "Traceback" not in page
    read = re.sub(r"<(style|script).*?</\1>", "", page, flags=re.S)
    assert "For the instructor" not in read and "Make this page live" not in read
    members = json.loads((room.state / "members.json").read_text())
    (account,) = members
    assert members[account]["page"] == "02-how-hot-at-the-tap.ipynb"
    assert [file.name for file in (room.state / "members").iterdir()] == [account]
    for file in (room.state, *room.state.glob("*.json"), room.state / "members" / account):
        assert stat.S_IMODE(file.stat().st_mode) & 0o077 == 0, file


@pytest.mark.skipif(sys.platform != "linux", reason="what a program has read is asked of Linux only")
def test_the_server_itself_reads_no_lesson(room):
    """Nor what draws their pictures: that belongs to the pages' Pythons, and would make the room open later."""
    read = [one.path for one in psutil.Process(room.program.pid).memory_maps()]
    assert any("numpy" in path for path in read) and not any("matplotlib" in path or "PIL" in path for path in read)


def test_names_seats_and_words_are_answered_in_sentences(room):
    visitor = Visitor(room)
    visitor.enter("Ben", seat="3")
    other = Visitor(room)
    taken = other.enter("ben ", "wrong word", seat="3")
    assert taken.asks_for == "name" and "Somebody called Ben is in this room already" in taken.told
    assert "room-member" not in other.cookies
    for form, why in (
        ({"name": "", "word": "kite"}, "No name was given"),
        ({"name": "Cem", "word": "abc"}, "Your own word has 3 characters"),
        ({"name": "<script>alert(1)</script>" * 3, "word": "", "seat": "<b>"}, "Your own word has 0 characters"),
    ):
        answer = other.ask("/name", {"seat": "4", **form})
        assert answer.asks_for == "name" and why in answer.told
        assert "<script>" not in answer.text and "<b>" not in answer.text
    assert other.ask("/name", {"name": "x" * 9999, "word": "kite", "seat": "y" * 9999}).status in (200, 303)
    shared = Visitor(room).enter("Dee", seat="3")
    assert shared.status == 200 and shared.asks_for == "seat" and "Ben sits at seat 3 too" in shared.told
    again = Visitor(room).enter("Ben", seat="5")
    assert again.asks_for == "seat" and "Your answers so far belong to seat 3" in again.told
    assert visitor.ask("/seat", {"seat": "6"}).status == 303
    assert (
        next(
            one["seat"]
            for one in json.loads((room.state / "members.json").read_text()).values()
            if one["name"] == "Ben"
        )
        == "6"
    )


def test_no_header_gets_round_the_brake(room):
    visitor, took = Visitor(room), []
    for place in range(9):
        visitor.ask("/")
        began = time.monotonic()
        headers = {name: f"10.1.1.{place}" for name in ("X-Real-IP", "X-Forwarded-For", "Forwarded", "X-Client-IP")}
        form = {"_xsrf": visitor.cookies["_xsrf"], "code": f"guess number {place}"}
        answer = visitor.ask("/", form, headers=headers)
        took.append(time.monotonic() - began)
        assert answer.status == 403 and "not the code of this room" in answer.told and answer.asks_for == "code"
    assert took[-1] > 1.0 and took[-1] > took[0] + 0.8, took
    began = time.monotonic()
    assert visitor.give_code().status == 303, "the right code still opens"
    assert time.monotonic() - began < 8


def test_a_room_that_is_open_keeps_a_second_one_out(room, tmp_path, monkeypatch):
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(tmp_path))
    with pytest.raises(environment.SetupProblem, match=f"Port {room.port} at {HERE} is taken.*--port {room.port + 1}"):
        command.room_command(Path(sys.executable), HERE, room.port)
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(room.state.parent))
    arguments, variables = command.room_command(Path(sys.executable), HERE)
    before = (room.state / "room.json").read_text()
    second = subprocess.run(arguments, env=variables, capture_output=True, text=True, timeout=120)
    assert second.returncode == 1 and "A room is open already from the folder" in second.stderr
    assert "Traceback" not in second.stderr and (room.state / "room.json").read_text() == before
    assert Visitor(room).ask("/").asks_for == "code"


def test_code_port_members_and_sign_in_survive_a_restart_and_a_line_can_be_encrypted(tmp_path, monkeypatch):
    if shutil.which("openssl") is None:
        pytest.skip("openssl is not installed, which makes the certificate of this test")
    with opened(tmp_path, monkeypatch, code="quiet river lamp seven") as before:
        visitor = Visitor(before)
        visitor.enter("Ana")
        visitor.open()
        cookies = visitor.cookies
        assert before.code == "quiet river lamp seven" and before.instructor in before.told
        if sys.platform == "linux":  # elsewhere a page's Python is no fork, and watches its parent by itself
            ended_with_all(before, before.program.terminate)
    key, certificate = tmp_path / "key.pem", tmp_path / "certificate.pem"
    subject = ["-subj", "/CN=127.0.0.1", "-addext", "subjectAltName=IP:127.0.0.1"]
    files = ["-keyout", str(key), "-out", str(certificate)]
    subprocess.run(
        ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", *files, *subject],
        check=True,
        capture_output=True,
    )
    with opened(tmp_path, monkeypatch, certificate=certificate, key=key) as after:
        assert (after.code, after.port, after.instructor) == (before.code, before.port, before.instructor)
        assert f"https://{HERE}:{after.port}" in after.told
        trusted = ssl.create_default_context(cafile=str(certificate))
        asked = urllib.request.Request(
            f"https://{HERE}:{after.port}/leave",
            headers={"Cookie": "; ".join(f"{name}={value}" for name, value in cookies.items())},
        )
        with urllib.request.urlopen(asked, context=trusted, timeout=60) as answer:
            assert "answers for <strong>Ana</strong>" in answer.read().decode()
            assert "Secure" in answer.headers["Set-Cookie"] if answer.headers["Set-Cookie"] else True


@pytest.mark.parametrize(
    "options, spoil, why",
    [
        (dict(code="1234"), None, "too easy to guess"),
        (dict(certificate=Path("nowhere.pem")), None, "The certificate nowhere.pem and the key None cannot be used"),
        ({}, "room.json", "room.json is broken"),
        ({}, "members.json", "list of this room's learners"),
        ({}, "room", "cannot be used"),
    ],
)
def test_a_room_that_cannot_open_says_why(options, spoil, why, tmp_path):
    pytest.importorskip("voila", reason='install the extra "room" to run this test')
    from room import server

    if spoil == "room":
        (tmp_path / "room").write_text("a file where a folder should be")
    elif spoil:
        (tmp_path / "room").mkdir()
        (tmp_path / "room" / spoil).write_text("{ broken")
    given = {"code": None, "certificate": None, "key": None, "seats": False, **options}
    with pytest.raises(environment.SetupProblem, match=why):
        server.open_room(SimpleNamespace(state=tmp_path / "room", address=HERE, port=1, **given), [])
    if spoil and spoil != "room":
        assert (tmp_path / "room" / spoil).read_text() == "{ broken"


def test_the_risks_say_whether_the_line_is_encrypted_and_where_things_lie(tmp_path, monkeypatch):
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(tmp_path))
    assert "Nothing on the way is encrypted" in command.room_risks(False) and str(tmp_path) in command.room_risks(False)
    assert "Nothing on the way" not in command.room_risks(True) and "encrypted with your" in command.room_risks(True)
    assert "Thirty pages took 2 GB" in command.room_risks(True) and "100 MB for each page" in command.room_risks(True)


def test_a_full_disk_at_the_start_is_said(tmp_path, monkeypatch):
    pytest.importorskip("mnemonic", reason='install the extra "room" to run this test')
    from room import state

    from lessons_lib.quantities.errors import InputError

    def full(*_, **__):
        raise InputError("room.json was not written (No space left on device). Choose another folder or name.")

    monkeypatch.setattr(state, "write_whole", full)
    with pytest.raises(environment.SetupProblem, match="No space left on device.*The room's folder is"):
        state.kept(tmp_path / "room", 1234)


@pytest.mark.parametrize(
    "address, why",
    [
        ("0.0.0.0", "not all of them"),
        ("203.0.113.7", "can't be used"),
        ("nowhere at all", "can't be used"),
        ("", "not all"),
    ],
)
def test_an_address_that_is_not_this_machines_is_refused(address, why, tmp_path, monkeypatch):
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(tmp_path))
    with pytest.raises(environment.SetupProblem, match=why):
        command.room_command(Path(sys.executable), address)
    assert not (tmp_path / "room").exists()


def test_the_port_of_last_time_is_taken_again_unless_somebody_has_it(tmp_path, monkeypatch):
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(tmp_path))
    (tmp_path / "room").mkdir()
    with socket.socket() as taken:
        taken.bind((HERE, 0))
        port = taken.getsockname()[1]
        (tmp_path / "room" / "room.json").write_text(json.dumps({"port": port}))
        taken.listen()
        assert command.room_command(Path(sys.executable), HERE)[0][-1] != str(port)
    assert command.room_command(Path(sys.executable), HERE)[0][-1] == str(port)


def test_pages_for_the_room_are_for_learners(tmp_path):
    command.room_pages(tmp_path)
    names = {file.name for file in WORKBOOKS.glob("*.ipynb")}
    assert {file.name for file in tmp_path.iterdir()} == names and "start-here.ipynb" in names
    for name in names:
        cells = json.loads((tmp_path / name).read_text(encoding="utf-8"))["cells"]
        before = json.loads((WORKBOOKS / name).read_text(encoding="utf-8"))["cells"]
        words = "\n".join("".join(cell["source"]) for cell in cells)
        assert (
            "instructor/" not in words and "## For the instructor" not in words and "Make this page live" not in words
        )
        assert not re.search("live again|cells hidden|Run the page|Run All Cells", words), "its pages run by themselves"
        assert "**Stop.**" in words or name == "start-here.ipynb" and "## Stop" in words
        assert sum(cell["cell_type"] == "code" for cell in cells) == sum(cell["cell_type"] == "code" for cell in before)
        for target in re.findall(r"\]\(([^)#]+\.ipynb)\)", words):
            assert (tmp_path / target).exists(), target


def test_pages_of_lessons_that_are_not_handed_out_are_left_out_with_all_that_leads_to_them(tmp_path):
    command.room_pages(tmp_path, ("02", "07"))
    names = {file.name for file in tmp_path.iterdir()}
    assert names == {"start-here.ipynb", "02-how-hot-at-the-tap.ipynb", "07-will-it-freeze.ipynb"}
    told = {}
    for name in names:
        cells = json.loads((tmp_path / name).read_text(encoding="utf-8"))["cells"]
        told[name] = "\n".join("".join(cell["source"]) for cell in cells)
        assert set(re.findall(r"\]\(([^)#]+\.ipynb)\)", told[name])) <= names
    assert re.findall(r"^\| \[(\d\d)", told["start-here.ipynb"], re.MULTILINE) == ["02", "07"]
    assert "not handed out" not in told["start-here.ipynb"]
    assert "Next: 08 · Heat tape (not handed out)" in told["07-will-it-freeze.ipynb"]


def test_a_lesson_that_is_not_handed_out_is_known_from_what_is_no_lesson(tmp_path):
    pytest.importorskip("jupyter_server", reason='install the extra "room" to run this test')
    from room import door

    pages = tmp_path / "served" / "pages"
    pages.mkdir(parents=True)
    command.room_pages(pages, ("02",))
    asked = SimpleNamespace(state=tmp_path)
    assert door.is_closed(asked, CLOSED) and not door.is_lesson(asked, CLOSED)
    open_ones = ("start-here.ipynb", "02-how-hot-at-the-tap.ipynb")
    nothing = ("15-no-such-lesson.ipynb", "instructor/own-material.ipynb", "environment.py", "..", "", f"./{CLOSED}")
    assert all(door.is_lesson(asked, page) for page in open_ones)
    assert not any(door.is_closed(asked, page) for page in (*open_ones, *nothing))


def test_a_lesson_that_is_not_handed_out_is_told_in_a_sentence(room):
    visitor = Visitor(room)
    visitor.enter("Gil", seat="8")
    closed = visitor.ask(f"/voila/render/{CLOSED}")
    assert closed.status == 404 and "Your instructor has not handed out this lesson." in closed.told
    assert "<h1>Not handed out</h1>" in closed.text
    nothing = visitor.ask("/voila/render/15-no-such-lesson.ipynb")
    assert nothing.status == 404 and "There is no such page in this room." in nothing.told
    assert "<h1>This did not work</h1>" in nothing.text
    assert Visitor(room).ask(f"/voila/render/{CLOSED}").asks_for == "code"
    assert "You hand out lessons 01, 02" in room.told and "12 and 13." in room.told


def test_a_set_up_for_tests_or_a_room_serves_for_what_needs_less(tmp_path, monkeypatch):
    monkeypatch.setattr(environment, "STAMP", tmp_path / "installed.txt")
    for there, enough in (
        ("", {""}),
        ("room", {"", "room"}),
        ("test", {"", "room", "test"}),
    ):
        environment.STAMP.write_text(environment._fingerprint(there), encoding="utf-8")
        assert {extra for extra in environment.EXTRAS if environment._installed(extra)} == enough
