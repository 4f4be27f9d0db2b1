"""How long each part of a lesson takes in a room, from data/session_minutes.csv."""

from dataclasses import dataclass

from ..storage import tables

CHANGE = 2  # [min] from one group at the benches to the next; common practice, no source


@dataclass(frozen=True)
class Minutes:
    """The minutes of a lesson. path, talk : for everybody; hands : of work at the bench; wait : in between, while the
    bench is left alone; rest : from one group to the next; lead : so long before the session its bench begins
    meanwhile : what people do while they wait; begin : what is begun so long before
    """

    path: int
    hands: int
    wait: int
    rest: int
    talk: int
    lead: int
    meanwhile: str
    begin: str

    @property
    def bench(self) -> int:
        """Gives the minutes that one group has a bench, waits included."""
        return self.hands + self.wait

    @property
    def until_next(self) -> int:
        """Gives the minutes from the end of one group to the beginning of the next at the same bench."""
        return max(self.rest, CHANGE)


def lessons() -> tuple[str, ...]:
    """Lessons that can be planned, in teaching order."""
    return tuple(row["lesson"] for row in tables.rows("session_minutes"))


def minutes_of(lesson: str) -> Minutes:
    """Gives the minutes of a lesson, "01" and so on. Raises InputError: unknown, or a cell that is no whole number."""
    row = tables.row("session_minutes", "lesson", lesson, "lesson")
    numbers = (row.whole(name) for name in ("path", "hands", "wait", "rest", "talk", "lead"))
    return Minutes(*numbers, row["meanwhile"], row["begin"])
