"""Testing, discharge pipes and mixing valves between their inlets."""

from ...physics import mixing_valve
from ...plant.pressure_test import pressure_test
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .registry import solves

LENGTH, ROOM, STILL, SHORTLY = Q_(20, "m"), Q_(20, "degC"), Q_(0, "delta_degC"), Q_(1, "min")
NO_LEAK = Q_(0, "mL/min")
MANY, SOME = 100, 3  # times, from which on the words say "hundreds" and "ten"


@solves
def unexplained(each, per, cooled, fell):
    """Gives what a gauge fell beyond what its water's temperature explains. each : for a change `per`"""
    return fell - (each / per * cooled).to(fell.units)


@solves
def less_several(whole, each, count):
    """Gives what is left of a whole when so many parts are taken off."""
    return whole - each * count


@solves
def takes_at(takes, flow, more):
    """Gives the pressure that a valve takes at another flow."""
    rated = flow.to("m**3/s").magnitude / (takes.to("Pa").magnitude / mixing_valve.BAR) ** 0.5
    high = 10 * mixing_valve.BAR
    outlet = mixing_valve.outlet_pressure(0.5, more.to("m**3/s").magnitude, high, high, rated)
    return Q_(high - outlet, "Pa").to(takes.units)


@solves
def crosses(hot, cold):
    """Says which way water goes through a mixing valve without check valves while its taps are shut."""
    return "nothing" if hot == cold else "hot into cold" if hot > cold else "cold into hot"


@solves
def times_air_against_water(family, size, pressure):
    """Gives how many times the work of squeezed water is stored in squeezed air, in the same run of copper."""

    def stored(air: float):
        pipe = Pipe.nominal(family, size)
        return pressure_test(pipe, LENGTH, pressure, ROOM, STILL, SHORTLY, NO_LEAK, air).energy

    return stored(1.0) / stored(0.0)


@solves
def air_against_water(family, size, pressure):
    """Says the same as `times_air_against_water`, in words."""
    times = times_air_against_water(family, size, pressure).to("").magnitude
    return "hundreds" if times >= MANY else "ten" if times >= SOME else "as much"
