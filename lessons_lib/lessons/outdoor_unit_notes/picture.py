"""The picture of the page for the instructor's notes: a bracket with its forces."""

from dataclasses import dataclass

from ...drawing.canvas import Canvas
from ...drawing.picture import Picture
from ...quantities.display import show
from ...quantities.units import Q_
from .bracket_drawing import BracketDrawing

WIDTH, HEIGHT = 514, 440  # [px]


@dataclass(frozen=True)
class Scene:
    """Everything that the picture shows and the sheet repeats, in SI floats (temperatures in degC)."""

    mass: float
    extra: float
    arm: float
    spacing: float
    upper_bolts: int
    bolts: int
    factor: float
    load: float
    moment: float
    tension: float
    shear: float
    factored_tension: float
    factored_shear: float
    wind: float
    pressure: float  # [Pa]


class OutdoorUnitPicture(Picture):
    """Shows a bracket with its forces."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, WIDTH, HEIGHT),)

    def build(self, canvas: Canvas) -> None:
        self.bracket = BracketDrawing(canvas, 4, 4, WIDTH - 18, HEIGHT - 6)

    def show(self, scene: Scene) -> None:
        self.bracket.show(scene, self.system)
        self.bracket.show_kept(self.kept)

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: Scene) -> str:
        arm, spacing = (show(Q_(value, "m"), "thickness", self.system) for value in (scene.arm, scene.spacing))
        return (
            f"A unit on its bracket from the side: its weight {arm} from the wall, upper bolts"
            f" {spacing} above the lower ones; the unit's outline is an example; arrows for its weight, the pull on the"
            " upper bolts, the push at the lower ones, the load across each bolt, and wind against its side."
        )


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    load, pull, most, across = (
        show(Q_(value, "N"), "force", system)
        for value in (scene.load, scene.tension, scene.factored_tension, scene.shear)
    )
    wind, pressure = (
        show(Q_(scene.wind, "m/s"), "wind", system),
        show(Q_(scene.pressure, "Pa"), "wind pressure", system),
    )
    return (
        f"Static weight {load}: each of {scene.upper_bolts} upper bolts is pulled with {pull} ({most} with the factor"
        f" {scene.factor:g}); across each of {scene.bolts} bolts {across}. Wind of {wind} presses with {pressure}"
        " before any factor. To hand over: a licensed fixer decides."
    )
