"""Long work in steps: a bar that says how far it is, and a button that stops it."""

import asyncio

import ipywidgets as widgets


class Progress:
    """A bar and *Stop*, shown while work is going on. Where the page's Python has a loop, the work gives way to it
    after each step, so that the bar moves and *Stop* is heard; elsewhere it is done when `work` returns.

    stops : whether the reader is offered to stop it; widget : to stand beside what begins the work
    """

    def __init__(self, stops: bool = True):
        self.bar = widgets.FloatProgress(min=0.0, max=1.0, layout={"width": "180px"})
        self.said = widgets.HTML()
        self.stop = widgets.Button(description="Stop", tooltip="Stop here", layout={"width": "70px"})
        self.stop.on_click(lambda _: self._stop())
        self.widget = widgets.HBox(
            [self.bar, self.said, *([self.stop] if stops else [])], layout={"display": "none", "align_items": "center"}
        )
        self.stopped, self.task, self._newest = False, None, None

    @property
    def busy(self) -> bool:
        """Says whether work is going on."""
        return self.widget.layout.display is None

    def work(self, steps, done, failed) -> None:
        """Go through the steps. Work that is going on is left where it is, for this takes its place.

        steps : generator that yields what share of the work is done, 0 to 1
        done : takes whether the reader stopped it; failed : takes the exception that a step raised
        """
        self.stopped, self.widget.layout.display, self._newest = False, None, steps
        self._show(0.0)
        whole = self._go(steps, done, failed)
        try:
            self.task = asyncio.get_running_loop().create_task(whole)
        except RuntimeError:  # no loop: a test or a script
            asyncio.run(whole)

    async def _go(self, steps, done, failed) -> None:
        """Takes a step after the other, and gives way between them."""
        if self._newest is not steps:
            return
        try:
            for share in steps:
                self._show(share)
                await asyncio.sleep(0.01)
                if self._newest is not steps:
                    return
                if self.stopped:
                    break
        except Exception as reason:
            self.widget.layout.display = "none"
            failed(reason)
        else:
            self.widget.layout.display = "none"
            done(self.stopped)

    def leave(self) -> None:
        """Leaves the work that is going on where it is; nothing is told of it."""
        self._newest, self.widget.layout.display = None, "none"

    def _show(self, share: float) -> None:
        """Shows how far the work is."""
        self.bar.value = share
        self.said.value = f'<span style="font-size:14px;white-space:nowrap">{100 * share:.0f} %</span>'

    def _stop(self) -> None:
        """Asks the work to end after the step that it is in."""
        self.stopped = True
