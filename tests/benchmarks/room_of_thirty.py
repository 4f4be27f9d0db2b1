"""Thirty learners in one room: how long each waits for a page and for the picture after a move, and what memory they take.

    .venv/bin/python tests/benchmarks/room_of_thirty.py --learners 30 --seconds 60

A real room on this machine; each learner signs in, opens lesson 02 at a moment of one's own within the first minute, and then moves the
slider of the length once a second, over the websocket as the page's own script does. Not collected by pytest. Run it where nothing
else runs; `taskset -c 0,1` before the command gives the room two cores (and this script the same two).
"""

import argparse
import json
import os
import queue
import random
import resource
import statistics
import struct
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "workbooks")]
import psutil  # noqa: E402
import pytest  # noqa: E402
import websocket  # noqa: E402
from room_visitor import Visitor, opened  # noqa: E402

LENGTH = {"min": 1.0, "max": 60.0, "value": 18.0}  # [m] of the main panel, as it opens
LATE = 30.0  # [s] after which a picture counts as not come
GOAL = {"memory": 3.2, "p95": 400.0, "page": 15.0}  # [GB], [ms], [s] for thirty on two cores


class Line:
    """The line from a page to its kernel, as the page's own script uses it."""

    def __init__(self, visitor: Visitor, kernel: str):
        self._line, self._session, self._come = visitor.socket(kernel), uuid.uuid4().hex, queue.Queue()
        self._line.settimeout(None)
        # as in a browser: what comes is taken at once, and the server's pings are answered
        threading.Thread(target=self._take, daemon=True).start()

    def send(self, kind: str, content: dict, metadata: dict | None = None) -> str:
        """Sends a message; gives its id."""
        sent = uuid.uuid4().hex
        head = {
            "msg_id": sent,
            "msg_type": kind,
            "session": self._session,
            "username": "",
            "version": "5.4",
            "date": "",
        }
        parts = {"header": head, "parent_header": {}, "metadata": metadata or {}, "content": content}
        self._line.send(json.dumps({**parts, "channel": "shell", "buffers": []}))
        return sent

    def _take(self) -> None:
        while raw := self._next():
            if isinstance(raw, bytes):
                count = struct.unpack("!i", raw[:4])[0]
                places = [*struct.unpack(f"!{count}I", raw[4 : 4 * count + 4]), len(raw)]
                raw = raw[places[0] : places[1]]
            self._come.put(json.loads(raw))

    def _next(self) -> "str | bytes | None":
        """Gives what comes next over the line; None once it is closed."""
        try:
            return self._line.recv()
        except websocket.WebSocketConnectionClosedException:
            return None

    def received(self, patience: float = 120) -> dict | None:
        """Gives the next message, of one with binary parts only its words; None where none came in time."""
        try:
            return self._come.get(timeout=patience)
        except queue.Empty:
            return None

    def widgets(self) -> dict[str, dict]:
        """Gives the state of every widget of the page by its id, as a page asks for it when it comes to life."""
        control = uuid.uuid4().hex
        target = {"comm_id": control, "target_name": "jupyter.widget.control", "data": {}}
        self.send("comm_open", target, {"version": "1.0.0"})
        self.send("comm_msg", {"comm_id": control, "data": {"method": "request_states"}})
        while (message := self.received()) is not None:
            if message["msg_type"] == "comm_msg" and message["content"]["data"].get("method") == "update_states":
                return {one: state["state"] for one, state in message["content"]["data"]["states"].items()}
        raise TimeoutError("the page's kernel says nothing")

    def move(self, widget: str, value: float) -> str:
        """Moves a widget, as a hand would; gives the message's id."""
        data = {"method": "update", "state": {"value": value}, "buffer_paths": []}
        return self.send("comm_msg", {"comm_id": widget, "data": data})


class Learner:
    """One learner at lesson 02.

    page : [s] from asking for the lesson until all its widgets are known; waits : [s] from each move to its picture
    """

    def __init__(self, room, place: int, begin: float = 0.0):
        self.waits, self.missed = [], 0
        self._chance, self._at = random.Random(place), LENGTH["value"]
        visitor = Visitor(room)
        visitor.enter(f"Learner {place}")
        time.sleep(max(0.0, begin - time.monotonic()))
        began = time.monotonic()
        self._line = Line(visitor, visitor.open()[1])
        widgets = self._line.widgets()
        self.page = time.monotonic() - began
        (self._slider,) = (
            one for one, state in widgets.items() if all(state.get(name) == value for name, value in LENGTH.items())
        )

    def move(self, until: float) -> None:
        """Moves the slider once a second, from a moment of one's own."""
        time.sleep(self._chance.random())
        while (began := time.monotonic()) < until:
            self._move_once(began)
            time.sleep(max(0.0, 1.0 - (time.monotonic() - began)))

    def _move_once(self, began: float) -> None:
        # at the same place there is nothing new to draw
        self._at = self._chance.choice([metres for metres in range(2, 60) if metres != self._at])
        sent = self._line.move(self._slider, float(self._at))
        while time.monotonic() - began < LATE:
            message = self._line.received(patience=5)
            if message is None or message["msg_type"] != "comm_msg" or message["parent_header"].get("msg_id") != sent:
                continue
            if any("<svg class=" in str(value) for value in message["content"]["data"].get("state", {}).values()):
                self.waits.append(time.monotonic() - began)
                return
        self.missed += 1


def family(server: int) -> list[psutil.Process]:
    """Gives the room's server and every process that it started."""
    return [psutil.Process(server), *psutil.Process(server).children(recursive=True)]


def memory(server: int) -> tuple[float, list[float]]:
    """Gives the memory of all that the room started [B], and of each page's kernel alone; shared pages are shared out (PSS)."""
    taken = {}
    for process in family(server):
        try:
            rollup = Path(f"/proc/{process.pid}/smaps_rollup").read_text()
            taken[process.pid] = process.ppid(), 1024 * int(rollup.split("Pss:")[1].split()[0])
        except (OSError, psutil.NoSuchProcess):  # it ended meanwhile
            continue
    pages = [size for parent, size in taken.values() if parent in taken and parent != server]
    return sum(size for _, size in taken.values()), pages


def reckoned(server: int) -> Counter:
    """Gives the seconds of a core that were used so far, by the server itself and by the pages."""
    used = Counter()
    for process in family(server):
        try:
            times = process.cpu_times()
        except psutil.NoSuchProcess:
            continue
        used["server" if process.pid == server else "pages"] += times.user + times.system
    return used


def within_a_minute(room, learners: int, minute: float) -> list[Learner]:
    """All open the lesson, each at a moment of one's own; what each waited is printed. The first one is there before."""
    first = Learner(room, 0)
    chance, now = random.Random(1), time.monotonic() + 2.0
    begins = sorted(now + chance.uniform(0, minute) for _ in range(learners - 1))
    with ThreadPoolExecutor(learners) as pool:
        others = list(pool.map(lambda place: Learner(room, place, begins[place - 1]), range(1, learners)))
    waits = sorted(one.page for one in others)
    print(
        f"a live page: the first after {first.page:.1f} s, then {len(waits)} within {minute:.0f} s: "
        f"median {statistics.median(waits):.1f} s, longest {waits[-1]:.1f} s (goal: {GOAL['page']:.0f} s)",
        flush=True,
    )
    return [first, *others]


def round_of(learners: list[Learner], seconds: float, server: int) -> None:
    """All of them move for some seconds; what they waited, and what the room took, is printed."""
    until = time.monotonic() + seconds
    threads = [threading.Thread(target=one.move, args=(until,)) for one in learners]
    mine, theirs = resource.getrusage(resource.RUSAGE_SELF), reckoned(server)
    for thread in threads:
        thread.start()
    time.sleep(seconds / 2)
    whole, pages = memory(server)
    for thread in threads:
        thread.join()
    used, theirs = resource.getrusage(resource.RUSAGE_SELF), reckoned(server) - theirs
    waits = sorted(wait for one in learners for wait in one.waits)
    longest = f"{waits[-1] * 1000:.0f}"
    print(
        f"a move: {len(waits)} of {len(learners)} learners, {sum(one.missed for one in learners)} without a picture; "
        f"median {statistics.median(waits) * 1000:.0f} ms, p95 {waits[int(0.95 * (len(waits) - 1))] * 1000:.0f} ms, "
        f"longest {longest} ms (goal: p95 {GOAL['p95']:.0f} ms)"
    )
    print(
        f"memory: {whole / 1e9:.2f} GB in all, {statistics.mean(pages) / 1e6:.0f} MB a page, "
        f"{max(pages) / 1e6:.0f} MB the largest (goal: {GOAL['memory']} GB)"
    )
    cores = {**theirs, "this script": used.ru_utime - mine.ru_utime + used.ru_stime - mine.ru_stime}
    print(
        f"cores in use of {len(os.sched_getaffinity(0))}: "
        + ", ".join(f"{kind} {spent / seconds:.2f}" for kind, spent in cores.items()),
        flush=True,
    )


def main() -> None:
    """Open a room, let everybody come and move, and print three lines of results."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--learners", type=int, default=30, choices=range(2, 61), metavar="2..60")
    parser.add_argument("--seconds", type=int, default=60, choices=range(5, 601), metavar="5..600")
    parser.add_argument("--minute", type=float, default=60.0, help="seconds within which all open the lesson")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as monkeypatch:
        with opened(Path(folder), monkeypatch) as room:
            time.sleep(10)  # the kernels that wait are there
            learners = within_a_minute(room, options.learners, options.minute)
            round_of(learners, options.seconds, room.program.pid)


if __name__ == "__main__":
    main()
