"""Heat pump outside, tank inside, and the loop between them; where each kilowatt goes; air, pressure and frost as
bars.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, FancyBboxPatch, Polygon, Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, PAPER, TEXT, Canvas
from ...drawing.colours import FOAM_EDGE, GHOST, ICE, ICE_EDGE, TANK, water_pixels
from ...drawing.picture import Picture
from ...drawing.pipe_strip import foam_bar
from ...plant.purge import FAST_ENOUGH
from ...quantities.display import celsius, ice_after, ice_words, number, show
from ...quantities.units import Q_
from ...runs.common_values import LONG_NIGHT

WIDTH, HEIGHT = 884, 440  # [px]
NIGHT = LONG_NIGHT.magnitude  # [h] the full length of a bar
POWERS = ("electricity", "from the air", "into the store", "hot line loses", "cold line loses", "circulator")
POWER_LOOKS = (
    ("#5b6670", "//"),
    ("#cfd8e0", ".."),
    ("#f0913a", ""),
    ("#f7c08a", "\\\\"),
    ("#7fb2de", "xx"),
    ("#5b6670", "++"),
)
SPEEDS = ("this flow", FAST_ENOUGH)
PRESSURES = ("loop takes", "pump can give")
LINES = ("hot line", "cold line")
LIMIT_LOOK = ("#cfd8e0", "")
HOT_LOOK, COLD_LOOK = ("#f0913a", ""), ("#7fb2de", "..")


@dataclass(frozen=True)
class LoopScene:
    """Everything that the picture shows, in SI floats (temperatures in degC, times in h, lengths in m, powers in W)."""

    air: float
    wind: float  # [m/s]
    length: float  # of each line
    thickness: float
    store: float  # into the hot line
    arrives: float  # at the tank
    bottom: float  # into the cold line
    returns: float  # at the heat pump
    hot: np.ndarray  # shape (n,), from heat pump to tank
    cold: np.ndarray  # shape (n,), from tank to heat pump
    hot_ice: float  # [m] from the heat pump, where flowing water reaches the freezing point; inf: nowhere
    cold_ice: float  # [m] from the tank, likewise
    flow: float  # [m3/s]
    heat: float
    cop: float
    defrost: bool  # whether a real unit would lose heat to defrosting here, which the model does not count
    hot_loss: float
    cold_loss: float
    circulator: float  # what it takes, whatever it moves
    speed: float  # [m/s]
    carries_air: float  # [m/s]
    least_flow: float  # [m3/s] that carries air
    limit: float  # [m/s] that water should not exceed in this pipe
    pressure: float  # [Pa] that both lines take
    available: float  # [Pa] that the circulator can give at this flow
    hot_hours: float  # until ice can form when the power fails
    cold_hours: float

    @property
    def electricity(self) -> float:
        """Gives what the heat pump takes."""
        return self.heat / self.cop

    @property
    def stored(self) -> float:
        """Gives what reaches the store; negative where the loop takes heat out of it."""
        return self.heat - self.hot_loss - self.cold_loss

    @property
    def lost(self) -> float:
        """Share of the heat that the two lines lose; negative where warm air helps."""
        return (self.hot_loss + self.cold_loss) / self.heat

    @property
    def freezes(self) -> bool:
        """Says whether a line freezes while it flows."""
        return bool(np.isfinite(min(self.hot_ice, self.cold_ice)))


class Line:
    """One line of the loop: foam, water, ice; between two places across the drawing."""

    HALF, FOAM_PER_M, MOST_FOAM = 9, 450, 12  # [px], [px/m], [px]

    def __init__(self, canvas: Canvas, axes, start: int, end: int, inside: int, middle: int):
        """start, end : of the outdoor part; inside : where it meets the tank; middle : its axis [px]"""
        self.start, self.end, self.inside, self.middle = start, end, inside, middle
        self.foam = [foam_bar(canvas, axes, start, 0, end - start) for _ in range(2)]
        self.edges = [canvas.moving(*axes.plot([start, end], [0, 0], lw=1.2, color=FOAM_EDGE)) for _ in range(2)]
        self.water = canvas.raster(axes, start, middle - self.HALF)
        self.ice = canvas.moving(
            axes.add_patch(Rectangle((start, middle - self.HALF), 0, 2 * self.HALF, fc=ICE, ec=ICE_EDGE, hatch="//"))
        )
        for side in (-1, 1):
            canvas.moving(
                *axes.plot([start, inside], [middle + side * self.HALF] * 2, lw=2.2, color=INK, solid_capstyle="butt")
            )
        self.ends = [
            canvas.words(axes, x, middle + 6, weight="bold", ha=ha, backed=True)
            for x, ha in ((start + 6, "left"), (end - 6, "right"))
        ]

    def show(self, temperatures, thickness: float, ice_from: float, ice_to: float, system: str) -> None:
        """Temperatures from left to right [degC]; the insulation [m]; shares of the line between which there is ice."""
        thick = round(min(self.MOST_FOAM, self.FOAM_PER_M * thickness))
        for side, foam, line in zip((-1, 1), self.foam, self.edges):
            outer = self.middle + side * (self.HALF + thick)
            foam.set(y=min(outer, self.middle + side * self.HALF), height=thick)
            line.set(ydata=[outer, outer], visible=thick > 0)
        self.water.set_pixels(water_pixels(temperatures, self.inside - self.start, 2 * self.HALF))
        frozen = ice_from <= ice_to
        if frozen:
            outdoors = self.end - self.start
            self.ice.set(x=self.start + ice_from * outdoors, width=max((ice_to - ice_from) * outdoors, 4))
        self.ice.set_visible(frozen)
        for words, temperature in zip(self.ends, (temperatures[0], temperatures[-1])):
            words.set_text(number(celsius(temperature), "temperature", system) + "°")


class LoopDrawing:
    """The heat pump on its brackets, the two lines outdoors, the wall, the tank behind it. Not to scale."""

    # [px] axes of the lines; pipe's begin; outer face of the wall; the tank
    HOT, COLD, START, WALL, TANK = 56, 112, 136, 690, 764

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = self.axes = canvas.drawing(left, top, width, height)
        axes.text(0, 14, "The loop", size=TEXT, weight="bold", color=INK)
        self._outdoors(axes, height)
        self._walls(axes, height)
        self.tank = canvas.raster(axes, self.TANK + 4, 34)
        tank = FancyBboxPatch(
            (self.TANK, 30), 88, 104, boxstyle="round,pad=0,rounding_size=9", fc="none", ec=INK, lw=2.5
        )
        canvas.moving(axes.add_patch(tank))
        axes.text(self.TANK + 44, 154, "tank", size=TEXT, color=INK, ha="center")
        self.hot = Line(canvas, axes, self.START, self.WALL, self.TANK, self.HOT)
        self.cold = Line(canvas, axes, self.START, self.WALL, self.TANK, self.COLD)
        middle = 0.5 * (self.START + self.WALL)
        self.around = canvas.words(axes, width, 14, color=FAINT, ha="right")
        self.names = [
            canvas.words(axes, middle, y + 6, weight="bold", ha="center", backed=True) for y in (self.HOT, self.COLD)
        ]
        self.kept = canvas.words(axes, middle, 150, color=GHOST, weight="bold", ha="center")

    def _outdoors(self, axes, height: int) -> None:
        """A plain box with a fan on two arms: the unit, as seen along the wall that carries it."""
        axes.add_patch(Rectangle((0, 30), 10, height - 44, fc=TANK, ec=INK, hatch="////"))
        for across, down in (([10, 124], [140, 140]), ([10, 104], [162, 140])):
            axes.plot(across, down, lw=4, color=FAINT, solid_capstyle="butt")
        axes.add_patch(
            FancyBboxPatch((18, 32), 104, 104, boxstyle="round,pad=0,rounding_size=6", fc=TANK, ec=INK, lw=2)
        )
        axes.add_patch(Circle((70, 72), 30, fc=PAPER, ec=INK, lw=1.5))
        for turn in np.radians((90, 210, 330)):
            axes.add_patch(
                Polygon(
                    [(70, 72)]
                    + [(70 + 27 * np.cos(turn + lean), 72 + 27 * np.sin(turn + lean)) for lean in (-0.35, 0.35)],
                    fc=FAINT,
                    ec="none",
                )
            )
        axes.text(70, 125, "heat pump", size=TEXT, color=INK, ha="center")
        for y in (self.HOT, self.COLD):
            axes.plot([122, self.START], [y, y], lw=8, color=INK, solid_capstyle="butt")

    def _walls(self, axes, height: int) -> None:
        """The wall of the house, cut, with a hole for each line."""
        axes.text(self.WALL - 8, 154, "wall", size=TEXT, color=INK, ha="right")
        axes.add_patch(Rectangle((self.WALL, 30), 22, height - 44, fc=TANK, ec=INK, hatch="////"))
        for y in (self.HOT, self.COLD):
            axes.add_patch(Rectangle((self.WALL - 1, y - 12), 24, 24, fc=PAPER, ec="none"))

    def show(self, scene: LoopScene, system: str) -> None:
        """Move the artists to a scene."""
        self.hot.show(scene.hot, scene.thickness, scene.hot_ice / scene.length, 1.0, system)
        self.cold.show(scene.cold[::-1], scene.thickness, 0.0, 1 - scene.cold_ice / scene.length, system)
        layers = water_pixels([scene.arrives, scene.arrives, scene.bottom, scene.bottom], 96, 80).swapaxes(0, 1)
        self.tank.set_pixels(layers)
        wind = f"wind {show(Q_(scene.wind, 'm/s'), 'wind', system)}" if scene.wind > 0 else "no wind"
        self.around.set_text(
            f"{show(Q_(scene.length, 'm'), 'length', system)} each way; air "
            f"{show(celsius(scene.air), 'temperature', system)}, {wind}"
        )
        flow = show(Q_(scene.flow, "m**3/s"), "flow", system)
        self.names[0].set_text(f"hot line ▶ {flow}")
        self.names[1].set_text(f"◀ cold line {flow}")

    def show_kept(self, scene: LoopScene | None, system: str) -> None:
        """Say what was kept for comparison; None: nothing."""
        self.kept.set_text(
            f"kept: {show(Q_(scene.flow, 'm**3/s'), 'flow', system)}, COP {scene.cop:.1f}" if scene else ""
        )


class OutdoorLoopPicture(Picture):
    """Shows the loop between heat pump and tank, with its powers, speeds, pressures and a power cut."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 530, 170),
        (530, 0, WIDTH - 530, 170),
        (0, 170, 460, HEIGHT - 170),
        (460, 170, WIDTH - 460, HEIGHT - 170),
    )

    def build(self, canvas: Canvas) -> None:
        self.loop = LoopDrawing(canvas, 0, 2, WIDTH - 4, 170)
        self.powers = Bars(canvas, 0, 172, 436, "Where each kilowatt goes", POWERS, POWER_LOOKS, room=134, numbers=84)
        around = canvas.drawing(0, 390, 436, 44)
        self.summary = [canvas.words(around, 0, 16, weight="bold"), canvas.words(around, 0, 38)]
        bars = {"room": 128, "numbers": 90}
        self.speed = Bars(canvas, 470, 172, 410, "Speed in the pipe", SPEEDS, (COLD_LOOK, LIMIT_LOOK), **bars)
        self.pressure = Bars(canvas, 470, 261, 410, "Pressure", PRESSURES, (COLD_LOOK, LIMIT_LOOK), **bars)
        self.fails = Bars(canvas, 470, 350, 410, "Power fails: ice after", LINES, (HOT_LOOK, COLD_LOOK), **bars)

    def show(self, scene: LoopScene) -> None:
        self.loop.show(scene, self.system)
        self.loop.show_kept(self.kept, self.system)
        self.summary[0].set_text(f"COP {scene.cop:.1f}; the lines {lost(scene)}")
        self.summary[1].set_text(
            f"teaching figures{', no defrost counted' if scene.defrost else ''}: the maker's sheet decides"
        )
        for bars, values, texts, full in (
            (self.powers, powers, [f"{value:.0f} W".replace("-", "−") for value in powers(scene)], scene.heat),
            (
                self.speed,
                speeds,
                [show(Q_(value, "m/s"), "speed", self.system) for value in speeds(scene)],
                2.0 * scene.carries_air,
            ),
            (
                self.pressure,
                pressures,
                [show(Q_(value, "Pa"), "loop pressure", self.system) for value in pressures(scene)],
                1.2 * max(scene.available, 20_000.0),
            ),
            (self.fails, hours, [ice_after(value) for value in hours(scene)], NIGHT),
        ):
            bars.show([value / full for value in values(scene)], texts)
            bars.show_kept(self.kept and [value / full for value in values(self.kept)])

    def sentence(self, scene: LoopScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: LoopScene) -> str:
        length, taken, given = (
            show(Q_(scene.length, "m"), "length", self.system),
            *(show(Q_(value, "Pa"), "loop pressure", self.system) for value in pressures(scene)),
        )
        return (
            f"A heat pump on two arms outdoors, a hot and a cold line of {length} each to a tank behind a wall,"
            " coloured by temperature. Bars of power:"
            f" {', '.join(f'{name} {value:.0f} W' for name, value in zip(POWERS, powers(scene)))}. Bars of speed, of"
            f" pressure (the loop takes {taken}, the pump can give {given}) and of hours to ice when the power fails."
        )


def powers(scene: LoopScene) -> tuple:
    """Gives the powers [W] in the order of POWERS."""
    return (
        scene.electricity,
        scene.heat - scene.electricity,
        scene.stored,
        scene.hot_loss,
        scene.cold_loss,
        scene.circulator,
    )


def speeds(scene: LoopScene) -> tuple:
    """Gives the speeds [m/s] in the order of SPEEDS."""
    return scene.speed, scene.carries_air


def pressures(scene: LoopScene) -> tuple:
    """Gives the pressures [Pa] in the order of PRESSURES."""
    return scene.pressure, scene.available


def hours(scene: LoopScene) -> tuple:
    """Gives the hours in the order of LINES."""
    return scene.hot_hours, scene.cold_hours


def lost(scene: LoopScene) -> str:
    """Says what the lines do to the heat, with its share: in air warmer than the water they gain some."""
    percent = f"{100 * abs(scene.lost):.1f} %"
    return f"{'gain' if scene.lost < 0 else 'lose'} {'less than 0.1 %' if percent == '0.0 %' else percent} of the heat"


def sentence(scene: LoopScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    store, arrives, bottom, returns = (
        show(celsius(value), "temperature", system)
        for value in (scene.store, scene.arrives, scene.bottom, scene.returns)
    )
    flow, least = (show(Q_(value, "m**3/s"), "flow", system) for value in (scene.flow, scene.least_flow))
    speed, fast = (show(Q_(value, "m/s"), "speed", system) for value in (scene.speed, scene.carries_air))
    there = "freeze on the way" if np.isfinite(scene.hot_ice) else f"arrive at {arrives}"
    back = "freezes on the way" if np.isfinite(scene.cold_ice) else f"comes back at {returns}"
    carries = (
        FAST_ENOUGH if scene.speed >= scene.carries_air else f"is too slow to carry air (that takes {fast}, {least})"
    )
    defrost = " without defrost" if scene.defrost else ""
    hours = min(scene.cold_hours, scene.hot_hours)
    line = "" if np.isinf(hours) else f", in the {'cold' if scene.cold_hours <= scene.hot_hours else 'hot'} line first"
    return (
        f"The heat pump takes {scene.electricity:.0f} W of electricity and {scene.heat - scene.electricity:.0f} W from"
        f" the air, COP {scene.cop:.1f}{defrost}; the lines {lost(scene)}. {flow} leave it at {store} and {there};"
        f" {bottom} from the tank's bottom {back}. Water at {speed} {carries}. Power fails:"
        f" {ice_words(hours, scene.air)}{line}."
    )
