"""The cabin's run of Tern Bank (invented), on which the main panel opens."""

import numpy as np

from ...insulation import NONE, Insulation
from ...pipe import Pipe
from ...run import Run
from ...surroundings import Surroundings
from ...tables import tern_bank
from ...units import Q_
from .registry import solves

HOLD = Q_(4.0, "degC")
MUCH = 20.0  # [K] that a foamed pipe is warmer by, to be called much


def _entry() -> dict:
    """The first run that ends at a tap."""
    return next(run for place in tern_bank() for run in place["run"] if run["ends_at"] == "tap")


def _set(name: str, unit: str):
    return Q_(_entry()[name], unit)


def cabin(length=None, air=None, wind=None, foam: float = 1.0, gaps: float = 0.0) -> Run:
    """The run, with some of it changed; foam : times its own thickness, 0 bare; gaps : share of the length without foam."""
    entry = _entry()
    cover = Insulation(entry["insulation"], _set("thickness", "mm") * foam) if foam else Insulation(NONE, Q_(0.0, "mm"))
    around = Surroundings(_set("air", "degC") if air is None else air, _set("wind", "m/s") if wind is None else wind)
    length = _set("length", "m") if length is None else length
    return Run(Pipe.nominal(entry["pipe"], entry["size"]), length, cover, around, bare_share=gaps)


def _arrives(run: Run, flow=None):
    return run.delivery_temperature(_set("set_temperature", "degC"), _set("flow", "L/min") if flow is None else flow)


@solves
def cabin_tank():
    return _set("set_temperature", "degC")


@solves
def cabin_arrives(length, flow):
    return _arrives(cabin(length), flow)


@solves
def cabin_drop(length, flow):
    return cabin_tank() - cabin_arrives(length, flow)


@solves
def coldest_change(flow):
    """Which one change leaves the coldest water at the tap."""
    found = {
        "bare": _arrives(cabin(foam=0.0), flow), "longer": _arrives(cabin(_set("length", "m") * 2), flow),
        "slower": _arrives(cabin(), flow / 2),
    }
    return min(found, key=lambda change: found[change].magnitude)


def _after(run: Run, pause):
    return Q_(float(run.cooling(_set("set_temperature", "degC"), pause).temperature.magnitude[-1]), "degC")


@solves
def cabin_after_pause(pause):
    return _after(cabin(), pause)


@solves
def bare_cabin_after_pause(pause):
    return _after(cabin(foam=0.0), pause)


@solves
def foam_after_pause(pause):
    gap = (cabin_after_pause(pause) - bare_cabin_after_pause(pause)).magnitude
    return "much warmer" if gap >= MUCH else "same" if gap > -1 else "colder"


@solves
def cabin_hours_to_ice(air, wind):
    return _hours(cabin(air=air, wind=wind), _set("cold_inlet", "degC"))


@solves
def cabin_hours_to_ice_from_hot(air, wind):
    return _hours(cabin(air=air, wind=wind), cabin_tank())


@solves
def cabin_hours_to_ice_twice_foamed(air, wind):
    return _hours(cabin(air=air, wind=wind, foam=2.0), _set("cold_inlet", "degC"))


@solves
def cabin_hours_from(air, start):
    return _hours(cabin(air=air), start)


def _hours(run: Run, start):
    return Q_(float(np.asarray(run.freezing(start).hours_to_zero.magnitude)), "h")


@solves
def ice_with_twice_the_foam(air, wind):
    once, twice = cabin_hours_to_ice(air, wind), cabin_hours_to_ice_twice_foamed(air, wind)
    return "double" if twice >= 2 * once else "less than double" if twice > 1.02 * once else "same"


@solves
def cabin_to_ice_with_gaps(air, share):
    """From the cold inlet, with a share of the foam missing; share : a quantity, or a plain number"""
    missing = share if isinstance(share, float) else share.to("dimensionless").magnitude
    return _hours(cabin(air=air, gaps=missing), _set("cold_inlet", "degC"))


@solves
def ice_with_bare_clips(air, share):
    """Which of three times a run with some foam missing comes nearest to."""
    whole = cabin_to_ice_with_gaps(air, 0.0)
    likely = {"foamed": whole, "share": whole * (1 - share.to("dimensionless")), "bare": _hours(cabin(air=air, foam=0.0), _set("cold_inlet", "degC"))}
    return min(likely, key=lambda name: abs((likely[name] - cabin_to_ice_with_gaps(air, share)).magnitude))


@solves
def first_to_freeze(air, cold, hot):
    from_cold, from_hot = cabin_hours_from(air, cold), cabin_hours_from(air, hot)
    return "cold" if from_cold < from_hot else "hot" if from_hot < from_cold else "together"


@solves
def cabin_tape(air, wind):
    """Heat that holds the run at 4 °C."""
    return cabin(air=air, wind=wind).hold_power(HOLD)


@solves
def cabin_tape_twice_foamed(air, wind):
    return cabin(air=air, wind=wind, foam=2.0).hold_power(HOLD)


@solves
def tape_with_twice_the_foam(air, wind):
    once, twice = cabin_tape(air, wind), cabin_tape_twice_foamed(air, wind)
    return "half" if twice <= once / 2 else "more than half" if twice < 0.98 * once else "same"
