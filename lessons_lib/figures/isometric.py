"""A pipefitter's isometric sketch of a layout."""

from .canvas import INK, Canvas
from .isometric_plan import Plan


class Isometric:
    """The sketch in a field of a picture. left, top, width, height : of the whole, in pixels"""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas, self.size = canvas, (width, height)
        self.axes = canvas.drawing(left, top, width, height)
        self.artists: list = []

    def show(self, layout, assessment, system: str) -> None:
        """Draw a layout with the points that its assessment marks."""
        for artist in self.artists:
            artist.remove()
        plan = Plan.of(layout, 0, 0, *self.size)
        self.artists = [
            self.axes.plot(*zip(leg.start, leg.end), lw=3, color=INK, ls="--" if leg.leg.cold else "-")[0] for leg in plan.legs
        ]
        self.canvas.renew()


def isometric_png(layout, assessment, system: str, width: int = 1000, height: int = 620, scale: float = 2.0) -> bytes:
    """The sketch alone, as a PNG for paper. width, height : [px]; scale : pixels of the PNG for each of them"""
    canvas = Canvas(width, height)
    canvas.enlarge(scale, 1.0, 1.0)
    sketch = Isometric(canvas, 0, 0, width, height)
    sketch.show(layout, assessment, system)
    return canvas.png()


def describe(layout, assessment, system: str) -> str:
    """The sketch in words, leg by leg, for who cannot see it."""
    legs = "; ".join(f"{number} {leg.name}, {leg.go}" for number, leg in enumerate(layout.all_legs, 1))
    return f"Isometric sketch of {layout.name}. Legs: {legs}."
