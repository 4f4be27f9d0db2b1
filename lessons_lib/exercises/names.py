"""Names of learners made safe: for a file name, for a line on a board, and told apart."""

import hashlib
import re
import unicodedata

from ..quantities.errors import InputError
from .variants import plain_seat

LONGEST = 60  # characters of a name that are kept
SUFFIX = ".json"


def clean(name) -> str:
    """A name in one line without control characters, cut to 60 characters. It may still hold markup: whoever shows
    it escapes it.
    """
    text = unicodedata.normalize("NFKC", str(name)[: 4 * LONGEST].encode("utf-8", "replace").decode("utf-8"))
    line = " ".join("".join(one if one.isprintable() else " " for one in text).split())
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 1]}…"


def seat(given) -> str:
    """A seat or mark as it is shown: "Seat 7.", "07" and "7.0" are all "7"; other marks stay as they were given."""
    kept = clean(given)
    plain = plain_seat(kept) if kept else ""
    return plain if plain.isdigit() else kept


def identity(name, seat="") -> str:
    """Gives what tells learners apart: the name, case and blanks ignored, and the seat or mark. Raises InputError:
    neither is given.
    """
    kept, mark = clean(name), clean(seat)
    if not kept and not mark:
        raise InputError("name: nothing was given. Type your name, your seat number, or both.")
    return f"{kept.casefold()}\n{plain_seat(mark) if mark else ''}"


def file_name(name, seat="") -> str:
    """The name of a learner's file: a few plain letters to recognise it by, and a hash of the identity that cannot
    be mistaken.
    """
    who = identity(name, seat)
    digest = hashlib.sha256(who.encode("utf-8")).hexdigest()[:12]
    ascii_only = unicodedata.normalize("NFKD", who).encode("ascii", "ignore").decode("ascii")
    letters = re.sub(r"[^a-z0-9]+", "-", ascii_only).strip("-")[:24].strip("-")
    return f"{letters or 'learner'}-{digest}{SUFFIX}"
