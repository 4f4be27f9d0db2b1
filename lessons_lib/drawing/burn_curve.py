"""Time to burn against water temperature: the published points, and where the tap stands among them."""

import numpy as np
from matplotlib.ticker import FixedFormatter, FixedLocator, NullLocator

from ..physics.scald import published, time_to_burn
from ..quantities.display import US
from .canvas import FAINT, INK, TEXT, Canvas, quiet_spines

COOLEST, HOTTEST = 43.0, 70.0  # [degC] shown
TIMES = {1: "1 s", 10: "10 s", 60: "1 min", 600: "10 min", 3600: "1 h", 21600: "6 h"}
CELSIUS_TICKS = np.arange(45, 71, 5)
FAHRENHEIT_TICKS = np.arange(110, 159, 10)
MARKERS = ("o", "s", "^")


class BurnCurve:
    """A falling band of published points on a logarithmic time axis, and a marker at the tap."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas = canvas
        around = canvas.drawing(left, top, width, height + 64)
        around.text(0, 14, "How long until an adult's skin burns", size=TEXT, weight="bold", color=INK)
        axes = self.axes = canvas.axes(left + 62, top + 28, width - 72, height - 4)
        quiet_spines(axes)
        axes.set(xlim=(COOLEST, HOTTEST), ylim=(0.8, 40_000), yscale="log")
        axes.set_xlabel("temperature of the water", size=TEXT, color=INK)
        axes.yaxis.set_major_locator(FixedLocator(list(TIMES)))
        axes.yaxis.set_major_formatter(FixedFormatter(list(TIMES.values())))
        axes.yaxis.set_minor_locator(NullLocator())
        temperatures = np.linspace(44, 65.5, 200)
        axes.plot(temperatures, time_to_burn(temperatures)[0], color=FAINT, lw=2)
        for marker, (name, _, _, at, logs) in zip(MARKERS, published()):
            axes.plot(at, np.exp(logs), marker, color=INK, ms=7, mfc="white", label=name)
        axes.legend(
            loc="upper right",
            bbox_to_anchor=(1.02, 1.03),
            fontsize=TEXT,
            frameon=False,
            handlelength=0.8,
            handletextpad=0.4,
            borderaxespad=0,
        )  # clear of the points
        self.dot = canvas.moving(*axes.plot([], [], "o", ms=16, color="#9b1c1c", clip_on=False))

    def units(self, system: str) -> None:
        """Label the scale in the reader's unit."""
        ticks = FAHRENHEIT_TICKS if system == US else CELSIUS_TICKS
        self.axes.set_xticks((ticks - 32) / 1.8 if system == US else ticks, [f"{tick}°" for tick in ticks])
        self.canvas.renew(self, system)

    def show(self, temperature: float, seconds: float) -> None:
        """Put the marker at a temperature [degC] and a time [s]; hotter than the scale it waits at its end, cooler
        it is not shown.
        """
        shown = COOLEST <= temperature
        self.dot.set_data([min(temperature, HOTTEST)] if shown else [], [seconds] if shown else [])
