"""A tank, an outdoor unit at some height, and the loop between them, which may run by itself."""

from dataclasses import dataclass

from matplotlib.patches import FancyBboxPatch

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import TANK, water_colour
from ...drawing.picture import Picture
from ...quantities.display import celsius, number, show
from ...quantities.units import Q_
from .diagram import CheckValve, colour, round_end, tank

WIDTH, HEIGHT = 884, 400  # [px]
METRE, ZERO = 34.0, 252.0  # [px] of one metre; down to the tank's lower port
TANK_LEFT, TANK_WIDE, UNIT = 6, 70, 340  # [px]
WALL = 190  # [px] across
LEFT = 452  # [px] across to the bars
PRESSURES = "water pushes with", "valve opens at"
HEATS = ("out of the tank",)
NIGHT = ("cools by",)
LOOKS = (("#7fb2de", ".."), ("#dfe3e8", "//"))
HOT_LOOK = (("#f0913a", ""),)


@dataclass(frozen=True)
class ThermosiphonScene:
    """Everything that the picture shows, in SI floats (temperatures in degC, heights in m above the lower port)."""

    tank: float
    air: float
    height: float  # of the unit
    apart: float  # of the tank's ports
    trap: float  # depth of the heat trap
    opening: float  # [Pa] of the check valve; 0: there is none
    flow: float  # [m3/s] at the tank's temperature; 0: it stands
    driving: float  # [Pa] at this flow; standing: the most that it could be
    reaches: float  # the unit
    leaves: float  # the unit
    returns: float  # to the tank
    watts: float
    cools: float  # [K] that the tank does by this in a long night
    hours: float  # [h] of that night


class ThermosiphonPicture(Picture):
    """Shows tank, unit and loop to scale in height, and bars of pressure, heat and the tank's night."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 442, HEIGHT), (442, 0, 442, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = self.axes = canvas.drawing(0, 2, 442, HEIGHT - 4)
        axes.text(0, 14, "The pump stands", size=TEXT, weight="bold", color=INK)
        self.water = tank(canvas, axes, TANK_LEFT, 176, TANK_WIDE, 104)
        axes.text(TANK_LEFT + TANK_WIDE / 2, 304, "tank", size=TEXT, color=FAINT, ha="center")
        axes.plot([WALL, WALL], [30, 390], lw=6, color="#c7ced5", solid_capstyle="butt")
        axes.text(WALL + 8, 390, "outdoors", size=TEXT, color=FAINT)
        self.lines = [
            [canvas.moving(*axes.plot([], [], lw=lw, color=INK, solid_joinstyle="miter")) for lw in (9, 6)]
            for _ in range(2)
        ]
        unit = FancyBboxPatch((0, 0), 74, 54, boxstyle="round,pad=0,rounding_size=6", fc=TANK, ec=INK, lw=2)
        self.unit = canvas.moving(axes.add_patch(unit))
        self.of_unit = canvas.words(axes, UNIT + 41, 0, ha="center")
        self.valve = CheckValve(canvas, axes, 112, ZERO, "left")
        style = {"weight": "bold", "ha": "center", "backed": True}
        self.in_tank = canvas.words(axes, TANK_LEFT + TANK_WIDE / 2, 234, **style)
        self.degrees = [canvas.words(axes, x, 0, **style) for x in (268, 268)]
        self.of_air = canvas.words(axes, 438, 14, color=FAINT, ha="right")
        self.of_flow = canvas.words(axes, WALL + 8, 40, weight="bold")
        room = {"room": 158, "numbers": 100}
        self.push = Bars(canvas, LEFT, 0, 430, "Push and hold", PRESSURES, LOOKS, **room)
        self.heat = Bars(canvas, LEFT, 106, 430, "Heat that leaves by the loop", HEATS, HOT_LOOK, **room)
        self.night = Bars(canvas, LEFT, 182, 430, "The tank in a long night", NIGHT, HOT_LOOK, **room)
        below = canvas.drawing(LEFT, 262, 430, 130)
        self.told = [canvas.words(below, 0, 20 + 24 * row) for row in range(3)]

    def show(self, scene: ThermosiphonScene) -> None:
        colour(self.water, scene.tank)
        self.in_tank.set_text(self._short(scene.tank))
        top, middle = ZERO - METRE * scene.apart, ZERO - METRE * scene.height
        bend = METRE * scene.trap
        across = [TANK_LEFT + TANK_WIDE, 100, 100, 130, 130, WALL, UNIT]
        down = [top, top, top + bend, top + bend, top, top, middle - 14]
        self._pipe(0, across, down, 0.5 * (scene.tank + scene.reaches) if scene.flow else scene.reaches)
        self._pipe(
            1, [UNIT, WALL, TANK_LEFT + TANK_WIDE], [middle + 14, ZERO, ZERO], 0.5 * (scene.leaves + scene.returns)
        )
        self.unit.set_y(middle - 27)
        self.unit.set_x(UNIT)
        self.of_unit.set_position((UNIT + 37, middle + 5))
        self.of_unit.set_text("unit")
        self.valve.set_visible(scene.opening > 0)
        for words, value, at, end in zip(
            self.degrees, (scene.reaches, scene.leaves), (top, ZERO), (middle - 14, middle + 14)
        ):
            words.set_y(0.5 * (at + end) + (-10 if at == top else 20))
            words.set_text(self._short(value) if scene.flow else "")
        self.of_air.set_text(f"air {show(celsius(scene.air), 'temperature', self.system)}")
        flow = show(Q_(scene.flow, "m**3/s"), "measured flow", self.system)
        self.of_flow.set_text(f"runs by itself: {flow}" if scene.flow else "no flow")
        self._show_bars(scene)

    def _pipe(self, place: int, across, down, temperature: float) -> None:
        for line in self.lines[place]:
            line.set_data(across, down)
        self.lines[place][1].set_color(water_colour(round(temperature, 1)))

    def _short(self, value: float) -> str:
        return number(celsius(value), "temperature", self.system) + "°"

    def _show_bars(self, scene: ThermosiphonScene) -> None:
        for bars, values, text in (
            (self.push, pushes, lambda value: show(Q_(value, "Pa"), "small pressure", self.system)),
            (self.heat, lambda one: (one.watts,), lambda value: show(Q_(value, "W"), "heat", self.system)),
            (self.night, lambda one: (one.cools,), self._apart),
        ):
            end = round_end(*values(scene), *(values(self.kept) if self.kept else ()))
            bars.show([value / end for value in values(scene)], [text(value) for value in values(scene)])
            bars.show_kept(self.kept and [value / end for value in values(self.kept)])
        back = show(celsius(scene.returns), "temperature", self.system)
        self.told[0].set_text(
            f"To the unit at {show(celsius(scene.reaches), 'temperature', self.system)}, back at {back}."
        )
        if not scene.flow:
            self.told[0].set_text("No warm water reaches the unit.")
        self.told[1].set_text("The tank is taken as warm down to its lower port.")
        self.told[2].set_text("Water that stands outdoors can freeze." if scene.air <= 0 and not scene.flow else "")

    def _apart(self, value: float) -> str:
        return show(Q_(value, "delta_degC"), "temperature drop", self.system)

    def sentence(self, scene: ThermosiphonScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: ThermosiphonScene) -> str:
        valve = " A check valve sits in the line back." if scene.opening else ""
        return (
            "A tank indoors, a unit outdoors at its height, a line from the tank's upper port to the unit and one back"
            f" to the lower port.{valve} Bars of pressure, of the heat that leaves, and of the tank in a night."
        )


def pushes(scene: ThermosiphonScene) -> tuple:
    """Gives the pressures [Pa] in the order of PRESSURES."""
    return scene.driving, scene.opening


def sentence(scene: ThermosiphonScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    air = show(celsius(scene.air), "temperature", system)
    push, opening = (show(Q_(value, "Pa"), "small pressure", system) for value in pushes(scene))
    if not scene.flow:
        why = (
            f"the check valve opens only at {opening}" if scene.opening else "nothing in it is denser than in the tank"
        )
        return (
            f"The cooled water pushes with at most {push}, and {why}. So the loop stands still in air of {air}. The"
            " tank keeps its heat, and nothing keeps the outdoor end warm."
        )
    flow, watts = show(Q_(scene.flow, "m**3/s"), "measured flow", system), show(Q_(scene.watts, "W"), "heat", system)
    reaches, returns = (show(celsius(value), "temperature", system) for value in (scene.reaches, scene.returns))
    cools = show(Q_(scene.cools, "delta_degC"), "temperature drop", system)
    return (
        f"In air of {air} the cooled water pushes with {push}, and {flow} go round by themselves. They reach the unit"
        f" at {reaches}, come back at {returns} and take {watts} out of the tank."
        f" In {scene.hours:.0f} hours that cools it"
        f" by {cools}."
    )
