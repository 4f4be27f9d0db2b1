"""A school's own rows of a table: each takes the place of the project's row of the same name, or is added to them."""

import csv
import io
from dataclasses import dataclass

from ..quantities.errors import InputError
from . import own_material
from .files import held, write_whole

MOST_ROWS = 2000  # of a school's own in one table


@dataclass(frozen=True)
class OwnTable:
    """Says what a school may put into a table. keys : columns by whose text a row replaces one of the project's

    whole : column → the most that its whole number may be; known : columns that may say only what the project's rows
    say; order : column of numbers by which the rows of one first key stand, "" where they stand as written
    """

    keys: tuple
    whole: dict
    known: tuple
    order: str = ""


TABLES = {
    "session_minutes": OwnTable(
        ("lesson",), {"path": 240, "hands": 240, "wait": 240, "rest": 240, "talk": 240, "lead": 1440}, ("lesson",)
    ),
    "kit": OwnTable(("lesson", "item"), {"count": 1000}, ("per",)),
    "pipes": OwnTable(("family", "size"), {}, ("family", "material", "region", "unit"), "outside_diameter"),
}


def checked(name: str, row, of_project) -> None:
    """Looks whether an own row can stand in a table. Raises InputError that names file, row, column and remedy."""
    table = TABLES[name]
    for column in table.keys:
        if not row[column]:
            raise InputError(f"{row.where}, {column}: it is empty. Write it, or take the row away.")
    for column in table.known:
        row.word(column, list(dict.fromkeys(one[column] for one in of_project)))
    for column, most in table.whole.items():
        row.whole(column, most)
    if name == "kit" and row["kg"] and not 0 <= row.number("kg") <= 1000:
        raise InputError(f"{row.where}, kg: {row['kg']} was given; possible is 0 to 1000, or nothing.")
    if name == "pipes":
        _pipe(row, of_project)


def _pipe(row, of_project) -> None:
    """A pipe belongs to the material of its family and has a bore."""
    family = next(one for one in of_project if one["family"] == row["family"])
    for column in ("material", "unit"):
        if row[column] != family[column]:
            raise InputError(
                f"{row.where}, {column}: {row[column]} was given; {row['family']} has {family[column]}. Write that."
            )
    outside, wall = row.number("outside_diameter"), row.number("wall")
    in_mm = 25.4 if row["unit"] == "in" else 1.0
    if not (5 <= outside * in_mm <= 60 and 0.3 <= wall * in_mm <= outside * in_mm / 3):
        raise InputError(
            f"{row.where}: outside {outside:g} {row['unit']} and wall {wall:g} {row['unit']} were given; possible is an"
            f" outside diameter of {5 / in_mm:.3g} to {60 / in_mm:.3g} {row['unit']}, with a wall from"
            f" {0.3 / in_mm:.3g} {row['unit']} to a third of it. Read both off the pipe."
        )


def merged(name: str, of_project: tuple, own: list) -> tuple:
    """The project's rows with a school's own rows in the places of those with the same keys, or after their like."""
    table, rows = TABLES[name], list(of_project)
    for row in own:
        same = [place for place, one in enumerate(rows) if _key(table, one) == _key(table, row)]
        if same:
            rows[same[0]] = row
            continue
        alike = [place for place, one in enumerate(rows) if one[table.keys[0]] == row[table.keys[0]]]
        if table.order:  # before the first that is larger
            larger = [place for place in alike if rows[place].number(table.order) > row.number(table.order)]
            rows.insert(larger[0] if larger else alike[-1] + 1, row)
        else:
            rows.insert(alike[-1] + 1 if alike else len(rows), row)
    return tuple(rows)


def _key(table: OwnTable, row) -> tuple:
    return tuple(row[column].strip().lower() for column in table.keys)


def keep(name: str, rows: list[dict]) -> None:
    """Write a school's own rows of a table; no rows: there is no file. What was there before is put aside.

    Raises InputError: it cannot be written.
    """
    file = own_material.table(name)
    with held(file):
        own_material.put_aside(file)
        if not rows:
            return
        text = io.StringIO()
        writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        write_whole(file, text.getvalue())
