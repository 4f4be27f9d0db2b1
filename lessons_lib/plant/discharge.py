"""The pipe that carries a relief valve's water away: how wide, how long, how it falls and where it ends, by region."""

from dataclasses import dataclass

from ..quantities.errors import unknown_name
from ..quantities.results import Printed, Word
from ..quantities.units import Q_, Domain, Quantity, share, to_base
from ..storage import tables
from .closed_system import RELIEF_CAUTION

ALONG = Domain("length", "m", 0, 100, 'Q_(5, "m")')
ABOVE = Domain("end above the floor", "m", 0, 5, 'Q_(100, "mm")')
STRAIGHT = Domain("straight part", "m", 0, 5, 'Q_(300, "mm")')
MOST_STEPS = 3
FREE, VALVE, CAP, THREAD, TRAP = "nothing", "a valve", "a plug or cap", "a threaded end", "a low point"
FAULTS = (FREE, VALVE, CAP, THREAD, TRAP)
FITS, TOO_SMALL = Word("wide enough", 0), Word("too narrow for this way", 2)
NOT_IN_TABLE, WIDER = Word("not in this region's table", 2), Word("wider than the table lists", 1)
DRAINS, BARRED, STANDS = Word("free and falling", 0), Word("can be closed", 2), Word("water stays in it", 2)
BEND_TOO_SOON = Word("bends too soon", 2)
SEEN, NO_GAP, SPLASHES = Word("a gap, in sight", 0), Word("no air gap", 2), Word("ends too high", 2)


@dataclass(frozen=True, repr=False, eq=False)
class Size(Printed):
    """Says how far a size of discharge pipe may go.

    step : sizes above the valve's outlet; first : of the pipe before the tundish, "" where there is none
    longest : of straight pipe [m]; elbow : what each elbow takes off that [m]; most_elbows : None, any number
    """

    step: int
    size: str
    first: str
    longest: float
    elbow: float
    most_elbows: int | None
    source: str

    def allowed(self, elbows: int) -> float:
        """Gives how long the pipe may be with so many elbows [m]; 0 where they are too many."""
        if self.most_elbows is not None and elbows > self.most_elbows:
            return 0.0
        return max(self.longest - self.elbow * elbows, 0.0)


@dataclass(frozen=True, repr=False, eq=False)
class Rule(Printed):
    """Says how a region has the pipe run and end; lengths in m.

    low_sizes : least gap in the pipe's own diameters, 0 where `low` stands; over : what the end is above
    """

    region: str
    rule: str
    fall: float
    straight: float
    low: float
    low_sizes: float
    high: float
    over: str
    source: str


@dataclass(frozen=True, repr=False, eq=False)
class Discharge(Printed):
    """Says what is to be thought of a discharge pipe.

    size, way, end : each a verdict's word; allowed : how long it may be with its elbows [m]
    needed : the first size that would do, "" where none in the table does
    low, high : how far its end may be above what it drains on [m]
    """

    size: Word
    way: Word
    end: Word
    allowed: Quantity
    needed: str
    low: Quantity
    high: Quantity
    caution: str = RELIEF_CAUTION


def regions() -> list[str]:
    """Names the regions of data/discharge_rules.csv."""
    return [row["region"] for row in tables.rows("discharge_rules")]


def rule(region: str) -> Rule:
    """Gives a region's rule. Raises InputError for an unknown region."""
    row = tables.row("discharge_rules", "region", region, "region")
    low, sizes = (row.number(name) if row[name] else 0.0 for name in ("low", "low_sizes"))
    return Rule(
        row["region"],
        row["rule"],
        row.number("fall"),
        row.number("straight") / 1000,
        low / 1000,
        sizes,
        row.number("high") / 1000,
        row["over"],
        row["source"],
    )


def sizes(region: str, outlet: str) -> tuple[Size, ...]:
    """Gives the sizes of data/discharge_sizes.csv for a valve's outlet, smallest first. Raises InputError."""
    rows = [row for row in tables.rows("discharge_sizes") if row["region"] == region]
    known = list(dict.fromkeys(row["outlet"] for row in rows))
    if not rows:
        raise unknown_name("region", region, regions(), "Local code decides in any case.")
    if outlet not in known:
        raise unknown_name("outlet", outlet, known, "It stands on the valve.")
    return tuple(
        Size(
            row.whole("step"),
            row["size"],
            row["first"],
            row.number("longest"),
            row.number("elbow"),
            row.whole("most_elbows") if row["most_elbows"] else None,
            row["source"],
        )
        for row in rows
        if row["outlet"] == outlet
    )


def discharge(region, outlet, step, length, elbows, fall, end, straight, fault=FREE) -> Discharge:
    """Judges the discharge pipe of a relief valve by a region's table and rule.

    outlet : of the valve, "1/2 in", "3/4 in" or "1 in"; step : sizes of the pipe above it; length, elbows : of the
    pipe, after the tundish where the region has one; fall : share of its length; end : above what it drains on
    straight : pipe that falls straight down before the first bend; fault : one of FAULTS. Raises InputError.
    """
    asked, known = rule(region), sizes(region, outlet)
    if fault not in FAULTS:
        raise unknown_name("fault", fault, list(FAULTS))
    long, above, down = (to_base(*one) for one in ((length, ALONG), (end, ABOVE), (straight, STRAIGHT)))
    chosen = next((one for one in known if one.step == step), None)
    allowed = chosen.allowed(elbows) if chosen else 0.0
    low = max(asked.low, asked.low_sizes * across(chosen.size if chosen else outlet))
    missing = WIDER if step > known[-1].step else NOT_IN_TABLE
    return Discharge(
        size=missing if chosen is None else FITS if long <= allowed + 1e-9 else TOO_SMALL,
        way=_way(fault, share(fall, "fall"), down, asked),
        end=NO_GAP if above < low - 1e-9 or above <= 0 else SPLASHES if above > asked.high + 1e-9 else SEEN,
        allowed=Q_(allowed, "m"),
        needed=next((one.size for one in known if long <= one.allowed(elbows) + 1e-9), ""),
        low=Q_(low, "m"),
        high=Q_(asked.high, "m"),
    )


def _way(fault: str, fall: float, straight: float, asked: Rule) -> Word:
    if fault in (VALVE, CAP, THREAD):
        return BARRED
    if fault == TRAP or fall < asked.fall - 1e-9:
        return STANDS
    return BEND_TOO_SOON if straight < asked.straight - 1e-9 else DRAINS


def across(size: str) -> float:
    """The diameter that a size is named by [m]: "3/4 in", "22 mm"."""
    *parts, unit = size.split()
    number = sum(float(one.split("/")[0]) / float(one.split("/")[1]) if "/" in one else float(one) for one in parts)
    return Q_(number, unit).to("m").magnitude
