"""The run sheet of a session: timetable, what begins beforehand, kit, and the risks of each lesson with who isolates
what.
"""

from ...quantities.display import unbroken
from ...quantities.errors import InputError
from ...sheets import Blank, Columns, Heading, Sheet, Stop, Table, Text
from ..lesson_pages import lesson_pages
from ..session import CAUTION, Plan

ISOLATES = (
    "You keep the key to every isolator (disconnect)."
    " Every bench tap is flushed, hot and cold, without spray. Learners' taps at"
    " most 45 °C (113 °F), checked by thermometer at the far tap before anybody comes in."
)


def session_sheet(plan: Plan) -> Sheet:
    """Makes the run sheet of a session. Both unit systems stand in its words.

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
        (f"{part.start} min", f"{part.minutes} min", "", f"{part.lesson} {part.what}".strip(), "")
        for part in plan.parts
    )
    kit = tuple(("", str(one.count), unbroken(one.item), ", ".join(one.lessons)) for one in plan.kit)
    risks = tuple((pages[one].title, unbroken(f"{pages[one].stop} {pages[one].risks}")) for one in plan.lessons)
    blocks = (
        Columns(
            (
                (Blank("Date and room"),),
                (Blank("Begins at"),),
                (Blank("Instructor"),),
                (Blank("First-aider, telephone"),),
            ),
            (2, 1, 2, 2),
        ),
        Stop(unbroken(ISOLATES)),
        Text(
            f"{plan.people} people, {plan.benches} benches; up to {plan.at_once} at the benches at a time."
            f" {plan.told()}"
        ),
        *(
            Text(f"Begin lesson {one.lesson}'s bench at least {one.minutes} minutes beforehand.", bold=True)
            for one in plan.ahead
        ),
        Table(("from", "lasts", "clock", "what", "notes"), rows, (1.1, 1.1, 1, 6, 3)),
        Table(("ready", "how many", "kit for the whole session", "lessons"), kit, (0.8, 1.2, 6, 2)),
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
    return Sheet("Run sheet of the session", blocks, 9.5, one_page=False, foot=CAUTION)
