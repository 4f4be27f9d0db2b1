"""Numbers and quantities as people write them: "1-1/2 in", "30,5 °C", "6 ft 4 in"."""

import difflib
import re
from fractions import Fraction

from .errors import InputError
from .units import Domain, Q_, si, unit_of

# How people write units, beside the symbols themselves.
WRITTEN = {
    '"': "in", "inch": "in", "inches": "in", "'": "ft", "feet": "ft", "foot": "ft", "metres": "m", "meters": "m",
    "c": "°c", "deg c": "°c", "degc": "°c", "f": "°f", "deg f": "°f", "degf": "°f", "lpm": "l/min", "gal/min": "gpm",
    "hour": "h", "hours": "h", "minutes": "min", "watts": "w", "volts": "v", "amps": "a", "percent": "%",
}
# Symbols in small letters, and the unit of the registry that each means.
UNITS = {
    "m": "m", "cm": "cm", "mm": "mm", "ft": "ft", "in": "in", "°c": "degC", "°f": "degF", "l/min": "L/min", "gpm": "gpm",
    "l/s": "L/s", "kpa": "kPa", "bar": "bar", "psi": "psi", "m/s": "m/s", "km/h": "km/h", "mph": "mph", "ft/s": "ft/s",
    "h": "hour", "min": "min", "s": "s", "w/m": "W/m", "w/ft": "W/ft", "w": "W", "kw": "kW", "v": "V", "a": "A", "%": "percent",
}
SYMBOLS = {"°c": "°C", "°f": "°F", "l/min": "L/min", "l/s": "L/s", "kpa": "kPa", "w/m": "W/m", "w/ft": "W/ft",
           "w": "W", "kw": "kW", "v": "V", "a": "A"}
# One unit of each kind, and what the kind is called.
KINDS = (
    ("m", "length"), ("degC", "temperature"), ("L/min", "flow"), ("m/s", "speed"), ("kPa", "pressure"), ("s", "time"),
    ("W/m", "power per length"), ("W", "power"), ("V", "voltage"), ("A", "current"), ("percent", "share"),
)
FEET_AND_INCHES = re.compile(r"""\s*(?P<feet>[^a-z'"]+?)\s*(?:ft|feet|foot|')\s*-?\s*(?P<inches>\d.*)""", re.IGNORECASE)
IN_CODE = re.compile(r'Q_\((-?[\d.]+), "([^"]+)"\)')


def read_number(text: str) -> tuple[float, str]:
    """A number as people write it, and what stands after it in small letters: "1-1/2 in", "30,5", "1,000 mm".

    Raises ValueError or ZeroDivisionError where there is none.
    """
    match = re.fullmatch(r"\s*([-−+]?\d[\d.,/ ]*(?:-\d+/\d+)?|[-−+]?[.,]\d+)\s*(\S.*)?", text.replace("–", "-"))
    if match is None:
        raise ValueError(text)
    digits = match[1].replace("−", "-").strip()
    digits = digits.replace(",", "") if re.fullmatch(r"-?\d{1,3}(,\d{3})+(\.\d+)?", digits) else digits.replace(",", ".")
    parts = re.sub(r"(?<=\d)-(?=\d)", " ", digits).split()
    try:
        return float(sum(Fraction(part) for part in parts)), (match[2] or "").strip().lower()
    except OverflowError:
        raise ValueError(text) from None


def read_quantity(text: str, domain: Domain):
    """The quantity that a text says, in the unit that it was written in, checked against the domain.

    text : "18 ft", "6 ft 4 1/2 in", "120 °F", "5,5 m/s"
    Raises InputError: no number, no unit, an unknown unit (the nearest is named), another kind of unit, out of range.
    """
    feet = FEET_AND_INCHES.fullmatch(text)
    if feet:
        whole, inches = read_quantity(f"{feet['feet']} ft", domain), read_quantity(feet["inches"], domain)
        total = whole + inches
    else:
        total = Q_(*_parts(text, domain))
    try:
        si(total, domain)
    except InputError as error:
        raise InputError(in_plain_words(str(error))) from None
    return total


def _parts(text: str, domain: Domain):
    """Number and unit of the registry."""
    like = f'Write it like "{example(domain)}".'
    try:
        number, word = read_number(text)
    except (ValueError, ZeroDivisionError):
        raise InputError(f'{domain.name}: "{text}" does not begin with a number. {like}') from None
    if not word:
        raise InputError(f'{domain.name}: "{text}" carries no unit. {like}')
    unit = UNITS.get(WRITTEN.get(word, word))
    wanted = unit_of(domain.unit).dimensionality
    if unit is None:
        own = [symbol for symbol, name in UNITS.items() if unit_of(name).dimensionality == wanted]
        near = difflib.get_close_matches(word, own, n=1, cutoff=0.3) or own
        listed = ", ".join(f'"{SYMBOLS.get(symbol, symbol)}"' for symbol in near)
        raise InputError(f'{domain.name}: "{text}": the unit "{word}" is not known; nearest: {listed}. {like}')
    if unit_of(unit).dimensionality != wanted:
        kinds = {unit_of(one).dimensionality: kind for one, kind in KINDS}
        raise InputError(
            f'{domain.name}: "{text}" is a {kinds[unit_of(unit).dimensionality]}, not a {kinds.get(wanted, domain.name)}. {like}'
        )
    return number, unit


def example(domain: Domain) -> str:
    """The domain's example as a reader would write it, for example "12 m"."""
    return in_plain_words(domain.example).strip('"')


def in_plain_words(message: str) -> str:
    """A message of the library for a reader of files: its examples in code become examples in plain text."""
    return IN_CODE.sub(lambda match: f'"{match[1]} {_plain_unit(match[2])}"', message)


def _plain_unit(unit: str) -> str:
    symbol = next((symbol for symbol, name in UNITS.items() if name == unit), unit)
    return SYMBOLS.get(symbol, symbol)
