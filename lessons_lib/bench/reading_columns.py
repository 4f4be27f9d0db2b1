"""From cells to columns of SI floats: what a header asks for, what each row gives, and why a row cannot be used."""

import numpy as np

from ..quantities.errors import InputError
from ..quantities.units import Q_, Domain, in_unit_of, to_base
from ..storage import reading_table as written

DOMAINS = {  # what a reading may be; wider than what any one experiment allows
    "time": Domain("time", "s", -3.2e7, 3.2e7, 'Q_([0, 5, 10], "min")'),
    "place": Domain("place", "m", 0, 10_000, 'Q_([0, 2, 4], "m")'),
    "temperature": Domain("temperature", "degC", -60, 100, 'Q_([58.2, 57.1], "degC")'),
    "flow": Domain("flow", "m**3/s", 0, 0.1, 'Q_([6.0, 6.1], "L/min")'),
}
DAY = 86400.0  # [s]
AT_ONCE = 10_000  # rows that are parted into cells at a time
FARTHEST = 1e15  # in any unit: far outside every domain, and still a number in the unit inside
EXAMPLE = 'Write a header such as "time [min]; temperature [°C]" above the rows.'
NO_CLOCK = '"{}" is not a clock time; write 14:03, 14:03:20 or 2:03 pm'
NO_NUMBER = '"{}" is not a number ({}); units belong in the header'


def columns_of(name: str, header_row: int, header, numbers, rows, wanted: str | None = None):
    """Gives the columns {kind: (n,) in SI}, the row numbers (n,) of the usable rows, and [(row, reason)] of the others.

    name, header_row, header, numbers, rows : as reading_table.table gives them; row 0 is the header of a typed table,
    whose rows are a list
    wanted : a word of the header of the temperature column, where there are several
    Raises InputError for a header that cannot be used.
    """
    where = f"{name}: row {header_row}" if header_row else f"{name}, header"
    headings = _headings(where, header, rows[:50], wanted)
    reasons, numbers = np.full(len(rows), "", dtype=object), np.asarray(numbers, dtype=int)
    columns = {kind: np.empty(len(rows)) for kind in headings}
    for part in (slice(begin, begin + AT_ONCE) for begin in range(0, len(rows), AT_ONCE)):
        cells = _square(rows[part], len(header), reasons[part])
        for kind, (place, head) in headings.items():
            columns[kind][part] = _column(kind, head, [row[place] for row in cells], reasons[part])
    if "time" in columns and headings["time"][1].unit == written.CLOCK:
        columns["time"] = _over_midnight(columns["time"])
    if "time" in columns:
        _in_order(columns["time"], numbers, reasons)
    good = reasons == ""
    left_out = [(int(numbers[place]), str(reasons[place])) for place in np.flatnonzero(~good)]
    columns = {kind: values[good] for kind, values in columns.items()}
    if "time" in headings and headings["time"][1].unit == written.CLOCK and np.any(good):
        columns["time"] = columns["time"] - columns["time"][0]
    return columns, numbers[good], left_out


def _headings(where: str, header, rows, wanted) -> dict:
    """Gives {kind: (place in the row, Heading)} of the columns that are used."""
    if not header:
        raise InputError(f"{where}: there is nothing but comments or blank lines. {EXAMPLE}")
    if not any(any(letter.isalpha() for letter in cell) for cell in header):
        raise InputError(f"{where}: there is no header, the first row reads {', '.join(header)[:60]}. {EXAMPLE}")
    found = {}
    for place, cell in enumerate(header):
        head = written.heading(cell)
        if not head.kind or (head.kind == "temperature" and wanted and wanted.lower() not in cell.lower()):
            continue
        if head.kind in found:
            one, other = found[head.kind][1].text, head.text
            advice = (
                "say which by a word of its header: temperature=…" if head.kind == "temperature" else "keep one of them"
            )
            raise InputError(f'{where}: two columns for {head.kind}, "{one}" and "{other}"; {advice}.')
        found[head.kind] = place, _with_unit(where, head, [row[place] for row in rows if place < len(row)])
    if "place" in found:  # along a run the order does not matter, nor when a place was read
        found.pop("time", None)
    for kind in ("temperature", "time"):
        if kind not in found and not (kind == "time" and "place" in found):
            also = f" or {written.POSSIBLE['place']}" if kind == "time" else ""
            raise InputError(
                f"{where}: no column for {kind} in {'; '.join(header)[:80]}. Name one {written.POSSIBLE[kind]}{also}."
            )
    return found


def _with_unit(where: str, head, cells):
    """The heading, certain of its unit; a time without one is a clock if its cells look like it."""
    if head.unit is not None:
        return head
    filled = [cell for cell in cells if cell.strip()]
    if (
        head.kind == "time"
        and not head.bracket
        and filled
        and sum(np.isfinite([written.clock(cell) for cell in filled])) > len(filled) / 2
    ):
        return written.Heading("time", written.CLOCK, head.text)
    what = f'"{head.bracket}" is not a unit of {head.kind} known here' if head.bracket else "the unit is missing"
    raise InputError(f'{where}: column "{head.text}": {what}. Write {written.POSSIBLE[head.kind]}.')


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


def _column(kind: str, head, cells, reasons):
    """A part of one column in SI, NaN where it says nothing; the first reason against a row is kept."""
    clock = head.unit in (written.CLOCK, written.MIN_SEC, written.HOUR_MIN)
    if head.unit == written.CLOCK:
        values = np.array([written.clock(cell) for cell in cells])
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
