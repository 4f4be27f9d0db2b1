"""The fields of the form: each holds a text as it is typed, and hands it on at once."""

from html import escape

import ipywidgets as widgets

from ...panels.arrival import Checkbox, Dropdown, RadioButtons, Text, Textarea
from .part import button

WIDTH = "min(680px, 100%)"
SMALL = "font-size:14px;line-height:1.35;color:#4a5763;max-width:48em"


class Field:
    """A box under its label. store : called with what stands in it, whenever the reader changes it"""

    def __init__(self, label: str, box, store, explained: str = ""):
        self.label, self.box = label, box
        box.layout.width = WIDTH
        box.observe(lambda change: store(change["new"]), "value")
        head = f'<div style="font-size:15px;line-height:1.35"><b>{escape(label)}</b></div>' if label else ""
        told = f'<div style="{SMALL}">{escape(explained)}</div>' if explained else ""
        above = [widgets.HTML(head + told)] if head or told else []
        self.widget = widgets.VBox([*above, box], layout={"margin": "0 0 8px 0", "max_width": "100%"})


def line(label: str, value: str, store, explained: str = "", like: str = "") -> Field:
    """One line of text. like : an example, shown while it is empty"""
    return Field(label, Text(value=value, placeholder=like, tooltip=label), store, explained)


def lines(label: str, value: str, store, explained: str = "", like: str = "", rows: int = 2) -> Field:
    """Some lines of text."""
    return Field(label, Textarea(value=value, placeholder=like, tooltip=label, rows=rows), store, explained)


def menu(label: str, options: dict, value: str, store, explained: str = "") -> Field:
    """One of many. options : key → what is shown; a value that is none of them leaves it open"""
    shown = [(words, key) for key, words in options.items()]
    box = Dropdown(options=[("Choose …", ""), *shown], value=value if value in options else "", tooltip=label)
    return Field(label, box, store, explained)


def few(label: str, options: dict, value: str, store, explained: str = "") -> Field:
    """One of a few, all in sight."""
    shown = [(words, key) for key, words in options.items()]
    return Field(label, RadioButtons(options=shown, value=value if value in options else None), store, explained)


def tick(label: str, value: bool, store) -> Field:
    """A tick with its words beside it."""
    return Field("", Checkbox(value=value, description=label, indent=False, tooltip=label), store)


def beneath(words: str, act) -> widgets.Button:
    """A button beneath a field, as wide as its words."""
    made = button(words, act)
    made.layout.align_self = "flex-start"
    return made


def said(words: str, colour: str = "") -> str:
    """A sentence to the reader, told to those who listen too."""
    border = f";border-left:4px solid {colour};padding-left:8px" if colour else ""
    return (
        f'<div role="status" style="font-size:15px;line-height:1.4;max-width:48em{border}">{escape(words)}</div>'
        if words
        else ""
    )


def words(text: str) -> widgets.HTML:
    """A sentence of explanation."""
    return widgets.HTML(
        f'<div style="font-size:15px;line-height:1.4;max-width:46em;margin-bottom:6px">{escape(text)}</div>'
    )
