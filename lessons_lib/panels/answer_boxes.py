"""Where an answer is given: a box for a number, a choice, items to put in order. Each holds the answer as a line of
text, and names the widget, `arriving`, that must be heard before the answer is marked.
"""

from html import escape

import ipywidgets as widgets

from ..exercises import Variant
from ..exercises.reading import read_choice, read_order
from ..quantities.errors import InputError
from .arrival import HTML, RadioButtons, Text
from .looks import written

UP, DOWN = "▲", "▼"
NAMED = {"in": "inches (in)"}  # a unit that reads as another word


class AmountBox:
    """A number with its unit. changed : called when the reader types; given : called when Enter is pressed"""

    def __init__(self, variant: Variant, changed, given):
        only = variant.question.own_unit or variant.asked_in == "%"
        named = NAMED.get(variant.asked_in, variant.asked_in)
        asked_in = f"in {named}" + ("" if only else ", or with another unit") if named else ""
        self.box = self.arriving = Text(placeholder="your answer", tooltip="Your answer", layout={"width": "170px"})
        self.box.observe(lambda change: changed(), "value")
        self.box.on_msg(lambda _, content, __: given() if content.get("event") == "submit" else None)
        self.widget = widgets.HBox(
            [self.box, written(f'<span style="font-size:14px;margin:0 8px">{escape(asked_in)}</span>')]
        )

    @property
    def text(self) -> str:
        return self.box.value

    def set(self, text: str) -> None:
        """Show an answer that was kept."""
        self.box.value = text


class ChoiceBox:
    """Lets the learner choose one of several. changed : called when the reader chooses"""

    def __init__(self, variant: Variant, changed, given):
        self.choices = variant.choices
        options = [(f"{letter}: {words}", letter) for letter, _, words in self.choices]
        self.radio = self.arriving = RadioButtons(options=options, value=None, layout={"width": "auto"})
        self.radio.observe(lambda change: changed(), "value")
        self.widget = self.radio

    @property
    def text(self) -> str:
        return self.radio.value or ""

    def set(self, text: str) -> None:
        """Show an answer that was kept; one that is no choice here leaves all open."""
        try:
            key = read_choice(text, self.choices)
        except InputError:
            self.radio.value = None
            return
        self.radio.value = next(letter for letter, one, _ in self.choices if one == key)


class OrderBox:
    """Items in a column, each with a button up and one down. changed : called when the reader moves one

    The rows stay; what they say is exchanged. So the keyboard's focus can follow the item that is moved.
    """

    def __init__(self, variant: Variant, changed, given):
        self.choices, self.changed = variant.choices, changed
        self.words = {letter: words for letter, _, words in self.choices}
        self.letters = [letter for letter, _, _ in self.choices]
        self.buttons = [
            {-1: self._button(UP, place, -1), 1: self._button(DOWN, place, 1)} for place in range(len(self.letters))
        ]
        self.texts = [HTML() for _ in self.letters]
        self.arriving = self.texts[0]
        self.widget = widgets.VBox(
            [
                widgets.HBox([*pair.values(), text], layout={"align_items": "center", "height": "30px"})
                for pair, text in zip(self.buttons, self.texts)
            ]
        )
        self._show()

    @property
    def text(self) -> str:
        return ", ".join(self.letters)

    def set(self, text: str) -> None:
        """Show an order that was kept; one that cannot be read here leaves the items as they stand."""
        try:
            keys = read_order(text, self.choices)
        except InputError:
            return
        letters = {key: letter for letter, key, _ in self.choices}
        self.letters = [letters[key] for key in keys]
        self._show()

    def move(self, place: int, by: int) -> None:
        """Exchange an item with its neighbour above (by -1) or below (by 1)."""
        there = place + by
        self.letters[place], self.letters[there] = self.letters[there], self.letters[place]
        self._show()
        self._next_button(there, by).focus()
        self.changed()

    def _next_button(self, place: int, by: int) -> widgets.Button:
        """The button of an item that moves it on; at the end of the column, the one that moves it back."""
        onward = self.buttons[place][by]
        return self.buttons[place][-by] if onward.disabled else onward

    def _show(self) -> None:
        for letter, pair, text in zip(self.letters, self.buttons, self.texts):
            words = self.words[letter]
            text.value = f'<span style="font-size:15px">{letter}: {escape(words)}</span>'
            pair[-1].tooltip, pair[1].tooltip = f"Earlier: {words}", f"Later: {words}"

    def _button(self, sign: str, place: int, by: int) -> widgets.Button:
        button = widgets.Button(description=sign, layout={"width": "34px", "padding": "0"})
        button.disabled = not 0 <= place + by < len(self.letters)
        button.on_click(lambda _: self.move(place, by))
        return button


def answer_box(variant: Variant, changed, given):
    """The box that suits a question."""
    return {"choice": ChoiceBox, "order": OrderBox}.get(variant.question.kind, AmountBox)(variant, changed, given)
