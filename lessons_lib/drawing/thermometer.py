"""The tap: a thermometer beside bands that say what the water does to a hand."""

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ..quantities.display import US, burns_briefly, celsius, show
from ..runs.assessment import SCALD_WORDS, scald_word
from .canvas import FAINT, INK, TEXT, Canvas, quiet_spines
from .colours import BAND_COLOURS, GHOST, water_colour

LOW, HIGH = 30.0, 75.0  # [degC] shown; beyond them the pointer stays at the end
SCALE = np.arange(10 * LOW, 10 * HIGH) / 10


WORDS = tuple(word for _, word in SCALD_WORDS)  # the bands are the verdicts, so that picture and card say the same
EDGES = (LOW, *(max(float(water) for water in SCALE if scald_word(water) == word) for word in WORDS[:-1]), HIGH)
CELSIUS_TICKS = np.arange(30, 76, 10)
FAHRENHEIT_TICKS = np.arange(90, 168, 20)


class Thermometer:
    """A tube filled to the tap's temperature, bands with words, the time to a burn beneath."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas = canvas
        axes = self.axes = canvas.axes(left + 44, top + 28, width - 44, height - 4)
        quiet_spines(axes)
        axes.set(xlim=(0, 1), ylim=(LOW, HIGH), xticks=[])
        axes.spines["bottom"].set_visible(False)
        for low, high, colour, word in zip(EDGES, EDGES[1:], BAND_COLOURS, WORDS):
            axes.add_patch(Rectangle((0.22, low), 0.78, high - low, fc=colour, ec="white", lw=1))
            middle = 0.5 * (low + high)
            axes.text(0.97, middle, word, size=TEXT, color=INK, ha="right", va="center_baseline")
        axes.add_patch(Rectangle((0.05, LOW), 0.1, HIGH - LOW, fc="white", ec=FAINT, lw=1.2))
        self.fill = canvas.moving(axes.add_patch(Rectangle((0.06, LOW), 0.08, 0)))
        self.line = canvas.moving(*axes.plot([0.05, 0.3], [LOW, LOW], lw=2.5, color=INK))
        self.pointer = canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, color=INK, clip_on=False)))
        self.kept = canvas.moving(*axes.plot([0.05, 0.3], [LOW, LOW], lw=2.5, ls="--", color=GHOST, visible=False))
        around = canvas.drawing(left, top, width, height + 64)
        self.title = canvas.words(around, 0, 14, weight="bold")
        self.burn = canvas.words(around, 44 + 0.5 * (width - 44), height + 54, weight="bold", ha="center")

    def units(self, system: str) -> None:
        """Label the scale in the reader's unit."""
        ticks = FAHRENHEIT_TICKS if system == US else CELSIUS_TICKS
        self.axes.set_yticks((ticks - 32) / 1.8 if system == US else ticks, [f"{tick}°" for tick in ticks])
        self.canvas.renew(self, system)

    def show(self, temperature: float, seconds: float, bound: str, system: str) -> None:
        """Move to a tap temperature [degC] with its time to a burn [s] and bound."""
        level = min(max(temperature, LOW), HIGH)
        self.fill.set(height=level - LOW, facecolor=water_colour(temperature))
        self.line.set_ydata([level, level])
        self.pointer.set_xy([(0.16, level), (0.22, level + 1.2), (0.22, level - 1.2)])
        self.title.set_text(f"At the tap: {show(celsius(temperature), 'temperature', system)}")
        self.burn.set_text(f"adults: {burns_briefly(seconds, bound)}")

    def show_kept(self, temperature: float | None) -> None:
        """A dashed line at the temperature kept for comparison [degC]; None: nothing."""
        self.kept.set_visible(temperature is not None)
        if temperature is not None:
            level = min(max(temperature, LOW), HIGH)
            self.kept.set_ydata([level, level])
