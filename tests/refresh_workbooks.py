"""Run every workbook (or those named) and store its pictures and sentences.

    .venv/bin/python tests/refresh_workbooks.py [name.ipynb ...]

A workbook then reads well before it is run, on paper and as a web page, and nbval holds its sentences against
the library. Cells tagged "not-stored" (with nbval's own tag beside it) keep no output. Only what survives without a kernel is stored: no widget state, no widget views.
"""

import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

WORKBOOKS = Path(__file__).resolve().parent.parent / "workbooks"
sys.path.insert(0, str(WORKBOOKS / ".jupyterlab"))
from own_pages import write  # noqa: E402

WIDGET_VIEW = "application/vnd.jupyter.widget-view+json"


def refresh(path: Path) -> None:
    """Run one workbook and store its outputs."""
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(notebook, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}).execute()
    notebook.metadata.pop("widgets", None)
    notebook.metadata["language_info"] = {"name": "python"}
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        if "not-stored" in cell.metadata.get("tags", []):
            cell.outputs = []
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(WIDGET_VIEW, None)
    nbformat.write(notebook, path)


if __name__ == "__main__":
    # The stored words are in metric units, whatever the person who runs this has chosen.
    os.environ["HOT_WATER_RUNS_FOLDER"] = tempfile.mkdtemp()
    for name in sys.argv[1:] or sorted(
        str(file.relative_to(WORKBOOKS))
        for file in WORKBOOKS.rglob("*.ipynb")
        if ".ipynb_checkpoints" not in file.parts
    ):
        refresh(WORKBOOKS / name)
        print(f"stored {name}")
    write(WORKBOOKS)
