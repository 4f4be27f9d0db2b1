"""The signs of an isometric sketch: pipes by place, joints, valves, taps, breaks, tank, heat pump, compass.

Ticks across the pipe for a joint, two triangles for a valve, a triangle on its point for a level, two slashes where a
line
is drawn shorter (common practice, no source); the tap's is our own.
"""

import numpy as np
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.patches import FancyBboxPatch

from ...drawing.canvas import INK, PAPER
from ...drawing.colours import TANK
from .isometric_plan import PAPER as WAYS

LOOKS = {"indoors": "-", "crawlspace": (0, (5, 1.6, 1.2, 1.6)), "outdoors": (0, (4, 1.8)), "buried": (0, (1.1, 1.3))}
PIPE = 3.0  # [pt] width of a pipe's line
TICK, VALVE = 7.0, 8.0  # [px] half a joint's tick; half a valve


class Pen:
    """Collects lines and shapes in pixels and draws them at once: a building has thousands.

    size : of the signs, 1 where there is room; lines : pairs of points that words keep off, and the number of the leg
    that a pipe is of, None for signs
    """

    def __init__(self, axes, size: float = 1.0):
        self.axes, self.size = axes, size
        self.lines: list = []
        self._strokes: list = []
        self._shapes: list = []
        self._bodies: list = []

    def line(self, points, width=1.4, colour=INK, look="-", order=3.0, keep=True, whose=None) -> None:
        """Draws a line through points. order : larger is drawn later; keep : words keep off it; whose : see lines"""
        self._strokes.append((order, np.asarray(points, dtype=float), width, colour, look))
        if keep:
            self.lines += [(*ends, whose) for ends in zip(points, points[1:])]

    def shape(self, points, filled: bool) -> None:
        """A closed shape above the lines, black or white inside."""
        self._shapes.append((np.asarray(points, dtype=float), INK if filled else PAPER))
        self.lines += [(*ends, None) for ends in zip(points, [*points[1:], points[0]])]

    def artists(self) -> list:
        """Put everything on the axes; returns what was put there."""
        strokes = sorted(self._strokes, key=lambda stroke: stroke[0])
        _, points, widths, colours, looks = zip(*strokes) if strokes else ((),) * 5
        made = (
            [LineCollection(points, linewidths=widths, colors=colours, linestyles=looks, capstyle="butt", zorder=3)]
            if strokes
            else []
        )
        if self._shapes:
            outlines, colours = zip(*self._shapes)
            made.append(PolyCollection(outlines, facecolors=colours, edgecolors=INK, linewidths=1.2, zorder=4))
        return [self.axes.add_collection(one, autolim=False) for one in made] + [
            self.axes.add_artist(body) for body in self._bodies
        ]

    def body(self, box) -> None:
        """A tank or another vessel."""
        self._bodies.append(
            FancyBboxPatch(
                box[:2], box[2], box[3], boxstyle="round,pad=0,rounding_size=9", fc=TANK, ec=INK, lw=2, zorder=2
            )
        )

    def pipe(self, drawn, order: float) -> None:
        """A leg in the line of its place, over a white strip that parts it from what lies behind: the pipe behind is
        broken for five times a line's width or more (ISO 6412-1, as quoted from memory).
        """
        inset = min(0.2, 9 / max(drawn.length, 1e-9)) * (drawn.end - drawn.start)
        width = PIPE * max(self.size, 0.6)
        self.line([drawn.start + inset, drawn.end - inset], 5 * width, PAPER, order=order, keep=False)
        self.line([drawn.start, drawn.end], width, look=LOOKS[drawn.leg.place], order=order + 0.001, whose=drawn.number)

    def tick(self, at, along, order: float = 3.0) -> None:
        """A short stroke across a pipe: here it meets a fitting."""
        across = self.size * TICK * np.array([-along[1], along[0]])
        self.line([at - across, at + across], 1.6, order=order)

    def break_sign(self, at, along) -> None:
        """Two slashes with a gap: the line is drawn shorter."""
        slant = self.size * np.array([-along[1] + 0.5 * along[0], along[0] + 0.5 * along[1]])
        gap = 4.0 * self.size * along
        self.line([at - gap, at + gap], 8 * max(self.size, 0.6), PAPER, order=3.4, keep=False)
        for middle in (at - gap, at + gap):
            self.line([middle - 8 * slant, middle + 8 * slant], 1.4, order=3.5)

    def valve(self, name: str, at, along) -> None:
        """Two triangles point to point: with a ball, with a stem, or with one side black for a check valve."""
        along, across = self.size * VALVE * along, self.size * VALVE * 0.75 * np.array([-along[1], along[0]])
        if "coupling" in name:
            for middle in (at - 0.4 * along, at + 0.4 * along):
                self.line([middle - across, middle + across], 1.6)
            return
        self.shape([at - along - across, at - along + across, at], False)
        self.shape([at + along - across, at + along + across, at], "check" in name)
        if "ball" in name:
            turn = np.linspace(0, 2 * np.pi, 13)[:-1]
            self.shape([at + 3.4 * self.size * np.array([np.cos(one), np.sin(one)]) for one in turn], True)
        elif "check" not in name:
            self.line([at, at + 1.6 * across], 1.4)
            self.line([at + 1.6 * across - 0.6 * along, at + 1.6 * across + 0.6 * along], 1.4)

    def mixing_valve(self, at, along) -> None:
        """Draws three triangles: hot, mixed, and cold from the side."""
        self.valve("check", at, along)
        ahead, across = self.size * VALVE * 0.75 * along, self.size * VALVE * np.array([-along[1], along[0]])
        self.shape([at + across - ahead, at + across + ahead, at], False)

    def tap(self, at) -> None:
        """A spout with a handle."""
        x, y = at
        reach = 9 * self.size
        self.line([(x, y), (x, y - reach), (x - 0.8 * reach, y - reach), (x + 0.8 * reach, y - reach)], 2.2)
        self.line([(x, y - 0.2 * reach), (x + 1.2 * reach, y - 0.2 * reach), (x + 1.2 * reach, y + 0.7 * reach)], 2.6)

    def open_end(self, at) -> None:
        """An empty ring at the end of a pipe: here something is missing. A sign of our own."""
        turn = np.linspace(0, 2 * np.pi, 17)[:-1]
        self.shape([at + 6 * self.size * np.array([np.cos(one), np.sin(one)]) for one in turn], False)

    def goes_on(self, at, along) -> None:
        """A black arrowhead in the direction of the pipe: here it goes on in another view. A sign of our own."""
        across = self.size * 6 * np.array([-along[1], along[0]])
        self.shape([at - across, at + across, at + 12 * self.size * along], True)

    def arrives(self, at, outer, place: str) -> None:
        """A short pipe from another view to where this one begins, with the arrowhead at its outer end."""
        along = (at - outer) / np.hypot(*(at - outer))
        self.line([outer, at], PIPE * max(self.size, 0.6), look=LOOKS[place], order=2)
        self.goes_on(outer, along)

    def level(self, at) -> None:
        """A triangle that stands on a point."""
        x, y = at
        side = 6 * self.size
        self.shape([(x, y - 2), (x - side, y - 2 - 1.4 * side), (x + side, y - 2 - 1.4 * side)], False)

    def compass(self, at) -> list:
        """Arrows north, east and up from a point; returns (letter, place) pairs."""
        named = []
        for letter, way in zip("NE", WAYS[:2]):
            tip, across = at + 30 * way, 4 * np.array([-way[1], way[0]])
            self.line([at, tip], 1.6)
            self.shape([tip + 5 * way, tip - 5 * way + across, tip - 5 * way - across], letter == "N")
            named.append((letter, tip + 14 * way))
        return named
