"""Who is answering: a name, a seat, or both, given once; wherever it is asked for, everything on the page follows."""

from html import escape

import ipywidgets as widgets

from .followers import answering, choose_learner, follow_learner, forget_learner
from .live import STYLE

WHY = "Your name, your seat number, or both: for numbers of your own, and to keep your answers."


class Who:
    """Two boxes to fill in; afterwards one line that says who answers."""

    def __init__(self):
        self.name = widgets.Text(placeholder="name", tooltip="Your name", layout={"width": "200px"})
        self.seat = widgets.Text(placeholder="seat", tooltip="Your seat number, or a mark of your own", layout={"width": "90px"})
        self.begin = widgets.Button(description="This is me", button_style="primary", layout={"width": "100px"})
        self.begin.on_click(lambda _: self.choose())
        for box in (self.name, self.seat):
            box.on_msg(lambda _, content, __: self.choose() if content.get("event") == "submit" else None)  # Enter
        self.other = widgets.Button(description="Somebody else", tooltip="Another learner answers; all answers stay kept", layout={"width": "130px"})
        self.other.on_click(lambda _: forget_learner())
        self.told = widgets.HTML()
        self.row = widgets.HBox(layout={"align_items": "center", "flex_flow": "row wrap"})
        self.widget = widgets.VBox([widgets.HTML(STYLE, layout={"display": "none"}), self.row, self.told])
        self.widget.add_class("hot-water-runs")
        self.set_learner(answering().learner)
        follow_learner(self)

    def choose(self) -> None:
        """Take what stands in the boxes."""
        choose_learner(self.name.value, self.seat.value)

    def set_learner(self, learner) -> None:
        """Show who answers now, and what should be known about it."""
        lines = [f"▲ {answering().told}"] if answering().told else []
        if learner is None:
            self.row.children = [widgets.HTML(_line(WHY)), self.name, self.seat, self.begin]
        else:
            seat = f"seat {learner.seat}" if learner.seat else ""
            self.row.children = [widgets.HTML(_line(f"Answering: {', '.join(filter(None, (learner.name, seat)))}.", bold=True)), self.other]
            lines += learner.notices
        self.told.value = "".join(f'<div role="status">{_line(line)}</div>' for line in lines)

    def __repr__(self) -> str:
        return WHY

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def _line(words: str, bold: bool = False) -> str:
    return f'<span style="font-size:15px;line-height:1.4;{"font-weight:bold;" if bold else ""}margin-right:8px">{escape(words)}</span>'
