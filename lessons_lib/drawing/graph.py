"""A graph whose lines move and whose scales are labelled in the reader's unit."""

from dataclasses import dataclass

import numpy as np

from ..quantities.display import KINDS, SYSTEMS, symbol
from ..quantities.units import Q_
from .canvas import FAINT, INK, TEXT, Canvas, quiet_spines

ROOM_LEFT, ROOM_ABOVE, ROOM_BELOW = 48, 28, 50  # [px] around the axes: numbers, title, numbers and name below


@dataclass(frozen=True)
class Axis:
    """Describes a scale: its kind of value (see display.KINDS), its ends in the metric unit, and where it has numbers.

    metric, customary : numbers on the scale, each in its own unit
    """

    name: str
    kind: str
    low: float
    high: float
    metric: tuple
    customary: tuple

    def ticks(self, system: str) -> tuple[list, list]:
        """Places in the metric unit, and their labels."""
        units = KINDS[self.kind].units
        shown = self.metric if system == SYSTEMS[0] else self.customary
        places = [Q_(value, units[SYSTEMS.index(system)]).to(units[0]).magnitude for value in shown]
        degree = "°" if self.kind.startswith("temperature") else ""
        return places, [f"{value:g}{degree}".replace("-", "−") for value in shown]

    def title(self, system: str) -> str:
        """Gives the scale's name with its unit."""
        unit = symbol(self.kind, system)
        return f"{self.name} [{unit}]" if unit else self.name


def even(low: float, high: float, step: float) -> tuple:
    """Numbers for a scale, from low to high."""
    return tuple(np.arange(low, high + 0.5 * step, step).round(6))


def around(name: str, kind: str, low: float, high: float, most: int = 6) -> Axis:
    """A scale with round ends around values from low to high [metric unit], and round numbers on it in each system.

    most : steps from one number to the next
    """
    step = _round_step(max(high - low, 1e-9), most)
    low, high = (
        step * np.floor(low / step + 1e-9),
        step * max(np.ceil(high / step - 1e-9), np.floor(low / step + 1e-9) + 1),
    )
    metric, customary = KINDS[kind].units
    numbers = []
    for unit in (metric, customary):
        first, last = (Q_(float(end), metric).to(unit).magnitude for end in (low, high))
        own = _round_step(last - first, most)
        numbers.append(
            tuple(
                (own * np.arange(np.ceil(first / own - 1e-9), np.floor(last / own + 1e-9) + 1) + 0.0).round(6).tolist()
            )
        )
    return Axis(name, kind, float(low), float(high), *numbers)


def _round_step(span: float, most: int) -> float:
    """1, 2 or 5 times a power of ten, at most so many of them in the span."""
    power = 10.0 ** np.floor(np.log10(span / most))
    return next(factor * power for factor in (1, 2, 5, 10) if span / (factor * power) <= most + 1e-9)


class Graph:
    """Axes with a title above, the upright scale's name beside it and the other's beneath. Data are in metric units.

    left, top, width, height : the whole, in pixels of the picture
    """

    def __init__(
        self, canvas: Canvas, left: int, top: int, width: int, height: int, title: str, across: Axis, up: Axis
    ):
        self.canvas, self.across, self.up = canvas, across, up
        inside = width - ROOM_LEFT - 12, height - ROOM_ABOVE - ROOM_BELOW
        axes = self.axes = canvas.axes(left + ROOM_LEFT, top + ROOM_ABOVE, *inside)
        quiet_spines(axes)
        around = canvas.drawing(left, top, width, height)
        self.upright = around.text(0, 14, title, size=TEXT, weight="bold", color=INK)
        self.beneath = around.text(ROOM_LEFT + 0.5 * inside[0], height - 8, "", size=TEXT, color=INK, ha="center")
        self.title = title

    def units(self, system: str) -> None:
        """Label both scales in the reader's unit."""
        self.system = system
        self.axes.set(xlim=(self.across.low, self.across.high), ylim=(self.up.low, self.up.high))
        self.axes.set_xticks(*self.across.ticks(system))
        self.axes.set_yticks(*self.up.ticks(system))
        unit = symbol(self.up.kind, system)
        self.upright.set_text(f"{self.title} [{unit}]" if unit and unit[0] != "°" else self.title)
        self.beneath.set_text(self.across.title(system))
        self.canvas.renew(self, (system, self.across, self.up))

    def stretch(self, across: Axis | None = None, up: Axis | None = None) -> None:
        """Take other scales; new ones cost a full redraw, so only from a short list of them."""
        across, up = across or self.across, up or self.up
        if (across, up) != (self.across, self.up):
            self.across, self.up = across, up
            self.units(self.system)

    def line(self, **style):
        """A moving line; set it with set_data(x, y)."""
        return self.canvas.moving(*self.axes.plot([], [], **{"lw": 3, "color": INK, **style}))

    def mark(self, shape: str = "o", **style):
        """A moving mark; set it with set_data([x], [y]), or two empty lists for none."""
        return self.line(**{"ls": "none", "marker": shape, "ms": 12, "clip_on": False, **style})

    def words(self, x: float, y: float, **style):
        """Moving words at (x, y) in data coordinates; see Canvas.words."""
        return self.canvas.words(self.axes, x, y, **style)

    def standing(self, x, y, **style):
        """A line that stands still."""
        return self.axes.plot(x, y, **{"lw": 2, "color": FAINT, **style})[0]
