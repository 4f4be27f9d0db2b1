"""A pressure test: the gauge on a closed pipe, and what it showed since the pump stopped."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...quantities.display import SI, number, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import pipe_material

WIDTH, HEIGHT = 884, 330  # [px]
CENTRE, RADIUS = (150, 128), 84  # [px] of the gauge's dial
PIPE, JOINT = 272, 214  # [px] down to the pipe, across to its joint
SWEEP = 135.0  # [degrees] to each side of straight up
COLD = 12.0  # [degC] only for the colour of the water
HOLDS, MOVED = Word("gauge holds", 0), Word("temperature, no leak", 1)
LEAKS, HIDDEN = Word("a leak", 2), Word("a leak that does not show", 2)
AT_ZERO = Word("at zero, so no answer", 1)
LONG_ENOUGH, NOT_YET = Word("as long as the rule asks", 0), Word("not yet long enough", 1)
WATER_TEST, METAL_AIR = Word("water hardly squeezes", 0), Word("air: licensed trades only", 2)
AIR_IN_PLASTIC, NO_AIR_TEST = Word("never air in plastic", 2), Word("no air test in this rule", 2)
SCALES = (  # of the gauge and of the graph: highest [kPa] and its numbers in each unit
    (1000, even(0, 1000, 200), even(0, 140, 20)),
    (2500, even(0, 2500, 500), even(0, 350, 50)),
    (5000, even(0, 5000, 1000), even(0, 700, 100)),
)
TIMES = ((15, even(0, 15, 5)), (60, even(0, 60, 10)), (120, even(0, 120, 20)))


@dataclass(frozen=True)
class GaugeScene:
    """Everything that the picture shows, in SI floats; pressures above the air's, time in minutes.

    asked_words : the rule in words; air_allowed : the rule has an air test; started : the test pressure
    gauge : shape (n,) at the times; by_temperature : at the end, had nothing leaked; sure : what lies beyond a reading
    of gauge and thermometer; energy [J] set free if the pipe lets go
    """

    rule: str
    asked_words: str
    with_air: bool
    air_allowed: bool
    plastic: bool
    material: str
    started: float
    least_minutes: float
    minutes: float
    times: np.ndarray
    gauge: np.ndarray
    by_temperature: float
    per_degree: float
    warmed: float
    leak: float
    air: float
    energy: float
    content: float
    sure: float
    readable: float

    @property
    def now(self) -> float:
        return float(self.gauge[-1])

    @property
    def moved(self) -> float:
        """The way of the gauge since the pump stopped [Pa]."""
        return self.now - self.started

    @property
    def unexplained(self) -> float:
        """The part of that way which the water's temperature does not explain [Pa]."""
        return self.now - self.by_temperature

    @property
    def verdict(self) -> Word:
        """Says what a gauge and a thermometer tell; a leak that they do not show is named as such."""
        if self.unexplained < -self.sure:
            return LEAKS
        if self.leak > 0:
            return HIDDEN
        if self.now <= self.readable:
            return AT_ZERO
        return HOLDS if abs(self.moved) <= self.readable else MOVED


def scale_for(scenes) -> tuple:
    """Gives the scale of pressures and that of times that hold these scenes."""
    highest = max(max(float(scene.gauge.max()), scene.by_temperature) for scene in scenes) / 1000
    longest = max(scene.minutes for scene in scenes)
    return (
        next((one for one in SCALES if highest <= one[0]), SCALES[-1]),
        next(one for one in TIMES if longest <= one[0]),
    )


class GaugePicture(Picture):
    """Shows the gauge on the pipe and the curve of what it showed."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 320, HEIGHT), (330, 0, WIDTH - 330, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, 320, HEIGHT)
        axes.text(8, 18, "The gauge on the closed pipe", size=TEXT, weight="bold", color=INK)
        axes.plot([CENTRE[0]] * 2, [CENTRE[1] + RADIUS, PIPE], lw=8, color=FAINT, solid_capstyle="butt")
        self._pipe(canvas, axes)
        axes.add_patch(Circle(CENTRE, RADIUS, fc="white", ec=INK, lw=3))
        for share in np.linspace(0, 1, 11):
            (x, y), (inner_x, inner_y) = (_on_dial(share, part * RADIUS) for part in (0.96, 0.84))
            axes.plot([x, inner_x], [y, inner_y], lw=2, color=INK)
        self.first = canvas.moving(*axes.plot([], [], lw=2, ls=":", color=INK))
        self.kept_needle = canvas.moving(*axes.plot([], [], lw=3, color=GHOST))
        self.needle = canvas.moving(*axes.plot([], [], lw=4, color=INK, solid_capstyle="round"))
        self.lowest, self.highest = (
            canvas.words(axes, CENTRE[0] + x, CENTRE[1] + 64, ha="center", color=FAINT) for x in (-40, 28)
        )
        self.reading = canvas.words(axes, CENTRE[0], CENTRE[1] + 42, weight="bold", ha="center", backed=True)
        self.graph = Graph(
            canvas,
            336,
            4,
            WIDTH - 340,
            HEIGHT - 8,
            "What the gauge shows",
            Axis("since the pump stopped", "minutes", 0, *TIMES[0], TIMES[0][1]),
            Axis("", "pressure", 0, *SCALES[0]),
        )
        self.by_heat = self.graph.line(lw=2, ls=":", color=FAINT)
        self.kept_line = self.graph.line(lw=2, ls="--", color=GHOST)
        self.line = self.graph.line()
        self.dot = self.graph.mark()
        self.scales = (self.graph,)
        beside = canvas.drawing(336, 0, WIDTH - 340, 26)
        self.legend = canvas.words(beside, WIDTH - 346, 18, ha="right", color=FAINT)

    def _pipe(self, canvas: Canvas, axes) -> None:
        self.wall = canvas.moving(axes.add_patch(Rectangle((20, PIPE), 270, 24, ec=INK, lw=1)))
        self.water = canvas.moving(axes.add_patch(Rectangle((24, PIPE + 5), 262, 14, ec="none")))
        self.bubble = canvas.moving(axes.add_patch(Rectangle((24, PIPE + 5), 0, 6, fc="white", ec="none")))
        axes.add_patch(Rectangle((JOINT, PIPE - 4), 44, 32, fill=False, ec=INK, lw=2))
        for x in (14, 286):
            axes.add_patch(Rectangle((x, PIPE - 4), 10, 32, fc=INK, ec=INK))
        self.drop = canvas.moving(
            axes.add_patch(
                Polygon([(JOINT, PIPE + 26), (JOINT - 6, PIPE + 40), (JOINT + 6, PIPE + 40)], ec=INK, lw=0.5)
            )
        )
        self.drop_words = canvas.words(axes, JOINT - 12, PIPE + 46, ha="right")

    def show(self, scene: GaugeScene) -> None:
        (highest, *_), _ = found = scale_for([scene, self.kept] if self.kept else [scene])
        self._stretch(*found)
        full = 1000.0 * highest
        self._needle(self.needle, scene.now / full)
        self._needle(self.first, scene.started / full)
        self._needle(self.kept_needle, self.kept.now / full if self.kept else None)
        self.reading.set_text(show(Q_(scene.now, "Pa"), "pressure", self.system))
        self.lowest.set_text("0")
        self.highest.set_text(number(Q_(full, "Pa"), "pressure", self.system))
        self.wall.set_facecolor(pipe_material(scene.material).colour)
        self.water.set_facecolor("white" if scene.with_air else water_colour(COLD))
        self.bubble.set_width(0 if scene.with_air or scene.air == 0 else 10 + 2600 * scene.air)
        self.drop.set(visible=scene.leak > 0, facecolor="white" if scene.with_air else water_colour(COLD))
        leak = show(Q_(scene.leak, "m**3/s"), "leak", self.system)
        self.drop_words.set_text(f"leak {leak}" if scene.leak > 0 else "")
        self.line.set_data(scene.times, scene.gauge / 1000)
        self.by_heat.set_data([0, scene.minutes], [scene.started / 1000, scene.by_temperature / 1000])
        self.dot.set_data([scene.minutes], [scene.now / 1000])
        self.kept_line.set_data(*((self.kept.times, self.kept.gauge / 1000) if self.kept else ([], [])))
        self.legend.set_text("dotted: by temperature alone")

    def _stretch(self, pressures: tuple, times: tuple) -> None:
        self.graph.stretch(
            Axis("since the pump stopped", "minutes", 0, *times, times[1]), Axis("", "pressure", 0, *pressures)
        )

    def _needle(self, line, share: float | None) -> None:
        """Turns a needle to a share of the dial, or hides it."""
        if share is None:
            line.set_data([], [])
            return
        x, y = _on_dial(min(share, 1.02), 0.78 * RADIUS)
        line.set_data([CENTRE[0], x], [CENTRE[1], y])

    def sentence(self, scene: GaugeScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: GaugeScene) -> str:
        filled = "air" if scene.with_air else "water"
        drip = " A drop hangs at the joint." if scene.leak > 0 else ""
        return (
            f"Two drawings. A gauge on a closed pipe that is filled with {filled}, its joint in the middle.{drip} A"
            " curve of what the gauge showed since the pump stopped, with a dotted line for temperature alone."
        )


def _on_dial(share: float, radius: float) -> tuple[float, float]:
    """The place on the dial [px] of a share of its scale."""
    angle = np.deg2rad(-SWEEP + 2 * SWEEP * share)
    return CENTRE[0] + radius * np.sin(angle), CENTRE[1] - radius * np.cos(angle)


def sentence(scene: GaugeScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""

    def pressure(value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", system)

    filled = "air" if scene.with_air else "water"
    minutes = show(Q_(scene.minutes, "min"), "minutes", system)
    change = show(Q_(abs(scene.warmed), "delta_degC"), "temperature drop", system)
    heat = (
        f" and {'warmed' if scene.warmed > 0 else 'cooled'} by {change}" if scene.warmed else " of steady temperature"
    )
    first = (
        f"{scene.rule} asks for a test at {pressure(scene.started)}. After {minutes} with {filled}{heat} the gauge"
        f" shows {pressure(scene.now)}."
    )
    one = Q_(1, "delta_degC" if system == SI else "delta_degF").to("delta_degC").magnitude
    each = scene.per_degree * one
    slope = f" Here one degree more moves the gauge by {pressure(abs(each))} {'up' if each > 0 else 'down'}."
    if scene.verdict == AT_ZERO:
        slope = ""
    leak = show(Q_(scene.leak, "m**3/s"), "leak", system)
    last = {
        HOLDS: "The gauge holds.",
        AT_ZERO: "A gauge at zero says nothing about leaks: pump up again when the temperature is steady.",
        MOVED: "The water's temperature explains it: wait until that is steady, and test again.",
        LEAKS: f"Temperature does not explain {pressure(abs(scene.unexplained))} of it: a joint loses {leak}.",
        HIDDEN: f"A joint loses {leak}, and gauge and thermometer cannot show it yet. Only a dry towel can.",
    }[scene.verdict]
    return f"{first}{slope} {last}"
