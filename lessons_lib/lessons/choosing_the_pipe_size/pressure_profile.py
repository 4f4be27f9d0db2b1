"""The run from the main up to the tap, with standpipes that show the pressure along it; and where the pressure goes."""

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...quantities.display import show
from ...quantities.units import Q_

SPANS = (150e3, 300e3, 450e3, 600e3, 1000e3)  # [Pa] that the height of the drawing may stand for
STAND, PLACES = 9, 5  # [px] width of a standpipe; how many
LEFT, RIGHT, ABOVE, BELOW = 58, 60, 48, 30  # [px] around the run
BAR = 26  # [px] width of the bar


def shown(pressure: float, system: str, kind: str = "pressure") -> str:
    """A pressure [Pa] in words; kind : "pressure" or, finer, "pressure drop"."""
    return show(Q_(pressure, "Pa"), kind, system)


class PressureProfile:
    """Draws pressure upwards: what the height takes and what is left above the pipe are on one scale. Lengthwise not to
    scale.
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = self.axes = canvas.drawing(left, top, width, height)
        self.bottom, self.tall = height - BELOW, height - ABOVE - BELOW
        self.x = np.linspace(LEFT, width - RIGHT, PLACES)
        axes.text(0, 14, "Pressure along the run", size=TEXT, weight="bold", color=INK)
        axes.text(LEFT, height - 6, "main", size=TEXT, color=INK, ha="center")
        axes.text(width - RIGHT, height - 6, "tap", size=TEXT, color=INK, ha="center")
        self.still = canvas.moving(*axes.plot([], [], lw=1.6, ls=":", color=FAINT))
        self.kept = canvas.moving(*axes.plot([], [], lw=2, ls="--", color=GHOST))
        self.stands = [
            canvas.moving(axes.add_patch(Rectangle((x - 0.5 * STAND, 0), STAND, 0, ec=INK, lw=0.8))) for x in self.x
        ]
        self.grade = canvas.moving(*axes.plot([], [], lw=3, color=INK))
        self.empty = canvas.moving(*axes.plot([], [], lw=9, color=INK, solid_capstyle="butt"))
        self.hollow = canvas.moving(*axes.plot([], [], lw=5, color="white", solid_capstyle="butt"))
        self.water = canvas.moving(*axes.plot([], [], lw=5, solid_capstyle="butt"))
        spout = [(0, -6), (24, -6), (30, 0), (30, 12), (20, 12), (20, 6), (0, 6)]
        self.spout, self.tap = np.array(spout), canvas.moving(axes.add_patch(Polygon(spout, fc=FAINT, ec=INK)))
        self.at_main = canvas.words(axes, 0, 0, weight="bold", backed=True)
        self.at_tap = canvas.words(axes, width, 0, weight="bold", ha="right", backed=True)
        self.dry = canvas.words(axes, width - RIGHT, 36, weight="bold", ha="right")

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see pipe_size_picture.SizeScene)."""
        rise, main = scene.lift, scene.pressure
        low, high = min(0.0, rise), max(main, rise)
        self.low, self.span = low, next((span for span in SPANS if span >= high - low), SPANS[-1])
        floor = rise * np.linspace(0, 1, PLACES)
        grade = np.linspace(main, rise + scene.left, PLACES) if scene.flows else np.full(PLACES, main)
        pipe, line = self._y(floor), self._y(grade)
        colour = water_colour(scene.supply)
        for stand, x, foot, head in zip(self.stands, self.x, pipe, line):
            stand.set(x=x - 0.5 * STAND, y=min(foot, head), height=max(foot - head, 0.0), facecolor=colour)
        ends = self.x[[0, -1]]
        self.still.set_data(ends, self._y(np.full(2, main)))
        self.grade.set_data(self.x, line)
        self.empty.set_data(ends, pipe[[0, -1]])
        self.hollow.set_data(ends, pipe[[0, -1]])
        share = 1.0 if scene.flows else main / rise
        self.water.set_data(
            [ends[0], ends[0] + share * (ends[1] - ends[0])], [pipe[0], pipe[0] + share * (pipe[-1] - pipe[0])]
        )
        self.water.set_color(colour)
        self.tap.set_xy(self.spout + (ends[1], pipe[-1]))
        self._words(scene, system, pipe, line)

    def _y(self, pressure):
        """Says where a pressure above the main's own level is drawn [px]."""
        return self.bottom - (np.asarray(pressure) - self.low) * self.tall / self.span

    def _words(self, scene, system: str, pipe, line) -> None:
        """Writes what gauges at both ends would show, and that nothing comes."""
        self.at_main.set_position((0, line[0] - 8))
        self.at_main.set_text(shown(scene.pressure, system))
        self.at_tap.set_y(min(line[-1], pipe[-1] - 14) - 8)
        self.at_tap.set_text(shown(scene.left, system) if scene.flows else "")
        self.dry.set_text("" if scene.flows else "water stands in the pipe")

    def show_kept(self, scene) -> None:
        """The pressure line that was kept for comparison, on the present scale; None: nothing."""
        if scene is None:
            self.kept.set_data([], [])
        else:
            end = scene.lift + scene.left if scene.flows else scene.pressure
            self.kept.set_data(self.x[[0, -1]], self._y([scene.pressure, end]))


class PressureBudget:
    """Draws one standing bar: the height, the way and the tap share the main's pressure."""

    PARTS = (("height", "#c9d2da", ""), ("left for the tap", "#f0913a", ""), ("lost on the way", "#b8321f", "//"))

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = canvas.drawing(left, top, width, height)
        axes.text(0, 14, "Where it goes", size=TEXT, weight="bold", color=INK)
        self.bottom, self.tall = height - BELOW, height - ABOVE - BELOW
        self.parts, self.names, self.numbers = [], [], []
        for _, colour, hatch in self.PARTS:
            part = Rectangle((2, 0), BAR, 0, fc=colour, ec=INK, lw=0.8, hatch=hatch)
            self.parts.append(canvas.moving(axes.add_patch(part)))
        for _ in self.PARTS:
            self.names.append(canvas.words(axes, BAR + 10, 0))
            self.numbers.append(canvas.words(axes, BAR + 10, 0, weight="bold"))

    def show(self, scene, system: str) -> None:
        """Shares of the main's pressure and of what a falling run gains."""
        takes = (min(scene.lift, scene.pressure), scene.left if scene.flows else 0.0, scene.lost)
        whole = scene.pressure + max(-scene.lift, 0.0)
        edge, middles = self.bottom, []
        for part, value in zip(self.parts, takes):
            tall = self.tall * max(value, 0.0) / whole
            part.set(y=edge - tall, height=tall)
            middles.append(edge - 0.5 * tall)
            edge -= tall
        for place in range(1, len(middles)):  # words of thin parts would lie on each other
            middles[place] = min(middles[place], middles[place - 1] - 46)
        overshoot = max(0.0, ABOVE - 8 - middles[-1])
        for (name, *_), value, middle, words, numbers in zip(self.PARTS, takes, middles, self.names, self.numbers):
            falls = name == "height" and value < 0
            words.set_y(middle + overshoot - 2)
            numbers.set_y(middle + overshoot + 16)
            words.set_text("the fall adds" if falls else name)
            numbers.set_text(shown(abs(value), system, "pressure drop" if name == "lost on the way" else "pressure"))
