"""The unit registry, and the border between quantities and SI floats.

A value crosses this border once on the way in (`to_base`) and once on the way out (`quantity`).
Inside are floats or numpy arrays in SI, except that temperatures are in degrees Celsius.
"""

from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from pickle import UnpicklingError

import numpy as np
import pint

from .errors import InputError, shown


def _registry() -> pint.UnitRegistry:
    """Makes the one registry of units. Its parsed definitions are kept where this Python keeps pint, or else in the
    user's cache folder: 0.3 s less at each start. What another copy of pint has kept there names files of its own,
    and is of no use once that copy is gone.
    """
    options = {"autoconvert_offset_to_baseunit": False, "on_redefinition": "ignore"}
    for kept in (Path(pint.__file__).with_name("__pycache__"), ":auto:"):
        try:
            return pint.UnitRegistry(cache_folder=kept, **options)
        except (OSError, EOFError, UnpicklingError):  # no folder to write to, files that are gone, half a file
            pass
    return pint.UnitRegistry(**options)


ureg = _registry()
ureg.define("gpm = gallon / minute")
ureg.define("liter = decimeter ** 3 = L = l = litre")  # prints as L, which a 1 cannot be mistaken for
# Pint takes "mm" or "L/min" apart each time that it meets them. A reader may type more texts than are kept.
ureg.parse_units_as_container = lru_cache(maxsize=1000)(ureg.parse_units_as_container)
ureg.formatter.default_format = ".4g~P"
ureg.formatter.default_sort_func = None  # W/(m K) stays in the order that the trade writes
pint.set_application_registry(ureg)  # what is pickled comes back with units of this registry
Q_ = ureg.Quantity
Quantity = pint.Quantity  # for annotations: a number or array of numbers with its unit


unit_of = cache(ureg.Unit)  # text → unit, parsed once


@dataclass(frozen=True)
class Domain:
    """Says what a quantity may be: its name, the unit inside, its bounds (in that unit), and an example to copy."""

    name: str
    unit: str
    low: float = -np.inf
    high: float = np.inf
    example: str = ""
    above_low: bool = False  # True: the low bound itself is not allowed

    @property
    def is_temperature(self) -> bool:
        return self.unit == "degC"


# Validity ranges in one place. Sources: the table ranges in data/ and the ranges of the correlations (see physics/).
WATER = Domain("water temperature", "degC", 0, 99, 'Q_(60, "degC")')
SUPPLY = Domain("supply temperature", "degC", 0, 99, 'Q_(60, "degC")')
START = Domain("start temperature", "degC", 0, 99, 'Q_(10, "degC")')
USEFUL = Domain("useful temperature", "degC", 0, 99, 'Q_(40, "degC")')
TARGET = Domain("target temperature", "degC", 0, 99, 'Q_(20, "degC")')
HOLD = Domain("hold temperature", "degC", 0, 60, 'Q_(4, "degC")')
AIR = Domain("air temperature", "degC", -60, 60, 'Q_(-10, "degC")')
RADIANT = Domain("radiant temperature", "degC", -80, 80, 'Q_(-20, "degC")')
SOIL = Domain("soil temperature", "degC", -30, 60, 'Q_(8, "degC")')
SKIN_WATER = Domain("water temperature", "degC", 0, 100, 'Q_(49, "degC")')
WIND = Domain("wind", "m/s", 0, 40, 'Q_(5, "m/s")')
LENGTH = Domain("length", "m", 0, 10_000, 'Q_(12, "m")', above_low=True)
DEPTH = Domain("depth", "m", 0, 20, 'Q_(0.8, "m")', above_low=True)
FLOW = Domain("flow", "m**3/s", 0, 0.1, 'Q_(6, "L/min")', above_low=True)
FLOW_OR_NONE = Domain("flow", "m**3/s", 0, 0.1, 'Q_(6, "L/min")')
DURATION = Domain("duration", "s", 0, 3.2e7, 'Q_(8, "h")', above_low=True)
BORE = Domain("inside diameter", "m", 0.001, 0.06, 'Q_(14, "mm")')
OUTSIDE = Domain("outside diameter", "m", 0.003, 0.06, 'Q_(16, "mm")')
WALL = Domain("wall thickness", "m", 0.0002, 0.02, 'Q_(1.2, "mm")')
INSULATION_BORE = Domain("insulation bore", "m", 0.003, 0.25, 'Q_(22, "mm")')
THICKNESS = Domain("insulation thickness", "m", 0, 0.125, 'Q_(19, "mm")')
CONDUCTIVITY = Domain("conductivity", "W/(m*K)", 0.001, 500, 'Q_(0.04, "W/(m*K)")')
DENSITY = Domain("density", "kg/m**3", 1, 25_000, 'Q_(940, "kg/m**3")')
HEAT_CAPACITY = Domain("heat capacity", "J/(kg*K)", 100, 10_000, 'Q_(2300, "J/(kg*K)")')
ROUGHNESS = Domain("roughness", "m", 0, 0.001, 'Q_(0.0015, "mm")')


def to_base(value, domain: Domain):
    """The float or array inside a quantity, in the domain's unit, checked against the domain.

    value : Quantity, scalar or array
    Raises InputError: no unit, wrong kind of unit, a temperature difference, not finite, outside the domain.
    """
    if not (isinstance(value, ureg.Quantity) and _suits(value.units, domain)):
        raise InputError(_wrong_kind(value, domain))
    with np.errstate(over="ignore"):  # what becomes infinite is told below
        inside = np.asarray(_converted(_numbers(value, domain), value.units, unit_of(domain.unit)))
    if inside.size == 0:
        raise InputError(f"{domain.name}: an empty list was given. {_hint(domain)}")
    bad = ~np.isfinite(inside)
    if not bad.any():
        too_low = inside <= domain.low if domain.above_low else inside < domain.low - _slack(domain.low)
        bad = too_low | (inside > domain.high + _slack(domain.high))
    if bad.any():
        raise InputError(_out_of_range(value, inside, bad, domain))
    return float(inside) if inside.ndim == 0 else inside


def _numbers(value, domain: Domain) -> np.ndarray:
    """The magnitude as floats, or an InputError: text, truth values, complex numbers, holes in a list."""
    raw = value.magnitude
    if not np.ma.is_masked(raw):
        kind = np.asarray(raw).dtype.kind
        try:
            if kind in "iuf" or (
                kind == "O" and not any(isinstance(item, (bool, complex, str)) for item in np.ravel(raw))
            ):
                return np.asarray(raw, dtype=float)
        except (TypeError, ValueError, OverflowError):
            kind = "O"
    raise InputError(f"{domain.name}: {raw!r} is not made of real numbers. {_hint(domain)}")


def _slack(bound: float) -> float:
    """Room for the rounding of a unit conversion: 32 degF is 0 degC, give or take 1e-14."""
    return 1e-9 * max(1.0, abs(bound))


@cache
def _suits(units: pint.Unit, domain: Domain) -> bool:
    """Says whether values in these units can be what the domain asks for; a temperature difference is no
    temperature.
    """
    same = units.dimensionality == unit_of(domain.unit).dimensionality
    return same and not (domain.is_temperature and "delta_" in f"{units:D}")


def _wrong_kind(value, domain: Domain) -> str:
    """Says what is wrong with a value that does not suit its domain."""
    if not isinstance(value, ureg.Quantity):
        if isinstance(value, pint.Quantity):
            return f"{domain.name}: {value} belongs to another unit registry. Build it with lessons_lib.Q_."
        return f"{domain.name}: {value!r} carries no unit of this library. {_hint(domain)}"
    if value.dimensionality == unit_of(domain.unit).dimensionality:
        return f"{domain.name}: {value} is a temperature difference, not a temperature. {_hint(domain)}"
    mass = domain.unit == "m**3/s" and value.check("[mass]/[time]")
    also = " It is a mass flow; how much volume that is depends on temperature." if mass else ""
    return f"{domain.name}: {value} is not a {_kind_word(domain)}.{also} {_hint(domain)}"


def _kind_word(domain: Domain) -> str:
    words = {"degC": "temperature", "m": "length", "m**3/s": "volume flow", "m/s": "speed", "s": "time"}
    return words.get(domain.unit, domain.name)


def _hint(domain: Domain) -> str:
    return f"Write it like {domain.example}." if domain.example else ""


def _out_of_range(value, inside, bad, domain: Domain) -> str:
    """Say what was given and what is possible, both in the reader's own unit."""
    worst = float(inside[bad].ravel()[0])
    if not np.isfinite(worst):
        return f"{domain.name}: {worst} was given{_place(bad)}; it must be a finite number. {_hint(domain)}"
    low, high = (in_unit_of(value, bound, domain.unit) for bound in (domain.low, domain.high))
    possible = f"above {low} and at most {high}" if domain.above_low else f"from {low} to {high}"
    given = f"{in_unit_of(value, worst, domain.unit)} was given{_place(bad)}"
    return f"{domain.name}: {given}; possible is {possible}. {_hint(domain)}"


def in_unit_of(given, value: float, unit: str) -> str:
    """A float of the inside as text in the unit that the reader used."""
    return f"{Q_(value, unit_of(unit)).to(given.units):.6g~P}"


def number_in(value, unit: str):
    """The number or array of a quantity in a unit, without a new quantity on the way."""
    return _converted(value.magnitude, value.units, unit_of(unit))


def _converted(numbers, given: pint.Unit, wanted: pint.Unit):
    """The same numbers in another unit. Raises pint.DimensionalityError."""
    factor = _factor(given, wanted)
    return ureg.convert(numbers, given, wanted) if factor is None else numbers * factor


@lru_cache(maxsize=1000)
def _factor(given: pint.Unit, wanted: pint.Unit) -> float | None:
    """Gives what turns numbers in one unit into another; None where the zeros of both differ (degC, degF)."""
    return None if ureg.convert(0.0, given, wanted) else ureg.convert(1.0, given, wanted)


def own_copy(value):
    """Gives the same quantity with numbers of its own, which nobody changes: the caller's array may go on changing."""
    if not np.ndim(value.magnitude):
        return value
    numbers = np.array(value.magnitude)
    numbers.setflags(write=False)
    return Q_(numbers, value.units)


def quantity(value, unit: str):
    """A float or array of the inside, wrapped once in its unit."""
    return Q_(float(value) if np.ndim(value) == 0 else value, unit_of(unit))


def broadcast(**arrays) -> tuple:
    """The shape that all arrays share, or an InputError that names them.

    arrays : name → float or array
    """
    try:
        return np.broadcast_shapes(*(np.shape(array) for array in arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {np.shape(array)}" for name, array in arrays.items() if np.ndim(array))
        raise InputError(
            f"these lists do not fit together: {shapes}. Give lists of one length, or single values."
        ) from None


def share(value, name: str) -> float:
    """A plain number between 0 and 1 (or a percentage), or an InputError."""
    inside = shares(value, name)
    if np.ndim(inside):
        raise InputError(
            f"{name}: a list of {np.size(inside)} values was given; possible is a number from 0 to 1, one value and not"
            " a list."
        )
    return inside


def shares(value, name: str):
    """A number or an array of numbers between 0 and 1, or percentages, or an InputError."""
    if isinstance(value, ureg.Quantity):
        if not value.dimensionless:
            raise InputError(f"{name}: {value} is not a share. Write a number from 0 to 1, for example 0.05.")
        value = value.to("").magnitude
    inside = np.asarray(value)
    possible = "possible is a number from 0 to 1, for example 0.05."
    if inside.dtype.kind not in "iuf":
        raise InputError(f"{name}: {shown(value)} was given; {possible}")
    bad = ~((inside >= 0) & (inside <= 1))
    if bad.any():
        raise InputError(f"{name}: {inside[bad].ravel()[0]:g} was given{_place(bad)}; {possible}")
    return float(inside) if inside.ndim == 0 else inside.astype(float)


def _place(bad: np.ndarray) -> str:
    """Says where in a list the first bad value stands; "" for a single value."""
    return f" as number {np.flatnonzero(bad)[0] + 1} of {bad.size}" if bad.ndim else ""
