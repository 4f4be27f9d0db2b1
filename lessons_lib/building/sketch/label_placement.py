"""Free room on a drawing: which places are taken, and the free place nearest to a point for a label."""

from dataclasses import dataclass

import numpy as np

CELL = 4  # [px]
FAR = 14.0  # [px] a label farther from its point than this gets a line to it
CROWDED, CROSSED = 0.5, 20.0  # cost of a taken cell around a place, and of one that the label's line crosses [px]
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
    """A field of cells, free or taken. width, height : [px]"""

    def __init__(self, width: float, height: float):
        self.shape = int(height // CELL), int(width // CELL)
        self._taken = np.zeros(self.shape, dtype=np.int32)
        self._words = np.zeros(self.shape, dtype=bool)  # what no label's line may cross
        self._sums = None

    def take_box(self, left: float, top: float, width: float, height: float) -> None:
        """Keeps this box free: nothing may be put here, and no label's line may cross it."""
        rows, columns = self.shape
        x0, y0 = (max(int(np.floor(one / CELL)), 0) for one in (left, top))
        x1, y1 = int(np.ceil((left + width) / CELL)), int(np.ceil((top + height) / CELL))
        for cells in (self._taken, self._words):
            cells[y0 : min(y1, rows), x0 : min(x1, columns)] = 1
        self._sums = None

    def take_line(self, first, last, beside: int = 0) -> None:
        """Keeps this line free of words. beside : cells on both sides that are taken too"""
        rows, columns = self._cells(first, last)
        for down in range(-beside, beside + 1):
            for across in range(-beside, beside + 1):
                self._taken[
                    np.clip(rows + down, 0, self.shape[0] - 1), np.clip(columns + across, 0, self.shape[1] - 1)
                ] = 1
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
        best = np.argsort(cost, axis=None, kind="stable")[: np.isfinite(cost).sum()]
        best = [*best[:TRIED], *best[TRIED :: max(len(best) // SAMPLED, 1)]]
        if not best:
            return None
        places = [self._place(x, y, index, points[which.flat[index]], width, height) for index in best]
        costs = [
            cost.flat[index] + (self._crossed(place) if place.distance > FAR else 0.0)
            for index, place in zip(best, places)
        ]
        if not np.isfinite(min(costs)):
            return None
        place = places[int(np.argmin(costs))]
        self.take_box(place.left, place.top, width, height)
        if place.distance > FAR:
            self.take_line(place.edge, place.point, beside=1)
        return place

    def on_line(self, width: float, height: float, points, most: int) -> Place | None:
        """The best place for a label that stands on its own line, its middle on one of the points; None where others
        are in the way.

        most : taken cells that its own line may have beneath it
        """
        corners = ((np.asarray(points) - (width / 2, height / 2)) // CELL).astype(int)
        across, down = (int(np.ceil(side / CELL)) for side in (width, height))
        counts = [int(self._taken[max(y, 0) : y + down, max(x, 0) : x + across].sum()) for x, y in corners]
        best = int(np.argmin(counts))
        left, top = (float(one * CELL) for one in corners[best])
        if counts[best] > most or min(left, top) < 0:
            return None
        self.take_box(left, top, width, height)
        return Place(left, top, tuple(points[best]), tuple(points[best]), 0.0)

    def _count(self, x, y, across: int, down: int, around: int) -> np.ndarray:
        """Taken cells beneath a label at each place, (rows, columns). around : cells beyond its edges that count too"""
        if self._sums is None:
            self._sums = np.pad(self._taken.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
        rows, columns = self.shape
        x0, x1 = np.clip(x - around, 0, columns), np.clip(x + across + around, 0, columns)
        y0, y1 = np.clip(y - around, 0, rows), np.clip(y + down + around, 0, rows)
        sums = self._sums
        return sums[np.ix_(y1, x1)] - sums[np.ix_(y0, x1)] - sums[np.ix_(y1, x0)] + sums[np.ix_(y0, x0)]

    def _distance(self, x, y, width, height, points) -> tuple:
        """Gives the distance from a label at each place to the nearest of the points [px], and which that is."""
        aside = np.maximum.reduce(
            [x * CELL - points[:, :1], points[:, :1] - x * CELL - width, np.zeros((len(points), len(x)))]
        )
        above = np.maximum.reduce(
            [y * CELL - points[:, 1:], points[:, 1:] - y * CELL - height, np.zeros((len(points), len(y)))]
        )
        distance = np.hypot(above[:, :, np.newaxis], aside[:, np.newaxis, :])
        return distance.min(axis=0), distance.argmin(axis=0)

    def _place(self, x, y, index: int, point, width, height) -> Place:
        row, column = np.unravel_index(index, (len(y), len(x)))
        left, top = float(x[column] * CELL), float(y[row] * CELL)
        edge = np.clip(point, (left, top), (left + width, top + height))
        return Place(left, top, tuple(point), tuple(edge), float(np.hypot(*(edge - point))))

    def _crossed(self, place: Place) -> float:
        """Cost of what the label's line would cross, but for what lies at its point; inf: another label."""
        edge, point = np.array(place.edge), np.array(place.point)
        cells = self._cells(edge, edge + (1 - FAR / 2 / place.distance) * (point - edge))
        return np.inf if self._words[cells].any() else CROSSED * float(self._taken[cells].sum())

    def _cells(self, first, last) -> tuple:
        """The cells that a line passes."""
        first, last = np.asarray(first, dtype=float), np.asarray(last, dtype=float)
        steps = int(2 * np.abs(last - first).max() / CELL) + 2
        points = first + np.linspace(0, 1, steps)[:, np.newaxis] * (last - first)
        columns, rows = (points // CELL).astype(int).T
        inside = (columns >= 0) & (columns < self.shape[1]) & (rows >= 0) & (rows < self.shape[0])
        return rows[inside], columns[inside]
