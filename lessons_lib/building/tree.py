"""How the legs of a layout hang together: who feeds whom, how high each end is, and which fitting sits at each
joint.
"""

from dataclasses import dataclass
from functools import cache, cached_property
from typing import NamedTuple

import numpy as np

from ..plant.take_off import TEE_ORDER
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
        return fitting(self.legs[number], "coupling" if straight else ELBOW)

    def inlet_on_branch(self, number: int) -> bool:
        """Says whether the water of a leg enters the tee at its end by the branch: the two legs behind it part to both
        sides.
        """
        return len(self.children[number]) > 1 and not any(
            self.legs[one].go == self.legs[number].go for one in self.children[number]
        )

    def start_socket(self, number: int) -> "Socket | None":
        """Gives what the start of a leg sits in; None at the tank."""
        above = self.parent[number]
        return None if above < 0 else self.joints[above].socket_of(self.legs[number])

    def end_socket(self, number: int) -> "Socket | None":
        """Gives what the end of a leg sits in; None at a tap."""
        joint = self.joints[number]
        return joint and joint.socket_of(self.legs[number])

    @cached_property
    def joints(self) -> tuple:
        """Gives what is to be bought for the end of each leg, a Joint, in the order of the legs; None at a tap."""
        return tuple(self._joint(number) if below else None for number, below in enumerate(self.children))

    def _joint(self, number: int) -> "Joint":
        """The elbow, coupling, reducer or tee at the end of a leg, with the reducers and transitions beside it.

        A tee is of the material that most of its legs have, an elbow or coupling as the leg behind it.
        """
        here, behind, turned = self.legs[number], [self.legs[one] for one in self.children[number]], ""
        if len(behind) == 1:
            own, legs = behind[0], [here, *behind]
            kind = "coupling" if here.go == own.go else ELBOW
            kinds = (kind, kind)
        else:
            kind, kinds = "tee", ["tee through"] * 2 + ["tee branch"] * (len(behind) - 1)
            legs = [here, *sorted(behind, key=lambda leg: leg.go != here.go)]
            own = max(legs, key=lambda one: sum(same_kind(one, leg) for leg in legs))
            if self.inlet_on_branch(number):
                legs, turned = [*behind, here], "inlet on the branch"
        fits = [same_kind(own, leg) for leg in legs]
        taken = sold([leg if fit else own for leg, fit in zip(legs, fits)], kind)
        parts = [
            "transition" if not fit else "" if one is leg else "reducer" for leg, fit, one in zip(legs, fits, taken)
        ]
        between = [_between(own, leg, one, part) for leg, one, part in zip(legs, taken, parts) if part]
        alone = kind == "coupling" and not all(fits)
        if alone:  # two materials meet straight on: the transition is all that lies between them
            parts = ["transition"] * 2
        ends = [
            (leg, Socket(fitting(own if fit else leg, end), own.joint if fit else leg.joint, part))
            for leg, fit, end, part in zip(legs, fits, kinds, parts)
        ]
        if kind == "coupling" and _outside(here) != _outside(own):
            name, taken = _reducer(own), _wider_first(taken)
        else:
            name = called(fitting(own, kind), own.joint, turned)
        return Joint(None if alone else name, meeting(taken), tuple(ends), tuple(between))


class Socket(NamedTuple):
    """Names what an end of a leg's pipe sits in: a fitting of data/fittings.csv, how it is joined, and the part that is
    between, "transition", "reducer" or "".
    """

    fitting: str
    joint: str
    between: str = ""


class Joint(NamedTuple):
    """Describes a place where legs meet, as it is bought.

    name : of the fitting with its joint, None where two pipes meet straight on in a transition alone
    size : what meets in it
    ends : (leg, Socket) pairs; of a tee in the order run, run, branch
    between : (name, size) of each reducer and transition beside it
    """

    name: str | None
    size: str
    ends: tuple
    between: tuple

    def socket_of(self, leg: Leg) -> Socket:
        """Gives what this leg sits in."""
        return next(socket for one, socket in self.ends if one is leg)


def sold(legs: list, kind: str) -> list:
    """The legs whose sizes a fitting has at its ends, where it is to be one that shops have (common practice, no
    source).

    legs : one for each end, of a tee run, run, branch. An elbow joins one size, or a size and the next; a tee has two
    sizes at most: of three, the narrower end of its run becomes as wide as the other. A reducer stands at such an end.
    """
    if kind == ELBOW and not _next_sizes(legs[1].family, *sorted(map(_outside, legs))):
        return [legs[1], legs[1]]
    if kind == "tee" and len(set(map(_outside, legs))) == 3:
        wide = max(legs[:2], key=_outside)
        return [wide, wide, legs[2]]
    return legs


def _next_sizes(family: str, narrow: float, wide: float) -> bool:
    """Says whether a family has no size between two outside diameters [mm]."""
    return not any(narrow < _width(family, size) < wide for size in sizes(family))


def _outside(leg: Leg) -> float:
    """The outside diameter of a leg's pipe [mm]."""
    return _width(leg.family, leg.size)


@cache
def _width(family: str, size: str) -> float:
    """The outside diameter of a size [mm], rounded so that two tables' same size is the same."""
    return round(Pipe.nominal(family, size).outside_diameter.to("mm").magnitude, 3)


def _wider_first(legs) -> list:
    """Legs as a reducer names them."""
    return sorted(legs, key=_outside, reverse=True)


def _reducer(own: Leg) -> str:
    """The name of a reducer with its joint."""
    return called(fitting(own, "coupling").replace("coupling", "reducer"), own.joint)


def _between(own: Leg, leg: Leg, taken: Leg, part: str) -> tuple[str, str]:
    """The name and size of the part between a leg and a fitting that takes the pipe of another."""
    if part == "reducer":
        return _reducer(own), meeting(_wider_first([taken, leg]))
    return part, f"{called(own.pipe.name, own.joint)} to {called(leg.pipe.name, leg.joint)}"


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
    return first.material == second.material and _width(family, size) == _width(other, size)


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


def fitting(leg: Leg, kind: str) -> str:
    """Gives the name in data/fittings.csv: some materials have fittings of their own, and losses, for a joint."""
    own = f"{leg.pipe.material} {leg.joint} {'elbow' if kind == ELBOW else kind}"
    return own if own in fitting_names() else kind


def loses_like(leg: Leg, name: str) -> str:
    """The name in data/fittings.csv whose loss a fitting of the leg has: push elbows and couplings were measured."""
    return PUSHED.get(name, name) if leg.joint == "push" else name


def climb(leg: Leg) -> float:
    """Says how much higher the leg's end is than its start [m]."""
    return {"up": 1.0, "down": -1.0}.get(leg.go, 0.0) * leg.metres
