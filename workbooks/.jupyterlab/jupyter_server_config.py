"""How the workbook's JupyterLab server behaves; `environment.py` puts this folder in force.

The other files here: `labconfig` (what JupyterLab shows), `workspaces` (the layout of a fresh
start), `custom` (the look of the notebook page) and `ipython` (the kernel).
"""

c = get_config()  # noqa: F821 (JupyterLab provides it)

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def keep_pictures_only(model, **_):
    """Save a panel as its picture and sentence: its widgets end with the kernel, and would hide them the next day."""
    if model["type"] != "notebook" or model.get("content") is None:
        return
    model["content"]["metadata"].pop("widgets", None)
    for cell in model["content"]["cells"]:
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)


c.FileContentsManager.pre_save_hook = keep_pictures_only

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
