"""The table [floors] of a layout file as rows that can be added, changed and removed; comments stay where they are."""

import json

import tomlkit

from ..quantities.errors import InputError
from .document_tables import put
from .source import KEY, Source

FLOOR, TABLE = "floor", "floors"  # what a row is called, and its table in the file
FLOOR_WORDS = NAME, HEIGHT = "name", "height"


def floors_of(found: dict) -> list[dict]:
    """The floors in the order of the file, each with name and height. found : the file as dictionaries"""
    table = found.get(TABLE)
    return [{NAME: name, HEIGHT: height} for name, height in table.items()] if isinstance(table, dict) else []


def add_floor(document, values: dict) -> None:
    """One more floor. document : of tomlkit; values : name and height

    Raises InputError: no height.
    """
    if TABLE not in document:
        document.add(TABLE, tomlkit.table())
    put(document[TABLE], values[NAME], _said(values.get(HEIGHT)))


def change_floor(document, source: Source, number: int, word: str, value):
    """Gives the document with another name or height of the floor with this number from 0. source : of the same text

    Raises InputError: no height; a table that is written in another way.
    """
    name = floors_of(document)[number][NAME]
    if word == HEIGHT:
        put(document[TABLE], name, _said(value))
        return document
    if not source.says((TABLE, name)):
        raise InputError(f"{TABLE}: this name cannot be changed here. Correct the file by hand.")
    lines = source.text.splitlines(keepends=True)
    line = source.line_of((TABLE, name)) - 1
    said = lines[line].lstrip()
    lines[line] = f"{json.dumps(value, ensure_ascii=False)} ={said[KEY.match(said).end() :]}"
    return tomlkit.parse("".join(lines))


def remove_floor(document, number: int) -> None:
    """Takes the floor with this number from 0 out."""
    del document[TABLE][floors_of(document)[number][NAME]]


def _said(height) -> str:
    """A height that is said."""
    if not height:
        raise InputError(f'{FLOOR}: it needs its {HEIGHT} above the tank\'s outlet, for example "2.8 m".')
    return height
