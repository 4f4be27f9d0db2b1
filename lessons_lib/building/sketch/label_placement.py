"""Free room on a drawing: which places are taken, and the free place nearest to a point for a label.

Places are looked for on a field of cells, lines are held as lines. All in pixels.
"""

from dataclasses import dataclass

import numpy as np

CELL = 4  # [px]
FAR = 14.0  # [px] a label farther from its point than this gets a line to it
CROWDED, CROSSED = 0.5, 90.0  # [px] of distance that a taken cell around a place costs, and a line that its own crosses
NOBODY = -1  # whose line it is that no label may stand on
REACH = 2  # cells around a place that count as crowding
TRIED, SAMPLED = 60, 200  # nearest places whose lines are looked at, and others all over the rest


@dataclass(frozen=True)
class Place:
    """Says where a label stands: left, top [px], the point that it speaks of, the near point of its edge, and how far
    they are apart.
    """

    left: float
    top: float
    point: tuple
    edge: tuple
    distance: float


class LabelPlacer:
    """A field of cells, free or taken, and lines. width, height : [px]"""

    def __init__(self, width: float, height: float):
        self.shape = int(height // CELL), int(width // CELL)
        self._taken = np.zeros(self.shape, dtype=bool)
        self._boxes: list = []  # (left, top, right, bottom)
        self._lines, self._fresh = np.empty((0, 6)), []  # x, y, x, y, what it costs to cross it, whose it is
        self._sums = None

    @property
    def key(self) -> tuple:
        """Gives all that is taken as plain values."""
        return self.shape, self._taken.tobytes(), tuple(self._boxes), self._all_lines().tobytes()

    def take_box(self, left: float, top: float, width: float, height: float) -> None:
        """Keeps this box free: nothing may be put here, and no label's line may cross it."""
        rows, columns = self.shape
        x0, y0 = (max(int(np.floor(one / CELL)), 0) for one in (left, top))
        x1, y1 = int(np.ceil((left + width) / CELL)), int(np.ceil((top + height) / CELL))
        self._taken[y0 : min(y1, rows), x0 : min(x1, columns)] = True
        self._boxes.append((left, top, left + width, top + height))
        corners = ((left, top), (left + width, top + height)), ((left, top + height), (left + width, top))
        self._fresh += [(*first, *last, np.inf, NOBODY) for first, last in corners]
        self._sums = None

    def take_line(self, first, last, whose: int | None = None, beside: int = 0) -> None:
        """Keeps this line free of words. whose : number of what may stand there; beside : cells on both sides too"""
        rows, columns = self._cells(first, last)
        for down in range(-beside, beside + 1):
            for across in range(-beside, beside + 1):
                self._taken[
                    np.clip(rows + down, 0, self.shape[0] - 1), np.clip(columns + across, 0, self.shape[1] - 1)
                ] = True
        self._fresh.append((*first, *last, CROSSED, NOBODY if whose is None else whose))
        self._sums = None

    def nearest(self, width: float, height: float, points, reach: float) -> Place | None:
        """The best free place for a label of this size, its line laid; None where none is within reach.

        points : (n, 2), any of which it may speak of [px]; reach : farthest from label to point [px]
        """
        points = np.asarray(points, dtype=float)
        across, down = (int(np.ceil(side / CELL)) for side in (width, height))
        low = np.maximum((points.min(axis=0) - reach - (width, height)) // CELL, 0).astype(int)
        high = np.minimum((points.max(axis=0) + reach) // CELL + 1, np.array(self.shape[::-1]) - (across, down)).astype(
            int
        )
        if np.any(high <= low):
            return None
        x, y = (np.arange(*ends) for ends in zip(low, high))
        free = self._count(x, y, across, down, 0) == 0
        distance, which = self._distance(x, y, width, height, points)
        cost = np.where(free & (distance <= reach), distance + CROWDED * self._count(x, y, across, down, REACH), np.inf)
        open_to_it = np.flatnonzero(np.isfinite(cost))
        best = open_to_it[np.argsort(cost.flat[open_to_it], kind="stable")]
        best = np.concatenate([best[:TRIED], best[TRIED :: max(len(best) // SAMPLED, 1)]])
        if not len(best):
            return None
        rows, columns = np.unravel_index(best, cost.shape)
        corner = CELL * np.stack([x[columns], y[rows]], axis=1).astype(float)
        point, distance = points[which.flat[best]], distance.flat[best]
        edge = np.clip(point, corner, corner + (width, height))
        costs, far = cost.flat[best], distance > FAR
        costs[far] += self._crossed(edge[far], point[far], distance[far])
        one = int(np.argmin(costs))
        if not np.isfinite(costs[one]):
            return None
        place = Place(*corner[one].tolist(), tuple(point[one]), tuple(edge[one]), float(distance[one]))
        self.take_box(place.left, place.top, width, height)
        if place.distance > FAR:
            self.take_line(place.edge, place.point, beside=1)
        return place

    def on_line(self, width: float, height: float, points, whose: int) -> Place | None:
        """The first place for a label that stands on its own line, its middle on one of the points; None where
        something else is in the way.
        """
        lines, boxes = self._all_lines(), np.array(self._boxes).reshape(-1, 4)
        others = lines[lines[:, 5] != whose]
        for point in np.asarray(points):
            low, high = point - (width / 2, height / 2), point + (width / 2, height / 2)
            covers = (low < boxes[:, 2:]) & (high > boxes[:, :2])
            if not covers.all(axis=1).any() and not meets_box(others[:, :2], others[:, 2:4], low - 2, high + 2).any():
                self.take_box(*low, width, height)
                return Place(*low.tolist(), tuple(point), tuple(point), 0.0)
        return None

    def _all_lines(self) -> np.ndarray:
        """Gives every line as a row: x, y, x, y, what it costs to cross it, whose it is."""
        if self._fresh:
            self._lines = np.vstack([self._lines, np.array(self._fresh, dtype=float)])
            self._fresh = []
        return self._lines

    def _count(self, x, y, across: int, down: int, around: int) -> np.ndarray:
        """Taken cells beneath a label at each place, (rows, columns). around : cells beyond its edges that count too"""
        if self._sums is None:
            sums = np.pad(self._taken.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32), ((1, 0), (1, 0)))
            self._sums = np.pad(sums, REACH, mode="edge")
        left, right = (slice(at, at + len(x)) for at in (x[0] + REACH - around, x[0] + REACH + across + around))
        top, bottom = (slice(at, at + len(y)) for at in (y[0] + REACH - around, y[0] + REACH + down + around))
        sums = self._sums
        return sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left]

    def _distance(self, x, y, width, height, points) -> tuple:
        """Gives the distance from a label at each place to the nearest of the points [px], and which that is."""
        aside = np.maximum.reduce(
            [x * CELL - points[:, :1], points[:, :1] - x * CELL - width, np.zeros((len(points), len(x)))]
        )
        above = np.maximum.reduce(
            [y * CELL - points[:, 1:], points[:, 1:] - y * CELL - height, np.zeros((len(points), len(y)))]
        )
        squared = (above * above)[:, :, np.newaxis] + (aside * aside)[:, np.newaxis, :]
        return np.sqrt(squared.min(axis=0)), squared.argmin(axis=0)

    def _crossed(self, edge, point, distance) -> np.ndarray:
        """Cost of what each label's line would cross, but for what lies at its point; inf: words."""
        if not len(edge):
            return np.zeros(0)
        lines = self._all_lines()
        end = edge + (1 - FAR / 2 / distance)[:, np.newaxis] * (point - edge)
        both = np.concatenate([edge, end])
        first, last = np.minimum(lines[:, :2], lines[:, 2:4]), np.maximum(lines[:, :2], lines[:, 2:4])
        lines = lines[np.all((last >= both.min(axis=0)) & (first <= both.max(axis=0)), axis=1)]
        return np.where(crosses(edge, end, lines[:, :2], lines[:, 2:4]), lines[:, 4], 0.0).sum(axis=1)

    def _cells(self, first, last) -> tuple:
        """The cells that a line passes."""
        first, last = np.asarray(first, dtype=float), np.asarray(last, dtype=float)
        steps = int(2 * np.abs(last - first).max() / CELL) + 2
        points = first + np.linspace(0, 1, steps)[:, np.newaxis] * (last - first)
        columns, rows = (points // CELL).astype(int).T
        inside = (columns >= 0) & (columns < self.shape[1]) & (rows >= 0) & (rows < self.shape[0])
        return rows[inside], columns[inside]


def crosses(first, last, begin, end) -> np.ndarray:
    """Says which lines of one kind cross which of another, (lines, others) of bool. All ends : (n, 2)"""
    x, y = first.T[..., np.newaxis]
    right, down = last.T[..., np.newaxis]
    (left, top), (beyond, below) = begin.T, end.T
    # from the first end of each line to both ends of each other, and the other way round
    to_begin, to_end, from_begin = (left - x, top - y), (beyond - x, below - y), (right - left, down - top)
    line, other = (right - x, down - y), (beyond - left, below - top)
    apart = _side(line, to_begin) * _side(line, to_end) < 0
    return apart & (_side(other, to_begin) * _side(other, from_begin) > 0)


def _side(along, seen) -> np.ndarray:
    """Says on which side of a line, by the sign, something lies that is seen from its end; both as x and y."""
    return along[0] * seen[1] - along[1] * seen[0]


def meets_box(first, last, low, high) -> np.ndarray:
    """Says which lines meet a box, (lines,) of bool. first, last : (lines, 2); low, high : its corners, (2,)"""
    along = last - first
    with np.errstate(divide="ignore", invalid="ignore"):
        enter, leave = (low - first) / along, (high - first) / along
    level = along == 0
    inside = (first >= low) & (first <= high)
    enter, leave = np.minimum(enter, leave), np.maximum(enter, leave)
    enter = np.where(level, np.where(inside, -np.inf, np.inf), enter).max(axis=1, initial=0.0)
    leave = np.where(level, np.inf, leave).min(axis=1, initial=1.0)
    return enter <= leave
