"""Ticks for kinds of print, paper, and a button that writes them into a folder of the instructor's."""

from html import escape

import ipywidgets as widgets

from ..panels.lists import Ticks
from ..panels.progress import Progress
from ..quantities.errors import InputError
from . import kept_plan
from .links import PDF, link
from .prints.writing import PAPERS, PrintedSet, folder

MOST_LINKED = 6_000_000  # bytes of files that the page itself can hand over; more are fetched from their folder


class Printer:
    """Writes sheets when asked to.

    name : of the folder that they go to
    kinds : title → function without arguments that gives {plain name: function that makes what is saved}; both may
        raise InputError
    start : titles that are ticked at first
    """

    def __init__(self, name: str, kinds: dict, start: tuple):
        self.name, self.kinds, self.progress = name, kinds, Progress()
        self.ticks = Ticks("Which prints?", {title: title for title in kinds}, start, "what is written", width="640px")
        self.paper = widgets.Dropdown(
            options=PAPERS, value=_kept_paper(), description="Paper", tooltip="Paper", layout={"width": "180px"}
        )
        self.paper.observe(lambda change: self._keep_paper(), "value")
        self.button = widgets.Button(
            description="Write the sheets",
            button_style="primary",
            tooltip="As PDF, to print",
            layout={"width": "160px"},
        )
        self.button.on_click(lambda _: self.write())
        self.told, self.links = widgets.HTML(), widgets.HTML()
        self._tell(f"They go to {folder(name)}. An earlier set is put aside, not written over.")
        row = widgets.HBox(
            [self.paper, self.button, self.progress.widget],
            layout={"align_items": "center", "flex_flow": "row wrap"},
        )
        self.widget = widgets.VBox([self.ticks.widget, row, self.told, self.links])
        self.widget.add_class("hot-water-runs")

    def write(self) -> None:
        """Write what is ticked and say what became of it."""
        self.button.disabled, self.links.value = True, ""
        try:
            makers = {name: make for title in self.ticks.value for name, make in self.kinds[title]().items()}
        except InputError as error:
            self._failed(error)
            return
        if not makers:
            self._end("▲ Nothing is ticked.")
            return
        self._tell("Writing …")
        prints = PrintedSet(makers, self.paper.value, folder(self.name))
        self.progress.work(prints.steps(), lambda stopped: self._done(prints, stopped), self._failed)

    def _done(self, prints: PrintedSet, stopped: bool) -> None:
        """Says what was written, and hands it over where the page can carry it."""
        if stopped:
            self._end("▲ Stopped. Nothing was written.")
            return
        if sum(file.stat().st_size for file in prints.files) <= MOST_LINKED:
            links = " · ".join(link(file, PDF) for file in prints.files)
            self.links.value = f'<div style="font-size:15px">Save them from here: {links}</div>'
        self._end(f"● {prints.told()}")

    def _failed(self, reason: Exception) -> None:
        """Says why nothing was written."""
        if not isinstance(reason, InputError):
            self._end("▲ Nothing was written: an error of the program.")
            raise reason
        self._end(f"▲ Nothing was written. {reason}")

    def _end(self, words: str) -> None:
        self.button.disabled = False
        self._tell(words)

    def _keep_paper(self) -> None:
        """Every page of the session prints on the paper that was chosen last."""
        try:
            kept_plan.keep(paper=self.paper.value)
        except InputError as error:
            self._tell(f"▲ {error}")

    def _tell(self, words: str) -> None:
        self.said = words
        self.told.value = (
            '<div role="status" aria-live="polite"'
            f' style="font-size:15px;line-height:1.4;max-width:62em">{escape(words)}</div>'
        )

    def __repr__(self) -> str:
        return f"Prints to choose from: {', '.join(self.kinds)}."

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def _kept_paper() -> str:
    kept = kept_plan.kept_plan().paper
    return kept if kept in PAPERS else PAPERS[0]
