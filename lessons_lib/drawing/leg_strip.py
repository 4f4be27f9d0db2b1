"""A leg that is being purged: its pipe with the air in it, how fast the water moves, and the leg's water as a
vessel.
"""

from functools import lru_cache

import numpy as np
from matplotlib.colors import to_rgb
from matplotlib.patches import Polygon, Rectangle

from ..quantities.display import show
from ..quantities.units import Q_
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import GHOST, water_colour
from .vessels import Vessel

PIPE, PER_MM = 336, 1.3  # [px] drawn length of every leg; [px/mm] of its bore
FASTEST = 2.0  # [m/s] end of the scale of speed
# [px] from the top: pipe's axis, bar of speed and its height, two lines of words
STRIP, SPEED, BAR, FIRST, SECOND = 54, 106, 16, 146, 168
FAST, SLOW = "#2f6f4f", "#9b1c1c"


@lru_cache(maxsize=200)
def pipe_pixels(height: int, carried: bool) -> np.ndarray:
    """Cold water with its air, RGBA bytes (height, PIPE, 4): small bubbles carried along, or long ones lying at the
    top.
    """
    across, down = np.meshgrid(np.arange(PIPE), np.arange(height))
    dice = np.random.default_rng(7)
    air = np.zeros(across.shape, dtype=bool)
    if carried:
        for x, y in zip(dice.uniform(6, PIPE - 6, 26), dice.uniform(0.2, 0.8, 26)):
            air |= (across - x) ** 2 + (down - y * height) ** 2 < max(1.6, 0.08 * height) ** 2
    else:
        for x, length in zip(np.arange(34, PIPE, 76), dice.uniform(20, 33, 4)):
            air |= ((across - x) / length) ** 2 + (down / (0.42 * height)) ** 2 < 1
    pixels = np.empty((height, PIPE, 4))
    pixels[...] = water_colour(10.0)
    pixels[air] = (*to_rgb("white"), 1.0)
    rim = air & ~(np.roll(air, 1, 0) & np.roll(air, -1, 0) & np.roll(air, 1, 1) & np.roll(air, -1, 1))
    pixels[rim] = (*to_rgb(INK), 1.0)
    pixels[[0, 1, -2, -1]] = (*to_rgb(INK), 1.0)
    return np.round(255 * pixels).astype(np.uint8)


class LegStrip:
    """Draws one leg. left, top : of the whole [px], 480 by 190; name : of the leg; vent : what stands at its end"""

    def __init__(self, canvas: Canvas, left: int, top: int, name: str, vent: str):
        axes = canvas.drawing(left, top, 480, 196)
        self.name = name
        self.title = canvas.words(axes, 0, 14, weight="bold")
        self.pipe = canvas.raster(axes, 0, STRIP)
        axes.add_patch(
            Polygon(
                [(PIPE + 4, STRIP - 8), (PIPE + 24, STRIP + 8), (PIPE + 24, STRIP - 8), (PIPE + 4, STRIP + 8)],
                fc="white",
                ec=INK,
                lw=1.5,
            )
        )
        axes.text(PIPE + 4, STRIP - 16, vent, size=TEXT, color=INK)
        self.bar = canvas.moving(axes.add_patch(Rectangle((0, SPEED), 0, BAR, ec=INK, lw=0.8)))
        axes.plot([0, PIPE, PIPE, 0, 0], [SPEED, SPEED, SPEED + BAR, SPEED + BAR, SPEED], lw=1, color=FAINT)
        self.kept = canvas.moving(
            *axes.plot([0, 0], [SPEED - 4, SPEED + BAR + 4], lw=2.5, ls="--", color=GHOST, visible=False)
        )
        self.need = axes.plot([0, 0], [SPEED - 5, SPEED + BAR + 5], lw=3, color=INK)[0]
        self.needed = canvas.words(axes, 0, SPEED - 10)
        self.words = {
            word: canvas.words(axes, 0, FIRST, weight="bold", color=colour)
            for word, colour in ((True, FAST), (False, SLOW))
        }
        self.changes = canvas.words(axes, 0, SECOND)
        self.vessel = Vessel(canvas, axes, 404, 52, 56, 76, "one fill", closed=False)

    def show(self, leg, need: float, changes: float, largest: float, system: str) -> None:
        """Move to a leg (see PurgedLeg of lesson 10). need : speed that carries air [m/s]; largest : volume of a full
        vessel [m3]
        """
        height = max(10, round(1000 * PER_MM * leg.bore))
        self.title.set_text(f"{self.name}: water at {show(Q_(leg.speed, 'm/s'), 'speed', system)}")
        self.pipe.place = (0, STRIP - height / 2)
        self.pipe.set_pixels(pipe_pixels(height, leg.fast))
        self.bar.set(
            width=PIPE * min(leg.speed / FASTEST, 1.0),
            facecolor=FAST if leg.fast else SLOW,
            hatch=None if leg.fast else "///",
        )
        self.need.set_xdata([PIPE * need / FASTEST] * 2)
        self.needed.set_position((PIPE * need / FASTEST + 6, SPEED - 6))
        self.needed.set_text(f"from {show(Q_(need, 'm/s'), 'speed', system)} water carries air")
        self.words[True].set_text("● carries its air out" if leg.fast else "")
        self.words[False].set_text("" if leg.fast else "■ too slow: air stays at the top")
        volume = show(Q_(leg.volume, "m**3"), "volume", system)
        self.changes.set_text(f"{changes:.0f} changes of water take {leg.seconds / 60:.1f} min")
        self.vessel.show(leg.volume / largest, water_colour(10.0), volume)

    def show_kept(self, leg) -> None:
        """A dashed line at the kept speed; None: nothing."""
        self.kept.set_visible(leg is not None)
        if leg is not None:
            self.kept.set_xdata([PIPE * min(leg.speed / FASTEST, 1.0)] * 2)
