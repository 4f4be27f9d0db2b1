"""A sheet as a PDF, laid out by ReportLab with matplotlib's own typeface, which has every sign that the sheets use."""

from dataclasses import replace
from functools import cache, lru_cache, partial
from html import escape
from io import BytesIO
from pathlib import Path

import matplotlib
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, StreamObject
from reportlab import rl_config
from reportlab.lib.colors import HexColor, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, KeepInFrame, KeepTogether, PageBreak, Paragraph, SimpleDocTemplate, Spacer
from reportlab.platypus import Table as Grid

from .blocks import (
    MARGIN,
    NUMBERED,
    PAPERS,
    RUNNING,
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
WORDS = 20_000  # whose width is remembered in each face
LINES = ("GRID", (0, 0), (-1, -1), 0.6, black)


def _padding(aside: float, above: float) -> list:
    """Gives what stays free within a cell [pt]."""
    return [
        (f"{side}PADDING", (0, 0), (-1, -1), free)
        for side, free in zip(("LEFT", "RIGHT", "TOP", "BOTTOM"), (aside, aside, above, above))
    ]


SIDES = 4.0  # [pt] free at the left and at the right of a cell
BEGUN, SHORT = (
    30 * mm,
    70 * mm,
)  # [pt] that a long table begins with under its heading; a shorter one stays in one piece
NEARLY_A_SIDE = 200 * mm  # [pt] room from which on a row that does not fit would fit on no other side either
NONE, FRAMED = _padding(0, 0), _padding(4, 3)


class Rows(Grid):
    """A table whose rows stay whole, but for one that is longer than a side of paper."""

    def split(self, width, height):
        """Gives the parts of the table before and after a break; none where it had better begin on the next side."""
        parts = super().split(width, height)
        if not parts and height > NEARLY_A_SIDE:
            self.splitInRow = BEGUN
            parts = super().split(width, height)
            for part in parts:
                part.splitInRow = 0
        return parts


def document(sheet, paper: str) -> bytes:
    """Gives the whole PDF of a Sheet on a paper of PAPERS."""
    whole, _, rooms = _made(sheet, paper)
    if not rooms:
        return whole
    written, filled = PdfWriter(clone_from=BytesIO(whole)), BytesIO()
    for number, room in enumerate(rooms):
        _put(written, room, f"/Picture{number}")
    written.compress_identical_objects()
    written.write(filled)
    return filled.getvalue()


def _put(written: PdfWriter, room: "Room", name: str) -> None:
    """Puts a picture into its room as a form of its own (ISO 32000-1, 8.10, from memory): nothing in it is read anew."""
    picture, side = PdfReader(BytesIO(room.pdf)).pages[0], written.pages[room.side - 1]
    form = StreamObject()
    form.set_data(picture.get_contents().get_data())
    form |= {
        NameObject("/Type"): NameObject("/XObject"),
        NameObject("/Subtype"): NameObject("/Form"),
        NameObject("/BBox"): picture.mediabox.clone(written),
        NameObject("/Resources"): picture["/Resources"].clone(written),
    }
    scale, (x, y) = room.across / float(picture.mediabox.width), room.corner
    drawn = StreamObject()
    drawn.set_data(f"q {scale:.6f} 0 0 {scale:.6f} {x:.4f} {y:.4f} cm {name} Do Q\n".encode())
    resources = side["/Resources"]
    if "/XObject" not in resources:
        resources[NameObject("/XObject")] = DictionaryObject()
    resources["/XObject"][NameObject(name)] = written._add_object(form.flate_encode())
    before = side["/Contents"]
    parts = list(before) if isinstance(before, ArrayObject) else [side.raw_get("/Contents")]
    side[NameObject("/Contents")] = ArrayObject([*parts, written._add_object(drawn)])


def pages(sheet, paper: str) -> int:
    """Counts the sides that a Sheet takes where nothing is made smaller."""
    return _made(replace(sheet, one_page=False), paper, _Counted)[1]


def _made(sheet, paper: str, canvas=None) -> tuple[bytes, int, list]:
    """Gives the PDF without its pictures, its number of sides, and the rooms that it keeps for them.

    canvas : ReportLab's class that takes the pages; None: the one that writes the sheet's feet
    """
    _typefaces()
    width, height = (side * mm for side in PAPERS[paper])
    below = RUNNING * mm if sheet.running else 0.0
    inside = width - 2 * MARGIN * mm, height - 2 * MARGIN * mm - below
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
        bottomMargin=edge + below,
        title=sheet.title,
        author="Hot Water Runs",
        invariant=True,
        keepTogetherClass=_Begun,
    )
    usual = partial(_Numbered, running=sheet.running) if sheet.running else Canvas
    made.build(parts, canvasmaker=canvas or usual)
    return whole.getvalue(), made.page, writer.rooms


@cache
def _typefaces() -> None:
    """Makes both faces known to ReportLab, once: reading them takes as long as laying out a sheet."""
    rl_config.useA85 = 0  # bytes as they are, not as letters: smaller files, sooner written
    for name in (PLAIN, BOLD):
        font = TTFont(name, Path(matplotlib.get_data_path()) / "fonts" / "ttf" / f"{name}.ttf")
        font.stringWidth = lru_cache(WORDS)(font.stringWidth)  # a sheet asks for the same words again and again
        pdfmetrics.registerFont(font)


class _Begun(KeepTogether):
    """A heading with what is under it, in one piece; a long table may begin where there is room for some of its rows."""

    def split(self, width, height) -> list:
        """Gives the pieces; called by ReportLab."""
        pieces = super().split(width, height)
        long = isinstance(self._content[-1], Grid) and self._H > SHORT
        return self._content[:] if long and height > BEGUN else pieces


class _Numbered(Canvas):
    """Pages that wait until their number is known; each then gets the running words and its number at its foot."""

    def __init__(self, *args, running: str, **options):
        super().__init__(*args, **options)
        self.running, self.waiting = running, []

    def showPage(self) -> None:
        """Keeps a page that is laid out; called by ReportLab."""
        self.waiting.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        """Writes every page with its foot; called by ReportLab."""
        for number, page in enumerate(waiting := self.waiting, 1):
            self.__dict__.update(page)
            width = self._pagesize[0]
            self.setFont(PLAIN, 8)
            self.drawString(MARGIN * mm, MARGIN * mm, self.running)
            self.drawRightString(width - MARGIN * mm, MARGIN * mm, NUMBERED.format(number, len(waiting)))
            super().showPage()
        super().save()


class _Counted(Canvas):
    """Takes pages that are only counted."""

    def save(self) -> None:
        """Writes nothing; called by ReportLab."""


class _Foot(Flowable):
    """Takes no room; from the page on which it lies, other words run at the foot."""

    def __init__(self, running: str):
        super().__init__()
        self.running, self.width, self.height = running, 0, 0

    def draw(self) -> None:
        """Tells the page; called by ReportLab."""
        self.canv.running = self.running


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
        self.tight = _padding(SIDES, 2 / 0.3 * (leading - 1))
        self.rooms: list[Room] = []

    def words(self, text: str, face: str = PLAIN, larger: float = 1.0, lead: str = "") -> Paragraph:
        """Makes a paragraph in a typeface, as large as the type size times `larger`; `lead` begins it, in bold."""
        size = larger * self.type_size
        begun = f'<font name="{BOLD}">{escape(lead)}</font>' if lead else ""
        return Paragraph(
            begun + escape(text).replace("\n", "<br/>"),
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
            case NewPage(title, running):
                return [PageBreak(), *([_Foot(running)] if running else []), self.words(title, BOLD, 1.45)]
            case Text(text, bold, lead):
                return [self.words(text, BOLD if bold else PLAIN, lead=lead)]
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
                asked = self.words(label)
                asked.keepWithNext = True  # no line to write on without what it is for
                return [
                    asked,
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
        shares = table.shares or (1,) * len(table.head or table.rows[0])
        widths = [width * share / sum(shares) for share in shares]
        rows = [self._cells(row, widths, PLAIN) for row in table.rows]
        style = [LINES, ("VALIGN", (0, 0), (-1, -1), "TOP"), *self.tight]
        style.append(("FONT", (0, 0), (-1, -1), PLAIN, self.type_size, self.leading * self.type_size))
        if table.head:
            rows.insert(0, self._cells(table.head, widths, BOLD))
            style += [("BACKGROUND", (0, 0), (-1, 0), HexColor("#e8e8e8")), ("FONTNAME", (0, 0), (-1, 0), BOLD)]
        return Rows(rows, colWidths=widths, repeatRows=1 if table.head else 0, style=style)

    def _cells(self, texts, widths, face: str) -> list:
        """Gives the cells of a row: a line that has room stays plain, which is laid out much sooner; others wrap."""
        return [
            text
            if "\n" not in text and stringWidth(text, face, self.type_size) <= width - 2 * SIDES
            else self.words(text, face)
            for text, width in zip(texts, widths)
        ]

    def columns(self, columns, shares, width: float) -> Grid:
        """Lays columns of blocks side by side."""
        gap = 4 * mm
        inside = [(width - gap * (len(columns) - 1)) * share / sum(shares) for share in shares]
        cells = [self.all(blocks, each) for blocks, each in zip(columns, inside)]
        widths = [each + (gap if number < len(inside) - 1 else 0) for number, each in enumerate(inside)]
        return Grid([cells], colWidths=widths, style=[("VALIGN", (0, 0), (-1, -1), "TOP"), *NONE])
