"""What a sheet is made of. Plain data: the two writers (page.py, document.py) decide how it looks. A line break in a
text is kept.
"""

from dataclasses import dataclass
from pathlib import Path

from ..quantities.errors import unknown_name
from ..storage.files import write_whole

# Width and height [mm] (ISO 216; ANSI/ASME Y14.1 size A), and what is left free at each edge.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "A5": (148.0, 210.0)}
MARGIN = 12.0  # [mm] every common printer prints within it


@dataclass(frozen=True)
class Heading:
    """A line that begins a part."""

    text: str


@dataclass(frozen=True)
class Text:
    """A paragraph."""

    text: str
    bold: bool = False


@dataclass(frozen=True)
class Stop:
    """What can hurt someone, in a thick frame."""

    text: str


@dataclass(frozen=True)
class Table:
    """Rows of texts under a head; an empty cell is left to be written in. shares : of the width, one a column."""

    head: tuple
    rows: tuple
    shares: tuple = ()


@dataclass(frozen=True)
class Picture:
    """A PNG with its description. share : of the sheet's width; proportion : height by width"""

    png: bytes
    alt: str
    proportion: float
    share: float = 1.0


@dataclass(frozen=True)
class Blank:
    """A label and lines to write on."""

    label: str
    lines: int = 1


@dataclass(frozen=True)
class Box:
    """A frame to write in, so many mm high."""

    title: str
    height: float


@dataclass(frozen=True)
class Columns:
    """Blocks side by side, each column a tuple of blocks. shares : of the width"""

    columns: tuple
    shares: tuple = ()


@dataclass(frozen=True)
class Signatures:
    """Who signs: a line for the name and one for the date."""

    roles: tuple


@dataclass(frozen=True)
class NewPage:
    """What follows begins on a new side, under a title."""

    title: str


@dataclass(frozen=True)
class Sheet:
    """A title and blocks.

    type_size : of the text [pt]; leading : from line to line, by the type size; one_page : it must fit on one side (a
        PDF is made smaller until it does)
    """

    title: str
    blocks: tuple
    type_size: float = 10.0
    one_page: bool = True
    foot: str = ""
    leading: float = 1.3

    def html(self, paper: str = "A4") -> str:
        """A page for the browser's print command, with everything inside it. Raises InputError for an unknown paper."""
        from .page import page

        return page(self, _known(paper))

    def pdf(self, paper: str = "A4") -> bytes:
        """A PDF. Raises InputError for an unknown paper."""
        from .document import document

        return document(self, _known(paper))

    def pages(self, paper: str = "A4") -> int:
        """How many sides it takes at its own type size. Raises InputError for an unknown paper."""
        from .document import pages

        return pages(self, _known(paper))

    def save(self, path, paper: str = "A4", replace: bool = False) -> Path:
        """Write it as HTML or PDF, as the name ends. Raises InputError: another ending; the file is there already."""
        ending = Path(path).suffix.lower()
        if ending not in (".html", ".pdf"):
            raise unknown_name("ending", ending or str(path), [".html", ".pdf"])
        return write_whole(path, self.html(paper) if ending == ".html" else self.pdf(paper), replace)


def bound(sheets) -> Sheet:
    """Several sheets as one, each beginning on a new side; type size of the first."""
    first, *others = sheets
    blocks = [*first.blocks, *_foot(first)]
    for sheet in others:
        blocks += [NewPage(sheet.title), *sheet.blocks, *_foot(sheet)]
    return Sheet(first.title, tuple(blocks), first.type_size, one_page=False)


def _foot(sheet: Sheet) -> tuple:
    return (Text(sheet.foot),) if sheet.foot else ()


def _known(paper: str) -> str:
    if paper not in PAPERS:
        raise unknown_name("paper", paper, list(PAPERS))
    return paper
