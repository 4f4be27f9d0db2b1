"""The one reader of what a person types: "1-1/2 in", "30,5 °C", "6 ft 4 in", "1 h 20 min", "1:20", "half an hour"."""

import difflib
import math
import re
from dataclasses import dataclass
from functools import cache, lru_cache

from . import display
from .errors import InputError, shown
from .unit_words import SYMBOLS, UNITS, squeezed
from .units import Q_, Domain, Quantity, to_base, unit_of

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
    ("mg/L", "hardness"),
    ("m**2", "area"),
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
LEAD = re.compile(
    r"^(?:about|approx(?:imately|\.)?|around|roughly|circa|ca\.?|c\.|nearly|~|≈|=|it is)\s*", re.IGNORECASE
)
ONE_NUMBER = re.compile(NUMBER.pattern.removesuffix("(?P<after>.*)"))
NEXT_UNIT = {"ft": "in", "hour": "min", "min": "s"}  # of what follows without a unit: 3' 6, 1 h 20
MINUTES_AND_SECONDS = {"m": "min", "'": "min", '"': "s"}  # where a time is asked: 1m30s, 1'30"
CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)(?::([0-5]\d))? ?([a-z]*)", re.IGNORECASE)
PARTS_IN_WORDS = (  # "half an hour", "three quarters of a minute", "an hour and a half"
    (re.compile(r"^(?:an?|one) (\w+) and a half$", re.IGNORECASE), r"1 1/2 \1"),
    (re.compile(r"^(?:a |one )?half\b(?: of)?(?: an?\b)? *", re.IGNORECASE), "1/2 "),
    (re.compile(r"^three[ -]quarters(?: of)?(?: an?\b)? *", re.IGNORECASE), "3/4 "),
    (re.compile(r"^(?:a |one )?quarter\b(?: of)?(?: an?\b)? *", re.IGNORECASE), "1/4 "),
    (re.compile(r"^an? (?=[a-z]+$)", re.IGNORECASE), "1 "),
)
DEGREES = ("°", "deg", "degrees")
COUNTED = {"times", "time", "x", "×", "fold", "pieces", "piece", "pcs", "bars", "bar", "elbows"}
LONGEST = 200  # characters of a quantity
ECHO = 40  # characters of what was typed that a message repeats
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


@dataclass(frozen=True)
class Typed:
    """A quantity as it was typed. number : in `unit` (of the registry); written : whether a unit was written"""

    quantity: Quantity
    number: float
    unit: str
    written: bool


def read_typed(text, own: str, like: str) -> Typed:
    """The quantity that somebody typed, in any unit of the kind of `own` and in everyday notation.

    own : unit of the registry that is meant where none is written; like : examples to copy, for messages
    "1/2 in", 3' 6", "3 ft 6 in", "1,5 m", "1 500", "140F", "1.5e3", "58%", "ca. 3", "1 h 20 min", "1:20", "half an hour"
    Raises InputError: no number, an unknown unit (the nearest is named), another kind of unit.
    """
    line = plain(str(text))
    if not line:
        raise InputError(f"There is no number yet. Write it like {like}.")
    if len(line) > LONGEST:
        raise InputError(
            f'"{line[:20]}…" is no number that anybody measures: {len(line)} characters. Write it like {like}.'
        )
    rest = LEAD.sub("", line).rstrip(".;! ")
    for words, figures in PARTS_IN_WORDS:
        rest = words.sub(figures, rest).strip()
    return _clock(rest, line, own) or _single(rest, line, own, like) or _compound(rest, line, own, like)


def _clock(rest: str, line: str, own: str) -> Typed | None:
    """A time as a clock shows it: "1:20" is minutes and seconds where seconds are asked, hours and minutes where
    hours are.
    """
    match = CLOCK.fullmatch(rest)
    if match is None or not _is_time(own):
        return None
    above, below, least, word = match.groups()
    usual = "hour" if least else {unit_of("s"): "min", unit_of("hour"): "hour"}.get(unit_of(own))
    first = UNITS.get(squeezed(word)) if word else usual
    if first not in ("hour", "min") or least and first == "min":
        raise InputError(
            f'"{echo(line)}" can mean two times. Write "{above} h {below} min" or "{above} min {below} s".'
        )
    total = (
        Q_(int(above), unit_of(first)) + Q_(int(below), unit_of(NEXT_UNIT[first])) + Q_(int(least or 0), unit_of("s"))
    )
    return Typed(total, total.magnitude, first, True)


def _is_time(own: str) -> bool:
    return unit_of(own).dimensionality == unit_of("s").dimensionality


def _single(rest: str, line: str, own: str, like: str) -> Typed | None:
    """One number with one unit or none; None where it is not that."""
    try:
        number, word = read_number(rest)
    except ZeroDivisionError:
        raise InputError(f'"{echo(line)}" divides by nothing, so it is no number. Write it like {like}.') from None
    except ValueError:
        return None
    if re.search(r"\d", word) and squeezed(word) not in UNITS:
        return None
    name = _unit(word, line, own, like)
    return Typed(Q_(number, unit_of(name)), number, name, word not in ("", *DEGREES))


def _compound(rest: str, line: str, own: str, like: str) -> Typed:
    """Feet and inches, hours and minutes: the same kind of unit each time, smaller from one to the next; a sign before
    the first holds for all.
    """
    sign, rest = (-1 if rest.startswith("-") else 1), rest.lstrip("-+ ")
    total, last, first, place = None, None, None, 0
    while place < len(rest) or total is None:
        match = ONE_NUMBER.match(rest, place)
        try:
            number, _ = read_number(match[0] if match else "")
        except (ValueError, ZeroDivisionError):
            raise InputError(f'"{echo(line)}" is not a number here. Write it like {like}.') from None
        tail = re.match(r"[^\d]*", rest[match.end() :])[0]
        place = match.end() + len(tail)
        word = tail.strip(" -,+").lower().removesuffix(" and").strip() or NEXT_UNIT.get(last, "")
        name = _unit(word, line, own, like) if word else ""
        if not name or name in ("degC", "degF") or last and unit_of(name) >= unit_of(last):
            raise InputError(f'"{echo(line)}" is not one number with its unit. Write it like {like}.')
        part = Q_(sign * number, unit_of(name))
        total, last, first = part if total is None else total + part, name, first or name
    return Typed(total, total.to(unit_of(first)).magnitude, first, True)


def _unit(word: str, line: str, own: str, like: str) -> str:
    """The unit that a word means where one like `own` is asked for. Raises InputError: unknown, or of another kind."""
    if word in ("", *DEGREES) or own == "" and word in COUNTED:
        return own
    if _is_time(own):
        word = MINUTES_AND_SECONDS.get(word, word)
    name, wanted = UNITS.get(squeezed(word)), unit_of(own).dimensionality
    if name is None:
        alike = {written: SYMBOLS[one] for written, one in UNITS.items() if unit_of(one).dimensionality == wanted}
        near = difflib.get_close_matches(squeezed(word), alike, n=1, cutoff=0.5)
        hint = f' Did you mean "{alike[near[0]]}"?' if near else ""
        raise InputError(f'"{echo(line)}": the unit "{echo(word)}" is not known here.{hint} Write it like {like}.')
    if own.startswith("delta_") and name in ("degC", "degF"):
        name = f"delta_{name}"
    if unit_of(name).dimensionality != wanted:
        kinds = {unit_of(one).dimensionality: words for one, words in KINDS}
        given = kinds.get(unit_of(name).dimensionality, "value of another kind")
        raise InputError(
            f'"{echo(line)}" is a {given}, not a {kinds.get(wanted, "plain number")}. {_meant(name, own)}Write it like'
            f" {like}."
        )
    return name


def _meant(given: str, wanted: str) -> str:
    """Gives what to ask whoever wrote a unit where one like `wanted` belongs; empty where nothing is likely."""
    alike = (
        words
        for (one, other), words in MEANT.items()
        if one == given and unit_of(other).is_compatible_with(unit_of(wanted))
    )
    return "".join(f"{words} " for words in alike)


def echo(text: str) -> str:
    """Gives as much of what was typed as a message repeats."""
    return shown(text, ECHO + 1)


@cache
def examples(kind: str, systems=display.SYSTEMS) -> str:
    """A value of a kind as it may be typed in these unit systems. kind : of display.KINDS"""
    sample = {"temperature": 60, "share": 40, "count": 4}.get(kind, 3)
    texts = (display.show(Q_(sample, unit_of(display.KINDS[kind].units[0])), kind, system) for system in systems)
    return " or ".join(f'"{text}"' for text in dict.fromkeys(texts))


@lru_cache(4096)  # a building says the same lengths and sizes again and again
def read_quantity(text: str, domain: Domain):
    """The quantity that a text in a file says, in the unit that it was written in, checked against the domain.

    text : in the notation of `read_typed`; a file has to name its units
    Raises InputError, which begins with the domain's name: all that `read_typed` refuses, no unit, out of range.
    """
    like = f'"{example(domain)}"'
    try:
        typed = read_typed(text, IN_CODE.fullmatch(domain.example)[2], like)
        if not typed.written:
            raise InputError(f'"{echo(text)}" carries no unit. Write it like {like}.')
    except InputError as error:
        raise InputError(f"{domain.name}: {error}") from None
    try:
        to_base(typed.quantity, domain)
    except InputError as error:
        raise InputError(in_plain_words(str(error))) from None
    return typed.quantity


def example(domain: Domain) -> str:
    """The domain's example as a reader would write it, for example "12 m"."""
    return in_plain_words(domain.example).strip('"')


def in_plain_words(message: str) -> str:
    """A message of the library for a reader of files: its examples in code become examples in plain text."""
    return IN_CODE.sub(lambda match: f'"{match[1]} {SYMBOLS.get(match[2], match[2])}"', message)
