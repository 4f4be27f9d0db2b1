"""Where an answer is given: a box for a number, a choice, items to put in order. Each holds the answer as a line of text."""

from html import escape

import ipywidgets as widgets

from ..errors import InputError
from ..exercises import Variant
from ..exercises.reading import read_choice, read_order

UP, DOWN = "▲", "▼"


class AmountBox:
    """A number with its unit. changed : called when the reader types; given : called when Enter is pressed"""

    def __init__(self, variant: Variant, changed, given):
        only = variant.question.own_unit or variant.asked_in == "%"
        asked_in = f"in {variant.asked_in}" + ("" if only else ", or with another unit") if variant.asked_in else ""
        self.box = widgets.Text(placeholder="your answer", tooltip="Your answer", layout={"width": "170px"})
        self.box.observe(lambda change: changed(), "value")
        self.box.on_msg(lambda _, content, __: given() if content.get("event") == "submit" else None)
        self.widget = widgets.HBox([self.box, widgets.HTML(f'<span style="font-size:14px;margin:0 8px">{escape(asked_in)}</span>')])

    @property
    def text(self) -> str:
        return self.box.value

    def set(self, text: str) -> None:
        """Show an answer that was kept."""
        self.box.value = text


class ChoiceBox:
    """One of several. changed : called when the reader chooses"""

    def __init__(self, variant: Variant, changed, given):
        self.choices = variant.choices
        options = [(f"{letter}: {words}", letter) for letter, _, words in self.choices]
        self.radio = widgets.RadioButtons(options=options, value=None, layout={"width": "auto"})
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
    """Items in a column, each with a button up and one down. changed : called when the reader moves one"""

    def __init__(self, variant: Variant, changed, given):
        self.choices, self.changed = variant.choices, changed
        self.words = {letter: words for letter, _, words in self.choices}
        self.letters = [letter for letter, _, _ in self.choices]
        self.widget = widgets.VBox()
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
        self.letters[place], self.letters[place + by] = self.letters[place + by], self.letters[place]
        self._show()
        self.changed()

    def _show(self) -> None:
        self.widget.children = [self._row(place, letter) for place, letter in enumerate(self.letters)]

    def _row(self, place: int, letter: str) -> widgets.HBox:
        words = self.words[letter]
        buttons = [self._button(UP, place, -1, f"Earlier: {words}"), self._button(DOWN, place, 1, f"Later: {words}")]
        text = f'<span style="font-size:15px">{letter}: {escape(words)}</span>'
        return widgets.HBox([*buttons, widgets.HTML(text)], layout={"align_items": "center", "height": "30px"})

    def _button(self, sign: str, place: int, by: int, tooltip: str) -> widgets.Button:
        button = widgets.Button(description=sign, tooltip=tooltip, layout={"width": "34px", "padding": "0"})
        button.disabled = not 0 <= place + by < len(self.letters)
        button.on_click(lambda _: self.move(place, by))
        return button


def answer_box(variant: Variant, changed, given):
    """The box that suits a question."""
    return {"choice": ChoiceBox, "order": OrderBox}.get(variant.question.kind, AmountBox)(variant, changed, given)
