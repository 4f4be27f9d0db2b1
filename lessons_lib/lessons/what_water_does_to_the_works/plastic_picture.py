"""Plastic's limits: its rating against the water's temperature, and where it stands between heater, sun and tap."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, Polygon, Rectangle

from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import FOAM, FOAM_EDGE, GHOST, water_colour
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...plant.plastic_limits import BARE_OUTDOORS, FOR_A_TIME, IN_A_JACKET
from ...quantities.display import SI, celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 400  # [px]
GRAPH = 440  # [px] its width
CURVE, METAL = "#b8321f", "#a35f2a"
HOTTEST = 110  # [degC] end of the scale
TALLEST = (1.6e6, 3.2e6)  # [Pa] ends of the upright scale
HEATER, FROM, TO, AXIS = 74, 82, 422, 196  # [px] heater's width, the pipe's ends, its axis
PER_METRE = 170  # [px] along the pipe
LONGEST = 1.0  # [m] of metal


@dataclass(frozen=True)
class PlasticScene:
    """Everything that the picture shows, in SI floats, temperatures in degC, pressures above the air's.

    relief : unit system → (temperature, pressure) at which a heater's relief valve opens there
    relief_allowed : unit system → what the pipe is rated for at that temperature
    """

    pipe: str
    colour: str
    temperatures: np.ndarray
    pressures: np.ndarray
    steady: float
    water: float
    pressure: float
    allowed: float
    reason: str
    metal: float  # [m] between heater and plastic
    needed: float
    place: str
    use: str
    relief: dict
    relief_allowed: dict


def _scale(tallest: float) -> Axis:
    step, customary = (400, 50) if tallest == TALLEST[0] else (800, 100)
    return Axis(
        "Pressure", "pressure", 0, tallest / 1e3, even(0, tallest / 1e3, step), even(0, tallest / 6895, customary)
    )


class PlasticPicture(Picture):
    """Shows the rating, and the pipe between heater and tap."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, GRAPH, HEIGHT), (GRAPH, 0, WIDTH - GRAPH, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        across = Axis("Water", "temperature", 0, HOTTEST, even(0, 100, 20), even(40, 220, 40))
        self.graph = Graph(canvas, 4, 4, GRAPH - 12, HEIGHT - 8, "Pressure", across, _scale(TALLEST[0]))
        self.scales = (self.graph,)
        self.time = canvas.moving(self.graph.axes.add_patch(Rectangle((0, 0), 0, 0, fc="#fbe9b0", ec="none")))
        self.kept_curve = self.graph.line(ls="--", color=GHOST, lw=2.5)
        self.curve = self.graph.line(color=CURVE)
        self.star = self.graph.mark("*", color="white", mec=INK, ms=18)
        self.dot = self.graph.mark(color=INK)
        self.of_curve = self.graph.words(0, 0, weight="bold", color=CURVE, backed=True)
        self.of_time = self.graph.words(0, 0, backed=True, ha="right")
        self.of_star = self.graph.words(0, 0, backed=True, ha="right")
        self._sketch(canvas)

    def _sketch(self, canvas: Canvas) -> None:
        """The heater, its metal pipe, the plastic pipe in its jacket, and the sun."""
        axes = canvas.drawing(GRAPH + 4, 4, WIDTH - GRAPH - 8, HEIGHT - 8)
        axes.text(0, 14, "From the heater to the tap", size=TEXT, weight="bold", color=INK)
        axes.add_patch(Rectangle((4, 120), HEATER, 230, fc="#eef1f4", ec=INK, lw=2))
        axes.text(4 + HEATER / 2, 250, "heater", size=TEXT, color=INK, ha="center")
        self.sun = [canvas.moving(axes.add_patch(Circle((392, 60), 17, fc="#f4d58a", ec=INK, lw=1.2)))]
        for turn in np.radians(np.arange(0, 360, 45)):
            x, y = 392 + np.cos(turn) * np.array([22, 31]), 60 + np.sin(turn) * np.array([22, 31])
            self.sun.append(canvas.moving(*axes.plot(x, y, lw=2, color="#8a5a00")))
        self.jacket = canvas.moving(axes.add_patch(Rectangle((FROM, AXIS - 26), 0, 52, fc=FOAM, ec=FOAM_EDGE, lw=1.5)))
        self.metal = canvas.moving(axes.add_patch(Rectangle((HEATER + 4, AXIS - 10), 0, 20, fc=METAL, ec=INK, lw=1)))
        self.plastic = canvas.moving(axes.add_patch(Rectangle((FROM, AXIS - 12), 0, 24, ec=INK, lw=1)))
        self.water = canvas.moving(axes.add_patch(Rectangle((HEATER + 4, AXIS - 5), TO - HEATER, 10, ec="none")))
        axes.add_patch(Polygon([(TO, AXIS - 14), (TO, AXIS + 14), (TO + 14, AXIS)], fc=INK, ec=INK))
        self.needed = canvas.moving(*axes.plot([], [], lw=2, color=INK, marker="|", ms=14))
        self.of_needed = canvas.words(axes, HEATER + 10, AXIS + 62)
        self.of_metal = canvas.words(axes, HEATER + 10, AXIS - 40)
        self.of_pipe = canvas.words(axes, TO, AXIS + 96, ha="right", weight="bold")
        self.of_place = canvas.words(axes, TO, AXIS + 118, ha="right")
        self.of_use = canvas.words(axes, TO, AXIS + 140, ha="right")

    def show(self, scene: PlasticScene) -> None:
        highest = max(scene.pressures.max(), scene.pressure, self.kept.pressures.max() if self.kept else 0)
        tallest = next((end for end in TALLEST if end >= highest), TALLEST[-1])
        self.graph.stretch(up=_scale(tallest))
        self.curve.set_data(*_drawn(scene))
        self.kept_curve.set_data(*(_drawn(self.kept) if self.kept else ([], [])))
        last, top = scene.temperatures[-1], scene.pressures[-1] / 1e3
        self.time.set(x=scene.steady, width=max(last - scene.steady, 0), height=top)
        self.of_time.set(position=(last - 1, 0.03 * tallest / 1e3), text="for a time" if last > scene.steady else "")
        self.of_curve.set(position=(2, scene.pressures[0] / 1e3 + 0.025 * tallest / 1e3), text="rated")
        self.dot.set_data([min(scene.water, HOTTEST)], [scene.pressure / 1e3])
        warm, opens = scene.relief[self.system]
        self.star.set_data([warm], [opens / 1e3])
        self.of_star.set(position=(warm - 3, opens / 1e3 + 0.045 * tallest / 1e3), text="heater's relief valve")
        self._show_sketch(scene)

    def _show_sketch(self, scene: PlasticScene) -> None:
        start = HEATER + 4 + PER_METRE * min(scene.metal, LONGEST)
        self.metal.set_width(start - HEATER - 4)
        self.plastic.set(x=start, width=TO - start, facecolor=scene.colour)
        self.water.set_facecolor(water_colour(scene.water))
        self.jacket.set(x=start, width=TO - start - 8, visible=scene.place == IN_A_JACKET)
        for part in self.sun:
            part.set_visible(scene.place in (IN_A_JACKET, BARE_OUTDOORS))
        self.needed.set_data([HEATER + 4, HEATER + 4 + PER_METRE * scene.needed], [AXIS + 40] * 2)
        self.of_needed.set_text(f"metal that is often asked for: {usual_metal(scene.needed, self.system)}")
        self.of_metal.set_text(f"metal: {self._length(scene.metal)}")
        self.of_pipe.set_text(scene.pipe)
        self.of_place.set_text(scene.place)
        self.of_use.set_text(scene.use)

    def _length(self, metres: float) -> str:
        return show(Q_(round(1e3 * metres), "mm"), "cut", self.system) if metres else "none"

    def sentence(self, scene: PlasticScene) -> str:
        water, pressure, allowed = (
            show(celsius(scene.water), "temperature", self.system),
            self._pressure(scene.pressure),
            self._pressure(scene.allowed),
        )
        rated = f"is rated for {allowed}" if scene.allowed else "is not rated"
        warm, opens = scene.relief[self.system]
        there = scene.relief_allowed[self.system]
        beyond = f"it is rated for {self._pressure(there)} there" if there else "it is not rated there at all"
        if there and warm > scene.steady:
            beyond = f"it is rated for {self._pressure(there)} there, but {FOR_A_TIME}"
        return (
            f"{scene.pipe} with water at {water} {rated}; it carries {pressure}: {scene.reason}. A heater's relief"
            f" valve opens at {show(celsius(warm), 'temperature', self.system)} or {self._pressure(opens)}; {beyond}."
        )

    def _pressure(self, value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", self.system)

    def description(self, scene: PlasticScene) -> str:
        return (
            "Two drawings. The pressure that the pipe is rated for against the water's temperature, with the water as"
            " it is and the point at which a heater's relief valve opens. The pipe from the heater through metal and"
            " plastic to the tap."
        )


def usual_metal(metres: float, system: str) -> str:
    """The metal that is often asked for, as each side says it: in whole inches, or to 50 mm."""
    return show(Q_(50 * round(20 * metres) if system == SI else 1e3 * metres, "mm"), "cut", system)


def _drawn(scene: PlasticScene) -> tuple:
    """The rating as a line that begins at 0 degC and falls to nothing at its end."""
    last = scene.temperatures[-1]
    return [0, *scene.temperatures, last], np.array([scene.pressures[0], *scene.pressures, 0]) / 1e3
