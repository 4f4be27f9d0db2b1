"""How the workbook's JupyterLab server behaves; `environment.py` puts this folder in force.

The other files here: `own_pages` (which pages run by themselves), `labconfig` (what JupyterLab shows), `labextensions` (how pages behave in it), `custom` (the
look of the notebook page) and `ipython` (the kernel).
"""

import sys
from pathlib import Path

import nbformat
from ipykernel.ipkernel import IPythonKernel
from jupyter_server.services.contents.largefilemanager import AsyncLargeFileManager

sys.path.insert(0, str(Path(__file__).parent))
from own_pages import unchanged

c = get_config()  # noqa: F821 (JupyterLab provides it)

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def keep_pictures_only(model, **_):
    """Save a panel as its picture and sentence: its widgets end with the kernel, and would hide them the next day."""
    if model["type"] != "notebook" or model.get("content") is None:
        return
    model["content"]["metadata"].pop("widgets", None)
    model["content"]["metadata"]["language_info"] = {"name": "python"}
    for cell in model["content"]["cells"]:
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)


class Pages(AsyncLargeFileManager):
    """Gives out a page with the kernel's own words on its language, which JupyterLab would else write into it on opening.

    A page that is only opened then does not count as changed. Pages as they came with the workbook are signed by
    Jupyter's own notary at the start, so that they may run by themselves; a page that a reader saves, Jupyter signs.
    """

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.register_pre_save_hook(keep_pictures_only)
        for page in unchanged(Path(self.root_dir)):
            self.notary.sign(nbformat.read(page, as_version=4))

    async def get(self, path, content=True, type=None, format=None, **further):
        """A file or folder as the server's own manager gives it; raises what that one raises."""
        model = await super().get(path, content, type, format, **further)
        if content and model["type"] == "notebook":
            model["content"]["metadata"]["language_info"] = dict(IPythonKernel.language_info)
        return model


c.ServerApp.contents_manager_class = Pages

# This extension translates settings of older programs, of which there are none, and prints a warning at each start.
c.ServerApp.jpserver_extensions = {"notebook_shim": False}

c.LabApp.custom_css = True
c.LabApp.extension_manager = "readonly"

# Open the page itself, not a redirecting file: some browsers may not read files in hidden folders.
c.ServerApp.use_redirect_file = False
# Another port than the one asked for would make the printed address wrong.
c.ServerApp.port_retries = 0
# Ctrl-C stops without a further question; the root user of a container may start the workbook too.
c.ServerApp.answer_yes = True
c.ServerApp.allow_root = True
# The terminal stays quiet unless something is wrong.
c.Application.log_level = "ERROR"

# The file list offers the lessons only, and the lessons run in this environment only.
c.ContentsManager.hide_globs = ["__pycache__", "*.py", "*.pyc", "*~", ".*"]
c.KernelSpecManager.allowed_kernelspecs = {"python3"}
