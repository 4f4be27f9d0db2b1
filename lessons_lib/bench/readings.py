"""Readings taken at the bench: typed in a small table, or from the file of a logger.

What cannot be used is left out visibly: each such row is kept with its number and the reason. Files are read, never
written.
"""

from dataclasses import dataclass, fields, replace
from pathlib import Path
from typing import NamedTuple

import numpy as np

from ..quantities.errors import InputError, shown
from ..quantities.plain_data import fields_from, plain
from ..quantities.results import Printed
from ..quantities.units import Quantity, quantity, to_base
from ..storage import reading_table as written
from ..storage.files import read_bytes
from .reading_columns import DOMAINS, columns_of
from .reading_header import Chosen

FEWEST = 4
LARGEST = 20_000_000  # bytes of a file; half a million rows have some 15 million
SHOWN = 5  # left-out rows that are printed one by one


class LeftOut(NamedTuple):
    """A row that is not used, and why."""

    row: int
    reason: str

    def __str__(self) -> str:
        return f"row {self.row}: {self.reason}"


@dataclass(frozen=True, repr=False, eq=False)
class Readings(Printed):
    """Temperatures against time, or against the place along a run.

    temperature : (n,), -60 to 100 degC
    time : (n,), rising; or place : (n,) from the start of the run, in any order
    flow : (n,) or None; air : (n,) or None, of the air around the run
    name : of the file or table; row : (n,) row numbers in it, whole numbers, or None: 1, 2, 3 …
    left_out : tuple of LeftOut
    Raises InputError: fewer than four readings, neither time nor place, lists of different length, times that do not
    rise.
    """

    temperature: Quantity
    time: Quantity | None = None
    place: Quantity | None = None
    flow: Quantity | None = None
    name: str = "readings"
    row: object = None
    left_out: tuple = ()
    air: Quantity | None = None

    def __post_init__(self):
        inside = {
            kind: to_base(getattr(self, kind), domain)
            for kind, domain in DOMAINS.items()
            if getattr(self, kind) is not None
        }
        count = np.size(inside.get("temperature", ()))
        if ("time" in inside) == ("place" in inside):
            raise InputError(f"{self.name}: give either the times or the places of the readings.")
        for kind, values in inside.items():
            if np.shape(values) != (count,):
                raise InputError(
                    f"{self.name}: {kind} has {np.size(values)} values for {count} temperatures. Give one a row."
                )
            object.__setattr__(self, kind, quantity(values, DOMAINS[kind].unit))
        if count < FEWEST:
            raise InputError(
                f"{self.name}: {count} readings; a fit needs at least {FEWEST}, better 10. Read longer or more often."
            )
        if self.row is None:
            object.__setattr__(self, "row", np.arange(1, count + 1))
        back = np.flatnonzero(np.diff(inside["time"]) <= 0) if "time" in inside else ()
        if len(back):
            raise InputError(
                f"{self.name}: row {self.row[back[0] + 1]} is not later than row {self.row[back[0]]}. Sort the rows by"
                " time."
            )

    @classmethod
    def from_csv(cls, path, temperature: str | None = None, chosen: Chosen = Chosen()) -> "Readings":
        """Readings from a text file with a header; delimiter comma, semicolon or tab; lines that begin with # are
        comments.

        path : file; it is read and never written
        temperature : a word of the header, where several columns hold temperatures
        chosen : places of columns, units and the order of dates, where the header does not say them
        The header names each column and its unit: "time [min]", "temperature (°F)", "Temp °C", "air [°C]", "clock",
        "place [m]", "flow [L/min]". A logger's lines may stand above it. Decimal comma or point; clock times as 14:03,
        14:03:20 or 2:03 pm, over midnight too, and with a date: 2026-03-05, 05.03.2026, 5 Mar 2026, 3/5/2026.
        Raises Unclear where chosen has to say more; InputError naming file and row: not there, empty, too large, not
        text, no header, no usable rows.
        """
        name = shown(Path(path).name)
        return cls.from_text(written.text_of(read_bytes(path, LARGEST), name), name, temperature, chosen)

    @classmethod
    def from_text(
        cls, text: str, name: str = "readings", temperature: str | None = None, chosen: Chosen = Chosen()
    ) -> "Readings":
        """Gives the same from text, for example pasted from a spreadsheet."""
        return _read(cls, name, *written.table(text, name, preamble=True), chosen, temperature)

    @classmethod
    def typed(cls, header, rows, name: str = "your table") -> "Readings":
        """Gives the same from a small table: header and rows as lists of cells, text or numbers; empty rows do not
        count.

        Rows are numbered from 1, as they stand in the table.
        """
        cells = [["" if cell is None else str(cell) for cell in row] for row in rows]
        kept = [number for number, row in enumerate(cells, 1) if any(cell.strip() for cell in row)]
        return _read(cls, name, 0, [str(cell) for cell in header], kept, [cells[number - 1] for number in kept])

    @property
    def along(self) -> bool:
        """True for readings along a run, False for readings over time."""
        return self.place is not None

    def without(self, bad, reasons) -> "Readings":
        """Gives the readings less some of them. bad : (n,) of bool; reasons : one text, or one for each bad row. Raises
        InputError: too few left.
        """
        rows = self.row[bad].tolist()
        more = [
            LeftOut(row, why) for row, why in zip(rows, [reasons] * len(rows) if isinstance(reasons, str) else reasons)
        ]
        every = tuple(sorted([*self.left_out, *more]))
        if np.sum(~bad) < FEWEST:
            raise _too_few(self.name, int(np.sum(~bad)), every)
        return replace(self, **self._of(np.flatnonzero(~bad)), left_out=every)

    def in_order(self) -> "Readings":
        """The readings from the start of the run to its end, or as they are over time."""
        return replace(self, **self._of(np.argsort(self.place.magnitude, kind="stable"))) if self.along else self

    def thinned(self, most: int = 2000) -> "Readings":
        """Gives at most so many readings, for drawing: of each stretch the lowest and the highest, so that no spike is
        lost.
        """
        count = len(self.row)
        if count <= most:
            return self
        size = -(-count // (most // 2))
        stretches = np.pad(self.temperature.magnitude, (0, -count % size), mode="edge").reshape(-1, size)
        first = size * np.arange(len(stretches))
        both = np.concatenate([first + stretches.argmin(axis=1), first + stretches.argmax(axis=1)])
        return replace(self, **self._of(np.unique(both)))  # what the last stretch was filled up with is never the first

    def _of(self, places) -> dict:
        """The fields of the readings at these places in the lists."""
        lists = {kind: getattr(self, kind) for kind in (*DOMAINS, "row")}
        return {kind: None if values is None else values[places] for kind, values in lists.items()}

    def to_data(self) -> dict:
        """Gives the readings as plain data, what JSON can hold. Thin a long logger file first."""
        return plain({field.name: getattr(self, field.name) for field in fields(self)})

    @classmethod
    def from_data(cls, data) -> "Readings":
        """Makes readings from what `to_data` gave. Raises InputError where it is something else."""
        # the air was not kept at first
        told = {"air": None, **data} if isinstance(data, dict) else data
        given = fields_from(told, [field.name for field in fields(cls)], "readings")
        try:
            row, left_out = (
                np.asarray(given.pop("row"), dtype=int),
                tuple(LeftOut(int(row), str(why)) for row, why in given.pop("left_out")),
            )
        except (TypeError, ValueError):
            raise InputError(
                "readings: the row numbers of the saved data cannot be read. Read the file in again."
            ) from None
        return cls(**given, row=row, left_out=left_out)

    def _rows(self):
        listed = [row for row in super()._rows() if row[0] not in ("row", "left out") and row[1] != "None"]
        return [*listed, ("readings", str(len(self.row))), ("left out", left_out_words(self.left_out))]


def left_out_words(left_out) -> str:
    """The first few left-out rows, and how many more there are."""
    if not left_out:
        return "none"
    more = f"; and {len(left_out) - SHOWN} more" if len(left_out) > SHOWN else ""
    return "; ".join(str(one) for one in left_out[:SHOWN]) + more


def _too_few(name: str, usable: int, left_out, numbers=()) -> InputError:
    count = usable + len(left_out)
    rows = f" (rows {numbers[0]} to {numbers[-1]})" if len(numbers) > 1 else ""
    why = f" Left out: {left_out_words(left_out)}." if left_out else ""
    return InputError(
        f"{name}: {'no' if not usable else usable} usable {'row' if usable <= 1 else 'rows'} of {count}{rows}; "
        f"a fit needs at least {FEWEST}, better 10.{why} Read longer or more often, or mend the rows."
    )


def _read(cls, name: str, header_row: int, header, numbers, cells, chosen=Chosen(), temperature=None):
    """Readings from a table in text."""
    columns, rows, left_out = columns_of(name, header_row, header, numbers, cells, chosen, temperature)
    left_out = tuple(LeftOut(*one) for one in left_out)
    if len(rows) < FEWEST:
        raise _too_few(name, len(rows), left_out, numbers)
    return cls(
        **{kind: quantity(values, DOMAINS[kind].unit) for kind, values in columns.items()},
        name=name,
        row=rows,
        left_out=left_out,
    )
