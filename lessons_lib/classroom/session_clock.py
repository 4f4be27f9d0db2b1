"""Times of a session as a clock shows them, and the beginning as an instructor types it."""

from datetime import datetime

from ..quantities.display import US
from ..quantities.errors import InputError, shown

DAY = 24 * 60  # [min]
FORMS = ("%H:%M", "%H.%M", "%Hh%M", "%H%M", "%H", "%I:%M %p", "%I %p", "%I:%M%p", "%I%p")


def read_clock(text: str) -> int | None:
    """Reads when a session begins, "9:30", "14.15", "2 pm": minutes after midnight; nothing typed: None.

    Raises InputError: no time of day.
    """
    given = text.strip().lower().replace("a.m.", "am").replace("p.m.", "pm")
    if not given:
        return None
    for form in FORMS:
        try:
            found = datetime.strptime(given, form)
        except ValueError:  # written in another of the forms, or in none
            continue
        return found.hour * 60 + found.minute
    raise InputError(
        f'begins at: "{shown(text)}" is not a time of day. Write it like 9:30, 14:15 or 2:15 pm, or leave it empty.'
    )


def clock(begins: int | None, minutes: int, system: str) -> str:
    """A time of the session, "09:05", or "9:05 a.m." for US readers; without a beginning the minutes from it, "5 min".

    begins : [min] after midnight; minutes : from the beginning, negative beforehand
    """
    if begins is None:
        return f"{minutes} min"
    days, time = divmod(begins + minutes, DAY)
    hours, left = divmod(time, 60)
    day = {0: "", -1: " the day before"}.get(days, " the next day")
    if system == US:
        return f"{hours % 12 or 12}:{left:02} {'a.m.' if hours < 12 else 'p.m.'}{day}"
    return f"{hours:02}:{left:02}{day}"


def told_ahead(ahead, begins: int | None, system: str) -> str:
    """Says what begins before the session, and when. ahead : a lesson, its minutes beforehand, and what is begun"""
    at = f" (at {clock(begins, -ahead.minutes, system)})" if begins is not None else ""
    what = f": {ahead.what}" if ahead.what else ""
    return f"lesson {ahead.lesson}, at least {ahead.minutes} min beforehand{at}{what}"
