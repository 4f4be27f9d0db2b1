"""A graph of the heat that a tape gives and the heat that the pipe loses, over the pipe's temperature."""

import numpy as np

from ...drawing.canvas import INK, TEXT, Canvas
from ...drawing.colours import GHOST, ICE, ICE_EDGE
from ...drawing.graph import Axis, Graph, even

TAPE = "#1c6e5a"
PIPE = np.arange(-30.0, 82.0, 2.0)  # [degC] pipe temperatures of the graph
ACROSS = Axis("temperature of the pipe", "temperature", PIPE[0], PIPE[-1], even(-20, 80, 20), (0, 32, 80, 120, 160))
UP = Axis("heat", "tape power", 0, 42, even(0, 40, 10), even(0, 12, 3))


class Balance:
    """Draws what the tape gives and what the pipe loses, over the pipe's temperature; where they meet, the pipe
    settles.
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.graph = graph = Graph(canvas, left, top, width, height - 48, "Tape and pipe", ACROSS, UP)
        graph.axes.axvspan(PIPE[0], 0, fc=ICE, ec="#b9d3ea", hatch="//", lw=0, zorder=0)
        graph.axes.text(PIPE[0] + 2, 37, "ice", size=TEXT, color=INK)
        self.kept = [graph.line(lw=2, ls="--", color=GHOST) for _ in range(2)]
        self.bare = graph.line(lw=2.5, ls=(0, (4, 2)))
        self.covered = graph.line(lw=2.5)
        self.tape = graph.line(lw=4, color=TAPE)
        self.mean = graph.line(lw=2, ls=":", color=TAPE)
        self.at_bare, self.at_covered = graph.mark("s", color=ICE_EDGE), graph.mark("o")
        beneath = canvas.drawing(left, top + height - 42, width, 42)
        beneath.text(0, 14, "━ tape gives", size=TEXT, color=TAPE, weight="bold")
        beneath.text(0.5 * width, 14, "━ pipe loses", size=TEXT, color=INK)
        self.bare_name, self.mean_name = (
            canvas.words(beneath, x, 35, color=colour) for x, colour in ((0.5 * width, INK), (0, TAPE))
        )

    def show(self, scene) -> None:
        """Move the artists to a scene."""
        on = PIPE <= scene.thermostat
        at, output = PIPE[on], scene.output[on]
        if not on.all():
            at, output = (
                np.append(at, [scene.thermostat] * 2),
                np.append(output, [np.interp(scene.thermostat, PIPE, scene.output), 0]),
            )
        self.tape.set_data(at, output)
        self.covered.set_data(PIPE, scene.covered_loss)
        gap = scene.has_gap
        self.bare.set_data(*((PIPE, scene.bare_loss) if gap else ([], [])))
        self.bare_name.set_text("╍ bare piece loses" if gap else "")
        starved = gap and scene.on_share < 1
        self.mean.set_data(*((PIPE, scene.on_share * scene.output) if starved else ([], [])))
        self.mean_name.set_text("┅ its mean" if starved else "")
        self._mark(self.at_covered, scene.covered, scene.covered_loss)
        self._mark(self.at_bare, scene.bare if gap else np.nan, scene.bare_loss)

    @staticmethod
    def _mark(mark, temperature: float, loss) -> None:
        """Puts a mark where lines meet; at the edge of the graph if they meet beyond it."""
        inside = min(max(temperature, PIPE[0]), PIPE[-1]) if np.isfinite(temperature) else None
        mark.set_data(
            [] if inside is None else [inside],
            [] if inside is None else [min(max(np.interp(inside, PIPE, loss), 0), UP.high)],
        )

    def show_kept(self, scene) -> None:
        """Tape and pipe kept for comparison; None: nothing."""
        for line, heat in zip(self.kept, ([], []) if scene is None else (scene.output, scene.covered_loss)):
            line.set_data(PIPE if len(heat) else [], heat)
