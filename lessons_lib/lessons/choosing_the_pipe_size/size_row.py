"""Every size of a pipe family in a row: the cut to scale, and beneath each what it gives, how fast, and how long the
tap waits.
"""

import numpy as np
from matplotlib.patches import Circle, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...quantities.display import number, show, symbol
from ...quantities.units import Q_
from ...runs.pipe import pipe_material

LABELS, MOST = 168, 11  # [px] room for the names of the rows; sizes in a row
SCALE = 50 / 0.042  # [px/m]: the largest pipe is 42 mm
NAMES, MIDDLE, FIRST, ROW = 17, 48, 93, 20  # [px] baselines and the circles' axis
SHAPES = ("●", "▲", "■")  # fine, take care, danger: as in the read-outs


def short(size: str) -> str:
    """A size's name for a narrow column: "15 mm x 0.7 mm" is "15×0.7"."""
    return size.replace(" mm", "").replace(" x ", "×") if " x " in size else size


class SizeRow:
    """Columns spread over the width; the chosen one stands in a frame."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, FIRST + 4 * ROW - 8)
        self.room = width - LABELS
        self.frame = canvas.moving(
            axes.add_patch(Rectangle((0, 1), 0, FIRST + 3 * ROW + 5, fc="#eef1f4", ec=INK, lw=2))
        )
        self.kept = canvas.moving(
            axes.add_patch(
                Rectangle((0, 1), 0, FIRST + 3 * ROW + 5, fill=False, ec=GHOST, lw=2, ls="--", visible=False)
            )
        )
        axes.text(0, MIDDLE + 5, "Cut, to scale", size=TEXT, weight="bold", color=INK)
        self.labels = [canvas.words(axes, 0, FIRST + row * ROW) for row in range(4)]
        self.walls, self.waters, self.names, self.cells = [], [], [], []
        for _ in range(MOST):
            self.walls.append(canvas.moving(axes.add_patch(Circle((0, MIDDLE), 1, ec=INK, lw=0.8))))
            self.waters.append(canvas.moving(axes.add_patch(Circle((0, MIDDLE), 1, ec=INK, lw=0.5))))
            self.names.append(canvas.words(axes, 0, NAMES, ha="center"))
            self.cells.append([canvas.words(axes, 0, FIRST + row * ROW, ha="center") for row in range(4)])
        axes.plot([0, width], [FIRST - ROW + 3] * 2, lw=0.8, color=FAINT)

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see pipe_size_picture.SizeScene)."""
        wanted = show(Q_(scene.wanted, "m**3/s"), "flow", system)
        units = symbol("flow", system), symbol("speed", system)
        texts = (f"open tap [{units[0]}]", f"speed [{units[1]}]", f"wait at {wanted} [s]", "wait, tap open [s]")
        for label, text in zip(self.labels, texts):
            label.set_text(text)
        count, colours = len(scene.names), (pipe_material(scene.material).colour, water_colour(scene.supply))
        for place in range(MOST):
            here = place < count
            for part in (self.walls[place], self.waters[place], self.names[place], *self.cells[place]):
                part.set_visible(here)
            if here:
                self._column(scene, place, self._centre(place, count), colours, system)
        self._put(self.frame, scene.chosen, count)

    def _centre(self, place: int, count: int) -> float:
        return LABELS + self.room * (place + 0.5) / count

    def _put(self, frame, place: int, count: int) -> None:
        """A frame around a column."""
        width = min(self.room / count, 120)
        frame.set(x=self._centre(place, count) - 0.5 * width + 1, width=width - 2)

    def _column(self, scene, place: int, x: float, colours, system: str) -> None:
        """Makes one size: its cut, its name, its four numbers."""
        circles, diameters = (self.walls[place], self.waters[place]), (scene.outsides[place], scene.bores[place])
        for circle, diameter, colour in zip(circles, diameters, colours):
            circle.set(center=(x, MIDDLE), radius=0.5 * SCALE * diameter, facecolor=colour)
        gives, fast = scene.wide[place], scene.speeds[place]
        texts = (
            f"{SHAPES[scene.feed_levels[place]]} {number(Q_(gives, 'm**3/s'), 'flow', system)}",
            f"{SHAPES[scene.speed_levels[place]]} {number(Q_(fast, 'm/s'), 'speed', system)}" if gives > 0 else "–",
            *(
                f"{wait:.{0 if wait >= 9.95 else 1}f}" if np.isfinite(wait) else "–"
                for wait in (scene.waits[place], scene.waits_open[place])
            ),
        )
        self.names[place].set_position((x, NAMES))
        self.names[place].set_text(short(scene.names[place]))
        for row, (cell, text) in enumerate(zip(self.cells[place], texts)):
            cell.set_position((x, FIRST + row * ROW))
            cell.set_text(text)

    def show_kept(self, scene, present) -> None:
        """A dashed frame around the size that was kept, where the same family is shown; None: nothing."""
        same = scene is not None and scene.family == present.family
        self.kept.set_visible(same)
        if same:
            self._put(self.kept, scene.chosen, len(scene.names))
