"""The circuits of a heat tape and of an outdoor unit: sums for exercises; an electrician decides."""

from ...plant.circuit import drop_along, tape_circuit
from ...plant.unit_circuit import heat_pump_circuit
from ...quantities.units import Q_
from .registry import solves

ONE_WATT, ONE_METRE, ANY_BREAKER, ANY_VOLTAGE = Q_(1.0, "W/m"), Q_(1.0, "m"), Q_(16.0, "A"), Q_(230.0, "V")
AT = 0.02  # share of the limit within which a load is called at it


@solves
def tape_current(power, length, voltage):
    """Current of a heat tape."""
    return tape_circuit(power, length, voltage, ANY_BREAKER).load


@solves
def continuous_limit(breaker, region):
    """Says what a breaker may carry for hours by a region's rule."""
    return tape_circuit(ONE_WATT, ONE_METRE, ANY_VOLTAGE, breaker, region=region).continuous_limit


@solves
def smallest_breaker(load, region):
    """The smallest standard breaker of a region for a load that runs for hours, by its rule."""
    length = Q_(10.0, "m")
    return tape_circuit(load * ANY_VOLTAGE / length, length, ANY_VOLTAGE, ANY_BREAKER, region=region).next_breaker


@solves
def longest_tape(power, voltage, breaker, region):
    """Longest tape on a breaker, as a continuous load by a region's rule."""
    return tape_circuit(power, ONE_METRE, voltage, breaker, region=region).longest_tape


@solves
def room_on_the_circuit(power, length, voltage, breaker, region):
    """Says whether a load is below, at or above what a breaker may carry for hours by a region's rule."""
    found = tape_circuit(power, length, voltage, breaker, region=region)
    share = (found.room / found.continuous_limit).to("dimensionless").magnitude
    return "at" if abs(share) <= AT else "below" if share > 0 else "above"


@solves
def unit_least(compressor, others, region):
    """The least that an outdoor unit's circuit carries by a region's rule."""
    return heat_pump_circuit(compressor, others, ANY_VOLTAGE, region=region).least_ampacity


@solves
def lost_in_the_cable(load, cable, length):
    """The volts that a loaded cable loses out and back, its copper at 75 degC."""
    return Q_(drop_along(load.to("A").magnitude, cable, length, Q_(75.0, "degC")), "V")
