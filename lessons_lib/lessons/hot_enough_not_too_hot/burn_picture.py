"""The picture of burn times: one thermometer, and how long skin can stand its water."""

from dataclasses import dataclass

from ...drawing.burn_curve import BurnCurve
from ...drawing.canvas import Canvas
from ...drawing.picture import Picture
from ...drawing.thermometer import Thermometer
from ...quantities.display import burns, celsius, show
from ...runs.scald import BURN_SOONER

WIDTH, HEIGHT = 800, 320  # [px]


@dataclass(frozen=True)
class TapScene:
    """Water at a tap [degC] and the shortest published time to a burn [s] with its bound."""

    temperature: float
    seconds: float
    bound: str


class BurnPicture(Picture):
    """Shows a thermometer, and how long skin can stand its water."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 312, 320), (312, 0, 488, 320))

    def build(self, canvas: Canvas) -> None:
        self.tap = Thermometer(canvas, 14, 4, 280, 240)
        self.curve = BurnCurve(canvas, 322, 4, 474, 240)
        self.scales = self.tap, self.curve

    def show(self, scene: TapScene) -> None:
        self.tap.show(scene.temperature, scene.seconds, scene.bound, self.system)
        self.tap.show_kept(self.kept and self.kept.temperature)
        self.curve.show(scene.temperature, scene.seconds)

    def sentence(self, scene: TapScene) -> str:
        """Puts into words what the picture shows, with its numbers."""
        water = show(celsius(scene.temperature), "temperature", self.system)
        return (
            f"An adult's skin in water at {water}: {burns(scene.seconds, scene.bound)}."
            f" {BURN_SOONER}; no time here is safe for everyone."
        )

    def description(self, scene: TapScene) -> str:
        return (
            "A thermometer with bands from little risk to scalding, and beside it published burn times that fall from "
            "hours to seconds as water gets hotter."
        )
