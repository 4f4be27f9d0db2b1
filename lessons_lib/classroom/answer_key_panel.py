"""The key to a room's worksheets: seats typed, lessons ticked, all answers at a glance; worksheets and keys to
print.
"""

from html import escape

import ipywidgets as widgets

from ..exercises.bank import lessons
from ..exercises.seats import read_seats, title_of
from ..panels.controls import Choice
from ..panels.lists import Ticks, Typed
from ..panels.page_state import choose_units, follow_units
from ..quantities.display import SYSTEMS
from ..quantities.errors import InputError
from ..sheets import Sheet, Table, bound
from ..storage import preferences
from .kept_plan import kept_plan
from .lesson_pages import lesson_pages
from .printing_panel import Printer
from .prints.keys import key_sheet, overview, room_key
from .prints.worksheets import asked_of, worksheet_sheet
from .prints.writing import plain_name

SHOW, HIDE = "Show the answers", "Hide the answers"
HIDDEN = f"The answers are hidden, for others may see this screen. Press “{SHOW}” when only you look at it."


class AnswerKey:
    """Shows the answers of the typed seats at a glance; a mistyped list keeps what was shown and says why."""

    def __init__(self):
        self.system = preferences.unit_system()
        kept, titles = kept_plan(), _titles()
        planned = tuple(one for one in kept.lessons if one in titles) or tuple(titles)[:1]
        self.seats = Typed("Seats or names", kept.seats, "1-12, or names with commas between", width="330px")
        self.lessons = Ticks("Lessons", titles, planned, "whose questions", width="250px")
        self.lessons.widget.layout.width = "270px"
        self.units = Choice("Units", list(SYSTEMS), self.system, "metric or US customary")
        self.units.listener = lambda: choose_units(self.units.value)
        self.shown, self.status = widgets.HTML(), widgets.HTML()
        self.reveal = widgets.ToggleButton(
            value=False, description=SHOW, tooltip="Only you should see this screen", layout={"width": "170px"}
        )
        self.reveal.observe(lambda change: self.update(), "value")
        for control in (self.seats, self.lessons):
            control.listener = self.update
        bar = widgets.HBox(
            [self.seats.widget, self.units.widget, self.reveal, self.status],
            layout={"align_items": "center", "flex_flow": "row wrap"},
        )
        right = widgets.VBox([self.shown], layout={"flex": "1 1 600px", "min_width": "0"})
        self.widget = widgets.VBox(
            [bar, widgets.Box([self.lessons.widget, right], layout={"display": "flex", "flex_flow": "row wrap"})]
        )
        self.widget.add_class("hot-water-runs")
        self.update()
        follow_units(self)

    def update(self) -> None:
        """Read the list and show the answers."""
        try:
            self.chosen = self.read()
            self._show(overview(*self.chosen, self.system))
        except InputError as error:
            self._tell(f"▲ Kept from before. {error}")
        else:
            self._tell("● Ready")

    def read(self) -> tuple:
        """Seats and lessons as they stand in the boxes. Raises InputError for a list that can't be read."""
        seats, ticked = read_seats(self.seats.value), self.lessons.value
        if not ticked:
            raise InputError("lessons: none is ticked. Tick at least one.")
        return seats, ticked

    def _show(self, sheet: Sheet) -> None:
        tables = [block for block in sheet.blocks if isinstance(block, Table)]
        self.reveal.description = HIDE if self.reveal.value else SHOW
        shown = "".join(map(_table, tables)) if self.reveal.value else f"<p>{HIDDEN}</p>"
        self.html = f'<div style="font-size:15px;line-height:1.35;overflow-x:auto">{shown}</div>'
        self.sentence = self._sentence()
        self.shown.value = (
            f'{self.html}<div role="status" aria-live="polite"'
            f' style="font-size:15px;max-width:62em">{escape(self.sentence)}</div>'
        )

    def _sentence(self) -> str:
        seats, ticked = self.chosen
        who = (
            title_of(seats[0])
            if len(seats) == 1
            else f"{len(seats)} seats, from {title_of(seats[0])} to {title_of(seats[-1])}"
        )
        which = f"lesson{'s' if len(ticked) > 1 else ''} {', '.join(ticked)}"
        return (
            f"{who}: {len(asked_of(ticked))} questions each, {which}. Every seat has numbers of its own; its worksheet"
            " and its key belong together."
        )

    def set_system(self, system: str) -> None:
        """Show the answers in another unit system, which gives each seat other, neighbouring numbers."""
        self.system = system
        self.units.set(system)
        self.update()

    def _tell(self, status: str) -> None:
        self.said = status
        self.status.value = f'<span role="status" style="font-size:14px">{escape(status)}</span>'

    def sheets(self, make) -> Sheet:
        """One sheet a seat, bound together. make : worksheet_sheet or key_sheet"""
        seats, ticked = self.read()
        return bound([make(seat, ticked, self.system) for seat in seats])

    def name(self, kind: str) -> str:
        """A file's name that says kind, lessons, seats and units."""
        seats, ticked = self.read()
        return plain_name(kind, *ticked, "seats", self.seats.value, self.system)

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        """The live page, and beside it its table and sentence for paper and closed notebooks."""
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/html"], bundle["text/plain"] = self.html, self.sentence
        return bundle


def answer_key() -> AnswerKey:
    """The key to a room's worksheets."""
    return AnswerKey()


def key_prints(of: AnswerKey) -> Printer:
    """Worksheets, keys and the overview for the seats and lessons that the page shows."""
    kinds = {
        "Key of the room: every question once, a line for each seat": lambda: {
            of.name("key"): lambda: room_key(*of.read(), of.system)
        },
        "All seats at a glance": lambda: {of.name("overview"): lambda: overview(*of.read(), of.system)},
        "Worksheets, one for each seat, without answers": lambda: {
            of.name("worksheets"): lambda: of.sheets(worksheet_sheet)
        },
        "Keys to hand out, one for each seat": lambda: {of.name("keys"): lambda: of.sheets(key_sheet)},
    }
    return Printer("keys", kinds, tuple(kinds)[:3])


def _titles() -> dict:
    """Number → what is shown, of the lessons that have questions; with their names where their pages are there."""
    try:
        pages = lesson_pages()
    except InputError:
        pages = {}
    return {number: pages[number].title if number in pages else f"Lesson {number}" for number in lessons()}


def _table(table: Table) -> str:
    """A table of a sheet on the screen; every text escaped."""
    rows = [_row("th", table.head), *(_row("td", row) for row in table.rows)]
    return f'<table style="margin:2px 0 8px">{"".join(rows)}</table>'


def _row(tag: str, cells) -> str:
    return (
        "<tr>"
        + "".join(f'<{tag} style="text-align:left;padding:1px 8px">{escape(text)}</{tag}>' for text in cells)
        + "</tr>"
    )
