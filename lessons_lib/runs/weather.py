"""Weather hour by hour: a table, or a plain day and night."""

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ..quantities.errors import InputError, shown
from ..quantities.results import Printed
from ..quantities.units import AIR, Q_, RADIANT, WIND, Domain, Quantity, own_copy, quantity, to_base
from ..storage import reading_table
from ..storage.files import read_bytes
from .common_values import LONG_NIGHT

TIME = Domain("time", "s", 0, 3.2e7, 'Q_([0, 1, 2], "h")')
LARGEST = 5_000_000  # bytes; a year of hours has some 200 thousand
COLUMNS = {"hour": ("h", TIME), "air": ("degC", AIR), "wind": ("m/s", WIND)}


@dataclass(frozen=True, repr=False, eq=False)
class Weather(Printed):
    """Air and wind at rising times, straight lines between them; the times are the same distance apart.

    time, air, wind : quantities of shape (n,), n at least 2; wind and radiant may be single values
    radiant : what outdoor surfaces radiate to; None: the air. A clear night sky can be 20 K colder.
    Raises InputError: lists of different length, times that are unsorted, doubled or missing (the row is named).
    """

    time: Quantity
    air: Quantity
    wind: Quantity = Q_(0.0, "m/s")
    radiant: Quantity | None = None

    def __post_init__(self):
        seconds, air = to_base(self.time, TIME), to_base(self.air, AIR)
        if np.ndim(seconds) != 1 or len(seconds) < 2:
            raise InputError('weather: give at least two times, for example Q_([0, 1, 2], "h").')
        gaps = np.diff(seconds)
        wrong = np.flatnonzero(gaps <= 0)
        if len(wrong):
            raise InputError(
                f"weather: row {wrong[0] + 2} is not later than row {wrong[0] + 1}. Sort the rows by time."
            )
        missing = np.flatnonzero(gaps > 1.01 * np.median(gaps))
        if len(missing):
            raise InputError(
                f"weather: between row {missing[0] + 1} and row {missing[0] + 2} at least one row is missing "
                f"({gaps[missing[0]] / 3600:.3g} h instead of {np.median(gaps) / 3600:.3g} h). Fill the gap."
            )
        for name, value in (("air", air), ("wind", to_base(self.wind, WIND)), *self._radiant()):
            if np.ndim(value) and np.shape(value) != np.shape(seconds):
                raise InputError(
                    f"weather: {name} has {np.size(value)} values for {len(seconds)} times. Give one a row."
                )

        for name in ("time", "air", "wind", *(("radiant",) if self.radiant is not None else ())):
            object.__setattr__(self, name, own_copy(getattr(self, name)))

    def _radiant(self):
        return [] if self.radiant is None else [("radiant temperature", to_base(self.radiant, RADIANT))]

    @classmethod
    def day_and_night(cls, coldest, warmest, hours=LONG_NIGHT, wind=Q_(0.0, "m/s"), radiant=None) -> "Weather":
        """A sine from the evening, half way between warmest and coldest, to the coldest at two thirds of `hours`.

        The first half of a day's swing of 24 h: what a frosty night looks like without a weather station.
        """
        low, high = to_base(coldest, AIR), to_base(warmest, AIR)
        if high < low:
            raise InputError(f"weather: the warmest, {warmest}, is below the coldest, {coldest}.")
        span = to_base(hours, Domain("hours", "s", 3600, 3.2e7, 'Q_(14, "h")'))
        time = np.linspace(0.0, span, int(np.ceil(span / 900)) + 1)
        swing = np.sin(2 * np.pi * (time - 2 / 3 * span) / 86_400 - np.pi / 2)
        return cls(
            quantity(time, "s"), quantity(0.5 * (high + low) + 0.5 * (high - low) * swing, "degC"), wind, radiant
        )

    @classmethod
    def from_csv(cls, path) -> "Weather":
        """A table with the columns hour, air (degC) and wind (m/s), as a spreadsheet saves it; lines that begin with #
        are comments.

        Raises InputError: not there, too large, not text; and naming file, row and column of what cannot be read.
        """
        name = shown(Path(path).name)
        _, header, _, rows = reading_table.table(reading_table.text_of(read_bytes(path, LARGEST), name), name)
        if not rows:
            raise InputError(f"{name}: no rows. It needs the columns {', '.join(COLUMNS)}.")
        table = [dict(zip(map(str.strip, header), row)) for row in rows[:]]  # a slice holds the cells of each
        values = {
            column: [_number(name, number, column, row) for number, row in enumerate(table, 1)] for column in COLUMNS
        }
        return cls(*(Q_(np.array(values[name]), unit) for name, (unit, _) in COLUMNS.items()))

    def at(self, seconds):
        """Air [degC], wind [m/s] and radiant temperature [degC] at times in seconds, shape (m,) each."""
        times, air = to_base(self.time, TIME), to_base(self.air, AIR)
        columns = [air, to_base(self.wind, WIND), air if self.radiant is None else to_base(self.radiant, RADIANT)]
        return tuple(np.interp(seconds, times, np.broadcast_to(column, times.shape)) for column in columns)


def _number(file: str, number: int, name: str, row: dict) -> float:
    """A cell of a weather table."""
    text = row.get(name)
    if text is None or not text.strip():
        raise InputError(f"{file}: row {number}, column {name}: nothing there. Each row needs {', '.join(COLUMNS)}.")
    value = reading_table.number(text)
    if math.isnan(value):
        raise InputError(f'{file}: row {number}, column {name}: "{shown(text)}" is not a number.')
    return value
