"""Where readings come from: Tern Bank's demo files, text that somebody typed, and files in the reader's own folder.

The reader's files are read and never written. A long logger file is read once and kept until it changes.
"""

from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from ..quantities.errors import InputError, shown
from ..storage import preferences
from ..storage.files import read_bytes
from ..storage.reading_table import text_of
from ..storage.tables import DATA
from .reading_header import Chosen, Offer, offer
from .readings import LARGEST, Readings

OWN_FOLDER = "my-readings"  # in the reader's folder, see preferences.folder
ENDINGS = (".csv", ".tsv", ".txt")
SPREADSHEETS = (".xlsx", ".xlsm", ".xls", ".ods", ".numbers")
DRAWN = 1000  # readings that a picture shows
SHOWN_LINES = 300  # of a file, beside the picture


@dataclass(frozen=True, eq=False)
class Source:
    """Readings with what a page shows of them.

    lines : the first lines of the file or table as text; drawn : the readings thinned for drawing
    offer : the columns that the reader may choose from
    """

    readings: Readings
    lines: tuple = field(repr=False)
    offer: Offer = field(default=Offer(), repr=False)

    @property
    def drawn(self) -> Readings:
        return _thinned(self.readings)


def own_folder() -> Path:
    """The folder for the reader's own files; it may not be there yet."""
    return preferences.folder() / OWN_FOLDER


def own_files(endings: tuple = ENDINGS) -> list[str]:
    """Names of the reader's files of readings, in order. An absent folder has none. Raises InputError: it cannot be
    looked into.
    """
    try:
        return sorted(file.name for file in own_folder().iterdir() if file.suffix.lower() in endings and file.is_file())
    except FileNotFoundError:
        return []
    except OSError as reason:
        raise InputError(
            f"The folder {OWN_FOLDER} cannot be read ({reason.strerror}). Ask who set up this machine."
        ) from None


def demo(name: str) -> Source:
    """A demo file of Tern Bank (invented), from data/bench."""
    return _read(DATA / "bench" / name)


def own(name: str, chosen: Chosen = Chosen()) -> Source:
    """A file of the reader's folder. Raises InputError naming file and row, Unclear where chosen has to say more."""
    return _read(own_folder() / Path(name).name, chosen)


def own_start(name: str) -> str:
    """The first lines of a file in the reader's folder, also where it holds no usable readings; "" where it is no
    text.
    """
    file = own_folder() / Path(name).name
    try:
        text = text_of(read_bytes(file, 100 * SHOWN_LINES, cut=True), file.name)
    except InputError:
        return ""
    return "\n".join(text.splitlines()[:SHOWN_LINES])


@lru_cache(maxsize=4)
def typed(text: str, chosen: Chosen = Chosen()) -> Source:
    """Readings from a typed or pasted table. Raises InputError naming the row, Unclear where chosen has to say more."""
    return Source(Readings.from_text(text, "your table", chosen=chosen), (), offer(text, "your table", chosen))


def _read(file: Path, chosen: Chosen = Chosen()) -> Source:
    try:
        stamp = file.stat()
        changed = stamp.st_mtime_ns, stamp.st_size
    except (OSError, ValueError):
        changed = 0, 0  # what is wrong with it, reading it will say
    return _kept(file, *changed, chosen)


@lru_cache(maxsize=4)
def _kept(file: Path, changed: int, size: int, chosen: Chosen) -> Source:
    """Reads a file once; `changed` and `size` tell when it is another file under the same name."""
    name = shown(file.name)
    text = text_of(read_bytes(file, LARGEST), name)
    lines = tuple(text[: 100 * SHOWN_LINES].splitlines()[:SHOWN_LINES])
    return Source(Readings.from_text(text, name, chosen=chosen), lines, offer(text, name, chosen))


@lru_cache(maxsize=8)
def _thinned(readings: Readings) -> Readings:
    return readings.thinned(DRAWN)
