"""A guess before any slider moves: a number and how sure, kept and then held against the model."""

from html import escape

import ipywidgets as widgets

from ..exercises.learner import SURENESS
from ..quantities.display import celsius
from ..quantities.errors import InputError
from ..storage import preferences
from ..storage.spelling import in_words_of
from .arrival import ToggleButtons, on_arrival
from .controls import Slide, label_of
from .page_state import answering, follow_learner, follow_units
from .sign_in import Who


class Guess:
    """Asks for one quantity; `answer` is worked out by the library when the reader asks to compare.

    key : of the guess in a learner's file: the lesson's number
    question : unit system → the words shown above the slider
    slide : the control to guess with
    answer : () → Quantity
    """

    def __init__(self, key: str, question: str, slide: Slide, answer):
        self.key, self.question, self.slide, self.answer = key, question, slide, answer
        self.trouble = ""
        self.asked, self.told = widgets.HTML(), widgets.HTML()
        self.sure = ToggleButtons(options=SURENESS, style={"button_width": "128px"}, layout={"width": "auto"})
        self.keep_button = widgets.Button(description="Keep my guess", button_style="primary")
        self.keep_button.on_click(lambda _: on_arrival(self.keep, slide.slider, slide.box, self.sure))
        self.compare_button = widgets.Button(description="Compare with the model", layout={"width": "220px"})
        self.compare_button.on_click(lambda _: self.compare())
        self.widget = widgets.VBox(
            [
                Who().widget,
                self.asked,
                slide.widget,
                widgets.HBox(
                    [label_of("How sure are you?", "138px"), self.sure, self.keep_button, self.compare_button],
                    layout={"align_items": "center", "flex_flow": "row wrap"},
                ),
                self.told,
            ]
        )
        self.widget.add_class("hot-water-runs")
        self.learner = answering().learner
        self.record = self.learner.guess(key, slide.kind)
        self.set_system(preferences.unit_system())
        follow_units(self)
        follow_learner(self)

    def set_system(self, system: str) -> None:
        """Show the guess in another unit system."""
        self.system = system
        self.slide.set_system(system)
        self.asked.value = f'<div style="font-size:16px;max-width:56em">{escape(repr(self))}</div>'
        self._show()

    def set_learner(self, learner) -> None:
        """Shows the guess of this learner."""
        self.learner, self.record = learner, learner.guess(self.key, self.slide.kind)
        self._show()

    def keep(self) -> None:
        """Keep the guess; from here on it can no longer be changed, and the keyboard goes on to the comparison."""
        value, kind, sure = self.slide.value, self.slide.kind, self.sure.value
        self._take(lambda: self.learner.keep_guess(self.key, value, kind, sure))
        if self.record is not None:
            # before the part that has the keyboard is disabled: else the browser gives it to the page
            self.compare_button.disabled = False
            self.compare_button.focus()
        self._show()

    def compare(self) -> None:
        """Hold the kept guess against the model."""
        model = self.answer()
        self._take(lambda: self.learner.compare_guess(self.key, model))
        self._show()

    def _take(self, act) -> None:
        """Take what the learner's file gave back; if it cannot be written, say so."""
        try:
            self.record, self.trouble = act(), ""
        except InputError as error:
            self.trouble = str(error)

    def _show(self) -> None:
        """The controls and the sentence as they are with what is kept."""
        kept = self.record
        for part in (self.sure, self.keep_button):
            part.disabled = kept is not None
        self.slide.set_active(kept is None)
        self.compare_button.disabled = kept is None
        if kept is not None:
            self.slide.set(kept.guessed)
            if kept.sure in SURENESS:
                self.sure.value = kept.sure
        on = " Now go on; compare when you have tried the panel." if kept is not None and kept.model is None else ""
        lines = [f"▲ {self.trouble}"] if self.trouble else []
        lines += [f"{kept.told(self.system)}{on}"] if kept is not None else []
        self.said = " ".join(lines)
        self.told.value = f'<div role="status" style="font-size:15px"><b>{escape(self.said)}</b></div>' if lines else ""

    def __repr__(self) -> str:
        return in_words_of(self.question(self.system), self.system)

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def guess_temperature(key: str, question, answer, start: float = 30.0) -> Guess:
    """A guess at a temperature between freezing and 80 degC. start [degC]; key, question, answer : see Guess"""
    slide = Slide("My guess", "temperature", celsius(start), (0, 80, 1), (32, 176, 1), "what you expect")
    return Guess(key, question, slide, answer)
