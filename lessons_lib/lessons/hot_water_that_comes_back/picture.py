"""A run with a return: where the water goes, check valves and mixing valve, what guidance asks, and a day's cost."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, PAPER, TEXT, Canvas
from ...drawing.colours import GHOST
from ...drawing.picture import Picture
from ...drawing.pipe_strip import tap
from ...quantities.display import celsius, number, show, stopwatch
from ...quantities.units import Q_
from ..hot_enough_not_too_hot.valve_strip import SHAPE, TURNED
from .diagram import HALF, CheckValve, Lying, Pump, colour, round_end, standing_pipe, tank
from .returns import of_source, return_word

WIDTH, HEIGHT = 884, 440  # [px]
AT_TAPS, AT_TANK = "one at each tap", "one at the tank"
OUT, BACK, HEATER, JOINT, END = 60, 152, 66, 150, 850  # [px] down to both pipes; across to heater, cold tee, last tap
TAPS = (380, 590, 800)  # [px]
BARS = 214  # [px] down to the bars
ASKED = (  # name of a bar and the source in data/bacteria_bands.csv that it stands for
    ("WHO and UK ask", "World Health Organization"),
    ("US, high risk", "United States, high-risk buildings"),
    ("Germany, large", "Germany: large systems"),
)
WARMEST = 75.0  # [degC] the end of the bars of temperature
WAYS = "with the return", "without, waiting", "pump on demand"
LOOKS = (("#f0913a", ""), ("#cfd8e0", ".."), ("#7fb2de", "//"))
RETURN_LOOKS = (("#f0913a", ""), *[("#dfe3e8", "..")] * len(ASKED))


@dataclass(frozen=True)
class RecirculationScene:
    """Everything that the picture shows, in SI floats (temperatures in degC, times in s, energies of a day in kWh)."""

    valve: str  # where the water is mixed
    length: float  # of each way
    thickness: float
    hot: float  # that goes out
    store: float
    air: float
    drop: float  # that is allowed
    flow: float
    far: float  # at the last tap
    returns: float
    out: np.ndarray  # shape (n,), from heater to last tap
    home: np.ndarray  # shape (n,), from last tap to heater
    loss: float  # of both pipes [W]
    pressure: float  # that the water takes [Pa]
    speed: float  # in the return
    limit: float  # that the return's pipe allows
    hours: float  # [h] a day that the pump runs
    watts: float
    draws: float  # a day, from a cooled pipe
    wait: float  # of each
    cop: float
    water: float  # [L] a day that runs off without a return
    without: float
    heat: float  # electricity for the heat that the pipes lose
    pump: float
    on_demand: float

    @property
    def with_return(self) -> float:
        """Gives the electricity of the return, for heat and pump."""
        return self.heat + self.pump

    @property
    def useful_watts(self) -> float:
        """Gives what the water itself takes of the pump's power [W]."""
        return self.pressure * self.flow


class RecirculationPicture(Picture):
    """Shows where the water goes, what guidance asks of it when it is back, and what a day costs."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 442, BARS), (442, 0, 442, BARS), (442, BARS, 442, HEIGHT - BARS), (0, BARS, 436, HEIGHT - BARS))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 2, WIDTH, BARS - 4)
        axes.text(0, 14, "Out to the taps and back", size=TEXT, weight="bold", color=INK)
        self._pipes(canvas, axes)
        self._valves(canvas, axes)
        self._labels(canvas, axes)
        names = ("this return", *(name for name, _ in ASKED))
        self.back = Bars(canvas, 0, BARS, 430, "The water that comes back", names, RETURN_LOOKS, 146, 76)
        below = canvas.drawing(0, BARS + 156, 436, 84)
        self.told = [
            canvas.words(below, 0, 16 + 23 * row, weight=weight)
            for row, weight in enumerate(("bold", "normal", "normal"))
        ]
        room = {"room": 152, "numbers": 84}
        self.energy = Bars(canvas, 452, BARS, 430, "Electricity in a day", WAYS, LOOKS, **room)
        self.drain = Bars(canvas, 452, BARS + 130, 430, "Water down the drain in a day", WAYS[1:2], LOOKS[1:2], **room)

    def _pipes(self, canvas: Canvas, axes) -> None:
        self.tank = tank(canvas, axes, 6, 42, 56, 128)
        self.upright = {
            "far": standing_pipe(canvas, axes, END, OUT, BACK),
            "main": standing_pipe(canvas, axes, JOINT, BACK, 206),
            "cold": standing_pipe(canvas, axes, JOINT, OUT + 12, BACK),
            **{x: standing_pipe(canvas, axes, x, OUT, OUT + 36) for x in TAPS},
        }
        self.out = Lying(canvas, axes, 62, END + 7, OUT)
        piece = Rectangle((62, OUT - HALF), JOINT - 62, 2 * HALF, ec=INK, lw=1.8)
        self.to_mix = canvas.moving(axes.add_patch(piece))
        self.home = Lying(canvas, axes, 62, END + 7, BACK)
        self.drops = [tap(canvas, axes, x - 6, OUT + 40) for x in TAPS]

    def _valves(self, canvas: Canvas, axes) -> None:
        """The mixing valves and what keeps the water from going the wrong way."""
        CheckValve(canvas, axes, JOINT, 186, "up")
        CheckValve(canvas, axes, 104, BACK, "left")
        CheckValve(canvas, axes, 262, BACK, "left")
        Pump(canvas, axes, 470, BACK, "left")
        self.to_valve = CheckValve(canvas, axes, JOINT, 112, "up")
        self.at_tank = canvas.moving(axes.add_patch(Polygon(SHAPE + (JOINT, OUT), fc=PAPER, ec=INK, lw=1.8)))
        self.at_taps = [
            canvas.moving(axes.add_patch(Polygon(TURNED + (x, OUT + 22), fc=PAPER, ec=INK, lw=1.8))) for x in TAPS
        ]

    def _labels(self, canvas: Canvas, axes) -> None:
        for x, y, text, ha in (
            (34, 192, "heater", "center"),
            (JOINT + 14, 204, "cold main", "left"),
            (262, 182, "check valve", "center"),
            (470, 186, "pump", "center"),
        ):
            axes.text(x, y, text, size=TEXT, color=FAINT, ha=ha)
        style = {"weight": "bold", "ha": "center", "backed": True}
        self.degrees = [canvas.words(axes, x, y + 6, **style) for x, y in ((220, OUT), (740, OUT), (200, BACK))]
        self.going = canvas.words(axes, 663, OUT - 16, weight="bold", ha="center")
        self.coming = canvas.words(axes, 680, BACK + 32, weight="bold", ha="center")
        self.of_valve = canvas.words(axes, 116, OUT - 16)
        self.kept_words = canvas.words(axes, WIDTH - 4, 14, color=GHOST, weight="bold", ha="right")

    def show(self, scene: RecirculationScene) -> None:
        self._show_pipes(scene)
        asked = [of_source(source) for _, source in ASKED]
        temperatures = [scene.returns, *asked]
        self.back.show([value / WARMEST for value in temperatures], [self._degrees(value) for value in temperatures])
        self.back.show_kept(self.kept and [self.kept.returns / WARMEST, *(value / WARMEST for value in asked)])
        self.told[0].set_text(f"Both pipes lose {self._watts(scene.loss)}, {scene.hours:.0f} hours a day.")
        self.told[1].set_text(f"COP {scene.cop:.1f} (a teaching figure). A cold draw waits {stopwatch(scene.wait)}.")
        moves = f"{scene.useful_watts:.1f}" if scene.useful_watts >= 0.1 else "under 0.1"
        self.told[2].set_text(f"Pump {scene.watts:.0f} W; moving the water takes {moves} W.")
        self._bars(self.energy, energies, [f"{value:.1f} kWh" for value in energies(scene)], scene)
        litres = [show(Q_(value, "L"), "large volume", self.system) for value in drained(scene)]
        self._bars(self.drain, drained, litres, scene)

    def _bars(self, bars: Bars, values, texts, scene) -> None:
        """Bars on a round scale that also holds what was kept."""
        end = round_end(*values(scene), *(values(self.kept) if self.kept else ()))
        bars.show([value / end for value in values(scene)], texts)
        bars.show_kept(self.kept and [value / end for value in values(self.kept)])

    def _show_pipes(self, scene: RecirculationScene) -> None:
        mixed = scene.valve == AT_TANK
        self.out.show(scene.out)
        self.home.show(scene.home[::-1])
        colour(self.tank, scene.store)
        colour(self.to_mix, scene.store)
        for name, value in (("far", scene.far), ("main", 10.0), ("cold", scene.returns)):
            colour(self.upright[name], value)
        for x, drop in zip(TAPS, self.drops):
            here = float(np.interp((x - 62) / (END - 62), np.linspace(0, 1, len(scene.out)), scene.out))
            colour(self.upright[x], here)
            colour(drop, here)
        for part in (self.at_tank, self.to_mix, self.upright["cold"], self.to_valve):
            part.set_visible(mixed)
        for part in self.at_taps:
            part.set_visible(not mixed)
        for words, value in zip(self.degrees, (scene.hot, scene.far, scene.returns)):
            words.set_text(number(celsius(value), "temperature", self.system) + "°")
        flow = show(Q_(scene.flow, "m**3/s"), "measured flow", self.system)
        self.going.set_text(f"to the taps ▶ {flow}" if mixed else f"to the taps ▶ {flow}; a mixing valve at each")
        self.coming.set_text(f"◀ return {flow}")
        self.of_valve.set_text("mixing valve" if mixed else "")
        kept = self.kept and show(Q_(self.kept.flow, "m**3/s"), "measured flow", self.system)
        self.kept_words.set_text(f"(kept: {kept})" if kept else "")

    def _degrees(self, value: float) -> str:
        return show(celsius(value), "temperature", self.system)

    def _watts(self, value: float) -> str:
        return show(Q_(value, "W"), "heat", self.system)

    def sentence(self, scene: RecirculationScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: RecirculationScene) -> str:
        where = (
            "A mixing valve sits at the heater's outlet. Its cold port, like the heater, takes both cold water and"
            " the return, each through a check valve."
            if scene.valve == AT_TANK
            else "A mixing valve sits before each tap."
        )
        return (
            "A heater, a pipe past three taps, and a return with a pump and a check valve to the heater's cold inlet."
            f" {where} Bars of the return beside what guidance asks, of electricity and of water in a day."
        )


def energies(scene: RecirculationScene) -> tuple:
    """Gives the electricity of a day [kWh] in the order of WAYS."""
    return scene.with_return, scene.without, scene.on_demand


def drained(scene: RecirculationScene) -> tuple:
    """Gives the water down the drain in a day without a return [L]; the other ways lose none."""
    return (scene.water,)


def sentence(scene: RecirculationScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    hot, far, returns = (show(celsius(value), "temperature", system) for value in (scene.hot, scene.far, scene.returns))
    flow, loss = show(Q_(scene.flow, "m**3/s"), "measured flow", system), show(Q_(scene.loss, "W"), "heat", system)
    water = show(Q_(scene.water, "L"), "large volume", system)
    first = (
        f"Both pipes lose {loss}. So {flow} must go round: it leaves at {hot}, passes the last tap at {far} and comes"
        f" back at {returns}, {return_word(scene.returns)}."
    )
    day = (
        f"In a day the return takes {scene.with_return:.1f} kWh, {scene.pump:.1f} kWh of it for the pump. Without it"
        f" {scene.draws:.0f} cold draws of {stopwatch(scene.wait)} take {scene.without:.1f} kWh and {water} of water;"
        f" a pump on demand takes {scene.on_demand:.1f} kWh and no water."
    )
    mixed = " The mixed water that goes round is no hotter than this at any tap." if scene.valve == AT_TANK else ""
    return f"{first} {day}{mixed}"
