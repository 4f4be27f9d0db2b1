"""Enter and a click wait until everything that was typed before them has arrived.

While the kernel is busy with one value of a box, a browser holds the next values back. It sends the newest when the
kernel is free. Enter and clicks it sends at once, so that they overtake the last letters. Therefore whoever must act on
what was typed asks the browser to repeat a number first: the browser sends what it held back before it answers.
"""

from functools import cache

import ipywidgets as widgets


class Arrival:
    """A number that the browser repeats, and what is to be done when it has. Nothing of it is shown."""

    def __init__(self):
        self.asked, self.repeated = widgets.IntText(), widgets.IntText()
        self.link = widgets.jsdlink((self.asked, "value"), (self.repeated, "value"))
        self.repeated.observe(lambda change: self._heard(change["new"]), "value")
        self.waiting = {}

    def wait(self, act) -> None:
        """Act, once, when everything has arrived; asked for twice meanwhile, it is still done once."""
        self.waiting[act] = None
        self.asked.value += 1

    def _heard(self, number: int) -> None:
        if number != self.asked.value:  # something was asked for since: its own answer follows
            return
        acts, self.waiting = list(self.waiting), {}
        for act in acts:
            act()


@cache
def _arrival() -> Arrival:
    """One for the whole page."""
    return Arrival()


def on_arrival(act) -> None:
    """Call `act`, without arguments, when everything that the reader typed and moved so far has arrived."""
    _arrival().wait(act)
