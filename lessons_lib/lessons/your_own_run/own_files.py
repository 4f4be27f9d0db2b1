"""Where layouts come from and where files of the reader go: the school's own building, Tern Bank's three, the template,
and a folder of their own.
"""

import re
from datetime import datetime
from html import escape
from pathlib import Path
from urllib.parse import quote

import ipywidgets as widgets

from ...building.of_school import of_school
from ...building.run_sheet import PAPERS, making, save
from ...building.source import parsed
from ...building.steps import within
from ...panels.controls import label_of
from ...panels.progress import Progress
from ...panels.readout import EDGES
from ...quantities.display import SYSTEMS
from ...quantities.errors import InputError, unknown_name
from ...storage import own_material, preferences
from ...storage.files import plain_name
from ...storage.tables import DATA
from .told import in_table_words

READY = DATA / "layouts"
TEMPLATE = "template"
FIRST = "bunk_cabin"
FILES_PAGE = "/files"  # in a room: the learner's own files
ROOM_FILES = f"Give the name of a file of your own; they are listed on the page {FILES_PAGE} of this room."
MADE = 0.8  # share of a sheet's work when all is in it, and the file is left to be written


def ready_made() -> dict:
    """Title → file of the school's building, of Tern Bank's layouts and of the template, the first to open first."""
    name, _ = of_school()
    school = {f"{name} (your school's)": own_material.opening()} if name else {}
    files = sorted(READY.glob("*.toml"), key=lambda file: (file.stem != FIRST, file.stem == TEMPLATE, file.stem))
    return school | {_title(file): file for file in files}


def cabin_title() -> str:
    """Gives what the menu calls Tern Bank's bunk cabin, of which the lesson's steps and sums speak."""
    return _title(READY / f"{FIRST}.toml")


def _title(file: Path) -> str:
    """The building's own name; of a file that cannot be read the file's, for opening it says what is wrong."""
    try:
        name = str(parsed(file.read_text(encoding="utf-8"))["name"])
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
    """Says where files made from a layout go: beside it, or to the reader's own folder where it came along."""
    return preferences.layouts_folder() if is_ready_made(file) else file.parent


def told_home(file: Path) -> str:
    """Says as HTML where files made from a layout go; in a room with the link to where the learner finds them."""
    if not preferences.in_room():
        return escape(f"Files go to {home_of(file)}")
    return f'Files go to <a href="{FILES_PAGE}" target="_blank">your files</a> in this room'


def told_written(path: Path) -> str:
    """Gives the link, as HTML, by which a learner in a room saves a written file; nothing on the reader's own
    computer.
    """
    if not preferences.in_room():
        return ""
    return f'Written: <a href="{FILES_PAGE}/{quote(path.name)}" download>{escape(path.name)}</a>'


def came_along(file: Path) -> bool:
    """Says whether it came with the workbook, however its path is written."""
    return file.resolve().parent == READY.resolve()


def is_of_school(file: Path) -> bool:
    """Says whether it is the school's own building, however its path is written."""
    return file.resolve() == own_material.opening().resolve()


def is_ready_made(file: Path) -> bool:
    """Says whether it is not the reader's own: it came with the workbook, or it is the school's."""
    return came_along(file) or is_of_school(file)


def first_name(file: Path) -> str:
    """The name, without its ending, that is suggested for files made from a layout."""
    if not is_ready_made(file):
        return file.stem
    plain = re.sub("[^a-z0-9]+", "-", (of_school()[0] if is_of_school(file) else file.stem).lower())[:60].strip("-")
    return f"my-{plain or 'building'}"


class Writer:
    """A button that writes one file and says where. Over a file that is there it writes on a second press only, and the
    button says so. The reader's own file is written at once, unless somebody else changed it meanwhile.

    target : () → Path; write : (path, whether it may write over a file) → words or nothing; tell : (words,
        the file or None) → shown in a status line
    as_read : (path) → whether the file is still as this page read or wrote it, None: the page knows nothing of it
    progress : its bar shows how far `write` is, which then works in steps, see building/steps.py; None: it does not
    All may raise InputError, which is told in the words of `explain`.
    """

    def __init__(self, title: str, target, write, tell, as_read=lambda path: None, explain=str, progress=None):
        self.title, self.target, self.write, self.tell, self.asked = title, target, write, tell, None
        self.progress = progress
        self.as_read, self.explain = as_read, explain
        self.button = widgets.Button(layout={"width": "auto"})
        self.button.on_click(lambda _: self.press())
        self.calm()

    def calm(self) -> None:
        """Back to the first press: the reader did something else."""
        self.asked, self.button.description, self.button.tooltip = None, self.title, self.title
        self.button.style.button_color = self.button.style.text_color = None

    def press(self) -> None:
        """Writes the file, or asks first; while another is being written it waits for a later press."""
        if self.progress and self.progress.busy:
            return
        path = None
        try:
            path = self.target()
            there = path.exists()
            as_read = self.as_read(path) if there else None
            if there and not as_read and _known(path) != self.asked:
                self._ask(path, as_read is False)
                return
            path.parent.mkdir(parents=True, exist_ok=True)
            made = self.write(path, there)
        except (InputError, OSError) as reason:
            self._failed(path, reason)
            return
        if self.progress is None:
            self._written(path, made)
            return
        self.calm()
        self.tell("… Writing", None)
        self.progress.work(
            made, lambda stopped: self._written(path, "", stopped), lambda reason: self._failed(path, reason)
        )

    def _written(self, path: Path, words: str | None, stopped: bool = False) -> None:
        """Says that the file is written, or that the reader stopped it before."""
        self.calm()
        if stopped:
            self.tell("▲ Stopped. Nothing was written.", None)
            return
        place = path.name if preferences.in_room() else path
        self.tell(f"● Written: {place}. {words or ''}".strip(), path)

    def _failed(self, path: Path | None, reason: Exception) -> None:
        """Says why nothing was written. Raises what is a mistake of the program itself."""
        self.calm()
        if isinstance(reason, InputError):
            self.tell(f"▲ Not written. {self.explain(reason)}", None)
        elif isinstance(reason, OSError):
            folder = "of your files" if preferences.in_room() else path.parent
            self.tell(f"▲ Not written: the folder {folder} can't be used ({reason.strerror}). Choose another.", None)
        else:
            self.tell("▲ Not written, by a mistake of the program itself. Tell who set it up.", None)
            raise reason

    def _ask(self, path: Path, changed: bool) -> None:
        """Asks before it writes over a file. changed : it is the reader's own, and somebody else changed it"""
        self.calm()
        self.asked, self.button.style.button_color, self.button.style.text_color = _known(path), EDGES[1], "#ffffff"
        self.button.description = self.button.tooltip = f"Write over {path.name}"
        where = "" if preferences.in_room() else f", in {path.parent}"
        told = (
            f"▲ Not written. Another page or program changed {path.name} at {changed_at(path)}, after it was read here."
            " Press again to write over that. Or press Read again to see it; Undo then brings your work back. Or"
            " change the name."
            if changed
            else f"▲ {path.name} is there already{where}. Press again to write over it, or change the name."
        )
        self.tell(told, None)


def _known(path: Path) -> tuple:
    """Gives what a file is known again by, as it lies on the disk now."""
    found = path.stat()
    return path, found.st_mtime_ns, found.st_size, found.st_ino


def changed_at(file: Path) -> str:
    """Says when a file was changed last, as people say it."""
    when, now = datetime.fromtimestamp(file.stat().st_mtime), datetime.now()
    if when.date() == now.date():
        return f"{when:%H:%M} today"
    return f"{when:%H:%M} on {when.day} {when:%B}{'' if when.year == now.year else f' {when.year}'}"


class Writing:
    """Name, paper, and a button for each file that is made from the layout that is open in a panel.

    parts : widgets, to stand in one row, the last of them the answer beneath the buttons
    where : a line that says to which folder the files go
    """

    def __init__(self, panel):
        self.panel = panel
        self.name = widgets.Text(
            continuous_update=False, tooltip=panel.controls["name"].explained, layout={"width": "190px"}
        )
        self.paper = widgets.Dropdown(
            options=PAPERS,
            value=PAPERS[SYSTEMS.index(panel.system)],
            tooltip=panel.controls["paper"].explained,
            layout={"width": "90px"},
        )
        self.progress = progress = Progress()
        self.writers = [
            Writer("Save the layout", lambda: self._target(".toml"), panel.save, self._tell_written, panel.as_read),
            *(
                Writer(
                    title,
                    target,
                    write,
                    self._tell_written,
                    explain=self._in_table_words,
                    progress=progress if write == self._sheet else None,
                )
                for title, target, write in (
                    ("Sheet as a web page", lambda: self._target(f"-{self.paper.value}.html"), self._sheet),
                    ("Sheet as PDF", lambda: self._target(f"-{self.paper.value}.pdf"), self._sheet),
                    ("Take-off as a table (CSV)", lambda: self._target("-take-off.csv"), self._csv),
                    ("Sheet as tables (CSV)", lambda: self._target("-sheet.csv"), self._sheet),
                )
            ),
        ]
        for box in (self.name, self.paper):
            box.observe(lambda change: self.calm(), "value")
        self.where, self.answer = widgets.HTML(), widgets.HTML(layout={"flex": "1 1 100%", "margin": "0"})
        save, *others = (writer.button for writer in self.writers)
        self.parts = (
            label_of("Name", "44px"),
            self.name,
            save,
            label_of("Paper", "44px"),
            self.paper,
            *others,
            self.progress.widget,
            self.answer,
        )

    def follow(self, file: Path) -> None:
        """Suggests a name for what is made from this layout, and says where it goes."""
        self.name.value = first_name(file)
        self._tell_where(told_home(file))

    def _tell_written(self, words: str, path: Path | None) -> None:
        """Tells what became of a file; in a room with the link by which the learner saves it."""
        self._say(words)
        self._tell_where((path and told_written(path)) or told_home(self.panel.files[self.panel.title]))

    def _say(self, words: str) -> None:
        """Says what became of a file, beside the buttons and in the panel's status line."""
        self.panel._tell(words)
        self.answer.value = (
            f'<span role="status" style="font-size:15px;line-height:1.3">{escape(words)}</span>' if words else ""
        )

    def _tell_where(self, said: str) -> None:
        """Shows HTML under the buttons that write."""
        self.where.value = f'<span style="font-size:15px">{said}</span>'

    def calm(self) -> None:
        """Takes every button back to its first press, for the reader did something else than press twice."""
        self.answer.value = ""
        for writer in self.writers:
            writer.calm()

    def _in_table_words(self, error: InputError) -> str:
        return in_table_words(self.panel.document, error)

    def _target(self, ending: str) -> Path:
        """Gives the path of a file with this ending. Raises InputError."""
        return home_of(self.panel.files[self.panel.title]) / f"{plain_name(self.name.value)}{ending}"

    def _sheet(self, path: Path, replace: bool):
        """Makes the sheet of the layout as it is now, and writes it, in steps. Raises InputError."""
        panel, paper = self.panel, self.paper.value
        scene = panel.finished()
        making_it = making(scene.layout, scene.found, panel.system, panel.changes, (paper,))
        return self._sheet_of(making_it, path, paper, replace)

    def _sheet_of(self, making_it, path: Path, paper: str, replace: bool):
        """The steps of making a sheet, and of writing it."""
        sheet = yield from within(0.0, MADE, making_it)
        yield MADE
        save(sheet, path, paper, replace)

    def _csv(self, path: Path, replace: bool) -> None:
        self.panel.finished().layout.take_off().to_csv(path, replace)
