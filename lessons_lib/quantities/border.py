"""More for the border between quantities and floats: temperature differences, plain numbers, checks and texts for
arrays.

See units.py for the border itself.
"""

import math

import numpy as np

from .errors import InputError, shown
from .units import SUPPLY, USEFUL, Domain, to_base, ureg

ROUNDING = 1e-9  # of a unit conversion: 104 degF is 40 degC, give or take 1e-14; in kelvin, or as a share


def difference(value, domain: Domain):
    """The float or array inside a temperature difference [K], checked against the domain.

    value : Quantity in delta_degC, delta_degF or K
    domain : its unit is "delta_degC"
    Raises InputError: a temperature where a difference is needed, and all that `to_base` refuses.
    """
    if isinstance(value, ureg.Quantity) and value.check("[temperature]"):
        units = f"{value.units:D}"
        if units not in ("kelvin", "delta_degree_Celsius", "delta_degree_Fahrenheit", "degree_Rankine"):
            raise InputError(
                f"{domain.name}: {value} is a temperature, not a difference of two. Write it like {domain.example}."
            )
    return to_base(value, domain)


def of_kind(what: str, value, kind: type) -> None:
    """An InputError unless a value is of a class of this library. what : begins the message"""
    if not isinstance(value, kind):
        raise InputError(
            f"{what}: {shown(repr(value))} was given where a {kind.__name__} is needed. Make one with"
            f" lessons_lib.{kind.__name__}."
        )


def number(value, name: str, low: float, high: float, example: str) -> float:
    """A plain number above `low` and at most `high`, or an InputError."""
    if isinstance(value, ureg.Quantity) and value.dimensionless:
        value = value.to("").magnitude
    real = isinstance(value, (int, float, np.floating, np.integer)) and not isinstance(value, bool)
    if not real or not low < value <= high:
        raise InputError(
            f"{name}: {value} was given; possible is a plain number above {low:g} and at most {high:g}, for example"
            f" {example}."
        )
    return float(value)


def reachable(useful, supply) -> None:
    """An InputError where a useful temperature is above the supply. Both of shapes that fit together."""
    if np.any(np.greater(to_base(useful, USEFUL), to_base(supply, SUPPLY))):
        raise InputError(
            f"useful temperature: {useful} is above the supply temperature {supply}, so the tap can never reach it. "
            "Raise the supply or lower the useful temperature."
        )


def first_bad(bad, *arrays) -> tuple:
    """The entries of each array where `bad` is first true, for an error message."""
    shape = np.broadcast_shapes(np.shape(bad), *(np.shape(array) for array in arrays))
    place = np.flatnonzero(np.broadcast_to(bad, shape))[0]
    return tuple(float(np.broadcast_to(array, shape).ravel()[place]) for array in arrays)


def each(function, *values):
    """Gives what `function` says of single values, or an object array of it for arrays, which broadcast."""
    if all(np.ndim(value) == 0 for value in values):
        return function(*values)
    return np.vectorize(function, otypes=[object])(*values)


def whole(value, name: str, least: int = 0) -> int:
    """A whole number of at least `least`, or an InputError that begins with `name`."""
    real = isinstance(value, (int, float, np.integer, np.floating)) and not isinstance(value, bool)
    if not real or not math.isfinite(value) or value != int(value) or value < least:
        raise InputError(f"{name}: {value!r} was given; possible is a whole number, {least} or more.")
    return int(value)
