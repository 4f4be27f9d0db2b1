"""The circuit of a heat tape: sums for exercises; an electrician decides."""

from ...plant.circuit import heat_pump_circuit, tape_circuit
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
    return heat_pump_circuit(load, ANY_VOLTAGE, ANY_BREAKER, region=region).next_breaker


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
