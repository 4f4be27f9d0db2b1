"""What a layout is made of: legs, taps, tank, valve, loop, the night, and what the reader measured or will buy.

Frozen, with quantities in the reader's own units. read.py makes them from a file; tree.py says how the legs hang
together.
"""

from dataclasses import dataclass
from functools import cached_property

from ..quantities.results import Printed
from ..quantities.units import LENGTH, Domain, Quantity, to_base
from ..runs.insulation import Insulation
from ..runs.pipe import Pipe
from ..runs.surroundings import Ground, Surroundings
from ..runs.tape import Tape

TANK, HEAT_PUMP = "tank", "heat pump"
OPPOSITE = {"north": "south", "south": "north", "east": "west", "west": "east", "up": "down", "down": "up"}
INDOORS, CRAWLSPACE, OUTDOORS, BURIED = PLACES = ("indoors", "crawlspace", "outdoors", "buried")
KINDS = ("sink", "shower", "bath")
START, END = "start", "end"
FLOOR_NAME = 24  # letters
LEG_LENGTH = Domain("length", "m", 0, 300, 'Q_(6, "m")', above_low=True)
TAP_FLOW = Domain("flow", "m**3/s", 0, 0.002, 'Q_(6, "L/min")', above_low=True)
HOURS = Domain("hours without power", "s", 0, 2.6e5, 'Q_(3, "hour")')
FLOOR = Domain("height of a floor above the tank's outlet", "m", -100, 100, 'Q_(2.8, "m")')
SHARE = Domain("share", "percent", 0, 100, 'Q_(5, "percent")')


@dataclass(frozen=True, repr=False, eq=False)
class Leg(Printed):
    """A straight piece of pipe between two points.

    start : "tank", "heat pump" or the name of the leg at whose end it begins
    go : "north", "south", "east", "west", "up", "down"
    length : centre to centre
    place : "indoors" (heated), "crawlspace" (unheated, no wind unless said), "outdoors" or "buried"
    fittings : (name, count) pairs along the leg: valves, couplings; elbows and tees at its ends follow from the tree
    joint : how pipe and fittings are joined, see take_off.End
    tape : Tape or None; bare_share : 0 to 1
    """

    name: str
    start: str
    go: str
    length: Quantity
    family: str
    size: str
    insulation: Insulation
    surroundings: Surroundings | Ground
    place: str
    fittings: tuple = ()
    joint: str = "push"
    tape: Tape | None = None
    bare_share: float = 0.0

    @cached_property
    def pipe(self) -> Pipe:
        return Pipe.nominal(self.family, self.size)

    @cached_property
    def metres(self) -> float:
        """The length as a plain number [m]."""
        return to_base(self.length, LENGTH)

    @property
    def cold(self) -> bool:
        """Says whether it lies where it can freeze: anywhere but indoors."""
        return self.place != INDOORS


@dataclass(frozen=True, repr=False, eq=False)
class Tap(Printed):
    """A tap at the end of a leg.

    flow : wanted, what it passes wide open at `pressure` just before it
    useful : temperature that it should give
    kind : "sink", "shower" or "bath"
    """

    name: str
    leg: str
    kind: str
    flow: Quantity
    useful: Quantity
    pressure: Quantity


@dataclass(frozen=True, repr=False, eq=False)
class Valve(Printed):
    """Describes the mixing valve. setting : what it gives; it sits at the `end` ("start" or "end") of `leg`."""

    setting: Quantity
    leg: str
    end: str = START


@dataclass(frozen=True, repr=False, eq=False)
class NightSpec(Printed):
    """A night that the pipes must get through: air and wind outdoors, how long, and how long of it without power.

    name : "" where there is only one
    """

    air: Quantity
    wind: Quantity
    hours: Quantity
    without_power: Quantity
    name: str = ""


@dataclass(frozen=True, repr=False, eq=False)
class Loop(Printed):
    """The loop between heat pump and tank. hot : legs from the heat pump to the tank; back : legs the other way."""

    flow: Quantity
    leaves_at: Quantity
    comes_back_at: Quantity
    hot: tuple
    back: tuple

    @property
    def legs(self) -> tuple:
        return self.hot + self.back


@dataclass(frozen=True, repr=False, eq=False)
class TapeSupply(Printed):
    """Holds what the tapes of a layout share: temperature to hold, voltage, breaker, region, thickness (None: not
    measured).

    thermostat : the pipe temperature at which it switches the tapes; None: there is none, they are always on
    """

    hold: Quantity
    voltage: Quantity
    breaker: Quantity
    region: str
    thickness: Quantity
    thermostat: Quantity


@dataclass(frozen=True, repr=False, eq=False)
class Measured(Printed):
    """A fitting measured by the reader; family None: for every pipe of that size."""

    fitting: str
    size: str
    joint: str
    family: str | None
    centre_to_face: Quantity
    insertion_depth: Quantity


@dataclass(frozen=True, repr=False, eq=False)
class Buying(Printed):
    """Holds how pipe is bought. spare : share to have in hand; kerf : of the saw; stock : (pipe family or one size,
    stock length) pairs that differ from the table.
    """

    spare: float
    kerf: Quantity
    stock: tuple
