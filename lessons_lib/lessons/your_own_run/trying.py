"""The button that tries every change of the layout that is open, and how far it is."""

import ipywidgets as widgets

from ...building.changes import CHANGES_SHOWN, trying
from ...panels.progress import Progress
from ...quantities.errors import InputError


class Trying:
    """Tries every change, and the best in pairs; what is found goes to `panel.changes` as it is found.

    panel : the OwnRun; widget : button and bar, to stand beside the choice of results
    """

    def __init__(self, panel):
        self.panel, self.progress = panel, Progress()
        self.button = widgets.Button(
            description="Try every change",
            tooltip="Takes some seconds, in a large building some minutes; it can be stopped",
            layout={"width": "auto"},
        )
        self.button.on_click(lambda _: panel.try_changes())
        self.widget = widgets.HBox([self.button, self.progress.widget], layout={"align_items": "center"})

    def begin(self) -> None:
        """Begins, unless it is going on already."""
        if self.progress.busy:
            return
        panel = self.panel
        try:
            steps = self._steps(panel.finished().layout, panel.document.text)
        except InputError as error:
            panel._complain(error)
            return
        panel._tell("… Trying every change, and the best ones in pairs.")
        self.button.disabled = True
        self.progress.work(steps, self._done, self._failed)

    def _steps(self, layout, text: str):
        """Yields how far it is, until everything was tried or the layout was changed meanwhile."""
        for share, best in trying(layout, *CHANGES_SHOWN):
            if self.panel.document.text != text:
                self.panel.changes = None
                return
            self.panel.changes = best
            yield share

    def _done(self, stopped: bool) -> None:
        """Shows what was found."""
        panel, self.button.disabled = self.panel, False
        panel._view()
        if panel.changes is None:
            said = "Not tried to the end, for the layout was changed"
        else:
            said = "Stopped. These are the best of those that were tried" if stopped else "Tried"
        panel._tell_work(f"● {said}")

    def _failed(self, reason: Exception) -> None:
        """Says what went wrong on the way."""
        self.button.disabled, self.panel.changes = False, None
        if isinstance(reason, InputError):
            self.panel._complain(reason)
            return
        with self.panel._never_ready():
            raise reason
