"""Time to burn against water temperature: the published tables of data/burn_times.csv, nothing fitted."""

from functools import cache

import numpy as np

from ..storage.tables import rows

AT, LONGER, SHORTER = "at", "longer than", "shorter than"
ROUNDING = 1e-6  # [K] 140 degF is 60 degC, but for what floats leave of it


@cache
def published() -> tuple:
    """(name, degree, source, temperatures, log seconds) of each published column; degrees are never mixed."""
    by_column: dict[str, list[dict]] = {}
    for row in rows("burn_times"):
        by_column.setdefault(row["column"], []).append(row)
    return tuple(
        (
            name,
            entries[0]["degree"],
            entries[0]["source"],
            np.array([float(row["temperature"]) for row in entries]),
            np.log([float(row["seconds"]) for row in entries]),
        )
        for name, entries in by_column.items()
    )


def time_to_burn(water):
    """The shortest published time to a burn [s], its bound ("at", "longer than", "shorter than"), its column.

    water [degC], any shape; three arrays of that shape, the last an index for `column`.
    Straight lines in the logarithm of time within each column. Hotter than the column's end, its last time stands
    as "shorter than"; cooler than every column, the longest published time is returned as "longer than".
    """
    water = np.asarray(water, dtype=float)
    columns = published()
    logs = np.stack([np.interp(water, temperatures, values, left=np.inf) for *_, temperatures, values in columns])
    winner = np.argmin(logs, axis=0)
    shortest = np.min(logs, axis=0)
    coolest = min(range(len(columns)), key=lambda number: columns[number][3][0])
    ends = np.array([temperatures[-1] for *_, temperatures, _ in columns])
    cool = np.isinf(shortest)
    seconds = np.exp(np.where(cool, columns[coolest][4][0], shortest))
    bound = np.where(cool, LONGER, np.where(water > ends[winner] + ROUNDING, SHORTER, AT))
    return seconds, bound, np.where(cool, coolest, winner)


def column(index: int) -> tuple[str, str]:
    """Degree of injury and source of a published column."""
    _, degree, source, _, _ = published()[int(index)]
    return degree, source
