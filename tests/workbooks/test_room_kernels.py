"""The Pythons behind a room's pages: there before they are asked for, told whose they are, and kept long enough."""

import asyncio
import csv
import re
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest
from room_visitor import in_own_loop

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "workbooks"))
kernels = pytest.importorskip("room.kernels", reason='install the extra "room" to run this test')


def test_a_page_outlives_the_longest_bench():
    lines = (ROOT / "data" / "session_minutes.csv").read_text(encoding="utf-8").splitlines()
    longest = max(
        int(row["hands"]) + int(row["wait"])
        for row in csv.DictReader(line for line in lines if not line.startswith("#"))
    )
    assert kernels.IDLE >= 60 * (longest + 10) and kernels.RoomKernels().cull_idle_timeout == kernels.IDLE


class Rehearsed(kernels.RoomKernels):
    """The manager without any Python: what is started, told and ended is written down."""

    def __init__(self, **options):
        super().__init__(**options)
        self.there, self.told, self.slow, self.begun = {}, {}, 0.0, 0

    async def _started(self):
        kernel_id, self.begun = f"kernel-{self.begun}", self.begun + 1
        self.there[kernel_id] = SimpleNamespace(last_activity=self.begun)
        await asyncio.sleep(self.slow)
        return kernel_id

    async def _run(self, kernel_id, code):
        self.told[kernel_id] = code

    async def shutdown_kernel(self, kernel_id, now=False, restart=False):
        self._owners.pop(kernel_id, None)
        del self.there[kernel_id]

    def get_kernel(self, kernel_id):
        return self.there[kernel_id]

    def __contains__(self, kernel_id):
        return kernel_id in self.there


def opened(manager, account: str, name: str = "Ana"):
    """A page of a member."""
    kernels.asking.set((account, SimpleNamespace(name=name, seat="7"), Path("/members") / account))
    return manager.start_kernel(kernel_name="python3", env={"HOT_WATER_RUNS_NAME": "Ben"})


async def filled(manager) -> None:
    """Wait until nothing is started ahead any more."""
    while manager._filling is None or not manager._filling.done():
        await asyncio.sleep(0.01)


def test_a_page_gets_a_kernel_that_waited_and_is_told_whose_it_is(monkeypatch):
    monkeypatch.setattr(kernels, "PAUSE", 0.0)

    async def room():
        manager = Rehearsed(ahead=2)
        manager.fill()
        await filled(manager)
        assert list(manager.there) == ["kernel-0", "kernel-1"] and manager.owner_of("kernel-0") is None
        name = 'Ana\'s "x" \\ {0} \n'
        first = await opened(manager, "ana-1", name)
        assert first == "kernel-0" and manager.owner_of(first) == "ana-1" and manager.pages_of("ana-1") == [first]
        del manager.there["kernel-1"]  # it ended while it waited
        assert await opened(manager, "ben-2") not in ("kernel-0", "kernel-1")
        await filled(manager)
        assert len(manager.there) == 2 + manager.ahead
        scope = {}
        exec(manager.told[first].replace("os.environ.update", "kept.update"), {"kept": scope})
        assert scope == {
            "HOT_WATER_RUNS_FOLDER": "/members/ana-1",
            "HOT_WATER_RUNS_NAME": name,
            "HOT_WATER_RUNS_SEAT": "7",
            "HOT_WATER_RUNS_ROOM": "1",
        }

    in_own_loop(room())


def test_whoever_opens_a_page_comes_before_what_is_started_ahead(monkeypatch):
    monkeypatch.setattr(kernels, "PAUSE", 0.01)

    async def room():
        manager = Rehearsed(ahead=1)
        manager.slow = 0.2
        pages = [asyncio.create_task(opened(manager, f"learner-{number}")) for number in range(3)]
        await asyncio.sleep(0.1)
        manager.fill()
        await asyncio.sleep(0.05)
        assert len(manager.there) == 3, "one for each page that waits, and none ahead"
        await asyncio.gather(*pages)
        await filled(manager)
        assert len(manager.there) == 4

    in_own_loop(room())


def test_one_learner_cannot_take_all_memory(monkeypatch):
    monkeypatch.setattr(kernels, "PAUSE", 0.0)

    async def room():
        manager = Rehearsed(ahead=1)
        neighbour = await opened(manager, "ben-2")
        pages = [await opened(manager, "ana-1") for _ in range(kernels.EACH)]
        manager.there[pages[0]].last_activity = 1000  # moved just now
        last = await opened(manager, "ana-1")
        assert sorted(manager.pages_of("ana-1")) == sorted([pages[0], *pages[2:], last])
        assert manager.owner_of(pages[1]) is None and manager.owner_of(neighbour) == "ben-2"
        await manager.end_pages_of("ana-1")
        assert not manager.pages_of("ana-1") and manager.pages_of("ben-2") == [neighbour]

    in_own_loop(room())


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """An open room."""
    from room_visitor import opened as open_room

    with pytest.MonkeyPatch.context() as monkeypatch, open_room(tmp_path_factory.mktemp("room"), monkeypatch) as found:
        yield found


def test_pages_answer_for_their_own_member_and_fall_asleep_alone(room):
    import psutil
    from room_visitor import Visitor

    ana, ben = Visitor(room), Visitor(room)
    ana.enter("Ana")
    ben.enter("Ben")
    pages = {name: who.open()[1] for name, who in (("Ana", ana), ("Ben", ben))}
    accounts = {
        name: ana.ask(f"/awake/{pages['Ana']}").text if name == "Ana" else ben.ask(f"/awake/{pages['Ben']}").text
        for name in pages
    }
    assert re.fullmatch(r"[\w-]+", accounts["Ana"]) and accounts["Ana"] != accounts["Ben"]
    assert ana.ask(f"/awake/{pages['Ben']}").status == 403, "a neighbour's page tells nothing"
    assert ana.ask(f"/awake/{pages['Ana'][:-1]}").status in (403, 404), "a page that never was is asleep"
    forks = [one for one in psutil.Process(room.program.pid).children(recursive=True) if one.ppid() != room.program.pid]
    if kernels.FORKS:
        assert len(forks) >= 2
        private = [one.memory_full_info().uss / 1e6 for one in forks]
        assert max(private) < 75, f"a page takes {max(private):.0f} MB of its own"
    line = ana.socket(pages["Ana"])
    line.close()
    ana.ask(f"/voila/api/shutdown/{pages['Ana']}", {})
    assert ana.ask(f"/awake/{pages['Ana']}").status == 403 and ben.ask(f"/awake/{pages['Ben']}").status == 200


@pytest.mark.skipif(not kernels.FORKS, reason="plain programs watch their parent by themselves")
def test_a_room_that_is_killed_leaves_no_python_behind(room):
    """The last test with this room. One that is ended in good order: see test_room.py."""
    from room_visitor import Visitor, ended_with_all

    ana = Visitor(room)
    ana.enter("Ana")
    ana.open()
    ended_with_all(room, room.program.kill)
