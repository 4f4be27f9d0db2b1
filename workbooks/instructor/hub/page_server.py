"""A learner's own server: the pages as Voilà shows them, and nothing else. Its idle pages end, and after them it ends itself."""

import os

from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager

c = get_config()  # noqa: F821 (the server provides it)

PAGES = 3  # open at once; each is a Python of its own
idle = int(60 * float(os.environ["HOT_WATER_RUNS_IDLE"]))  # [s]


class FewPages(AsyncMappingKernelManager):
    """Ends the page that was used longest ago when one more than PAGES is opened."""

    async def start_kernel(self, **kwargs):
        oldest_first = sorted((self.get_kernel(one).last_activity, one) for one in self.list_kernel_ids())
        for _, one in oldest_first[: max(0, len(oldest_first) - PAGES + 1)]:
            await self.shutdown_kernel(one, now=True)
        return await super().start_kernel(**kwargs)


c.ServerApp.kernel_manager_class = FewPages
c.ServerApp.jpserver_extensions = {
    "voila.server_extension": True,
    "jupyterlab": False,
    "jupyter_lsp": False,
    "jupyter_server_terminals": False,
    "notebook_shim": False,
}
c.ServerApp.terminals_enabled = False
c.ServerApp.enable_mathjax = False  # no page has formulas, and it would come from a public server
c.ServerApp.shutdown_no_activity_timeout = idle
c.MappingKernelManager.cull_idle_timeout = idle
c.MappingKernelManager.cull_interval = min(60, idle)
c.MappingKernelManager.cull_connected = True  # a browser left open all night
c.KernelManager.transport = "ipc"  # sockets in the learner's folder, which no other learner can open
c.VoilaConfiguration.template = "room"
c.VoilaConfiguration.strip_sources = True
c.VoilaConfiguration.show_tracebacks = False
c.Application.log_level = "ERROR"
