"""The layout's night: which legs can freeze, with power and without, and what their heat tape needs."""

from dataclasses import dataclass, field

import numpy as np

from ..assessment import ON_THE_EDGE
from ..cautions import ICE, joined
from ..circuit import Circuit, tape_circuit
from ..display import EDGE, ice_words
from ..nights import night
from ..results import Printed, Verdict
from ..run import WHY_NOT_BURIED
from ..tape import CAUTION as TAPE_CAUTION
from ..tape import TapePlan
from ..units import AIR, HOLD, LENGTH, START, Q_, quantity, si
from ..weather import Weather
from .parts import BURIED, HOURS, Leg

NO_ICE, FREEZES, NOT_ANSWERED = "no ice this night", "can freeze", "not answered"
STEP = Q_(10.0, "min")  # of the night; against 1 min the largest ice share moves by less than 0.01
START_WORDS = "from the cold inlet's temperature, the cautious start"


@dataclass(frozen=True, repr=False, eq=False)
class LegFrost(Printed):
    """What the night does to a leg that is not in a heated room.

    with_power, without_power : Verdicts, value: hours until ice can form in standing water [h], inf: never in the model.
        Without power they count from the moment it fails. Word: "no ice this night",
        "on the edge of freezing", "can freeze", "not answered" (buried)
    rest : where the standing water settles without heat [degC]; None: buried
    lowest_water [degC], ice_share [-] : of the night, with the power off for its last hours; None: buried
    hold_power : heat that holds the leg at the layout's hold temperature [W/m]
    plan, circuit : of its tape, None where it has none; tape_energy : of the night [kW h]
    """

    leg: str
    place: str
    with_power: Verdict
    without_power: Verdict
    rest: object
    lowest_water: object
    ice_share: object
    hold_power: object
    plan: TapePlan | None = None
    circuit: Circuit | None = None
    tape_energy: object = None
    caution: str = field(default=ICE, repr=False)


@dataclass(frozen=True, eq=False)
class _Standing:
    """What is the same for every leg with the same cut, covering, surroundings and tape. Hours; temperatures [degC]."""

    hours: float
    without_tape: float
    rest: float
    lowest: float
    share: float
    hold_power: float
    energy_per_metre: float  # [kW h/m] of tape
    holds: bool


def frost(layout) -> tuple:
    """The night of every leg that is not in a heated room, in the order of the layout; see LegFrost."""
    known: dict = {}
    looped = {leg.name for leg in layout.loop.legs} if layout.loop else set()
    return tuple(_leg_frost(layout, leg, leg.name in looped, known) for leg in layout.all_legs if leg.cold)


def _leg_frost(layout, leg: Leg, looped: bool, known: dict) -> LegFrost:
    run, supply = layout.runs[leg.name], layout.tape_supply
    if leg.place == BURIED:
        told = Verdict(None, NOT_ANSWERED, WHY_NOT_BURIED.format(what="the freezing"))
        return LegFrost(leg.name, leg.place, told, told, None, None, None, run.hold_power(supply.hold))
    key = (leg.family, leg.size, id(leg.insulation), id(leg.surroundings), leg.bare_share, leg.tape and leg.tape.points, looped)
    if key not in known:
        known[key] = _stand(layout, leg, looped)
    found = known[key]
    tape_plan = circuit = energy = None
    if leg.tape is not None:
        tape_plan = layout.tape_plan(leg)
        circuit = tape_circuit(
            tape_plan.given, tape_plan.tape_length, supply.voltage, supply.breaker, region=supply.region
        )
        energy = quantity(found.energy_per_metre * si(tape_plan.tape_length, LENGTH) / tape_plan.tapes, "kW*hour")
    return LegFrost(
        leg.name, leg.place, _with_power(layout, leg, looped, found), _without_power(layout, leg, looped, found), quantity(found.rest, "degC"),
        quantity(found.lowest, "degC"), found.share, quantity(found.hold_power, "W/m"), tape_plan, circuit, energy,
        joined(ICE, TAPE_CAUTION if leg.tape else "", run.caution),
    )


def _stand(layout, leg: Leg, looped: bool) -> _Standing:
    """Standing water in a leg's cut, through the night and from a power cut on."""
    run, spec, hold = layout.runs[leg.name], layout.night, layout.tape_supply.hold
    inlet, around = si(layout.cold_inlet, START), leg.surroundings
    hours, cut = (si(value, HOURS) / 3600 for value in (spec.hours, spec.without_power))
    begin = inlet if leg.tape is None or looped else min(inlet, si(hold, HOLD))
    freezing = run.freezing(quantity(inlet, "degC"))
    fallen = freezing if begin == inlet else run.freezing(quantity(begin, "degC"))
    weather = Weather(Q_(np.array([0.0, hours]), "hour"), Q_(np.full(2, si(around.air, AIR)), "degC"), around.wind)
    off = (quantity(hours - cut, "hour"), quantity(hours + 1, "hour")) if cut > 0 else None
    pump = layout.loop.comes_back_at if looped else None
    found = night(run, weather, layout.cold_inlet, leg.tape, pump=pump, off=off, step=STEP)
    return _Standing(
        float(freezing.hours_to_zero.magnitude), float(fallen.hours_to_zero.magnitude), float(freezing.rest.magnitude),
        float(found.lowest_water.magnitude), float(found.largest_ice_share), float(run.hold_power(hold).magnitude),
        float(found.tape_energy.magnitude) / si(leg.length, LENGTH), leg.tape is not None and leg.tape.power(hold) >= run.hold_power(hold),
    )


def _with_power(layout, leg: Leg, looped: bool, found: _Standing) -> Verdict:
    """While there is power: tape holds, the loop circulates, all other water stands."""
    if looped:
        return Verdict(quantity(np.inf, "hour"), NO_ICE, "while the circulator runs the loop's water does not stand")
    if found.holds:
        return Verdict(quantity(np.inf, "hour"), NO_ICE, f"the tape gives what holds the leg at {layout.tape_supply.hold}")
    return _verdict(found.hours, found.rest, layout.night.hours, START_WORDS)


def _without_power(layout, leg: Leg, looped: bool, found: _Standing) -> Verdict:
    """From the moment that the power fails; a leg that power does not keep must last the whole night in any case."""
    start = START_WORDS if leg.tape is None or looped else f"from {layout.tape_supply.hold}, for tape stores no heat"
    return _verdict(found.without_tape, found.rest, layout.night.without_power if leg.tape or looped else layout.night.hours, start)


def _verdict(hours: float, rest: float, lasts, start: str) -> Verdict:
    """hours until ice, where the water settles [degC], how long it must last."""
    word = FREEZES if hours <= si(lasts, HOURS) / 3600 else ON_THE_EDGE if np.isinf(hours) and rest < EDGE else NO_ICE
    return Verdict(quantity(hours, "hour"), word, f"standing still {start}: {ice_words(hours, rest)}")
