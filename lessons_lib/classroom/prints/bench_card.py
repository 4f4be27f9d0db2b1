"""The card that lies on a bench: stop box on top, what to do, and whom to call. A5, readable at arm's length."""

from ...quantities.display import unbroken
from ...sheets import Heading, Sheet, Stop, Text
from ..lesson_pages import lesson_page

TYPE = 15.0  # [pt]; 14 is the least that reads at arm's length
PAPER = "A5"
CALL = "Anything odd (steam, a smell, a drip, a tingle): hands off, step back, call the instructor."
KEY = "The instructor alone moves valves and isolators (disconnects)."


def bench_card(lesson: str) -> Sheet:
    """The card of a lesson, for A5. Both unit systems stand in its words. Raises InputError for a lesson without
    page.
    """
    page = lesson_page(lesson)
    return Sheet(
        page.title,
        (
            Stop(unbroken(f"STOP. {page.stop}")),
            Heading("At the bench"),
            Text(unbroken(page.bench)),
            Heading("Call"),
            Text(CALL),
            Text(KEY),
        ),
        TYPE,
    )
