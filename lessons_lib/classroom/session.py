"""A session in a room: minutes, people, benches and lessons give a timetable, rounds at the benches, and what to lay
out.
"""

import math
from dataclasses import dataclass

from ..quantities.border import whole
from ..quantities.errors import InputError, unknown_name
from ..storage import tables

# Common practice, no source.
OPENING = 5  # [min] exits, stops, who isolates what
CLOSING = 5  # [min] water off, benches wiped, what was learned
CHANGE = 2  # [min] from one round at the benches to the next
BREAK, WITHOUT_BREAK = 10, 90  # [min]
AT_A_BENCH = 4  # more people at one bench only watch
MOST_PEOPLE, MOST_BENCHES, LONGEST = 200, 50, 600
CAUTION = (
    "Times are common practice, no source: your room, your people and your rigs decide. Nobody is at a bench without an"
    " instructor in the room."
)


@dataclass(frozen=True)
class Part:
    """One line of the timetable. start : [min] from the beginning; minutes; what; lesson : "02", or "" """

    start: int
    minutes: int
    what: str
    lesson: str

    @property
    def end(self) -> int:
        return self.start + self.minutes


@dataclass(frozen=True)
class Ahead:
    """Holds what must begin before the session. lesson; minutes : before the session's beginning, at least."""

    lesson: str
    minutes: int


@dataclass(frozen=True)
class Item:
    """One line of the kit list. count : for the whole session; lessons : that use it"""

    item: str
    count: int
    lessons: tuple


@dataclass(frozen=True)
class Plan:
    """Holds the plan of a session. Made by `plan`.

    minutes : there are; people, benches; lessons : in the order given; parts : the timetable, as long as it comes out
    rounds : at the benches, of each lesson; at_once : people at the benches at a time; kit; ahead
    """

    minutes: int
    people: int
    benches: int
    lessons: tuple
    parts: tuple
    rounds: int
    at_once: int
    kit: tuple
    ahead: tuple

    @property
    def needed(self) -> int:
        """Gives the time that all parts need [min]."""
        return self.parts[-1].end

    @property
    def fits(self) -> bool:
        return self.needed <= self.minutes

    def told(self) -> str:
        """Says whether it fits, in a sentence; and what to do where it doesn't."""
        which = f"lesson{'s' if len(self.lessons) > 1 else ''} {', '.join(self.lessons)}"
        if self.fits:
            left = self.minutes - self.needed
            return (
                f"It fits: {which} take {self.needed} of {self.minutes} minutes; {left} {'is' if left == 1 else 'are'}"
                " left over."
            )
        return f"{self.minutes} minutes are too short for {which}: together they need {self.needed}. {self._advice()}"

    def _advice(self) -> str:
        """The fewest lessons to drop, or more benches, or more time."""
        ways = []
        drop = _to_drop(self)
        if drop and len(drop) < len(self.lessons):
            ways.append(f"drop {' and '.join(drop)}")
        more = math.ceil(self.people / AT_A_BENCH)
        if self.rounds > 1:
            at_once = plan(self.minutes, self.people, min(more, MOST_BENCHES), self.lessons)
            ways.append(f"lay out {at_once.benches} benches (then {at_once.needed} minutes)")
        ways.append(f"take {self.needed} minutes")
        return f"{', or '.join(ways)}.".capitalize()


def lessons() -> tuple[str, ...]:
    """Lessons that can be planned, in teaching order."""
    return tuple(row["lesson"] for row in tables.rows("session_minutes"))


def plan(minutes, people, benches, chosen) -> Plan:
    """A timetable for a session.

    minutes, people, benches : whole numbers; chosen : lessons "01" to "14", in the order in which they are held
    A timetable that is longer than the minutes is given too; `fits` and `told` say so.
    Raises InputError: a number out of range, no lesson, an unknown one, one that is named twice.
    """
    minutes, people = _number("minutes", minutes, LONGEST), _number("people", people, MOST_PEOPLE)
    benches, wanted = _number("benches", benches, MOST_BENCHES), tuple(str(one) for one in chosen)
    for one in wanted:
        if one not in lessons():
            raise unknown_name("lesson", one, list(lessons()))
    if not wanted or len(set(wanted)) < len(wanted):
        raise InputError(f"lessons: {', '.join(wanted) or 'none'} was given. Choose at least one, and each once.")
    used = min(benches, people)
    rounds = math.ceil(people / (used * AT_A_BENCH))
    return Plan(
        minutes,
        people,
        used,
        wanted,
        _parts(wanted, rounds),
        rounds,
        math.ceil(people / rounds),
        _kit(wanted, people, used),
        tuple(Ahead(one, _row(one).whole("lead")) for one in wanted if _row(one).whole("lead")),
    )


def _number(name: str, value, most: int) -> int:
    found = whole(value, name, 1)
    if found > most:
        raise InputError(f"{name}: {value} was given; possible is 1 to {most}.")
    return found


def _row(lesson: str) -> tables.Row:
    return tables.row("session_minutes", "lesson", lesson, "lesson")


def _parts(wanted: tuple, rounds: int) -> tuple[Part, ...]:
    """Makes the timetable: a break before a lesson that would begin more than an hour and a half after the last one."""
    parts = [Part(0, OPENING, "Opening: exits, stops, who isolates what", "")]
    rested = 0
    for lesson in wanted:
        mine = _lesson_parts(lesson, rounds)
        length = sum(minutes for _, minutes in mine)
        if parts[-1].end - rested > OPENING and parts[-1].end + length - rested > WITHOUT_BREAK:
            parts.append(Part(parts[-1].end, BREAK, "Break", ""))
            rested = parts[-1].end
        for what, minutes in mine:
            parts.append(Part(parts[-1].end, minutes, what, lesson))
    parts.append(Part(parts[-1].end, CLOSING, "Closing: water off, benches wiped, what was learned", ""))
    return tuple(parts)


def _lesson_parts(lesson: str, rounds: int) -> list[tuple[str, int]]:
    row = _row(lesson)
    found = [("Ten-minute path: guess, panel, first questions", row.whole("path"))]
    for number in range(1, rounds + 1):
        what = (
            "At the benches"
            if rounds == 1
            else f"At the benches, group {number} of {rounds}; the others at their worksheets"
        )
        found.append((what, row.whole("bench") + (CHANGE if number < rounds else 0)))
    return [*found, ("Which was further off, you or the model?", row.whole("talk"))]


def _kit(wanted: tuple, people: int, benches: int) -> tuple[Item, ...]:
    """The most that any of the lessons asks for; things go on from lesson to lesson."""
    times = {"bench": benches, "room": 1, "person": people}
    found: dict[str, Item] = {}
    for row in tables.rows("kit"):
        if row["lesson"] in wanted:
            before = found.get(row["item"], Item(row["item"], 0, ()))
            count = max(before.count, row.whole("count") * times[row.word("per", times)])
            found[row["item"]] = Item(row["item"], count, (*before.lessons, row["lesson"]))
    return tuple(sorted(found.values(), key=lambda one: one.item.lower()))


def _to_drop(of: Plan) -> tuple[str, ...]:
    """The fewest lessons without which the rest fits, the longest first; empty where even one alone does not fit."""
    left = list(of.lessons)
    dropped = []
    while len(left) > 1:
        longest = max(left, key=lambda one: sum(minutes for _, minutes in _lesson_parts(one, of.rounds)))
        for one in (*reversed(left), longest):  # the last one that is enough by itself, else the longest
            rest = [lesson for lesson in left if lesson != one]
            if _parts(tuple(rest), of.rounds)[-1].end <= of.minutes:
                return (*dropped, one)
        left.remove(longest)
        dropped.append(longest)
    return ()
