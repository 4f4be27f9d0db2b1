"""Sums with quantities, and what people get who reckon with bare figures."""

import math

from ...quantities.units import Q_
from .registry import solves


@solves
def same(value):
    """Gives the value itself: for a slip that takes one number of the question for the answer."""
    return value


@solves
def plus(first, *more):
    """Gives the sum of all values."""
    return sum(more, first)


@solves
def plus_several(first, second, count):
    """Gives first + count × second."""
    return first + second * count.magnitude


@solves
def minus(first, *more):
    """Two temperatures leave a difference."""
    for one in more:
        first = first - one
    return first


@solves
def times(first, *more):
    """Gives the product of all values."""
    for one in more:
        first = first * one
    return first


@solves
def over(first, *more):
    """The first divided by each of the others."""
    for one in more:
        first = first / one
    return first


@solves
def along(each, per, *lengths):
    """`each` for every `per` along a length, several times where plain numbers follow."""
    return times(each * (lengths[0] / per).to("dimensionless"), *lengths[1:])


@solves
def cooler(temperature, *drops):
    """A temperature less some drops."""
    for drop in drops:
        temperature = temperature - drop
    return temperature


@solves
def warmer(temperature, *rises):
    """A temperature and some rises."""
    for rise in rises:
        temperature = temperature + rise
    return temperature


@solves
def whole_up(total, each):
    """Gives how many of `each` make up at least `total`."""
    return Q_(math.ceil((total / each).to("dimensionless").magnitude - 1e-9), "")


@solves
def whole_down(total, each):
    """Gives how many whole ones of `each` go into `total`."""
    return Q_(math.floor((total / each).to("dimensionless").magnitude + 1e-9), "")


@solves
def log_of_ratio(first, second):
    """Natural logarithm of first ÷ second."""
    return Q_(math.log((first / second).to("dimensionless").magnitude), "")


@solves
def square_for_circle(area_like):
    """Says what an area becomes when the width is squared and π/4 forgotten."""
    return area_like * 4 / math.pi


@solves
def figures_times(*values):
    """The figures multiplied, their units forgotten."""
    return math.prod(_figure(value) for value in values)


@solves
def figures_over(first, *more):
    """The figures divided, their units forgotten."""
    return _figure(first) / math.prod(_figure(value) for value in more)


@solves
def ratio_of_readings(first, second):
    """Says what the thermometer's figures give when they are divided, as if zero were nothing."""
    return Q_(first.magnitude / second.magnitude, "")


@solves
def stretched_by_readings(volume, hot, mixed):
    """A volume times the ratio of the thermometer's readings, a slip: rises would be right."""
    return volume * hot.magnitude / mixed.magnitude


@solves
def gap_as_temperature(gap):
    """A difference turned into a place on the scale, with the 32."""
    offset = "degF" if "Fahrenheit" in f"{gap.units:D}" else "degC"
    other = "degC" if offset == "degF" else "degF"
    return float(Q_(gap.magnitude, offset).to(other).magnitude)


def _figure(value) -> float:
    return float(getattr(value, "magnitude", value))
