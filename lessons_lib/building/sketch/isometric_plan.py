"""Where a building's legs lie on an isometric sketch: how long each is drawn, its ends, the tank, the heat pump.

North runs to the upper right, east to the lower right, up is up (the usual paper of pipefitters; common practice, no
source).
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ...quantities.units import LENGTH, to_base

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
# Longest leg as a multiple of the middle one, and the shortest as a share of the longest, as drawn: tried in this
# order.
SHORTENED = ((2.0, 0.35), (3.0, 0.25), (1.0, 1.0), (4.0, 0.2))
IN_PROPORTION = 6.0  # longest to shortest up to which all are drawn in proportion
BROKEN = 0.8  # of the others' scale; a leg drawn shorter than this gets a break sign
LONGEST = 260.0  # [px] no leg is drawn longer
BODY, PUMP = (64.0, 84.0), (110.0, 44.0)  # width and height of tank and heat pump [px]
APART = np.array([20.0, 30.0])  # of the loop's two lines [px]; parallel to no direction of a leg
GAP = 22.0  # [px] between a body and the end of a loop's line
ROOM = np.array([120.0, 36.0])  # [px] kept free beside the pipes for words
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
    """Holds everything as it lies on paper. outlet : (x, y); tank, pump : (left, top, width, height), pump None where
    there is no loop

    stubs : short lines between bodies and the loop's ends; to_scale : whether all legs are in proportion
    """

    legs: tuple
    outlet: np.ndarray
    tank: tuple
    pump: tuple | None
    stubs: tuple
    to_scale: bool

    @classmethod
    def of(cls, layout, left: float, top: float, width: float, height: float) -> "Plan":
        """A plan in the middle of a field [px]."""
        lengths = np.array([to_base(leg.length, LENGTH) for leg in layout.all_legs])
        drawn = _drawn_lengths(layout, lengths)
        steps = np.array([STEPS[leg.go] for leg in layout.all_legs]) * drawn[:, np.newaxis]
        starts = _starts(layout, steps)
        scale = _scale(
            lambda one: _Paper.of(layout, one * starts @ PAPER, one * (starts + steps) @ PAPER).corners,
            (width, height),
            drawn,
        )
        paper = _Paper.of(layout, scale * starts @ PAPER, scale * (starts + steps) @ PAPER)
        low, high = paper.corners
        shift = np.array([left + width / 2, top + height / 2]) - (low + high) / 2
        depth = (starts + 0.5 * steps) @ NEARER
        ratio, count = drawn / lengths, len(layout.legs)
        legs = tuple(
            Drawn(
                n + 1,
                leg,
                paper.first[n] + shift,
                paper.last[n] + shift,
                float(depth[n]),
                bool(ratio[n] < BROKEN * np.median(ratio)),
                float(layout.tree.rise[n]) if n < count else None,
            )
            for n, leg in enumerate(layout.all_legs)
        )
        return cls(
            legs,
            shift,
            _moved(paper.tank, shift),
            paper.pump and _moved(paper.pump, shift),
            tuple(stub + shift for stub in paper.stubs),
            bool(np.ptp(ratio) < 1e-9),
        )


@dataclass(frozen=True, eq=False)
class _Paper:
    """Everything on paper with the tank's outlet at (0, 0). first, last : ends of the legs, (legs, 2) [px]"""

    first: np.ndarray
    last: np.ndarray
    tank: tuple
    pump: tuple | None
    stubs: tuple

    @classmethod
    def of(cls, layout, first, last) -> "_Paper":
        """Gives the plan with the loop's two lines led to the tank beside each other."""
        count = len(layout.legs)
        tank = _beside(np.zeros(2), BODY, _free_side(np.zeros(2), BODY, first[:count], last[:count]))
        if layout.loop is None:
            return cls(first, last, tank, None, ())
        moved = _loop_offsets(layout, tank, first, last)
        first, last = first + moved, last + moved
        return cls(first, last, tank, *_pump(layout, tank, first, last))

    @property
    def corners(self) -> np.ndarray:
        """The upper left and the lower right end of it all, (2, 2)."""
        boxes = [((x, y), (x + wide, y + high)) for x, y, wide, high in filter(None, (self.tank, self.pump))]
        points = np.vstack([self.first, self.last, *boxes])
        return np.array([points.min(axis=0), points.max(axis=0)])


def _starts(layout, steps) -> np.ndarray:
    """Says where each leg begins in space. The tank's outlet is the origin; both lines of the loop begin there."""
    starts, count = np.zeros_like(steps), len(layout.legs)
    for number in layout.tree.order:
        above = layout.tree.parent[number]
        if above >= 0:
            starts[number] = starts[above] + steps[above]
    if layout.loop:
        hot = slice(count, count + len(layout.loop.hot))
        back = slice(hot.stop, None)
        starts[hot] = np.cumsum(steps[hot], axis=0) - steps[hot] - steps[hot].sum(axis=0)
        starts[back] = np.cumsum(steps[back], axis=0) - steps[back]
    return starts


def _drawn_lengths(layout, lengths) -> np.ndarray:
    """Says how long each leg is drawn: in proportion, or long ones shorter and short ones longer, with as few crossings
    as can be.
    """
    if lengths.max() <= IN_PROPORTION * lengths.min():
        return lengths
    middle, tried = np.median(lengths), []
    for most, least in SHORTENED:
        high = min(most * middle, lengths.max())
        drawn = np.clip(lengths, least * high, high)
        steps = np.array([STEPS[leg.go] for leg in layout.all_legs]) * drawn[:, np.newaxis]
        starts, count = _starts(layout, steps), len(layout.legs)
        tried.append((crossings(starts[:count] @ PAPER, (starts + steps)[:count] @ PAPER), len(tried), drawn))
    return min(tried, key=lambda one: one[:2])[2]


def crossings(first, last) -> int:
    """Says how many pairs of lines cross or touch without a common end. first, last : (lines, 2)"""
    along = last - first
    apart = first[np.newaxis] - first[:, np.newaxis]
    cross = _cross(along[:, np.newaxis], along[np.newaxis])
    with np.errstate(divide="ignore", invalid="ignore"):
        here = _cross(apart, along[np.newaxis]) / cross
        there = _cross(apart, along[:, np.newaxis]) / cross
    inside = (np.abs(cross) > 1e-9) & (here > -1e-6) & (here < 1 + 1e-6) & (there > -1e-6) & (there < 1 + 1e-6)
    unit = along / np.linalg.norm(along, axis=1, keepdims=True)
    level = np.abs(_cross(apart, unit[:, np.newaxis])) < 1e-6
    begins, ends = ((point[np.newaxis] - first[:, np.newaxis]) @ unit[..., np.newaxis] for point in (first, last))
    begins, ends, length = begins[..., 0], ends[..., 0], np.linalg.norm(along, axis=1)[:, np.newaxis]
    on = (
        (np.abs(cross) <= 1e-9) & level & (np.maximum(begins, ends) > 1e-6) & (np.minimum(begins, ends) < length - 1e-6)
    )
    ends_all = np.stack([first, last])
    joined = np.any(
        [np.linalg.norm(a[:, np.newaxis] - b[np.newaxis], axis=-1) < 1e-6 for a in ends_all for b in ends_all], axis=0
    )
    return int(np.triu((inside & ~joined) | on, 1).sum())


def _cross(one, two):
    return one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0]


def _scale(corners, size, drawn) -> float:
    """Pixels for a metre as drawn, so that everything fits in. corners : scale → ends of it all"""
    free = np.maximum(np.array(size) - 2 * ROOM, 0.25 * np.array(size))
    most = LONGEST / drawn.max()
    less, whole = (np.ptp(corners(one), axis=0) for one in (0.5 * most, most))
    slope = np.maximum(whole - less, 1e-9) / (0.5 * most)  # bodies keep their size, legs do not
    scale = float(np.clip((most + (free - whole) / slope).min(), 1e-3 * most, most))
    while np.any(np.ptp(corners(scale), axis=0) > np.array(size)) and scale > 1e-3 * most:
        scale *= 0.9  # bodies changed their sides
    return scale


def _beside(point, size, side: str) -> tuple:
    """A body that touches a point with the middle of one edge. side : where the body lies from the point"""
    across, down = SIDES[side]
    wide, high = size
    return point[0] + (across - 1) * wide / 2, point[1] + (down - 1) * high / 2, wide, high


def _free_side(point, size, first, last, wanted=tuple(SIDES)) -> str:
    """The side of a point where a body covers the fewest pipes; the first wanted one where several do."""
    shares = np.linspace(0.06, 1.0, 24)[:, np.newaxis, np.newaxis]
    points = (first + shares * (last - first)).reshape(-1, 2)

    def covered(side):
        x, y, wide, high = _beside(point, size, side)
        return int(np.sum(np.all((points > (x - 6, y - 6)) & (points < (x + wide + 6, y + high + 6)), axis=1)))

    return min(wanted, key=lambda side: (covered(side), wanted.index(side)))


def _facing(go: str) -> str:
    """The side of a body at which a pipe arrives that goes this way."""
    across, down = np.array(STEPS[go]) @ PAPER
    return ("above" if down > 0 else "below") if across == 0 else ("left" if across > 0 else "right")


def _loop_offsets(layout, tank, first, last) -> np.ndarray:
    """Gives what to add to each leg's ends, so that the loop's two lines meet the tank beside each other, (legs, 2)."""
    count, hot = len(layout.legs), len(layout.loop.hot)
    side = np.array(SIDES[_facing(layout.loop.hot[-1].go)], dtype=float)
    x, y, wide, high = tank
    port = np.array([x + wide / 2, y + high / 2]) + side * (np.array([wide, high]) / 2 + GAP + np.abs(side) * APART / 2)
    moved = np.zeros_like(first)
    moved[count : count + hot] = port + APART / 2 - last[count + hot - 1]
    moved[count + hot :] = port - APART / 2 - first[count + hot]
    return moved


def _pump(layout, tank, first, last) -> tuple:
    """The heat pump's body, and the short lines from bodies to the loop's ends."""
    count, hot = len(layout.legs), len(layout.loop.hot)
    ends = first[count], last[-1]
    near = np.linalg.norm(ends[0] - ends[1]) < 2.5 * np.linalg.norm(APART)
    middle = (ends[0] + ends[1]) / 2 if near else ends[0]
    behind = _facing(layout.loop.hot[0].go)
    wanted = (behind, *(side for side in SIDES if side != behind))
    away = {side: middle + np.array(SIDES[side]) * (GAP + APART / 2) for side in wanted}
    side = min(wanted, key=lambda one: (_covers(_beside(away[one], PUMP, one), first, last, tank), wanted.index(one)))
    pump = _beside(away[side], PUMP, side)
    stubs = [
        np.array([end, _nearest(body, end)])
        for end, body in ((ends[0], pump), (ends[1], pump), (last[count + hot - 1], tank), (first[count + hot], tank))
    ]
    return pump, tuple(stubs)


def _covers(body, first, last, tank) -> int:
    """Says how much of pipes and tank a body covers, in points."""
    shares = np.linspace(0, 1, 24)[:, np.newaxis, np.newaxis]
    points = np.vstack([(first + shares * (last - first)).reshape(-1, 2), _points(tank)])
    x, y, wide, high = body
    return int(np.sum(np.all((points > (x - 4, y - 4)) & (points < (x + wide + 4, y + high + 4)), axis=1)))


def _points(body) -> np.ndarray:
    """Points all over a body."""
    x, y, wide, high = body
    return np.array([(x + a * wide, y + b * high) for a in np.linspace(0, 1, 6) for b in np.linspace(0, 1, 6)])


def _nearest(body, point) -> np.ndarray:
    """The point of a body that is nearest to a point."""
    x, y, wide, high = body
    return np.clip(point, (x, y), (x + wide, y + high))


def _moved(body, shift) -> tuple:
    return body[0] + shift[0], body[1] + shift[1], body[2], body[3]
