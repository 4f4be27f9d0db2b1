"""Heat tape: what it gives, where a run settles with it, how much of it a run needs."""

from dataclasses import dataclass, field, replace

import numpy as np

from ..quantities.border import of_kind, whole
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import HOLD, LENGTH, Q_, THICKNESS, Domain, Quantity, quantity, share, to_base
from .common_values import HELD_AT, TAPE_MARGIN
from .convergence import named_inputs
from .pipe import Pipe
from .run import Run

CAUTION = (
    "Only a combination of tape and insulation that the tape's maker lists; foam or vinyl over tape is warned against"
    " where the maker does not allow it. Pipe material and its highest temperature must be within the tape's limit,"
    " powered or not: many tapes are limited to pipes cooler than a hot loop's, and a standard for tapes in homes"
    " assumes rigid plastic at 50 °C (122 °F) at most. Not every tape may be outdoors. Self-regulating tape,"
    " ground-fault protection, never crossed, never on an extension lead; the maker's instructions and local code"
    " decide, and an electrician makes the circuit. Tape stores no heat: without power it does nothing."
)
POWER = Domain("tape power", "W/m", 0, 100, 'Q_(10, "W/m")', above_low=True)
POINT_POWER = Domain("tape power", "W/m", 0, 100, 'Q_(10, "W/m")')
POINT = Domain("pipe temperature", "degC", -40, 120, 'Q_(10, "degC")')
LIMIT = Domain("highest pipe temperature", "degC", 0, 260, 'Q_(65, "degC")')
TIES = Domain("thickness of ties", "m", 0, 0.02, 'Q_(2, "mm")')


@dataclass(frozen=True, repr=False, eq=False)
class Tape(Printed):
    """A heat tape: power against pipe temperature, a straight line through two points, never below 0.

    Make one with Tape.constant or Tape.self_regulating.
    thermostat : the tape gives no more than brings the pipe to this temperature; None: it has none
    materials : pipe materials that the maker lists ("copper", "PEX", "CPVC"); None: not stated, no check
    highest_pipe : the pipe may never be hotter, with tape on or off; None: not stated, no check
    """

    points: tuple
    thermostat: Quantity | None = None
    materials: tuple | None = None
    highest_pipe: Quantity | None = None
    caution: str = field(default=CAUTION)

    def __post_init__(self):
        for value, domain in ((self.thermostat, HOLD), (self.highest_pipe, LIMIT)):
            if value is not None:
                to_base(value, domain)

    @classmethod
    def constant(cls, power, **listed) -> "Tape":
        """Gives the same power at every temperature. power : W/m; thermostat, materials, highest_pipe as in Tape."""
        watts = to_base(power, POWER)
        return cls(((0.0, watts), (1.0, watts)), **listed)

    @classmethod
    def self_regulating(cls, first, second, **listed) -> "Tape":
        """Output falls as the pipe warms: the line through two (pipe temperature, power) points of the maker's
        sheet.
        """
        points = tuple(
            (to_base(temperature, POINT), to_base(power, POINT_POWER)) for temperature, power in (first, second)
        )
        (cool, most), (warm, least) = points if points[0][0] <= points[1][0] else points[::-1]
        if cool == warm:
            raise InputError(
                f"self-regulating tape: both points are at {first[0]}; give two different pipe temperatures."
            )
        if least >= most:
            raise InputError(
                f"self-regulating tape: the output must fall as the pipe warms, but {least:g} W/m at {warm:g} °C is not"
                f" below {most:g} W/m at {cool:g} °C. Check the two points."
            )
        return cls(((cool, most), (warm, least)), **listed)

    def available(self, celsius):
        """Power at a pipe temperature, for the physics: degC to W/m."""
        (cool, most), (warm, least) = self.points
        return np.maximum(most + (least - most) * (np.asarray(celsius) - cool) / (warm - cool), 0.0)

    def power(self, temperature):
        """Power at a pipe temperature [W/m]."""
        return quantity(self.available(to_base(temperature, POINT)), "W/m")

    def check(self, pipe: Pipe, hottest: float) -> None:
        """Raise InputError if the maker does not list this pipe, or if it gets hotter than the tape may. hottest
        [degC]
        """
        if self.materials is not None and pipe.material not in self.materials:
            raise InputError(
                f"heat tape: its maker lists {', '.join(self.materials)}, not {pipe.material or pipe.name}. "
                "Choose a tape that is listed for this pipe."
            )
        if self.highest_pipe is not None and hottest > to_base(self.highest_pipe, LIMIT):
            raise InputError(
                f"heat tape: the pipe reaches {hottest:.0f} °C, the tape may lie on pipe up to {self.highest_pipe}, "
                "powered or not. Choose a tape for hotter pipe."
            )


@dataclass(frozen=True, repr=False, eq=False)
class TapePlan(Printed):
    """Gives how much tape a run needs.

    needed [W/m] with the margin; given [W/m] by one tape at the hold temperature; tapes side by side;
    tape_length [m] with the allowances
    """

    needed: Quantity
    given: Quantity
    tapes: int
    tape_length: Quantity
    caution: str = CAUTION


@named_inputs
def plan(run, tape: Tape, hold=HELD_AT, margin=TAPE_MARGIN, brackets: int = 0, allowance=Q_(0.3, "m")) -> TapePlan:
    """Tape for a run at its surroundings, which should be the coldest hour and its wind.

    margin : on the heat that holds the run
    brackets : valves, brackets and other heat leaks, each with `allowance` of extra tape (maker's figure)
    Raises InputError: a tape that gives nothing at the hold temperature, lists of runs.
    """
    of_kind("heat tape", run, Run)
    of_kind("heat tape", tape, Tape)
    held = to_base(hold, HOLD)
    if run.shape or np.ndim(held):
        raise InputError("heat tape: plan one run at a time, not a list.")
    tape.check(run.pipe, held)
    needed, given = float(run._hold(held)) * (1 + share(margin, "margin")), float(tape.available(held))
    if given == 0:
        raise InputError(f"heat tape: it gives nothing at {hold}. Choose a tape whose output reaches further.")
    tapes = max(1, int(np.ceil(needed / given - 1e-9)))
    length = tapes * (run.metres + whole(brackets, "brackets") * to_base(allowance, LENGTH))
    return TapePlan(quantity(needed, "W/m"), quantity(given, "W/m"), tapes, quantity(length, "m"))


def bore_over(pipe: Pipe, thickness, ties=Q_(1.0, "mm")):
    """Bore that an insulation needs to close over pipe, tape and ties [mm].

    thickness : of the tape; the circle round a pipe with a tape along one side, and ties round both
    """
    of_kind("bore over", pipe, Pipe)
    outside = to_base(pipe.outside_diameter, LENGTH)
    return quantity(outside + to_base(thickness, THICKNESS) + 2 * to_base(ties, TIES), "m").to("mm")


@named_inputs
def settles_at(run, tape: Tape):
    """Pipe temperature at which the tape's output meets the run's loss [degC]: one root between -60 and 99 degC.

    Output falls and loss rises with temperature, so each round keeps one of 64 parts of what is left.
    Where the tape's own output ends below 99 degC the root is the place of balance; the run's surroundings hold all the
    time.
    """
    of_kind("settles at", run, Run)
    of_kind("settles at", tape, Tape)
    return quantity(_settled(run, tape), "degC")


def _settled(run, tape: Tape):
    """Gives the same temperature in SI floats [degC]."""
    loss = run.without_wall()
    low, high = np.full(loss.shape, -60.0), np.full(loss.shape, 99.0)
    places = np.linspace(0, 1, 65).reshape((-1,) + (1,) * low.ndim)
    for _ in range(4):
        tried = low + (high - low) * places
        above = np.sum(tape.available(tried) > loss.loss(tried)[0], axis=0)
        low, high = low + (high - low) * np.maximum(above - 1, 0) / 64, low + (high - low) * np.minimum(above, 64) / 64
    settled = 0.5 * (low + high)
    tape.check(run.pipe, float(np.max(settled)))
    return settled


def switched(covered, bare, tape: Tape, at: float) -> tuple:
    """Says what becomes of a run whose tape is switched by a sensor under its insulation.

    covered, bare : Runs of the same pipe, with its insulation and without; at : where the sensor switches [degC]
    Returns the tape's mean over many switchings, the share of the time that it works, and where covered pipe and bare
    places settle, a pair [degC]. The sensor feels the covered pipe only: the bare places get the same share.
    """
    needed, given = float(covered._hold(at)), float(tape.available(at))
    share_on = needed / given if given > needed else 1.0
    mean = replace(tape, points=tuple((point, share_on * power) for point, power in tape.points))
    kept = float(_settled(covered, tape)) if share_on == 1 else max(at, float(covered.line.around.temperature))
    return mean, share_on, (kept, float(_settled(bare, mean)))
