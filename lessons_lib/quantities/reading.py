"""Numbers and quantities as people write them: "1-1/2 in", "30,5 °C", "6 ft 4 in"."""

import difflib
import math
import re
from functools import lru_cache

from .errors import InputError
from .unit_words import SYMBOLS, UNITS
from .units import Q_, Domain, to_base, unit_of

# One unit of each kind, and what the kind is called.
KINDS = (
    ("m", "length"),
    ("degC", "temperature"),
    ("L/min", "flow"),
    ("m/s", "speed"),
    ("kPa", "pressure"),
    ("s", "time"),
    ("W/m", "power per length"),
    ("W", "power"),
    ("V", "voltage"),
    ("A", "current"),
    ("percent", "share"),
    ("L", "volume"),
    ("kWh", "energy"),
    ("kg", "mass"),
    ("N", "force"),
    ("W/(m*K)", "conductivity"),
)
# What is asked where a unit of one kind stands for another kind.
MEANT = {("lb", "kPa"): 'Do you mean pounds per square inch? Then write "psi".'}
NUMBER = re.compile(
    r"(?P<sign>[-+]?) ?(?:"
    r"(?:(?P<whole>\d{1,6})(?: | ?- ?))?(?P<above>\d{1,6}) ?/ ?(?P<below>\d{1,6})"  # 1/2, 1 1/2, 1-1/2
    r"|(?P<spaced>[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?)"  # 1 500, 1 500,5
    r"|(?P<grouped>[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?)"  # 1,500.5
    r"|(?P<continental>[1-9]\d{0,2}(?:\.\d{3})+,\d+)"  # 1.500,5
    r"|(?P<plain>(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d{1,3})?)"
    r")(?![\d.,/])(?P<after>.*)",
)
SIMPLE = {
    "−": "-",
    "–": "-",
    "—": "-",
    "’": "'",
    "′": "'",
    "″": '"',
    "”": '"',
    "“": '"',
    "''": '"',
    "º": "°",
    "℃": "°C",
    "℉": "°F",
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
    "⁄": "/",
}
FEET_AND_INCHES = re.compile(r"""\s*(?P<feet>[^a-z'"]+?)\s*(?:ft|feet|foot|')\s*-?\s*(?P<inches>\d.*)""", re.IGNORECASE)
LONGEST = 200  # characters of a quantity
IN_CODE = re.compile(r'Q_\((-?[\d.]+), "([^"]+)"\)')


def read_number(text: str) -> tuple[float, str]:
    """A number as people write it, and what stands after it in small letters: "1-1/2 in", "30,5", "1,000 mm", "1 500",
    "1.5e3".

    One comma or point before exactly three digits and after one to three is a thousand where it is a comma ("1,500"), a
    decimal
    where it is a point ("1.500"). Raises ValueError or ZeroDivisionError where there is none.
    """
    match = NUMBER.fullmatch(plain(text))
    if match is None:
        raise ValueError(text)
    if match["below"]:
        value = int(match["whole"] or 0) + int(match["above"]) / int(match["below"])
    elif match["grouped"]:
        value = float(match["grouped"].replace(",", ""))
    elif match["continental"]:
        value = float(match["continental"].replace(".", "").replace(",", "."))
    else:
        value = float((match["spaced"] or match["plain"]).replace(" ", "").replace(",", "."))
    if not math.isfinite(value):
        raise ValueError(text)
    return (-value if match["sign"] == "-" else value), match["after"].strip().lower()


def plain(text: str) -> str:
    """Gives the same text with one way of writing signs, blanks, inch and foot marks, degrees and small fractions."""
    for fancy, simple in SIMPLE.items():
        text = text.replace(fancy, simple)
    return " ".join(text.split())


@lru_cache(4096)  # a building says the same lengths and sizes again and again
def read_quantity(text: str, domain: Domain):
    """The quantity that a text says, in the unit that it was written in, checked against the domain.

    text : "18 ft", "6 ft 4 1/2 in", "120 °F", "5,5 m/s"
    Raises InputError: no number, no unit, an unknown unit (the nearest is named), another kind of unit, out of range.
    """
    if len(text) > LONGEST:
        raise InputError(
            f'{domain.name}: "{text[:20]}…" is no number that anybody measures: {len(text)} characters. Write it like'
            f' "{example(domain)}".'
        )
    feet = FEET_AND_INCHES.fullmatch(plain(text))
    if feet:
        whole, inches = read_quantity(f"{feet['feet']} ft", domain), read_quantity(feet["inches"], domain)
        total = whole + inches
    else:
        total = Q_(*_parts(text, domain))
    try:
        to_base(total, domain)
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
    unit = UNITS.get(word)
    wanted = unit_of(domain.unit).dimensionality
    if unit is None:
        own = {symbol.lower(): symbol for name, symbol in SYMBOLS.items() if unit_of(name).dimensionality == wanted}
        near = difflib.get_close_matches(word, own, n=1, cutoff=0.3) or own
        listed = ", ".join(f'"{own[small]}"' for small in near)
        raise InputError(f'{domain.name}: "{text}": the unit "{word}" is not known; nearest: {listed}. {like}')
    if unit_of(unit).dimensionality != wanted:
        kinds = {unit_of(one).dimensionality: kind for one, kind in KINDS}
        raise InputError(
            f'{domain.name}: "{text}" is a {kinds[unit_of(unit).dimensionality]}, not a'
            f" {kinds.get(wanted, domain.name)}. {meant(unit, domain.unit)}{like}"
        )
    return number, unit


def meant(given: str, wanted: str) -> str:
    """Gives what to ask whoever wrote a unit where one like `wanted` belongs; empty where nothing is likely."""
    alike = (
        words
        for (one, other), words in MEANT.items()
        if one == given and unit_of(other).is_compatible_with(unit_of(wanted))
    )
    return "".join(f"{words} " for words in alike)


def example(domain: Domain) -> str:
    """The domain's example as a reader would write it, for example "12 m"."""
    return in_plain_words(domain.example).strip('"')


def in_plain_words(message: str) -> str:
    """A message of the library for a reader of files: its examples in code become examples in plain text."""
    return IN_CODE.sub(lambda match: f'"{match[1]} {SYMBOLS.get(match[2], match[2])}"', message)
