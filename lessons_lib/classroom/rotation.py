"""Groups that go round between benches: each does every lesson once, and no bench has two groups at a time."""

import math
from dataclasses import dataclass
from functools import lru_cache

from .lesson_minutes import minutes_of

TOGETHER = "one lesson at a time, all benches alike"
SHORTEST = "a few lessons side by side, in the least time"
KEPT = "every bench keeps its lesson"
WAYS = (TOGETHER, SHORTEST, KEPT)


@dataclass(frozen=True)
class Set:
    """Lessons that stand side by side at the benches.

    lessons; laid_out : the lesson at each bench; turns : who is where in each, bench → group, both counted from 0
    minutes : of each turn, with what it takes until the next one
    """

    lessons: tuple
    laid_out: tuple
    turns: tuple
    minutes: tuple


def sets_of(lessons: tuple, benches: int, groups: int, way: str) -> tuple[Set, ...]:
    """The lessons of a session in the sets in which they are held. way : one of WAYS; for KEPT there must be as many
    benches as lessons.

    SHORTEST keeps the order of teaching where that costs no time; else it puts lessons with benches of like length side
    by side. Of all ways to part the row it takes the one with the shortest turns.
    """
    if way == TOGETHER:
        parted = tuple((one,) for one in lessons)
    elif way == KEPT:
        parted = (lessons,)
    else:
        rows = (lessons, tuple(sorted(lessons, key=lambda one: minutes_of(one).bench)))
        parted = min((_shortest(row, benches, groups) for row in rows), key=lambda one: one[0])[1]
    return tuple(_set(one, benches, groups) for one in parted)


def _set(lessons: tuple, benches: int, groups: int) -> Set:
    turns = go_round(lessons, benches, groups)
    return Set(lessons, benches_of(lessons, benches), turns, _turn_minutes(lessons, len(turns)))


def _turn_minutes(lessons: tuple, turns: int) -> tuple[int, ...]:
    """Every turn is as long as the longest bench of the set, and what a bench needs until the next group."""
    takes = [minutes_of(one) for one in lessons]
    between = max(one.bench + one.until_next for one in takes)
    return (*[between] * (turns - 1), max(one.bench for one in takes))


def _shortest(lessons: tuple, benches: int, groups: int) -> tuple[int, tuple]:
    """The minutes of all turns, and the parts of a row of lessons with which they are fewest: of the last set every
    length is tried, the rest is parted in the same way.
    """

    @lru_cache(maxsize=None)
    def best(count: int) -> tuple[int, tuple]:
        if not count:
            return 0, ()
        tried = []
        for start in range(max(0, count - benches), count):
            mine, (before, parted) = lessons[start:count], best(start)
            turns = _turn_minutes(mine, slots_needed(mine, benches, groups))
            tried.append((before + sum(turns), (*parted, mine)))
        return min(tried, key=lambda one: one[0])

    return best(len(lessons))


def benches_of(lessons: tuple, benches: int) -> tuple[str, ...]:
    """The lesson that is laid out at each bench, spread as evenly as can be. Needs as many benches as lessons."""
    each, more = divmod(benches, len(lessons))
    return tuple(lesson for place, lesson in enumerate(lessons) for _ in range(each + (place < more)))


def slots_needed(lessons: tuple, benches: int, groups: int) -> int:
    """The least number of turns in which every group can do every lesson.

    No group is in two places and no bench has two groups, so it is the larger of the lessons and of the groups that the
    busiest bench must take; that this is enough is Kőnig's theorem on the edges of a bipartite graph (1916).
    """
    return max(len(lessons), math.ceil(groups / (benches // len(lessons))))


def go_round(lessons: tuple, benches: int, groups: int) -> tuple[dict, ...]:
    """Who is where in each turn: bench → group, both counted from 0.

    A visit goes into a turn that is free for both its group and its bench. Where there is none, a chain of visits
    changes places between two turns, as in the proof of Kőnig's theorem.
    """
    laid_out, slots = benches_of(lessons, benches), slots_needed(lessons, benches, groups)
    of_group = [[None] * slots for _ in range(groups)]  # group, turn → bench
    of_bench = [[None] * slots for _ in range(benches)]  # bench, turn → group
    for lesson in lessons:
        mine = [bench for bench, what in enumerate(laid_out) if what == lesson]
        for group in range(groups):
            bench = mine[group % len(mine)]
            free, other = of_group[group].index(None), of_bench[bench].index(None)
            if free != other:
                _change_places(of_group, of_bench, bench, free, other)
            of_group[group][free], of_bench[bench][free] = bench, group
    return tuple(
        {bench: turns[slot] for bench, turns in enumerate(of_bench) if turns[slot] is not None} for slot in range(slots)
    )


def _change_places(of_group: list, of_bench: list, bench: int, first: int, second: int) -> None:
    """Frees a bench in the first turn: the chain of visits that begins there changes between the two turns."""
    chain, slot, place, table, others = [], first, bench, of_bench, of_group
    while (partner := table[place][slot]) is not None:
        chain.append((place, partner, slot) if table is of_bench else (partner, place, slot))
        place, table, others, slot = partner, others, table, first + second - slot
    for here, group, slot in chain:
        of_bench[here][slot] = of_group[group][slot] = None
    for here, group, slot in chain:
        slot = first + second - slot
        of_bench[here][slot], of_group[group][slot] = group, here
