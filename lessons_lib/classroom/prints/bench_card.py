"""The card that lies on a bench: stop box on top, numbered steps, and whom to call. Half a common sheet, readable at
arm's length.
"""

from bisect import bisect_left
from functools import partial

from ...quantities.display import SI, unbroken
from ...sheets import Heading, Sheet, Stop, Table, Text, TwoUp
from ...sheets.blocks import HALF, MARGIN, PAPERS
from ..lesson_pages import LessonPage, lesson_page
from .wording import SENTENCE

# [pt]; the last is the least that reads at arm's length (common practice, no source)
SIZES = (24.0, 22.0, 20.0, 18.0, 17.0, 16.0, 15.0, 14.0)
LEADING = 1.2
FIGURE, BESIDE = 0.65, 9.0  # width of a figure by the type size; what a cell leaves free beside its words [pt]
WIDTH = (PAPERS[HALF["Letter"]][0] - 2 * MARGIN) / 25.4 * 72  # [pt] of the narrower card
CALL = "Anything odd (steam, a smell, a drip, a tingle): hands off, step back, call the instructor."
KEY = "The instructor alone moves valves and isolators (disconnects)."


def bench_card(lesson: str, system: str = SI) -> Sheet:
    """The card of a lesson, for half a sheet, in the largest type with which it takes one side. Its numbers stand in
    both unit systems, as on the page. Raises InputError for a lesson without page.

    system : whose trade words it has
    """
    card = partial(_card, lesson_page(lesson), system=system)
    place = bisect_left(SIZES, True, key=lambda size: all(card(size).pages(half) == 1 for half in HALF.values()))
    return card(SIZES[min(place, len(SIZES) - 1)])


def _card(page: LessonPage, size: float, system: str) -> Sheet:
    """The card in a type size [pt]."""
    numbered = tuple((str(number), unbroken(step)) for number, step in enumerate(steps(page.bench), 1))
    number = FIGURE * size * len(str(len(numbered))) + BESIDE
    blocks = (
        Stop(unbroken(f"STOP. {page.stop}")),
        Table((), numbered, (number, WIDTH - number)),
        Heading("Call"),
        Text(CALL),
        Text(KEY),
    )
    return Sheet(page.title, blocks, size, leading=LEADING, system=system)


def steps(words: str) -> list[str]:
    """The sentences of a page's bench, one a step."""
    return [one for paragraph in words.split("\n\n") for one in SENTENCE.split(" ".join(paragraph.split())) if one]


def cards(lessons, copies: dict, system: str = SI) -> TwoUp:
    """The cards of some lessons, two on a sheet. copies : lesson → how many benches have it"""
    return TwoUp(tuple(card for one in lessons for card in [bench_card(one, system)] * copies[one]))
