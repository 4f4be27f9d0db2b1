"""Pressures: the expansion vessel read, cold and hot, a loop between two shut valves, and the pressures beside the
relief valve's.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, Polygon, Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import water_colour
from ...drawing.picture import Picture
from ...drawing.vessels import Vessel
from ...quantities.display import celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 414  # [px]
VESSELS = ((26, "as read"), (150, "cold"), (274, "hot"))  # [px] left edge and name of each
TOP, WIDE, TALL = 62, 74, 92  # [px] of the vessels
SHUT, FROM, TO = 128, 470, 850  # [px] the shut loop: down to its axis, across to its valves
BARS = 232  # [px] down to the bars
HIGHEST = 2.6e6  # [Pa] end of the scale of pressure; beyond it a bar stays full
ROOM, NUMBERS = 70, 80  # [px] names and numbers of the bars
LOOKS = (("#c7ced5", None), ("#7fb2de", ".."), ("#f0913a", "//"), ("#dfe3e8", "xx"))
DANGER = "#9b1c1c"
BOW_TIE = np.array([(-20, -16), (-20, 16), (20, -16), (20, 16)])


@dataclass(frozen=True)
class PressureScene:
    """Everything that the picture shows, in SI floats; pressures as gauges show them, temperatures in degC."""

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
    def beyond(self) -> bool:
        """Says whether the shut-in water's pressure is beyond the relief valve's."""
        return self.warmed > 0 and self.shut_in >= self.relief

    @property
    def hidden(self) -> bool:
        """Says whether the gauge shows the main and hides the pre-charge."""
        return self.on_the_main and self.precharge <= self.cold_pressure


class PressurePicture(Picture):
    """Shows the expansion vessel, the loop that is shut in, and the pressures."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 442, BARS - 8), (442, 0, 442, BARS - 8), (0, BARS - 8, 442, HEIGHT - BARS + 8))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(4, 4, WIDTH - 8, BARS - 8)
        axes.text(0, 14, "Vessel: air over water", size=TEXT, weight="bold", color=INK)
        self.vessels = [Vessel(canvas, axes, x, TOP, WIDE, TALL, name, closed=True) for x, name in VESSELS]
        middle = VESSELS[0][0] + WIDE / 2
        axes.plot([middle, middle], [TOP - 14, TOP], lw=3, color=INK)
        axes.add_patch(Circle((middle, TOP - 24), 12, fc="white", ec=INK, lw=1.5))
        self.needle = canvas.moving(*axes.plot([], [], lw=2.5, color=INK))
        self.centre = middle, TOP - 24
        self.opens = canvas.words(axes, VESSELS[2][0] + WIDE / 2, TOP - 16, weight="bold", color=DANGER, ha="center")
        self._loop(canvas, axes)
        over = canvas.drawing(4, BARS, WIDTH - 8, HEIGHT - BARS)
        self.relief = canvas.moving(*over.plot([], [], lw=3, color=INK))
        names = "as read", "cold", "hot", "shut in"
        self.bars = Bars(canvas, 4, BARS, WIDTH - 8, "Pressures", names, LOOKS, ROOM, NUMBERS)
        self.relief_words = canvas.words(over, 0, 172, weight="bold", ha="center")

    def _loop(self, canvas: Canvas, axes) -> None:
        """Draws the loop as a straight pipe between two shut valves; its water and its words move."""
        axes.text(FROM - 22, 14, "Loop, shut between two valves", size=TEXT, weight="bold", color=INK)
        self.water = canvas.moving(axes.add_patch(Rectangle((FROM, SHUT - 13), TO - FROM, 26, ec=INK, lw=2.5)))
        for x in (FROM, TO):
            canvas.moving(axes.add_patch(Polygon(BOW_TIE + (x, SHUT), fc=INK, ec=INK, lw=1.5)))
        self.shut_at, self.shut_in, self.beyond = (
            canvas.words(axes, 0.5 * (FROM + TO), SHUT + down, weight=weight, color=colour, ha="center")
            for down, weight, colour in ((-28, "normal", INK), (40, "bold", INK), (64, "bold", DANGER))
        )

    def show(self, scene: PressureScene) -> None:
        self._vessels(scene)
        self._shut(scene)
        pressures = self._pressures(scene)
        self.bars.show([value / HIGHEST for value in pressures], [self._pressure(value) for value in pressures])
        self.bars.show_kept([value / HIGHEST for value in self._pressures(self.kept)] if self.kept else None)
        at = ROOM + self.bars.span * min(scene.relief / HIGHEST, 1.0)
        self.relief.set_data([at, at], [26, 154])
        self.relief_words.set_position((at, 172))
        self.relief_words.set_text(f"relief valve opens at {self._pressure(scene.relief)}")

    def sentence(self, scene: PressureScene) -> str:
        return sentence(scene, self.system)

    def _pressures(self, scene: PressureScene) -> tuple:
        return scene.reading, scene.cold_pressure, scene.hot_pressure, scene.shut_in

    def _pressure(self, value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", self.system) if np.isfinite(value) else "no air left"

    def _vessels(self, scene: PressureScene) -> None:
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
        self.opens.set_text("■ relief valve opens" if scene.opens else "")

    def _shut(self, scene: PressureScene) -> None:
        """The water of the shut loop, its pressure, and whether that is beyond the relief valve's."""
        shut_at = show(celsius(scene.shut_at), "temperature", self.system)
        warmed = show(Q_(scene.warmed, "delta_degC"), "temperature difference", self.system)
        self.water.set_facecolor(water_colour(scene.shut_at + scene.warmed))
        self.shut_at.set_text(f"{scene.material}, shut in at {shut_at}, warmed by {warmed}")
        self.shut_in.set_text(self._pressure(scene.shut_in))
        self.beyond.set_text("■ above the relief valve's pressure" if scene.beyond else "")

    def description(self, scene: PressureScene) -> str:
        return (
            "Three drawings. An expansion vessel as it is read, cold and hot. A loop of pipe between two shut valves."
            " Bars of the pressures beside the relief valve's."
        )


def sentence(scene: PressureScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    reading, relief, risen, shut = (
        show(Q_(value, "Pa"), "pressure", system)
        for value in (scene.reading, scene.relief, scene.shut_rise, scene.shut_in)
    )
    hidden = "That is the main's pressure, whatever the pre-charge" if scene.hidden else "That is its pre-charge"
    hottest = show(celsius(scene.hottest), "temperature", system)
    hot = (
        show(Q_(scene.hot_pressure, "Pa"), "pressure", system)
        if np.isfinite(scene.hot_pressure)
        else "more than the vessel can take"
    )
    grown = (
        f"would be {hot}, so the relief valve opens at {relief}"
        if scene.opens
        else f"is {hot}, and the relief valve opens only at {relief}"
    )
    first = f"The vessel's gauge shows {reading}. {hidden}. With the tank at {hottest} the pressure {grown}."
    warmed = show(Q_(scene.warmed, "delta_degC"), "temperature difference", system)
    shut_at = show(celsius(scene.shut_at), "temperature", system)
    shut_in = f"Water shut in the loop's {scene.material} at {shut_at} and warmed by {warmed}"
    if scene.warmed == 0:
        second = "No closed section is being warmed."
    elif scene.shut_rise == 0:
        second = (
            f"{shut_in} does not rise, for the pipe grows more than the water does. Warmer water grows faster and can"
            " rise."
        )
    else:
        second = f"{shut_in} rises by {risen}, which makes {shut}."
    return f"{first} {second}"
