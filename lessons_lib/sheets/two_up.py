"""Small sheets side by side, two on a sheet of common paper turned on its side, to be cut apart in the middle."""

from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from pypdf import PdfReader, PdfWriter, Transformation

from ..quantities.errors import unknown_name
from ..storage.files import write_whole
from .blocks import HALF


@dataclass(frozen=True)
class TwoUp:
    """Holds sheets of half a paper's size each, in the order in which they are laid side by side."""

    sheets: tuple

    def pdf(self, paper: str = "A4") -> bytes:
        """Gives them as a PDF; nothing is made smaller. Raises InputError: a paper without halves."""
        if paper not in HALF:
            raise unknown_name("paper", paper, list(HALF))
        made = {sheet: sheet.pdf(HALF[paper]) for sheet in dict.fromkeys(self.sheets)}
        halves = [page for sheet in self.sheets for page in PdfReader(BytesIO(made[sheet])).pages]
        writer, whole = PdfWriter(), BytesIO()
        for left, *right in (halves[first : first + 2] for first in range(0, len(halves), 2)):
            width, height = left.mediabox.width, left.mediabox.height
            page = writer.add_blank_page(2 * width, height)
            for place, half in enumerate((left, *right)):
                page.merge_transformed_page(half, Transformation().translate(place * float(width), 0))
        writer.compress_identical_objects()
        writer.write(whole)
        return whole.getvalue()

    def save(self, path, paper: str = "A4", replace: bool = False) -> Path:
        """Write them as a PDF. Raises InputError: the file is there already."""
        return write_whole(path, self.pdf(paper), replace)
