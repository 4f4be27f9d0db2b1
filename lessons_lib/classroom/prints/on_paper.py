"""A lesson on paper, for when no kernel runs: its words, its stored pictures and their sentences, made from the
notebook's file.
"""

import base64
import re

from ...quantities.display import unbroken
from ...sheets import Blank, Heading, Picture, Sheet, Stop, Table, Text
from ..lesson_pages import MARKDOWN, LessonPage, stored_words, token_words
from .wording import HARD

LEFT_OUT = ("Next", "For the instructor")  # links to other pages, and what learners need not have
ON_SCREEN = ("Run All Cells", "marked at once")  # what only helps at a screen stands in a paragraph with these words
PICTURE, SIZE = 0.85, re.compile(r'width="([\d.]+)" height="([\d.]+)"')  # of the width; of a stored picture
# a cell of questions, and each of them in what it stored
QUESTIONS, BEGINS = "panels.exercises(", re.compile(r"^(?=\d+\. )", re.MULTILINE)
ROOM = 2  # lines to write an answer on
FOOT = (
    "Printed from the lesson's stored page: numbers are those it opened with, in metric units where the words do not"
    " say both. The questions have example numbers: the answer key gives their answers for the seat named “example”."
)


def on_paper(page: LessonPage) -> Sheet:
    """A lesson's page for learners, as a sheet of as many sides as it takes, with room to write answers."""
    blocks, heading = [], ""
    for kind, source, outputs in page.cells:
        if kind == "markdown" and source.startswith("## "):
            heading = source.partition("\n")[0][3:]
        if heading in LEFT_OUT:
            continue
        blocks += (
            _markdown(source)
            if kind == "markdown"
            else _questions(outputs)
            if QUESTIONS in source
            else _stored(outputs)
        )
    return Sheet(page.title, tuple(blocks), 10.0, one_page=False, foot=FOOT, running=page.title)


def _markdown(source: str) -> list:
    """The blocks of a Markdown text; the page's own title is left to the sheet."""
    return [block for token in MARKDOWN(source) for block in _block(token)]


def _block(token: dict) -> list:
    """The blocks of one part of a Markdown text."""
    kind = token["type"]
    if kind == "heading":
        return [] if token["attrs"]["level"] == 1 else [Heading(token_words(token))]
    if kind == "paragraph":
        text = unbroken(token_words(token))
        if any(words in text for words in ON_SCREEN):
            return []
        return [Stop(text)] if text.startswith("Stop.") else [Text(text)]
    if kind == "list":
        marks = (f"{place}." if token["attrs"]["ordered"] else "•" for place in range(1, len(token["children"]) + 1))
        return [Text(f"{mark}{HARD}{unbroken(token_words(item))}") for mark, item in zip(marks, token["children"])]
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


def _questions(outputs) -> list:
    """Each question that a cell stored, with room for its answer."""
    return [Blank(unbroken(words.strip()), ROOM) for words in BEGINS.split(stored_words(outputs)) if words.strip()]


def _stored(outputs) -> list:
    """Gives what a code cell stored: its picture, and its words."""
    words = stored_words(outputs)
    data = next((one["data"] for one in outputs if "data" in one), {})
    if "text/markdown" in data:
        return _markdown("".join(data["text/markdown"]))
    blocks = []
    if "application/pdf" in data:
        svg, pdf = "".join(data["image/svg+xml"]), base64.b64decode("".join(data["application/pdf"]))
        across, down = (float(side) for side in SIZE.search(svg).groups())
        blocks.append(Picture(svg, pdf, words, down / across, PICTURE))
    return [*blocks, Text(unbroken(words))] if words else blocks
