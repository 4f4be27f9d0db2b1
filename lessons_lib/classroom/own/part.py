"""What the parts of the page of own material share: one frame, and a line that says what became of a press."""

from html import escape

import ipywidgets as widgets

from ...panels.controls import label_of
from ...panels.panel_base import STYLE
from ...quantities.errors import InputError

ROW = {"align_items": "center", "flex_flow": "row wrap"}


class Part:
    """A part of the page. said : the sentence that stands in its line, for a screen reader too"""

    def __init__(self):
        self.told, self.said = widgets.HTML(), ""
        self.widget = widgets.VBox([widgets.HTML(STYLE, layout={"display": "none"})])
        self.widget.add_class("hot-water-runs")

    def show(self, *parts) -> None:
        """Show these widgets one beneath the other, and the line that tells beneath them."""
        self.widget.children = (self.widget.children[0], *parts, self.told)

    def tell(self, words: str) -> None:
        """Say what became of something that the reader did."""
        self.said = words
        self.told.value = (
            '<div role="status" aria-live="polite" style="font-size:15px;line-height:1.4;max-width:62em">'
            f"{escape(words)}</div>"
        )

    def trying(self, work) -> None:
        """Do what a press asks for; an input that cannot be used is said in the line."""
        try:
            work()
        except InputError as error:
            self.tell(f"▲ Not kept. {error}")

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def button(words: str, pressed, width: str = "auto", main: bool = False) -> widgets.Button:
    """A button that calls `pressed`, without arguments."""
    made = widgets.Button(
        description=words, tooltip=words, button_style="primary" if main else "", layout={"width": width}
    )
    made.on_click(lambda _: pressed())
    return made


def row(name: str, *parts, width: str = "150px") -> widgets.HBox:
    """Parts in one row behind their name; on a phone they go on in the next line."""
    return widgets.HBox([label_of(name, width), *parts], layout=ROW)


def count_box(named: str, width: str = "80px", **more) -> widgets.BoundedIntText:
    """A box for a whole number whose name is heard and not seen, for it stands beside it already."""
    box = widgets.BoundedIntText(description=named, layout={"width": width}, **more)
    box.add_class("hot-water-name-heard")
    return box


def small(words: str) -> widgets.HTML:
    """Words beside a box."""
    return widgets.HTML(f'<span style="font-size:15px;color:#1d2b38;line-height:1.3">{escape(words)}</span>')


def lines_of(lines) -> str:
    """Lines as HTML, one beneath the other."""
    return (
        '<div style="font-size:15px;line-height:1.4">'
        + "".join(f"<div>{escape(one)}</div>" for one in lines)
        + "</div>"
    )
