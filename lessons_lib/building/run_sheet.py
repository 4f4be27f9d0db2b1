"""One side of paper for a licensed contractor: a building's sketch, take-off, results, settings and cautions."""

from ..quantities.display import system_of
from ..sheets import Box, Picture, Sheet, Stop, Text
from ..storage.spelling import in_words_of
from .run_sheet_rows import Rows
from .sketch.isometric import describe, drawn_alone

TYPE_SIZE, LEADING = 9.0, 1.13  # [pt]; from line to line by the type size
WIDTH = 1090  # [px] of the sketch, whose type is then 7.7 pt on A4
PAPERS = ("A4", "Letter")
COMMENTS, SLACK = 16.0, 2.0  # [mm] of the box for comments; kept free (a browser's page is 5 mm shorter than the PDF)
# Height of the sketch by its width, and rows of each table, tried in this order until all fits on one side.
TRIED = (
    *((share, 400) for share in (0.66, 0.62, 0.58, 0.54, 0.5, 0.47, 0.44, 0.41, 0.38, 0.36, 0.34, 0.32, 0.3)),
    *((0.34, rows) for rows in (30, 20, 14, 10, 7, 5, 4, 3, 2, 1)),
)
STOP = (
    "Hot water scalds, pressure and electricity injure, frozen pipes burst. To discuss with a licensed contractor;"
    " local code decides. Nothing heats before all is full and vented."
)


def run_sheet(layout, assessment=None, system: str | None = None, changes=None, papers=PAPERS) -> Sheet:
    """The sheet of a layout, its sketch as large as one side of each of these papers allows.

    assessment : of the layout; None: made here
    system : unit system; None: as the layout's tank temperature is given
    changes : what to change first, from layout.first_changes; None: tried here, which takes longest; (): left out
    Where a building is too long for one side the sheet says what was left out.
    Raises InputError: an unknown unit system or paper; fittings that leave no room for pipe.
    """
    assessment = layout.assess() if assessment is None else assessment
    system = system_of(layout.set_temperature) if system is None else system
    rows = Rows(layout, assessment, system, layout.first_changes() if changes is None else changes)
    told = in_words_of(describe(layout, assessment, system), system)
    share, most = next(
        (one for one in TRIED if _fits(_sheet(rows, Picture("", b"", "", one[0]), one[1], COMMENTS + SLACK), papers)),
        TRIED[-1],
    )
    sketch = drawn_alone(layout, assessment, system, WIDTH, round(share * WIDTH))
    return _sheet(rows, Picture(sketch.svg(), sketch.pdf(), told, share), most, COMMENTS)


def _fits(sheet: Sheet, papers) -> bool:
    """Says whether one side of each paper holds it."""
    return all(sheet.pages(paper) == 1 for paper in papers)


def _sheet(rows: Rows, picture: Picture, most: int, comments: float) -> Sheet:
    """Everything, with so many rows in each table at most."""
    blocks = [
        Stop(STOP),
        Text(rows.settings()),
        picture,
        *rows.taps(most),
        *rows.cold_legs(most),
        *rows.take_off(most),
        *rows.first_changes(),
    ]
    blocks += [
        Text(rows.cautions()),
        Box("Comments of the licensed contractor, with name, licence and date:", comments),
    ]
    return Sheet(rows.title(), tuple(blocks), TYPE_SIZE, foot=rows.foot(), leading=LEADING, system=rows.system)
