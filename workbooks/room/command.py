"""The lessons as an application without code cells, for the machines of a room: pages for learners only, served by Voilà.

Standard library only, like environment.py.
"""

import errno
import json
import os
import re
import shutil
import socket
from pathlib import Path

from environment import LAB_SETTINGS, WORKBOOKS, SetupProblem, lean_kernel

LEFT_OUT = "## For the instructor"
SHARED = ("names.js", "folds.js", "legs.js")  # scripts of the workbook's JupyterLab that a room's pages have too
# What is said on a page that only holds where there are cells to run, or pages for the instructor.
UNSAID = tuple(
    re.compile(text)
    for text in (
        r"\*\*This page starts by itself\.\*\* .*? above the page\.",
        r" ?For instructors: .*?\]\(instructor/[^)]*\)\.",
        r"\[[^\]]*\]\(instructor/[^)]*\)",
        r"Your answers and your guesses are kept on this computer and sent nowhere\. ?",
        r"Units are remembered, and on a computer of your own your name too\.",
    )
)
# Voilà's own look asks a public server for icons that nothing here uses: the browser is told to load from this machine only.
LOOK = """{%- extends 'voila/templates/lab/index.html.j2' -%}
{%- block html_head_js -%}
<meta http-equiv="Content-Security-Policy" content="style-src 'self' 'unsafe-inline'; font-src 'self' data:; img-src 'self' data: blob:">
<script>{% include 'asleep.js' %}</script>
<script>{% include 'names.js' %}</script>
<script>{% include 'folds.js' %}</script>
<script>{% include 'legs.js' %}</script>
<script>addEventListener('load', hotWaterFoldsOfRoom)</script>
<style>{% include 'custom.css' %}</style>
{{ super() }}
{%- endblock html_head_js -%}
"""
RISKS = """Before you give the address away:
  * Everybody who has the address and the code can open the pages and use this computer's time. Give both to the room
    only.
  * {line}
  * Each open page is a program of its own on this computer. Thirty pages took 2 GB of memory when that was measured.
    Count 100 MB for each page to be safe.
  * Names, answers and all that learners make are kept on this computer, in the folder {state}. You can read them. The
    learners read at the door what is kept, and that you delete it when they ask."""
OPEN_LINE = (
    "Nothing on the way is encrypted: others in the same network can read along, the code and the learners' own words "
    "too.\n    Use a network that you trust, or --certificate and --key."
)
ENCRYPTED_LINE = "The line is encrypted with your certificate. Browsers warn where they do not know who made it."


def room_risks(encrypted: bool) -> str:
    """What whoever opens a room should know before."""
    return RISKS.format(line=ENCRYPTED_LINE if encrypted else OPEN_LINE, state=state_folder())


def room_pages(folder: Path, handed_out=None, source: Path = WORKBOOKS) -> None:
    """Copy the learners' pages: no page and no part for the instructor, and no word on running cells, for they run by themselves.

    handed_out : numbers of the lessons that learners get, ("01", "02"); None: all
    """
    files = sorted(source.glob("*.ipynb"))
    closed = [] if handed_out is None else [file.name for file in files if not _is_handed_out(file.name, handed_out)]
    for file in files:
        if file.name not in closed:
            page = json.loads(file.read_text(encoding="utf-8"))
            page["cells"] = _for_learners(page["cells"], closed)
            (folder / file.name).write_text(json.dumps(page), encoding="utf-8")


def _is_handed_out(page: str, handed_out) -> bool:
    """Says whether a page is a lesson that learners get, or no lesson at all, as the start page."""
    return not page[:2].isdigit() or page[:2] in handed_out


def _without_links(text: str, closed: "list[str]") -> str:
    """Takes out of a page's words the rows of the start page's table that lead to closed lessons, and says it of other links."""
    for page in closed:
        link = r"\[([^\]]*)\]\({}\)".format(re.escape(page))
        text = re.sub(r"^\| *{}.*\n?".format(link), "", text, flags=re.MULTILINE)
        text = re.sub(link, r"\1 (not handed out)", text)
    return text


def _for_learners(cells: list, closed: "list[str]") -> list:
    """The cells of a page that learners get. closed : pages of lessons that are not handed out"""
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
            cell["source"] = _without_links(text, closed)
        kept.append(cell)
    return kept


def lay_out(folder: Path, look: str = LOOK, handed_out=None) -> None:
    """Put the learners' pages, the kernel and its settings, and the look of the application, `room`, into a folder.

    handed_out : see room_pages
    """
    if folder.exists():
        shutil.rmtree(str(folder))
    pages = folder / "pages"
    pages.mkdir(parents=True)
    room_pages(pages, handed_out)
    shutil.copytree(str(LAB_SETTINGS / "ipython"), str(folder / "ipython"))
    lean_kernel(folder / "data")
    template = folder / "data" / "voila" / "templates" / "room"
    template.mkdir(parents=True)
    (template / "conf.json").write_text('{"base_template": "lab"}', encoding="utf-8")
    (template / "index.html.j2").write_text(look, encoding="utf-8")
    shutil.copy(str(Path(__file__).with_name("asleep.js")), str(template))
    scripts = LAB_SETTINGS / "labextensions" / "hot-water-runs" / "static"
    for shared in (*map(scripts.joinpath, SHARED), LAB_SETTINGS / "custom" / "custom.css"):
        shutil.copy(str(shared), str(template))


def room_command(
    python: Path,
    address: str,
    port: "int | None" = None,
    code: "str | None" = None,
    seats: bool = False,
    certificate: "Path | None" = None,
    key: "Path | None" = None,
) -> "tuple[list[str], dict[str, str]]":
    """Return the arguments and variables that serve the lessons at an address of this machine.

    port : None: the one of last time if it is free, so that pages that stayed open find the room again, or any other
    Raises SetupProblem: no address of this machine.
    """
    state = state_folder()
    port = port_at(address, port) if port else _port_again(address, state)
    served = state / "served"
    arguments = [str(python), "-m", "room", "--state", str(state), "--address", address, "--port", str(port)]
    for option, value in (("--code", code), ("--certificate", certificate), ("--key", key)):
        if value is not None:
            arguments += [option, str(value)]
    if seats:
        arguments.append("--seats")
    variables = {name: value for name, value in os.environ.items() if not name.startswith("JUPYTER")}
    variables.update(
        PYTHONPATH=os.pathsep.join(filter(None, (str(WORKBOOKS), os.environ.get("PYTHONPATH")))),
        JUPYTER_CONFIG_DIR=str(served / "config"),
        JUPYTER_DATA_DIR=str(served / "data"),
        JUPYTER_RUNTIME_DIR=str(served / "runtime"),
        IPYTHONDIR=str(served / "ipython"),
    )
    return arguments, variables


def state_folder() -> Path:
    """Where a room keeps what outlives it: the folder `room` in the reader's own folder."""
    named = os.environ.get("HOT_WATER_RUNS_FOLDER")
    return (Path(named) if named else Path.home() / ".hot-water-runs").resolve() / "room"


def _port_again(address: str, state: Path) -> int:
    try:
        return port_at(address, int(json.loads((state / "room.json").read_text(encoding="utf-8"))["port"]))
    except (OSError, ValueError, KeyError, TypeError, SetupProblem):
        return port_at(address, None)


def port_at(address: str, port: "int | None", option: str = "room") -> int:
    """The port that was asked for or any free one, at an address that must be this machine's own; never at all of them at once."""
    try:
        with socket.socket() as probe:
            if os.name == "posix":  # a room that was closed a minute ago does not keep its port
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((address, port or 0))
            found, port = probe.getsockname()
    except (OSError, OverflowError, UnicodeError) as reason:
        if getattr(reason, "errno", None) == errno.EADDRINUSE:
            raise SetupProblem(
                "Port {} at {} is taken: another room may be open there. Close it, or name another port, for example "
                "--port {}.".format(port, address, port + 1)
            ) from None
        raise SetupProblem(
            "{} can't be used ({}): please name an address that this computer has in the room's network, "
            "for example --{} 192.168.1.20, then give the same command again.".format(address, reason, option)
        ) from None
    if found == "0.0.0.0":
        raise SetupProblem("Please name one address of this computer, not all of them: other networks may listen too.")
    return port
