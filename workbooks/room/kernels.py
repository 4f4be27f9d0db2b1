"""The Pythons behind the pages of a room: each belongs to one member."""

import os
from contextvars import ContextVar

from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager

# what the page that asks for a kernel says about its member: account, name, seat, folder
asking: ContextVar = ContextVar("asking")


class RoomKernels(AsyncMappingKernelManager):
    """Starts each kernel in its member's own folder, and knows whose it is."""

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self._owners = {}

    async def start_kernel(self, *, env=None, **kwargs):
        """Start a kernel for the member whose page asks for it."""
        account, member, folder = asking.get()
        env = {
            **(os.environ if env is None else env),
            "HOT_WATER_RUNS_FOLDER": str(folder),
            "HOT_WATER_RUNS_NAME": member.name,
            "HOT_WATER_RUNS_SEAT": member.seat,
            "HOT_WATER_RUNS_ROOM": "1",
        }
        kernel_id = await super().start_kernel(env=env, **kwargs)
        self._owners[kernel_id] = account
        return kernel_id

    def owner_of(self, kernel_id: str) -> "str | None":
        """The account of the member whose kernel this is; None: nobody's."""
        return self._owners.get(kernel_id)


def handlers(room) -> list:
    """The pages of this part of the room."""
    return []
