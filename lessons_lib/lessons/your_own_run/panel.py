"""The reader's own building: a layout file opened, shown as a sketch with its results, edited in a table, saved,
printed.
"""

from contextlib import contextmanager
from pathlib import Path

import ipywidgets as widgets

from ...building import LayoutDocument
from ...building.of_school import of_school
from ...building.source import Source
from ...building.steps import at_once
from ...panels.controls import label_of
from ...panels.page_state import follow_units
from ...panels.panel_base import Live, large_button
from ...panels.tries import Tries
from ...quantities.errors import InputError
from ...storage.spelling import in_words_of
from . import layout_results as results
from . import own_files
from .arrangement import PARTS, arranged, button, choice, heading, row
from .drafts import Drafts, Offer
from .layout_table import SETTING, TABLES, LayoutTable, SettingsTable, fresh_row
from .leg_choice import LegChoice
from .own_goods import opened_with_text
from .picture import OwnRunPicture, OwnRunScene
from .told import in_table_words, kind_of, place_of
from .tries import tries_where
from .trying import Trying
from .view_choice import ViewChoice
from .working import Working

TAPS, LEGS, CHANGES, TAKE_OFF = VIEWS = ("Taps", "Cold legs", "What to change first", "Take-off")


class OwnRun(Live):
    """Sketch and results of one layout at a time; every layout that was opened keeps its edits while the page is
    open.
    """

    def __init__(self):
        super().__init__(OwnRunPicture, results.readouts, results.headline)
        self.controls = PARTS
        self.files: dict = {}  # title → Path
        self.documents: dict = {}  # title → (LayoutDocument, text as it lies on the disk)
        self.changes, self.title, self._setting = None, "", False
        self._worked = self._drawn = ()  # the layout that the scene is of; that and the units of what is drawn
        self.tables: dict = {}
        self.drafts, self._kept = Drafts(), ""  # work that is not saved; what is said of it
        self.working = Working(self)
        self.offer = Offer(self.drafts, self.take_up)
        first, (_, slip) = next(iter(own_files.ready_made())), of_school()
        self.cabin = own_files.cabin_title()
        if first != self.cabin:
            self.put_back = f"The panel shows {self.cabin} again, as it came."
        self.tries = Tries(tries_where(first), self)
        self._build()
        self._list_files()
        self.open(first)
        if slip:
            self._tell(f"▲ {slip}")
        follow_units(self)

    # What is open.

    @property
    def document(self) -> LayoutDocument:
        """The layout that is open, with its edits."""
        return self.documents[self.title][0]

    def open(self, title: str) -> None:
        """Show a layout of the menu, as it was left. One that cannot be read leaves the one before open."""
        file = self.files[title]
        try:
            with self._never_ready():
                if title not in self.documents:
                    self.documents[title] = opened_with_text(file, self.system)
        except InputError as error:
            self._list_files()
            self._tell(f"▲ Picture kept from before. {error}")
            return
        self.title, self.changes = title, None
        self._list_files()
        self.writing.follow(file)
        self.writing.calm()
        self._keep_draft()
        self.update()

    def take_up(self, draft) -> None:
        """Opens work that was not saved, as one edit of the file as it was read then."""
        title = self._title_of(draft.file)
        try:
            document = LayoutDocument(draft.read, draft.file.name)
            document.take(draft.text)
        except InputError as error:
            self._tell(f"▲ Picture kept from before. {error}")
            return
        self.files[title], self.documents[title] = draft.file, (document, draft.read)
        self.open(title)

    def _title_of(self, file: Path) -> str:
        """Gives what a file is called in the menu."""
        known = {**own_files.ready_made(), **own_files.own(), **self.files}
        unknown = "Your school's building, as it was" if own_files.is_of_school(file) else str(file)
        return next((title for title, one in known.items() if one == file), unknown)

    def reset(self) -> None:
        """Opens Tern Bank's cabin, of which the steps speak, without the edits that were tried on it."""
        self.documents.pop(self.cabin, None)
        self.open(self.cabin)

    def _follow(self, system: str) -> None:
        """Layouts that came with the workbook change their goods with the units, where nobody has edited them."""
        self.tries.show()
        for title, (document, _) in list(self.documents.items()):
            if not document.can_undo and own_files.came_along(self.files[title]):
                self.documents[title] = opened_with_text(self.files[title], system)

    def open_typed(self, typed: str) -> None:
        """Open the file that the reader named."""
        try:
            file = own_files.found(typed)
        except InputError as error:
            self._tell(f"▲ {error}")
            return
        title = self._title_of(file)
        self.files[title] = file
        self.open(title)
        self._typed.value = ""

    def read_again(self) -> None:
        """Take the file as it lies on the disk now; an edit like any other."""

        def take():
            fresh, text = opened_with_text(self.files[self.title], self.system)
            self.document.take(fresh.text)
            self.documents[self.title] = self.document, text

        self._edit(take, ())

    # What the tables do.

    def change(self, kind: str, number: int, word: str, value) -> None:
        """Another value in a row; a row keeps its name."""
        if word == "name" and value is None:
            self._refused((kind, number), "It needs a name.")
            return
        self._edit(lambda: self.document.change(kind, number, word, value), (*kind.split("."), number))

    def set(self, table: str, word: str, value) -> None:
        """Another value in a table of which there is one; a building keeps its name."""
        if word == "name" and value is None:
            self._refused((table,), "It needs a name.")
            return
        self._edit(lambda: self.document.set(table, word, value), (table,))

    def drop(self, table: str) -> None:
        """Takes the mixing valve or the loop out of the house."""
        self._edit(lambda: self.document.drop(table), (table,))

    def add(self, kind: str, number: int | None) -> None:
        """One more row, after that one or at the end."""
        self._edit(
            lambda: self.document.add(kind, fresh_row(self.document, kind, number), number), (*kind.split("."), number)
        )

    def remove(self, kind: str, number: int) -> None:
        """Takes a row out."""
        self._edit(lambda: self.document.remove(kind, number), ())

    def undo(self) -> None:
        """Take the last change back."""
        if self.document.undo():
            self._edit(lambda: None, ())
        else:
            self._tell("● Nothing to take back.")

    def _edit(self, act, path: tuple) -> None:
        """Do it, and show everything anew; what cannot be done is said beside the row of the path."""
        self.writing.calm()
        try:
            with self._never_ready():
                act()
        except InputError as error:
            self._refused(path, str(error))
            return
        self.changes = None
        self._keep_draft()
        if self._views.value == CHANGES:
            self._view()
        self.update()

    def _refused(self, path: tuple, message: str) -> None:
        """Says that nothing was changed, and takes the boxes back to what the file says."""
        self.refresh()
        self.table.say(path, message)
        self._tell(f"▲ Not changed. {message}")

    # What is shown.

    def update(self) -> None:
        """Calculate and draw the layout as it is now; one without sense keeps the picture and says why beside its
        row.
        """
        with self._lock:
            if self._held:
                return
            self.refresh()
            self.working.begin()

    @contextmanager
    def _never_ready(self):
        """Whatever fails here and was not foreseen is said in the status line too, before it goes its way."""
        try:
            yield
        except InputError:
            raise
        except Exception:
            self._tell(
                "▲ Picture kept from before. This layout meets a mistake of the program itself. Undo, or open another;"
                " then tell who set it up."
            )
            raise

    def is_known(self) -> bool:
        """Says whether the scene is that of the layout as it stands."""
        return self._known() == self._worked

    def is_drawn(self) -> bool:
        """Says whether the picture is that of the layout as it stands, in the units that are chosen."""
        return (self._known(), self.system) == self._drawn

    def take(self, scene: OwnRunScene, known: tuple) -> None:
        """Takes a scene that is not drawn yet. known : what its layout is known again by"""
        self.scene, self._worked, self._drawn = scene, known, ()

    def note_drawn(self) -> None:
        """Notes that the scene was drawn."""
        self._drawn = self._worked, self.system

    def now(self) -> OwnRunScene:
        """The layout as it stands, worked out; the one that is shown where nothing has changed since. Raises
        InputError.
        """
        return at_once(self.working.worked())

    def finished(self) -> OwnRunScene:
        """The layout as it stands, worked out. Raises InputError: something is not there yet."""
        scene = self.now()
        if scene.layout.unfinished:
            raise scene.layout.unfinished[0]
        return scene

    def _known(self) -> tuple:
        """Gives what a scene is known again by."""
        return self.document.name, self.document.text

    def refresh(self) -> None:
        """The table's boxes, as the document has them."""
        self.table.show(self.document)
        self._undo.disabled = not self.document.can_undo

    def _complain(self, error: InputError) -> None:
        """Says an error beside its row where it has one on this table, and in the status line in any case."""
        self._beside(error)
        self._tell_work(f"▲ Picture kept from before. {in_table_words(self.document, error)}")

    def _beside(self, error: InputError) -> bool:
        """Says an error beside its row; False where the table that is shown does not hold its place of the file."""
        path = place_of(self.document, error) or ()
        return kind_of(path) == TABLES[self._which.value] and self.table.say(path, error.plain)

    def _tell_work(self, words: str) -> None:
        """Says how the layout stands, and whether it is saved."""
        self._tell(f"{words.rstrip('.')}. {self._kept}" if self._kept else words)

    def _keep_draft(self) -> None:
        """Keeps what is not saved, so that nothing is lost when the page's Python ends."""
        document, saved = self.documents[self.title]
        self._kept = self.drafts.keep(self.files[self.title], saved, document.text)

    @property
    def table(self):
        """The table that is chosen; made when it is first asked for."""
        kind = TABLES[self._which.value]
        if kind not in self.tables:
            self.tables[kind] = SettingsTable(self) if kind == SETTING else LayoutTable(kind, self)
        return self.tables[kind]

    def _turn_to(self) -> None:
        """Turns to another table."""
        self._table_box.children = [self.table.widget]
        self.update()

    def show_row(self, kind: str, number: int) -> None:
        """Turns to the table of a kind, and in it to the page with this row, counted from 0."""
        self._which.value = next(title for title, one in TABLES.items() if one == kind)
        self.table.turn_to(number)

    def _view(self) -> None:
        """The results that are chosen."""
        self.trying.widget.layout.display = None if self._views.value == CHANGES else "none"
        if self.scene is not None:
            self._results.value = in_words_of(self._result(self._views.value), self.system)

    def _result(self, view: str) -> str:
        if view == CHANGES:
            return "" if self.changes is None else results.first_changes(self.changes)
        if view == TAKE_OFF:
            return results.take_off(self.scene.layout, self.system)
        return {TAPS: results.taps, LEGS: results.cold_legs}[view](self.scene, self.system)

    def try_changes(self) -> None:
        """Try every change, and the best in pairs, and show what helps most; the reader can stop it."""
        self.trying.begin()

    # What is written.

    def save(self, path: Path, replace: bool) -> str:
        """Write the layout; from here on it is the file that is open."""
        _, words = self.document.write(path, replace)
        title = self._title_of(path) if path in self.files.values() else path.name
        document, saved = self.documents.pop(self.title)
        self.drafts.keep(self.files[self.title], saved, saved)
        document.name, self.files[title] = path.name, path
        self.documents[title] = document, document.text
        self.title = title
        self._list_files()
        self._keep_draft()
        try:
            self.finished()
        except InputError as error:
            return f"{words} It is not finished: {in_table_words(self.document, error)}".strip()
        return words

    def as_read(self, path: Path) -> bool | None:
        """Says whether a file still holds what this page read from it or wrote into it; None: it did neither."""
        title = next((title for title, file in self.files.items() if file == path and title in self.documents), None)
        if title is None:
            return None
        try:
            return Source.of(path).text == self.documents[title][1]
        except InputError:
            return False

    # How it is laid out.

    def _build(self) -> None:
        self._menu = widgets.Dropdown(options=[], tooltip="Layout", layout={"width": "270px"})
        self._menu.observe(
            lambda change: None if self._setting or change["new"] is None else self.open(change["new"]), "value"
        )
        self._typed = widgets.Text(
            placeholder="or a file's name",
            continuous_update=False,
            tooltip=PARTS["file"].explained,
            layout={"width": "170px"},
        )
        self._typed.observe(lambda change: self.open_typed(change["new"]) if change["new"].strip() else None, "value")
        again = button("Read again", self.read_again, PARTS["again"].explained)
        bar = row(
            label_of("Layout", "54px"),
            self._menu,
            self._typed,
            again,
            self._units,
            large_button(),
            self.working.progress.widget,
            self._status,
            self.offer.widget,
        )
        self._views = choice(VIEWS, "190px", self._view)
        self.trying = Trying(self)
        self._results = widgets.HTML()
        self._which = choice(TABLES, "140px", self._turn_to)
        self._undo = button("Undo", self.undo, PARTS["undo"].explained)
        self._table_box = widgets.Box([self.table.widget])
        self.writing = own_files.Writing(self)
        self._status.layout = {"margin": "0 0 0 8px", "flex": "1 1 240px"}
        self.choice, self.view_choice = LegChoice(self), ViewChoice(self)
        head = row(heading("Change the layout"), self.choice.box, self._undo)
        tables = head, self.view_choice.box, self._which, self._table_box
        beneath = (
            self.tries.widget,
            row(self._views, self.trying.widget),
            self._results,
            row(heading("Write"), *self.writing.parts),
            self.writing.where,
        )
        self.widget = self._framed(bar, *arranged(tables, self._shown, beneath))

    def _list_files(self) -> None:
        """Lists in the menu what came with the workbook, the reader's folder, and what was opened by its path."""
        self.files = {**own_files.ready_made(), **own_files.own(), **self.files}
        self._setting = True
        self._menu.options = list(self.files)
        if self.title:
            self._menu.value = self.title
        self._setting = False


def own_run() -> OwnRun:
    """The school's own building, Tern Bank's buildings (invented), and the reader's own."""
    return OwnRun()
