"""Pipes, check valves, pumps and branches as a plan draws them; nothing is to scale."""

import numpy as np
from matplotlib.patches import Circle, FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import INK, PAPER, Canvas
from ...drawing.colours import TANK, water_colour, water_pixels

HALF = 7  # [px] half of a drawn pipe
ARROW = np.array([(-9, -9), (-9, 9), (7, 0)])  # points the way that the water may go
QUARTERS = {"right": 0, "down": 1, "left": 2, "up": 3}


def turned(shape, way: str):
    """A shape that points right, turned to point another way."""
    x, y = np.asarray(shape, dtype=float).T
    for _ in range(QUARTERS[way]):
        x, y = -y, x
    return np.column_stack([x, y])


class CheckValve:
    """A triangle that points the way the water may go, against a bar."""

    def __init__(self, canvas: Canvas, axes, x: float, y: float, way: str):
        bar = turned([(8, -10), (8, 10)], way) + (x, y)
        self.parts = [
            canvas.moving(axes.add_patch(Polygon(turned(ARROW, way) + (x, y), fc=PAPER, ec=INK, lw=1.8))),
            canvas.moving(*axes.plot(*bar.T, lw=3, color=INK, solid_capstyle="butt")),
        ]

    def set_visible(self, visible: bool) -> None:
        """Shows the valve, or leaves it out."""
        for part in self.parts:
            part.set_visible(visible)


class Pump:
    """A circle with a triangle that points the way the water is driven."""

    def __init__(self, canvas: Canvas, axes, x: float, y: float, way: str):
        self.parts = [
            canvas.moving(axes.add_patch(Circle((x, y), 14, fc=PAPER, ec=INK, lw=1.8))),
            canvas.moving(axes.add_patch(Polygon(1.1 * turned(ARROW, way) + (x, y), fc=INK, ec=INK))),
        ]


class Lying:
    """A pipe that lies across the drawing, coloured by the water in it."""

    def __init__(self, canvas: Canvas, axes, left: int, right: int, middle: int):
        self.wide = right - left
        self.water = canvas.raster(axes, left, middle - HALF)
        for side in (-HALF, HALF):
            canvas.moving(*axes.plot([left, right], [middle + side] * 2, lw=1.8, color=INK, solid_capstyle="butt"))

    def show(self, temperatures) -> None:
        """Temperatures from left to right [degC]."""
        self.water.set_pixels(water_pixels(temperatures, self.wide, 2 * HALF))


def standing_pipe(canvas: Canvas, axes, x: float, top: float, bottom: float) -> Rectangle:
    """A pipe that stands upright; its colour moves."""
    return canvas.moving(axes.add_patch(Rectangle((x - HALF, top), 2 * HALF, bottom - top, ec=INK, lw=1.8)))


def tank(canvas: Canvas, axes, left: float, top: float, wide: float, tall: float) -> FancyBboxPatch:
    """A tank; gives its water, whose colour moves."""
    rounded = {"boxstyle": "round,pad=0,rounding_size=9"}
    axes.add_patch(FancyBboxPatch((left, top), wide, tall, fc=TANK, ec=INK, lw=1.5, **rounded))
    inside = FancyBboxPatch((left + 5, top + 5), wide - 10, tall - 10, ec="none", **rounded)
    return canvas.moving(axes.add_patch(inside))


def colour(patch, temperature: float) -> None:
    """Gives a patch the colour of water [degC]."""
    patch.set_facecolor(water_colour(round(float(temperature), 1)))


def round_end(*values) -> float:
    """The end of a scale that holds all values: 1, 2 or 5 times a power of ten."""
    most = max(max(values), 1e-9)
    power = 10.0 ** np.floor(np.log10(most))
    return float(next(step * power for step in (1, 2, 5, 10) if step * power >= most * (1 - 1e-9)))
