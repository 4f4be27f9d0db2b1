"""What the main gives, and what height, pipe and tap take of it, as standing bars that hang from one another."""

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST
from ...quantities.display import show
from ...quantities.units import Q_

TOP, BASE, BAR = 66, 360, 62  # [px] of the highest bar; where the bars stand; their width
NAMES, NUMBERS = 384, 408  # [px] baselines beneath the bars
LOOKS = (("#5b6b7a", ""), ("#c3ced8", ""), ("#8fa0b0", "//"), ("#e3e9ee", ""))  # main, height, pipe, tap


def shown(pressure: float, system: str, kind: str = "pressure") -> str:
    """A pressure [Pa] in words; kind : "pressure" or, finer, "pressure drop"."""
    return show(Q_(pressure, "Pa"), kind, system)


class PressureSteps:
    """Four bars on one scale: the main gives, the height takes, the pipe takes, the rest is left for the tap.

    A line across the last bar is what the tap needs for the flow that is wanted.
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = canvas.drawing(left, top, width, height)
        axes.text(0, 14, "What the main gives, and what takes it", size=TEXT, weight="bold", color=INK)
        axes.plot([0, width], [BASE, BASE], lw=1.2, color=FAINT)
        self.places = np.linspace(0, width - BAR - 40, 4) + 20
        self.bars = [
            canvas.moving(axes.add_patch(Rectangle((x, BASE), BAR, 0, fc=colour, ec=INK, lw=0.8, hatch=hatch)))
            for x, (colour, hatch) in zip(self.places, LOOKS)
        ]
        self.levels = [canvas.moving(*axes.plot([], [], lw=1.2, ls=":", color=FAINT)) for _ in range(3)]
        self.kept = canvas.moving(*axes.plot([], [], lw=2, ls="--", color=GHOST))
        last = self.places[-1]
        self.needs = canvas.moving(*axes.plot([last - 12, last + BAR + 12], [BASE, BASE], lw=3, color=INK))
        self.needed = canvas.words(axes, width, NUMBERS + 28, ha="right")
        self.names, self.numbers = (
            [canvas.words(axes, x + 0.5 * BAR, y, ha="center", weight=weight) for x in self.places]
            for y, weight in ((NAMES, "normal"), (NUMBERS, "bold"))
        )

    def show(self, scene, system: str) -> None:
        """Moves the artists to a scene (see picture.SizeScene)."""
        self.highest = max(scene.pressure, scene.pressure - scene.lift, scene.needs if scene.flows else 0.0)
        levels = scene.levels
        ends = ((0.0, scene.pressure), *zip(levels, levels[1:]), (0.0, levels[-1]))
        for bar, (one, other) in zip(self.bars, ends):
            low, high = sorted((self._y(one), self._y(other)))
            bar.set(y=low, height=high - low)
        for line, level, x in zip(self.levels, levels, self.places):
            line.set_data([x + BAR, x + (self.places[1] - self.places[0])], self._y(np.full(2, level)))
        self._words(scene, system)

    def _y(self, pressure):
        """Says where a pressure [Pa] stands [px]."""
        return BASE - (BASE - TOP) * np.asarray(pressure) / self.highest

    def _words(self, scene, system: str) -> None:
        """Writes a name and a number beneath each bar, and what the tap needs beside its line."""
        names = ("main gives", "the fall adds" if scene.lift < 0 else "height takes", "pipe takes", "left for tap")
        values = (
            shown(scene.pressure, system),
            shown(abs(scene.lift), system),
            shown(scene.lost, system, "pressure drop") if scene.flows else "–",
            shown(scene.left, system) if scene.flows else "nothing",
        )
        for name, number, text, value in zip(self.names, self.numbers, names, values):
            name.set_text(text)
            number.set_text(value)
        self.needs.set_visible(scene.flows)
        level = float(self._y(scene.needs if scene.flows else 0.0))
        self.needs.set_ydata([level, level])
        wanted = show(Q_(scene.wanted, "m**3/s"), "flow", system)
        self.needed.set_text(
            f"thick line: the tap needs {shown(scene.needs, system)} for {wanted}" if scene.flows else ""
        )

    def show_kept(self, scene) -> None:
        """A dashed line along the levels that were kept, on the present scale; None: nothing."""
        if scene is None:
            return self.kept.set_data([], [])
        step = self.places[1] - self.places[0]
        edges = np.repeat(np.append(self.places, self.places[-1] + step), 2)[1:-1]
        levels = np.repeat([scene.pressure, *scene.levels[1:], scene.levels[-1]], 2)
        return self.kept.set_data(np.minimum(edges, self.places[-1] + BAR), self._y(levels))
