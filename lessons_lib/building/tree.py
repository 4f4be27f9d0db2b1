"""How the legs of a layout hang together: who feeds whom, how high each end is, and which fitting sits at each
joint.
"""

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from ..plant.take_off import TEE_ORDER
from ..quantities.units import LENGTH, to_base
from ..runs.fittings import names as fitting_names
from ..runs.pipe import Pipe, sizes
from .parts import TANK, Leg

ELBOW = "elbow 90"
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
        """Says which leg carries water for which end: (ends, legs) of bool. ends : numbers of legs"""
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

    def inlet_on_branch(self, number: int) -> bool:
        """Says whether the water of a leg enters the tee at its end by the branch: the two legs behind it part to both
        sides.
        """
        return len(self.children[number]) > 1 and not any(
            self.legs[one].go == self.legs[number].go for one in self.children[number]
        )

    def start_socket(self, number: int) -> "Socket | None":
        """Gives what the start of a leg sits in; None at the tank."""
        above, leg = self.parent[number], self.legs[number]
        if above < 0:
            return None
        before = self.legs[above]
        if len(self.children[above]) == 1:
            straight_on = before.go == leg.go and not same_kind(before, leg)
            return Socket(joint_between(before, leg), leg.joint, straight_on)
        kind = "tee through" if before.go == leg.go or self.inlet_on_branch(above) else "tee branch"
        return _socket(before, leg, kind)

    def end_socket(self, number: int) -> "Socket | None":
        """Gives what the end of a leg sits in; None at a tap."""
        below, leg = self.children[number], self.legs[number]
        if not below:
            return None
        if len(below) == 1:
            after = self.legs[below[0]]
            return _socket(after, leg, "coupling" if leg.go == after.go else ELBOW)
        return _socket(leg, leg, "tee branch" if self.inlet_on_branch(number) else "tee through")

    def joints(self):
        """Every elbow, coupling, tee and transition, a Joint for each end of a leg from which others go on."""
        for number, below in enumerate(self.children):
            if not below:
                continue
            here, on = self.legs[number], sorted(below, key=lambda one: self.legs[one].go != self.legs[number].go)
            ends = [(here, self.end_socket(number)), *((self.legs[one], self.start_socket(one)) for one in on)]
            own = here if len(on) > 1 else self.legs[on[0]]
            kind = "tee" if len(on) > 1 else "coupling" if here.go == own.go else ELBOW
            others = [leg for leg, _ in ends if not same_kind(own, leg)]
            order = ends[1:] + ends[:1] if self.inlet_on_branch(number) else ends
            name = called(fitting(own, kind), own.joint, "inlet on the branch" if self.inlet_on_branch(number) else "")
            yield Joint(
                None if others and kind == "coupling" else name,
                meeting([own if leg in others else leg for leg, _ in order]),
                tuple(one for one in ends if one[0] not in others),
                tuple((own, leg) for leg in others),
            )


class Socket(NamedTuple):
    """Names what an end of a leg's pipe sits in: a fitting of data/fittings.csv, how it is joined, and whether a
    transition is between.
    """

    fitting: str
    joint: str
    transition: bool = False


class Joint(NamedTuple):
    """Describes a place where legs meet.

    name : of the fitting with its joint, None where two pipes meet straight on in a transition alone
    size : what meets in it; ends : (leg, Socket) pairs of the legs that sit in it
    transitions : (leg whose pipe the fitting takes, leg with another pipe) pairs
    """

    name: str | None
    size: str
    ends: tuple
    transitions: tuple


def _socket(own: Leg, leg: Leg, kind: str) -> Socket:
    """The end of a leg in a fitting of this kind that takes the pipe of `own`, or behind a transition to it."""
    fits = same_kind(own, leg)
    return Socket(fitting(own if fits else leg, kind), own.joint if fits else leg.joint, not fits)


def same_kind(one: Leg, other: Leg) -> bool:
    """Says whether a fitting made for the pipe of one leg takes the pipe of the other: one material, and outside
    diameters of one series.
    """
    return one.family == other.family or _one_series(one.family, other.family, other.size)


@cache
def _one_series(family: str, other: str, size: str) -> bool:
    """Says whether a size of the other family is as wide outside, and of the same material, as that size of this
    family.
    """
    if size not in sizes(family):
        return False
    first, second = Pipe.nominal(family, size), Pipe.nominal(other, size)
    return first.material == second.material and first.outside_diameter == second.outside_diameter


def called(name: str, joint: str, more: str = "") -> str:
    """A fitting with how it is joined, where its name does not say so, and what more is to be said of it."""
    told = ", ".join(filter(None, ("" if joint in name else joint, more)))
    return f"{name} ({told})" if told else name


def meeting(legs) -> str:
    """The sizes that meet in a fitting: one where they are the same, else all, those of a tee in the order run x run
    x branch.
    """
    pipes, families = [leg.pipe.name for leg in legs], {leg.family for leg in legs}
    if len(set(pipes)) == 1:
        return pipes[0]
    plain = [f"({leg.size})" if " x " in leg.size else leg.size for leg in legs]
    told = f"{legs[0].family} {' x '.join(plain)}" if len(families) == 1 else " x ".join(pipes)
    return told + (TEE_ORDER if len(legs) > 2 else "")


def joint_between(first: Leg, second: Leg) -> str:
    """The fitting between two legs of which the second alone goes on."""
    return fitting(second, "coupling" if first.go == second.go else ELBOW)


def fitting(leg: Leg, kind: str) -> str:
    """Gives the name in data/fittings.csv: some materials have fittings of their own, and losses, for a joint."""
    own = f"{leg.pipe.material} {leg.joint} {'elbow' if kind == ELBOW else kind}"
    return own if own in fitting_names() else kind


def loses_like(leg: Leg, name: str) -> str:
    """The name in data/fittings.csv whose loss a fitting of the leg has: push elbows and couplings were measured."""
    return PUSHED.get(name, name) if leg.joint == "push" else name


def climb(leg: Leg) -> float:
    """Says how much higher the leg's end is than its start [m]."""
    return {"up": 1.0, "down": -1.0}.get(leg.go, 0.0) * to_base(leg.length, LENGTH)
