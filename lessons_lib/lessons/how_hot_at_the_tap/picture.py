"""The main picture: the run, the cut through it, the tap, and the water that stands."""

from dataclasses import dataclass

import numpy as np

from ...drawing.canvas import Canvas
from ...drawing.cut import Cut
from ...drawing.picture import Picture
from ...drawing.pipe_strip import PipeStrip
from ...drawing.standing import StandingPipe
from ...drawing.thermometer import Thermometer
from ...quantities.display import burns, celsius, duration, ice_words, number, show, symbol
from ...quantities.units import Q_
from ...runs.scald import BURN_SOONER, TOO_COOL_TO_BURN

WIDTH, HEIGHT = 884, 446  # [px]
STRIP, BELOW = 120, 132  # [px] height of the strip; top of the row beneath it
TUBE = 214  # [px] height of the two graphs


@dataclass(frozen=True)
class Scene:
    """Everything that the picture shows, in SI floats (temperatures in degC, times in h, lengths in m)."""

    air: float
    wind: float  # [m/s]
    pipe_material: str
    bore: float
    pipe_outside: float
    outside: float
    thickness: float
    length: float
    supply: float
    delivered: float
    along: np.ndarray  # shape (n,), water at equal distances from tank to tap
    ice_distance: float
    loss: float  # [W/m] at the supply temperature
    burn_seconds: float
    burn_bound: str
    cold_inlet: float
    hours_to_zero: float
    rest: float  # where the standing water settles
    span: float
    hours: np.ndarray  # shape (m,), from 0 to span
    standing_cold: np.ndarray
    standing_warm: np.ndarray
    ice_hours: np.ndarray  # when the bore holds ice_shares of ice, rising
    ice_shares: np.ndarray
    words: tuple[str, str, str]  # the verdicts on tap, scald and freezing

    @property
    def length_quantity(self):
        """The length with its unit."""
        return Q_(self.length, "m")

    @property
    def freezes(self) -> bool:
        """Says whether the flowing water freezes on its way."""
        return bool(np.isfinite(self.ice_distance))

    @property
    def ice_at_end(self) -> float:
        """Share of the bore that is ice at the end of the time axis."""
        return float(np.interp(self.span, self.ice_hours, self.ice_shares))

    def surroundings(self, system: str) -> str:
        """The air around the pipe in words."""
        air = show(celsius(self.air), "temperature", system)
        wind = f"wind {show(Q_(self.wind, 'm/s'), 'wind', system)}" if self.wind > 0 else "no wind"
        return f"air {air}, {wind}"


class MainPicture(Picture):
    """Shows the run in use and in cut, the water at its tap, and what happens while it stands."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 545, BELOW - 4),
        (545, 0, WIDTH - 545, BELOW - 4),
        (0, BELOW - 4, 502, HEIGHT - BELOW + 4),
        (500, BELOW - 4, WIDTH - 500, HEIGHT - BELOW + 4),
    )

    def build(self, canvas: Canvas) -> None:
        self.strip = PipeStrip(canvas, 4, 4, WIDTH - 8, STRIP)
        self.cut = Cut(canvas, 4, BELOW, 192, 200)
        self.tap = Thermometer(canvas, 216, BELOW, 268, TUBE)
        self.standing = StandingPipe(canvas, 504, BELOW, 376, TUBE)
        self.scales = self.tap, self.standing

    def show(self, scene: Scene) -> None:
        self.strip.show(scene, self.system)
        self.cut.show(scene, self.system)
        self.tap.show(scene.delivered, scene.burn_seconds, scene.burn_bound, self.system)
        self.standing.show(scene, self.system)
        self.strip.show_kept(self.kept, self.system)
        self.cut.show_kept(self.kept)
        self.tap.show_kept(self.kept and self.kept.delivered)
        self.standing.show_kept(self.kept, scene.span)

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: Scene) -> str:
        bore, outside = (show(Q_(value, "m"), "diameter", self.system) for value in (scene.bore, scene.outside))
        foam = show(Q_(scene.thickness, "m"), "thickness", self.system) if scene.thickness > 0 else "no"
        loss = show(Q_(scene.loss, "W/m"), "heat loss", self.system)
        return (
            f"Four drawings. A pipe from tank to tap, {scene.surroundings(self.system)}. A cut through it: bore {bore},"
            f" {foam} insulation, {outside} across, losing {loss}. A thermometer at the tap with bands from little risk"
            f" to scalding. A curve of standing water over {duration(3600 * scene.span)}; at its end ice fills"
            f" {scene.ice_at_end:.0%} of the bore."
        )


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    hot, tap, cold = (
        show(celsius(value), "temperature", system) for value in (scene.supply, scene.delivered, scene.cold_inlet)
    )
    length = show(scene.length_quantity, "length", system)
    if scene.freezes:
        where = show(Q_(scene.ice_distance, "m"), "length", system)
        first = (
            f"Water leaves the tank at {hot} and freezes in the run: it is at the freezing point after {where} of"
            f" {length}."
        )
    else:
        drop = abs(scene.supply - scene.delivered)
        figure = number(Q_(drop, "delta_degC"), "temperature drop", system)
        lost = f"{figure if float(figure) else 'less than 0.1'} {symbol('temperature drop', system)}"
        verb = "loses" if scene.delivered <= scene.supply else "gains"
        first = f"Water leaves the tank at {hot}, {verb} {lost} in {length} and arrives at {tap}."
    if scene.delivered < TOO_COOL_TO_BURN:
        skin = ""
    else:
        skin = f" For an adult's skin at the tap: {burns(scene.burn_seconds, scene.burn_bound)}; {BURN_SOONER.lower()}."
    return f"{first}{skin} Standing still from {cold}, {ice_words(scene.hours_to_zero, scene.rest)}."
