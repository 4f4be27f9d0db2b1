"""Thirty learners on one machine: how long each waits for the picture after a move of a slider, and what memory they take.

    sudo .venv/bin/python tests/benchmarks/class_of_thirty.py --learners 30 --seconds 120

A real hub on loopback; each learner signs in, opens lesson 02 and moves the slider of the length once a second. The same with one
learner in an endless loop, then with another that takes memory until its limit. At the end everybody's answers are compared with what was
given. Not collected by pytest; at most 60 learners and 10 minutes a round.
"""

import argparse
import random
import resource
import statistics
import sys
import threading
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))
import class_server  # noqa: E402
import psutil  # noqa: E402
from class_client import Visitor  # noqa: E402

LENGTH = {"min": 1.0, "max": 60.0, "value": 18.0}  # [m] of the main panel, as it opens
LATE = 30.0  # [s] after which a picture counts as not come
ANSWER = """
from lessons_lib import Q_
from lessons_lib.storage import preferences
from lessons_lib.exercises.learner import learner
me = learner(*preferences.reader())
me.keep_guess({key!r}, Q_({degrees!r}, "degC"), "temperature")
"""
ANSWERS = """
from lessons_lib.storage import preferences
from lessons_lib.exercises.learner import learner
me = learner(*preferences.reader())
print(me.name, *(me.guess(key).guessed.magnitude for key in {keys!r}))
"""
LOOP = "while True: pass"
TAKE = "kept = []\nwhile True: kept.append(bytearray(10_000_000))"


class Learner:
    """One learner at lesson 02. name : as signed in; waits : [s] from each move to its picture; given : answers by their key"""

    def __init__(self, address: str, place: int):
        self.name, self.waits, self.given, self.missed = f"Learner {place}", [], {}, 0
        self._chance, self._at = random.Random(place), LENGTH["value"]
        self.visitor = Visitor(address)
        self.visitor.sign_in(class_server.CODE, self.name, f"word of {place:03}")
        self.visitor.server(patience=600)
        self.visitor.page("02-how-hot-at-the-tap")
        self.kernel = self.visitor.kernel()
        widgets = self.kernel.widgets()
        (self._slider,) = (
            one for one, state in widgets.items() if all(state.get(name) == value for name, value in LENGTH.items())
        )

    def move(self, until: float) -> None:
        """Move the slider once a second, from a moment of one's own; in between answer now and then."""
        time.sleep(self._chance.random())
        while time.monotonic() < until:
            began = time.monotonic()
            self._move_once()
            if self._chance.random() < 0.05:
                key, degrees = f"{self.name} {len(self.given)}", round(self._chance.uniform(5, 80), 3)
                self.given[key] = degrees
                self.kernel.run(ANSWER.format(key=key, degrees=degrees))
            time.sleep(max(0.0, 1.0 - (time.monotonic() - began)))

    def _move_once(self) -> None:
        self._at = self._chance.choice(
            [metres for metres in range(2, 60) if metres != self._at]
        )  # at the same place there is nothing new to draw
        sent = self.kernel.set(self._slider, float(self._at))
        began = time.monotonic()
        while time.monotonic() - began < LATE:
            message = self.kernel.received(patience=5)
            if message is None or message["msg_type"] != "comm_msg" or message["parent_header"].get("msg_id") != sent:
                continue
            if any("<img" in str(value) for value in message["content"]["data"].get("state", {}).values()):
                self.waits.append(time.monotonic() - began)
                return
        self.missed += 1

    def kept(self) -> bool:
        """Whether the file holds what was given, and is this learner's."""
        told = self.kernel.run(ANSWERS.format(keys=list(self.given))).split()
        return told == [*self.name.split(), *(str(value) for value in self.given.values())]


def memory(hub: int) -> tuple[int, int, dict]:
    """Bytes of the hub with all that it started, of the learners alone, and of each learner. Shared pages are shared out (PSS)."""
    all_, learners = 0, {}
    tree = class_server.processes(hub)
    for process, user in tree.items():
        try:
            rollup = Path(f"/proc/{process}/smaps_rollup").read_text()
        except (FileNotFoundError, ProcessLookupError):
            continue
        taken = 1024 * next(int(line.split()[1]) for line in rollup.splitlines() if line.startswith("Pss:"))
        all_ += taken
        if class_server.FIRST <= user <= class_server.LAST:
            learners[user] = learners.get(user, 0) + taken
    return all_, sum(learners.values()), learners


def reckoned(hub: int) -> Counter:
    """Seconds of a core that were used so far: by the learners' pages, by their servers, by the hub with its proxy."""
    found = Counter()
    for process in class_server.processes(hub):
        try:
            command, times = " ".join(psutil.Process(process).cmdline()), psutil.Process(process).cpu_times()
        except psutil.NoSuchProcess:
            continue
        kind = (
            "pages"
            if "ipykernel_launcher" in command
            else "servers"
            if "jupyterhub.singleuser" in command
            else "hub and proxy"
        )
        found[kind] += times.user + times.system
    return found


def round_of(learners: list, seconds: float, title: str, hub: int) -> None:
    """All of them move for some seconds; what they waited is printed."""
    for one in learners:
        one.waits, one.missed = [], 0
    until = time.monotonic() + seconds
    threads = [threading.Thread(target=one.move, args=(until,)) for one in learners]
    mine, theirs = resource.getrusage(resource.RUSAGE_SELF), reckoned(hub)
    for thread in threads:
        thread.start()
    time.sleep(seconds / 2)
    whole, of_learners, each = memory(hub)
    for thread in threads:
        thread.join()
    used, theirs = resource.getrusage(resource.RUSAGE_SELF), reckoned(hub) - theirs
    waits = sorted(wait for one in learners for wait in one.waits)
    missed = sum(one.missed for one in learners)
    print(
        f"{title}: {len(waits)} moves of {len(learners)} learners, {missed} without a picture; "
        f"median {statistics.median(waits) * 1000:.0f} ms, p95 {waits[int(0.95 * (len(waits) - 1))] * 1000:.0f} ms, longest {waits[-1] * 1000:.0f} ms"
    )
    cores = {**theirs, "this script itself": used.ru_utime - mine.ru_utime + used.ru_stime - mine.ru_stime}
    print(
        f"  memory {whole / 1e9:.2f} GB in all, {of_learners / 1e6 / len(each):.0f} MB a learner, {1e9 * len(each) / of_learners:.1f} learners a GB; "
        "cores used: " + ", ".join(f"{kind} {used / seconds:.2f}" for kind, used in cores.items()),
        flush=True,
    )


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--learners", type=int, default=30, choices=range(3, 51), metavar="3..50")
    parser.add_argument("--seconds", type=int, default=120, choices=range(5, 601), metavar="5..600")
    options = parser.parse_args()
    with class_server.served() as server:
        began = time.monotonic()
        with ThreadPoolExecutor(options.learners) as pool:
            learners = list(pool.map(lambda place: Learner(server.address, place), range(options.learners)))
        print(
            f"{options.learners} learners signed in at once and had their page after {time.monotonic() - began:.0f} s",
            flush=True,
        )
        hub = server.hub.pid
        round_of(learners, options.seconds, "all", hub)
        learners[0].kernel.send("execute_request", {"code": LOOP, "silent": False})
        round_of(learners[1:], options.seconds / 2, "one in an endless loop", hub)
        said = learners[1].kernel.run(TAKE)
        print(f"one that takes memory: {said.strip().splitlines()[-1] if said.strip() else 'ended'}")
        round_of(learners[2:], options.seconds / 2, "after one took memory, one still in its loop", hub)
        wrong = [one.name for one in learners[1:] if not one.kept()]
        print(
            f"answers: {sum(len(one.given) for one in learners)} given; "
            + (f"NOT as given: {wrong}" if wrong else "all kept, none mixed")
        )
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
