"""The one error class of the library, and the sentences that it speaks."""

import difflib

MOST_LISTED = 30  # names in one message


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
    """The error for a name that no table holds, with the nearest names first.

    kind : what was asked for, for example "pipe size"
    given : what the caller wrote
    known : every name that would do
    """
    given = shown(given)
    near = difflib.get_close_matches(given.lower(), [name.lower() for name in known], n=3, cutoff=0.4)
    nearest = [name for name in known if name.lower() in near] or list(known)
    listed = ", ".join(f'"{name}"' for name in nearest[:MOST_LISTED]) + (" …" if len(nearest) > MOST_LISTED else "")
    lead = "the nearest are" if near else "choose from"
    return InputError(f'{kind}: "{given}" is not known; {lead} {listed}.{" " + hint if hint else ""}')
