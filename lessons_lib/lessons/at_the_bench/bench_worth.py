"""What a fit found, beside what the label or the bucket said: two cuts or two buckets, and the 95 % interval on a
scale.
"""

from matplotlib.patches import Polygon

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.cut import Circles
from ...drawing.vessels import Vessel
from ...runs.pipe import pipe_material

CENTRES, MIDDLE, ACROSS = (66, 196), 88, 108  # [px] of the two drawings, and how large the larger of them is
SCALE_AT, LOW, HIGH = 244, 10, 236  # [px] the scale of shares: how far down, and its ends
NARROWEST = 8  # [px] that an interval is drawn
MOST = 2.5  # the scale's end, in shares of what was expected


class Worth:
    """left, top, width : of the whole [px]; it is 340 px high."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        self.axes = axes = canvas.drawing(left, top, width, 340)
        self.title = canvas.words(axes, 0, 14, weight="bold")
        self.cuts = [Circles(canvas, axes, (x, MIDDLE + 10), 1.0) for x in CENTRES]
        self.buckets = [Vessel(canvas, axes, x - 34, 40, 68, 96, "") for x in CENTRES]
        self.names = [canvas.words(axes, x, 170, ha="center") for x in CENTRES]
        self.values = [canvas.words(axes, x, 190, weight="bold", ha="center") for x in CENTRES]
        axes.text(0, SCALE_AT - 24, "Share of the expected", size=TEXT, weight="bold", color=INK)
        axes.plot([LOW, HIGH], [SCALE_AT + 18] * 2, lw=1.5, color=FAINT)
        for share in (0, 0.5, 1, 1.5, 2, 2.5):
            axes.plot([place(share)] * 2, [SCALE_AT + 14, SCALE_AT + 22], lw=1.5, color=FAINT)
            if share % 1 == 0:
                axes.text(
                    place(share), SCALE_AT + 40, f"{share:.0%}".replace("%", " %"), size=TEXT, color=INK, ha="center"
                )
        axes.plot([place(1)] * 2, [SCALE_AT - 10, SCALE_AT + 22], lw=2, ls=":", color=INK)
        self.kept = canvas.moving(*axes.plot([], [], lw=5, color=GHOST))
        self.band = canvas.moving(axes.add_patch(Polygon([[0, 0]], fc="#c9d6e2", ec=INK, lw=1, hatch="//")))
        self.dot = canvas.moving(*axes.plot([], [], ls="none", marker="o", ms=6, color=INK))
        self.interval = canvas.words(axes, 0, SCALE_AT + 66)
        self.wide = canvas.words(axes, 0, SCALE_AT + 86, color=FAINT)

    def show(self, scene, texts: tuple) -> None:
        """Move the artists to a scene (see bench_picture.BenchScene).

        texts : title, names beneath the drawings (2), values (2), interval and a line beneath it
        """
        title, *rest, interval, beneath = texts
        self.title.set_text(title)
        for words, text in zip((*self.names, *self.values), rest):
            words.set_text(text)
        self.interval.set_text(interval)
        self.wide.set_text(beneath)
        self._show_drawings(scene)
        low, value, high = scene.shares or (None, None, None)
        self.band.set_visible(scene.shares is not None)
        self.dot.set_data(*(([place(value)], [SCALE_AT]) if scene.shares else ([], [])))
        if scene.shares:
            left, right = seen(low, high)
            self.band.set_xy([[left, SCALE_AT - 9], [right, SCALE_AT - 9], [right, SCALE_AT + 9], [left, SCALE_AT + 9]])

    def _show_drawings(self, scene) -> None:
        flow = scene.asked == "flow"
        outsides = (scene.outside, scene.like_outside)
        largest = max(outside for outside in outsides if outside is not None)
        for circles, outside in zip(self.cuts, outsides):
            visible = not flow and outside is not None
            for circle in (circles.foam, circles.wall, circles.water):
                circle.set_visible(visible)
            if visible:
                circles.scale = ACROSS / largest
                circles.show(
                    scene.bore, scene.pipe_outside, outside, pipe_material(scene.pipe_material).colour, scene.hottest
                )
        flows = (scene.given, scene.found)
        most = max((one for one in flows if one is not None), default=1.0)
        for bucket, one in zip(self.buckets, flows):
            bucket.set_visible(flow and one is not None)
            bucket.show(0.9 * one / most if one is not None else 0.0, water_colour(scene.hottest), "")

    def show_kept(self, shares) -> None:
        """A dashed bar for the interval of what was kept, (low, value, high); None: nothing."""
        self.kept.set_data(*((seen(shares[0], shares[2]), [SCALE_AT - 14] * 2) if shares else ([], [])))


def seen(low: float, high: float) -> tuple[float, float]:
    """Ends of an interval on the scale [px]; a narrow one is drawn just wide enough to be seen."""
    room = max(0.5 * (NARROWEST - (place(high) - place(low))), 0.0)
    return place(low) - room, place(high) + room


def place(share: float) -> float:
    """Says where a share stands on the scale [px]."""
    return LOW + (HIGH - LOW) * min(max(share, 0.0), MOST) / MOST
