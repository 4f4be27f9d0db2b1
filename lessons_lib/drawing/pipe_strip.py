"""The run itself: tank, pipe coloured by the water's temperature, tap. Lengthwise, not to scale."""

import numpy as np
from matplotlib.patches import FancyBboxPatch, Polygon, Rectangle

from ..quantities.display import celsius, number, show
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import FOAM, FOAM_EDGE, GHOST, ICE, ICE_EDGE, TANK, water_colour, water_pixels

PIPE_HALF = 13  # [px] half the drawn pipe
FOAM_PER_MM, MOST_FOAM = 0.45, 18  # [px/mm], [px]: foam is drawn thicker as it is thicker, up to what fits
LEFT, RIGHT = 74, 74  # [px] room for tank and tap
MIDDLE, BELOW = 62, 112  # [px] the pipe's axis; the baseline of the distances
QUARTERS = (0, 0.25, 0.5, 0.75, 1)


def tap(canvas: Canvas, axes, x: float, y: float) -> Polygon:
    """A tap at the end of a pipe that stops at (x, y) of a drawing; gives its drop, whose colour moves."""
    spout = [(0, -7), (30, -7), (38, 0), (38, 16), (26, 16), (26, 7), (0, 7)]
    axes.add_patch(Polygon([(x + right, y + down) for right, down in spout], fc=FAINT, ec=INK))
    axes.plot([x + 12, x + 12], [y - 20, y - 7], lw=4, color=INK)
    axes.plot([x + 2, x + 22], [y - 21, y - 21], lw=4, color=INK)
    drop = [(0, 0), (6, 11), (3, 17), (-3, 17), (-6, 11)]
    return canvas.moving(
        axes.add_patch(Polygon([(x + 32 + right, y + 20 + down) for right, down in drop], ec=INK, lw=0.8))
    )


def foam_bar(canvas: Canvas, axes, x: float, y: float, width: float, height: float = 0) -> Rectangle:
    """Gives a moving bar of dotted foam with its upper left corner at (x, y) of a drawing [px]."""
    return canvas.moving(axes.add_patch(Rectangle((x, y), width, height, fc=FOAM, ec=FOAM_EDGE, lw=0, hatch="..")))


class PipeStrip:
    """Tank, pipe and tap across the whole picture."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = self.axes = canvas.drawing(left, top, width, height)
        self.start, self.end = LEFT, width - RIGHT
        self.span = self.end - self.start
        axes.text(0, 14, "Water along the run", size=TEXT, weight="bold", color=INK)
        self._tank_and_tap(canvas)
        self.foam = [foam_bar(canvas, axes, self.start, 0, self.span) for _ in range(2)]
        self.water = canvas.raster(axes, self.start, MIDDLE - PIPE_HALF)
        self.wall = [
            canvas.moving(*axes.plot([self.start, self.end], [0, 0], lw=1.2, color=FOAM_EDGE)) for _ in range(2)
        ]
        for side in (-1, 1):
            axes.plot([self.start, self.end], [MIDDLE + side * PIPE_HALF] * 2, lw=2.5, color=INK, solid_capstyle="butt")
        ice = Rectangle((0, MIDDLE - PIPE_HALF), 0, 2 * PIPE_HALF, fc=ICE, ec=ICE_EDGE, hatch="//")
        self.ice = canvas.moving(axes.add_patch(ice))
        self.air = canvas.words(axes, 0.5 * (self.start + self.end), 14, color=FAINT, ha="center")
        self.places = [canvas.words(axes, self.start + q * self.span, BELOW, ha="center") for q in QUARTERS]
        self.inside = [
            canvas.words(axes, x, MIDDLE + 6, weight="bold", ha=ha, backed=True)
            for x, ha in ((self.start + 8, "left"), (self.start + 0.5 * self.span, "center"), (self.end - 8, "right"))
        ]
        self.kept = canvas.words(axes, width - 172, 14, color=GHOST, weight="bold", ha="right")
        self.at_tap = canvas.words(axes, width, 14, weight="bold", ha="right")

    def _tank_and_tap(self, canvas):
        """The two ends stand still; only their colours move."""
        axes, y, end = self.axes, MIDDLE, self.end
        axes.add_patch(
            FancyBboxPatch((6, y - 34), 40, 68, boxstyle="round,pad=0,rounding_size=9", fc=TANK, ec=INK, lw=1.5)
        )
        water = FancyBboxPatch((11, y - 29), 30, 58, boxstyle="round,pad=0,rounding_size=6", ec="none")
        self.tank = canvas.moving(axes.add_patch(water))
        axes.text(26, BELOW, "tank", size=TEXT, color=INK, ha="center")
        axes.plot([46, self.start], [y, y], lw=8, color=INK, solid_capstyle="butt")
        self.drop = tap(canvas, axes, end, y)

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see main_picture.Scene)."""
        self.water.set_pixels(water_pixels(scene.along, self.span, 2 * PIPE_HALF))
        self.tank.set_facecolor(water_colour(scene.supply))
        self.drop.set_facecolor(water_colour(scene.delivered))
        self._show_foam(min(MOST_FOAM, round(FOAM_PER_MM * 1000 * scene.thickness)))
        frozen = np.isfinite(scene.ice_distance)
        begin = self.start + self.span * (scene.ice_distance / scene.length if frozen else 1.0)
        self.ice.set(x=begin, width=self.end - begin, visible=frozen)
        self.air.set_text(scene.surroundings(system))
        for words, quarter in zip(self.places, QUARTERS):
            words.set_text(show(quarter * scene.length_quantity, "length", system))
        last = len(scene.along) - 1
        for words, place in zip(self.inside, (0, last // 2, last)):
            words.set_text(number(celsius(scene.along[place]), "temperature", system) + "°")
        tap = show(celsius(scene.delivered), "temperature", system)
        self.at_tap.set_text("at the tap: ice" if frozen else f"at the tap: {tap}")

    def _show_foam(self, thick: int) -> None:
        """Foam of so many pixels on both sides of the pipe."""
        for side, foam, line in zip((-1, 1), self.foam, self.wall):
            outer = MIDDLE + side * (PIPE_HALF + thick)
            foam.set(y=min(outer, MIDDLE + side * PIPE_HALF), height=thick)
            line.set(ydata=[outer, outer], visible=thick > 0)

    def show_kept(self, scene, system: str) -> None:
        """Say what was kept for comparison; None: nothing."""
        self.kept.set_text(f"(kept: {show(celsius(scene.delivered), 'temperature', system)})" if scene else "")
