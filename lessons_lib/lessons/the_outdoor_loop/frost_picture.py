"""The outdoor coil in damp cold: the water that it collects against the air's temperature, its heat, its defrosts."""

from dataclasses import dataclass

import numpy as np

from ...drawing.bars import Bars
from ...drawing.canvas import Canvas
from ...drawing.colours import GHOST
from ...drawing.graph import Axis, Graph, around, even
from ...drawing.picture import Picture
from ...quantities.display import celsius, duration, ice_words, show
from ...quantities.results import Word
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 384  # [px]
AIRS = -20, 20, 1  # [degC] of the control and the graph
AIR = Axis("Outdoor air", "temperature", *AIRS[:2], even(-20, 20, 10), even(0, 60, 20))
DAILY = {top: around("", "mass", 0, top) for top in (20, 50, 100, 200)}  # [kg]
HEATS, HEAT_LOOKS = ("cooling the air", "its water"), (("#f0913a", ""), ("#7fb2de", ".."))
TIMES, TIME_LOOKS = ("from one to next", "each takes"), (("#cfd8e0", ""), ("#7fb2de", ".."))
DRY, WATER, FROST = "nothing", "water", "ice"


@dataclass(frozen=True)
class FrostScene:
    """Everything that the picture shows, in SI floats (temperatures in degC)."""

    air: float
    humidity: float  # [-]
    coil: float
    heat: float  # [W] to the water
    taken: float  # [W] from the air
    latent: float  # [-] share of that which comes with the air's water
    kind: str  # what the coil collects
    daily: float  # [kg]
    cycle: float  # [kg] between two defrosts
    every: float  # [s]
    lasts: float  # [s] one defrost
    share: float  # [-] of the heat that defrosting takes
    airs: np.ndarray  # [degC]
    dailies: np.ndarray  # [kg] at them
    drain: str
    drain_word: Word
    mode: str
    powered: bool
    loop_word: Word
    hours_to_ice: float  # [h] in the loop, once its water stands


class FrostPicture(Picture):
    """Shows the coil's water against the air, the parts of its heat, its defrosts, drain and loop."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 450, HEIGHT), (450, 0, WIDTH - 450, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        self.graph = Graph(canvas, 0, 4, 440, 376, "Water that the coil collects in a day", AIR, DAILY[50])
        self.kept_line = self.graph.line(lw=2, ls="--", color=GHOST)
        self.line, self.dot = self.graph.line(), self.graph.mark()
        self.words = self.graph.words(-19, 0, weight="bold", backed=True)
        bars = {"room": 148, "numbers": 84}
        self.heats = Bars(canvas, 464, 4, 416, "Heat that the coil takes from the air", HEATS, HEAT_LOOKS, **bars)
        self.times = Bars(canvas, 464, 108, 416, "Defrosts", TIMES, TIME_LOOKS, **bars)
        below = canvas.drawing(464, 212, 416, 168)
        self.lines = [canvas.words(below, 0, 20 + 27 * row, weight="normal" if row % 2 else "bold") for row in range(6)]
        self.scales = (self.graph,)

    def show(self, scene: FrostScene) -> None:
        highest = float(np.max(scene.dailies))
        up = next((top for top in DAILY if highest <= 0.98 * top), max(DAILY))
        self.graph.stretch(up=DAILY[up])
        self.line.set_data(scene.airs, np.minimum(scene.dailies, up))
        self.dot.set_data([scene.air], [min(scene.daily, up)])
        self.words.set_position((-19, 0.93 * up))
        self.words.set_text(f"humidity {100 * scene.humidity:.0f} %")
        self.kept_line.set_data(
            *((self.kept.airs, np.minimum(self.kept.dailies, up)) if self.kept else ([], [])),
        )
        self._show_bars(scene)
        for line, text in zip(self.lines, self._below(scene)):
            line.set_text(text)

    def _show_bars(self, scene: FrostScene) -> None:
        """Moves the bars of heat and of time."""

        def heats(one):
            return one.taken * (1 - one.latent), one.taken * one.latent

        def times(one):
            return one.every, one.lasts

        self.heats.show([part / scene.heat for part in heats(scene)], [f"{part:.0f} W" for part in heats(scene)])
        self.heats.show_kept(self.kept and [part / scene.heat for part in heats(self.kept)])
        said = [duration(time) if time else "none" for time in (times(scene) if scene.lasts else (0, 0))]
        self.times.show([time / scene.every if scene.lasts else 0 for time in times(scene)], said)
        self.times.show_kept(self.kept and [time / scene.every for time in times(self.kept)])

    def _below(self, scene: FrostScene) -> tuple:
        coil = show(celsius(scene.coil), "temperature", self.system)
        cycle = show(Q_(scene.cycle, "kg"), "small mass", self.system)
        ice = f"{cycle} of ice at each defrost" if scene.lasts else f"it collects {scene.kind}"
        power = "" if scene.powered else ", without power"
        return (
            f"Coil at {coil}: its refrigerant's temperature",
            ice,
            f"Drain: a {scene.drain}",
            str(scene.drain_word),
            f"Loop in frost: {scene.mode}{power}",
            str(scene.loop_word),
        )

    def sentence(self, scene: FrostScene) -> str:
        air, coil = (show(celsius(value), "temperature", self.system) for value in (scene.air, scene.coil))
        daily, cycle = (
            show(Q_(scene.daily, "kg"), "mass", self.system),
            show(Q_(scene.cycle, "kg"), "small mass", self.system),
        )
        brings = f"collects {daily} of {scene.kind} a day, which brings {100 * scene.latent:.1f} % of its heat"
        collects = brings if scene.daily else "stays dry" if scene.powered else "rests, for the power is off"
        defrost = (
            f" Each defrost melts {cycle} in {duration(scene.lasts)} and takes {100 * scene.share:.1f} % of the heat."
            if scene.lasts
            else ""
        )
        ice = "" if np.isinf(scene.hours_to_ice) else f" In still water in the loop {ice_words(scene.hours_to_ice)}."
        return (
            f"In air of {air} at {100 * scene.humidity:.0f} % the coil is at {coil}. It {collects}.{defrost}"
            f" Its drain, a {scene.drain}: {scene.drain_word}."
            f" The loop: {scene.loop_word}.{ice}"
        )

    def description(self, scene: FrostScene) -> str:
        return (
            "A graph of the water that the coil collects in a day against the outdoor air, a mark at this air. Bars"
            " of the heat from the air and of the time between defrosts and at each. Words on drain and loop."
        )
