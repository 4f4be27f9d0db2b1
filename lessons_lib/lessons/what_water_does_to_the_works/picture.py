"""What comes down against the set temperature; the exchanger's wall after a year; what a layer costs."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...quantities.display import SI, celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 350  # [px]
HALF = 442  # [px] where the right half begins
FROM, LAST, TOP, TALL = 128, 424, 40, 100  # [px] of the wall: where scale begins, the end of the water, down to it
PX_PER_MM = 40
MOST = 4.5  # [mm] drawn
WORST_COP, HOTTEST = 4.0, 110.0  # ends of the bars' scales
STATES = ("clean", "scaled")
LOOKS = (("#cfe3d4", ""), ("#c9bfae", "xx"))
SCALE = "#e9e2d3"


@dataclass(frozen=True)
class ScaleScene:
    """Everything that the picture shows, in floats: temperatures in degC, lengths in m, surfaces in m2."""

    hardness: float  # [mg/L as CaCO3]
    cold: float
    hot: float
    litres: float  # [L] a day
    surface: float
    grid: np.ndarray  # [degC] shape (n,), of the curve
    curve: np.ndarray  # [mg/L] shape (n,)
    falls: float  # [mg/L] at the set temperature
    mass: float  # [kg] in a year
    grown: float  # thickness after a year, if all of it stays on the surface
    layer: float  # whose cost is shown
    years: float  # until that layer is there; inf: never
    step: float  # [K] across the layer
    clean_step: float  # [K] of the clean exchanger
    clean_cop: float
    scaled_cop: float
    heat: float  # [kWh] a year, of the water

    @property
    def dearer(self) -> float:
        """Share by which the layer raises the electricity."""
        return self.clean_cop / self.scaled_cop - 1

    @property
    def passes(self) -> float:
        """Heat that the scaled exchanger passes for each degree, as a share of the clean one's."""
        return self.clean_step / (self.clean_step + self.step)

    @property
    def condensing(self) -> tuple[float, float]:
        """Gives at what the refrigerant condenses [degC], clean and scaled."""
        return self.hot + self.clean_step, self.hot + self.clean_step + self.step

    @property
    def extra(self) -> float:
        """Electricity that the layer costs in a year [kWh]."""
        return self.heat / self.scaled_cop - self.heat / self.clean_cop


class ScalePicture(Picture):
    """Shows what comes down, the exchanger's wall after a year, and what a layer of scale costs."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, HALF - 6, 250), (HALF, 0, WIDTH - HALF, 250), (0, 250, HALF - 6, 100), (HALF, 250, HALF, 100))

    def build(self, canvas: Canvas) -> None:
        across = Axis("set temperature", "temperature", 40, 75, even(40, 75, 5), even(110, 160, 10))
        up = Axis("comes down", "hardness", 0, 190, even(0, 160, 40), even(0, 10, 2))
        self.graph = Graph(canvas, 4, 4, HALF - 14, 244, "Comes down at most", across, up)
        self.scales = (self.graph,)
        self.before = self.graph.line(ls="--", lw=2.5, color=GHOST)
        self.curve = self.graph.line()
        self.here = self.graph.mark(color="#b8321f")
        self.value = self.graph.words(0, 0, weight="bold", ha="right", backed=True)
        self._wall(canvas)
        room = {"room": 62, "numbers": 70}
        self.cop = Bars(canvas, 4, 254, HALF - 14, "Heat for each kWh of electricity [kWh]", STATES, LOOKS, **room)
        self.warm = Bars(canvas, HALF, 254, HALF - 8, "Refrigerant condenses at", STATES, LOOKS, **room)

    def _wall(self, canvas: Canvas) -> None:
        """Draws the wall between refrigerant and water; the scale on it grows to the right."""
        axes = canvas.drawing(HALF, 4, HALF - 8, 244)
        axes.text(0, 14, "The wall after a year, if all of it stays there", size=TEXT, weight="bold", color=INK)
        self.water = canvas.moving(axes.add_patch(Rectangle((FROM, TOP), LAST - FROM, TALL, lw=0)))
        self.gas = canvas.moving(axes.add_patch(Rectangle((0, TOP), FROM - 12, TALL, lw=0)))
        self.scale = canvas.moving(
            axes.add_patch(Rectangle((FROM, TOP), 0, TALL, fc=SCALE, ec="#6e6552", hatch="xx", lw=0.8))
        )
        canvas.moving(axes.add_patch(Rectangle((FROM - 12, TOP), 12, TALL, fc="#8d6e63", ec=INK, lw=1)))
        self.ghost = canvas.moving(*axes.plot([], [], ls="--", lw=2.5, color=GHOST))
        self.one = canvas.moving(*axes.plot([], [], ls=":", lw=2.5, color=INK))
        self.one_words = canvas.words(axes, 0, TOP + TALL + 20, ha="center")
        self.names = [
            canvas.words(axes, 8, TOP + 24, backed=True),
            canvas.words(axes, LAST - 8, TOP + 24, ha="right", backed=True),
        ]
        self.lines = [canvas.words(axes, 0, TOP + TALL + down, weight="bold") for down in (52, 80)]

    def show(self, scene: ScaleScene) -> None:
        self.curve.set_data(scene.grid, scene.curve)
        self.before.set_data(*((self.kept.grid, self.kept.curve) if self.kept else ([], [])))
        self.here.set_data([scene.hot], [scene.falls])
        left = scene.hot < 52
        self.value.set(position=(scene.hot + (0.8 if left else -0.8), scene.falls + 11), text=self._falls(scene))
        self.value.set_ha("left" if left else "right")
        self._show_wall(scene)
        for bars, full, values, kind in (
            (self.cop, WORST_COP, _cops, lambda value: f"{value:.2f}"),
            (self.warm, HOTTEST, lambda one: one.condensing, self._degrees),
        ):
            bars.show([value / full for value in values(scene)], [kind(value) for value in values(scene)])
            bars.show_kept(self.kept and [value / full for value in values(self.kept)])

    def _show_wall(self, scene: ScaleScene) -> None:
        wide = PX_PER_MM * min(1000 * scene.grown, MOST)
        self.scale.set_width(wide)
        self.water.set_facecolor(water_colour(scene.hot))
        self.gas.set_facecolor(water_colour(min(scene.condensing[0], 80.0)))
        at = FROM + PX_PER_MM * 1000 * scene.layer
        self.one.set_data([at, at], [TOP, TOP + TALL + 4])
        self.one_words.set(position=(at, TOP + TALL + 20), text=self._layer(scene.layer))
        kept = self.kept and FROM + PX_PER_MM * min(1000 * self.kept.grown, MOST)
        self.ghost.set_data(*(([kept, kept], [TOP - 6, TOP + TALL]) if self.kept else ([], [])))
        self.names[0].set_text("refrigerant")
        self.names[1].set_text(f"water {self._degrees(scene.hot)}")
        beyond = ", more than is drawn" if 1000 * scene.grown > MOST else ""
        self.lines[0].set_text(f"scale: {thickness(scene.grown, self.system)} thick{beyond}")
        self.lines[1].set_text(f"{self._layer(scene.layer)} {how_soon(scene.years)}")

    def sentence(self, scene: ScaleScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: ScaleScene) -> str:
        return (
            "A curve of what comes down at most against the set temperature, with a mark at the one that is"
            " set. The wall of a heat exchanger between refrigerant and water, with the scale of a year on it. Bars of"
            f" the heat for each kWh of electricity (clean {scene.clean_cop:.2f}, scaled {scene.scaled_cop:.2f}) and of"
            f" the temperature at which the refrigerant condenses, clean and scaled."
        )

    def _falls(self, scene: ScaleScene) -> str:
        return per_litre(scene.falls, self.system)

    def _degrees(self, value: float) -> str:
        return show(celsius(value), "temperature", self.system)

    def _layer(self, metres: float) -> str:
        return show(Q_(metres, "m"), "layer", self.system)


def _cops(scene: ScaleScene) -> tuple[float, float]:
    return scene.clean_cop, scene.scaled_cop


def per_litre(milligrams: float, system: str) -> str:
    """Writes what comes down [mg/L] in the reader's unit."""
    return show(Q_(milligrams, "mg/L"), "hardness", system)


def thickness(metres: float, system: str) -> str:
    """A layer's thickness; one that is there but thinner than what can be told is said to be so."""
    least = Q_(0.1, "mm") if system == SI else Q_(0.01, "in")
    thin = 0 < metres < least.to("m").magnitude
    return f"less than {show(least, 'layer', system)}" if thin else show(Q_(metres, "m"), "layer", system)


def scale_mass(scene: ScaleScene, system: str) -> str:
    """The scale of a year, as people weigh it."""
    least = Q_(0.1, "kg") if system == SI else Q_(0.1, "lb")
    if 0 < scene.mass < least.to("kg").magnitude:
        return f"less than {show(least, 'scale mass', system)}"
    return show(Q_(scene.mass, "kg"), "scale mass", system)


def how_soon(years: float) -> str:
    """Says when a layer is there at the soonest, rounded down: "after 3 months", "after 12 years", "never"."""
    if years > 200:
        return "never in this model" if np.isinf(years) else "after 200 years or more"
    days = int(365 * years)
    if days < 61:
        return f"after {max(days, 1)} day{'s' if days > 1 else ''}"
    return f"after {int(12 * years)} months" if years < 2 else f"after {int(years)} years"


def sentence(scene: ScaleScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    cold, hot, clean, scaled = (
        show(celsius(value), "temperature", system) for value in (scene.cold, scene.hot, *scene.condensing)
    )
    hardness, falls = per_litre(scene.hardness, system), per_litre(scene.falls, system)
    litres, surface = show(Q_(scene.litres, "L"), "large volume", system), _surface(scene, system)
    grown, thick = (thickness(value, system) for value in (scene.grown, scene.layer))
    comes = (
        f"can lose at most {falls} of it as scale. {litres} a day make {scale_mass(scene, system)} in a year. If all of"
        f" it stays on {surface}, it is {grown} thick after a year, and {thick} {how_soon(scene.years)}."
        if scene.mass > 0
        else "loses nothing of it as scale."
    )
    return (
        f"Water with a hardness of {hardness} that is heated from {cold} to {hot} {comes} Under {thick} of scale the"
        f" exchanger would pass {100 * scene.passes:.0f} % of the heat that a clean one passes for each degree. The"
        f" refrigerant would condense at {scaled} instead of {clean}, and the heat pump would take"
        f" {100 * scene.dearer:.0f} % more electricity, {scene.extra:.0f} kWh a year."
    )


def _surface(scene: ScaleScene, system: str) -> str:
    return show(Q_(scene.surface, "m**2"), "surface", system)
