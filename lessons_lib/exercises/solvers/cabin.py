"""The cabin's run of Tern Bank (invented), on which the main panel opens."""

from dataclasses import replace

import numpy as np

from ...quantities.units import Q_
from ...runs.common_values import LONG_NIGHT
from ...runs.insulation import NONE, Insulation
from ...runs.pipe import Pipe, sizes
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from ...runs.tape import Tape, bore_over, plan
from ...storage.tables import rows, tern_bank
from .registry import solves

ANY_TAPE = Tape.constant(Q_(10.0, "W/m"))  # what a run needs does not depend on it
MANY_TIMES_SOONER = 0.33  # share of the covered run's time
MUCH = 20.0  # [K] that a foamed pipe is warmer by, to be called much


def _entry() -> dict:
    """The first run that ends at a tap."""
    return next(run for place in tern_bank() for run in place["run"] if run["ends_at"] == "tap")


def _set(name: str, unit: str):
    return Q_(_entry()[name], unit)


def cabin(length=None, air=None, wind=None, foam: float = 1.0, gaps: float = 0.0) -> Run:
    """The run, with some of it changed; foam : times its own thickness, 0 bare; gaps : share of the length without
    foam.
    """
    entry = _entry()
    cover = Insulation(entry["insulation"], _set("thickness", "mm") * foam) if foam else Insulation(NONE, Q_(0.0, "mm"))
    around = Surroundings(_set("air", "degC") if air is None else air, _set("wind", "m/s") if wind is None else wind)
    length = _set("length", "m") if length is None else length
    return Run(Pipe.nominal(entry["pipe"], entry["size"]), length, cover, around, bare_share=gaps)


def _arrives(run: Run, flow=None):
    return run.delivery_temperature(_set("set_temperature", "degC"), _set("flow", "L/min") if flow is None else flow)


@solves
def cabin_tank():
    """The set temperature of Tern Bank's cabin (invented)."""
    return _set("set_temperature", "degC")


@solves
def cabin_arrives(length, flow):
    """Says what arrives at the cabin's tap."""
    return _arrives(cabin(length), flow)


@solves
def cabin_drop(length, flow):
    """Gives by how much the water cools on its way to the cabin's tap."""
    return cabin_tank() - cabin_arrives(length, flow)


@solves
def coldest_change(flow):
    """Says which one change leaves the coldest water at the tap."""
    found = {
        "bare": _arrives(cabin(foam=0.0), flow),
        "longer": _arrives(cabin(_set("length", "m") * 2), flow),
        "slower": _arrives(cabin(), flow / 2),
    }
    return min(found, key=lambda change: found[change].magnitude)


@solves
def cabin_loss(air, wind, share):
    """Gives the loss of a metre of the run with hot water, its gaps shared out. share : of the length that is bare."""
    return cabin(air=air, wind=wind, gaps=share).heat_loss(cabin_tank())


@solves
def cabin_loss_twice_foamed(air, wind, share):
    """Gives the same as `cabin_loss`, with foam twice as thick."""
    return cabin(air=air, wind=wind, foam=2.0, gaps=share).heat_loss(cabin_tank())


@solves
def foam_or_gaps(air, wind, share):
    """Says what saves more: twice the foam on what is covered, or no gaps."""
    return "foam" if cabin_loss_twice_foamed(air, wind, share) < cabin_loss(air, wind, 0.0) else "gaps"


def _after(run: Run, pause):
    return Q_(float(run.cooling(_set("set_temperature", "degC"), pause).temperature.magnitude[-1]), "degC")


@solves
def cabin_after_pause(pause):
    """Hot water in the foamed run after a pause."""
    return _after(cabin(), pause)


@solves
def bare_cabin_after_pause(pause):
    """Hot water in the bare run after a pause."""
    return _after(cabin(foam=0.0), pause)


@solves
def foam_after_pause(pause):
    """Says how the foamed run's water compares with the bare one's after a pause."""
    gap = (cabin_after_pause(pause) - bare_cabin_after_pause(pause)).magnitude
    return "much warmer" if gap >= MUCH else "same" if gap > -1 else "colder"


@solves
def cabin_hours_to_ice(air, wind):
    """Gives the time until the run can have ice, from the cold inlet."""
    return _hours(cabin(air=air, wind=wind), _set("cold_inlet", "degC"))


@solves
def cabin_hours_to_ice_from_hot(air, wind):
    """Gives the time until the run can have ice, from the tank's temperature."""
    return _hours(cabin(air=air, wind=wind), cabin_tank())


@solves
def cabin_hours_to_ice_twice_foamed(air, wind):
    """Gives the time until the run can have ice with foam twice as thick, from the cold inlet."""
    return _hours(cabin(air=air, wind=wind, foam=2.0), _set("cold_inlet", "degC"))


@solves
def bare_cabin_hours_to_ice(air, wind):
    """Gives the time until the bare run can have ice, from the cold inlet."""
    return _hours(cabin(air=air, wind=wind, foam=0.0), _set("cold_inlet", "degC"))


@solves
def bigger_cabin_hours_to_ice(air, wind):
    """Gives the time until a run of pipe one size larger can have ice, from the cold inlet."""
    family, all_sizes = _entry()["pipe"], sizes(_entry()["pipe"])
    bigger = Pipe.nominal(family, all_sizes[all_sizes.index(_entry()["size"]) + 1])
    return _hours(replace(cabin(air=air, wind=wind), pipe=bigger), _set("cold_inlet", "degC"))


@solves
def ice_at_a_bare_valve(air, wind):
    """Standing water does not mix: a bare valve freezes as a bare run does."""
    share = (bare_cabin_hours_to_ice(air, wind) / cabin_hours_to_ice(air, wind)).magnitude
    return "many times sooner" if share < MANY_TIMES_SOONER else "a little sooner" if share < 0.98 else "same"


def _under_the_sky(air, wind, sky) -> Run:
    """The run where what it radiates to is colder than the air by `sky`."""
    return replace(cabin(), surroundings=Surroundings(air, wind=wind, radiant=air - sky))


@solves
def settles_under_the_sky(air, wind, sky):
    """Says where standing water goes in the end."""
    return Q_(float(_under_the_sky(air, wind, sky).line.rest()), "degC")


@solves
def ice_by_dawn(air, wind, sky):
    """Says whether a night under this sky brings ice."""
    return "yes" if _hours(_under_the_sky(air, wind, sky), _set("cold_inlet", "degC")) < LONG_NIGHT else "no"


@solves
def cabin_hours_from(air, start):
    """Gives the time until the run can have ice, from a given temperature."""
    return _hours(cabin(air=air), start)


def _hours(run: Run, start):
    return Q_(float(np.asarray(run.freezing(start).hours_to_zero.magnitude)), "h")


@solves
def ice_with_twice_the_foam(air, wind):
    """Says what twice the foam does for the time to ice."""
    once, twice = cabin_hours_to_ice(air, wind), cabin_hours_to_ice_twice_foamed(air, wind)
    return "double" if twice >= 2 * once else "less than double" if twice > 1.02 * once else "same"


@solves
def cabin_to_ice_with_gaps(air, share):
    """Gives the time until the run can have ice, from the cold inlet, with a share of the foam missing; share : a
    quantity, or a plain number.
    """
    missing = share if isinstance(share, float) else share.to("dimensionless").magnitude
    return _hours(cabin(air=air, gaps=missing), _set("cold_inlet", "degC"))


@solves
def ice_with_bare_clips(air, share):
    """Says which of three times a run with some foam missing comes nearest to."""
    whole = cabin_to_ice_with_gaps(air, 0.0)
    likely = {
        "foamed": whole,
        "share": whole * (1 - share.to("dimensionless")),
        "bare": _hours(cabin(air=air, foam=0.0), _set("cold_inlet", "degC")),
    }
    return min(likely, key=lambda name: abs((likely[name] - cabin_to_ice_with_gaps(air, share)).magnitude))


@solves
def first_to_freeze(air, cold, hot):
    """Says which of two equal runs can have ice first."""
    from_cold, from_hot = cabin_hours_from(air, cold), cabin_hours_from(air, hot)
    return "cold" if from_cold < from_hot else "hot" if from_hot < from_cold else "together"


def _tape_needed(air, wind, foam: float):
    """Heat that holds the run at a plan's own temperature, with its margin: foam closed over pipe and tape, as on the
    panel of lesson
    08.
    """
    run, entry = cabin(air=air, wind=wind, foam=foam), next(iter(rows("tern_bank/heat_tapes")))
    bore = bore_over(run.pipe, Q_(float(entry["thickness"]), "mm"))
    return plan(replace(run, insulation=replace(run.insulation, bore=bore, gap="open")), ANY_TAPE).needed


@solves
def windy_cabin_tape(air, wind):
    """Tape that holds the cabin's run in wind, for each metre."""
    return _tape_needed(air, wind, 1.0)


@solves
def cabin_tape(air):
    """Tape that holds the cabin's run in its own wind, for each metre."""
    return _tape_needed(air, None, 1.0)


@solves
def cabin_tape_twice_foamed(air):
    """Gives the same as `cabin_tape`, with foam twice as thick."""
    return _tape_needed(air, None, 2.0)


@solves
def tape_with_twice_the_foam(air):
    """Says what twice the foam does for the tape that is needed."""
    once, twice = cabin_tape(air), cabin_tape_twice_foamed(air)
    return "half" if twice <= once / 2 else "more than half" if twice < 0.98 * once else "same"


@solves
def bare_cabin_tape(air, wind):
    """Heat that a bare metre needs."""
    return cabin(air=air, wind=wind, foam=0.0).hold_power()


@solves
def cure_of_a_bare_valve(air, wind, strong):
    """Stronger tape cures a bare piece only where it gives what the piece needs."""
    return "cover" if bare_cabin_tape(air, wind) > strong else "stronger"
