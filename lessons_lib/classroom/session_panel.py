"""The session planner: minutes, people, benches and lessons in; timetable out, with kit and risks in words beside
it.
"""

from ..exercises.bank import own_slips
from ..panels.controls import Choice, Slide
from ..panels.hand_calculation import Sums
from ..panels.lists import Ticks, Typed
from ..panels.panel import Panel
from ..panels.readout import Readout
from ..quantities.errors import InputError
from ..quantities.results import Word
from ..quantities.units import Q_
from ..storage import tables
from . import kept_plan
from .kept_plan import KeptPlan
from .lesson_pages import lesson_pages
from .rotation import WAYS
from .session import AT_A_BENCH, CAUTION, LONGEST, plan
from .session_clock import clock, read_clock, told_ahead
from .session_picture import Scene, SessionPicture
from .who_is_where import where_groups_go

START = KeptPlan()
NUMBERS = ("minutes", "people", "benches")
TANK_FIRST = "tank at its final temperature; then the bench valves set, and checked at the far tap"


class SessionPlanner(Panel):
    """A panel that opens with the plan that was kept, and keeps what is chosen."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.set(_settings(kept_plan.kept_plan(), self.controls))
        self.watchers.append(self._keep)

    def _keep(self) -> None:
        """Keeps the settings, or says that it cannot."""
        chosen = self.state | {name: round(self.state[name].magnitude) for name in NUMBERS}
        try:
            kept_plan.keep(**chosen)
        except InputError as error:
            self._tell(f"▲ {error}")


def _settings(kept: KeptPlan, controls: dict) -> dict:
    """A kept plan as settings of the panel; what its controls cannot hold is left out."""
    found = {name: getattr(kept, name) for name in controls}
    found |= {name: controls[name].start.__class__(float(found[name]), controls[name].start.units) for name in NUMBERS}
    found["lessons"] = tuple(one for one in kept.lessons if one in controls["lessons"].options)
    inside = {
        name: controls[name].ranges[controls[name].system].low
        <= found[name].magnitude
        <= controls[name].ranges[controls[name].system].high
        for name in NUMBERS
    } | {"way": kept.way in WAYS}
    return {name: value for name, value in found.items() if inside.get(name, True)}


def session_planner() -> SessionPlanner:
    """A session for the lessons that have pages here."""
    pages = lesson_pages()
    people = f"that can be laid out; more than {AT_A_BENCH} at one only watch"
    return SessionPlanner(
        {
            "The room": {
                "minutes": _count(
                    "Minutes", "minutes", (20, LONGEST, 5), "that there are, from the first word to the last"
                ),
                "begins": Typed("Begins at", START.begins, "like 9:30; empty: minutes from the start", "300px"),
                "people": _count("People", "count", (1, 60, 1), "learners, without you"),
                "names": Typed("Names", START.names, "Ana, Ben, …; empty: seats with numbers", "300px"),
                "benches": _count("Benches", "count", (1, 20, 1), people),
            },
            "Lessons": {
                "way": Choice(
                    "Held",
                    list(WAYS),
                    START.way,
                    "whether all benches do one lesson, or groups go round between several",
                ),
                "lessons": Ticks(
                    "Take",
                    {number: page.title for number, page in pages.items()},
                    START.lessons,
                    "in teaching order; scald comes first",
                ),
            },
        },
        lambda state: calculate(state, pages),
        SessionPicture,
        readouts,
        headline=headline,
    )


def _count(label: str, kind: str, ends: tuple, explained: str) -> Slide:
    """A slider of whole numbers, the same in both unit systems."""
    start = float(getattr(START, label.lower()))
    return Slide(label, kind, Q_(start, "min" if kind == "minutes" else ""), ends, ends, explained)


def calculate(state: dict, pages: dict) -> Scene:
    """The plan for the settings. Raises InputError: no lesson is ticked, no time of day, names that are not as many as
    the people.
    """
    if not state["lessons"]:
        raise InputError("lessons: none is ticked. Tick at least one.")
    numbers = {name: round(state[name].magnitude) for name in NUMBERS}
    people = KeptPlan(people=numbers["people"], names=state["names"]).people_named()
    made = plan(*numbers.values(), state["lessons"], state["way"])
    return Scene(made, {number: page.name for number, page in pages.items()}, read_clock(state["begins"]), people)


def headline(scene: Scene, system: str) -> str:
    """Says whether the session fits into its time."""
    left = scene.plan.minutes - scene.plan.needed
    return f"The session fits: {left} min are left over" if left >= 0 else f"The session needs {-left} min more"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Gives four cards on time, benches, kit and what begins beforehand."""
    made = scene.plan
    left = made.minutes - made.needed
    fits = (
        Readout("Time", Word("it fits", 0), f"{made.needed} min, {left} left over")
        if made.fits
        else Readout("Time", Word("too short", 2), f"{-left} min too few")
    )
    rounds = "all at once" if made.rounds == 1 else f"{made.rounds} turns"
    things = sum(one.count for one in made.kit)
    ahead = max((one.minutes for one in made.ahead), default=0)
    return [
        fits,
        Readout(
            "At the benches",
            Word(rounds, 0 if made.rounds <= len(made.lessons) + 1 else 1),
            f"up to {made.groups[0]} at each",
        ),
        Readout("Kit", Word(f"{things} things", 0), f"of {len(made.kit)} kinds"),
        Readout(
            "Beforehand",
            Word(f"{ahead} min", 1) if ahead else Word("tank and valve", 0),
            "so early a bench begins" if ahead else "hot, set and checked",
        ),
    ]


def session_lists(planner: Panel) -> Sums:
    """Timetable, kit and risks in words; follows the planner."""
    pages, slips = lesson_pages(), [*tables.own_slips(), *own_slips()]

    def written(scene: Scene, system: str) -> dict:
        made = scene.plan
        return {
            "Timetable": [
                f"{clock(scene.begins, part.start, system)} to {clock(scene.begins, part.end, system)}: {part.lesson}"
                f" {part.what}".replace(":  ", ": ")
                for part in made.parts
            ],
            **{heading: lines for heading, lines in where_groups_go(made, scene.people)},
            "Begin beforehand": [TANK_FIRST, *(told_ahead(one, scene.begins, system) for one in made.ahead)],
            "Kit for the whole session": [f"{one.item}: {one.many}" for one in made.kit],
            **{f"Risks of {pages[one].title}": [f"{pages[one].stop} {pages[one].risks}"] for one in made.lessons},
            "How far to trust the minutes": [CAUTION],
            **({"Left out of your own material": slips} if slips else {}),
        }

    return Sums(planner, written)
