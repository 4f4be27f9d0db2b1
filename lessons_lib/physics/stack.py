"""Many lines side by side, so that one call answers for all of them."""

from dataclasses import dataclass, fields, replace

import numpy as np

from .convection import inside_resistance
from .delivery import Delivery, deliver
from .line import Line

NOT_STACKED = {"conductivity_at", "gap_sealed", "inner_emissivity"}  # of a Section: one for a whole group


@dataclass(frozen=True)
class Stack:
    """Lines of single values, grouped by what cannot be an array: covering, bare share, air or soil.

    groups : Lines whose values are of shape (members,); group, place : of each line, (lines,)
    """

    groups: tuple
    group: np.ndarray
    place: np.ndarray

    @classmethod
    def of(cls, lines) -> "Stack":
        lines = list(lines)
        members: dict = {}
        for number, line in enumerate(lines):
            members.setdefault(_key(line), []).append(number)
        group, place = np.empty((2, len(lines)), dtype=int)
        for index, numbers in enumerate(members.values()):
            group[numbers], place[numbers] = index, np.arange(len(numbers))
        return cls(
            tuple(_side_by_side([lines[number] for number in numbers]) for numbers in members.values()), group, place
        )

    def chosen(self, which):
        """The lines of the cases `which`, (cases,), group by group: which cases they are, and one Line for them."""
        for index in np.unique(self.group[which]):
            cases = np.flatnonzero(self.group[which] == index)
            yield cases, _members(self.groups[index], self.place[which[cases]])

    def deliver(self, which, supply, volume_flow, length, film=inside_resistance) -> Delivery:
        """Steady flow through line `which` of each case; see delivery.deliver. Arrays of shape (cases,)."""
        end, ice = np.empty((2, len(which)))
        for cases, line in self.chosen(which):
            found = deliver(line, supply[cases], volume_flow[cases], length[cases], film)
            end[cases], ice[cases] = found
        return Delivery(end, ice)


def _key(line: Line) -> tuple:
    """Gives what lines must share to stand in one group."""
    sections = tuple(
        (share, tuple(map(tuple, section.conductivity_at)), section.gap_sealed, section.inner_emissivity)
        for share, section in line.parts
    )
    return sections, type(line.around)


def _stackable(thing) -> list[str]:
    return [field.name for field in fields(thing) if field.name not in NOT_STACKED]


def _side_by_side(lines) -> Line:
    """Lines of one group as one Line of arrays."""

    def together(things):
        return replace(
            things[0],
            **{name: np.array([getattr(one, name) for one in things], dtype=float) for name in _stackable(things[0])},
        )

    parts = tuple(
        (same[0][0], together([section for _, section in same])) for same in zip(*(line.parts for line in lines))
    )
    return Line(parts, together([line.around for line in lines]))


def _members(line: Line, places) -> Line:
    """Some of a group's lines, each as often as its number stands in `places`."""

    def those(thing):
        return replace(thing, **{name: getattr(thing, name)[places] for name in _stackable(thing)})

    return Line(tuple((share, those(section)) for share, section in line.parts), those(line.around))
