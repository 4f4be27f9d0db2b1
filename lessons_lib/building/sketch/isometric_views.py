"""A large building's sketch in several views: which legs stand on which, and where a pipe goes on.

A view is cut off only at the end of a leg from which nothing goes on in it. Both sides of a cut name the leg and the
view of the other (a line broken off names where it goes on: ISO 6412-1 and drawings of pipes in several sheets, from
memory). Views follow the floors that the file names; a floor with too many legs is divided where the parts are of one
size, and few legs join their neighbours.
"""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from math import ceil
from typing import NamedTuple

import numpy as np

from ..tree import Tree
from ..words import legs_words

MOST_AT_ONCE = 60  # legs that one picture shows so that they can be read
MOST, FEW = 24, 8  # legs in one of several views; legs that join another view where it has room
START = -1  # the tank's outlet, as a point where legs begin
LOOP = "loop to the heat pump"


class Cut(NamedTuple):
    """Says where a pipe goes on: view, counted from 1, and the legs there by their numbers on the sketch."""

    view: int
    legs: tuple

    @property
    def words(self) -> str:
        """The reference in words, "leg 57, view 3"."""
        return f"{legs_words(self.legs)}, view {self.view}"


@dataclass(frozen=True, eq=False)
class View:
    """Holds the part of a Layout that one picture shows; it has what a sketch asks of a Layout.

    number, count : the first is 1, and how many there are; shows : names of its floors, or
        what it shows; "" where the file names none
    chosen : rows of its legs in layout.all_legs; begins : row of the leg at whose end it begins, None at the tank
    comes_from : Cut or None; goes_on : tuple of Cut by the name of the leg at whose end the pipe goes on
    """

    layout: object
    number: int
    count: int
    shows: str
    chosen: tuple
    begins: int | None
    comes_from: Cut | None
    goes_on: dict

    @property
    def title(self) -> str:
        """Says which view it is, "View 3 of 14: storey 2"; "" where there is only one."""
        told = f": {self.shows}" if self.shows else ""
        return f"View {self.number} of {self.count}{told}" if self.count > 1 else ""

    @property
    def from_words(self) -> str:
        """Says where the pipe comes from that arrives where the view begins: "from leg 31, view 1"."""
        return f"from {self.comes_from.words}"

    def to_words(self, leg: str) -> list[str]:
        """Says where the pipe goes on at the end of a leg, a line for each view: "to leg 57, view 3"."""
        return [f"to {cut.words}" for cut in self.goes_on[leg]]

    @cached_property
    def legs(self) -> tuple:
        """The legs to the taps that it shows."""
        return tuple(self.layout.legs[row] for row in self._rows)

    @cached_property
    def _rows(self) -> list:
        return [row for row in self.chosen if row < len(self.layout.legs)]

    @property
    def loop(self):
        """The Loop where it shows it, else None."""
        return self.layout.loop if len(self._rows) < len(self.chosen) else None

    @cached_property
    def all_legs(self) -> tuple:
        """Every leg that it shows."""
        return tuple(self.layout.all_legs[row] for row in self.chosen)

    @cached_property
    def numbers(self) -> dict:
        """The number of every leg of the whole building by its name: each view uses the same."""
        return {leg.name: number for number, leg in enumerate(self.layout.all_legs, 1)}

    @cached_property
    def tree(self) -> Tree:
        """Says how its legs to the taps hang together; those that begin where the view begins have no parent."""
        whole, place = self.layout.tree, {row: place for place, row in enumerate(self._rows)}
        return Tree(
            self.legs,
            np.array([place.get(int(whole.parent[row]), START) for row in self._rows], dtype=int),
            tuple(place[row] for row in whole.order if row in place),
            whole.depth[self._rows],
            tuple(tuple(place[one] for one in whole.children[row] if one in place) for row in self._rows),
            whole.rise[self._rows],
        )

    @property
    def level(self) -> float:
        """The height at which it begins above the tank's outlet [m]."""
        return 0.0 if self.begins is None else float(self.layout.tree.rise[self.begins])

    @cached_property
    def taps(self) -> tuple:
        """The taps that it shows."""
        shown = {leg.name for leg in self.legs}
        return tuple(tap for tap in self.layout.taps if tap.leg in shown)

    @cached_property
    def valve_leg(self) -> int | None:
        """Place among its legs of the one that the mixing valve sits on, None where it does not show it."""
        names = [leg.name for leg in self.legs]
        valve = self.layout.valve
        return names.index(valve.leg) if valve is not None and valve.leg in names else None

    @property
    def valve(self):
        """The mixing valve where it shows it, else None."""
        return None if self.valve_leg is None else self.layout.valve

    @cached_property
    def ends(self) -> dict:
        """Gives what the ends of its legs sit in, as Layout.ends does."""
        return {leg.name: self.layout.ends[leg.name] for leg in self.all_legs}


def whole(layout) -> View:
    """The one view of a building that one picture shows."""
    return View(layout, 1, 1, "", tuple(range(len(layout.all_legs))), None, None, {})


def views_of(layout) -> tuple[View, ...]:
    """The views of a building: one, or where it has more than MOST_AT_ONCE legs several, each leg on one of them."""
    if len(layout.all_legs) <= MOST_AT_ONCE:
        return (whole(layout),)
    points = _Points(layout)
    parts = points.parts()
    rows = [(start, sorted(row for point in part for row in points.legs[point])) for start, part in parts.items()]
    rows.sort(key=lambda one: one[1])
    loop = list(range(len(layout.legs), len(layout.all_legs)))
    if loop:
        first = next(chosen for start, chosen in rows if start == START)
        if len(first) + len(loop) <= MOST_AT_ONCE:
            first.extend(loop)
        else:
            rows.append((START, loop))
    names = _numbered([LOOP if chosen[0] in loop else points.floors_of(chosen) for _, chosen in rows])
    view_of = {row: number for number, (_, chosen) in enumerate(rows, 1) for row in chosen}
    return tuple(
        View(
            layout,
            number,
            len(rows),
            names[number - 1],
            tuple(chosen),
            None if start == START else start,
            None if start == START else Cut(view_of[start], (start + 1,)),
            _goes_on(layout, chosen, view_of),
        )
        for number, (start, chosen) in enumerate(rows, 1)
    )


def _goes_on(layout, chosen, view_of: dict) -> dict:
    """Gives where the pipe goes on in another view, by the name of the leg that ends there."""
    found = {}
    for row in chosen:
        beyond: dict = {}
        for one in layout.tree.children[row] if row < len(layout.legs) else ():
            if view_of[one] != view_of[row]:
                beyond.setdefault(view_of[one], []).append(one + 1)
        if beyond:
            found[layout.legs[row].name] = tuple(Cut(view, tuple(legs)) for view, legs in beyond.items())
    return found


def _numbered(names: list) -> list:
    """Names of views, with "part 1 of 2" where several have the same; "" stays so, for the view has its number."""
    of, met, told = Counter(names), Counter(), []
    for name in names:
        met[name] += 1
        told.append(f"{name}, part {met[name]} of {of[name]}" if name and of[name] > 1 else name)
    return told


class _Points:
    """Points where legs begin, which are what views are made of: all legs from one point stand on one view.

    legs : rows of the legs that begin at a point, by the row of the leg that ends there, START for the tank
    """

    def __init__(self, layout):
        tree, self.layout = layout.tree, layout
        self.above = {row: int(tree.parent[row]) for row in tree.order if tree.children[row]}
        self.legs = {START: [row for row in tree.order if tree.parent[row] < 0]}
        self.legs |= {row: list(tree.children[row]) for row in self.above}
        self.order = [START, *self.above]  # each behind the point that it hangs on
        self.floor = {row: layout.floor_of(0.0 if row == START else float(tree.rise[row])) for row in self.order}

    def parts(self) -> dict:
        """The points of each view, by the point where it begins."""
        begins = {START} | {row for row, above in self.above.items() if self.floor[row] != self.floor[above]}
        for start, part in self._parts(begins).items():
            if self._size(part) > MOST:
                begins |= self._divided(start, part)
        return self._joined(begins)

    def floors_of(self, chosen) -> str:
        """The names of the floors on which legs begin, "cellar to storey 1"; "" where the file names none."""
        known = [name for name, _ in self.layout.floors]
        met = sorted({self.layout.floor_of_leg(row) for row in chosen} & set(known), key=known.index)
        return met[0] if len(met) == 1 else f"{met[0]} to {met[-1]}" if met else ""

    def _parts(self, begins: set) -> dict:
        """The points of each part, by the point where it begins."""
        home, found = {}, {}
        for row in self.order:
            home[row] = row if row in begins else home[self.above[row]]
            found.setdefault(home[row], []).append(row)
        return found

    def _size(self, part) -> int:
        return sum(len(self.legs[row]) for row in part)

    def _divided(self, start: int, part: list) -> set:
        """Gives where the parts begin that a large one is divided into, as few as can be, and of one size."""
        fewest = ceil(self._size(part) / MOST)
        tried = (self._cut(start, part, most) for most in range(ceil(self._size(part) / fewest), MOST + 1))
        return min(tried, key=len)

    def _cut(self, start: int, part: list, most: int) -> set:
        """Points at which a part is cut so that no more than so many legs stay together: from the far ends on, the
        largest part beyond a point goes first.
        """
        weight, found, inside = {}, set(), set(part)
        for row in reversed(part):
            beyond = [one for one in self.legs[row] if one in inside]
            weight[row] = len(self.legs[row]) + sum(weight[one] for one in beyond)
            for one in sorted(beyond, key=weight.get, reverse=True):
                if weight[row] <= most:
                    break
                weight[row] -= weight[one]
                found.add(one)
        return found - {start}

    def _joined(self, begins: set) -> dict:
        """The parts, in which those of few legs have joined the smallest neighbour that has room."""
        while True:
            parts = self._parts(begins)
            size = {start: self._size(part) for start, part in parts.items()}
            home = {row: start for start, part in parts.items() for row in part}
            pairs = [
                (size[one] + size[other], start)
                for start in parts
                if start != START
                for one, other in [(start, home[self.above[start]])]
                if min(size[one], size[other]) < FEW and size[one] + size[other] <= MOST
            ]
            if not pairs:
                return parts
            begins = begins - {min(pairs)[1]}
