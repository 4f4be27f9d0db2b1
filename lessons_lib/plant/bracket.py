"""Wall brackets of an outdoor unit: numbers to hand to a licensed trade, never a verdict."""

from dataclasses import dataclass

from ..physics import bracket as physics
from ..quantities.border import number, whole
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import Q_, Domain, Quantity, broadcast, quantity, to_base

MASS = Domain("mass of the unit", "kg", 0, 1000, 'Q_(50, "kg")', above_low=True)
EXTRA = Domain("extra mass", "kg", 0, 1000, 'Q_(15, "kg")')
ARM = Domain("arm", "m", 0, 2, 'Q_(0.25, "m")', above_low=True)
SPACING = Domain("bolt spacing", "m", 0, 3, 'Q_(0.4, "m")', above_low=True)
GUST = Domain("wind", "m/s", 0, 90, 'Q_(30, "m/s")')
CAUTION = (
    "Static weight only, shared equally; numbers for whoever is licensed to fix it, and no word on whether it holds."
    " The pull-out of the anchor in THAT wall, wind, snow and ice, vibration, edge distances and the bracket itself"
    " decide. In use the load never falls equally on all bolts. Lifting gear and two people; nobody beneath. Local code"
    " decides."
)


@dataclass(frozen=True, repr=False, eq=False)
class BracketLoads(Printed):
    """Loads of a unit on wall brackets; plain statics, then times the safety factor.

    load : weight of unit and extra mass [N]; moment : load times arm [N m]
    tension : on each upper bolt [N]; shear : on each bolt [N]
    factored_load, factored_tension, factored_shear : the same times the safety factor [N]
    """

    load: Quantity
    moment: Quantity
    tension: Quantity
    shear: Quantity
    safety_factor: float
    factored_load: Quantity
    factored_tension: Quantity
    factored_shear: Quantity
    caution: str = CAUTION


def bracket_loads(mass, arm, bolt_spacing, *, safety_factor, top_bolts=2, bolts=4, extra=Q_(0.0, "kg")) -> BracketLoads:
    """Loads on the bolts of wall brackets.

    mass : of the unit, full; extra : snow, ice, water in the tray
    arm : from the wall to the unit's centre of gravity
    bolt_spacing : from the lower to the upper bolts; the bracket turns about the lower ones
    safety_factor : above 1, from the code or the anchor's maker; there is no default
    top_bolts, bolts : upper bolts, and all bolts, of all brackets together
    Raises InputError.
    """
    kilograms, more, out, apart = (
        to_base(mass, MASS),
        to_base(extra, EXTRA),
        to_base(arm, ARM),
        to_base(bolt_spacing, SPACING),
    )
    broadcast(mass=kilograms, extra=more, arm=out, bolt_spacing=apart)
    factor = number(safety_factor, "safety factor", 1, 50, 4)
    upper, every = whole(top_bolts, "top bolts", 1), whole(bolts, "bolts", 1)
    if upper > every:
        raise InputError(
            f"top bolts: {upper} upper bolts were given of {every} in all. Count the bolts of all brackets together."
        )
    load = physics.weight(kilograms + more)
    overturning = physics.moment(load, out)
    tension, shear = physics.bolt_tension(overturning, apart, upper), physics.bolt_shear(load, every)
    return BracketLoads(
        quantity(load, "N"),
        quantity(overturning, "N*m"),
        quantity(tension, "N"),
        quantity(shear, "N"),
        factor,
        quantity(factor * load, "N"),
        quantity(factor * tension, "N"),
        quantity(factor * shear, "N"),
    )


def wind_pressure(wind):
    """Pressure of wind brought to rest [Pa], before any factor for gusts, height and shape: those are the code's."""
    return quantity(physics.wind_pressure(to_base(wind, GUST)), "Pa")
