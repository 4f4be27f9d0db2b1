"""Seats as an instructor types them: "1-12", "3, 7", "Ana, Ben"."""

import re

from ..quantities.errors import InputError
from . import names
from .variants import plain_seat

MOST = 60  # seats of one print: more is a slip of the pen, and slow
SPAN = re.compile(r"(?:seats?\s+)?(\d{1,6})\s*(?:-|–|to)\s*(\d{1,6})", re.IGNORECASE)
POSSIBLE = 'Possible are numbers, spans and names with commas between: "1-12", "3, 7, Ana".'


def read_seats(text) -> tuple[str, ...]:
    """The seats of a typed list, in its order, each once.

    text : "1-12", "3, 7", "Ana, Ben"; a comma, semicolon or new line between
    Raises InputError: nothing, a span that runs backwards, more than 60 seats.
    """
    found: dict[str, str] = {}
    for part in re.split(r"[,;\n]|(?<=\d)\s+(?:and|&)\s+", str(text)[:5000]):
        for seat in _part(part.strip()):
            found.setdefault(plain_seat(seat), seat)
            if len(found) > MOST:
                raise InputError(f"seats: more than {MOST} were given. Print them in parts: 1-{MOST} first.")
    if not found:
        raise InputError(f"seats: nothing was given. {POSSIBLE}")
    return tuple(found.values())


def _part(text: str) -> list[str]:
    """The seats of what stands between two commas."""
    if match := SPAN.fullmatch(text):
        first, last = int(match[1]), int(match[2])
        if last < first:
            raise InputError(f'seats: "{names.clean(text)}" runs backwards. {POSSIBLE}')
        return [str(number) for number in range(first, min(last, first + MOST) + 1)]
    name = names.clean(text)
    if re.match(r"\d+\s*[-–]\s*\d", name):
        raise InputError(f'seats: "{name}" begins like a span and is none. {POSSIBLE}')
    return [name] if name else []


def title_of(seat) -> str:
    """A seat as a title: "Seat 7", "Ana"."""
    text = names.clean(seat)
    return f"Seat {plain_seat(text)}" if plain_seat(text).isdigit() else text
