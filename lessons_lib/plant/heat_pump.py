"""A heat pump outdoors, its loop, and what a hotter store costs. A teaching approximation, marked so."""

from dataclasses import dataclass, field

import numpy as np

from ..physics import heat_pump as physics
from ..quantities.border import ROUNDING, difference, each, number
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import AIR, LENGTH, Q_, WATER, Domain, Quantity, broadcast, quantity, to_base, ureg
from ..runs.bacteria import CAUTION as STORE_CAUTION
from ..runs.bacteria import RECOMMENDED_STORE

STORE = Domain("store temperature", "degC", 5, 75, 'Q_(55, "degC")')
OUTDOOR = Domain("outdoor temperature", "degC", -30, 45, 'Q_(-5, "degC")')
HEAT = Domain("heat output", "W", 0, 1e6, 'Q_(6, "kW")', above_low=True)
HEAT_LOSS = Domain("heat loss", "W/m", -2000, 2000, 'Q_(12, "W/m")')
LOOP_DIFFERENCE = Domain("loop difference", "delta_degC", 0, 60, 'Q_(5, "delta_degC")', above_low=True)
LOOP_VOLUME = Domain("loop volume", "m**3", 0, 10, 'Q_(8, "L")', above_low=True)

DEFROST = Q_(-5.0, "degC"), Q_(5.0, "degC")
TEACHING = (
    "A teaching approximation: a fixed share of the ideal, not this unit's map. The maker's figures decide; electrical "
    "and refrigerant work is for licensed trades."
)
# "Comparison of CO2 heat pump water heater performance with baseline cycle and two high COP cycles", its abstract
NO_RETURN = (
    "How warm the water comes back from the tank's bottom is not in this number. A one-pass CO2 unit gives less heat"
    " for its electricity when that water is warm: in one laboratory study its COP was 30 % higher for a tank of cold"
    " water than for reheating a warm one. "
)
NO_DEFROST = "No defrost is in this number: in damp air between -5 and 5 °C (23 and 41 °F) a real unit gives less. "


@dataclass(frozen=True, repr=False, eq=False)
class HeatPump(Printed):
    """Says how much heat a heat pump gives for its electricity.

    cop : heat for each unit of electricity, a plain number
    ideal : the Carnot bound between its two heat exchangers; inf where nothing has to be lifted
    capped : whether the cop is the stated highest value instead of the share of Carnot
    defrost : whether the air is such that a real unit defrosts, which is not in the cop; the caution says so
    """

    cop: float | np.ndarray
    ideal: float | np.ndarray
    capped: bool | np.ndarray
    defrost: bool | np.ndarray = field(repr=False)
    caution: str | np.ndarray


def heat_pump_cop(
    store,
    outdoor,
    share_of_carnot: float = physics.SHARE_OF_CARNOT,
    highest: float = physics.HIGHEST,
) -> HeatPump:
    """COP = eta T_cond/(T_cond - T_evap), with T_cond 5 K above the store and T_evap 8 K below the outdoor air.

    store, outdoor : temperatures; share_of_carnot : eta, above 0 and at most 1; highest : the cap
    All heat is taken to be given off at one temperature, so that of the water that comes back does not count. That is
    right for a unit
    whose refrigerant condenses; a one-pass CO2 unit cools its gas against that water, and its COP falls as the tank's
    bottom warms.
    Raises InputError.
    """
    warm, air = to_base(store, STORE), to_base(outdoor, OUTDOOR)
    eta, cap = _numbers(share_of_carnot, highest)
    broadcast(store=warm, outdoor=air)
    ideal = physics.ideal(warm, air)
    return HeatPump(
        cop=_plain(physics.cop(warm, air, eta, cap)),
        ideal=_plain(ideal),
        capped=_plain(eta * ideal > cap),
        defrost=each(_defrosts, air),
        caution=each(_caution, air),
    )


@dataclass(frozen=True, repr=False, eq=False)
class StoreCost(Printed):
    """Says what a hotter store costs in electricity, for the same heat.

    low, high : the two stores [degC]; low_cop, high_cop : plain numbers
    extra_electricity : share by which the hotter store needs more: 0.2 is a fifth more
    """

    low: Quantity
    high: Quantity
    low_cop: float | np.ndarray
    high_cop: float | np.ndarray
    extra_electricity: Quantity
    caution: str | np.ndarray


def store_cost(
    outdoor,
    low=Q_(49.0, "degC"),
    high=RECOMMENDED_STORE,
    share_of_carnot: float = physics.SHARE_OF_CARNOT,
    highest: float = physics.HIGHEST,
) -> StoreCost:
    """Gives what it costs to store at `high` instead of at `low`, the store's own loss left out.

    Arguments as in `heat_pump_cop`; low above high is an InputError. It answers what bacteria cost, not whether to
    accept them.
    """
    air, cool, warm = to_base(outdoor, OUTDOOR), to_base(low, STORE), to_base(high, STORE)
    eta, cap = _numbers(share_of_carnot, highest)
    broadcast(outdoor=air, low=cool, high=warm)
    if np.any(np.greater(cool, np.add(warm, ROUNDING))):
        raise InputError(f"store temperature: the low store, {low}, is above the high one, {high}. Exchange them.")
    cops = physics.cop(cool, air, eta, cap), physics.cop(warm, air, eta, cap)
    return StoreCost(
        quantity(cool, "degC"),
        quantity(warm, "degC"),
        _plain(cops[0]),
        _plain(cops[1]),
        _plain(cops[0] / cops[1] - 1),
        caution=each(lambda outside: f"{_caution(outside)} {STORE_CAUTION}", air),
    )


def loop_flow(heat, difference_of_loop, supply=Q_(50.0, "degC")):
    """Flow that carries a heat output round the loop [L/min], Q/(rho c dT).

    heat : what the heat pump gives; difference_of_loop : between supply and return, as the maker asks
    supply : temperature to the tank, at which the flow is measured
    """
    power, drop, warm = to_base(heat, HEAT), difference(difference_of_loop, LOOP_DIFFERENCE), to_base(supply, WATER)
    broadcast(heat=power, difference_of_loop=drop, supply=warm)
    if np.any(np.subtract(warm, drop) < -ROUNDING):
        raise InputError(f"loop difference: {difference_of_loop} below {supply} is ice. Give a smaller difference.")
    return quantity(physics.loop_flow(power, drop, warm), "m**3/s").to("L/min")


@dataclass(frozen=True, repr=False, eq=False)
class LoopLoss(Printed):
    """Says what the loop's lines lose while it runs.

    power : [W]; share : of the heat output, a plain number; above 1 the loop loses more than the heat pump gives
    """

    power: Quantity
    share: float | np.ndarray
    caution: str = TEACHING


def loop_loss(losses, lengths, heat) -> LoopLoss:
    """Heat that supply and return line lose, and its share of the heat output.

    losses : heat loss of each line [W/m], from `run.heat_loss`; a list with one quantity a line
    lengths : of each line, likewise
    heat : heat output of the heat pump
    """
    lines, metres = _each_line(losses), _each_line(lengths)
    if len(lines) != len(metres):
        raise InputError(
            f"length: {len(metres)} were given for {len(lines)} heat losses; give one length for each line."
        )
    parts = [(to_base(loss, HEAT_LOSS), to_base(length, LENGTH)) for loss, length in zip(lines, metres)]
    power = to_base(heat, HEAT)
    broadcast(
        heat=power,
        **{
            f"line {n} {name}": value
            for n, part in enumerate(parts, 1)
            for name, value in zip(("loss", "length"), part)
        },
    )
    lost = sum(np.multiply(loss, length) for loss, length in parts)
    return LoopLoss(quantity(lost, "W"), _plain(lost / power))


def loop_stored_heat(volume, water, surroundings):
    """Heat that the loop's water gives away each time it stops and cools [Wh]; 0 where the surroundings are warmer.

    volume : of both lines; water : temperature when it stops; surroundings : the air's
    Water only, down to 0 degC; a copper pipe adds a fifth to a quarter.
    """
    filled, warm, air = to_base(volume, LOOP_VOLUME), to_base(water, WATER), to_base(surroundings, AIR)
    broadcast(volume=filled, water=warm, surroundings=air)
    rest = np.clip(air, 0.0, warm)
    return quantity(physics.stored_heat(filled, warm, rest), "J").to("Wh")


def _numbers(share_of_carnot, highest) -> tuple[float, float]:
    return number(share_of_carnot, "share of Carnot", 0, 1, "0.45"), number(highest, "highest COP", 1, 20, "5")


def _defrosts(outdoor: float) -> bool:
    low, high = (edge.magnitude for edge in DEFROST)
    return bool(low - ROUNDING <= outdoor <= high + ROUNDING)


def _caution(outdoor: float) -> str:
    return f"{NO_DEFROST if _defrosts(outdoor) else ''}{NO_RETURN}{TEACHING}"


def _each_line(values) -> list:
    """The quantities of the single lines: a list as it is, a quantity array by its first axis, one quantity alone."""
    if isinstance(values, ureg.Quantity):
        return list(values) if np.ndim(values.magnitude) else [values]
    if not isinstance(values, (list, tuple)) or not values:
        raise InputError(
            f'heat loss or length: {values!r} was given; give a list of quantities, for example [Q_(12, "W/m"), Q_(9,'
            ' "W/m")].'
        )
    return list(values)


def _plain(value):
    """A Python number or truth for a 0-d array: scalars stay scalars."""
    return np.asarray(value).item() if np.ndim(value) == 0 else value
