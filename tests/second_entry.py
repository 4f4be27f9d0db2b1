"""Double entry: a table of data/ beside the same numbers said a second time, by hand, as a bookkeeper does it.

An entry is a line: what makes a row one of its kind, a bar, and the numbers in the order of the columns; "-" for an
empty cell. It was typed from the source named beside it or from memory, and never made from the table.
"""

import pytest

from lessons_lib.storage import tables


def entries(text: str) -> dict[tuple[str, ...], tuple[float | None, ...]]:
    """Lines such as "copper; 12 mm | 1.5 -" → {("copper", "12 mm"): (1.5, None)}, in their order."""
    found = {}
    for line in text.strip().splitlines():
        names, numbers = line.split("|")
        key = tuple(name.strip() for name in names.split(";"))
        assert key not in found, f"{key} stands twice"
        found[key] = tuple(None if number == "-" else float(number) for number in numbers.split())
    return found


def cells(table: str, keys: tuple[str, ...], columns: tuple[str, ...]) -> dict[tuple[str, ...], tuple]:
    """The same of a table: its rows by their keys, with the numbers of some columns; None for an empty cell."""
    return {
        tuple(row[key] for key in keys): tuple(row.number(name) if row[name] else None for name in columns)
        for row in tables.rows(table)
    }


def agrees(table: str, keys: str, columns: str, text: str, *, in_units: float = 1.0, off: float = 1e-9, may_grow=False):
    """Holds every entry against its row, and asks for an entry for every row unless people add rows to the table.

    in_units : what one unit of the entries is in units of the table
    off : how far the two may lie apart, relative to the entry
    """
    found = cells(table, tuple(keys.split()), tuple(columns.split()))
    said = entries(text)
    assert said.keys() <= found.keys(), f"data/{table}.csv has no {sorted(said.keys() - found.keys())}"
    assert may_grow or said.keys() == found.keys(), f"no second entry of {sorted(found.keys() - said.keys())}"
    for key, numbers in said.items():
        expected = tuple(None if number is None else pytest.approx(number * in_units, rel=off) for number in numbers)
        assert found[key] == expected, f"data/{table}.csv, {key}: {columns}"
