"""The run at several moments of a draw, one above the other: how the hot front comes from the tank. Lengthwise, not
to scale.
"""

from matplotlib.patches import Polygon

from ..quantities.display import celsius, number
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import water_colour, water_pixels

LABEL, AT_TAP = 226, 84  # [px] room for the moment's words at the left, for the tap at the right
ROW, HALF = 28, 9  # [px] from run to run; half the drawn pipe
DROP = ((0, -9), (6, 2), (3, 8), (-3, 8), (-6, 2))


class FrontStrip:
    """Draws as many runs as there are moments, with what comes out of the tap beside each."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, moments: int):
        axes = canvas.drawing(left, top, width, 22 + ROW * moments)
        self.span = width - LABEL - AT_TAP
        axes.text(0, 14, "Water in the run", size=TEXT, weight="bold", color=INK)
        axes.text(LABEL, 14, "from the tank", size=TEXT, color=FAINT)
        axes.text(LABEL + self.span, 14, "to the tap", size=TEXT, color=FAINT, ha="right")
        self.waters, self.labels, self.drops, self.taps = [], [], [], []
        for row in range(moments):
            y = 22 + ROW * (row + 0.5)
            self.waters.append(canvas.raster(axes, LABEL, y - HALF))
            for side in (-1, 1):
                axes.plot([LABEL, LABEL + self.span], [y + side * HALF] * 2, lw=2.5, color=INK, solid_capstyle="butt")
            self.labels.append(canvas.words(axes, 0, y + 5))
            drop = [(LABEL + self.span + 16 + x, y + down) for x, down in DROP]
            self.drops.append(canvas.moving(axes.add_patch(Polygon(drop, ec=INK, lw=0.8))))
            self.taps.append(canvas.words(axes, LABEL + self.span + 30, y + 5, weight="bold"))

    def show(self, moments, system: str) -> None:
        """moments : (words, water along the run [degC], what leaves the tap [degC]) of each row"""
        for row, (words, along, tap) in enumerate(moments):
            self.labels[row].set_text(words)
            self.waters[row].set_pixels(water_pixels(along, self.span, 2 * HALF))
            self.drops[row].set_facecolor(water_colour(tap))
            self.taps[row].set_text(number(celsius(tap), "temperature", system) + "°")
