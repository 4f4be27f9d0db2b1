"""What is wrong with a layout, or not there yet, in the words of the tables: which table, which row, what."""

from ...building.document import WHOLE
from ...building.document_floors import FLOOR
from ...building.document_floors import TABLE as FLOORS
from ...building.read import BUILDING
from ...quantities.errors import InputError
from .layout_table import SETTING, SETTINGS, TABLES, name_of

MOST_TOLD = 3  # things that are not there yet, in one sentence
TITLES = {kind: title for title, kind in TABLES.items()}


def kind_of(path: tuple) -> str | None:
    """Gives the table of the panel that holds a place of a layout file, None where no table shows it. path : see
    LayoutError
    """
    row = next((number for number, part in enumerate(path) if isinstance(part, int)), None)
    if row is not None:
        kind = ".".join(path[:row])
        return kind if kind in TITLES else None
    return SETTING if len(path) <= 2 and _setting(path) in SETTINGS else None


def place_of(document, error: InputError) -> tuple | None:
    """Gives the place of a layout file that an error is about, a floor by its row; None where it has none."""
    path = getattr(error, "path", None)
    if path and path[0] == FLOORS and len(path) > 1:
        names = [row["name"] for row in document.rows(FLOOR)]
        return (FLOOR, names.index(path[1])) if path[1] in names else path
    return path


def in_table_words(document, error: InputError) -> str:
    """An error as a reader at the tables can find it; by its line in the file where no table shows it."""
    path = place_of(document, error)
    if path is None:
        return str(error)
    kind = kind_of(path)
    if kind is None:
        return str(error) if path else error.plain
    row = next((part for part in path if isinstance(part, int)), None)
    where = _setting(path) if row is None else name_of(document, kind, row)
    return f"{TITLES[kind]}, {where}: {error.plain}"


def _setting(path: tuple) -> str:
    """Gives the name of the row of a single table."""
    return WHOLE if path[:1] and path[0] in BUILDING else path[0] if path else ""


def so_far(document, missing) -> str:
    """Says that a layout is drawn as far as it goes, and what is not there yet. missing : see Layout.unfinished"""
    told = " ".join(in_table_words(document, error) for error in missing[:MOST_TOLD])
    more = len(missing) - MOST_TOLD
    rest = f" The tables and the sketch mark {more} more." if more > 0 else ""
    return f"Drawn as far as it goes. {told}{rest}"
