"""The session planner: minutes, people, benches and lessons in; timetable out, with kit and risks in words beside
it.
"""

from ..panels.controls import Slide
from ..panels.hand_calculation import Sums
from ..panels.lists import Ticks
from ..panels.panel import Panel
from ..panels.readout import Readout
from ..quantities.errors import InputError
from ..quantities.results import Word
from ..quantities.units import Q_
from .lesson_pages import lesson_pages
from .session import AT_A_BENCH, CAUTION, LONGEST, plan
from .session_picture import Scene, SessionPicture

START = {"minutes": 90, "people": 12, "benches": 3}
START_LESSONS = ("01", "02")
TANK_FIRST = "tank at its final temperature; then the bench valves set, and checked at the far tap"


def session_planner() -> Panel:
    """A session for the lessons that have pages here."""
    pages = lesson_pages()
    return Panel(
        {
            "The room": {
                "minutes": _count(
                    "Minutes",
                    "minutes",
                    START["minutes"],
                    (20, LONGEST, 5),
                    "that there are, from the first word to the last",
                ),
                "people": _count("People", "count", START["people"], (1, 60, 1), "learners, without you"),
                "benches": _count(
                    "Benches",
                    "count",
                    START["benches"],
                    (1, 20, 1),
                    f"that can be laid out; more than {AT_A_BENCH} at one only watch",
                ),
            },
            "Lessons": {
                "lessons": Ticks(
                    "Take",
                    {number: page.title for number, page in pages.items()},
                    START_LESSONS,
                    "in teaching order; scald comes first",
                )
            },
        },
        lambda state: calculate(state, pages),
        SessionPicture,
        readouts,
        headline=headline,
    )


def _count(label: str, kind: str, start: int, ends: tuple, explained: str) -> Slide:
    """A slider of whole numbers, the same in both unit systems."""
    return Slide(label, kind, Q_(float(start), "min" if kind == "minutes" else ""), ends, ends, explained)


def calculate(state: dict, pages: dict) -> Scene:
    """The plan for the settings. Raises InputError: no lesson is ticked."""
    if not state["lessons"]:
        raise InputError("lessons: none is ticked. Tick at least one.")
    numbers = (round(state[name].magnitude) for name in START)
    return Scene(plan(*numbers, state["lessons"]), {number: page.name for number, page in pages.items()})


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
    rounds = "all at once" if made.rounds == 1 else f"{made.rounds} rounds"
    each = -(-made.at_once // made.benches)
    things = sum(one.count for one in made.kit)
    ahead = max((one.minutes for one in made.ahead), default=0)
    return [
        fits,
        Readout("At the benches", Word(rounds, 0 if made.rounds <= 2 else 1), f"up to {each} at each"),
        Readout("Kit", Word(f"{things} things", 0), f"of {len(made.kit)} kinds"),
        Readout(
            "Beforehand",
            Word(f"{ahead} min", 1) if ahead else Word("tank and valve", 0),
            "so early a bench begins" if ahead else "hot, set and checked",
        ),
    ]


def session_lists(planner: Panel) -> Sums:
    """Timetable, kit and risks in words; follows the planner."""
    pages = lesson_pages()

    def written(scene: Scene, system: str) -> dict:
        made = scene.plan
        return {
            "Timetable [min from the beginning]": [
                f"{part.start} to {part.end}: {part.lesson} {part.what}".replace(":  ", ": ") for part in made.parts
            ],
            "Begin beforehand": [
                TANK_FIRST,
                *(f"lesson {one.lesson}: at least {one.minutes} min" for one in made.ahead),
            ],
            "Kit for the whole session": [f"{one.count} × {one.item}" for one in made.kit],
            **{f"Risks of {pages[one].title}": [f"{pages[one].stop} {pages[one].risks}"] for one in made.lessons},
            "How far to trust the minutes": [CAUTION],
        }

    return Sums(planner, written)
