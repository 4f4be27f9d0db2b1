"""A tank of hot water: what comes out of it behind a mixing valve, what it loses, how fast it warms again."""

from dataclasses import dataclass

import numpy as np

from ..physics import tank
from ..quantities.border import ROUNDING, difference, each, first_bad
from ..quantities.display import celsius, show, system_of
from ..quantities.errors import InputError
from ..quantities.results import Printed, Word
from ..quantities.units import FLOW, Q_, START, Domain, Quantity, broadcast, in_unit_of, quantity, share, to_base

HOT = Domain("hot temperature", "degC", 0, 99, 'Q_(60, "degC")')
STORED = Domain("stored temperature", "degC", 0, 99, 'Q_(60, "degC")')
COLD = Domain("cold temperature", "degC", 0, 99, 'Q_(10, "degC")')
MIXED = Domain("mixed temperature", "degC", 0, 99, 'Q_(40, "degC")')
SETTING = Domain("valve setting", "degC", 0, 99, 'Q_(46, "degC")')
LOWEST = Domain("lowest setting", "degC", 0, 99, 'Q_(35, "degC")')
HIGHEST = Domain("highest setting", "degC", 0, 99, 'Q_(60, "degC")')
ROOM = Domain("room temperature", "degC", -60, 60, 'Q_(20, "degC")')
TANK_VOLUME = Domain("tank volume", "m**3", 0, 100, 'Q_(150, "L")', above_low=True)
LEAST_FLOW = Domain("least flow", "m**3/s", 0, 0.1, 'Q_(4, "L/min")')
LEAST_DIFFERENCE = Domain("least difference", "delta_degC", 0, 60, 'Q_(10, "delta_degC")')
RISE = Domain("temperature rise", "delta_degC", 0, 99, 'Q_(50, "delta_degC")', above_low=True)
RATED_DIFFERENCE = Domain("rated difference", "delta_degC", 0, 99, 'Q_(45, "delta_degC")', above_low=True)
POWER = Domain("power", "W", 0, 1e6, 'Q_(3, "kW")')
STANDBY = Domain("standby loss", "W", 0, 1e5, 'Q_(70, "W")')

USUAL_USABLE = 0.7  # common practice, no source: what a store gives before its mixing cold water is felt
# What a mixing valve needs, where the maker's figures are not at hand: teaching values (common practice, no source).
USUAL_LEAST = {"least_difference": Q_(10.0, "delta_degC"), "least_flow": Q_(4.0, "L/min")}
HOLDS, CANNOT_HOLD = Word("holds", 0), Word("can't hold", 2)
# EN 15092's scope (not for the point of use), TMV2's test (what still seeps is at most 2 K above the setting) and "ASSE
# 1017 does not protect against
# scalding" (its publisher's magazine): as quoted in secondary literature. That ASSE 1016, ASSE 1070 and EN 1111 ask for
# the shut-off, and EN 15092 has a class with
# it: from memory.
VALVE_CAUTION = (
    "Setting a mixing valve that people use is a licensed trade's work, and at a training bench the instructor's. The"
    " tank is at its final and highest temperature; the nearest tap runs above the valve's least flow until steady;"
    " thermometer, never skin. Then the valve's class decides what is tested. A valve made to EN 1111, UK TMV2 or TMV3,"
    " ASSE 1016 or ASSE 1070 must fall to a trickle within seconds when its cold is shut. A tank valve (ASSE 1017, or"
    " EN 15092 without an anti-scald class) need not, and does not protect against scalding. The test can send the"
    " tank's water out of an open tap: a bucket beneath it, and nobody near. Check at the far tap too, and at least"
    " once a year; in care homes and health care as often as their guidance asks. It protects no tap before it, and"
    " does not replace the listed valve at a bath or shower where code asks for one. The maker and local code decide."
)


def hot_share(hot, cold, mixed):
    """Share of hot water in a mixture, a plain number from 0 to 1: rises are divided, not temperatures.

    hot, cold, mixed : temperatures, which broadcast
    Equal heat capacity, which is within 0.3 K of exact mixing. Raises InputError where mixed is outside cold ... hot.
    """
    inside = to_base(hot, HOT), to_base(cold, COLD), to_base(mixed, MIXED)
    broadcast(hot=inside[0], cold=inside[1], mixed=inside[2])
    return _share(MIXED.name, mixed, *inside)


def water_at_the_tap(tank_volume, stored, cold, mixed, usable=1.0):
    """Litres of mixed water that a full tank gives [L] until it is used up.

    tank_volume, stored, cold, mixed : as in `hot_share`; mixed must be above cold
    usable : share of the tank that comes out at the stored temperature. 1, the whole tank, is the most there can be:
        150 L at 58 degC with 8 degC cold are 234 L at 40 degC. A real tank mixes in the cold that follows;
        0.7 is a common allowance (USUAL_USABLE; common practice, no source).
    The volumes are taken as they are; their growth with temperature (about 1 %) is left out.
    """
    volume, inside = (
        to_base(tank_volume, TANK_VOLUME),
        (to_base(stored, STORED), to_base(cold, COLD), to_base(mixed, MIXED)),
    )
    broadcast(tank_volume=volume, stored=inside[0], cold=inside[1], mixed=inside[2])
    part = _share(MIXED.name, mixed, *inside)
    if np.any(np.less_equal(part, ROUNDING)):
        raise InputError(
            f"mixed temperature: {mixed} is no warmer than the cold, so no hot water is needed. Ask for warmer water."
        )
    return quantity(volume * share(usable, "usable share") / part, "m**3").to("L")


@dataclass(frozen=True, repr=False, eq=False)
class MixingValve(Printed):
    """Says whether a mixing valve can hold its setting.

    word : "holds" or "can't hold"; reason : why, in a sentence
    mixed : the setting [degC]
    hot_share : share of hot water in it, 0 to 1
    hottest : what to reckon with at the outlet: the setting where it holds, the hot water where it can't [degC]
    """

    word: str | np.ndarray
    reason: str | np.ndarray
    mixed: Quantity
    hot_share: float | np.ndarray
    hottest: Quantity
    caution: str = VALVE_CAUTION


def mixing_valve(hot, cold, setting, flow, *, least_difference, least_flow, lowest=None, highest=None) -> MixingValve:
    """Says whether a valve sits between its limits at this setting and flow, or why it can't.

    hot, cold : temperatures of the water that enters; setting : what it should give; flow : volume flow through it
    least_difference : between hot and mixed, least_flow : the maker's figures
    lowest, highest : ends of the maker's range of settings, if it is known
    Raises InputError where the setting is outside cold ... hot: no mixture gives that.
    """
    warm, chill, wanted = to_base(hot, HOT), to_base(cold, COLD), to_base(setting, SETTING)
    moving, least, gap = (
        to_base(flow, FLOW),
        to_base(least_flow, LEAST_FLOW),
        difference(least_difference, LEAST_DIFFERENCE),
    )
    bottom = 0.0 if lowest is None else to_base(lowest, LOWEST)
    top = 99.0 if highest is None else to_base(highest, HIGHEST)
    broadcast(
        hot=warm,
        cold=chill,
        setting=wanted,
        flow=moving,
        least_difference=gap,
        least_flow=least,
        lowest=bottom,
        highest=top,
    )
    part = _share(SETTING.name, setting, warm, chill, wanted)
    system = system_of(hot)
    reason = each(lambda *given: _why_not(system, *given), warm, wanted, moving, gap, least, bottom, top)
    holds = np.equal(reason, "")
    return MixingValve(
        word=each(lambda good: HOLDS if good else CANNOT_HOLD, holds),
        reason=each(
            lambda text: text or "the setting, the hot water and the flow are within the maker's limits", reason
        ),
        mixed=quantity(wanted, "degC"),
        hot_share=part,
        hottest=quantity(np.where(holds, wanted, warm), "degC"),
    )


def _why_not(system, hot, setting, flow, gap, least_flow, lowest, highest) -> str:
    """The limits that a valve breaks, in a sentence; "" if none."""
    broken = []
    if hot - setting < gap - ROUNDING:
        drop = show(Q_(hot - setting, "delta_degC"), "temperature drop", system)
        broken.append(
            f"the hot water is only {drop} above the setting, the valve needs"
            f" {show(Q_(gap, 'delta_degC'), 'temperature drop', system)}"
        )
    if flow < least_flow * (1 - ROUNDING):
        given, needed = (show(Q_(value, "m**3/s"), "flow", system) for value in (flow, least_flow))
        broken.append(f"{given} flows, the valve needs {needed}")
    if not lowest - ROUNDING <= setting <= highest + ROUNDING:
        low, high = (show(celsius(value), "temperature", system) for value in (lowest, highest))
        broken.append(f"the setting is outside the maker's range of {low} to {high}")
    return "; ".join(broken)


def standby_loss(stored, room, rated, rated_difference=Q_(45.0, "delta_degC")):
    """Heat that a standing tank loses [W]; negative is gain.

    stored, room : temperatures
    rated : the maker's figure, a power; energy a day is one too: Q_(1.6, "kWh/day")
    rated_difference : between store and room, for which that figure stands. 45 K is common in test rules (from memory).
    Proportional to the difference.
    """
    warm, around, known = to_base(stored, STORED), to_base(room, ROOM), to_base(rated, STANDBY)
    at = difference(rated_difference, RATED_DIFFERENCE)
    broadcast(stored=warm, room=around, rated=known, rated_difference=at)
    return quantity(known * (warm - around) / at, "W")


def reheat_time(tank_volume, start, stored, power, standby=Q_(0.0, "W")):
    """Time for a full tank to warm from `start` to `stored` [h]: 0 if it is there already, inf if the power never does.

    power : heat into the water; standby : heat that the tank loses meanwhile
    The water only; the tank's own metal adds a few per cent.
    """
    volume, cool, warm = to_base(tank_volume, TANK_VOLUME), to_base(start, START), to_base(stored, STORED)
    heating, losing = to_base(power, POWER), to_base(standby, STANDBY)
    broadcast(tank_volume=volume, start=cool, stored=warm, power=heating, standby=losing)
    seconds = tank.reheat_time(tank.heat_to_warm(volume, cool, warm), np.subtract(heating, losing))
    return quantity(seconds, "s").to("h")


def recovery(power, rise, cold=Q_(10.0, "degC"), efficiency=1.0):
    """Litres an hour that a power warms by `rise` [L/h], measured cold.

    efficiency : share of the power that reaches the water, 0 to 1
    Raises InputError where cold and rise together are above 99 degC.
    """
    heating, warming, cool = to_base(power, POWER), difference(rise, RISE), to_base(cold, COLD)
    broadcast(power=heating, rise=warming, cold=cool)
    if np.any(np.add(cool, warming) > STORED.high + ROUNDING):
        raise InputError(
            f"temperature rise: {rise} from {cold} ends above 99 °C, where water is close to boiling. Choose less."
        )
    return quantity(share(efficiency, "efficiency") * tank.recovery(heating, cool, warming), "m**3/s").to("L/h")


def _share(name, given, hot, cold, mixed):
    """Hot share of checked floats, or an InputError that names what is outside cold ... hot."""
    inverted = np.less_equal(hot, cold)
    if np.any(inverted):
        warm, chill = first_bad(inverted, hot, cold)
        raise InputError(
            f"cold temperature: {in_unit_of(given, chill, 'degC')} was given; possible is below the hot water's "
            f"{in_unit_of(given, warm, 'degC')}. Are hot and cold exchanged?"
        )
    outside = np.less(mixed, np.subtract(cold, ROUNDING)) | np.greater(mixed, np.add(hot, ROUNDING))
    if np.any(outside):
        wrong, warm, chill = (in_unit_of(given, value, "degC") for value in first_bad(outside, mixed, hot, cold))
        raise InputError(
            f"{name}: {wrong} was given; possible is from {chill} (the cold) to {warm} (the hot), for a mixture lies "
            "between them. Raise the store or lower what you ask for."
        )
    part = np.clip(tank.hot_share(hot, cold, mixed), 0.0, 1.0)  # the rounding of a unit conversion only
    return float(part) if np.ndim(part) == 0 else part
