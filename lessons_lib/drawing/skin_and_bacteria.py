"""One scale of temperature with two readings: what water does to a hand, and what it does to bacteria."""

from matplotlib.patches import Polygon, Rectangle

from ..quantities.display import US
from ..storage.tables import rows
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import BAND_COLOURS, GHOST
from .thermometer import CELSIUS_TICKS, EDGES, FAHRENHEIT_TICKS, HIGH, LOW, WORDS

# [px] for the names at the left and at the right; for the numbers between the two columns
NAMES, STORES, SCALE = 96, 66, 50
BELOW = 26  # [px] for the line beneath
# may grow, grows, fades, dies slowly, in minutes
BACTERIA_COLOURS = ("#fbe9b0", "#efb0a1", "#f8cfa0", "#fbe9b0", "#d3ecd9")
APART = 0.5  # [degC] pointers nearer than this are one


def bacteria_bands() -> list[tuple[float, float, str]]:
    """The bands of data/bacteria_bands.csv that the scale shows: low, high, word."""
    bands = [
        (float(row["low"]), float(row["high"]), row["name"]) for row in rows("bacteria_bands") if row["kind"] == "band"
    ]
    return [(max(low, LOW), min(high, HIGH), name) for low, high, name in bands if high > LOW and low < HIGH]


class SkinAndBacteria:
    """Draws two columns of bands. Taps point at the left one, stored and standing water at the right one."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas = canvas
        column = (width - NAMES - STORES - SCALE) // 2
        tall = height - 28 - BELOW
        self.hand = canvas.axes(left + NAMES, top + 28, column, tall)
        self.germs = canvas.axes(left + NAMES + column + SCALE, top + 28, column, tall)
        for axes in (self.hand, self.germs):
            axes.set(xlim=(0, 1), ylim=(LOW, HIGH), xticks=[])
            axes.spines[["top", "bottom", "left", "right"]].set_visible(False)
        self.germs.set_yticks([])
        self.hand.yaxis.tick_right()
        self.hand.tick_params(colors=INK, labelsize=TEXT, length=4)
        _bands(self.hand, zip(EDGES, EDGES[1:], WORDS), BAND_COLOURS)
        shown = bacteria_bands()
        _bands(self.germs, shown, BACTERIA_COLOURS[-len(shown) :])
        around = canvas.drawing(left, top, width, height)
        for x, title, small in (
            (NAMES, "To a hand", "adults; children sooner"),
            (NAMES + column + SCALE, "To bacteria", "bands, not lines"),
        ):
            around.text(x + 0.5 * column, 16, title, size=TEXT, weight="bold", color=INK, ha="center")
            around.text(x + 0.5 * column, height - 6, small, size=TEXT, color=FAINT, ha="center")
        self.taps = [_Pointer(canvas, self.hand, 0, -1) for _ in range(2)]
        self.stores = [_Pointer(canvas, self.germs, 1, 1) for _ in range(2)]
        self.kept = [
            canvas.moving(*axes.plot([0, 1], [LOW, LOW], lw=2.5, ls="--", color=GHOST, visible=False))
            for axes in (self.hand, self.hand, self.germs)
        ]

    def units(self, system: str) -> None:
        """Label the scale in the reader's unit."""
        ticks = FAHRENHEIT_TICKS if system == US else CELSIUS_TICKS
        self.hand.set_yticks((ticks - 32) / 1.8 if system == US else ticks, [f"{tick}°" for tick in ticks])
        self.canvas.renew(self, system)

    def show(self, first: float, last: float, tank: float, mixed: float) -> None:
        """Points at temperatures [degC]: two taps, the tank, and what the valve mixes."""
        _point(self.taps, (first, last), ("first tap", "last tap"), "both taps")
        _point(self.stores, (tank, mixed), ("tank", "mixed"), "tank")

    def show_kept(self, first: float | None, last: float | None, tank: float | None) -> None:
        """Dashed lines at what was kept for comparison [degC]; None: nothing."""
        for line, level in zip(self.kept, (first, last, tank)):
            line.set_visible(level is not None)
            if level is not None:
                line.set_ydata([level, level])


class _Pointer:
    """A triangle at a column's edge with a name beside it. side : -1 left of the column, 1 right of it"""

    def __init__(self, canvas: Canvas, axes, edge: float, side: int):
        self.edge, self.side = edge, side
        self.wedge = canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, color=INK, clip_on=False)))
        self.line = canvas.moving(*axes.plot([edge, edge - 0.12 * side], [LOW, LOW], lw=2.5, color=INK))
        self.name = canvas.words(axes, edge + 0.07 * side, LOW, ha="left" if side > 0 else "right")

    def show(self, level: float | None, name: str = "") -> None:
        """Point at a temperature [degC]; None: nowhere."""
        for part in (self.wedge, self.line, self.name):
            part.set_visible(level is not None)
        if level is not None:
            level = min(max(level, LOW), HIGH)
            tip, back = self.edge, self.edge + 0.05 * self.side
            self.wedge.set_xy([(tip, level), (back, level + 1.2), (back, level - 1.2)])
            self.line.set_ydata([level, level])
            self.name.set_y(level - 1.1)
            self.name.set_text(name)


def _bands(axes, bands, colours) -> None:
    """Coloured bands with their words."""
    for (low, high, word), colour in zip(bands, colours):
        axes.add_patch(Rectangle((0, low), 1, high - low, fc=colour, ec="white", lw=1))
        axes.text(0.5, 0.5 * (low + high), word, size=TEXT, color=INK, ha="center", va="center_baseline")


def _point(pointers, levels, names, together: str) -> None:
    """Two pointers, or one where they would lie on each other."""
    if abs(levels[0] - levels[1]) < APART:
        pointers[0].show(levels[0], together)
        pointers[1].show(None)
    else:
        for pointer, level, name in zip(pointers, levels, names):
            pointer.show(level, name)
