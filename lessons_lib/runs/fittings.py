"""Fittings by their trade names: what they cost in pressure, and where a pipe stops in them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..physics import pressure
from ..quantities.border import whole
from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed
from ..quantities.units import Q_, quantity, unit_of
from ..storage import tables

HOW = 'Write a list of names or (name, count) pairs, for example [("elbow 90", 3), "tap"].'


@dataclass(frozen=True)
class Fitting:
    """One fitting of data/fittings.csv, in SI floats.

    bores : (inside diameters [m], equivalent length over inside diameter [-]), both of shape (n,)
    heads : velocity heads [-]; hole : see physics.pressure.hole [1/m4]
    stop : from the centre to where the pipe stops, in outside diameters [-]
    """

    name: str
    bores: tuple
    heads: float
    hole: float
    stop: float


@dataclass(frozen=True, repr=False)
class Fittings(Printed):
    """Fittings of one run: (name, count) pairs, each name once."""

    counts: tuple

    def equivalent_length(self, pipe):
        """Length of the same pipe that would lose as much [m]; taps and open ends are not part of it."""
        return quantity(self.bores(pipe.inside_diameter.to("m").magnitude), "m")

    def bores(self, inside_diameter):
        """Equivalent length of all [m]. inside_diameter [m]"""
        ratio = sum(count * np.interp(inside_diameter, *_fitting(name).bores) for name, count in self.counts)
        return ratio * inside_diameter

    def holes(self, inside_diameter):
        """Says what does not go with friction, see physics.pressure.FlowLeg [1/m4]. inside_diameter [m]"""
        return sum(
            count * (pressure.heads(_fitting(name).heads, inside_diameter) + _fitting(name).hole)
            for name, count in self.counts
        )

    def __str__(self) -> str:
        return ", ".join(f"{count} {name}" for name, count in self.counts) or "none"


def resolve_fittings(fittings=()) -> Fittings:
    """Fittings from what the caller wrote: () or an iterable of ("elbow 90", 3) pairs or plain names (count 1).

    Counts of a name given twice add up. Case, blanks and hyphens in names do not matter.
    Raises InputError: unknown names (the nearest are listed), counts that are not whole or below 0.
    """
    if isinstance(fittings, Fittings):
        return fittings
    if isinstance(fittings, (str, bytes, dict)) or not isinstance(fittings, Iterable):
        raise InputError(f"fittings: {fittings!r} was given. {HOW}")
    counts: dict[str, int] = {}
    for item in fittings:
        name, count = _pair(item)
        counts[name] = counts.get(name, 0) + count
    return Fittings(tuple((name, count) for name, count in counts.items() if count))


def _pair(item) -> tuple[str, int]:
    if isinstance(item, str):
        item = (item, 1)
    if not isinstance(item, (tuple, list)) or len(item) != 2 or not isinstance(item[0], str):
        raise InputError(f"fittings: {item!r} is neither a name nor a pair of name and count. {HOW}")
    name = fitting_named(item[0]).name
    return name, whole(item[1], f"fittings, number of {name}")


def fitting_named(name: str) -> Fitting:
    """The fitting of that name in data/fittings.csv, or an InputError with the nearest names."""
    wanted = _plain(name)
    known = next((one for one in names() if _plain(one) == wanted), None)
    if known is None:
        raise unknown_name("fitting", name, names())
    return _fitting(known)


@cache
def names() -> list[str]:
    """The fittings of data/fittings.csv, in file order."""
    return list(dict.fromkeys(row["fitting"] for row in tables.rows("fittings")))


@cache
def _fitting(name: str) -> Fitting:
    rows = [row for row in tables.rows("fittings") if row["fitting"] == name]
    first, inch, foot = rows[0], Q_(1, "in").to("m").magnitude, Q_(1, "ft").to("m").magnitude
    if first["feet"]:
        bore = np.array([float(row["bore"]) * inch for row in rows])
        bores = bore, np.array([float(row["feet"]) * foot for row in rows]) / bore
    else:
        bores = np.zeros(1), np.array([float(first["bores"] or 0)])
    hole = 0.0
    if first["flow"]:
        flow, rated = Q_(float(first["flow"]), unit_of("L/min")), Q_(float(first["pressure"]), unit_of("kPa"))
        hole = pressure.hole(flow.to("m**3/s").magnitude, rated.to("Pa").magnitude)
    return Fitting(name, bores, float(first["heads"] or 0), hole, float(first["stop"] or 0))


def _plain(name: str) -> str:
    return re.sub(r"[\s\-_]+", " ", str(name).lower()).strip()
