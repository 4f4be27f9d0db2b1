"""A session's parts one after the other: paths for everybody, turns at the benches, breaks where they make sense."""

from dataclasses import dataclass

from .lesson_minutes import minutes_of
from .rotation import Set

# Common practice, no source.
OPENING = 5  # [min] exits, stops, who isolates what
CLOSING = 5  # [min] water off, benches wiped, what was learned
BREAK, WITHOUT_BREAK, TOO_SOON = 10, 90, 30  # [min] a break; the longest time without one; the shortest before one
MEAL, WITHOUT_MEAL = 45, 240  # [min]
PATH, BENCH, TALK, FOR_ALL = "path", "bench", "talk", "all"  # kinds of parts


@dataclass(frozen=True)
class Part:
    """One line of the timetable.

    start : [min] from the beginning; minutes; what; lessons : whose part it is, empty for everybody's; kind : one of
    PATH, BENCH, TALK, FOR_ALL
    """

    start: int
    minutes: int
    what: str
    lessons: tuple
    kind: str

    @property
    def end(self) -> int:
        return self.start + self.minutes

    @property
    def lesson(self) -> str:
        """Gives the numbers of its lessons, "02" or "02, 04"; "" where it is everybody's."""
        return ", ".join(self.lessons)


def parts_of(sets: tuple[Set, ...]) -> tuple[Part, ...]:
    """The timetable of the sets in which a session's lessons are held.

    A break stands before what would otherwise end more than an hour and a half after the last one, and never in the
    middle of what belongs together.
    """
    parts = [Part(0, OPENING, "Opening: exits, stops, who isolates what", (), FOR_ALL)]
    rested = eaten = 0
    for block in (block for one in sets for block in _blocks(one)):
        now, length = parts[-1].end, sum(minutes for minutes, *_ in block)
        hungry = now + length - eaten > WITHOUT_MEAL
        if now - rested > TOO_SOON and (hungry or now + length - rested > WITHOUT_BREAK):
            parts.append(Part(now, *((MEAL, "Meal") if hungry else (BREAK, "Break")), (), FOR_ALL))
            rested = parts[-1].end
            eaten = rested if hungry else eaten
        for one in block:
            parts.append(Part(parts[-1].end, *one))
    return (*parts, Part(parts[-1].end, CLOSING, "Closing: water off, benches wiped, what was learned", (), FOR_ALL))


def _blocks(of: Set) -> list[list[tuple]]:
    """The blocks of a set that belong together: its paths, the last of them with the first turn; each other turn; the
    last one with the talk.
    """
    blocks = [
        [(minutes_of(one).path, "Ten-minute path: guess, panel, first questions", (one,), PATH)] for one in of.lessons
    ]
    for number, minutes in enumerate(of.minutes, 1):
        turn = (minutes, _at_the_benches(of, number), of.lessons, BENCH)
        blocks.append([*blocks.pop(), turn] if number == 1 else [turn])
    for one in of.lessons:
        blocks[-1].append((minutes_of(one).talk, "Which was further off, you or the model?", (one,), TALK))
    return blocks


def _at_the_benches(of: Set, number: int) -> str:
    """The line of a turn: which turn it is, and in the first one what people do while a bench is left alone."""
    turns = f", turn {number} of {len(of.turns)}" if len(of.turns) > 1 else ""
    waits = [
        f"{f'{one}: ' if len(of.lessons) > 1 else ''}{takes.wait} min waiting, in which {takes.meanwhile}"
        for one in of.lessons
        if number == 1 and (takes := minutes_of(one)).wait
    ]
    return "; ".join([f"At the benches{turns}", *waits])
