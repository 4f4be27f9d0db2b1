"""Reads the tables of data/. Each file begins with '#' lines that say its source and units."""

import csv
import tomllib
from functools import cache
from pathlib import Path

import numpy as np

from .errors import unknown_name

_PACKAGE = Path(__file__).parent
# In a checkout data/ lies beside the package; an installed wheel carries it inside.
DATA = next(folder for folder in (_PACKAGE / "data", _PACKAGE.parent / "data") if folder.is_dir())


@cache
def rows(name: str) -> tuple[dict, ...]:
    """The rows of data/<name>.csv as dictionaries of text, in file order."""
    with open(DATA / f"{name}.csv", encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(line for line in file if not line.startswith("#")))


@cache
def columns(name: str) -> dict[str, np.ndarray]:
    """A wholly numeric table as one array a column."""
    table = rows(name)
    return {key: np.array([float(row[key]) for row in table]) for key in table[0]}


def row(name: str, key: str, value: str, kind: str) -> dict:
    """The first row whose column `key` is `value` (case ignored), or an InputError with the nearest names."""
    wanted = str(value).strip().lower()
    for candidate in rows(name):
        if candidate[key].lower() == wanted:
            return candidate
    raise unknown_name(kind, value, list(dict.fromkeys(candidate[key] for candidate in rows(name))))


@cache
def tern_bank() -> tuple[dict, ...]:
    """The invented demo scenario: one dictionary a place, in file-name order, each with its list of runs."""
    return tuple(
        tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted((DATA / "tern_bank").glob("*.toml"))
    )
