"""A row of cuts through a standing pipe: ice that has grown inwards from the wall, and the water inside it."""

import numpy as np
from matplotlib.patches import Circle

from .canvas import INK, Canvas
from .colours import ICE, ICE_EDGE, water_colour


class Rings:
    """Draws cuts of one size.

    axes : a drawing (Canvas.drawing); places : x of each centre on it, y : of all, radius : of the bore [px]
    """

    def __init__(self, canvas: Canvas, axes, places, y: float, radius: float):
        self.radius = radius
        for x in places:
            axes.add_patch(Circle((x, y), radius, fc=ICE, ec=ICE_EDGE, lw=1.5, hatch="////"))
        self.waters = [canvas.moving(axes.add_patch(Circle((x, y), radius, ec=INK, lw=0.8))) for x in places]

    def show(self, shares, celsius) -> None:
        """Share of the bore that is ice (0 to 1) and the temperature of the water, for each cut."""
        for water, share, temperature in zip(self.waters, shares, celsius):
            water.set_radius(self.radius * np.sqrt(1 - share))
            water.set_facecolor(water_colour(temperature))
