"""The picture of an outdoor unit's circuit: board, cable, isolator and unit, currents, and the volts that are lost."""

import math
from dataclasses import dataclass

from matplotlib.patches import FancyBboxPatch

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.picture import Picture
from ...plant.circuit import breakers
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 318  # [px]
RIGHT, BENEATH = 414, 206  # [px] left edge of the currents; top of what the cable loses
WIRE = 92  # [px] the cable, down from the top
LARGEST = 80.0  # [A] longest bar
MOST_DROP = 8.0  # [%] longest bar
NAMES = ("runs at", "at least", "breaker", "at most", "cable carries")
LOOKS = (("#f4d58a", ""), ("#f0913a", "//"), ("#d5dbe0", ".."), ("#f0b6a8", "xx"), ("#9dc3e6", "\\\\"))
DROP_LOOK = (("#9dc3e6", "\\\\"),)
HAND_OVER = Word("hand over", 1)
NOWHERE = "none"  # of an isolator


@dataclass(frozen=True)
class UnitScene:
    """Everything that the picture shows and the sums repeat, in SI floats (temperatures in degC)."""

    compressor: float  # [A], as the other currents
    others: float
    load: float
    factor: float  # by which the rule multiplies the compressor, for the least
    largest_factor: float | None  # and for the largest breaker; None: this region has no such rule
    least: float
    largest: float  # 0: no standard size is so small
    next_device: float
    stated: tuple  # which of the two the nameplate states
    breaker: float
    region: str
    volts: float
    cable: str
    carries: float  # 0: the cable is not for this
    cable_length: float
    copper: float  # temperature of the loaded cable
    resistance: float  # of one warm conductor [ohm/m]
    drop: float  # [V]
    drop_share: float  # [%]
    guidance: float  # [%]
    isolator: str
    trips: bool  # a residual-current device is there
    words: tuple  # what region and sources say, for the sums

    @property
    def is_standard(self) -> bool:
        """Whether the breaker is a standard size of the region."""
        return self.breaker in breakers(self.region)

    @property
    def has_isolator(self) -> bool:
        """Whether the unit has an isolator of its own."""
        return self.isolator != NOWHERE

    @property
    def thickness(self) -> str:
        """The cable as people write it."""
        return self.cable.replace("mm2", "mm²")

    @property
    def most(self) -> str:
        """The largest breaker, in words."""
        return f"{self.largest:.0f} A" if self.largest > 0 else "nothing: the cable is too thin"


class UnitPicture(Picture):
    """Shows the circuit from board to unit, its currents one beneath the other, and the volts that are lost."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, RIGHT - 14, BENEATH - 6),
        (RIGHT - 14, 0, WIDTH - RIGHT + 14, BENEATH - 6),
        (0, BENEATH - 6, WIDTH // 2, HEIGHT - BENEATH + 6),
        (WIDTH // 2, BENEATH - 6, WIDTH // 2, HEIGHT - BENEATH + 6),
    )

    def build(self, canvas: Canvas) -> None:
        self._circuit(canvas)
        self.amps = Bars(canvas, RIGHT, 4, WIDTH - RIGHT, "Currents", NAMES, LOOKS, room=110, numbers=86)
        self.lost = Bars(
            canvas, 0, BENEATH, WIDTH // 2 - 10, "Lost in the cable", ("volts lost",), DROP_LOOK, room=92, numbers=20
        )
        axes = canvas.drawing(0, BENEATH, WIDTH // 2 - 10, 110)
        self.limit = canvas.moving(*axes.plot([0, 0], [28, 64], lw=2, ls=":", color=INK))
        self.of_limit = canvas.words(axes, 0, 82, ha="center")
        axes.text(0, 104, "dotted: guidance, not a limit", size=TEXT, color=FAINT)
        self.drop = canvas.words(axes, WIDTH // 2 - 16, 14, weight="bold", ha="right")
        axes = canvas.drawing(WIDTH // 2 + 10, BENEATH, WIDTH // 2 - 10, 110)
        axes.text(0, 14, "For whoever works on it", size=TEXT, weight="bold", color=INK)
        self.of_isolator, self.of_device = (canvas.words(axes, 0, y) for y in (46, 74))
        axes.text(0, 104, "A licensed electrician decides.", size=TEXT, color=FAINT)

    def _circuit(self, canvas: Canvas) -> None:
        """Board, cable, isolator, unit; what stands still, and the words that move."""
        axes = canvas.drawing(4, 4, RIGHT - 24, BENEATH - 16)
        axes.text(0, 14, "The unit's own circuit", size=TEXT, weight="bold", color=INK)
        axes.plot([66, 292], [WIRE, WIRE], lw=5, color=INK)
        for x, width, name in ((4, 66, "board"), (290, 78, "unit")):
            axes.add_patch(_box(x, width))
            axes.text(x + 0.5 * width, WIRE + 50, name, size=TEXT, color=INK, ha="center")
        box = canvas.moving(axes.add_patch(_box(216, 44)))
        self.switch = box, canvas.moving(*axes.plot([226, 250], [WIRE, WIRE - 16], lw=4, color=INK))
        self.isolator = canvas.words(axes, 238, WIRE + 50, ha="center")  # each side has its own word for it
        self.breaker = canvas.words(axes, 37, WIRE + 6, weight="bold", ha="center", backed=True)
        self.cable = canvas.words(axes, 141, WIRE - 34, ha="center")
        self.length = canvas.words(axes, 141, WIRE - 14, ha="center")
        self.fed = canvas.words(axes, 329, WIRE + 6, weight="bold", ha="center", backed=True)
        self.plate = canvas.words(axes, 368, WIRE + 82, ha="right")

    def show(self, scene: UnitScene) -> None:
        for part in self.switch:
            part.set_visible(scene.has_isolator)
        self.isolator.set_text("isolator" if scene.has_isolator else "")
        self.breaker.set_text(amps(scene.breaker, 0))
        self.cable.set_text(scene.thickness)
        self.length.set_text(show(Q_(scene.cable_length, "m"), "length", self.system))
        self.fed.set_text(f"{scene.volts - scene.drop:.0f} V")
        self.plate.set_text(f"plate: {amps(scene.compressor)} + {amps(scene.others)}")
        self.amps.show([value / LARGEST for value in _currents(scene)], _written(scene))
        self.amps.show_kept(self.kept and [value / LARGEST for value in _currents(self.kept)])
        self.drop.set_text(f"{scene.drop:.1f} V, {scene.drop_share:.1f} %")
        self.lost.show([scene.drop_share / MOST_DROP], [""])
        self.lost.show_kept(self.kept and [self.kept.drop_share / MOST_DROP])
        x = self.lost.start + self.lost.span * scene.guidance / MOST_DROP
        self.limit.set_xdata([x, x])
        self.of_limit.set_x(x)
        self.of_limit.set_text(f"{scene.guidance:.0f} %")
        self.of_isolator.set_text(f"isolator: {scene.isolator}")
        self.of_device.set_text(f"residual-current device: {'yes' if scene.trips else 'no'}")

    def sentence(self, scene: UnitScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: UnitScene) -> str:
        return (
            "Four drawings. A circuit from board to unit with its breaker, cable and isolator. Bars for what the unit"
            " runs at, what its circuit carries at least, the breaker, the largest breaker and what the cable carries."
            " A bar for the volts lost in the cable. Words on isolator and residual-current device."
        )


def _box(left: float, width: float) -> FancyBboxPatch:
    return FancyBboxPatch(
        (left, WIRE - 30), width, 60, boxstyle="round,pad=0,rounding_size=6", fc="#f6f8fa", ec=INK, lw=2
    )


def _currents(scene: UnitScene) -> tuple:
    return scene.load, scene.least, scene.breaker, scene.largest, scene.carries


def _written(scene: UnitScene) -> list[str]:
    """Gives what stands at the end of each bar."""
    return [
        amps(scene.load),
        at_least(scene.least),
        amps(scene.breaker, 0),
        amps(scene.largest, 0) if scene.largest > 0 else "no size",
        amps(scene.carries) if scene.carries > 0 else "not for this",
    ]


def amps(value: float, digits: int = 1) -> str:
    """A current in words."""
    return f"{value:.{digits}f} A"


def at_least(value: float) -> str:
    """A current that something must carry: rounded up."""
    return amps(math.ceil(10 * value - 1e-6) / 10)


def sum_of(scene: UnitScene, factor: float) -> str:
    """The rule's sum: the compressor times a factor, and the other loads."""
    times = f"{factor:g} × " if factor != 1 else ""
    return f"{times}{scene.compressor:.1f} + {scene.others:.1f} A"


def sentence(scene: UnitScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    copper = show(celsius(scene.copper), "temperature", system)
    least = "by its nameplate" if "plate_least" in scene.stated else f"({sum_of(scene, scene.factor)})"
    if "plate_largest" in scene.stated:
        most = "by its nameplate"
    elif scene.largest_factor:
        most = f"(the standard size under {sum_of(scene, scene.largest_factor)})"
    else:
        most = "by what the cable carries"
    carries = f"carries {amps(scene.carries)} and" if scene.carries > 0 else "is too thin for this circuit and"
    return (
        f"The unit runs at {amps(scene.load)}. Its circuit must carry at least {at_least(scene.least)} {least}; its"
        f" breaker is at most {scene.most} {most} ({scene.region}). {amps(scene.breaker, 0)} is chosen. The cable"
        f" {scene.thickness} {carries} loses {scene.drop:.1f} V of {scene.volts:.0f} V, copper at {copper}. To hand"
        " over: a licensed electrician decides."
    )
