"""The order of work from empty pipes to hand-over: each step stays locked until the one before it is done."""

from dataclasses import dataclass

from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed
from ..storage import tables

DONE, OPEN, LOCKED = "done", "open", "locked"
NEVER_DRY = (
    "Never heat a dry tank: nothing heats until water runs solid at the highest hot tap and at the loop's return vent."
)
WHO_DECIDES = (
    "Common practice, no source; the maker and local code decide, and a qualified electrician puts the power on."
)
CAUTION = f"{NEVER_DRY} {WHO_DECIDES}"


@dataclass(frozen=True, repr=False)
class Step(Printed):
    """One step of the work.

    key : its short name; step : what to do; until : what must be seen before it counts as done
    heats : it puts heat into the water
    """

    key: str
    step: str
    until: str
    heats: bool
    caution: str


@dataclass(frozen=True, repr=False)
class WorkOrder(Printed):
    """Says how far the work has come. It never changes: `meet` and `undo` give a new one.

    done : keys of the steps whose condition has been met, in order
    """

    done: tuple[str, ...] = ()

    def __post_init__(self):
        names = (self.done,) if isinstance(self.done, str) else self.done
        given = tuple(step(name).key for name in names)
        if given != keys()[: len(given)]:
            raise InputError(
                f"work order: {', '.join(given)} were given as done; possible is from the first on and in order:"
                f" {', '.join(keys())}."
            )
        object.__setattr__(self, "done", given)

    @property
    def current(self) -> Step | None:
        """The one step that is open; None when all is handed over."""
        return None if self.finished else steps()[len(self.done)]

    @property
    def finished(self) -> bool:
        return len(self.done) == len(steps())

    @property
    def may_heat(self) -> bool:
        """Says whether heat is allowed: every step before the first that heats is done."""
        return len(self.done) >= next(place for place, one in enumerate(steps()) if one.heats)

    def state(self, key: str) -> str:
        """Says whether a step is "done", "open" or "locked". Raises InputError for an unknown step."""
        wanted = step(key)
        if wanted.key in self.done:
            return DONE
        return OPEN if wanted == self.current else LOCKED

    def why_not(self, key: str) -> str:
        """Why a step's condition cannot be met now; "": the step is open. Raises InputError for an unknown step."""
        wanted, state = step(key), self.state(key)
        if state == LOCKED:
            why = f" {NEVER_DRY}" if wanted.heats or wanted.key == "energise" else ""
            return f'"{wanted.key}" is locked until "{self.current.key}" is done: {self.current.until}.{why}'
        return f'"{wanted.key}" is done already; undo it if its condition no longer holds.' if state == DONE else ""

    def meet(self, key: str) -> "WorkOrder":
        """The work after the condition of the open step was met.

        Raises InputError: an unknown step, one that is done, or one that is locked; the message says what comes first.
        """
        if why := self.why_not(key):
            raise InputError(f"work order: {why}")
        return WorkOrder((*self.done, step(key).key))

    def undo(self, key: str) -> "WorkOrder":
        """The work after a done step turned out not to hold, a leak for example: it and all after it are open again.

        Raises InputError for an unknown step or one that is not done.
        """
        wanted = step(key)
        if wanted.key not in self.done:
            raise InputError(f'work order: "{wanted.key}" is not done, so it can\'t be undone.')
        return WorkOrder(self.done[: self.done.index(wanted.key)])

    def _rows(self):
        return [(one.key, f"{self.state(one.key)}: {one.step}") for one in steps()] + [("caution", CAUTION)]


def steps() -> tuple[Step, ...]:
    """The steps of data/work_order.csv, in order."""
    return tuple(
        Step(row["key"], row["step"], row["until"], row["heats"] == "yes", row["caution"])
        for row in tables.rows("work_order")
    )


def keys() -> tuple[str, ...]:
    """Short names of the steps, in order."""
    return tuple(one.key for one in steps())


def step(key: str) -> Step:
    """The step of that name. Raises InputError with the nearest names."""
    wanted = str(key).strip().lower()
    found = next((one for one in steps() if one.key == wanted), None)
    if found is None:
        raise unknown_name("step", key, list(keys()))
    return found
