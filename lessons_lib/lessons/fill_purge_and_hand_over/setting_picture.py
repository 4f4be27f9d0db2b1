"""Setting a mixing valve: tank, valve and tap, the thermometer in the stream, and how its reading came about."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, TANK, water_colour
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.pipe_strip import tap
from ...drawing.thermometer import Thermometer
from ...physics.scald import time_to_burn
from ...quantities.display import celsius, duration, show
from ...quantities.results import Word
from ..hot_enough_not_too_hot.valve_strip import SHAPE

WIDTH, HEIGHT = 884, 372  # [px]
LONGEST = 180.0  # [s] that the tap is open
HOT, COLD_LINE, VALVE, TAP = 92, 300, 166, 224  # [px] down to the hot and the cold line, across to valve and tap
STOP = 216  # [px] down to the cold stop
TRICKLES, RUNS_ON = Word("falls to a trickle", 0), Word("runs on hot", 2)
STEADY, NOT_STEADY = Word("steady", 0), Word("not steady yet", 1)
BOW_TIE = np.array([(-11, -9), (11, 9), (-11, 9), (11, -9)])
SECONDS = Axis("since the tap was opened", "seconds", 0, LONGEST, even(0, 150, 30), even(0, 150, 30))
READING = Axis("", "temperature", 5, 75, even(10, 70, 10), even(50, 160, 20))


@dataclass(frozen=True)
class SettingScene:
    """Everything that the picture shows, in SI floats (temperatures in degC)."""

    tank: float
    highest: float
    cold: float
    knob: float
    seconds: float  # since the tap was opened
    tap: str
    holds: bool
    why: dict  # why the valve can't hold, in each unit system
    outlet: float  # the valve's, with the cold open
    later: float  # to be reckoned with at the tap when the tank is at its highest
    times: np.ndarray  # shape (n,), of the thermometer's way
    readings: np.ndarray  # shape (n,)
    reading: float
    steady: bool
    shut: bool  # the cold
    worn: bool
    burn_seconds: float  # of `later`
    burn_bound: str

    @property
    def at_highest(self) -> bool:
        return self.tank >= self.highest

    @property
    def shown(self) -> float:
        """Gives what the thermometer in the stream shows: a worn valve passes the tank's water when cold is shut."""
        return self.tank if self.shut and self.worn else self.reading

    @property
    def test(self) -> str:
        """Says what the outlet does with the cold shut; "": not tried."""
        return "" if not self.shut else RUNS_ON if self.worn else TRICKLES


class SettingPicture(Picture):
    """Shows tank, valve and tap, the thermometer in the stream, and how its reading came about."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 300, HEIGHT),
        (294, 0, 280, HEIGHT),
        (574, 0, WIDTH - 574, HEIGHT),
    )

    def build(self, canvas: Canvas) -> None:
        self.thermometer = Thermometer(canvas, 300, 4, 256, 280)
        self.graph = Graph(canvas, 574, 4, 308, 366, "What the thermometer shows", SECONDS, READING)
        self.knob = self.graph.line(lw=2, ls=":", color=FAINT)
        self.kept_curve = self.graph.line(lw=2, ls="--", color=GHOST)
        self.curve, self.dot = self.graph.line(), self.graph.mark()
        self.knob_words = self.graph.words(LONGEST, 8, color=FAINT, ha="right", backed=True)
        self._sketch(canvas)
        self.scales = self.thermometer, self.graph

    def _sketch(self, canvas: Canvas) -> None:
        """Tank, lines, valve, stop and tap; colours, stream and words move."""
        axes = canvas.drawing(4, 4, 290, HEIGHT - 8)
        axes.text(0, 14, "Tank, valve and tap", size=TEXT, weight="bold", color=INK)
        axes.add_patch(
            FancyBboxPatch((6, 66), 74, 216, boxstyle="round,pad=0,rounding_size=10", fc=TANK, ec=INK, lw=1.5)
        )
        water = FancyBboxPatch((12, 72), 62, 204, boxstyle="round,pad=0,rounding_size=7", ec="none")
        self.tank = canvas.moving(axes.add_patch(water))
        self.pipes = {
            "hot": self._line(canvas, axes, [80, VALVE - 13], [HOT, HOT]),
            "cold": self._line(canvas, axes, [43, 43, VALVE, VALVE], [282, COLD_LINE, COLD_LINE, HOT + 13]),
            "mixed": self._line(canvas, axes, [VALVE + 13, TAP], [HOT, HOT]),
        }
        axes.add_patch(Polygon(SHAPE + (VALVE, HOT), fc="white", ec=INK, lw=1.8, zorder=3))
        self.stop = canvas.moving(axes.add_patch(Polygon(BOW_TIE[:, ::-1] + (VALVE, STOP), ec=INK, lw=1.8, zorder=3)))
        self.drop = tap(canvas, axes, TAP, HOT)
        self.stream = canvas.moving(axes.add_patch(Rectangle((TAP + 27, HOT + 18), 10, 132, ec=INK, lw=0.5)))
        axes.plot(
            [TAP + 8, TAP + 12, TAP + 52, TAP + 56], [HOT + 124, HOT + 186, HOT + 186, HOT + 124], lw=2.5, color=INK
        )
        self.in_tank = canvas.words(axes, 43, 178, weight="bold", ha="center", backed=True)
        self.highest = canvas.words(axes, 0, 38)
        self.setting = canvas.words(axes, VALVE + 12, HOT - 32, weight="bold", ha="center")
        self.of_stop = canvas.words(axes, VALVE - 18, STOP + 5, weight="bold", ha="right")
        self.of_test = canvas.words(axes, 286, COLD_LINE + 26, weight="bold", ha="right")
        self.of_cold = canvas.words(axes, 60, COLD_LINE + 26, color=FAINT)

    def _line(self, canvas: Canvas, axes, x, y):
        """Draws a pipe with water: dark beneath, coloured above."""
        axes.plot(x, y, lw=10, color=INK, solid_capstyle="butt", solid_joinstyle="miter")
        return canvas.moving(*axes.plot(x, y, lw=7, solid_capstyle="butt", solid_joinstyle="miter"))

    def show(self, scene: SettingScene) -> None:
        self._show_sketch(scene)
        self.thermometer.show(scene.shown, *_burn_at(scene), self.system)
        self.thermometer.show_kept(self.kept and self.kept.shown)
        self.curve.set_data(scene.times, scene.readings)
        self.dot.set_data([min(scene.seconds, LONGEST)], [scene.reading])
        self.knob.set_data([0, LONGEST], [scene.knob, scene.knob])
        self.knob_words.set_text(f"dotted: knob {self._degrees(scene.knob)}")
        self.kept_curve.set_data(*((self.kept.times, self.kept.readings) if self.kept else ([], [])))

    def sentence(self, scene: SettingScene) -> str:
        return sentence(scene, self.system)

    def _degrees(self, value: float) -> str:
        return show(celsius(value), "temperature", self.system)

    def _show_sketch(self, scene: SettingScene) -> None:
        self.tank.set_facecolor(water_colour(scene.tank))
        for name, value in (("hot", scene.tank), ("cold", scene.cold), ("mixed", scene.shown)):
            self.pipes[name].set_color(water_colour(value))
        self.stop.set_facecolor(INK if scene.shut else "white")
        dry = scene.test == TRICKLES
        self.stream.set(visible=not dry, facecolor=water_colour(scene.shown))
        self.drop.set(visible=dry, facecolor=water_colour(scene.shown))
        self.in_tank.set_text(self._degrees(scene.tank))
        self.highest.set_text(f"tank's highest: {self._degrees(scene.highest)}")
        self.setting.set_text(f"knob {self._degrees(scene.knob)}" + ("" if scene.holds else ": can't hold"))
        self.of_stop.set_text("shut" if scene.shut else "open")
        self.of_test.set_text({TRICKLES: "● a trickle", RUNS_ON: f"■ {RUNS_ON}"}.get(scene.test, ""))
        self.of_cold.set_text(f"cold {self._degrees(scene.cold)}")

    def description(self, scene: SettingScene) -> str:
        return (
            "Three drawings. A tank whose hot water meets cold in a mixing valve before a tap over a bucket; a"
            " thermometer with bands from little risk to scalding; a curve of the thermometer's reading since the tap"
            " was opened."
        )


def _burn_at(scene: SettingScene) -> tuple:
    """Time to a burn and its bound in the water that the thermometer stands in."""
    seconds, bound, _ = time_to_burn(scene.shown)
    return float(seconds), str(bound)


def sentence(scene: SettingScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    tank, reading, later = (
        show(celsius(value), "temperature", system) for value in (scene.tank, scene.reading, scene.later)
    )
    way = STEADY if scene.steady else NOT_STEADY
    first = (
        f"Tank at {tank}. After {duration(scene.seconds)} the thermometer at the {scene.tap} tap shows {reading},"
        f" {way}."
    )
    second = "" if scene.holds else f" The valve can't hold: {scene.why[system]}."
    third = {
        "": " The cold has not been shut.",
        TRICKLES: " With the cold shut the outlet falls to a trickle.",
        RUNS_ON: f" With the cold shut it runs on at {tank}: this valve is worn.",
    }[scene.test]
    highest = show(celsius(max(scene.highest, scene.tank)), "temperature", system)
    fails = " if the cold fails" if scene.test == RUNS_ON else ""
    return f"{first}{second}{third} With the tank at {highest} reckon with {later} at the tap{fails}."
