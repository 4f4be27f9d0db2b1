"""Several sheets written into one folder, each whole or not at all, none over another unless told."""

import hashlib
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from ...quantities.errors import InputError
from ...storage import preferences
from .bench_card import PAPER as CARD_PAPER

PAPERS = ("A4", "Letter")  # of everything but bench cards, which are A5
CARD = "bench-card"


def folder() -> Path:
    """Says where prints lie: "sheets" in the reader's own folder."""
    return preferences.folder() / "sheets"


@dataclass(frozen=True)
class Written:
    """Says what became of each sheet. written : files; left : names of files that were there already and were not
    touched.
    """

    written: tuple
    left: tuple

    def told(self) -> str:
        """It in a sentence or two."""
        said = []
        if self.written:
            names = ", ".join(file.name for file in self.written)
            said.append(f"Written to {self.written[0].parent}: {names}.")
        if self.left:
            said.append(f"There already and not touched: {', '.join(self.left)}. Tick “write over” to replace them.")
        return " ".join(said)


def write_sheets(sheets: dict, paper: str, replace: bool = False, where=None) -> Written:
    """Writes the sheets as PDF.

    sheets : plain name without ending → Sheet; bench cards are A5 whatever the paper
    paper : "A4" or "Letter"; replace : True: files of the same name are written over; where : folder, None: the usual
        one
    Raises InputError: the folder cannot be used.
    """
    place = folder() if where is None else Path(where)
    try:
        place.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise InputError(
            f"The folder {place} can't be used ({reason.strerror}). Nothing was written; ask who set up this machine."
        ) from None
    written, left = [], []
    for name, sheet in sheets.items():
        on = CARD_PAPER if name.startswith(CARD) else paper
        file = place / f"{name}-{on}.pdf"
        if file.exists() and not replace:
            left.append(file.name)
        else:
            written.append(sheet.save(file, on, replace))
    return Written(tuple(written), tuple(left))


def plain_name(*parts) -> str:
    """A name for a file from texts of any kind: plain letters, and a mark of its own where letters had to be left
    out.
    """
    text = " ".join(str(part) for part in parts)
    letters = unicodedata.normalize("NFKD", text.lower()).encode("ascii", "ignore").decode("ascii")
    plain = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")
    if len(plain) <= 60 and not re.search(r"[^a-z0-9 ,.·-]", text.lower()):
        return plain
    return f"{plain[:48].strip('-') or 'sheet'}-{hashlib.sha256(text.encode('utf-8', 'surrogatepass')).hexdigest()[:6]}"
