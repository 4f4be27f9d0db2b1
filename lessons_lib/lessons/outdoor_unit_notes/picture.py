"""The picture of the page for the instructor's notes: a bracket with its forces, and the unit's circuit."""

import math
from dataclasses import dataclass

from matplotlib.patches import FancyBboxPatch

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.picture import Picture
from ...quantities.display import celsius, show
from ...quantities.units import Q_
from .bracket_drawing import BracketDrawing

WIDTH, HEIGHT = 884, 440  # [px]
RIGHT = 520  # [px] left edge of the circuit
WIRE = 92  # [px] the cable, down from the top
LARGEST = 80.0  # [A] longest bar
MOST_DROP, GUIDANCE = 8.0, (3.0, 5.0)  # [%] longest bar; NEC 210.19 note, as quoted in secondary literature
LOOKS = (("#f4d58a", ""), ("#f0913a", "//"), ("#d5dbe0", ".."))  # running, what its rule asks for, next size
DROP_LOOK = (("#9dc3e6", "\\\\"),)


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
    current: float  # [A]
    volts: float
    least_rating: float
    next_breaker: float
    region: str
    cable: str
    cable_length: float
    copper: float  # temperature of the loaded cable
    resistance: float  # of one warm conductor [ohm/m]
    drop: float  # [V]
    drop_share: float  # [%]
    ground_fault: str


class OutdoorUnitPicture(Picture):
    """Shows a bracket with its forces, and the circuit of the unit on it."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, RIGHT - 6, HEIGHT),
        (RIGHT - 6, 0, WIDTH - RIGHT + 6, 176),
        (RIGHT - 6, 176, WIDTH - RIGHT + 6, HEIGHT - 176),
    )

    def build(self, canvas: Canvas) -> None:
        self.bracket = BracketDrawing(canvas, 4, 4, RIGHT - 24, HEIGHT - 6)
        self._circuit(canvas)
        self.amps = Bars(
            canvas,
            RIGHT,
            182,
            WIDTH - RIGHT,
            "Current",
            ("runs at", "asks for", "next size"),
            LOOKS,
            room=92,
            numbers=86,
        )
        self.lost = Bars(
            canvas, RIGHT, 320, WIDTH - RIGHT, "Lost in the cable", ("volts lost",), DROP_LOOK, room=92, numbers=20
        )
        axes = canvas.drawing(RIGHT, 320, WIDTH - RIGHT, 110)
        for share in GUIDANCE:
            x = self.lost.start + self.lost.span * share / MOST_DROP
            axes.plot([x, x], [28, 64], lw=2, ls=":", color=INK)
            axes.text(x, 80, f"{share:.0f} %", size=TEXT, color=INK, ha="center")
        axes.text(0, 104, "guidance: in the branch, and in all", size=TEXT, color=FAINT)
        self.drop = canvas.words(axes, WIDTH - RIGHT - 6, 14, weight="bold", ha="right")

    def _circuit(self, canvas) -> None:
        """Board, cable, isolator, unit; what stands still, and the words that move."""
        axes = canvas.drawing(RIGHT, 4, WIDTH - RIGHT, 176)
        axes.text(0, 14, "Its circuit", size=TEXT, weight="bold", color=INK)
        axes.plot([66, 292], [WIRE, WIRE], lw=5, color=INK)
        for x, width, name in ((4, 62, "board"), (216, 44, ""), (288, 74, "unit")):
            axes.add_patch(
                FancyBboxPatch(
                    (x, WIRE - 30), width, 60, boxstyle="round,pad=0,rounding_size=6", fc="#f6f8fa", ec=INK, lw=2
                )
            )
            axes.text(x + 0.5 * width, WIRE + 50, name, size=TEXT, color=INK, ha="center")
        axes.plot([228, 248], [WIRE, WIRE - 16], lw=4, color=INK)
        self.isolator = canvas.words(axes, 238, WIRE + 50, ha="center")  # each side has its own word for it
        self.breaker = canvas.words(axes, 35, WIRE + 6, weight="bold", ha="center", backed=True)
        self.cable = canvas.words(axes, 141, WIRE - 34, ha="center")
        self.length = canvas.words(axes, 141, WIRE - 14, ha="center")
        self.fed = canvas.words(axes, 325, WIRE + 6, weight="bold", ha="center", backed=True)

    def show(self, scene: Scene) -> None:
        self.bracket.show(scene, self.system)
        self.bracket.show_kept(self.kept)
        self.isolator.set_text("isolator")
        self.breaker.set_text(f"{scene.next_breaker:.0f} A")
        self.cable.set_text(scene.cable.replace("mm2", "mm²"))
        self.length.set_text(show(Q_(scene.cable_length, "m"), "length", self.system))
        self.fed.set_text(f"{scene.volts - scene.drop:.0f} V")
        self.amps.show([value / LARGEST for value in _amps(scene)], [at_least(value) for value in _amps(scene)])
        self.amps.show_kept(self.kept and [value / LARGEST for value in _amps(self.kept)])
        self.drop.set_text(f"{scene.drop:.1f} V, {scene.drop_share:.1f} %")
        self.lost.show([scene.drop_share / MOST_DROP], [""])
        self.lost.show_kept(self.kept and [self.kept.drop_share / MOST_DROP])

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: Scene) -> str:
        arm, spacing = (show(Q_(value, "m"), "thickness", self.system) for value in (scene.arm, scene.spacing))
        return (
            f"Two drawings. A unit on its bracket from the side: its weight {arm} from the wall, upper bolts"
            f" {spacing} above the lower ones; the unit's outline is an example; arrows for its weight, the pull on the"
            " upper bolts, the push at the lower ones, the load across each bolt, and wind against its side. A circuit"
            " from board to unit, with bars for its current and for the volts lost in the cable."
        )


def _amps(scene: Scene) -> tuple:
    return scene.current, scene.least_rating, scene.next_breaker


def at_least(amps: float) -> str:
    """A current that something must carry: rounded up."""
    return f"{math.ceil(10 * amps - 1e-6) / 10:.1f} A"


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
    copper = show(celsius(scene.copper), "temperature", system)
    return (
        f"Static weight {load}: each of {scene.upper_bolts} upper bolts is pulled with {pull} ({most} with the factor"
        f" {scene.factor:g}); across each of {scene.bolts} bolts {across}. Wind of {wind} presses with {pressure}"
        f" before any factor. {scene.current:.1f} A for hours ask for {at_least(scene.least_rating)}: next standard"
        f" size {scene.next_breaker:.0f} A ({scene.region}). The cable, copper at {copper}, loses {scene.drop:.1f} V of"
        f" {scene.volts:.0f} V. To hand over: a licensed electrician and fixer decide."
    )
