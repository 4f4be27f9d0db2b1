"""A run with heat tape: the run itself, output against loss, the cut with its tape, circuit, energy and power cut as
bars.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, FancyBboxPatch, Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, PAPER, TEXT, Canvas
from ...drawing.colours import (
    FOAM,
    FOAM_EDGE,
    GHOST,
    ICE,
    ICE_EDGE,
    TANK,
    water_colour,
    water_pixels,
)
from ...drawing.picture import Picture
from ...drawing.pipe_strip import foam_bar
from ...quantities.display import celsius, ice_after, ice_words, number, show
from ...quantities.units import Q_
from ...runs.common_values import LONG_NIGHT, TAPE_MARGIN
from ...runs.pipe import pipe_material
from .balance import TAPE, Balance

WIDTH, HEIGHT = 884, 440  # [px]
HOTTEST = 98.0  # [degC] above it only "over 98 °C" is said: the balance is looked for up to 99
NIGHT = LONG_NIGHT.magnitude  # [h] the full length of a bar
AMPERES = ("holding", "cold start", "limit", "breaker")
AMPERE_LOOKS = ((TAPE, "//"), ("#a9cfc4", ".."), ("#cfd8e0", ""), ("#9fb0bd", "xx"))
ENERGY = ("always on", "thermostat")
ENERGY_LOOKS = ((TAPE, "//"), ("#dcebe6", ""))
FAILS = ("pipe", "bare piece")
FAIL_LOOKS = ((FOAM, ".."), (PAPER, "\\\\"))


@dataclass(frozen=True)
class TapeScene:
    """Everything that the picture shows, in SI floats (temperatures in degC, times in h, lengths in m, heat in W/m)."""

    tape: str
    thermostat: float  # inf: none
    air: float
    wind: float  # [m/s]
    material: str
    bore: float
    pipe_outside: float
    insulation_bore: float
    outside: float
    tape_thickness: float
    tape_width: float
    length: float
    gap: float
    output: np.ndarray  # shape (n,), of the tape at PIPE
    covered_loss: np.ndarray  # shape (n,)
    bare_loss: np.ndarray  # shape (n,)
    on_share: float  # of the time that the thermostat switches the tape on
    covered: float  # where the covered pipe settles
    bare: float  # where the bare piece settles
    hold: float
    needed: float  # to hold it, with its margin
    given: float  # by one tape at that temperature
    tapes: int  # side by side, to give what is needed
    worth: float  # covered length that loses as much as the bare piece does at that temperature
    load: float  # [A]
    cold_start: float  # [A]
    limit: float  # [A]
    breaker: float  # [A]
    longest: float  # run with so many tapes that this breaker carries for hours [m]
    always_on: float  # [kW h] in a day
    with_thermostat: float  # [kW h] in a day
    covered_hours: float  # until ice can form when the power fails
    bare_hours: float

    @property
    def has_gap(self) -> bool:
        """Says whether a piece is left bare."""
        return self.gap > 0

    @property
    def is_covered(self) -> bool:
        """Says whether there is insulation at all."""
        return self.outside > self.pipe_outside

    @property
    def hours(self) -> float:
        """Until the first ice anywhere."""
        return min(self.covered_hours, self.bare_hours) if self.has_gap else self.covered_hours


def settled(value: float, system: str) -> str:
    """A settled temperature in words; the balance is looked for up to 99 degC."""
    over = value > HOTTEST
    return f"{'over ' if over else ''}{show(celsius(min(value, HOTTEST)), 'temperature', system)}"


class TapedStrip:
    """The run with its tape from the breaker on, and the bare piece in it. Lengthwise, not to scale."""

    # [px] pipe's begin, its axis, half its height, least width of the bare piece
    START, MIDDLE, HALF, LEAST = 118, 58, 13, 34
    FOAM_PER_M, MOST_FOAM = 700, 16  # [px/m], [px]: foam is drawn thicker as it is thicker, up to what fits
    FAR = 190  # [px] the words at the far end
    WHERE = 0.45  # of the run, where the bare piece begins

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = self.axes = canvas.drawing(left, top, width, height)
        self.span = width - self.START - 8
        axes.text(0, 14, "Tape on, at this air", size=TEXT, weight="bold", color=INK)
        axes.add_patch(
            FancyBboxPatch((10, 36), 56, 44, boxstyle="round,pad=0,rounding_size=5", fc=TANK, ec=INK, lw=1.5)
        )
        for across, down in (([38, 46], [68, 50]), ([38, 38], [74, 68]), ([38, 38], [50, 42])):
            axes.plot(across, down, lw=3, color=INK)
        axes.text(38, 97, "breaker", size=TEXT, color=INK, ha="center")
        self.foam = [foam_bar(canvas, axes, self.START, 0, self.span) for _ in range(2)]
        self.hole = canvas.moving(axes.add_patch(Rectangle((0, 0), 0, height, fc=PAPER, ec="none")))
        self.water = canvas.raster(axes, self.START, self.MIDDLE - self.HALF)
        self.ice = [
            canvas.moving(
                axes.add_patch(
                    Rectangle((0, self.MIDDLE - self.HALF), 0, 2 * self.HALF, fc=ICE, ec=ICE_EDGE, hatch="//")
                )
            )
            for _ in range(2)
        ]
        for side in (-1, 1):
            wall = axes.plot(
                [self.START, width - 8], [self.MIDDLE + side * self.HALF] * 2, lw=2.5, color=INK, solid_capstyle="butt"
            )
            canvas.moving(*wall)
        under = self.MIDDLE + self.HALF + 5
        canvas.moving(
            *axes.plot(
                [66, 92, 104, width - 8],
                [self.MIDDLE, self.MIDDLE, under, under],
                lw=5,
                color=TAPE,
                solid_capstyle="butt",
            )
        )
        self.air = canvas.words(axes, width, 14, color=FAINT, ha="right")
        self.inside = canvas.words(axes, self.START + 8, self.MIDDLE + 6, weight="bold", backed=True)
        self.far = canvas.words(axes, width - 16, self.MIDDLE + 6, weight="bold", backed=True, ha="right")
        self.at_gap = canvas.words(axes, 0, 14, weight="bold", ha="center")

    def show(self, scene: TapeScene, system: str) -> None:
        """Move the artists to a scene."""
        thick = (
            round(min(self.MOST_FOAM, self.FOAM_PER_M * (scene.outside - scene.insulation_bore) / 2))
            if scene.is_covered
            else 0
        )
        for side, foam in zip((-1, 1), self.foam):
            inner = self.MIDDLE - self.HALF - thick if side < 0 else self.MIDDLE + self.HALF + 8
            foam.set(y=inner, height=thick)
        whole = scene.gap >= scene.length
        wide = self.span if whole else min(max(self.LEAST, self.span * scene.gap / scene.length), 0.8 * self.span)
        begin = self.START + (0 if whole else self.WHERE * (self.span - wide))
        end = begin + wide
        self.hole.set(x=begin, width=wide, visible=scene.has_gap)
        places = self.START + np.linspace(0, self.span, 401)
        bare = scene.has_gap & (places >= begin) & (places <= end)
        self.water.set_pixels(water_pixels(np.where(bare, scene.bare, scene.covered), self.span, 2 * self.HALF))
        frozen = (not whole and scene.covered <= 0, scene.has_gap and scene.bare <= 0)
        for ice, visible, x, width in zip(self.ice, frozen, (self.START, begin), (self.span, wide)):
            ice.set(x=x, width=width, visible=visible)
        wind = f"wind {show(Q_(scene.wind, 'm/s'), 'wind', system)}" if scene.wind > 0 else "no wind"
        self.air.set_text(
            f"{show(Q_(scene.length, 'm'), 'length', system)}; air {show(celsius(scene.air), 'temperature', system)},"
            f" {wind}"
        )
        inside = "" if whole else settled(scene.covered, system) + (" ice" if scene.covered <= 0 else "")
        self.inside.set_text(inside)
        # A phone shows this end by itself.
        self.far.set_text(f"far end {inside}" if inside and end < self.START + self.span - self.FAR else "")
        self.at_gap.set_position((begin + 0.5 * wide, 14))
        self.at_gap.set_text(
            f"bare: {settled(scene.bare, system)}{', ice' if scene.bare <= 0 else ''}" if scene.has_gap else ""
        )


class TapedCut:
    """Pipe, tape and insulation to scale: the insulation must close over all of it."""

    SHOWN = 0.136  # [m] across the drawing: 42 mm pipe with its tape under 40 mm of insulation

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, drawing: int):
        axes = canvas.drawing(left, top, width, drawing + 130)
        axes.text(0, 14, "Cut, to scale", size=TEXT, weight="bold", color=INK)
        self.scale = drawing / self.SHOWN  # [px/m]
        self.centre = width / 2, 26 + drawing / 2
        self.foam, self.air, self.wall, self.water = (
            canvas.moving(axes.add_patch(Circle(self.centre, 1, **style)))
            for style in (
                {"fc": FOAM, "ec": FOAM_EDGE, "hatch": ".."},
                {"fc": PAPER, "ec": FOAM_EDGE},
                {"ec": INK, "lw": 0.8},
                {"ec": INK, "lw": 0.5},
            )
        )
        self.tape = canvas.moving(axes.add_patch(Rectangle((0, 0), 1, 1, fc=TAPE, ec=INK, lw=0.8)))
        self.kept = canvas.moving(
            axes.add_patch(Circle(self.centre, 1, fill=False, ec=GHOST, lw=2, ls="--", visible=False))
        )
        low = drawing + 50
        self.lines = [
            canvas.words(axes, width / 2, low + 21 * row, ha="center", weight=weight)
            for row, weight in enumerate(("bold", "normal"))
        ]
        axes.plot([0.14 * width, 0.14 * width + 14], [low + 58, low + 58], lw=6, color=TAPE)
        axes.text(0.14 * width + 24, low + 64, "and its tape", size=TEXT, color=INK)

    def show(self, scene: TapeScene, system: str) -> None:
        """Move the artists to a scene."""
        across, down = self.centre
        # Pipe and tape lie in the bore as the ties hold them: the pipe above, the tape beneath.
        pipe_down = down - 0.5 * self.scale * scene.tape_thickness
        for circle, diameter, at in (
            (self.foam, scene.outside, down),
            (self.air, scene.insulation_bore, down),
            (self.wall, scene.pipe_outside, pipe_down),
            (self.water, scene.bore, pipe_down),
        ):
            circle.set(radius=0.5 * diameter * self.scale, center=(across, at))
        self.foam.set_visible(scene.is_covered)
        self.air.set_visible(scene.is_covered)
        self.wall.set_facecolor(pipe_material(scene.material).colour)
        self.water.set_facecolor(water_colour(scene.covered))
        wide, thick = self.scale * scene.tape_width, self.scale * scene.tape_thickness
        self.tape.set(
            x=across - 0.5 * wide, y=pipe_down + 0.5 * self.scale * scene.pipe_outside, width=wide, height=thick
        )
        bore, pipe = (show(Q_(value, "m"), "diameter", system) for value in (scene.insulation_bore, scene.pipe_outside))
        self.lines[0].set_text(f"bore {bore}" if scene.is_covered else "no insulation")
        self.lines[1].set_text(f"over {pipe} pipe")

    def show_kept(self, scene: TapeScene | None) -> None:
        """Outline of what was kept for comparison; None: nothing."""
        self.kept.set_visible(scene is not None)
        if scene is not None:
            self.kept.set_radius(0.5 * scene.outside * self.scale)


class HeatTapePicture(Picture):
    """Shows a taped run, its balance of heat, its cut, its circuit, its energy and a power cut."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 540, 104),
        (540, 0, WIDTH - 540, 104),
        (0, 104, 548, HEIGHT - 104),
        (546, 104, WIDTH - 546, HEIGHT - 104),
    )

    def build(self, canvas: Canvas) -> None:
        self.strip = TapedStrip(canvas, 0, 2, WIDTH - 4, 100)
        self.balance = Balance(canvas, 0, 106, 340, 332)
        self.cut = TapedCut(canvas, 356, 106, 188, 196)
        bars = {"room": 98, "numbers": 76}
        self.circuit = Bars(canvas, 556, 106, 324, "Circuit", AMPERES, AMPERE_LOOKS, **bars)
        self.energy = Bars(canvas, 556, 258, 324, "One day at this air", ENERGY, ENERGY_LOOKS, **bars)
        self.fails = Bars(canvas, 556, 350, 324, "Power fails: ice after", FAILS, FAIL_LOOKS, **bars)
        self.scales = (self.balance.graph,)

    def show(self, scene: TapeScene) -> None:
        self.strip.show(scene, self.system)
        self.balance.show(scene)
        self.cut.show(scene, self.system)
        self.balance.show_kept(self.kept)
        self.cut.show_kept(self.kept)
        for bars, values, texts, full in (
            (self.circuit, amperes, self._texts("current"), max(scene.breaker, scene.cold_start)),
            (self.energy, energies, self._texts("energy"), nice(max(energies(scene)))),
            (self.fails, hours, hours_texts, NIGHT),
        ):
            bars.show([value / full for value in values(scene)], texts(scene, values))
            bars.show_kept(self.kept and [value / full for value in values(self.kept)])

    def sentence(self, scene: TapeScene) -> str:
        return sentence(scene, self.system)

    def _texts(self, kind: str):
        unit = {"current": "A", "energy": "kWh"}[kind]
        return lambda scene, values: [show(Q_(value, unit), kind, self.system) for value in values(scene)]

    def description(self, scene: TapeScene) -> str:
        bore, outside = (
            show(Q_(value, "m"), "diameter", self.system) for value in (scene.insulation_bore, scene.outside)
        )
        always, held = (number(Q_(value, "kWh"), "energy", self.system) for value in energies(scene))
        return (
            f"A pipe with a tape along it ({scene.tape}), coloured by temperature, and any bare piece in it. A graph of"
            f" what the tape gives and the pipe loses over pipe temperature. A cut to scale: insulation of bore {bore}"
            f" over pipe and tape, {outside} across. Bars for the circuit, for a day's energy ({always} kWh always on,"
            f" {held} kWh with a thermostat) and for the hours to ice when the power fails."
        )


def amperes(scene: TapeScene) -> tuple:
    """Gives the currents [A] in the order of AMPERES."""
    return scene.load, scene.cold_start, scene.limit, scene.breaker


def energies(scene: TapeScene) -> tuple:
    """Gives the energies [kW h] in the order of ENERGY."""
    return scene.always_on, scene.with_thermostat


def hours(scene: TapeScene) -> tuple:
    """Gives the hours in the order of FAILS; no bar where nothing is bare, a full one where no ice comes."""
    return scene.covered_hours, scene.bare_hours if scene.has_gap else 0.0


def hours_texts(scene: TapeScene, values) -> list[str]:
    """Gives what stands at the ends of these bars."""
    return [ice_after(scene.covered_hours), ice_after(scene.bare_hours) if scene.has_gap else "none bare"]


def nice(value: float) -> float:
    """A round full length for bars, so that they compare while a slider moves."""
    steps = np.array([1, 2, 5, 10, 20, 50, 100, 200])
    return float(steps[np.searchsorted(steps, min(value, steps[-1]))])


def sentence(scene: TapeScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    needed, given = (show(Q_(value, "W/m"), "tape power", system) for value in (scene.needed, scene.given))
    hold = show(celsius(scene.hold), "temperature", system)
    many = "one tape gives" if scene.tapes == 1 else f"it takes {scene.tapes} tapes side by side of"
    takes = (
        f"holding {hold} takes {needed} with {100 * TAPE_MARGIN:.0f} % to spare, {many} {given}"
        if scene.needed > 0
        else "in this air it needs no tape"
    )
    pipe = "The pipe" if scene.is_covered else "Bare, the pipe"
    words = [
        f"{pipe}{' with one tape' if scene.tapes > 1 else ''} settles at {settled(scene.covered, system)}; {takes}."
    ]
    if scene.has_gap:
        long, worth = (show(Q_(value, "m"), "length", system) for value in (scene.gap, scene.worth))
        as_much = f" and needs as much as {worth} of covered pipe" if scene.worth > 0 else ""
        words.append(
            f"The bare {long} settles at"
            f" {settled(scene.bare, system)}{' (ice, tape or not)' if scene.bare <= 0 else ''}{as_much}."
        )
        if scene.on_share < 1:
            words.append(f"The sensor lets the tape work {100 * scene.on_share:.0f} % of the time, there too.")
    load, limit = (show(Q_(value, "A"), "current", system) for value in (scene.load, scene.limit))
    takes = "It takes" if scene.tapes == 1 else f"The {scene.tapes} tapes take"
    words.append(
        f"{takes} {load} of the {limit} that this breaker may carry for hours. Power fails:"
        f" {ice_words(scene.hours, scene.air)}."
    )
    return " ".join(words)
