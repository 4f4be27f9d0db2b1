"""A clock for the room: it counts down the part of the timetable that is held now, in figures that the last row
reads.
"""

import asyncio
import time
from html import escape

import ipywidgets as widgets

from ..panels.panel import Panel

TICK = 0.25  # [s] between two looks at the clock
SOON = 120  # [s] from which on the figures are red


class SessionTimer:
    """Follows a planner: one part of its timetable is chosen, and counted down from when *Start* is pressed.

    What is left is read off the clock of the computer, so a page that was busy is not late.
    """

    def __init__(self, planner: Panel, clock=time.monotonic):
        self.planner, self.clock = planner, clock
        self.part = widgets.Dropdown(description="Now", tooltip="The part that is held now", layout={"width": "560px"})
        self.part.observe(lambda change: self.stop(), "value")
        self.button = widgets.Button(description="Start", button_style="primary", layout={"width": "90px"})
        self.button.on_click(lambda _: self.stop() if self.running else self.start())
        self.following = widgets.Button(
            description="Next part", tooltip="Go on to the part after this one", layout={"width": "100px"}
        )
        self.following.on_click(lambda _: self.next())
        self.shown, self.ends, self.task = widgets.HTML(), None, None
        self.said, self._parts = "", ()
        bar = widgets.HBox(
            [self.part, self.button, self.following], layout={"align_items": "center", "flex_flow": "row wrap"}
        )
        self.widget = widgets.VBox([bar, self.shown])
        self.widget.add_class("hot-water-runs")
        self._take_up()
        planner.watchers.append(self._take_up)

    @property
    def running(self) -> bool:
        """Says whether it counts."""
        return self.ends is not None

    @property
    def place(self) -> int:
        """Gives the place of the chosen part in the timetable; while a new one is laid out, the first."""
        return self.part.value or 0

    @property
    def left(self) -> int:
        """Gives the seconds that are left of the part, negative when it is over."""
        minutes = self._parts[self.place].minutes
        return round(self.ends - self.clock()) if self.running else 60 * minutes

    def start(self) -> None:
        """Count from now on. Where the page's Python has no loop, `show` says what is left when it is called."""
        self.ends = self.clock() + 60 * self._parts[self.place].minutes
        self.button.description = "Stop"
        self.show()
        try:
            self.task = asyncio.get_running_loop().create_task(self._count(self.ends))
        except RuntimeError:  # no loop: a test or a script
            self.task = None

    def stop(self) -> None:
        """Stop counting; the part begins anew."""
        self.ends, self.button.description = None, "Start"
        self.show()

    def next(self) -> None:
        """Begin the part that comes after this one; after the last one, stop."""
        after = self.place + 1
        if after < len(self._parts):
            self.part.value = after
            self.start()
        else:
            self.stop()

    async def _count(self, ends: float) -> None:
        """Shows what is left until somebody stops it, or starts another part."""
        while self.ends == ends:
            self.show()
            await asyncio.sleep(TICK)

    def show(self) -> None:
        """Write what is left, large, and what follows."""
        minutes, seconds = divmod(abs(self.left), 60)
        over = self.left < 0
        said = f"{'over by ' if over else ''}{minutes}:{seconds:02}"
        colour = "#9b1c1c" if self.running and self.left < SOON else "#1b2733"
        after = self.place + 1
        what = f"Then: {self._named(after)}" if after < len(self._parts) else "Then the session is over."
        if said != self.said or what not in self.shown.value:
            self.said = said
            self.shown.value = (
                f'<div role="timer" style="font-size:72px;line-height:1.1;color:{colour};font-variant-numeric:'
                f'tabular-nums">{said}</div><div style="font-size:16px">{escape(what)}</div>'
            )

    def _take_up(self) -> None:
        """Takes the planner's timetable; a part that is being counted goes on where the timetable still has it."""
        parts = self.planner.scene.plan.parts
        if parts == self._parts:
            return
        self._parts = parts
        self.part.options = [(self._named(place), place) for place in range(len(parts))]
        self.part.value = 0
        self.stop()

    def _named(self, place: int) -> str:
        part = self._parts[place]
        return f"{part.minutes} min · {part.lesson} {part.what}".replace("  ", " ")

    def __repr__(self) -> str:
        return f"A clock that counts down {len(self._parts)} parts, the first: {self._named(0)}."

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def session_timer(planner: Panel) -> SessionTimer:
    """The clock of the planner's session."""
    return SessionTimer(planner)
