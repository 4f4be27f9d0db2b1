"""A sheet: a title and blocks, as a web page or a PDF."""

from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path

from ..quantities.errors import unknown_name
from ..storage.files import write_whole
from ..storage.spelling import in_words_of
from .blocks import PAPERS, NewPage, Picture, Text
from .document import document, pages
from .page import page


@dataclass(frozen=True)
class Sheet:
    """Holds a title and the blocks under it.

    type_size : of the text [pt]; leading : from line to line, by the type size; one_page : it must fit on one side (a
        PDF is made smaller until it does); system : unit system whose side's words are printed, None for both
    running : words at the foot of every page, before its number; "": neither
    """

    title: str
    blocks: tuple
    type_size: float = 10.0
    one_page: bool = True
    foot: str = ""
    leading: float = 1.3
    system: str | None = None
    running: str = ""

    def __post_init__(self):
        if self.system:
            for name in ("title", "blocks", "foot", "running"):
                object.__setattr__(self, name, _said(getattr(self, name), self.system))

    def html(self, paper: str = "A4") -> str:
        """A page for the browser's print command, with everything inside it. Raises InputError for an unknown paper."""
        return page(self, _known(paper))

    def pdf(self, paper: str = "A4") -> bytes:
        """Gives the sheet as a PDF. Raises InputError for an unknown paper."""
        return document(self, _known(paper))

    def pages(self, paper: str = "A4") -> int:
        """Gives how many sides it takes at its own type size. Raises InputError for an unknown paper."""
        return pages(self, _known(paper))

    def save(self, path, paper: str = "A4", replace: bool = False) -> Path:
        """Write it as HTML or PDF, as the name ends. Raises InputError: another ending; the file is there already."""
        ending = Path(path).suffix.lower()
        if ending not in (".html", ".pdf"):
            raise unknown_name("ending", ending or str(path), [".html", ".pdf"])
        return write_whole(path, self.html(paper) if ending == ".html" else self.pdf(paper), replace)


def _said(part, system: str):
    """Gives a block, or all that is in it, in the words of one side; pictures bring their own."""
    if isinstance(part, str):
        return in_words_of(part, system)
    if isinstance(part, tuple):
        return tuple(_said(one, system) for one in part)
    if is_dataclass(part) and not isinstance(part, Picture):
        return replace(part, **{one.name: _said(getattr(part, one.name), system) for one in fields(part)})
    return part


def bound(sheets) -> Sheet:
    """Several sheets as one, each beginning on a new side and with its own words at the foot; type size of the first.

    Pages are counted through all of them.
    """
    first, *others = sheets
    blocks = [*first.blocks, *_foot(first)]
    for sheet in others:
        blocks += [NewPage(sheet.title, sheet.running), *sheet.blocks, *_foot(sheet)]
    return Sheet(first.title, tuple(blocks), first.type_size, one_page=False, running=first.running)


def _foot(sheet: Sheet) -> tuple:
    return (Text(sheet.foot),) if sheet.foot else ()


def _known(paper: str) -> str:
    if paper not in PAPERS:
        raise unknown_name("paper", paper, list(PAPERS))
    return paper
