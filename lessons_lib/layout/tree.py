"""How the legs of a layout hang together: who feeds whom, how high each end is, and which fitting sits at each joint."""

from dataclasses import dataclass

import numpy as np

from ..units import LENGTH, si
from .parts import TANK, Leg

ELBOW, CRIMP = "elbow 90", "crimp"
PUSHED = {ELBOW: "push elbow", "coupling": "push coupling"}  # as data/fittings.csv has their losses


@dataclass(frozen=True, eq=False)
class Tree:
    """Legs by number, in the order of the layout; the tank is -1.

    parent : (legs,); order : numbers, each after its parent; depth : legs between it and the tank, (legs,)
    children : tuple of tuples; rise : height of each leg's end above the tank [m], (legs,)
    """

    legs: tuple
    parent: np.ndarray
    order: tuple
    depth: np.ndarray
    children: tuple
    rise: np.ndarray

    @classmethod
    def of(cls, legs: tuple) -> "Tree":
        """The tree of legs whose starts are known and lead to the tank."""
        numbers = {leg.name: number for number, leg in enumerate(legs)} | {TANK: -1}
        parent = np.array([numbers[leg.start] for leg in legs], dtype=int)
        children = [[] for _ in range(len(legs) + 1)]
        for number, above in enumerate(parent):
            children[above].append(number)
        order, depth, rise = list(children[-1]), np.zeros(len(legs), dtype=int), np.zeros(len(legs))
        for number in order:  # grows while it is walked
            order.extend(children[number])
            above = parent[number]
            depth[number] = 0 if above < 0 else depth[above] + 1
            rise[number] = (0.0 if above < 0 else rise[above]) + climb(legs[number])
        return cls(legs, parent, tuple(order), depth, tuple(map(tuple, children[:-1])), rise)

    def path(self, number: int) -> list[int]:
        """The legs from the tank to the end of a leg."""
        path = []
        while number >= 0:
            path.append(int(number))
            number = self.parent[number]
        return path[::-1]

    def feeds(self, ends) -> np.ndarray:
        """Which leg carries water for which end: (ends, legs) of bool. ends : numbers of legs"""
        through = np.zeros((len(ends), len(self.legs)), dtype=bool)
        for row, end in zip(through, ends):
            row[self.path(end)] = True
        return through

    def below(self, number: int) -> np.ndarray:
        """The legs that a leg feeds, itself among them: (legs,) of bool."""
        found = np.zeros(len(self.legs), dtype=bool)
        for one in self.order:
            found[one] = one == number or (self.parent[one] >= 0 and found[self.parent[one]])
        return found

    def start_fitting(self, number: int) -> str | None:
        """The fitting at the start of a leg, as the water meets it; None at the tank."""
        above = self.parent[number]
        if above < 0:
            return None
        straight = self.legs[above].go == self.legs[number].go
        if len(self.children[above]) > 1:
            return fitting(self.legs[number], "tee through" if straight else "tee branch")
        return joint_between(self.legs[above], self.legs[number])

    def end_fitting(self, number: int) -> str | None:
        """The fitting at the end of a leg, as its own pipe meets it; None at a tap."""
        below = self.children[number]
        if not below:
            return None
        if len(below) == 1:
            return joint_between(self.legs[number], self.legs[below[0]])
        straight = any(self.legs[one].go == self.legs[number].go for one in below)
        return fitting(self.legs[number], "tee through" if straight else "tee branch")

    def joints(self):
        """Every elbow, coupling and tee: its name, the sizes that meet in it, and (leg, fitting as that leg meets it) pairs."""
        for number, below in enumerate(self.children):
            if not below:
                continue
            here, on = self.legs[number], sorted(below, key=lambda one: self.legs[one].go != self.legs[number].go)
            ends = [(here, self.end_fitting(number)), *((self.legs[one], self.start_fitting(one)) for one in on)]
            name = ends[1][1] if len(below) == 1 else fitting(here, "tee")
            yield name, meeting([leg.pipe.name for leg, _ in ends]), ends


def meeting(pipes) -> str:
    """The sizes that meet in a fitting: one name where they are the same, else in the order run in, run out, branch."""
    return pipes[0] if len(set(pipes)) == 1 else " x ".join(pipes)


def joint_between(first: Leg, second: Leg) -> str:
    """The fitting between two legs of which the second alone goes on."""
    return fitting(second, "coupling" if first.go == second.go else ELBOW)


def fitting(leg: Leg, kind: str) -> str:
    """The name in data/fittings.csv: crimped PEX has fittings, and losses, of its own."""
    if leg.joint == CRIMP and leg.pipe.material == "PEX":
        return f"PEX crimp {'elbow' if kind == ELBOW else kind}"
    return kind


def loses_like(leg: Leg, name: str) -> str:
    """The name in data/fittings.csv whose loss a fitting of the leg has: push elbows and couplings were measured."""
    return PUSHED.get(name, name) if leg.joint == "push" else name


def climb(leg: Leg) -> float:
    """How much higher the leg's end is than its start [m]."""
    return {"up": 1.0, "down": -1.0}.get(leg.go, 0.0) * si(leg.length, LENGTH)
