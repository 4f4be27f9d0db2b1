"""What a learner typed, read: a quantity in any unit and common notation, an option, an order. Nothing is ever run."""

import difflib
import re
from dataclasses import dataclass

from ..quantities.display import KINDS, SYSTEMS, US, show, symbol, unit
from ..quantities.errors import InputError
from ..quantities.reading import KINDS as DIMENSIONS
from ..quantities.reading import NUMBER, meant, plain, read_number
from ..quantities.unit_words import UNITS
from ..quantities.units import Q_, Quantity, unit_of
from ..storage.spelling import in_words_of

LONGEST = 120  # characters; nothing that answers a question is longer
ECHO = 40  # characters of a wrong answer that a message repeats
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
PLAIN_WORDS = {"", "times", "time", "x", "×", "fold", "pieces", "piece", "pcs", "bars", "bar", "elbows"}


@dataclass(frozen=True)
class Typed:
    """A quantity as it was typed. number : in `unit` (of the registry); written : whether a unit was written"""

    quantity: Quantity
    number: float
    unit: str
    written: bool


def checked(text) -> str:
    """The answer's text, in one line. Raises InputError: nothing there, too long."""
    line = plain("".join(character if character.isprintable() else " " for character in str(text)[: LONGEST + 1]))
    if len(str(text)) > LONGEST:
        raise InputError(f"The answer has {len(str(text))} characters; possible are {LONGEST}. Give the answer only.")
    if not line:
        raise InputError("There is no answer yet. Give one.")
    return line


def echo(text: str) -> str:
    """Gives as much of a wrong answer as a message repeats."""
    return text if len(text) <= ECHO else f"{text[:ECHO]}…"


def read_amount(text, kind: str, system: str, own_unit: bool = False, of_one: bool = True) -> Typed:
    """The quantity that an answer says.

    kind : of display.KINDS; system : whose unit is meant where none is written
    own_unit : True: a unit of the other system is refused
    of_one : whether a share of up to 1 without a sign is a part of one: 0.76 is 76 %
    "1/2 in", 3' 6", "3 ft 6 in", "1,5 m", "1 500", "140F", "1.5e3", "58%", "0.76", "ca. 3", "1 h 20 min", "1:20", "half
    an hour"
    Raises InputError: no number, an unknown unit, another kind of unit.
    """
    line = checked(text)
    rest = LEAD.sub("", line).rstrip(".;! ")
    own = unit(kind, system)
    like = _examples(kind, (system,) if own_unit else SYSTEMS)
    for words, figures in PARTS_IN_WORDS:
        rest = words.sub(figures, rest).strip()
    typed = _clock(rest, line, own) or _single(rest, line, own, like) or _compound(rest, line, own, like)
    if kind == "share" and of_one and not typed.written and abs(typed.number) <= 1:
        typed = Typed(Q_(100 * typed.number, unit_of("percent")), typed.number, "dimensionless", False)
    others = {unit(kind, one) for one in SYSTEMS} - {own}
    if own_unit and typed.unit in others:
        raise InputError(f"The question gives it in the other unit already; answer in {symbol(kind, system)}.")
    return typed


def _clock(rest: str, line: str, own: str) -> Typed | None:
    """A time as a clock shows it: "1:20" is minutes and seconds where seconds are asked, hours and minutes where
    hours are.
    """
    match = CLOCK.fullmatch(rest)
    if match is None or not _is_time(own):
        return None
    above, below, least, word = match.groups()
    first = UNITS_WRITTEN.get(_squeezed(word)) if word else "hour" if least else {"s": "min", "h": "hour"}.get(own)
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
        raise InputError(f'"{echo(line)}" divides by nothing. Write it like {like}.') from None
    except ValueError:
        return None
    if re.search(r"\d", word) and word not in UNITS:
        return None
    name = _unit(word, line, own, like)
    return Typed(Q_(number, unit_of(name)), number, name, bool(word) and word not in ("°", "deg", "degrees"))


def _compound(rest: str, line: str, own: str, like: str) -> Typed:
    """Feet and inches, hours and minutes: the same kind of unit each time, smaller from one to the next."""
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
        part = Q_(number, unit_of(name))
        total, last, first = part if total is None else total + part, name, first or name
    return Typed(total, total.to(unit_of(first)).magnitude, first, True)


def _squeezed(word: str) -> str:
    """A unit without the freedoms of writing: "W / (m·K)", "W/m/K" and "w/mk" are one."""
    small = re.sub(r"[\s().·*^\-°]", "", word.lower().replace(" per ", "/").replace("degrees", "deg"))
    above, _, below = small.partition("/")
    return f"{above}/{below.replace('/', '')}" if below else above


UNITS_WRITTEN = {_squeezed(word): name for word, name in UNITS.items()}


def _unit(word: str, line: str, own: str, like: str) -> str:
    """The unit that a word means where one like `own` is asked for. Raises InputError: unknown, or of another kind."""
    if word in ("", "°", "deg", "degrees") or unit_of(own).dimensionless and word in PLAIN_WORDS:
        return own
    if _is_time(own):
        word = MINUTES_AND_SECONDS.get(word, word)
    name = UNITS_WRITTEN.get(_squeezed(word))
    if name is None:
        near = difflib.get_close_matches(_squeezed(word), UNITS_WRITTEN, n=1, cutoff=0.6) if word[:1].isalpha() else []
        hint = f' Did you mean "{near[0]}"?' if near else ""
        raise InputError(f'"{echo(line)}": the unit "{echo(word)}" is not known here.{hint} Write it like {like}.')
    if own.startswith("delta_") and name in ("degC", "degF"):
        name = f"delta_{name}"
    if unit_of(name).dimensionality != unit_of(own).dimensionality:
        kinds = {unit_of(one).dimensionality: words for one, words in DIMENSIONS}
        wanted = kinds.get(unit_of(own).dimensionality, "plain number")
        given = kinds.get(unit_of(name).dimensionality, "value of another kind")
        raise InputError(f'"{echo(line)}" is a {given}; asked is a {wanted}. {meant(name, own)}Write it like {like}.')
    return name


def _examples(kind: str, systems) -> str:
    """An answer of a kind as it may be written in these unit systems."""
    sample = {"temperature": 60, "share": 40, "count": 4}.get(kind, 3)
    shown = (show(Q_(sample, unit_of(KINDS[kind].units[0])), kind, system) for system in systems)
    return " or ".join(f'"{text}"' for text in dict.fromkeys(shown))


def read_choice(text, choices) -> str:
    """The key of the option that an answer names, by its letter or in its words.

    choices : (letter, key, text) triples. Raises InputError: none of them, or more than one.
    """
    line = checked(text)
    letters = {letter.lower(): key for letter, key, _ in choices}
    match = re.fullmatch(r"(?:answer|option|choice)?\s*\(?([a-z])\)?[.:]?", line.lower())
    if match and match[1] in letters:
        return letters[match[1]]
    wanted = _words(line)
    found = [key for _, key, words in choices if _words(words) == wanted]
    found = found or [key for _, key, words in choices if len(wanted) > 2 and f" {wanted} " in f" {_words(words)} "]
    if len(found) != 1:
        listed = ", ".join(letter for letter, _, _ in choices)
        why = "fits more than one option" if found else "is none of the options"
        raise InputError(f'"{echo(line)}" {why}. Answer with a letter: {listed}.')
    return found[0]


def _words(text: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", in_words_of(text, US).lower()))


def read_order(text, choices) -> tuple[str, ...]:
    """The keys in the order that an answer names by letters: "B A D C", "b,a,d,c", "badc", "B > A > D > C".

    Raises InputError: a letter that is missing, doubled or not there.
    """
    line = checked(text)
    letters = {letter: key for letter, key, _ in choices}
    given = re.sub(r"[\s,;.>→\-–/|]+", "", line.upper())
    unknown = [letter for letter in dict.fromkeys(given) if letter not in letters]
    if unknown:
        raise InputError(
            f'"{echo(line)}" holds {echo(", ".join(unknown))}; possible are the letters {", ".join(letters)}, each'
            " once."
        )
    doubled = [letter for letter in letters if given.count(letter) > 1]
    missing = [letter for letter in letters if letter not in given]
    if doubled or missing:
        parts = [f"{', '.join(doubled)} more than once"] * bool(doubled) + [f"{', '.join(missing)} not at all"] * bool(
            missing
        )
        raise InputError(f'"{echo(line)}" names {" and ".join(parts)}. Name each letter once: {", ".join(letters)}.')
    return tuple(letters[letter] for letter in given)
