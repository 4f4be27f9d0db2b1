"""Two tanks in layers, the COP of three units against the water that comes back, and what their loops take."""

from dataclasses import dataclass

import numpy as np

from ...drawing.bars import Bars
from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_pixels
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...quantities.display import celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 440  # [px]
WATER, GLYCOL, CO2 = "water, many passes", "glycol, many passes", "CO2, one pass"
LOOKS = {WATER: ("#1f5fa8", "-"), GLYCOL: ("#5b6670", "--"), CO2: ("#b8321f", "-")}
BAR_LOOKS = (("#7fb2de", ".."), ("#cfd8e0", "//"), ("#f0913a", ""))
BACK = Axis("Water comes back at", "temperature", 0, 70, even(0, 70, 10), even(40, 140, 20))
COP = Axis("", "ratio", 0, 6.6, even(0, 5, 1), even(0, 5, 1))
TANKS = ("many passes", "one pass")
LEFT, TOP, ACROSS, DOWN = (22, 226), 32, 96, 160  # [px] of the two tanks


@dataclass(frozen=True)
class Unit:
    """One kind of unit: floats, temperatures in degC."""

    kind: str
    back: float  # water that comes back now
    cop: float  # with it
    mean: float  # COP over all that was heated so far
    cops: np.ndarray  # at every temperature of `backs`
    pressure: float  # [Pa] that its loop takes


@dataclass(frozen=True)
class TankScene:
    """Everything that the picture shows, in SI floats (temperatures in degC)."""

    cold: float
    store: float
    filled: float  # [-] of a full tank's heat
    port: str
    volume: float  # [m3]
    tanks: tuple  # layers from the top, of many passes and of one [degC]
    usable: tuple  # [m3] at `wanted`
    wanted: float
    backs: np.ndarray  # [degC]
    units: tuple[Unit, ...]
    glycol_share: float


class TankPicture(Picture):
    """Shows both tanks, the three COPs against the return, their means and what the loops take."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 420, 304), (420, 0, WIDTH - 420, 304), (0, 304, 440, 136), (440, 304, WIDTH - 440, 136))

    def build(self, canvas: Canvas) -> None:
        self._tanks(canvas)
        self.graph = Graph(canvas, 424, 4, 456, 296, "COP", BACK, COP)
        self.kept = None
        self.ghosts = [self.graph.line(lw=1.5, ls=":", color=GHOST) for _ in LOOKS]
        self.lines = [self.graph.line(color=colour, ls=style) for colour, style in LOOKS.values()]
        self.dots = [self.graph.mark(color=colour, ms=10) for colour, _ in LOOKS.values()]
        self.names = [
            self.graph.words(x, y, color=LOOKS[kind][0], weight="bold", backed=True)
            for kind, x, y in ((CO2, 1, 6.1), (WATER, 29, 6.1), (GLYCOL, 29, 5.45))
        ]
        bars = {"room": 178, "numbers": 60}
        self.means = Bars(canvas, 0, 312, 424, "COP over all that was heated", LOOKS, BAR_LOOKS, **bars)
        self.pressures = Bars(
            canvas, 444, 312, 436, "Pressure that both lines take", LOOKS, BAR_LOOKS, room=178, numbers=92
        )
        self.scales = (self.graph,)

    def _tanks(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 4, 416, 296)
        axes.text(0, 14, "The same heat in two tanks", size=TEXT, weight="bold", color=INK)
        self.layers, self.said = [], []
        for left, name in zip(LEFT, TANKS):
            self.layers.append(canvas.raster(axes, left, TOP))
            canvas.moving(*axes.plot(*_outline(left), lw=2.5, color=INK))
            middle = left + ACROSS / 2
            axes.text(middle, TOP + DOWN + 22, name, size=TEXT, color=INK, ha="center")
            self.said.append(
                [
                    canvas.words(axes, left + ACROSS + 8, TOP + 14),
                    canvas.words(axes, left + ACROSS + 8, TOP + DOWN - 2),
                    canvas.words(axes, middle, TOP + DOWN + 46, weight="bold", ha="center"),
                ]
            )
        self.below = [canvas.words(axes, 0, TOP + DOWN + 74), canvas.words(axes, 0, TOP + DOWN + 97)]

    def show(self, scene: TankScene) -> None:
        for pixels, said, tank, usable in zip(self.layers, self.said, scene.tanks, scene.usable):
            pixels.set_pixels(water_pixels(tank, DOWN, ACROSS).swapaxes(0, 1))
            for words, temperature in zip(said, (tank[0], tank[-1])):
                words.set_text(show(celsius(float(temperature)), "temperature", self.system))
            said[2].set_text(f"{show(Q_(usable, 'm**3'), 'large volume', self.system)} usable")
        wanted = show(celsius(scene.wanted), "temperature", self.system)
        self.below[0].set_text(f"usable: blended with cold to {wanted}")
        self.below[1].set_text(f"hot line enters at {scene.port}")
        for name, kind in zip(self.names, (CO2, WATER, GLYCOL)):
            name.set_text(kind)
        for line, dot, ghost, unit, place in zip(
            self.lines, self.dots, self.ghosts, scene.units, range(len(scene.units))
        ):
            line.set_data(scene.backs, unit.cops)
            dot.set_data([unit.back], [unit.cop])
            ghost.set_data(*((self.kept.backs, self.kept.units[place].cops) if self.kept else ([], [])))
        self._show_bars(scene)

    def _show_bars(self, scene: TankScene) -> None:
        full = 1.2 * max(unit.pressure for unit in scene.units)
        self.means.show([unit.mean / 5 for unit in scene.units], [f"{unit.mean:.1f}" for unit in scene.units])
        self.means.show_kept(self.kept and [unit.mean / 5 for unit in self.kept.units])
        self.pressures.show(
            [unit.pressure / full for unit in scene.units],
            [show(Q_(unit.pressure, "Pa"), "loop pressure", self.system) for unit in scene.units],
        )
        self.pressures.show_kept(self.kept and [unit.pressure / full for unit in self.kept.units])

    def sentence(self, scene: TankScene) -> str:
        many, once = (show(Q_(value, "m**3"), "large volume", self.system) for value in scene.usable)
        wanted = show(celsius(scene.wanted), "temperature", self.system)
        water, glycol, co2 = scene.units
        back_many, back_once = (show(celsius(unit.back), "temperature", self.system) for unit in (water, co2))
        extra = 100 * (glycol.pressure / water.pressure - 1)
        return (
            f"With {100 * scene.filled:.0f} % of its heat in, and the hot line at {scene.port}, the tank of many passes"
            f" gives {many} at {wanted} and that of one pass {once}. {back_many} comes back from the first, {back_once}"
            f" from the second. COP so far: {water.mean:.1f} with water, {glycol.mean:.1f} with glycol, {co2.mean:.1f}"
            f" with CO2 in one pass. {100 * scene.glycol_share:.0f} % glycol takes {extra:.0f} % more pressure than"
            " water."
        )

    def description(self, scene: TankScene) -> str:
        return (
            "Two tanks, coloured by the temperature of their layers. A graph of three units' COP against the water"
            " that comes back, with a mark for each now. Bars of their COP so far and of the pressure in their loops."
        )


def _outline(left: int) -> tuple:
    """Corners of a tank's outline [px]."""
    right, bottom = left + ACROSS, TOP + DOWN
    return [left, right, right, left, left], [TOP, TOP, bottom, bottom, TOP]
