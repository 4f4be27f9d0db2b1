"""A pump's curve and what the loop takes: where they cross, and where the pressure goes."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, Canvas
from ...drawing.colours import GHOST
from ...drawing.graph import Graph, around
from ...drawing.picture import Picture
from ...quantities.display import celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 372  # [px]
FLOWS = {top: around("Flow", "flow", 0, top) for top in (20, 40, 60)}  # [L/min]
PRESSURES = {top: around("", "pressure drop", 0, 1.25 * top) for top in (40, 80, 120)}  # [kPa] and room for words
PARTS = ("both lines", "the exchanger", "the strainer")
PART_LOOKS = (("#7fb2de", ".."), ("#f0913a", ""), ("#5b6670", "//"))
FLOW_NAMES, FLOW_LOOKS = ("this flow", "least flow"), (("#7fb2de", ".."), ("#cfd8e0", ""))
LITRE = 60_000  # [L/min] in one m3/s


@dataclass(frozen=True)
class PumpScene:
    """Everything that the picture shows, in SI floats (temperatures in degC)."""

    SHARES: ClassVar = np.linspace(0, 1, 41)  # of the largest flow, where the two curves are drawn

    flow: float  # [m3/s]
    pressure: float  # [Pa] that the pump gives at it
    parts: tuple  # [Pa] in the order of PARTS
    shut_off: float
    largest: float
    gives: np.ndarray  # [Pa] at SHARES
    takes: np.ndarray  # [Pa] at SHARES
    least: float  # [m3/s]
    back: float
    rise: float  # [K]
    hottest: float
    beyond: tuple  # what lies outside the maker's sheet

    @property
    def leaves(self) -> float:
        """Gives the temperature at which the water would leave the unit."""
        return self.back + self.rise


class PumpPicture(Picture):
    """Shows both curves with their crossing, the parts of the pressure, and the flow beside the least."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 470, HEIGHT), (470, 0, WIDTH - 470, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        self.graph = Graph(canvas, 0, 4, 460, 364, "Pressure", FLOWS[20], PRESSURES[40])
        self.least = self.graph.line(lw=2, ls=":", color=FAINT)
        self.kept_takes = self.graph.line(lw=2, ls="--", color=GHOST)
        self.gives, self.takes = self.graph.line(color="#1f5fa8"), self.graph.line(color="#b8321f")
        self.dot = self.graph.mark()
        self.gives_words = self.graph.words(0, 0, color="#1f5fa8", weight="bold", backed=True)
        self.takes_words = self.graph.words(0, 0, color="#b8321f", weight="bold", ha="right", backed=True)
        self.least_words = self.graph.words(0, 0, color=FAINT, backed=True)
        bars = {"room": 124, "numbers": 96}
        self.shares = Bars(canvas, 484, 4, 396, "Where the pump's pressure goes", PARTS, PART_LOOKS, **bars)
        self.flows = Bars(canvas, 484, 138, 396, "Flow", FLOW_NAMES, FLOW_LOOKS, **bars)
        around_words = canvas.drawing(484, 248, 396, 112)
        self.lines = [canvas.words(around_words, 0, 20 + 26 * row, weight="bold") for row in range(3)]
        self.scales = (self.graph,)

    def show(self, scene: PumpScene) -> None:
        across = next(top for top in FLOWS if LITRE * scene.largest <= top * 1.01)
        up = next(top for top in PRESSURES if scene.shut_off / 1000 <= top * 1.01)
        self.graph.stretch(FLOWS[across], PRESSURES[up])
        flows = LITRE * scene.largest * scene.SHARES
        inside = scene.takes <= 1060 * up
        self.gives.set_data(flows, scene.gives / 1000)
        self.takes.set_data(flows[inside], scene.takes[inside] / 1000)
        self.dot.set_data([LITRE * scene.flow], [scene.pressure / 1000])
        least = min(LITRE * scene.least, across)
        self.least.set_data([least, least], [0, up])
        self._name_curves(across, up)
        self.kept_takes.set_data(*self._kept(up))
        self._show_bars(scene)

    def _name_curves(self, across: float, up: float) -> None:
        """Puts the names above the curves, where both leave room."""
        for words, text, x, y in (
            (self.gives_words, "blue: the pump gives", 0.02, 1.18),
            (self.takes_words, "red: the loop takes", 1.0, 1.18),
            (self.least_words, "dotted: least flow", 0.02, 1.08),
        ):
            words.set_text(text)
            words.set_position((x * across, y * up))

    def _kept(self, up: float) -> tuple:
        """Gives the kept loop's curve [L/min], [kPa]; two empty lists for none."""
        if not self.kept:
            return [], []
        inside = self.kept.takes <= 1060 * up
        return (LITRE * self.kept.largest * self.kept.SHARES)[inside], self.kept.takes[inside] / 1000

    def _show_bars(self, scene: PumpScene) -> None:
        full = scene.shut_off
        self.shares.show(
            [part / full for part in scene.parts],
            [show(Q_(part, "Pa"), "pressure drop", self.system) for part in scene.parts],
        )
        self.shares.show_kept(self.kept and [part / full for part in self.kept.parts])
        most = 1.2 * max(scene.flow, scene.least)
        both = scene.flow, scene.least
        self.flows.show([one / most for one in both], [show(Q_(one, "m**3/s"), "flow", self.system) for one in both])
        self.flows.show_kept(self.kept and [one / most for one in (self.kept.flow, self.kept.least)])
        rise = show(Q_(scene.rise, "delta_degC"), "temperature drop", self.system)
        back = show(celsius(scene.back), "temperature", self.system)
        self.lines[0].set_text(f"The water warms by {rise} in the unit.")
        self.lines[1].set_text(f"It comes back at {back}.")
        self.lines[2].set_text(self._outside(scene))

    def _outside(self, scene: PumpScene) -> str:
        return f"Outside the sheet: {', '.join(scene.beyond)}." if scene.beyond else "The maker's sheet decides."

    def sentence(self, scene: PumpScene) -> str:
        flow, least = (show(Q_(value, "m**3/s"), "flow", self.system) for value in (scene.flow, scene.least))
        given, *parts = (
            show(Q_(value, "Pa"), "pressure drop", self.system) for value in (scene.pressure, *scene.parts)
        )
        rise = show(Q_(scene.rise, "delta_degC"), "temperature drop", self.system)
        back = show(celsius(scene.back), "temperature", self.system)
        outside = f" Outside the maker's sheet: {', '.join(scene.beyond)}." if scene.beyond else ""
        return (
            f"The pump's curve and the loop's cross at {flow} and {given}. Both lines take {parts[0]}, the unit's"
            f" exchanger {parts[1]} and the strainer {parts[2]}. The unit asks for at least {least}. Water that comes"
            f" back at {back} warms by {rise}.{outside}"
        )

    def description(self, scene: PumpScene) -> str:
        return (
            "A graph of pressure against flow, with the pump's falling curve, the loop's rising one and a mark where"
            " they cross. Bars of where the pressure goes and of the flow beside the least flow."
        )
