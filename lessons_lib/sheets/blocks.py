"""The blocks that a sheet is made of, as plain data; the two writers (page.py, document.py) decide how they look. A
line
break in a text is kept.
"""

from dataclasses import dataclass

# Width and height [mm] (ISO 216; ANSI/ASME Y14.1 size A), and what is left free at each edge.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "A5": (148.0, 210.0), "half Letter": (139.7, 215.9)}
HALF = {"A4": "A5", "Letter": "half Letter"}  # two of which lie side by side on the other
MARGIN = 12.0  # [mm] every common printer prints within it
RUNNING = 5.0  # [mm] of the line at the foot of every page, where a sheet has one
NUMBERED = "page {} of {}"


@dataclass(frozen=True)
class Heading:
    """A line that begins a part."""

    text: str


@dataclass(frozen=True)
class Text:
    """Stands for a paragraph of a sheet. lead : bold words that it begins with, before its text"""

    text: str
    bold: bool = False
    lead: str = ""


@dataclass(frozen=True)
class Stop:
    """Says what can hurt someone, in a thick frame."""

    text: str


@dataclass(frozen=True)
class Table:
    """Rows of texts under a head; an empty cell is left to be written in. shares : of the width, one a column."""

    head: tuple
    rows: tuple
    shares: tuple = ()


@dataclass(frozen=True)
class Picture:
    """A picture in lines, as sharp as the printer, with its description.

    svg, pdf : the same picture as a web page and as one page of a PDF show it; share : of the sheet's width;
    proportion : height by width
    """

    svg: str
    pdf: bytes
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
    """Says who signs: a line for the name and one for the date."""

    roles: tuple


@dataclass(frozen=True)
class NewPage:
    """Says that what follows begins on a new side, under a title. running : the words at the foot from there on, in a
    PDF; "": as before
    """

    title: str
    running: str = ""
