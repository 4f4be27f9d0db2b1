"""The run sheet of a session: timetable, what begins beforehand, kit, and the risks of each lesson with who isolates
what.
"""

from ...quantities.display import SI, unbroken
from ...quantities.errors import InputError
from ...sheets import Blank, Columns, Heading, Sheet, Stop, Table, Text
from ..lesson_pages import lesson_pages
from ..session import CAUTION, Plan
from ..session_clock import clock, told_ahead
from ..who_is_where import goes_round, group_names, places

MOST_TURNS = 5  # beside each other on paper

ISOLATES = (
    "You keep the key to every isolator (disconnect)."
    " Every bench tap is flushed, hot and cold, without spray. Learners' taps at"
    " most 45 °C (113 °F), checked by thermometer at the far tap before anybody comes in."
)


def session_sheet(plan: Plan, begins: int | None = None, people: tuple = (), system: str = SI) -> Sheet:
    """Makes the run sheet of a session. Its numbers stand in both unit systems, as on the lessons' pages.

    begins : [min after midnight], or None where only minutes are known; people : their names, or none; system : how a
    clock is read, and whose trade words it has
    Raises InputError: the plan is longer than its minutes; a lesson has no page here.
    """
    if not plan.fits:
        raise InputError(f"run sheet: {plan.told()}")
    pages = lesson_pages()
    missing = [one for one in plan.lessons if one not in pages]
    if missing:
        raise InputError(
            f"run sheet: lesson {missing[0]} has no page here, so its risks are not known. Choose another one."
        )
    rows = tuple(
        (clock(begins, part.start, system), f"{part.minutes} min", f"{part.lesson} {part.what}".strip(), "")
        for part in plan.parts
    )
    kit = tuple(("", unbroken(one.many), unbroken(one.item), ", ".join(one.lessons)) for one in plan.kit)
    risks = tuple((pages[one].title, unbroken(f"{pages[one].stop} {pages[one].risks}")) for one in plan.lessons)
    blocks = (
        Columns(
            (
                (Blank("Date and room"),),
                (Blank("Begins at") if begins is None else Text(f"Begins at {clock(begins, 0, system)}"),),
                (Blank("Instructor"),),
                (Blank("First-aider, telephone"),),
            ),
            (2, 1.4, 2, 2),
        ),
        Stop(unbroken(ISOLATES)),
        Text(
            f"{plan.people} people, {plan.benches} benches; up to {plan.at_once} at the benches at a time."
            f" {plan.told()}"
        ),
        *(Text(f"Begin beforehand: {told_ahead(one, begins, system)}.", bold=True) for one in plan.ahead),
        Table(("from", "lasts", "what", "notes"), rows, (1.4, 1.1, 6.6, 3)),
        *_who_is_where(plan, people),
        Table(("ready", "how many", "kit for the whole session", "lessons"), kit, (0.8, 1.8, 5.6, 2)),
        Table(("lesson", "risks, and who isolates what"), risks, (2, 8)),
        Heading("Locked, checked, signed"),
        Table(
            (),
            (
                ("heater's isolator locked, key with", ""),
                ("every bench tap flushed hot and cold, minutes; flush log signed", ""),
                ("bench valves checked at the far tap, read", ""),
                ("water shut and floor dry at the end", ""),
            ),
            (4, 5),
        ),
    )
    title = "Run sheet of the session"
    return Sheet(title, blocks, 10.0, one_page=False, foot=CAUTION, system=system, running=title)


def _who_is_where(plan: Plan, people: tuple):
    """Gives a table for every set of lessons in which groups take turns; with names alone, the groups."""
    names = group_names(plan, people)
    sets = [one for one in plan.sets if goes_round(one)]
    if people and not sets:
        yield Table(("groups",), tuple((name,) for name in names), (1,))
    for one in sets:
        turns = tuple(f"turn {number}" for number in range(1, len(one.turns) + 1))
        head = (f"lesson{'s' if len(one.lessons) > 1 else ''} {', '.join(one.lessons)}", *turns)
        lines = tuple((name, *mine) for name, mine in zip(names, places(one, len(names)), strict=True))
        for first in range(1, len(head), MOST_TURNS):
            kept = slice(first, first + MOST_TURNS)
            cells = tuple((line[0], *line[kept]) for line in lines)
            yield Table((head[0], *head[kept]), cells, (2.4, *[1.6] * len(head[kept])))
