"""Series of measurements from print, held beside the model: what each is, and their table for tests/published/README.md."""

import inspect
import re
from collections import defaultdict
from dataclasses import dataclass
from itertools import product

BEGIN, END = "<!-- measured series: begin -->", "<!-- measured series: end -->"
HEADS = "measured", "by whom; how known", "how the model is set", "values", "model against it", "tolerance, and why"


@dataclass(frozen=True)
class Series:
    """One set of measurements.

    measured : what was measured, and on what; source : who, where, when; known : how its values are known here
    setting : how the model is set to be the same thing
    tolerance : relative to the measured value; why : what in the measurement it follows from
    """

    measured: str
    source: str
    known: str
    setting: str
    tolerance: float
    why: str


def table(deviations: dict) -> str:
    """Markdown rows of {Series: [model/measured - 1, ...]}: mean, lowest and highest deviation of each."""
    rows = [HEADS, ["---"] * len(HEADS)]
    for series, off in sorted(deviations.items(), key=lambda item: item[0].measured):
        spread = f"{100 * sum(off) / len(off):+.2g} % on average, {100 * min(off):+.2g} to {100 * max(off):+.2g} %"
        rows.append(
            [
                series.measured,
                f"{series.source}; {series.known}",
                series.setting,
                str(len(off)),
                spread,
                f"{100 * series.tolerance:.3g} %: {series.why}",
            ]
        )
    return "\n".join("| " + " | ".join(row) + " |" for row in rows) + "\n"


def deviations(module) -> dict:
    """{Series: [model/measured - 1, ...]} of all tests of a module that take the fixture `measured`, with all their parameters."""
    found = defaultdict(list)

    def note(series, computed, value):
        found[series].append(float(computed / value - 1))

    for name, test in vars(module).items():
        if name.startswith("test_") and "measured" in inspect.signature(test).parameters:
            marks = [mark for mark in getattr(test, "pytestmark", ()) if mark.name == "parametrize"]
            for chosen in product(*(_choices(*mark.args) for mark in marks)):
                test(note, **{argument: value for choice in chosen for argument, value in choice})
    return found


def _choices(names: str, values) -> list:
    """Each way in which one parametrize mark sets its arguments, as (argument, value) pairs."""
    arguments = names.split(", ")
    return [list(zip(arguments, value if len(arguments) > 1 else (value,))) for value in values]


def written(readme: str) -> dict:
    """{what was measured: (values, largest deviation in %)}, as printed in the table of a README."""
    rows = readme.split(BEGIN)[1].split(END)[0].strip().splitlines()[2:]
    return {cells[0]: (cells[3], _largest(cells[4])) for cells in (row.strip("| ").split(" | ") for row in rows)}


def _largest(spread: str) -> str:
    """The larger end of "-2 to +2.8 %" without its sign."""
    return max(re.search(r"[+-](\S+) to [+-](\S+) %", spread).groups(), key=float)
