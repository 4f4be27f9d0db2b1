"""Ticks for kinds of print, paper, and a button that writes them into the instructor's folder."""

from html import escape

import ipywidgets as widgets

from ..panels.lists import Ticks
from ..quantities.errors import InputError
from . import kept_plan
from .prints.writing import PAPERS, folder, write_sheets


class Printer:
    """Writes sheets when asked to.

    kinds : title → function without arguments that gives {plain name: Sheet}; it may raise InputError
    start : titles that are ticked at first
    """

    def __init__(self, kinds: dict, start: tuple):
        self.kinds = kinds
        self.ticks = Ticks("Which prints?", {title: title for title in kinds}, start, "what is written", width="640px")
        self.paper = widgets.Dropdown(
            options=PAPERS,
            value=_kept_paper(),
            description="Paper",
            tooltip="Paper; bench cards are A5",
            layout={"width": "180px"},
        )
        self.paper.observe(lambda change: self._keep_paper(), "value")
        self.over = widgets.Checkbox(
            value=False, description="Write over files of the same name", indent=False, layout={"width": "270px"}
        )
        self.button = widgets.Button(
            description="Write the sheets",
            button_style="primary",
            tooltip="As PDF, to print",
            layout={"width": "160px"},
        )
        self.button.on_click(lambda _: self.write())
        self.told = widgets.HTML()
        self._tell(f"They go to {folder()}.")
        row = widgets.HBox(
            [self.paper, self.over, self.button], layout={"align_items": "center", "flex_flow": "row wrap"}
        )
        self.widget = widgets.VBox([self.ticks.widget, row, self.told])
        self.widget.add_class("hot-water-runs")

    def write(self) -> None:
        """Write what is ticked and say what became of it."""
        self.button.disabled = True
        self._tell("Writing … Many seats with many lessons can take some minutes.")
        try:
            sheets = {name: sheet for title in self.ticks.value for name, sheet in self.kinds[title]().items()}
            done = write_sheets(sheets, self.paper.value, self.over.value)
            self._tell(f"● {done.told()}" if sheets else "▲ Nothing is ticked.")
        except InputError as error:
            self._tell(f"▲ Nothing was written. {error}")
        finally:
            self.button.disabled = False

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
