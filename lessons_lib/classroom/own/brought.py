"""A button by which an instructor brings a file of the computer that is sat at."""

import ipywidgets as widgets


class Brought:
    """The button. take : (content, name) → what to do with the file"""

    def __init__(self, title: str, ending: str, take):
        self.take = take
        self.widget = widgets.FileUpload(
            accept=ending, multiple=False, description=title, tooltip=title, layout={"width": "auto"}
        )
        self.widget.observe(lambda change: self._take(), "value")

    def _take(self) -> None:
        """Hands the file on and forgets it, so that the same one can be brought again."""
        files = self.widget.value
        if files:
            self.widget.value = ()
        for file in files:
            self.take(bytes(file["content"]), file["name"])
