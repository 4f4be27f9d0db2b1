"""Which column of a table holds what: the header says it, and where it does not, the reader is asked."""

from dataclasses import dataclass, replace

import numpy as np

from ..quantities.errors import InputError, shown
from ..storage import reading_table as written

EXAMPLE = 'Write a header such as "time [min]; temperature [°C]" above the rows.'
NO_AIR = -1  # chosen as the air's column: none is
FIRST = 300  # lines that are looked at
SAMPLES = 3  # values of a column that a menu shows
COLUMNS, DEGREES, STEPS, ORDER = "columns", "degrees", "steps", "order"  # what can be asked


class Unclear(InputError):
    """Something that only the reader can tell. asks : COLUMNS, DEGREES, STEPS (a time's unit) or ORDER (of a date)"""

    def __init__(self, message: str, asks: str):
        super().__init__(message)
        self.asks = asks


@dataclass(frozen=True)
class Chosen:
    """Holds what the reader said of a table whose header does not say it; None: not said.

    time, temperature, air : places of columns, counted from 0; air may be NO_AIR
    degrees : "degC" or "degF"; steps : "s", "min" or "hour"
    day_first : whether the day stands before the month
    """

    time: int | None = None
    temperature: int | None = None
    air: int | None = None
    degrees: str | None = None
    steps: str | None = None
    day_first: bool | None = None


@dataclass(frozen=True)
class Offer:
    """Holds what a reader may choose from: the columns as a menu shows them, which place is used as what at present,
    and the row of the header where a logger's own lines stand above it; 0: none do.
    """

    columns: tuple = ()
    used: tuple = ()
    header_row: int = 0


def headings(where: str, header, rows, chosen: Chosen = Chosen(), wanted: str | None = None) -> dict:
    """Gives {kind: (place in the row, Heading)} of the columns that are used; of kind "date" the date that stands
    beside a clock.

    rows : the first ones; wanted : a word of the header of the temperature column, where there are several
    Raises Unclear where the reader has to say more, InputError where that does not help.
    """
    if not header:
        raise InputError(f"{where}: there is nothing but comments or blank lines. {EXAMPLE}")
    if not any(any(letter.isalpha() for letter in cell) for cell in header):
        raise InputError(f"{where}: there is no header, the first row reads {', '.join(header)[:60]}. {EXAMPLE}")
    found = _named(header, wanted)
    for kind in ("time", "temperature", "air"):
        place = getattr(chosen, kind)
        if place is not None:
            found[kind] = [(place, _as(kind, header[place]))] if 0 <= place < len(header) else []
    if chosen.temperature is not None or chosen.air is not None:
        found["temperature"] = [one for one in found["temperature"] if one[0] != chosen.air]
        found["air"] = [one for one in found["air"] if one[0] != chosen.temperature]
    if not found["time"] and found["date"]:
        found["time"], found["date"] = found["date"], []
    used = {kind: columns[0] for kind, columns in found.items() if columns}
    if "place" in used:  # along a run the order does not matter, nor when a place was read
        used.pop("time", None)
        found["time"] = []
    for kind, columns in found.items():
        if len(columns) > 1:
            _two(where, kind, columns)
    date = used.pop("date", None)
    used = {
        kind: (place, _with_unit(where, kind, head, [row[place] for row in rows if place < len(row)], chosen))
        for kind, (place, head) in used.items()
    }
    for kind in ("temperature", "time"):
        if kind not in used and not (kind == "time" and "place" in used):
            also = f" or {written.POSSIBLE['place']}" if kind == "time" else ""
            raise Unclear(
                f"{where}: no column for {kind} in {'; '.join(header)[:80]}. Choose the column, or name one"
                f" {written.POSSIBLE[kind]}{also} in the header.",
                COLUMNS,
            )
    if date and "time" in used and used["time"][1].unit == written.CLOCK:
        used["date"] = date
    return used


def offer(text: str, name: str, chosen: Chosen = Chosen()) -> Offer:
    """Gives what the first lines of a table let a reader choose from; nothing where they are no table."""
    first = "\n".join(text.replace("\r\n", "\n").replace("\r", "\n").split("\n", FIRST)[:FIRST])
    try:
        number, header, _, rows = written.table(first, name, preamble=True)
        above = number if number != written.table(first, name)[0] else 0
    except InputError:
        return Offer()
    rows = rows[:50]
    try:
        used = tuple((kind, place) for kind, (place, _) in headings(name, header, rows, chosen).items())
    except InputError:
        used = ()
    return Offer(_menu(header, rows), used, above)


def _menu(header, rows) -> tuple:
    """The header of each column with its first values, as a menu shows it: 'T1 (58.2, 57.9, 57.5)'."""
    cells = ([row[place].strip() for row in rows if place < len(row)] for place in range(len(header)))
    firsts = (", ".join(shown(one, 20) for one in values if one) for values in (list(one)[:SAMPLES] for one in cells))
    return tuple(
        f"{shown(cell, 24) or f'column {place}'} ({values})"
        for place, (cell, values) in enumerate(zip(header, firsts), 1)
    )


def _named(header, wanted) -> dict:
    """Gives {kind: [(place, Heading)]} as the header's words say it; a column with another kind's unit only where there
    is no other.
    """
    found = {kind: [] for kind in ("time", "place", "temperature", "air", "flow", "date")}
    for place, cell in enumerate(header):
        head = written.heading(cell)
        kind = "air" if head.kind == "temperature" and _is_air(cell) else head.kind
        if kind:
            found[kind].append((place, head))
    for kind in ("temperature", "air"):
        found[kind] = [one for one in found[kind] if not one[1].bracket] or found[kind]
    if wanted:
        every = [*found["temperature"], *found["air"]]
        found["temperature"] = [one for one in every if wanted.lower() in one[1].text.lower()]
        found["air"] = [one for one in found["air"] if one not in found["temperature"]]
    elif not found["temperature"]:
        found["temperature"], found["air"] = found["air"], []
    found["air"] = [one for one in found["air"] if not one[1].bracket]
    return found


def _is_air(cell: str) -> bool:
    return any(word in written.AIR_WORDS for word in cell[: written.LONGEST_HEADING].lower().replace("_", " ").split())


def _as(kind: str, cell: str):
    """The heading of a column that the reader chose, with the unit that its header may name."""
    head, own = written.heading(cell), "time" if kind == "time" else "temperature"
    return head if head.kind == own else written.Heading(own, None, cell.strip()[: written.LONGEST_HEADING])


def _two(where: str, kind: str, columns) -> None:
    """Raises Unclear for two columns of one kind."""
    one, other = (shown(head.text) for _, head in columns[:2])
    advice = {
        "temperature": "The header does not say which one is the pipe's. Choose the columns.",
        "air": "Choose the one beside the pipe.",
        "time": "Choose one of them.",
    }.get(kind, "Keep one of them.")
    words = f'{where}: two columns for {kind}, "{one}" and "{other}". {advice}'
    raise Unclear(words, COLUMNS) if "Choose" in advice else InputError(words)


def _with_unit(where: str, kind: str, head, cells, chosen: Chosen):
    """The heading, certain of its unit; a time without one is a clock if its cells look like it."""
    if head.unit is not None:
        return head
    filled = [cell for cell in cells if cell.strip()]
    if (
        head.kind in ("time", "date")
        and not head.bracket
        and filled
        and sum(np.isfinite([written.date_and_clock(cell)[1] for cell in filled])) > len(filled) / 2
    ):
        return replace(head, kind="time", unit=written.CLOCK)
    name = "time" if head.kind == "date" else head.kind
    if head.bracket:
        raise InputError(
            f'{where}: column "{head.text}": "{head.bracket}" is not a unit of {name} known here. Write'
            f" {written.POSSIBLE[name]}."
        )
    asks = {"time": STEPS, "temperature": DEGREES}.get(name)
    said = {STEPS: chosen.steps, DEGREES: chosen.degrees}.get(asks)
    if said:
        return replace(head, kind=name, unit=said)
    words = f'{where}: column "{head.text}": the unit is missing.'
    if asks is None:
        raise InputError(f"{words} Write {written.POSSIBLE[name]}.")
    raise Unclear(f"{words} Choose it, or write {written.POSSIBLE[name]} in the header.", asks)
