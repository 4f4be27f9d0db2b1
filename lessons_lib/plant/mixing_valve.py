"""Commissioning a thermostatic mixing valve: its class, its inlets, and what it takes of the pressure."""

from dataclasses import dataclass

from ..physics import mixing_valve as physics
from ..quantities.errors import InputError
from ..quantities.results import Printed, Word
from ..quantities.units import Q_, Domain, Quantity, quantity, share, to_base
from ..storage import tables
from .tank import VALVE_CAUTION

INLET = Domain("inlet pressure", "Pa", 1e3, 2e6, 'Q_(300, "kPa")')
FLOWING = Domain("flow", "m**3/s", 1e-6, 1e-2, 'Q_(8, "L/min")')
PASSES = Domain("flow at 1 bar", "m**3/s", 1e-6, 1e-1, 'Q_(25, "L/min")')
MOST_UNEQUAL = 2.0  # ratio of the inlet pressures, as makers' sheets usually ask (common practice, no source)
CHECKED, CHECKS_ONLY, PLAIN = "check valves and strainers", "check valves only", "nothing"
INLETS = (CHECKED, CHECKS_ONLY, PLAIN)
EVEN, UNEVEN, OUTSIDE = Word("near enough equal", 0), Word("too unequal", 2), Word("outside its class", 1)
MUST_SHUT, NEED_NOT = Word("must shut with the cold", 0), Word("need not shut", 1)
APART, DIRT, CROSSES = Word("kept apart", 0), Word("dirt can hold it open", 1), Word("pushes into the other side", 2)
PASSED, CANNOT_PASS = Word("passes the flow", 0), Word("cannot pass so much", 2)


@dataclass(frozen=True, repr=False, eq=False)
class ValveClass(Printed):
    """Says what a class of mixing valves is for.

    shuts : it must fall to a trickle when its cold is shut; low, high : pressures at the inlets [kPa], None where the
    maker says them
    """

    name: str
    region: str
    where: str
    shuts: bool
    low: Quantity | None
    high: Quantity | None
    source: str
    caution: str = VALVE_CAUTION

    @property
    def word(self) -> Word:
        """Says what the valve must do when its cold is shut."""
        return MUST_SHUT if self.shuts else NEED_NOT


def valve_classes() -> tuple[ValveClass, ...]:
    """Gives the classes of data/mixing_valves.csv."""
    return tuple(
        ValveClass(
            row["class"],
            row["region"],
            row["where"],
            row.word("shuts", ("yes", "no")) == "yes",
            *(Q_(row.number(name), "kPa") if row[name] else None for name in ("low", "high")),
            row["source"],
        )
        for row in tables.rows("mixing_valves")
    )


@dataclass(frozen=True, repr=False, eq=False)
class Commissioned(Printed):
    """Says what a valve does between its two pressures.

    outlet : pressure behind the valve at the flow [kPa], below 0 where it cannot pass so much
    takes : what the valve takes of the weaker inlet [kPa]; hot_port : how far it is open, 0 to 1
    crossing : flow from the stronger into the weaker inlet, tap shut and no check valve [L/min]
    ratio : of the inlet pressures, 1 or more
    """

    pressures: Word
    flow: Word
    inlets: Word
    outlet: Quantity
    takes: Quantity
    hot_port: float
    crossing: Quantity
    ratio: float
    caution: str = VALVE_CAUTION


def commission(valve: ValveClass, hot, cold, hot_share, flow, passes, inlets=CHECKED) -> Commissioned:
    """Judges a mixing valve between its inlets.

    hot, cold : pressures of the flowing water at them; hot_share : of the mixture, 0 to 1; flow : at the tap
    passes : flow through the valve at a drop of 1 bar (100 kPa), from its maker's sheet; inlets : one of INLETS
    Raises InputError.
    """
    warm, chill = float(to_base(hot, INLET)), float(to_base(cold, INLET))
    moving, through = float(to_base(flow, FLOWING)), float(to_base(passes, PASSES))
    part = float(share(hot_share, "hot share"))
    if inlets not in INLETS:
        raise InputError(f'inlets: "{inlets}" was given; possible is {", ".join(INLETS)}. Choose one of them.')
    outlet = physics.outlet_pressure(part, moving, warm, chill, through)
    port = physics.hot_port(part, moving, warm, outlet, through)
    crossing = physics.cross_flow(port, warm, chill, through) if inlets == PLAIN else 0.0
    ratio = max(warm, chill) / min(warm, chill)
    return Commissioned(
        pressures=_pressures(valve, warm, chill, ratio),
        flow=PASSED if outlet >= 0 else CANNOT_PASS,
        inlets={CHECKED: APART, CHECKS_ONLY: DIRT, PLAIN: CROSSES}[inlets],
        outlet=quantity(outlet, "Pa").to("kPa"),
        takes=quantity(min(warm, chill) - outlet, "Pa").to("kPa"),
        hot_port=port,
        crossing=quantity(crossing, "m**3/s").to("L/min"),
        ratio=ratio,
    )


def _pressures(valve: ValveClass, hot: float, cold: float, ratio: float) -> Word:
    if ratio > MOST_UNEQUAL + 1e-9:
        return UNEVEN
    low = 0.0 if valve.low is None else valve.low.to("Pa").magnitude
    high = float("inf") if valve.high is None else valve.high.to("Pa").magnitude
    return EVEN if min(hot, cold) >= low - 1e-6 and max(hot, cold) <= high + 1e-6 else OUTSIDE
