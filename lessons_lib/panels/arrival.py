"""Enter and a click wait until everything that was typed and moved before them has arrived.

While the kernel is busy with one value of a box, a browser holds the box's next values back. It sends the newest when
the kernel is free. Enter and clicks it sends at once, so that they overtake the last letters. A kernel may also hear
two widgets in two threads, so that what was sent first is not always heard first. Only the messages of one widget keep
their order. Therefore whoever must act on what was typed asks each box to repeat a number first: the browser sends the
number with the value that it held back, or after it.
"""

from threading import RLock

import ipywidgets as widgets
from traitlets import Int

_waiting: dict = {}  # what is to be done → the boxes that have not answered yet
_lock = RLock()


class Arriving(widgets.DOMWidget):
    """A box whose browser side repeats the number `asked`, in the row of messages that brings the box's values."""

    asked, repeated = Int().tag(sync=True), Int().tag(sync=True)

    link = None  # what makes the browser repeat the number; most boxes are never asked

    def ask(self) -> None:
        """Asks the browser for the next number."""
        self.asked += 1
        self.link = self.link or widgets.jsdlink((self, "asked"), (self, "repeated"))

    def set_state(self, sync_data) -> None:
        """Takes what the browser sent; when it is the number asked for last, all values before it were taken too."""
        super().set_state(sync_data)
        if "repeated" in sync_data and self.repeated == self.asked:
            _answered(self)


class Text(Arriving, widgets.Text):
    """A line of text that can be waited for."""


class Textarea(Arriving, widgets.Textarea):
    """Several lines of text that can be waited for."""


class Dropdown(Arriving, widgets.Dropdown):
    """A menu that can be waited for."""


class Checkbox(Arriving, widgets.Checkbox):
    """A tick that can be waited for."""


class FloatSlider(Arriving, widgets.FloatSlider):
    """A slider that can be waited for."""


class RadioButtons(Arriving, widgets.RadioButtons):
    """A choice that can be waited for."""


class ToggleButtons(Arriving, widgets.ToggleButtons):
    """A row of buttons, one of them pressed, that can be waited for."""


class HTML(Arriving, widgets.HTML):
    """Words that can be waited for, where no value has to arrive: the clicks before them have then been heard, unless
    another thread of the kernel is still at work on one.
    """


def on_arrival(act, *boxes: Arriving) -> None:
    """Call `act`, without arguments, once, when everything that the reader gave these boxes so far has arrived.

    Asked for twice meanwhile, it is still done once.
    """
    with _lock:
        _waiting[act] = set(boxes)
        for box in boxes:
            box.ask()


def _answered(box: Arriving) -> None:
    """Does what waited for nothing but this box."""
    with _lock:
        for missing in _waiting.values():
            missing.discard(box)
        ready = [act for act, missing in _waiting.items() if not missing]
        for act in ready:
            del _waiting[act]
    for act in ready:
        act()
