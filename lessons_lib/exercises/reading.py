"""What a learner answers, read: a quantity, an option, an order. Nothing is ever run."""

import re

from ..quantities.display import SYSTEMS, US, symbol, unit
from ..quantities.errors import InputError
from ..quantities.reading import Typed, echo, examples, plain, read_typed
from ..quantities.units import Q_, unit_of
from ..storage.spelling import in_words_of

LONGEST = 120  # characters; nothing that answers a question is longer


def checked(text) -> str:
    """The answer's text, in one line. Raises InputError: nothing there, too long."""
    line = plain("".join(character if character.isprintable() else " " for character in str(text)[: LONGEST + 1]))
    if len(str(text)) > LONGEST:
        raise InputError(f"The answer has {len(str(text))} characters; possible are {LONGEST}. Give the answer only.")
    if not line:
        raise InputError("There is no answer yet. Give one.")
    return line


def read_amount(text, kind: str, system: str, own_unit: bool = False) -> Typed:
    """The quantity that an answer says, in the notation of `quantities.reading.read_typed`.

    kind : of display.KINDS; system : whose unit is meant where none is written
    own_unit : True: a unit of the other system is refused
    A share of up to 1 without a sign is a part of one: 0.76 is 76 %.
    Raises InputError: nothing there, too long, all that `read_typed` refuses, the other system's unit.
    """
    own = unit(kind, system)
    typed = read_typed(checked(text), own, examples(kind, (system,) if own_unit else SYSTEMS))
    if kind == "share" and not typed.written and abs(typed.number) <= 1:
        typed = Typed(Q_(100 * typed.number, unit_of("percent")), typed.number, "dimensionless", False)
    if own_unit and typed.unit != own and typed.unit in {unit(kind, one) for one in SYSTEMS}:
        raise InputError(f"The question gives it in the other unit already; answer in {symbol(kind, system)}.")
    return typed


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
