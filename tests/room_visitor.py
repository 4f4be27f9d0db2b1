"""A room opened for a test, and visitors who come to it as browsers do: with cookies, forms and websockets."""

import asyncio
import contextlib
import http.client
import json
import re
import struct
import subprocess
import sys
import time
import urllib.parse
import uuid
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import psutil
import pytest
from room.command import room_command

HERE, WORD = "127.0.0.1", "kite"


def in_own_loop(coroutine):
    """Gives what a coroutine returns; in a thread of its own, for a browser's tests keep a loop running in the main one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()


@dataclass(frozen=True)
class Opened:
    """A running room: where it is, its folder, its code, and its program."""

    port: int
    state: Path
    code: str
    instructor: str
    program: subprocess.Popen
    told: str


@contextlib.contextmanager
def opened(folder: Path, monkeypatch, port: int | None = None, **options):
    """A room whose reader's folder is `folder`, as `python3 workbooks --room` starts it; closed again at the end."""
    for needed in ("voila", "mnemonic", "argon2"):
        pytest.importorskip(needed, reason='install the extra "room" to run this test')
    monkeypatch.setenv("HOT_WATER_RUNS_FOLDER", str(folder))
    arguments, variables = room_command(Path(sys.executable), HERE, port, **options)
    log = folder / "room.log"
    with log.open("w") as told:
        program = subprocess.Popen(arguments, env=variables, stdout=told, stderr=told)
    try:
        end = time.monotonic() + 90
        while "Ctrl-C" not in log.read_text():
            assert program.poll() is None and time.monotonic() < end, log.read_text()
            time.sleep(0.2)
        kept = json.loads((folder / "room" / "room.json").read_text())
        yield Opened(kept["port"], folder / "room", kept["code"], kept["instructor"], program, log.read_text())
    finally:
        program.terminate()
        try:
            program.wait(timeout=30)
        except subprocess.TimeoutExpired:
            program.kill()


def ended_with_all(room: Opened, end) -> None:
    """Ends a room that has a page open, and sees that no Python of it is left behind."""
    started = psutil.Process(room.program.pid).children(recursive=True)
    assert len(started) >= 3, "the fork server, its page and one that waits"
    end()
    room.program.wait(timeout=30)
    _, alive = psutil.wait_procs(started, timeout=10)
    assert not [one for one in alive if one.status() != psutil.STATUS_ZOMBIE]


@dataclass(frozen=True)
class Answer:
    """What came back: the status, the headers, the words of the page."""

    status: int
    headers: http.client.HTTPMessage
    text: str

    @property
    def told(self) -> str:
        """The sentence on the page that says what is wrong."""
        found = re.search(r'class="told"[^>]*>(.*?)</p>', self.text, re.DOTALL)
        return found[1] if found else ""

    @property
    def asks_for(self) -> str:
        """What the page asks for: "code", "name", "seat", or nothing."""
        return next((box for box in ("code", "name", "seat") if f'<input name="{box}"' in self.text), "")


class Visitor:
    """Somebody with a browser of their own."""

    def __init__(self, room: Opened):
        self.room, self.cookies = room, {}

    def ask(
        self,
        path: str,
        form: dict | None = None,
        method: str = "GET",
        headers: dict | None = None,
        body: bytes | None = None,
    ) -> Answer:
        """What a path gives, sent exactly as it is written here; a form is sent as its page would send it."""
        given = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items()), **(headers or {})}
        if form is not None:
            method, body = "POST", urllib.parse.urlencode({"_xsrf": self.cookies.get("_xsrf", ""), **form})
            given["Content-Type"] = "application/x-www-form-urlencoded"
        line = http.client.HTTPConnection(HERE, self.room.port, timeout=120)
        try:
            line.request(method, path, body, given)
            answer = line.getresponse()
            for cookie in answer.headers.get_all("Set-Cookie", []):
                name, _, value = cookie.partition(";")[0].partition("=")
                self.cookies[name] = value
            return Answer(answer.status, answer.headers, answer.read().decode("utf-8", "replace"))
        finally:
            line.close()

    def give_code(self, code: str | None = None, **more) -> Answer:
        """Type a code, the right one unless another is given."""
        self.ask("/")
        return self.ask("/", {"code": self.room.code if code is None else code, **more})

    def enter(self, name: str, word: str = WORD, seat: str = "", **more) -> Answer:
        """Come in: the code, then the name."""
        self.give_code()
        return self.ask("/name", {"name": name, "word": word, "seat": seat, **more})

    def open(self, lesson: str = "02-how-hot-at-the-tap") -> tuple[str, str]:
        """Open a lesson: the page, and the kernel behind it."""
        page = self.ask(f"/voila/render/{lesson}.ipynb").text
        found = re.search(r'"kernelId": ?"([\w-]+)"', page)
        assert found, f"the page of {lesson} names no kernel: {page[:2000]}"
        return page, found[1]

    def socket(self, kernel: str, site: str = ""):
        """The line to a kernel, as a page of the room, or of another site, opens it.

        Raises WebSocketBadStatusException: refused.
        """
        import websocket

        return websocket.create_connection(
            f"ws://{HERE}:{self.room.port}/api/kernels/{kernel}/channels?session_id={uuid.uuid4().hex}",
            cookie="; ".join(f"{name}={value}" for name, value in self.cookies.items()),
            origin=site or f"http://{HERE}:{self.room.port}",
            timeout=20,
        )


def message(kind: str, content: dict, channel: str = "shell", metadata: dict | None = None) -> str:
    """A message to a kernel as a browser writes it."""
    header = {
        "msg_id": uuid.uuid4().hex,
        "msg_type": kind,
        "username": "",
        "session": uuid.uuid4().hex,
        "version": "5.4",
        "date": "2026-01-01T00:00:00Z",
    }
    parts = {
        "header": header,
        "parent_header": {},
        "metadata": metadata or {},
        "content": content,
        "buffers": [],
        "channel": channel,
    }
    return json.dumps(parts)


def heard(line, until: str, patience: float = 30) -> list[dict]:
    """What comes over a line up to the answer of this kind."""
    found, end = [], time.monotonic() + patience
    while time.monotonic() < end:
        came = line.recv()
        if isinstance(came, bytes):  # with pictures behind it
            begin, stop = struct.unpack("!2i", came[4:12])
            came = came[begin:stop]
        found.append(json.loads(came))
        if found[-1]["msg_type"] == until:
            return found
    raise AssertionError(f"no {until} came")


def widget_states(line) -> dict[str, dict]:
    """The widgets of a page by their comms, asked for as a browser does that opens it."""
    control = {"comm_id": uuid.uuid4().hex, "target_name": "jupyter.widget.control", "data": {}}
    line.send(message("comm_open", control, metadata={"version": "1.0.0"}))
    line.send(message("comm_msg", {**control, "data": {"method": "request_states"}}))
    return heard(line, "comm_msg")[-1]["content"]["data"]["states"]


def sign_in_with_browser(page, room, name: str) -> None:
    """Goes through the door as a learner does, without the start page, which nobody looks at here."""
    page.set_default_timeout(120_000)
    page.goto(f"http://{HERE}:{room.port}/")
    page.fill("input[name=code]", room.code)
    page.click("button")
    page.fill("input[name=name]", name)
    page.fill("input[name=word]", WORD)
    page.route("**/voila/render/start-here.ipynb", lambda route: route.fulfill(body="signed in"))
    page.click("button")
    page.wait_for_url("**/start-here.ipynb")
