"""Reads the tables of data/. Each file begins with '#' lines that say its source and units.

A table may be changed in a spreadsheet: a byte order mark, semicolons, other encodings and 1 for 01 are read as they
are meant.
What cannot be read is a sentence with file and row.
"""

import math
import tomllib
from functools import cache
from pathlib import Path

import numpy as np

from ..quantities.errors import InputError, shown, unknown_name
from . import own_material, own_rows, reading_table
from .files import NotThere, read_bytes

_PACKAGE = Path(__file__).parent.parent
# In a checkout data/ lies beside the package; an installed wheel carries it inside.
DATA = next(folder for folder in (_PACKAGE / "data", _PACKAGE.parent / "data") if folder.is_dir())


LARGEST = 5_000_000  # bytes of a table


class Row(dict):
    """A row of a table: column → text. where : file and row, for messages"""

    def __init__(self, where: str, cells: dict):
        super().__init__(cells)
        self.where = where

    def __missing__(self, column):
        raise InputError(
            f'{self.where}: there is no column "{column}"; the header says {", ".join(self)}. Write the header as it'
            " was."
        )

    def number(self, column: str) -> float:
        """A cell as a number. Raises InputError."""
        value = reading_table.number(self[column])
        if math.isnan(value):
            raise InputError(
                f'{self.where}, {column}: "{shown(self[column])}" was given; write a number in digits, like 15.'
            )
        return value

    def whole(self, column: str, most: int = 10_000) -> int:
        """A cell as a whole number from 0 on. Raises InputError."""
        value = self.number(column)
        if value != int(value) or not 0 <= value <= most:
            raise InputError(
                f'{self.where}, {column}: "{shown(self[column])}" was given; write a whole number in digits, from 0 to'
                f" {most}."
            )
        return int(value)

    def word(self, column: str, known) -> str:
        """A cell that is one of the known words. Raises InputError."""
        if self[column] not in known:
            raise unknown_name(f"{self.where}, {column}", self[column], list(known))
        return self[column]


@cache
def rows(name: str) -> tuple[Row, ...]:
    """The rows of data/<name>.csv as dictionaries of text, in file order, with a school's own rows where a table takes
    any. Raises InputError: no such table, or one that cannot be read.
    """
    of_project = of_workbook(name)
    if name not in own_rows.TABLES:
        return of_project
    own, _ = _own(name, of_project)
    return own_rows.merged(name, of_project, own)


def of_workbook(name: str) -> tuple[Row, ...]:
    """The rows of data/<name>.csv without a school's own."""
    return _read(DATA / f"{name}.csv")


def own(name: str) -> list[Row]:
    """A school's own rows of a table, as they are merged into it; those that cannot be read are in `own_slips`."""
    return _own(name, of_workbook(name))[0]


def own_slips() -> list[str]:
    """A sentence for each own row, or own table, that cannot be read: file, row and remedy. All else goes on without
    it.
    """
    return [slip for name in own_rows.TABLES for slip in _own(name, of_workbook(name))[1]]


def _own(name: str, of_project: tuple) -> tuple[list, list]:
    """A school's own rows of a table that can stand in it, and what is wrong with the others."""
    try:
        good, errors = _looked_at(name, own_material.table(name), of_project)
    except NotThere:  # the usual case: a school has none of its own
        return [], []
    except InputError as error:
        return [], [f"{error} Until then the workbook's own rows hold."]
    return good, [f"{error} Until then this row is left out." for error in errors]


def looked_at(name: str, file: Path) -> tuple[list, list]:
    """The rows of a file that can stand in a table as a school's own, and an InputError for each of the others.

    Raises InputError: nothing of the file can be read; NotThere.
    """
    return _looked_at(name, file, of_workbook(name))


def _looked_at(name: str, file: Path, of_project: tuple) -> tuple[list, list]:
    """Reads a file for a table, see `looked_at`. of_project : the table's rows without a school's own"""
    written, good, errors = _read(file), [], []
    if len(written) > own_rows.MOST_ROWS:
        raise InputError(
            f"{name}.csv: {len(written)} rows are too many; at most {own_rows.MOST_ROWS}. Keep a part of them."
        )
    for row in written:
        try:
            own_rows.checked(name, row, of_project)
        except InputError as error:
            errors.append(error)
        else:
            good.append(row)
    return good, errors


def _read(file: Path) -> tuple[Row, ...]:
    """The rows of a file. Raises InputError that names it, and NotThere."""
    text = reading_table.text_of(read_bytes(file, LARGEST), file.name)
    _, header, numbers, cells = reading_table.table(text, file.name)
    columns = [column.strip() for column in header]
    return tuple(_row(f"{file.name}, row {number}", columns, row) for number, row in zip(numbers, cells[:]))


def _row(where: str, columns: list[str], cells: list[str]) -> Row:
    if any(cell.strip() for cell in cells[len(columns) :]):
        raise InputError(
            f"{where}: {len(cells)} cells where the header has {len(columns)}. Put a text that has a comma in it in"
            " quotation marks."
        )
    row = Row(where, {column: cell.strip() for column, cell in zip(columns, [*cells, *[""] * len(columns)]) if column})
    if row.get("lesson", "").isdigit():
        row["lesson"] = row["lesson"].zfill(2)  # a spreadsheet makes 1 of 01
    return row


@cache
def columns(name: str) -> dict[str, np.ndarray]:
    """A wholly numeric table as one array a column."""
    table = rows(name)
    return {key: np.array([row.number(key) for row in table]) for key in table[0]}


def row(name: str, key: str, value: str, kind: str) -> Row:
    """The first row whose column `key` is `value` (case ignored), or an InputError with the nearest names."""
    wanted = str(value).strip().lower()
    for candidate in rows(name):
        if candidate[key].lower() == wanted:
            return candidate
    raise unknown_name(kind, value, list(dict.fromkeys(candidate[key] for candidate in rows(name))))


ANY_OTHER = "any other"  # in a table's key: what holds for all that have no rows of their own


def rows_or_other(name: str, column: str, value: str) -> list[Row]:
    """The rows whose `column` is `value` (case ignored); where there are none, those of "any other"."""
    wanted = value.strip().lower()
    found = [one for one in rows(name) if one[column].lower() == wanted]
    return found or [one for one in rows(name) if one[column] == ANY_OTHER]


@cache
def tern_bank() -> tuple[dict, ...]:
    """Reads the invented demo scenario: one dictionary a place, in file-name order, each with its list of runs."""
    return tuple(
        tomllib.loads(path.read_text(encoding="utf-8-sig")) for path in sorted((DATA / "tern_bank").glob("*.toml"))
    )
