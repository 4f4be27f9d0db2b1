"""The lessons as an application without code cells, for the machines of a room: pages for learners only, served by Voilà.

Standard library only, like environment.py.
"""

import json
import os
import re
import secrets
import shutil
import socket
from pathlib import Path

from environment import LAB_SETTINGS, WORKBOOKS, SetupProblem, lean_kernel

IDLE = 300  # [s] after which the Python of a page that nobody looks at any more is ended
LEFT_OUT = "## For the instructor"
# What is said on a page that only holds where there are cells to run, or pages for the instructor.
UNSAID = tuple(
    re.compile(text)
    for text in (
        r"\*\*To make this page work:.*?\*\*( If it stays empty, [^.]*\.)?( Then read from top to bottom\.)?",
        r" ?For instructors: .*?\]\(instructor/[^)]*\)\.",
        r"\[[^\]]*\]\(instructor/[^)]*\)",
        r": the grey lines with[^.]*(?=\.)",
        r"Units are remembered, .* sent nowhere\.",
    )
)
# Voilà's own look asks a public server for icons that nothing here uses: the browser is told to load from this machine only.
LOOK = """{%- extends 'voila/templates/lab/index.html.j2' -%}
{%- block html_head_js -%}
<meta http-equiv="Content-Security-Policy" content="style-src 'self' 'unsafe-inline'; font-src 'self' data:; img-src 'self' data: blob:">
{{ super() }}
{%- endblock html_head_js -%}
"""
RISKS = """Before you give this address away:
  * Everybody who has the address with its code can open the pages and use this computer's time. Give it to the room only, on a
    network that you trust: nothing on the way is encrypted.
  * Each open page is a Python of its own here, with up to 200 MB of memory: a room of 20 needs 4 GB and more.
  * Answers and names are kept on this computer, in the folder that the class board reads.
  * Pages open in the units that this computer's own workbook was set to last; what a learner chooses holds for the page."""


def room_pages(folder: Path, source: Path = WORKBOOKS) -> None:
    """Copy the learners' pages: no page and no part for the instructor, and no word on running cells, for they run by themselves."""
    for file in sorted(source.glob("*.ipynb")):
        page = json.loads(file.read_text(encoding="utf-8"))
        page["cells"] = _for_learners(page["cells"])
        (folder / file.name).write_text(json.dumps(page), encoding="utf-8")


def _for_learners(cells: list) -> list:
    kept, inside = [], False
    for cell in cells:
        text = "".join(cell["source"])
        if cell["cell_type"] == "markdown" and text.startswith("## "):
            inside = text.startswith(LEFT_OUT)
        if inside:
            continue
        if cell["cell_type"] == "markdown":
            for unsaid in UNSAID:
                text = unsaid.sub("", text)
            cell["source"] = text
        kept.append(cell)
    return kept


def lay_out(folder: Path, look: str = LOOK) -> None:
    """Put the learners' pages, the kernel and its settings, and the look of the application, `room`, into a folder."""
    pages = folder / "pages"
    pages.mkdir(parents=True)
    room_pages(pages)
    shutil.copytree(str(LAB_SETTINGS / "ipython"), str(folder / "ipython"))
    lean_kernel(folder / "data")
    template = folder / "data" / "voila" / "templates" / "room"
    template.mkdir(parents=True)
    (template / "conf.json").write_text('{"base_template": "lab"}', encoding="utf-8")
    (template / "index.html.j2").write_text(look, encoding="utf-8")


def room_command(
    python: Path, address: str, port: "int | None", state: Path
) -> "tuple[list[str], dict[str, str], str]":
    """Return the arguments and variables that serve the lessons at an address of this machine, and what learners type.

    `state` is emptied: the pages are copied there anew for each start. Raises SetupProblem: no address of this machine.
    """
    port = port_at(address, port)
    if state.exists():
        shutil.rmtree(str(state))
    lay_out(state)
    code = secrets.token_hex(3)
    arguments = [
        str(python),
        "-m",
        "voila",
        str(state / "pages"),
        "--no-browser",
        "--Voila.ip={}".format(address),
        "--port={}".format(port),
        "--Voila.port_retries=0",
        "--Voila.token={}".format(code),
        "--template=room",
        "--VoilaConfiguration.strip_sources=True",
        "--VoilaConfiguration.show_tracebacks=False",
        "--MappingKernelManager.cull_interval=60",
        "--MappingKernelManager.cull_idle_timeout={}".format(IDLE),
        "--Application.log_level=ERROR",
    ]
    variables = {name: value for name, value in os.environ.items() if not name.startswith("JUPYTER")}
    variables.update(
        JUPYTER_CONFIG_DIR=str(state / "config"),
        JUPYTER_DATA_DIR=str(state / "data"),
        JUPYTER_RUNTIME_DIR=str(state / "runtime"),
        IPYTHONDIR=str(state / "ipython"),
        HOT_WATER_RUNS_ROOM="1",
    )
    return arguments, variables, "http://{}:{}/voila/render/start-here.ipynb?token={}".format(address, port, code)


def port_at(address: str, port: "int | None", option: str = "room") -> int:
    """The port that was asked for or any free one, at an address that must be this machine's own; never at all of them at once."""
    try:
        with socket.socket() as probe:
            probe.bind((address, port or 0))
            found, port = probe.getsockname()
    except (OSError, OverflowError, UnicodeError) as reason:
        raise SetupProblem(
            "{} can't be used ({}): please name an address that this computer has in the room's network, "
            "for example --{} 192.168.1.20, then give the same command again.".format(address, reason, option)
        ) from None
    if found == "0.0.0.0":
        raise SetupProblem("Please name one address of this computer, not all of them: other networks may listen too.")
    return port
