"""A guess before any slider moves: a number and how sure, kept and then held against the model."""

from html import escape

import ipywidgets as widgets

from .. import preferences
from ..display import KINDS, SYSTEMS, celsius, show
from .controls import Slide
from .followers import follow_units

SURENESS = ("just guessing", "fairly sure", "very sure")


class Guess:
    """Asks for one quantity; `answer` is worked out by the library when the reader asks to compare.

    question : unit system → the words shown above the slider
    slide : the control to guess with
    answer : () → Quantity
    """

    def __init__(self, question: str, slide: Slide, answer):
        self.question, self.slide, self.answer = question, slide, answer
        self.kept, self.asked, self.told = None, widgets.HTML(), widgets.HTML()
        self.sure = widgets.ToggleButtons(options=SURENESS, style={"button_width": "110px"}, layout={"width": "auto"})
        self.keep_button = widgets.Button(description="Keep my guess", button_style="primary")
        self.keep_button.on_click(lambda _: self.keep())
        self.compare_button = widgets.Button(description="Compare with the model", disabled=True, layout={"width": "220px"})
        self.compare_button.on_click(lambda _: self.compare())
        self.widget = widgets.VBox([
            self.asked,
            widgets.HBox([slide.widget, self.sure, self.keep_button, self.compare_button], layout={"align_items": "center"}),
            self.told,
        ])
        self.set_system(preferences.unit_system())
        follow_units(self)

    def set_system(self, system: str) -> None:
        """Show the guess in another unit system."""
        self.system = system
        self.slide.set_system(system)
        self.asked.value = f'<div style="font-size:16px;max-width:56em">{escape(self.question(system))}</div>'

    def keep(self) -> None:
        """Keep the guess; from here on it can no longer be changed."""
        self.kept = self.slide.value
        self.slide.set_active(False)
        self.sure.disabled = self.keep_button.disabled = True
        self.compare_button.disabled = False
        self._tell(f"Kept: {self._shown(self.kept)}, {self.sure.value}. Now go on; compare when you have tried the panel.")

    def compare(self) -> None:
        """Hold the kept guess against the model."""
        model = self.answer()
        kind = "temperature difference" if self.slide.kind == "temperature" else self.slide.kind
        own = KINDS[kind].units[SYSTEMS.index(self.system)]
        off = (self.kept - model).to(own)
        away = show(abs(off), kind, self.system)
        near = self._shown(self.kept) == self._shown(model)
        verdict = "right on it" if near else f"{away} too {'high' if off.magnitude > 0 else 'low'}"
        self._tell(f"You guessed {self._shown(self.kept)} ({self.sure.value}); the model gives {self._shown(model)}: {verdict}.")

    def _shown(self, value) -> str:
        return show(value, self.slide.kind, self.system)

    def _tell(self, words: str) -> None:
        self.told.value = f'<div role="status" style="font-size:15px"><b>{escape(words)}</b></div>'

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = self.question(self.system)
        return bundle


def guess_temperature(question, answer, start: float = 30.0) -> Guess:
    """A guess at a temperature between freezing and 80 degC. start [degC]; question, answer : see Guess"""
    slide = Slide("My guess", "temperature", celsius(start), (0, 80, 1), (32, 176, 1), "what you expect")
    return Guess(question, slide, answer)
