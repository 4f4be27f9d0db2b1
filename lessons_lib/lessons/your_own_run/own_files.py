"""Where layouts come from and where files of the reader go: Tern Bank's three, the template, and a folder of their
own.
"""

import tomllib
from pathlib import Path

import ipywidgets as widgets

from ...building.run_sheet import PAPERS, run_sheet
from ...panels.controls import label_of
from ...panels.readout import EDGES
from ...quantities.display import SYSTEMS
from ...quantities.errors import InputError, unknown_name
from ...storage import preferences
from ...storage.tables import DATA

READY = DATA / "layouts"
TEMPLATE = "template"
FIRST = "bunk_cabin"
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
    """The file that a reader typed: a name in their own folder, or a whole path. Raises InputError with the nearest
    name.
    """
    text = typed.strip()
    try:
        file = Path(text).expanduser()
        file = file if file.suffix else file.with_name(f"{file.name}.toml") if file.name else file
        if not file.is_absolute():
            file = preferences.layouts_folder() / file
        there = file.is_file()
    except (OSError, ValueError, RuntimeError):  # no file can have this name; a home folder of nobody
        there = False
    if not there:
        known = list(own()) or list(ready_made())
        raise unknown_name(
            "file", text, known, f"Your own files lie in {preferences.layouts_folder()}; elsewhere give the whole path."
        )
    return file


def home_of(file: Path) -> Path:
    """Says where files made from a layout go: beside it, or to the reader's own folder where it came along."""
    return preferences.layouts_folder() if file.parent == READY else file.parent


def first_name(file: Path) -> str:
    """The name, without its ending, that is suggested for files made from a layout."""
    return f"my-{file.stem.replace('_', '-')}" if file.parent == READY else file.stem


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

    target : () → Path; write : (path, whether it may write over a file) → words or nothing; tell : words → shown in a
        status line
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
        """Writes the file, or asks first."""
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
            words = f"▲ Not written: the folder {path.parent} can't be used ({reason.strerror}). Choose another."
        else:
            words = f"● Written: {path}. {words or ''}".strip()
        self.calm()
        self.tell(words)

    def _ask(self, path: Path) -> None:
        self.calm()
        self.asked, self.button.style.button_color, self.button.style.text_color = path, EDGES[1], "#ffffff"
        self.button.description = self.button.tooltip = f"Write over {path.name}"
        self.tell(
            f"▲ {path.name} is there already, in {path.parent}. Press again to write over it, or change the name."
        )


class Writing:
    """Name, paper, and a button for each file that is made from the layout that is open in a panel.

    parts : widgets, to stand in one row; where : a line that says to which folder the files go
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
        self.writers = [
            Writer(title, target, write, panel._tell)
            for title, target, write in (
                ("Save the layout", lambda: self._target(".toml"), panel.save),
                ("Sheet as a web page", lambda: self._target(f"-{self.paper.value}.html"), self._sheet),
                ("Sheet as PDF", lambda: self._target(f"-{self.paper.value}.pdf"), self._sheet),
                ("Take-off as a table (CSV)", lambda: self._target("-take-off.csv"), self._csv),
            )
        ]
        for box in (self.name, self.paper):
            box.observe(lambda change: self.calm(), "value")
        self.where = label_of("", "auto")
        save, *others = (writer.button for writer in self.writers)
        self.parts = (label_of("Name", "44px"), self.name, save, label_of("Paper", "44px"), self.paper, *others)

    def follow(self, file: Path) -> None:
        """Suggests a name for what is made from this layout, and says where it goes."""
        self.name.value = first_name(file)
        self.where.value = label_of(f"Files go to {home_of(file)}", "auto").value

    def calm(self) -> None:
        """Takes every button back to its first press, for the reader did something else than press twice."""
        for writer in self.writers:
            writer.calm()

    def _target(self, ending: str) -> Path:
        """Gives the path of a file with this ending. Raises InputError."""
        return home_of(self.panel.files[self.panel.title]) / f"{plain_name(self.name.value)}{ending}"

    def _sheet(self, path: Path, replace: bool) -> None:
        panel, paper = self.panel, self.paper.value
        scene = panel.now()
        panel._tell("… Writing. This takes some seconds, more where no single change was tried yet.")
        run_sheet(scene.layout, scene.found, panel.system, panel.changes, (paper,)).save(path, paper, replace)

    def _csv(self, path: Path, replace: bool) -> None:
        self.panel.document.layout().take_off().to_csv(path, replace)
