"""The Pythons behind the pages of a room: started ahead with the lessons read, handed to one member, and only that member's.

Voilà's own preheating runs whole pages before anybody asks for them. That cannot be used here: name, seat and folder of the
learner must be known before the first cell runs. So a kernel waits with everything imported and no cell run, and the server
itself tells it whose it is.
"""

import asyncio
import os
import sys
import time
from collections import deque
from contextvars import ContextVar

from jupyter_client.ioloop.restarter import AsyncIOLoopKernelRestarter
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager, ServerKernelManager
from tornado import web
from traitlets import Float, Integer, Type, default

from . import door
from .forked import ForkedProvisioner

AHEAD = 3  # kernels that wait for the next pages
EACH = 6  # open pages of one member; with one more, the one that was longest untouched falls asleep
IDLE = 100 * 60  # [s] that a page without a browser is kept: longer than any bench of data/session_minutes.csv
LOOKED_AFTER = 2.0  # [s] between two looks whether a kernel is still alive
PATIENCE = 90.0  # [s] that a kernel may take to start
PAUSE = 1.0  # [s] before another kernel is started ahead, once there are pages: whoever opens one comes first
FORKS = sys.platform == "linux"
KERNEL = "python3"
# widgets that were read before there was a kernel are told now that there is one
WARM = "import lessons_lib.panels, ipywidgets; ipywidgets.register_comm_target()"
TOLD = "import os; os.environ.update({!r})"
# what the page that asks for a kernel says about its member: account, name, seat, folder
asking: ContextVar = ContextVar("asking")


class NeverRestarted(AsyncIOLoopKernelRestarter):
    """A kernel that ended is gone with all that its page knew: it is not replaced by one that knows nothing."""

    restart_limit, time_to_dead = Integer(0), Float(LOOKED_AFTER)


class PageKernel(ServerKernelManager):
    """One page's kernel: a fork where the system does that well, elsewhere a program like any other."""

    restarter_class = Type(NeverRestarted)

    async def _async_pre_start_kernel(self, **options):
        if FORKS and self.provisioner is None:
            self.provisioner = ForkedProvisioner(
                kernel_id=options["kernel_id"], kernel_spec=self.kernel_spec, parent=self
            )
        return await super()._async_pre_start_kernel(**options)


class RoomKernels(AsyncMappingKernelManager):
    """Keeps kernels started ahead, gives each page one that knows its member, and knows whose it is."""

    ahead = Integer(AHEAD, help="kernels that wait for the next pages", config=True)

    def __init__(self, **options):
        super().__init__(**options)
        self._owners: dict[str, str] = {}
        self._waiting: deque[str] = deque()
        self._opening, self._filling = 0, None

    @default("kernel_manager_class")
    def _class_of_one(self):
        return f"{PageKernel.__module__}.{PageKernel.__name__}"

    @default("cull_idle_timeout")
    def _idle_end(self):
        return IDLE

    @default("cull_interval")
    def _minute(self):
        return 60

    def owner_of(self, kernel_id: str) -> "str | None":
        """Gives the account of the member whose kernel this is; None: nobody's, or it is not there (any more)."""
        return self._owners.get(kernel_id)

    def pages_of(self, account: str) -> list[str]:
        """Gives the kernels of a member's open pages, the one that was longest untouched first."""
        own = [kernel_id for kernel_id, owner in self._owners.items() if owner == account]
        return sorted(own, key=lambda kernel_id: self.get_kernel(kernel_id).last_activity)

    async def end_pages_of(self, account: str) -> None:
        """Ends all pages of a member, who left or was removed. What was answered or half typed is kept already."""
        for kernel_id in self.pages_of(account):
            await self.shutdown_kernel(kernel_id, now=True)

    async def start_kernel(self, **_) -> str:
        """Gives the page that asks a kernel that knows its member.

        The variables that Voilà sends along are left out: no lesson reads them, and what a browser sends stays outside.
        Raises HTTPError: it did not start.
        """
        account, member, folder = asking.get()
        self._opening += 1
        try:
            while len(own := self.pages_of(account)) >= EACH:
                await self.shutdown_kernel(own[0], now=True)
            kernel_id = self._next_waiting() or await self._started()
            known = {
                "HOT_WATER_RUNS_FOLDER": str(folder),
                "HOT_WATER_RUNS_NAME": member.name,
                "HOT_WATER_RUNS_SEAT": member.seat,
                "HOT_WATER_RUNS_ROOM": "1",
            }
            await self._run(kernel_id, TOLD.format(known))
            self._owners[kernel_id] = account
        finally:
            self._opening -= 1
            self.fill()
        return kernel_id

    def fill(self) -> None:
        """Starts kernels ahead in the background: when the room is opened, and whenever one was handed out."""
        if self._filling is None or self._filling.done():
            self._filling = asyncio.get_running_loop().create_task(self._fill())

    async def _fill(self) -> None:
        """One after the other, and none while a page waits for its own."""
        while len(self._waiting) < self.ahead:
            await asyncio.sleep(PAUSE if self._owners or self._opening else 0.0)
            if not self._opening:
                self._waiting.append(await self._started())

    def _next_waiting(self) -> "str | None":
        """Takes a kernel that waits, if there is one that has not ended meanwhile."""
        while self._waiting:
            if (kernel_id := self._waiting.popleft()) in self:
                return kernel_id
        return None

    async def _started(self) -> str:
        """Starts a kernel and lets it read the lessons."""
        kernel_id = await super().start_kernel(kernel_name=KERNEL, path="", env=dict(os.environ))
        await self._run(kernel_id, WARM)
        return kernel_id

    async def _run(self, kernel_id: str, code: str) -> None:
        """Lets a kernel do something of the server's own, unseen by its page. Raises HTTPError: it did not."""
        client = self.get_kernel(kernel_id).client()
        client.start_channels()
        try:
            await client.wait_for_ready(timeout=PATIENCE)
            reply = await client.execute(code, silent=True, reply=True, timeout=PATIENCE)
        except (RuntimeError, TimeoutError) as reason:
            await self.shutdown_kernel(kernel_id, now=True)
            raise web.HTTPError(503, f"a page's Python did not start: {reason}") from None
        finally:
            client.stop_channels()
        if reply["content"]["status"] != "ok":
            raise web.HTTPError(503, f"a page's Python did not start: {reply['content']}")

    async def cull_kernel_if_idle(self, kernel_id: str) -> None:
        """Ends a page that was left; a kernel that waits for its page may wait as long as it likes."""
        if kernel_id in self._owners:
            await super().cull_kernel_if_idle(kernel_id)

    async def shutdown_kernel(self, kernel_id: str, now: bool = False, restart: bool = False):
        """Ends a kernel, which is nobody's from then on."""
        self._owners.pop(kernel_id, None)
        return await super().shutdown_kernel(kernel_id, now=now, restart=restart)

    def _handle_kernel_died(self, kernel_id: str) -> None:
        """Clears away what a kernel leaves that ended by itself."""
        asyncio.get_running_loop().create_task(self.shutdown_kernel(kernel_id, now=True))

    async def shutdown_all(self, now: bool = False) -> None:
        """Ends all kernels, when the room is closed."""
        if self._filling is not None:
            self._filling.cancel()
        self._owners.clear()
        await super().shutdown_all(now=now)


class Awake(door.Guarded, web.RequestHandler):
    """Asked by an open page every few seconds: its kernel is there as long as this answers with the member's account."""

    def get(self, kernel_id: str) -> None:
        """Answers; the door has refused whoever asks for a kernel that is not theirs, or is gone."""
        account = door.current_member(self)
        self.room.awake[account] = time.time()
        self.set_header("Cache-Control", "no-store")
        self.finish(account)


def handlers(room) -> list:
    """The pages of this part of the room."""
    return [(r"/awake/(?P<kernel_id>[\w-]+)", Awake)]
