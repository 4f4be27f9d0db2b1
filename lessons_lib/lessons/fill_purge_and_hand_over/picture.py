"""Filling and purging: each leg with its air, the expansion vessel read, cold and hot, and the pressures beside the
relief valve's.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle

from ...drawing.bars import Bars
from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import water_colour
from ...drawing.leg_strip import LegStrip
from ...drawing.picture import Picture
from ...drawing.vessels import Vessel
from ...quantities.display import celsius, duration, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 446  # [px]
RIGHT = 506  # [px] where the right half begins
VESSELS = ((26, "as read"), (150, "cold"), (274, "hot"))  # [px] left edge and name of each
TOP, WIDE, TALL = 62, 74, 92  # [px] of the vessels
HIGHEST = 1.2e6  # [Pa] end of the scale of pressure; beyond it a bar stays full
ROOM, NUMBERS = 70, 96  # [px] names and numbers of the bars
LOOKS = (("#c7ced5", None), ("#7fb2de", ".."), ("#f0913a", "//"), ("#e3b7b0", "xx"))


@dataclass(frozen=True)
class PurgedLeg:
    """One leg that is purged by itself, SI."""

    bore: float
    volume: float
    speed: float
    seconds: float  # to change its water so often as was chosen
    fast: bool  # it carries air


@dataclass(frozen=True)
class PurgeScene:
    """Everything that the picture shows, in SI floats; pressures as gauges show them, temperatures in degC."""

    loop: PurgedLeg
    run: PurgedLeg
    flow: float
    need: float  # speed that carries air
    changes: float
    fill_seconds: float  # for the tank at this flow
    on_the_main: bool  # how the vessel is read
    reading: float
    precharge: float
    cold_pressure: float
    hot_pressure: float  # inf: no air is left in the vessel
    relief: float
    cold: float
    hottest: float
    air_cold: float  # share of the vessel that is air
    air_hot: float
    shut_at: float  # of the water that is shut in
    warmed: float  # by so much [K]
    shut_in: float  # its pressure
    shut_rise: float
    material: str  # of the loop's pipe

    @property
    def opens(self) -> bool:
        """Says whether the relief valve opens at each heat-up."""
        return self.hot_pressure >= self.relief

    @property
    def hidden(self) -> bool:
        """Says whether the gauge shows the main and hides the pre-charge."""
        return self.on_the_main and self.precharge <= self.cold_pressure


class PurgePicture(Picture):
    """Shows the legs that are purged, the expansion vessel and the pressures."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, RIGHT - 6, 220),
        (0, 220, RIGHT - 6, HEIGHT - 220),
        (RIGHT - 6, 0, WIDTH - RIGHT + 6, 252),
        (RIGHT - 6, 252, WIDTH - RIGHT + 6, HEIGHT - 252),
    )

    def build(self, canvas: Canvas) -> None:
        self.loop = LegStrip(canvas, 4, 4, "Loop, out and back", "return vent")
        self.run = LegStrip(canvas, 4, 234, "Hot run", "highest tap")
        axes = canvas.drawing(RIGHT, 4, WIDTH - RIGHT, 250)
        axes.text(0, 14, "Expansion vessel: air over water", size=TEXT, weight="bold", color=INK)
        self.vessels = [Vessel(canvas, axes, x, TOP, WIDE, TALL, name, closed=True) for x, name in VESSELS]
        middle = VESSELS[0][0] + WIDE / 2
        axes.plot([middle, middle], [TOP - 14, TOP], lw=3, color=INK)
        axes.add_patch(Circle((middle, TOP - 24), 12, fc="white", ec=INK, lw=1.5))
        self.needle = canvas.moving(*axes.plot([], [], lw=2.5, color="#9b1c1c"))
        self.centre = middle, TOP - 24
        self.told = canvas.words(axes, WIDTH - RIGHT - 8, TOP - 16, weight="bold", color="#9b1c1c", ha="right")
        over = canvas.drawing(RIGHT, 258, WIDTH - RIGHT, 184)
        self.relief = canvas.moving(*over.plot([], [], lw=3, color="#9b1c1c"))
        self.bars = Bars(
            canvas, RIGHT, 258, WIDTH - RIGHT, "Pressures", ("as read", "cold", "hot", "shut in"), LOOKS, ROOM, NUMBERS
        )
        self.relief_words = canvas.words(over, 0, 172, color="#9b1c1c", weight="bold", ha="center")

    def show(self, scene: PurgeScene) -> None:
        largest = max(scene.loop.volume, scene.run.volume)
        for strip, name in ((self.loop, "loop"), (self.run, "run")):
            strip.show(getattr(scene, name), scene.need, scene.changes, largest, self.system)
            strip.show_kept(self.kept and getattr(self.kept, name))
        self._vessels(scene)
        pressures = self._pressures(scene)
        self.bars.show([value / HIGHEST for value in pressures], [self._pressure(value) for value in pressures])
        self.bars.show_kept([value / HIGHEST for value in self._pressures(self.kept)] if self.kept else None)
        at = ROOM + self.bars.span * min(scene.relief / HIGHEST, 1.0)
        self.relief.set_data([at, at], [26, 154])
        self.relief_words.set_position((at, 172))
        self.relief_words.set_text(f"relief valve {self._pressure(scene.relief)}")

    def sentence(self, scene: PurgeScene) -> str:
        return sentence(scene, self.system)

    def _pressures(self, scene: PurgeScene) -> tuple:
        return scene.reading, scene.cold_pressure, scene.hot_pressure, scene.shut_in

    def _pressure(self, value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", self.system) if np.isfinite(value) else "no air left"

    def _vessels(self, scene: PurgeScene) -> None:
        """Air and water in the vessel while it is read, cold and hot; the gauge at its air valve."""
        read = 1 - scene.air_cold if scene.on_the_main else 0.0
        cool, warm = water_colour(scene.cold), water_colour(scene.hottest)
        words = (self._pressure(scene.reading), self._pressure(scene.cold_pressure), self._pressure(scene.hot_pressure))
        for vessel, share, colour, text in zip(
            self.vessels, (read, 1 - scene.air_cold, 1 - scene.air_hot), (cool, cool, warm), words
        ):
            vessel.show(share, colour, text)
        turn = np.radians(225 - 270 * min(scene.reading / HIGHEST, 1.0))
        x, y = self.centre
        self.needle.set_data([x, x + 10 * np.cos(turn)], [y, y - 10 * np.sin(turn)])
        self.told.set_text("■ relief valve opens" if scene.opens else "")

    def description(self, scene: PurgeScene) -> str:
        return (
            "Three drawings. Two pipes with the air in them, each with a bar of its water's speed against the speed"
            " that carries air and a vessel with the leg's water. An expansion vessel as it is read, cold and hot."
            " Bars of the pressures beside the relief valve's."
        )


def sentence(scene: PurgeScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    flow, need = show(Q_(scene.flow, "m**3/s"), "flow", system), show(Q_(scene.need, "m/s"), "speed", system)
    loop, run = (show(Q_(leg.speed, "m/s"), "speed", system) for leg in (scene.loop, scene.run))
    first = (
        f"{flow} moves at {loop} in the loop and {run} in the hot run; air needs {need}. It fills the tank in"
        f" {duration(scene.fill_seconds)}."
    )
    reading, relief, risen = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.reading, scene.relief, scene.shut_rise)
    )
    hidden = "the main's, whatever the pre-charge" if scene.hidden else "its pre-charge"
    hottest = show(celsius(scene.hottest), "temperature", system)
    hot = (
        show(Q_(scene.hot_pressure, "Pa"), "pressure", system)
        if np.isfinite(scene.hot_pressure)
        else "more than the vessel can take"
    )
    grown = (
        f"would be {hot}: the relief valve opens"
        if scene.opens
        else f"is {hot}: below the {relief} of the relief valve"
    )
    second = f"The vessel's gauge shows {reading}: {hidden}. At {hottest} the pressure {grown}."
    warmed = show(Q_(scene.warmed, "delta_degC"), "temperature difference", system)
    shut_at = show(celsius(scene.shut_at), "temperature", system)
    shut_in = f"Water shut in the loop's {scene.material} at {shut_at} and warmed by {warmed}"
    if scene.warmed == 0:
        third = "No closed section is being warmed."
    elif scene.shut_rise == 0:
        third = (
            f"{shut_in} does not rise: the pipe grows more than the water does. Warmer water grows faster and can rise."
        )
    else:
        third = f"{shut_in} rises by {risen}."
    return f"{first} {second} {third}"
