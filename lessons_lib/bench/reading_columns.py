"""From cells to columns of SI floats: what a header asks for, what each row gives, and why a row cannot be used."""

import numpy as np

from ..quantities.errors import InputError
from ..quantities.units import Q_, Domain, in_unit_of, to_base
from ..storage import reading_table as written
from .reading_header import ORDER, Chosen, Unclear, headings

DOMAINS = {  # what a reading may be; wider than what any one experiment allows
    "time": Domain("time", "s", -3.2e7, 3.2e7, 'Q_([0, 5, 10], "min")'),
    "place": Domain("place", "m", 0, 10_000, 'Q_([0, 2, 4], "m")'),
    "temperature": Domain("temperature", "degC", -60, 100, 'Q_([58.2, 57.1], "degC")'),
    "air": Domain("air temperature", "degC", -60, 100, 'Q_([20.1, 20.3], "degC")'),
    "flow": Domain("flow", "m**3/s", 0, 0.1, 'Q_([6.0, 6.1], "L/min")'),
}
DAY = 86400.0  # [s]
AT_ONCE = 10_000  # rows that are parted into cells at a time
FARTHEST = 1e15  # in any unit: far outside every domain, and still a number in the unit inside
MOST_DAYS = 400  # of one file: readings of more than a year are no bench experiment
NO_CLOCK = '"{}" is not a clock time; write 14:03, 14:03:20, 2:03 pm or 2026-03-05 14:03'
NO_NUMBER = '"{}" is not a number ({}); units belong in the header'


def columns_of(name: str, header_row: int, header, numbers, rows, chosen: Chosen = Chosen(), wanted: str | None = None):
    """Gives the columns {kind: (n,) in SI}, the row numbers (n,) of the usable rows, and [(row, reason)] of the others.

    name, header_row, header, numbers, rows : as reading_table.table gives them; row 0 is the header of a typed table,
    whose rows are a list
    chosen, wanted : as for reading_header.headings
    Raises InputError for a header that cannot be used, Unclear for one that leaves something open.
    """
    where = f"{name}: row {header_row}" if header_row else f"{name}, header"
    used = headings(where, header, rows[:50], chosen, wanted)
    date = used.pop("date", (None,))[0]
    reasons, numbers = np.full(len(rows), "", dtype=object), np.asarray(numbers, dtype=int)
    columns, days = {kind: np.empty(len(rows)) for kind in used}, _Days(name, len(rows))
    for part in (slice(begin, begin + AT_ONCE) for begin in range(0, len(rows), AT_ONCE)):
        cells = _square(rows[part], len(header), reasons[part])
        for kind, (place, head) in used.items():
            column = [row[place] for row in cells]
            if head.unit == written.CLOCK and date is not None:
                column = [f"{row[date].strip()} {cell.strip()}" for row, cell in zip(cells, column)]
            # without its air a reading is still a reading
            against = np.full(len(column), "", dtype=object) if kind == "air" else reasons[part]
            columns[kind][part] = _column(kind, head, column, against, days.of(part))
    clock = "time" in used and used["time"][1].unit == written.CLOCK
    if clock:
        columns["time"] = days.added(columns["time"], reasons, chosen.day_first)
    if "time" in columns:
        _in_order(columns["time"], numbers, reasons)
    good = reasons == ""
    left_out = [(int(numbers[place]), str(reasons[place])) for place in np.flatnonzero(~good)]
    columns = {kind: values[good] for kind, values in columns.items()}
    if clock and np.any(good):
        columns["time"] = columns["time"] - columns["time"][0]
    if "air" in columns:
        columns["air"] = _filled(columns["air"])
    return {kind: values for kind, values in columns.items() if values is not None}, numbers[good], left_out


def _filled(air):
    """The air where each reading was taken: between two values of the thermometer in the air, straight. None: it never
    says one.
    """
    known = np.flatnonzero(np.isfinite(air) & (air >= DOMAINS["air"].low) & (air <= DOMAINS["air"].high))
    return np.interp(np.arange(len(air)), known, air[known]) if len(known) else None


class _Days:
    """The dates of a column of clock times: each is written down once, and read when all of them are known."""

    def __init__(self, name: str, count: int):
        self.name, self.places, self.row = name, {"": 0}, np.zeros(count, dtype=int)

    def of(self, part: slice):
        """A function that takes a part of the cells and gives their seconds since midnight, (n,)."""

        def seconds(cells):
            told = [written.date_and_clock(cell) for cell in cells]
            self.row[part] = [self.places.setdefault(date, len(self.places)) for date, _ in told]
            if len(self.places) > MOST_DAYS:
                raise InputError(
                    f"{self.name}: there are more than {MOST_DAYS} different dates. Keep the rows of one experiment."
                )
            return np.array([second for _, second in told])

        return seconds

    def added(self, seconds, reasons, day_first: bool | None):
        """The seconds with their days, (n,); where no date stands, with the midnights that they pass. Raises Unclear:
        day or month may stand first.
        """
        written_dates = list(self.places)[1:]
        if not written_dates:
            return _over_midnight(seconds)
        try:
            told = written.day_comes_first(written_dates)
        except ValueError:
            raise InputError(
                f"{self.name}: some dates have the day first and others the month. Write all of them alike."
            ) from None
        if told is None and day_first is None:
            raise Unclear(
                f"{self.name}: {written_dates[0]} may be read with the day first or with the month first. Choose"
                " which.",
                ORDER,
            )
        read = [written.day(date, day_first if told is None else told) for date in written_dates]
        numbers = np.array([np.nan, *(np.nan if one is None else one for one in read)])[self.row]
        for place in np.flatnonzero(np.isnan(numbers) & np.isfinite(seconds)):
            _against(
                reasons,
                place,
                f'"{written_dates[self.row[place] - 1][:30]}" is no date' if self.row[place] else "no date",
            )
        return seconds + DAY * numbers


def _square(rows, width: int, reasons) -> list:
    """Gives rows of one width; too few cells are empty ones, too many make the row unusable."""
    cells = []
    for place, row in enumerate(rows):
        if len(row) > width and any(cell.strip() for cell in row[width:]):
            reasons[place] = (
                f"{len(row)} cells where the header has {width}; with decimal commas, part the columns with semicolons"
            )
        cells.append(row if len(row) >= width else [*row, *[""] * (width - len(row))])
    return cells


def _column(kind: str, head, cells, reasons, clocks):
    """A part of one column in SI, NaN where it says nothing; the first reason against a row is kept.

    clocks : gives the seconds since midnight of cells
    """
    clock = head.unit in (written.CLOCK, written.MIN_SEC, written.HOUR_MIN)
    if head.unit == written.CLOCK:
        values = clocks(cells)
    elif clock:
        values = np.array([written.span(cell, head.unit) for cell in cells])
    else:
        values = np.array([written.number(cell) for cell in cells])
    for place in np.flatnonzero(np.isnan(values)):
        text = cells[place].strip()[:30]
        why = NO_CLOCK.format(text) if clock else NO_NUMBER.format(text, kind)
        _against(reasons, place, why if text else f"no {kind}")
    domain, unit = DOMAINS[kind], "s" if clock else head.unit
    known = np.isfinite(values)
    if known.any():
        values[known] = to_base(Q_(np.clip(values[known], -FARTHEST, FARTHEST), unit), Domain(kind, domain.unit))
    for place in np.flatnonzero((values < domain.low) | (values > domain.high)) if head.unit != written.CLOCK else ():
        given = Q_(1.0, unit)
        low, high, value = (in_unit_of(given, bound, domain.unit) for bound in (domain.low, domain.high, values[place]))
        _against(reasons, place, f"{value} is outside the possible range of a {kind}, {low} to {high}")
    return values


def _against(reasons, place: int, why: str) -> None:
    reasons[place] = reasons[place] or why


def _over_midnight(seconds):
    """Clock times without a date go on after midnight: a step back of more than half a day is a new day."""
    known = np.flatnonzero(np.isfinite(seconds))
    if len(known) and np.all(seconds[known] < DAY):
        seconds[known] += DAY * np.concatenate([[0], np.cumsum(np.diff(seconds[known]) < -DAY / 2)])
    return seconds


def _in_order(times, numbers, reasons) -> None:
    """Writes the reason against each row that is not later than every row used before it.

    A single row that jumped ahead is the one left out, not all the rows after it.
    """
    used = np.flatnonzero(reasons == "")
    t = times[used]
    if len(t) >= 4:
        before, here, after, later = t[:-3], t[1:-2], t[2:-1], t[3:]
        ahead = 1 + np.flatnonzero((here >= after) & (after > before) & (later > after) & (later <= here))
        for place in used[ahead]:
            reasons[place] = "later than the rows after it"
        used = np.delete(used, ahead)
        t = times[used]
    latest = np.maximum.accumulate(t) if len(t) else t
    for place in 1 + np.flatnonzero(t[1:] <= latest[:-1]):
        word = "the same time as" if t[place] == latest[place - 1] else "earlier than"
        first = np.searchsorted(latest, latest[place - 1])
        reasons[used[place]] = f"{word} row {numbers[used[first]]}"
