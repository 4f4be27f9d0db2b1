"""What the parts of the page on own material share: a line that says what became of the last press, and a file's door."""

from html import escape

import ipywidgets as widgets


def row(*parts) -> widgets.HBox:
    """Parts side by side, on a further line where they find no room."""
    return widgets.HBox(list(parts), layout={"align_items": "center", "flex_flow": "row wrap"})


def button(name: str, act, tip: str, grave: str = "") -> widgets.Button:
    """A button as wide as its name. grave : "primary" for the one that matters most"""
    made = widgets.Button(description=name, tooltip=tip, button_style=grave, layout={"width": "auto"})
    made.on_click(lambda _: act())
    return made


class Part:
    """A part of the page. said : how things stand and what was done last, in sentences; the same where no kernel is"""

    def __init__(self):
        self.stands, self.told, self.said = widgets.HTML(), widgets.HTML(), ""

    def framed(self, *parts) -> widgets.VBox:
        """How things stand, the parts beneath it, and what was done last."""
        whole = widgets.VBox([self.stands, *parts, self.told])
        whole.add_class("hot-water-runs")
        return whole

    def say(self, stands: str, told: str = "") -> None:
        """Says how things stand now, and what became of the last press."""
        self.said = f"{stands} {told}".strip()
        for place, words in ((self.stands, stands), (self.told, told)):
            lines = "<br>".join(map(escape, words.splitlines()))
            place.value = (
                f'<div role="status" style="font-size:15px;line-height:1.4;max-width:62em">{lines}</div>'
                if lines
                else ""
            )

    def __repr__(self) -> str:
        return self.said

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        return {**(self.widget._repr_mimebundle_() or {}), "text/plain": self.said}


class Brought:
    """A button by which a file of this computer is brought. take : (content, name) → what to do with it"""

    def __init__(self, title: str, ending: str, take):
        self.take = take
        self.widget = widgets.FileUpload(accept=ending, multiple=False, description=title, layout={"width": "auto"})
        self.widget.observe(lambda change: self._take(), "value")

    def _take(self) -> None:
        """Hands the file on and forgets it, so that the same one can be brought again."""
        files, self.widget.value = self.widget.value, ()
        for file in files:
            self.take(bytes(file["content"]), file["name"])
