"""A lesson on paper, for when no kernel runs: its words, its pictures and their sentences, made from its page."""

import base64
import re

from ...quantities.display import unbroken
from ...sheets import Blank, Heading, Picture, Sheet, Stop, Table, Text
from ..lesson_pages import MARKDOWN, LessonPage, stored_words, token_words
from .wording import HARD, SENTENCE

LEFT_OUT = ("Next", "For the instructor")  # links to other pages, and what learners need not have
ON_SCREEN = ("Back to the start page", "Each answer is marked", "Press a name")  # of sentences for a screen only
MOVED = "panels.Legend("  # a cell that says what each control does: on paper nobody moves one
WORDS = "panels.Words("  # a cell of trade words
PICTURE, ACROSS = 0.85, 1000.0  # of the width, at most; width of a picture that would take all of it [px]
SIZE = re.compile(r'width="([\d.]+)" height="([\d.]+)"')  # of a picture
# a cell of questions, and each of them in what it gave
QUESTIONS, BEGINS = "panels.exercises(", re.compile(r"^(?=\d\d · \d+ )", re.MULTILINE)
ROOM = 2  # lines to write an answer on
FOOT = (
    "Printed from the lesson's page: numbers are those it opens with. The questions have example numbers: the answer"
    " key gives their answers for the seat named “example”."
)


def on_paper(page: LessonPage, system: str) -> Sheet:
    """A lesson's page for learners, as a sheet of as many sides as it takes, with room to write answers.

    page : with what its code gave in `system`, the unit system
    """
    blocks, heading = [], ""
    for kind, source, outputs in page.cells:
        if kind == "markdown" and source.startswith("## "):
            heading = source.partition("\n")[0][3:]
        if heading in LEFT_OUT:
            continue
        blocks += _markdown(source) if kind == "markdown" else _code(source, outputs)
    return Sheet(page.title, tuple(blocks), 10.0, one_page=False, foot=FOOT, system=system, running=page.title)


def _markdown(source: str) -> list:
    """The blocks of a Markdown text; the page's own title is left to the sheet."""
    return [block for token in MARKDOWN(source) for block in _block(token)]


def _code(source: str, outputs) -> list:
    """The blocks of a code cell: of its questions, of its trade words, or of its picture and words."""
    if MOVED in source:
        return []
    if QUESTIONS in source:
        return _questions(outputs)
    return [Text("Trade words", bold=True), *_given(outputs)] if WORDS in source else _given(outputs)


def _block(token: dict) -> list:
    """The blocks of one part of a Markdown text."""
    kind = token["type"]
    if kind == "heading":
        return [] if token["attrs"]["level"] == 1 else [Heading(token_words(token))]
    if kind == "paragraph":
        return _paragraph(token)
    if kind == "list":
        marks = (f"{place}." if token["attrs"]["ordered"] else "•" for place in range(1, len(token["children"]) + 1))
        return [Text(unbroken(token_words(item)), lead=f"{mark}{HARD}") for mark, item in zip(marks, token["children"])]
    if kind == "table":
        head, *body = token["children"]
        rows = [row for part in body for row in part["children"]]
        return [
            Table(
                tuple(map(token_words, head["children"])),
                tuple(tuple(map(token_words, row["children"])) for row in rows),
            )
        ]
    if kind == "block_quote":
        return [block for child in token["children"] for block in _block(child)]
    return []  # blank lines, rules, and HTML that only folds things on a screen


def _paragraph(token: dict) -> list:
    """The block of a paragraph, without the sentences that are for a screen only; its bold first words stay bold."""
    first, *others = token["children"]
    lead = f"{token_words(first)} " if first["type"] == "strong" else ""
    text = "".join(map(token_words, others if lead else token["children"])).strip()
    text = unbroken(" ".join(one for one in SENTENCE.split(text) if not any(words in one for words in ON_SCREEN)))
    if lead == "Stop. ":
        return [Stop(lead + text)]
    return [Text(text, lead=unbroken(lead))] if lead or text else []


def _questions(outputs) -> list:
    """Each question that a cell gave, with room for its answer."""
    return [Blank(unbroken(words.strip()), ROOM) for words in BEGINS.split(stored_words(outputs)) if words.strip()]


def _given(outputs) -> list:
    """Gives what a code cell gave: its picture, and its words."""
    words = stored_words(outputs)
    data = next((one["data"] for one in outputs if "data" in one), {})
    if "text/markdown" in data:
        return _markdown("".join(data["text/markdown"]))
    blocks = []
    if "application/pdf" in data:
        svg, pdf = "".join(data["image/svg+xml"]), base64.b64decode("".join(data["application/pdf"]))
        across, down = (float(side) for side in SIZE.search(svg).groups())
        blocks.append(Picture(svg, pdf, words, down / across, min(PICTURE, across / ACROSS)))
    return [*blocks, Text(unbroken(words))] if words else blocks
