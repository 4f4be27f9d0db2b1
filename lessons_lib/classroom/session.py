"""A session in a room: minutes, people, benches and lessons give a timetable, rounds at the benches, and what to lay
out.
"""

import math
from dataclasses import dataclass

from ..quantities.border import whole
from ..quantities.display import both
from ..quantities.errors import InputError, unknown_name
from ..quantities.units import Q_
from ..storage import tables
from .lesson_minutes import lessons, minutes_of
from .rotation import KEPT, SHORTEST, TOGETHER, WAYS, sets_of
from .timetable import parts_of

AT_A_BENCH = 4  # more people at one bench only watch; common practice, no source
MOST_PEOPLE, MOST_BENCHES, LONGEST = 200, 50, 600
CAUTION = (
    "Times are common practice, no source: your room, your people and your rigs decide. Nobody is at a bench without an"
    " instructor in the room."
)


@dataclass(frozen=True)
class Ahead:
    """Holds what must begin before the session. lesson; minutes : before the session's beginning, at least; what : is
    begun.
    """

    lesson: str
    minutes: int
    what: str


@dataclass(frozen=True)
class Item:
    """One line of the kit list. count : for the whole session; lessons : that use it; kilograms : of all of it, 0 where
    it is not bought by weight
    """

    item: str
    count: int
    lessons: tuple
    kilograms: float = 0.0

    @property
    def many(self) -> str:
        """Says how many, and of what is bought by weight how much: "7", "7, together 21 kg (46 lb)"."""
        if not self.kilograms:
            return str(self.count)
        return f"{self.count}, together {both(Q_(self.kilograms, 'kg'), 'mass')}"


@dataclass(frozen=True)
class Plan:
    """Holds the plan of a session. Made by `plan`.

    minutes : there are; people, benches; lessons : in the order in which they are held; way : one of WAYS
    groups : how many people each has; sets : the lessons that stand side by side, with who is where in each turn
    parts : the timetable, as long as it comes out; kit; ahead
    """

    minutes: int
    people: int
    benches: int
    lessons: tuple
    way: str
    groups: tuple
    sets: tuple
    parts: tuple
    kit: tuple
    ahead: tuple

    @property
    def rounds(self) -> int:
        """Gives the turns at the benches of the set that has the most."""
        return max(len(one.turns) for one in self.sets)

    @property
    def at_once(self) -> int:
        """Gives the most people that are at the benches at a time."""
        return max(sum(self.groups[group] for group in turn.values()) for one in self.sets for turn in one.turns)

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
                f" left over.{self._order()}"
            )
        return (
            f"{self.minutes} minutes are too short for {which}: together they need {self.needed}."
            f" {self._advice()}{self._order()}"
        )

    def _order(self) -> str:
        """Says that lessons changed places to save time; empty where they are in the order of teaching."""
        if self.way != SHORTEST or self.lessons == tuple(one for one in lessons() if one in self.lessons):
            return ""
        return " To save time lessons have changed places, so a worksheet may ask about one that comes later."

    def _advice(self) -> str:
        """The fewest lessons to drop, or another way, or more benches, or more time."""
        ways = []
        drop = _to_drop(self)
        if drop and len(drop) < len(self.lessons):
            ways.append(f"drop {' and '.join(drop)}")
        if self.way != SHORTEST and (sooner := self.held(SHORTEST)).needed < self.needed:
            ways.append(f"hold {SHORTEST} (then {sooner.needed} minutes)")
        more = min(math.ceil(self.people / AT_A_BENCH), MOST_BENCHES)
        if more > self.benches:
            wider = plan(self.minutes, self.people, more, self.lessons, self.way)
            if wider.needed < self.needed:
                ways.append(f"lay out {wider.benches} benches (then {wider.needed} minutes)")
        ways.append(f"take {self.needed} minutes")
        return f"{', or '.join(ways)}.".capitalize()

    def held(self, way: str) -> "Plan":
        """Gives the same session held in another way."""
        return plan(self.minutes, self.people, self.benches, self.lessons, way)


def plan(minutes, people, benches, chosen, way: str = TOGETHER) -> Plan:
    """A timetable for a session.

    minutes, people, benches : whole numbers; chosen : lessons "01" and so on, in the order in which they are held
    way : one of WAYS, of which SHORTEST may change that order
    A timetable that is longer than the minutes is given too; `fits` and `told` say so.
    Raises InputError: a number out of range, no lesson, an unknown one, one that is named twice, fewer benches
    than lessons where every bench is to keep its own.
    """
    minutes, people = _number("minutes", minutes, LONGEST), _number("people", people, MOST_PEOPLE)
    benches, wanted = _number("benches", benches, MOST_BENCHES), tuple(str(one) for one in chosen)
    for one in wanted:
        if one not in lessons():
            raise unknown_name("lesson", one, list(lessons()))
    if not wanted or len(set(wanted)) < len(wanted):
        raise InputError(f"lessons: {', '.join(wanted) or 'none'} was given. Choose at least one, and each once.")
    if way not in WAYS:
        raise unknown_name("way", way, list(WAYS))
    if way == KEPT and benches < len(wanted):
        raise InputError(
            f"benches: {benches} for {len(wanted)} lessons. Where every bench keeps its lesson, each lesson needs one:"
            f" lay out {len(wanted)}, choose fewer lessons, or hold {SHORTEST}."
        )
    sets, groups = _fastest(wanted, people, benches, way)
    used = max(len(turn) for one in sets for turn in one.turns)
    return Plan(
        minutes,
        people,
        used,
        tuple(one for each in sets for one in each.lessons),
        way,
        groups,
        sets,
        parts_of(sets),
        _kit(sets, people),
        tuple(Ahead(one, takes.lead, takes.begin) for one in wanted if (takes := minutes_of(one)).lead),
    )


def _fastest(wanted: tuple, people: int, benches: int, way: str) -> tuple[tuple, tuple]:
    """The sets, and the groups' sizes: as many groups as take the least time, none with more than fit at a bench."""
    least = math.ceil(people / AT_A_BENCH)
    counts = range(least, max(least, min(people, benches)) + 1)
    tried = {count: sets_of(wanted, benches, count, way) for count in counts}
    count = min(counts, key=lambda one: (sum(sum(each.minutes) for each in tried[one]), -one))
    return tried[count], _shared_out(people, count)


def _shared_out(people: int, groups: int) -> tuple[int, ...]:
    """People a group, as even as can be, the larger ones first."""
    each, more = divmod(people, groups)
    return tuple(each + (place < more) for place in range(groups))


def _number(name: str, value, most: int) -> int:
    found = whole(value, name, 1)
    if found > most:
        raise InputError(f"{name}: {value} was given; possible is 1 to {most}.")
    return found


def _kit(sets: tuple, people: int) -> tuple[Item, ...]:
    """The things a session needs. Benches that stand side by side need theirs each; from set to set things go on, so
    the most that any set asks for is enough.
    """
    found: dict[str, Item] = {}
    for one in sets:
        mine: dict[str, int] = {}
        for row in (row for row in tables.rows("kit") if row["lesson"] in one.lessons):
            lesson, item, before = row["lesson"], row["item"], mine.get(row["item"], 0)
            times = {"bench": used(one, lesson), "room": 1, "person": people}
            per = row.word("per", times)
            count = row.whole("count") * times[per]
            if not count:  # a school's own row says that it does without
                continue
            mine[item] = before + count if per == "bench" else max(before, count)
            known = found.get(item, Item(item, 0, ()))
            most = max(known.count, mine[item])
            found[item] = Item(item, most, (*known.lessons, lesson), most * (row.number("kg") if row["kg"] else 0.0))
    return tuple(sorted(found.values(), key=lambda one: one.item.lower()))


def used(of, lesson: str) -> int:
    """The benches of a lesson at which anybody is in any turn of its set."""
    return sum(what == lesson and any(bench in turn for turn in of.turns) for bench, what in enumerate(of.laid_out))


def _to_drop(of: Plan) -> tuple[str, ...]:
    """The fewest lessons without which the rest fits, the longest first; empty where even one alone does not fit."""
    left = list(of.lessons)
    dropped = []
    while len(left) > 1:
        longest = max(left, key=lambda one: minutes_of(one).path + minutes_of(one).bench + minutes_of(one).talk)
        for one in (*reversed(left), longest):  # the last one that is enough by itself, else the longest
            rest = tuple(lesson for lesson in left if lesson != one)
            if plan(of.minutes, of.people, of.benches, rest, of.way).fits:
                return (*dropped, one)
        left.remove(longest)
        dropped.append(longest)
    return ()
