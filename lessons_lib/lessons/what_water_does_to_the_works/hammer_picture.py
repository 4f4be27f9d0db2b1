"""Hammer: the run with its arrestor, the pressures at its tap, and how they hang on how fast the tap shuts."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.vessels import Vessel
from ...quantities.display import show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 400  # [px]
LEFT, RUN = 436, 196  # [px] width of the drawing and bars on the left, height of the drawing
MAIN, TAP, AXIS = 16, 236, 116  # [px] across to the main and to the tap, down to the pipe's axis
PER_MM = 1.5  # [px] of the pipe, cut open
VESSELS = ((288, "at rest"), (370, "at peak"))
BARS, ROOM, NUMBERS = 212, 100, 84  # [px] down to the bars; for their names and numbers
LOOKS = (("#7fb2de", ".."), ("#f0913a", "//"), ("#c7ced5", None))
LONGEST = 0.4  # [s] of the graph
TALLEST = (2e6, 4e6, 8e6, 20e6)  # [Pa] ends of the graph's upright scale
CURVE = "#b8321f"


@dataclass(frozen=True)
class HammerScene:
    """Everything that the picture shows, in SI floats; pressures as gauges show them, above the air's."""

    material: str
    bore: float
    outside: float
    colour: str  # of the pipe's wall
    length: float
    speed: float  # of the water before the tap shuts
    wave: float  # speed of the pressure wave
    there_and_back: float  # [s]
    closing: float  # [s]
    house: float
    bare: float  # highest pressure without an arrestor
    peak: float  # and with one
    cushion: float  # [m3] of air, at house pressure
    squeezed: float  # [-] share of it that is left at the peak
    limit: float  # what an arrestor is to hold the pressure below
    times: np.ndarray  # [s] closing times of the curves
    bare_curve: np.ndarray
    peak_curve: np.ndarray

    @property
    def sudden(self) -> bool:
        """Says whether the tap is shut before the wave is back."""
        return self.closing <= self.there_and_back


def _scale(tallest: float) -> Axis:
    """The upright scale of the graph, with numbers in kPa and psi."""
    step = tallest / 4
    return Axis("Highest pressure", "pressure", 0, tallest / 1e3, even(0, tallest / 1e3, step / 1e3), _psi(tallest))


def _psi(tallest: float) -> tuple:
    return even(0, tallest / 6895, {2e6: 50, 4e6: 100, 8e6: 200, 20e6: 500}[tallest])


class HammerPicture(Picture):
    """Shows the run, its arrestor, and the pressures at its tap."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, LEFT, BARS - 6), (0, BARS - 6, LEFT, HEIGHT - BARS + 6), (LEFT, 0, WIDTH - LEFT, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(4, 4, LEFT - 8, RUN)
        axes.text(0, 14, "Run from the main to the tap", size=TEXT, weight="bold", color=INK)
        axes.add_patch(Rectangle((0, AXIS - 40), MAIN, 80, fc="#dfe3e8", ec=INK, lw=1.5))
        self.wall = canvas.moving(axes.add_patch(Rectangle((MAIN, 0), TAP - MAIN, 0, ec=INK, lw=1)))
        self.water = canvas.moving(axes.add_patch(Rectangle((MAIN, 0), TAP - MAIN, 0, ec="none")))
        self.front = canvas.moving(*axes.plot([], [], lw=3, color=CURVE))
        axes.add_patch(
            Polygon([(TAP, AXIS - 22), (TAP, AXIS + 22), (TAP + 26, AXIS - 22), (TAP + 26, AXIS + 22)], fc=INK, ec=INK)
        )
        axes.text(MAIN + 4, AXIS - 46, "main", size=TEXT, color=INK)
        axes.text(TAP + 13, AXIS - 30, "tap", size=TEXT, color=INK, ha="center")
        self.of_pipe = canvas.words(axes, 0, 38)
        self.of_water = canvas.words(axes, 0, AXIS + 60)
        self.of_wave = canvas.words(axes, 0, AXIS + 80)
        self.vessels = [Vessel(canvas, axes, x, 44, 44, 76, "", closed=True) for x, _ in VESSELS]
        self.names = [canvas.words(axes, x + 22, 140, ha="center") for x, _ in VESSELS]
        self.of_arrestor = canvas.words(axes, 344, 30, color=FAINT, ha="center")
        over = canvas.drawing(4, BARS, LEFT - 8, HEIGHT - BARS)
        self.limit = canvas.moving(*over.plot([], [], lw=3, color=INK))
        self.of_limit = canvas.words(over, 0, 150)
        names = "house", "no arrestor", "as it is"
        self.bars = Bars(canvas, 4, BARS, LEFT - 8, "Pressure at the tap", names, LOOKS, ROOM, NUMBERS)
        across = Axis("Tap shuts within", "milliseconds", 0, LONGEST * 1e3, even(0, 400, 100), even(0, 400, 100))
        self.graph = Graph(canvas, LEFT + 4, 4, WIDTH - LEFT - 8, HEIGHT - 8, "Highest pressure", across, _scale(2e6))
        self.scales = (self.graph,)
        self.kept_curve = self.graph.line(ls="--", color=GHOST, lw=2.5)
        self.level = self.graph.line(color=INK, lw=1.5)
        self.bare_curve = self.graph.line(color=CURVE, lw=2, ls=":")
        self.peak_curve = self.graph.line(color=CURVE)
        self.back = self.graph.line(color=FAINT, lw=1.5, ls="-.")
        self.dot = self.graph.mark(color=INK)
        self.of_back = self.graph.words(0, 0, color=FAINT, backed=True)

    def show(self, scene: HammerScene) -> None:
        self._run(scene)
        longest = max(self._top(scene), self._top(self.kept) if self.kept else 0)
        values = (scene.house, scene.bare, scene.peak)
        self.bars.show([value / longest for value in values], [self._pressure(value) for value in values])
        kept = self.kept and [value / longest for value in (self.kept.house, self.kept.bare, self.kept.peak)]
        self.bars.show_kept(kept)
        at = ROOM + self.bars.span * min(scene.limit / longest, 1.0)
        self.limit.set_data([at, at], [58, 124])
        self.of_limit.set_text(f"line: an arrestor is to hold below {self._pressure(scene.limit)}")
        self._curves(scene, longest)

    @staticmethod
    def _top(scene: HammerScene) -> float:
        """The end of the scale that a scene needs [Pa]."""
        return next((end for end in TALLEST if end >= scene.bare_curve.max()), TALLEST[-1])

    def _run(self, scene: HammerScene) -> None:
        """The pipe cut open, the wave on its way when the tap is shut, and the arrestor's air."""
        outside, bore = 1e3 * PER_MM * scene.outside, 1e3 * PER_MM * scene.bore
        self.wall.set(y=AXIS - outside / 2, height=outside, facecolor=scene.colour)
        self.water.set(y=AXIS - bore / 2, height=bore, facecolor=water_colour(15.0))
        run = min(scene.closing / scene.there_and_back, 1.0) if scene.there_and_back else 1.0
        # half the time out is the way to the main; then it comes back
        share = 2 * run if run <= 0.5 else 2 - 2 * run
        x = TAP - share * (TAP - MAIN)
        self.front.set_data([x, x], [AXIS - bore / 2, AXIS + bore / 2])
        self.of_pipe.set_text(f"{show(Q_(scene.length, 'm'), 'length', self.system)} of {scene.material}")
        self.of_water.set_text(f"Water {self._speed(scene.speed)}, wave {self._wave(scene.wave)}.")
        self.of_wave.set_text(f"Wave there and back: {self._time(scene.there_and_back)}.")
        fitted = scene.cushion > 0
        for vessel, words, (_, name), share in zip(self.vessels, self.names, VESSELS, (1.0, scene.squeezed)):
            vessel.set_visible(fitted)
            words.set_text(name if fitted else "")
            vessel.show(1 - 0.75 * share if fitted else 0.0, water_colour(15.0), self._air(scene, share))
        self.of_arrestor.set_text("air of the arrestor" if fitted else "no arrestor fitted")

    def _air(self, scene: HammerScene, share: float) -> str:
        return show(Q_(scene.cushion * share, "m**3"), "air cushion", self.system) if scene.cushion else ""

    def _curves(self, scene: HammerScene, longest: float) -> None:
        self.graph.stretch(up=_scale(longest))
        times = 1e3 * scene.times
        self.bare_curve.set_data(times, scene.bare_curve / 1e3)
        self.peak_curve.set_data(times, scene.peak_curve / 1e3)
        self.level.set_data([0, 1e3 * LONGEST], [scene.limit / 1e3] * 2)
        self.dot.set_data([1e3 * min(scene.closing, LONGEST)], [scene.peak / 1e3])
        back = 1e3 * scene.there_and_back
        inside = back <= 1e3 * LONGEST
        self.back.set_data(*(([back, back], [0, longest / 1e3]) if inside else ([], [])))
        self.of_back.set_text("wave is back" if inside else "")
        early = back < 560 * LONGEST
        self.of_back.set(position=(back + (5 if early else -5), 0.955 * longest / 1e3), ha="left" if early else "right")
        self.kept_curve.set_data(*((1e3 * self.kept.times, self.kept.peak_curve / 1e3) if self.kept else ([], [])))

    def _pressure(self, value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", self.system)

    def _speed(self, value: float) -> str:
        return show(Q_(value, "m/s"), "speed", self.system)

    def _wave(self, value: float) -> str:
        return show(Q_(value, "m/s"), "wave speed", self.system)

    def _time(self, seconds: float) -> str:
        return show(Q_(seconds, "s"), "milliseconds", self.system)

    def sentence(self, scene: HammerScene) -> str:
        when = "before" if scene.sudden else "after"
        water, wave, house, bare, peak = (
            self._speed(scene.speed),
            self._wave(scene.wave),
            self._pressure(scene.house),
            self._pressure(scene.bare),
            self._pressure(scene.peak),
        )
        first = (
            f"Water at {water} is stopped within {self._time(scene.closing)}, {when} the wave of {wave} is back from"
            f" the main. The pressure goes from {house} to {bare}."
        )
        if not scene.cushion:
            return f"{first} No arrestor is fitted."
        air = show(Q_(scene.cushion, "m**3"), "air cushion", self.system)
        return f"{first} With an arrestor that holds {air} of air it goes to {peak}."

    def description(self, scene: HammerScene) -> str:
        return (
            "Three drawings. The run from the main to the tap, cut open, with the air of its arrestor. Bars of the"
            " pressure at the tap. Curves of the highest pressure against the time in which the tap shuts."
        )
