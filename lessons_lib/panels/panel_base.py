"""What everything live shares: a picture with read-outs and a sentence, units, a projector's size, a status line, and
what is left of it on paper.
"""

import threading
from contextlib import contextmanager
from functools import cache
from html import escape
from pathlib import Path

import ipywidgets as widgets

from ..quantities.display import SYSTEMS, unbroken
from ..storage import preferences
from ..storage.spelling import in_words_of
from .looks import written
from .page_state import choose_units
from .readout import shown

STYLE = f"<style>{Path(__file__).with_name('look.css').read_text(encoding='utf-8')}</style>"


@cache
def large_button() -> widgets.ToggleButton:
    """Gives the one button that makes the whole page large; every panel shows it, and look.css does the rest."""
    button = widgets.ToggleButton(
        description="Large, for the room",
        tooltip="The whole page, for the back of a room; once more: as it was",
        layout={"width": "164px"},
    )
    button.add_class("hot-water-large")
    return button


class AtRest:
    """Whatever has a widget, a picture and its sentence: they go together to paper, web pages and closed notebooks."""

    @property
    def png(self) -> bytes:
        """The picture that is shown, as PNG."""
        return self.picture.png()

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        widget = self.widget._repr_mimebundle_() or {}
        pixels = "image/png" not in (exclude or ())
        return {**widget, **self.picture.bundle(pixels), "text/plain": self.sentence}


class Live(AtRest):
    """A scene shown by a picture, in the reader's units. Those who inherit make `widget` and `update`.

    picture : class of a Picture, made once with the unit system
    readouts : (scene, unit system) → list of Readout
    headline : (scene, unit system) → the one answer, in large type, and in a second line what belongs beneath it
    """

    beside = False  # whether the read-outs always stand beside the picture
    put_back = "The panel is back at its first settings."  # what `reset` has done, in a sentence

    def __init__(self, picture, readouts, headline):
        self.system = preferences.unit_system()
        self.readouts, self.headline, self.picture = readouts, headline, picture(self.system)
        self.scene, self.kept, self.answer, self.sentence = None, None, "", ""
        self._drawing = ""  # what moves of the picture that was drawn last
        self._lock, self._held = threading.RLock(), False
        self._still, self._shown, self._status = written(), written(), written()
        self._still.add_class("hot-water-parts")  # of the picture, which only a narrow screen shows
        self._shown.add_class("hot-water-shown")
        self._status.add_class("hot-water-status")  # JupyterLab hides it when the page's Python has ended
        self._units = widgets.ToggleButtons(
            options=SYSTEMS, value=self.system, style={"button_width": "140px"}, layout={"width": "auto"}
        )
        self._units.observe(self._units_changed, "value")

    def _framed(self, *parts) -> widgets.VBox:
        """The parts one beneath the other, with the style that every panel has."""
        whole = widgets.VBox([widgets.HTML(STYLE, layout={"display": "none"}), self._still, *parts])
        whole.add_class("hot-water-runs")
        return whole

    @contextmanager
    def _held_back(self):
        """One update after several changes."""
        with self._lock:
            self._held = True
            try:
                yield
            finally:
                self._held = False
            self.update()

    def set_system(self, system: str) -> None:
        """Show everything in another unit system."""
        with self._held_back():
            self.system = system
            self._follow(system)
            self.picture.units(system)
            self._units.value = system

    def _follow(self, system: str) -> None:
        """Takes along what else changes its units."""

    def _draw(self) -> None:
        """Draws the scene, and shows it with its numbers."""
        self.picture.kept = self.kept
        self.sentence = self.picture.draw(self.scene)
        self._still.value = self.picture.style() + self.picture.views()
        self._drawing = self.picture.html(self.scene)
        self._show_numbers()

    def _show_numbers(self) -> None:
        """Shows headline, cards and sentence of the scene around the picture that was drawn last."""
        kept = self.readouts(self.kept, self.system) if self.kept else []
        width, beside = self.picture.size[0], self.beside
        cards = in_words_of(shown(self.readouts(self.scene, self.system), kept, width, beside), self.system)
        around = "display:flex;gap:10px" if beside else ""
        self.answer = in_words_of(self.headline(self.scene, self.system), self.system)
        # What moves of the picture, read-outs and sentence travel in one message.
        headline, _, beneath = self.answer.partition("\n")
        self._shown.value = (
            f'<div class="hot-water-headline">{escape(unbroken(headline))}</div>'
            f'<div class="hot-water-beneath">{escape(unbroken(beneath))}</div>'
            f'<div class="hot-water-picture" style="{around}">{self._drawing}{cards}</div>'
            f'<div role="status" aria-live="polite" style="max-width:{2 * width if beside else width}px;'
            f'font-size:15px;line-height:1.3;margin-top:{0 if beside else 5}px">{escape(unbroken(self.sentence))}</div>'
        )

    def _tell(self, status: str) -> None:
        status = in_words_of(status, self.system)
        self._status.value = (
            f'<span role="status" style="font-size:14px;display:inline-block;line-height:1.25">{escape(status)}</span>'
        )

    def _units_changed(self, change) -> None:
        if change["new"] != self.system:
            choose_units(change["new"])
