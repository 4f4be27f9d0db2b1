"""A sheet as a PDF, laid out by ReportLab with matplotlib's own typeface, which has every sign that the sheets use."""

from dataclasses import replace
from html import escape
from io import BytesIO
from pathlib import Path

import matplotlib
from pypdf import PdfReader, PdfWriter, Transformation
from reportlab.lib.colors import HexColor, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Flowable, KeepInFrame, PageBreak, Paragraph, SimpleDocTemplate, Spacer
from reportlab.platypus import Table as Grid

from .blocks import (
    MARGIN,
    PAPERS,
    Blank,
    Box,
    Columns,
    Heading,
    NewPage,
    Picture,
    Signatures,
    Stop,
    Table,
    Text,
)

PLAIN, BOLD = "DejaVuSans", "DejaVuSans-Bold"
LINES = ("GRID", (0, 0), (-1, -1), 0.6, black)


def _padding(aside: float, above: float) -> list:
    """Gives what stays free within a cell [pt]."""
    return [
        (f"{side}PADDING", (0, 0), (-1, -1), free)
        for side, free in zip(("LEFT", "RIGHT", "TOP", "BOTTOM"), (aside, aside, above, above))
    ]


NONE, FRAMED = _padding(0, 0), _padding(4, 3)


def document(sheet, paper: str) -> bytes:
    """Gives the whole PDF of a Sheet on a paper of PAPERS."""
    whole, _, rooms = _made(sheet, paper)
    if not rooms:
        return whole
    written, filled = PdfWriter(clone_from=BytesIO(whole)), BytesIO()
    for room in rooms:
        picture = PdfReader(BytesIO(room.pdf)).pages[0]
        scale = room.across / float(picture.mediabox.width)
        there = Transformation().scale(scale).translate(*room.corner)
        written.pages[room.side - 1].merge_transformed_page(picture, there)
    written.compress_identical_objects()
    written.write(filled)
    return filled.getvalue()


def pages(sheet, paper: str) -> int:
    """Counts the sides that a Sheet takes where nothing is made smaller."""
    return _made(replace(sheet, one_page=False), paper)[1]


def _made(sheet, paper: str) -> tuple[bytes, int, list]:
    """Gives the PDF without its pictures, its number of sides, and the rooms that it keeps for them."""
    for name in (PLAIN, BOLD):
        pdfmetrics.registerFont(TTFont(name, Path(matplotlib.get_data_path()) / "fonts" / "ttf" / f"{name}.ttf"))
    width, height = (side * mm for side in PAPERS[paper])
    inside = width - 2 * MARGIN * mm, height - 2 * MARGIN * mm
    writer = _Writer(sheet.type_size, sheet.leading)
    parts = [writer.words(sheet.title, BOLD, 1.45), *writer.all(sheet.blocks, inside[0])]
    if sheet.foot:
        parts += [Spacer(1, 4), writer.words(sheet.foot, PLAIN, 0.85)]
    if sheet.one_page:
        parts = [KeepInFrame(*inside, parts, mode="shrink")]
    whole = BytesIO()
    edge = MARGIN * mm - 6  # the frame of a page adds 6 pt of its own
    made = SimpleDocTemplate(
        whole,
        pagesize=(width, height),
        leftMargin=edge,
        rightMargin=edge,
        topMargin=edge,
        bottomMargin=edge,
        title=sheet.title,
        author="Hot Water Runs",
        invariant=True,
    )
    made.build(parts)
    return whole.getvalue(), made.page, writer.rooms


class Room(Flowable):
    """Keeps the room of a picture, and knows after the layout where on the paper it lies, however much it was shrunk.

    side : of paper, counted from 1; corner : the lower left one [pt]; across : the width on paper [pt]
    """

    hAlign = "CENTER"

    def __init__(self, pdf: bytes, width: float, height: float):
        super().__init__()
        self.pdf, self.width, self.height = pdf, width, height
        self.side, self.corner, self.across = 0, (0.0, 0.0), 0.0

    def draw(self) -> None:
        """Notes the place; called by ReportLab."""
        self.side, self.corner = self.canv.getPageNumber(), self.canv.absolutePosition(0, 0)
        self.across = self.canv.absolutePosition(self.width, 0)[0] - self.corner[0]


class _Writer:
    """Blocks to flowables, for one type size [pt] and leading by it."""

    def __init__(self, type_size: float, leading: float):
        self.type_size, self.leading = type_size, leading
        self.tight = _padding(4, 2 / 0.3 * (leading - 1))
        self.rooms: list[Room] = []

    def words(self, text: str, face: str = PLAIN, larger: float = 1.0) -> Paragraph:
        """Makes a paragraph in a typeface, as large as the type size times `larger`."""
        size = larger * self.type_size
        return Paragraph(
            escape(text).replace("\n", "<br/>"),
            ParagraphStyle(
                "words",
                fontName=face,
                fontSize=size,
                leading=self.leading * size,
                spaceAfter=2 / 0.3 * (self.leading - 1),
            ),
        )

    def all(self, blocks, width: float) -> list:
        """Every block, one after the other."""
        return [flowable for block in blocks for flowable in self.one(block, width)]

    def one(self, block, width: float) -> list:
        """The flowables of one block."""
        line = 2 * self.type_size
        match block:
            case Heading(text):
                line = Grid(
                    [[self.words(text, BOLD, 1.1)]],
                    colWidths=[width],
                    style=[("LINEBELOW", (0, 0), (-1, -1), 0.8, black), *NONE],
                )
                parts = [Spacer(1, 4), line, Spacer(1, 2)]
                for part in parts:
                    part.keepWithNext = True  # no heading at the foot of a side
                return parts
            case NewPage(title):
                return [PageBreak(), self.words(title, BOLD, 1.45)]
            case Text(text, bold):
                return [self.words(text, BOLD if bold else PLAIN)]
            case Stop(text):
                return [
                    Spacer(1, 3),
                    Grid(
                        [[self.words(text, BOLD)]],
                        colWidths=[width],
                        style=[("BOX", (0, 0), (-1, -1), 2.5, black), *FRAMED],
                    ),
                    Spacer(1, 3),
                ]
            case Table():
                return [self.table(block, width), Spacer(1, 3)]
            case Picture(_, pdf, _, proportion, share):
                self.rooms.append(Room(pdf, share * width, share * width * proportion))
                return self.rooms[-1:]
            case Blank(label, lines):
                empty = [[""]] * lines
                return [
                    self.words(label),
                    Grid(
                        empty,
                        colWidths=[width],
                        rowHeights=[line] * lines,
                        style=[("LINEBELOW", (0, 0), (-1, -1), 0.5, black)],
                    ),
                ]
            case Box(title, height):
                return [
                    Spacer(1, 3),
                    Grid(
                        [[self.words(title)]],
                        colWidths=[width],
                        rowHeights=[height * mm],
                        style=[("BOX", (0, 0), (-1, -1), 0.8, black), ("VALIGN", (0, 0), (-1, -1), "TOP"), *self.tight],
                    ),
                ]
            case Columns(columns, shares):
                return [self.columns(columns, shares or (1,) * len(columns), width)]
            case Signatures(roles):
                rows = tuple((role, "", "") for role in roles)
                return self.one(Table(("who", "name and signature", "date"), rows, (3, 5, 2)), width)
        raise TypeError(block)

    def table(self, table: Table, width: float) -> Grid:
        """A grid whose cells wrap."""
        rows = [[self.words(text, BOLD) for text in table.head]] if table.head else []
        rows += [[self.words(text) for text in row] for row in table.rows]
        shares = table.shares or (1,) * len(rows[0])
        grey = [("BACKGROUND", (0, 0), (-1, 0), HexColor("#e8e8e8"))] if table.head else []
        return Grid(
            rows,
            colWidths=[width * share / sum(shares) for share in shares],
            repeatRows=1 if table.head else 0,
            style=[LINES, ("VALIGN", (0, 0), (-1, -1), "TOP"), *self.tight, *grey],
        )

    def columns(self, columns, shares, width: float) -> Grid:
        """Lays columns of blocks side by side."""
        gap = 4 * mm
        inside = [(width - gap * (len(columns) - 1)) * share / sum(shares) for share in shares]
        cells = [self.all(blocks, each) for blocks, each in zip(columns, inside)]
        widths = [each + (gap if number < len(inside) - 1 else 0) for number, each in enumerate(inside)]
        return Grid([cells], colWidths=widths, style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *NONE])
