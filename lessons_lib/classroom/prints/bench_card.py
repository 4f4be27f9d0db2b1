"""The card that lies on a bench: stop box on top, numbered steps, and whom to call. Half a common sheet, readable at
arm's length.
"""

from ...quantities.display import unbroken
from ...sheets import Heading, Sheet, Stop, Table, Text, TwoUp
from ...sheets.blocks import HALF
from ..lesson_pages import LessonPage, lesson_page
from .wording import SENTENCE

SIZES = (
    18.0,
    17.0,
    16.0,
    15.0,
    14.0,
)  # [pt]; the last is the least that reads at arm's length (common practice, no source)
LEADING = 1.2
CALL = "Anything odd (steam, a smell, a drip, a tingle): hands off, step back, call the instructor."
KEY = "The instructor alone moves valves and isolators (disconnects)."


def bench_card(lesson: str) -> Sheet:
    """The card of a lesson, for half a sheet, in the largest type with which it takes one side. Both unit systems stand
    in its words. Raises InputError for a lesson without page.
    """
    tried = (_card(lesson_page(lesson), size) for size in SIZES)
    last = _card(lesson_page(lesson), SIZES[-1])
    return next((card for card in tried if all(card.pages(half) == 1 for half in HALF.values())), last)


def _card(page: LessonPage, size: float) -> Sheet:
    """The card in a type size [pt]."""
    numbered = tuple((str(number), unbroken(step)) for number, step in enumerate(steps(page.bench), 1))
    blocks = (
        Stop(unbroken(f"STOP. {page.stop}")),
        Table((), numbered, (1, 12)),
        Heading("Call"),
        Text(CALL),
        Text(KEY),
    )
    return Sheet(page.title, blocks, size, leading=LEADING)


def steps(words: str) -> list[str]:
    """The sentences of a page's bench, one a step."""
    return [one for paragraph in words.split("\n\n") for one in SENTENCE.split(" ".join(paragraph.split())) if one]


def cards(lessons, copies: dict) -> TwoUp:
    """The cards of some lessons, two on a sheet. copies : lesson → how many benches have it"""
    return TwoUp(tuple(card for one in lessons for card in [bench_card(one)] * copies[one]))
