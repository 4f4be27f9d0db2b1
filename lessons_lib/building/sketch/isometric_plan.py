"""Where a building's legs lie on an isometric sketch: how long each is drawn, its ends, the tank, the heat pump.

North runs to the upper right, east to the lower right, up is up (the usual paper of pipefitters; common practice, no
source).
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ...quantities.units import LENGTH, to_base
from ..parts import OPPOSITE
from .isometric_lengths import Hung, LegLengths, clearest

# Steps north, east and up in space for each direction, and what they are on paper (y downwards).
STEPS = {
    "north": (1, 0, 0),
    "south": (-1, 0, 0),
    "east": (0, 1, 0),
    "west": (0, -1, 0),
    "up": (0, 0, 1),
    "down": (0, 0, -1),
}
COS = float(np.cos(np.radians(30)))
PAPER = np.array([(COS, -0.5), (COS, 0.5), (0.0, -1.0)])
NEARER = np.array([-1.0, 1.0, 1.0])  # towards the eye, which looks from the south-east and from above
SHORTENED = 0.5  # of the others' scale; a leg drawn shorter than this gets a break sign
BODY, PUMP = (64.0, 84.0), (110.0, 44.0)  # width and height of tank and heat pump [px]
APART = np.array([20.0, 30.0])  # of the loop's two lines [px]; parallel to no direction of a leg
ARRIVES = 34.0  # [px] of the line that arrives where a view begins
GAP = 22.0  # [px] between a body and the end of a loop's line
ROOM = np.array([44.0, 30.0])  # [px] kept free beside the pipes for words
SIDES = {"below": (0, 1), "left": (-1, 0), "right": (1, 0), "above": (0, -1)}


@dataclass(frozen=True, eq=False)
class Drawn:
    """Holds a leg as it lies on paper. number : 1, 2 … as in the layout; start, end : (x, y) [px]; depth : larger is
    nearer to the eye

    shortened : drawn shorter than the others; level : of its end above the tank's outlet [m], None in the loop
    """

    number: int
    leg: object
    start: np.ndarray
    end: np.ndarray
    depth: float
    shortened: bool
    level: float | None

    @cached_property
    def length(self) -> float:
        """Gives the length on paper [px]."""
        return float(np.hypot(*(self.end - self.start)))

    @cached_property
    def along(self) -> np.ndarray:
        """The way it goes on paper, a vector of length 1."""
        return (self.end - self.start) / self.length

    def at(self, share) -> np.ndarray:
        """The point at a share of its length."""
        return self.start + share * (self.end - self.start)


@dataclass(frozen=True, eq=False)
class Plan:
    """Holds everything as it lies on paper. outlet : (x, y); tank, pump : (left, top, width, height), None where there
    is none

    arrives : where a view without the tank begins, and the outer end of a short line that arrives there, (2, 2); else
        None
    stubs : short lines between bodies and the loop's ends; to_scale : whether all legs are in proportion
    """

    legs: tuple
    outlet: np.ndarray
    tank: tuple | None
    pump: tuple | None
    arrives: np.ndarray | None
    stubs: tuple
    to_scale: bool

    @classmethod
    def of(cls, view, width: float, height: float, names: dict) -> "Plan":
        """A plan of a View in the middle of a field.

        width, height : of the field [px]; names : width of what is named at the end of a leg, a tap or where the pipe
            goes on, by the leg's name, and of where it comes from, by None [px]
        """
        choices = _choices(view, (width, height), names)
        drawn, count, legs = clearest(choices), len(view.legs), len(view.all_legs)
        lines = np.stack(choices.ends(drawn[np.newaxis])[:2], axis=-1)[0]
        lines = np.stack([lines.real, lines.imag], axis=-1)
        whole = lines.reshape(-1, 2)
        shift = (np.array([width, height]) - whole.min(axis=0) - whole.max(axis=0)) / 2
        lines = lines + shift
        steps = np.array([STEPS[leg.go] for leg in view.all_legs]) * drawn[:, np.newaxis]
        depth = (choices.starts @ steps + 0.5 * steps) @ NEARER
        ratio = drawn / choices.true
        bodies = [_box(line) for line, hung in zip(lines[legs:], choices.hung) if not hung.name][::2]
        at_tank = view.begins is None
        return cls(
            tuple(
                Drawn(
                    view.numbers[leg.name],
                    leg,
                    *lines[n],
                    float(depth[n]),
                    bool(ratio[n] < SHORTENED * np.median(ratio)),
                    float(view.tree.rise[n]) if n < count else None,
                )
                for n, leg in enumerate(view.all_legs)
            ),
            shift,
            bodies[0] if at_tank else None,
            bodies[1] if view.loop else None,
            None if at_tank else lines[legs],
            _stubs(view, lines, *bodies) if view.loop else (),
            bool(np.ptp(ratio) < 1e-9),
        )


def _choices(view, size, names: dict) -> LegLengths:
    """Gives the choices of lengths for a View in a field of this size [px]."""
    ways = np.array([STEPS[leg.go] for leg in view.all_legs]) @ PAPER
    count, total, same = len(view.legs), len(ways), np.arange(len(ways))
    at_start = [n for n in range(count) if view.tree.parent[n] < 0]
    moved, joined = np.zeros((total, 2)), _joined(view)
    if view.begins is None:
        tank = _beside(np.zeros(2), BODY, _free_side(ways[at_start]))
        hung = _across(tank, -1, at_start)
    else:
        hung = _arriving(view, at_start, names[None])
    if view.loop:
        moved = _loop_offsets(view, tank)
        hot, back = view.loop.hot, view.loop.back
        beside = [one.go == OPPOSITE[other.go] for one, other in zip(hot, back[::-1])]
        for number in range(len(beside) if len(hot) == len(back) and all(beside) else 0):
            same[-1 - number] = count + number
            joined[[-1 - number, count + number], [count + number, -1 - number]] = True
        side = _facing(hot[0].go)
        behind = -APART / 2 + np.array(SIDES[side]) * (GAP + APART / 2)
        hung += _across(_beside(behind, PUMP, side), count, [count, total - 1])
        for number in (0, 1):
            hung[number] = hung[number]._replace(near=(*at_start, count + len(hot) - 1, count + len(hot)))
    for number, leg in enumerate(view.legs):
        if leg.name in names:
            hung.append(_name(number, total, ways[number], names[leg.name]))
    signs = np.array([sum(number for _, number in leg.fittings) for leg in view.all_legs], dtype=float)
    if view.valve is not None:
        signs[view.valve_leg] += 1
    return LegLengths(
        ways @ (1, 1j),
        _begins(view),
        moved @ (1, 1j),
        joined,
        hung,
        same,
        np.array([to_base(leg.length, LENGTH) for leg in view.all_legs]),
        signs,
        np.maximum(np.array(size) - 2 * ROOM, 0.25 * np.array(size)),
    )


def _arriving(view, at_start, wide: float) -> list:
    """The short line that arrives where a view begins, and the line of the words at its outer end, so wide [px]."""
    way = np.array(STEPS[view.layout.legs[view.begins].go]) @ PAPER
    outer = complex(*(-ARRIVES * way))
    words = _name(0, 0, -way, wide)
    near = tuple(at_start)
    return [
        Hung(-1, 0j, outer, False, near),
        Hung(-1, outer + words.first, outer + words.last, True, near),
    ]


def _across(body, point: int, near) -> list:
    """The two lines from corner to corner of a body that hangs on a point. near : numbers of legs that touch it"""
    x, y, wide, high = body
    return [
        Hung(point, complex(x, top), complex(x + wide, y + y + high - top), False, tuple(near)) for top in (y, y + high)
    ]


def _name(number: int, legs: int, way, wide: float) -> Hung:
    """The line of a tap's name: beyond the end of its leg, to the left where the leg comes from the right."""
    first = complex(-14 if way[0] < 0 else 14, -4)
    return Hung(legs + number, first, first + (-wide if way[0] < 0 else wide), True, (number,))


def _box(line) -> tuple:
    """The body whose corners a line joins, as (left, top, width, height)."""
    return *line.min(axis=0), *np.ptp(line, axis=0)


def _begins(view) -> np.ndarray:
    """Says how often the steps of each leg (column) count where a leg (row) starts, (legs, legs). The tank's outlet is
    the origin; both lines of the loop meet there.
    """
    count, all_of_it = len(view.legs), len(view.all_legs)
    begins = np.zeros((all_of_it, all_of_it))
    for number in view.tree.order:
        above = view.tree.parent[number]
        if above >= 0:
            begins[number] = begins[above]
            begins[number, above] = 1
    if view.loop:
        hot = count + len(view.loop.hot)
        begins[count:hot, count:hot] = -np.triu(np.ones((hot - count, hot - count)))
        begins[hot:, hot:] = np.tril(np.ones((all_of_it - hot, all_of_it - hot)), -1)
    return begins


def _joined(view) -> np.ndarray:
    """Says which legs have an end in common, (legs, legs) of bool; a leg has with itself."""
    starts, ends = view.tree.parent, np.arange(len(view.all_legs))
    for number, line in enumerate((view.loop.hot, view.loop.back) if view.loop else ()):
        starts = np.concatenate([starts, [-2 - number], np.arange(len(starts), len(starts) + len(line) - 1)])
    follows = starts[:, np.newaxis] == ends
    return follows | follows.T | (starts[:, np.newaxis] == starts) | np.eye(len(ends), dtype=bool)


def _beside(point, size, side: str) -> tuple:
    """A body that touches a point with the middle of one edge. side : where the body lies from the point"""
    across, down = SIDES[side]
    wide, high = size
    return point[0] + (across - 1) * wide / 2, point[1] + (down - 1) * high / 2, wide, high


def _free_side(ways) -> str:
    """The side of a point where a body is in the way of the fewest pipes that begin there. ways : of those, (n, 2)"""

    def covered(side):
        x, y, wide, high = _beside(np.zeros(2), BODY, side)
        points = 12 * ways
        return int(np.sum(np.all((points > (x, y)) & (points < (x + wide, y + high)), axis=1)))

    return min(SIDES, key=covered)


def _facing(go: str) -> str:
    """The side of a body at which a pipe arrives that goes this way."""
    across, down = np.array(STEPS[go]) @ PAPER
    return ("above" if down > 0 else "below") if across == 0 else ("left" if across > 0 else "right")


def _loop_offsets(view, tank) -> np.ndarray:
    """Gives what to add to each leg's ends, so that the loop's two lines meet the tank beside each other, (legs, 2)."""
    count, hot = len(view.legs), len(view.loop.hot)
    side = np.array(SIDES[_facing(view.loop.hot[-1].go)], dtype=float)
    x, y, wide, high = tank
    port = np.array([x + wide / 2, y + high / 2]) + side * (np.array([wide, high]) / 2 + GAP + np.abs(side) * APART / 2)
    moved = np.zeros((len(view.all_legs), 2))
    moved[count : count + hot], moved[count + hot :] = port + APART / 2, port - APART / 2
    return moved


def _stubs(view, lines, tank, pump) -> tuple:
    """The short lines from bodies to the loop's ends."""
    count, hot = len(view.legs), len(view.loop.hot)
    last = len(view.all_legs) - 1
    ends = (
        (lines[count][0], pump),
        (lines[last][1], pump),
        (lines[count + hot - 1][1], tank),
        (lines[count + hot][0], tank),
    )
    return tuple(np.array([end, _nearest(body, end)]) for end, body in ends)


def _nearest(body, point) -> np.ndarray:
    """The point of a body that is nearest to a point."""
    x, y, wide, high = body
    return np.clip(point, (x, y), (x + wide, y + high))
