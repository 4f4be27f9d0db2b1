"""Every size of a pipe family, one beneath the other: the cut, what an open tap gives, the speed, the wait."""

import numpy as np
from matplotlib.patches import Circle, Rectangle

from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...panels.readout import EDGES, SHAPES
from ...quantities.display import show, stopwatch
from ...quantities.units import Q_
from ...runs.pipe import pipe_material

MOST = 11  # sizes in a column
FIRST, LAST, ROW = 62, 416, 62  # [px] upper edge of the first row, lower edge of the last; height of a row at most
CUT, NAME, TAP, SPEED, WAIT = 24, 54, 126, 268, 300  # [px] where the columns begin
FLOW_ROOM, WAIT_ROOM = 100, 56  # [px] of the longest bars
FLOW, WAITED = "#c3ced8", "#8fa0b0"


def short(size: str) -> str:
    """A size's name for a narrow column: "15 mm x 0.7 mm" is "15×0.7"."""
    return size.replace(" mm", "").replace(" x ", "×") if " x " in size else size


class SizeRows:
    """Draws rows from the smallest size down to the largest; the chosen one stands in a frame."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = canvas.drawing(left, top, width, height)
        self.width = width
        self.title = canvas.words(axes, 0, 14, weight="bold")
        for x, name, ha in ((TAP, "open tap", "left"), (SPEED, "speed", "center"), (WAIT, "wait", "left")):
            axes.text(x, FIRST - 16, name, size=TEXT, color=INK, ha=ha)
        self.frame, self.kept = (
            canvas.moving(axes.add_patch(Rectangle((0, 0), width, 0, lw=2, **look)))
            for look in ({"fc": "#eef1f4", "ec": INK}, {"fill": False, "ec": GHOST, "ls": "--", "visible": False})
        )
        self.rows = [self._row(canvas, axes) for _ in range(MOST)]
        self.wanted = canvas.moving(*axes.plot([], [], lw=2.4, color=INK))
        self.asked = canvas.words(axes, 0, height - 8, ha="center")

    @staticmethod
    def _row(canvas: Canvas, axes) -> dict:
        """Makes the artists of one row."""
        circles = {
            name: canvas.moving(axes.add_patch(Circle((CUT, 0), 1, ec=INK, lw=0.6))) for name in ("wall", "water")
        }
        bars = {
            name: canvas.moving(axes.add_patch(Rectangle((x, 0), 0, 16, fc=colour, ec=INK, lw=0.8)))
            for name, x, colour in (("flow", TAP + 20, FLOW), ("wait", WAIT, WAITED))
        }
        words = {
            name: canvas.words(axes, x, 0, ha=ha)
            for name, x, ha in (
                ("name", NAME, "left"),
                ("fed", TAP, "left"),
                ("speed", SPEED, "center"),
                ("seconds", 0, "left"),
            )
        }
        return circles | bars | words

    def show(self, scene, system: str) -> None:
        """Moves the artists to a scene (see picture.SizeScene)."""
        self.title.set_text(f"Every size of {scene.family}, to one scale")
        count = len(scene.names)
        self.room = min((LAST - FIRST) / count, ROW)
        self.most = max(scene.wide.max(), scene.wanted)
        for place, row in enumerate(self.rows):
            for part in row.values():
                part.set_visible(place < count)
            if place < count:
                self._show_row(row, scene, place)
        self._put(self.frame, scene.chosen)
        x = TAP + 20 + FLOW_ROOM * scene.wanted / self.most
        self.wanted.set_data([x, x], [FIRST - 6, FIRST + count * self.room + 6])
        self.asked.set_position((x, FIRST + count * self.room + 26))
        self.asked.set_text(f"wanted: {show(Q_(scene.wanted, 'm**3/s'), 'flow', system)}")

    def _put(self, frame, place: int) -> None:
        """Puts a frame around a row."""
        frame.set(y=FIRST + place * self.room + 1, height=self.room - 2)

    def _show_row(self, row: dict, scene, place: int) -> None:
        """Moves the artists of one size."""
        middle, flows = FIRST + (place + 0.5) * self.room, scene.wide[place] > 0
        scale = min(self.room - 6, 46) / scene.outsides.max()
        colours = pipe_material(scene.material).colour, water_colour(scene.supply)
        diameters = scene.outsides[place], scene.bores[place]
        for name, diameter, colour in zip(("wall", "water"), diameters, colours):
            row[name].set(center=(CUT, middle), radius=0.5 * scale * diameter, facecolor=colour)
        longest = np.max(scene.waits, where=np.isfinite(scene.waits), initial=1e-9)
        wait = scene.waits[place]
        long = WAIT_ROOM * wait / longest if np.isfinite(wait) else 0.0
        row["flow"].set(y=middle - 8, width=FLOW_ROOM * scene.wide[place] / self.most, visible=flows)
        row["wait"].set(y=middle - 8, width=long, visible=long > 0)
        row["name"].set_text(short(scene.names[place]))
        row["seconds"].set_x(WAIT + long + 6)
        row["seconds"].set_text(stopwatch(wait) if np.isfinite(wait) else "–")
        for name, level in (("fed", scene.feed_levels[place]), ("speed", scene.speed_levels[place])):
            row[name].set_text(SHAPES[level])
            row[name].set_color(EDGES[level])
        for name in ("name", "fed", "speed", "seconds"):
            row[name].set_y(middle + 6)

    def show_kept(self, scene, present) -> None:
        """A dashed frame around the size that was kept, where the same family is shown; None: nothing."""
        same = scene is not None and scene.family == present.family
        self.kept.set_visible(same)
        if same:
            self._put(self.kept, scene.chosen)
