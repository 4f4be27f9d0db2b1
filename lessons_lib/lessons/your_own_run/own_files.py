"""Where layouts come from and where files of the reader go: Tern Bank's three, the template, and a folder of their
own.
"""

import tomllib
from html import escape
from pathlib import Path
from urllib.parse import quote

import ipywidgets as widgets

from ...panels.readout import EDGES
from ...quantities.errors import InputError, unknown_name
from ...storage import preferences
from ...storage.tables import DATA

READY = DATA / "layouts"
TEMPLATE = "template"
FIRST = "bunk_cabin"
FILES_PAGE = "/files"  # in a room: the learner's own files
ROOM_FILES = f"Give the name of a file of your own; they are listed on the page {FILES_PAGE} of this room."
NOT_IN_NAMES = '/\\:*?"<>|'


def ready_made() -> dict:
    """Title → file of Tern Bank's layouts and of the template, the first to open first."""
    files = sorted(READY.glob("*.toml"), key=lambda file: (file.stem != FIRST, file.stem == TEMPLATE, file.stem))
    return {_title(file): file for file in files}


def _title(file: Path) -> str:
    """The building's own name; of a file that cannot be read the file's, for opening it says what is wrong."""
    try:
        name = str(tomllib.loads(file.read_text(encoding="utf-8"))["name"])
    except (OSError, ValueError, KeyError):
        return file.name
    return f"Template: {name}" if file.stem == TEMPLATE else f"{name} (Tern Bank, invented)"


def own() -> dict:
    """Title → file of what lies in the reader's own folder."""
    folder = preferences.layouts_folder()
    return {file.name: file for file in sorted(folder.glob("*.toml"))} if folder.is_dir() else {}


def found(typed: str) -> Path:
    """The file that a reader typed: a name in their own folder or, where the computer is their own, a whole path.

    Raises InputError with the nearest name.
    """
    text, room = typed.strip(), preferences.in_room()
    try:
        # in a room a name is a name: no way out of the learner's folder can be written with one
        file = Path(f"{plain_name(text)}.toml") if room else Path(text).expanduser()
        file = file if file.suffix else file.with_name(f"{file.name}.toml") if file.name else file
        file = (preferences.layouts_folder() / file).resolve()
        there = file.is_file() and not (room and file.parent != preferences.layouts_folder().resolve())
    except (OSError, ValueError, RuntimeError):  # no file can have this name; a home folder of nobody
        there = False
    if not there:
        known = list(own()) or list(ready_made())
        folder = preferences.layouts_folder()
        where = ROOM_FILES if room else f"Your own files lie in {folder}; elsewhere give the whole path."
        raise unknown_name("file", text, known, where)
    return file


def home_of(file: Path) -> Path:
    """Where files made from a layout go: beside it, or to the reader's own folder where it came with the workbook."""
    return preferences.layouts_folder() if _is_ready_made(file) else file.parent


def told_home(file: Path) -> str:
    """Where files made from a layout go, as HTML; in a room with the link to where the learner finds them."""
    if not preferences.in_room():
        return escape(f"Files go to {home_of(file)}")
    return f'Files go to <a href="{FILES_PAGE}" target="_blank">your files</a> in this room'


def told_written(path: Path) -> str:
    """The link, as HTML, by which a learner in a room saves a written file; nothing where the computer is the reader's own."""
    if not preferences.in_room():
        return ""
    return f'Written: <a href="{FILES_PAGE}/{quote(path.name)}" download>{escape(path.name)}</a>'


def _is_ready_made(file: Path) -> bool:
    """Whether it came with the workbook, however its path is written."""
    return file.resolve().parent == READY.resolve()


def first_name(file: Path) -> str:
    """The name, without its ending, that is suggested for files made from a layout."""
    return f"my-{file.stem.replace('_', '-')}" if _is_ready_made(file) else file.stem


def plain_name(typed: str) -> str:
    """A name for a file without folder and ending. Raises InputError."""
    name = typed.strip().removesuffix(".toml").strip()
    if (
        not name
        or name.startswith(".")
        or len(name) > 80
        or any(sign in NOT_IN_NAMES or not sign.isprintable() for sign in name)
    ):
        raise InputError(
            f'name: "{typed}" can\'t be the name of a file. Use letters, numbers and dashes, like "my-house"; the'
            " folder is named beside it."
        )
    return name


class Writer:
    """A button that writes one file and says where. Over a file that is there it writes on a second press only, and the
    button says so.

    target : () → Path; write : (path, whether it may write over a file) → words or nothing; tell : (words,
        the file or None) → shown in a status line
    Both may raise InputError, which is told.
    """

    def __init__(self, title: str, target, write, tell):
        self.title, self.target, self.write, self.tell, self.asked = title, target, write, tell, None
        self.button = widgets.Button(layout={"width": "auto"})
        self.button.on_click(lambda _: self.press())
        self.calm()

    def calm(self) -> None:
        """Back to the first press: the reader did something else."""
        self.asked, self.button.description, self.button.tooltip = None, self.title, self.title
        self.button.style.button_color = self.button.style.text_color = None

    def press(self) -> None:
        """Write, or ask first."""
        written = None
        try:
            path = self.target()
            if path.exists() and path != self.asked:
                self._ask(path)
                return
            path.parent.mkdir(parents=True, exist_ok=True)
            words = self.write(path, path == self.asked)
        except InputError as error:
            words = f"▲ Not written. {error}"
        except OSError as reason:
            folder = "of your files" if preferences.in_room() else path.parent
            words = f"▲ Not written: the folder {folder} can't be used ({reason.strerror}). Choose another."
        else:
            written, place = path, path.name if preferences.in_room() else path
            words = f"● Written: {place}. {words or ''}".strip()
        self.calm()
        self.tell(words, written)

    def _ask(self, path: Path) -> None:
        self.calm()
        self.asked, self.button.style.button_color, self.button.style.text_color = path, EDGES[1], "#ffffff"
        self.button.description = self.button.tooltip = f"Write over {path.name}"
        self.tell(
            f"▲ {path.name} is there already{'' if preferences.in_room() else f', in {path.parent}'}. Press again to"
            " write over it, or change the name.",
            None,
        )
