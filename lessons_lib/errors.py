"""The one error class of the library, and the sentences that it speaks."""

import difflib

MOST_LISTED = 30  # names in one message


class InputError(ValueError):
    """An input that cannot be used. The message says which, what was given, what is possible and what to do."""


def unknown_name(kind: str, given: object, known: list[str], hint: str = "") -> InputError:
    """The error for a name that no table holds, with the nearest names first.

    kind : what was asked for, for example "pipe size"
    given : what the caller wrote
    known : every name that would do
    """
    near = difflib.get_close_matches(str(given).lower(), [name.lower() for name in known], n=3, cutoff=0.4)
    nearest = [name for name in known if name.lower() in near] or list(known)
    listed = ", ".join(f'"{name}"' for name in nearest[:MOST_LISTED]) + (" …" if len(nearest) > MOST_LISTED else "")
    lead = "the nearest are" if near else "choose from"
    return InputError(f'{kind}: "{given}" is not known; {lead} {listed}.{" " + hint if hint else ""}')
