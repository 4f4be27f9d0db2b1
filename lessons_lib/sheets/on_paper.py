"""A lesson on paper, for when no kernel runs: its words, its stored pictures and their sentences, made from the notebook's file."""

import base64
import struct

import mistune

from ..lesson_pages import LessonPage, stored_words
from .blocks import Blank, Heading, Picture, Sheet, Stop, Table, Text
from .wording import HARD, unbroken

FOR_THE_ROOM = "For the instructor"
LEFT_OUT = ("Next",)  # links to other pages
ON_SCREEN = "Run All Cells"  # what only helps at a screen stands in a paragraph with these words
PICTURE = 0.85  # of the width
ANSWERS = ("If you said ", "Answer: ")
FOOT = "Printed from the lesson's stored page: numbers are those it opened with, in metric units where the words do not say both."

_parse = mistune.create_markdown(renderer="ast", plugins=["table"])


def on_paper(page: LessonPage, answers: bool = False) -> Sheet:
    """A lesson's page as a sheet of as many sides as it takes.

    answers : True: with the answers of its questions and what is for the instructor; False: room to write instead
    """
    blocks, heading = [], ""
    for kind, source, outputs in page.cells:
        if kind == "markdown" and source.startswith("## "):
            heading = source.partition("\n")[0][3:]
        if heading in LEFT_OUT or (heading == FOR_THE_ROOM and not answers):
            continue
        blocks += _markdown(source) if kind == "markdown" else _stored(outputs, answers)
    return Sheet(page.title, tuple(blocks), 10.0, one_page=False, foot=FOOT)


def _markdown(source: str) -> list:
    """The blocks of a Markdown text; the page's own title is left to the sheet."""
    return [block for token in _parse(source) for block in _block(token)]


def _block(token: dict) -> list:
    """The blocks of one part of a Markdown text."""
    kind = token["type"]
    if kind == "heading":
        return [] if token["attrs"]["level"] == 1 else [Heading(_words(token))]
    if kind == "paragraph":
        text = unbroken(_words(token))
        if ON_SCREEN in text:
            return []
        return [Stop(text)] if text.startswith("Stop.") else [Text(text)]
    if kind == "list":
        marks = (f"{place}." if token["attrs"]["ordered"] else "•" for place in range(1, len(token["children"]) + 1))
        return [Text(f"{mark}{HARD}{unbroken(_words(item))}") for mark, item in zip(marks, token["children"])]
    if kind == "table":
        head, *body = token["children"]
        rows = [row for part in body for row in part["children"]]
        return [Table(tuple(map(_words, head["children"])), tuple(tuple(map(_words, row["children"])) for row in rows))]
    if kind == "block_quote":
        return [block for child in token["children"] for block in _block(child)]
    return []  # blank lines, rules, and HTML that only folds things on a screen


def _words(token: dict) -> str:
    """The plain words of a token and all in it."""
    if token["type"] in ("softbreak", "linebreak"):
        return " "
    inside = token.get("children")
    return token.get("raw", "") if inside is None else "".join(map(_words, inside))


def _stored(outputs, answers: bool) -> list:
    """What a code cell stored: its picture, and its words."""
    words = stored_words(outputs)
    data = next((one["data"] for one in outputs if "data" in one), {})
    if "text/markdown" in data:
        return _markdown("".join(data["text/markdown"]))
    blocks = []
    if "image/png" in data:
        png = base64.b64decode("".join(data["image/png"]))
        across, down = struct.unpack(">II", png[16:24])  # the size that every PNG begins with
        blocks.append(Picture(png, words, down / across, PICTURE))
    lines = words.splitlines()
    if not answers and any(line.startswith(ANSWERS) for line in lines):
        kept = [line for line in lines if not line.startswith(ANSWERS)]
        return [*blocks, Blank(unbroken("\n".join(kept)), 2)]
    return [*blocks, Text(unbroken(words))] if words else blocks
