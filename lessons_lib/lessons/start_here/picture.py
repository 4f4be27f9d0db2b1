"""The first picture of the start page: one thermometer, and how long skin can stand it."""

from dataclasses import dataclass

from ...drawing.burn_curve import BurnCurve
from ...drawing.canvas import Canvas
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


class FirstPicture:
    """Made once; `draw` moves its artists to a scene."""

    def __init__(self, system: str):
        self.canvas = Canvas(WIDTH, HEIGHT)
        self.tap = Thermometer(self.canvas, 14, 4, 280, 240)
        self.curve = BurnCurve(self.canvas, 322, 4, 474, 240)
        self.kept = None
        self.units(system)

    def units(self, system: str) -> None:
        """Relabel what stands still."""
        self.system = system
        self.tap.units(system)
        self.curve.units(system)

    def draw(self, scene: TapScene) -> tuple[bytes, str]:
        """The picture as PNG, and the sentence that says what it shows."""
        self.tap.show(scene.temperature, scene.seconds, scene.bound, self.system)
        self.tap.show_kept(self.kept and self.kept.temperature)
        self.curve.show(scene.temperature, scene.seconds)
        return self.canvas.png(), self.sentence(scene)

    def sentence(self, scene: TapScene) -> str:
        """What the picture says, with its numbers."""
        water = show(celsius(scene.temperature), "temperature", self.system)
        return (
            f"An adult's skin in water at {water}: {burns(scene.seconds, scene.bound)}. "
            f"{BURN_SOONER}; no time here is safe for everyone."
        )

    def describe(self, scene: TapScene) -> str:
        """The picture in words."""
        return (
            "A thermometer with bands from little risk to scalding, and beside it published burn times that fall from "
            f"hours to seconds as water gets hotter. {self.sentence(scene)}"
        )
