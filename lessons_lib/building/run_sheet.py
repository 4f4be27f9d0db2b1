"""The sheet of a building for a licensed contractor: one page for the talk, then everything, on as many as it takes."""

import csv
import io
from bisect import bisect_left

from ..quantities.display import system_of
from ..sheets import Box, Heading, Picture, Sheet, Stop, Table, Text
from ..sheets.blocks import NewPage
from ..storage.files import write_whole
from ..storage.spelling import in_words_of
from .changes import CHANGES_SHOWN, trying
from .run_sheet_rows import Rows
from .run_sheet_talk import STOP, Talk
from .sketch.isometric import describe, drawn_alone
from .steps import at_once
from .take_off import as_text

TYPE_SIZE, LEADING = 9.0, 1.13  # [pt]; from line to line by the type size
WIDTH = 1090  # [px] of the sketch, whose type is then 7.7 pt on A4
PAPERS = ("A4", "Letter")
COMMENTS, SLACK = 16.0, 3.0  # [mm] of the box for comments; kept free, for a browser lays lines out a little looser
SHARES = tuple(share / 100 for share in range(100, 28, -2))  # height of the sketch by its width, the largest first
TRIED = 0.6  # share of a small building's sheet that trying every change takes
MOST_TRIED = 40  # legs; in a larger building trying every change takes minutes, and the reader asks for it
NOT_TRIED = (
    "Not tried for this sheet: in a building of {} legs it takes minutes. In lesson 11 press *Try every change*"
    " first, then make the sheet again."
)


def run_sheet(layout, assessment=None, system: str | None = None, changes=None, papers=PAPERS) -> Sheet:
    """The sheet of a layout, its sketch as large as the first page of each of these papers allows.

    assessment : of the layout; None: made here
    system : unit system; None: as the layout's tank temperature is given
    changes : what to change first, from layout.first_changes; None: tried here, in a building of up to MOST_TRIED
        legs; (): none helps
    Raises InputError: an unknown unit system or paper; fittings that leave no room for pipe.
    """
    return at_once(making(layout, assessment, system, changes, papers))


def making(layout, assessment=None, system: str | None = None, changes=None, papers=PAPERS):
    """The same in steps, see steps.py."""
    assessment = layout.assess() if assessment is None else assessment
    system = system_of(layout.set_temperature) if system is None else system
    done = 0.0
    yield done
    if changes is None and len(layout.all_legs) <= MOST_TRIED:
        done = TRIED
        for tried in trying(layout, *CHANGES_SHOWN):
            changes = tried.best
            yield done * tried.share
    rows = Rows(layout, assessment, system)
    yield done + 0.2 * (1 - done)
    talk = Talk(rows, changes)
    told = in_words_of(describe(layout, assessment, system), system)
    rest = (
        NewPage(f"{layout.name}: everything in it"),
        *rows.everything(),
        Heading("What to change first"),
        *(rows.first_changes(changes) if changes is not None else (Text(NOT_TRIED.format(len(layout.all_legs))),)),
        Heading("Before anybody works on it"),
        Text(f"{talk.cautions()}\n{talk.foot()}"),
    )
    yield done + 0.4 * (1 - done)
    place = bisect_left(SHARES, True, key=lambda one: _fits(talk, Picture("", b"", "", one), papers))
    share = SHARES[min(place, len(SHARES) - 1)]
    yield done + 0.7 * (1 - done)
    sketch = drawn_alone(layout, assessment, system, WIDTH, round(share * WIDTH))
    return _sheet(talk, Picture(sketch.svg(), sketch.pdf(), told, share), COMMENTS, rest)


def _fits(talk: Talk, picture: Picture, papers) -> bool:
    """Says whether the first page of each paper holds the talk with so large a sketch."""
    return all(_sheet(talk, picture, COMMENTS + SLACK).pages(paper) == 1 for paper in papers)


def _sheet(talk: Talk, picture: Picture, comments: float, rest: tuple = ()) -> Sheet:
    """The first page, and what comes after it."""
    blocks = (
        Stop(STOP),
        talk.whose(),
        Text(talk.settings()),
        picture,
        talk.extremes(),
        Heading("We ask you to"),
        Text(talk.asked()),
        Box("Comments of the licensed contractor, with name, licence and date:", comments),
        *rest,
    )
    return Sheet(
        talk.title(),
        blocks,
        TYPE_SIZE,
        one_page=False,
        leading=LEADING,
        system=talk.system,
        running=talk.running(),
    )


def save(sheet: Sheet, path, paper: str = "A4", replace: bool = False):
    """Write a sheet as HTML or PDF, or all its tables as CSV, as the name ends; returns the path.

    Raises InputError: another ending; the file is there already.
    """
    if not str(path).lower().endswith(".csv"):
        return sheet.save(path, paper, replace)
    return write_whole(path, tables_of(sheet), replace)


def tables_of(sheet: Sheet) -> str:
    """Gives every table of a sheet as CSV, each under its heading, and its sentences, with the words of the paper."""
    lines: list = [(sheet.title,)]
    for block in sheet.blocks:
        match block:
            case Heading(text) | NewPage(text):
                lines += [(), (text,)]
            case Table(head, rows):
                lines += [head, *rows]
            case Stop(text) | Text(text):
                lines += [(line,) for line in text.split("\n")]
    stream = io.StringIO()
    csv.writer(stream, lineterminator="\n").writerows(map(as_text, line) for line in lines)
    return stream.getvalue().replace("\u00a0", " ")  # no line breaks in a cell
