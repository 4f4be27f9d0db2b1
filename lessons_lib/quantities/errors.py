"""The one error class of the library, and the sentences that it speaks."""

import difflib
import re
from fractions import Fraction

MOST_LISTED = 30  # names in one message
NEAREST = 3
# A size as the trade writes it: "22 mm", "1 1/4 in", "1-1/4"; whatever follows its unit is left alone.
SIZE = re.compile(r"(?:(\d+)[ -]+)?(\d+(?:[.,/]\d+)?) *([a-z]*)", re.IGNORECASE)


class InputError(ValueError):
    """An input that cannot be used. The message says which, what was given, what is possible and what to do."""


def shown(given: object, most: int = 60) -> str:
    """Gives what a reader wrote as a message can show it: in one line of at most `most` characters, signs that cannot
    be seen left out.
    """
    try:
        text = str(given)
    except ValueError:  # Python refuses to write whole numbers of more than 4300 digits
        text = "a number of thousands of digits"
    line = " ".join("".join(sign if sign.isprintable() else " " for sign in text[: 4 * most]).split())
    return line if len(line) <= most and len(text) <= 4 * most else f"{line[: most - 1]}…"


def unknown_name(kind: str, given: object, known: list[str], hint: str = "") -> InputError:
    """The error for a name that no table holds, with the nearest names first: by number where all are sizes in the
    same unit, else by spelling.

    kind : what was asked for, for example "pipe size"
    given : what the caller wrote
    known : every name that would do
    """
    given = shown(given)
    near = _nearest_sizes(given, known) or _nearest_spelt(given, known)
    nearest = near or list(known)
    listed = ", ".join(f'"{name}"' for name in nearest[:MOST_LISTED]) + (" …" if len(nearest) > MOST_LISTED else "")
    lead = "the nearest are" if near else "choose from"
    return InputError(f'{kind}: "{given}" is not known; {lead} {listed}.{" " + hint if hint else ""}')


def _nearest_spelt(given: str, known: list[str]) -> list[str]:
    """The names that are spelt most alike, in the order of the table; none where nothing is like it."""
    near = difflib.get_close_matches(given.lower(), [name.lower() for name in known], n=NEAREST, cutoff=0.4)
    return [name for name in known if name.lower() in near]


def _nearest_sizes(given: str, known: list[str]) -> list[str]:
    """The names with the nearest numbers, in the table's order; none where a name is no size or the units differ."""
    (wanted, unit), *sizes = map(_size, (given, *known))
    whole = SIZE.fullmatch(given.strip()) and sizes and None not in (wanted, *(size for size, _ in sizes))
    if not whole or {one for _, one in sizes} - {unit or sizes[0][1]}:
        return []
    numbers = sorted({size for size, _ in sizes}, key=lambda size: abs(size - wanted))[:NEAREST]
    return [name for name, (size, _) in zip(known, sizes) if size in numbers]


def _size(name: str) -> tuple[Fraction | None, str]:
    """The number that a name begins with, and its unit; None where it begins with no number."""
    read = SIZE.match(name.strip())
    if not read or re.search(r"/0+$", read[2]):
        return None, ""
    return int(read[1] or 0) + Fraction(read[2].replace(",", ".")), read[3].lower()
