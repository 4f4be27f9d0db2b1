"""Who is answering: a name, a seat, or both, given once; wherever it is asked for, everything on the page follows.

In a room the name comes from its door, and nobody can answer in another's.
"""

from html import escape

import ipywidgets as widgets

from ..storage.preferences import in_room
from .arrival import Text, on_arrival
from .page_state import answering, choose_learner, follow_learner, forget_learner, keep_work
from .panel_base import STYLE

# ends the sign-in on this browser, where the room's door asks for a name again
LEAVE = '<a href="/leave" target="_top" class="hot-water-other">Somebody else</a>'
WHY = "Your name, your seat number, or both: for numbers of your own, and to keep your answers."


class Who:
    """Two boxes to fill in; afterwards one line that says who answers.

    All parts stay in the row and some are shown, so that the keyboard's focus can go from one to the next.
    """

    def __init__(self):
        self.name = Text(placeholder="name", tooltip="Your name", layout={"width": "200px"})
        self.seat = Text(
            placeholder="seat", tooltip="Your seat number, or a mark of your own", layout={"width": "90px"}
        )
        self.begin = widgets.Button(description="This is me", button_style="primary", layout={"width": "100px"})
        self.begin.on_click(lambda _: self._given())
        for box in (self.name, self.seat):
            box.on_msg(lambda _, content, __: self._given() if content.get("event") == "submit" else None)
        self.other = widgets.Button(
            description="Somebody else",
            tooltip="Another learner answers; all answers stay kept",
            layout={"width": "auto"},
        )
        self.other.add_class("hot-water-other")
        self.other.on_click(lambda _: self._acts(forget_learner))
        self.mine, self.not_mine = (
            widgets.Button(description=words, tooltip=why, layout={"width": "150px"})
            for words, why in (
                ("Yes, it was me", "Your work is kept, with the numbers it has now"),
                ("No, not me", "That work goes; you begin with your own numbers"),
            )
        )
        self.mine.on_click(lambda _: self._acts(lambda: keep_work(True)))
        self.not_mine.on_click(lambda _: self._acts(lambda: keep_work(False)))
        self.line, self.leave, self.told = widgets.HTML(), widgets.HTML(LEAVE), widgets.HTML()
        self.row = widgets.HBox(
            [self.line, self.name, self.seat, self.begin, self.mine, self.not_mine, self.other, self.leave],
            layout={"align_items": "center", "flex_flow": "row wrap"},
        )
        self.widget = widgets.VBox([widgets.HTML(STYLE, layout={"display": "none"}), self.row, self.told])
        self.widget.add_class("hot-water-runs")
        self.acting, self.shown = False, ()
        self.set_learner(answering().learner)
        self._tell_news()
        follow_learner(self)

    def _given(self) -> None:
        """The reader pressed Enter or the button."""
        on_arrival(self.choose, self.name, self.seat)

    def choose(self) -> None:
        """Take what stands in the boxes."""
        self._acts(lambda: choose_learner(self.name.value, self.seat.value))

    def _acts(self, act) -> None:
        """Does what the reader asked for here, so that the keyboard goes on to the parts that are shown afterwards."""
        self.acting = True
        try:
            act()
        finally:
            self.acting = False
        self._tell_news()

    def set_learner(self, learner) -> None:
        """Show who answers now, or ask whose the work is that stands there."""
        coming = answering().coming
        if coming is not None:
            asked = f"Hello, {_named(coming)}. Somebody has worked on this page without a name. Was it you?"
            self._show(asked, self.mine, self.not_mine)
        elif in_room():
            said = "Nobody answers here" if learner.is_nobody else f"Answering: {_named(learner)}"
            self._show(f"{said}.", self.leave)
        elif learner.is_nobody:
            self._show(WHY, self.name, self.seat, self.begin)
        else:
            self._show(f"Answering: {_named(learner)}.", self.other)
            self.name.value = self.seat.value = ""  # for somebody else
        self._tell([f"▲ {answering().told}"] if answering().told else [])

    def _show(self, words: str, *parts) -> None:
        """Shows these words and parts, and no others. Who answers stands in bold.

        The keyboard goes on before the part that has it is hidden: else the browser gives it to the page.
        """
        self.line.value = _line(words, bold=len(parts) == 1)
        before, self.shown = self.shown, (self.line, *parts)
        for part in self.shown:
            part.layout.display = None
        if self.acting and self.shown != before:
            parts[0].focus()
        for part in self.row.children:
            part.layout.display = None if part in self.shown else "none"

    def _tell_news(self) -> None:
        """Tells what was found in the learner's file: once on a page, here where the name was given."""
        if answering().coming is None and (news := answering().learner.notices):
            self._tell([*([f"▲ {answering().told}"] if answering().told else []), *news])
            news.clear()

    def _tell(self, lines) -> None:
        self.told.value = "".join(f'<div role="status">{_line(line)}</div>' for line in lines)

    def __repr__(self) -> str:
        return WHY

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def _named(learner) -> str:
    return ", ".join(filter(None, (learner.name, f"seat {learner.seat}" if learner.seat else "")))


def _line(words: str, bold: bool = False) -> str:
    return (
        "<span"
        f' style="font-size:15px;line-height:1.4;{"font-weight:bold;" if bold else ""}margin-right:8px">{escape(words)}</span>'
    )
