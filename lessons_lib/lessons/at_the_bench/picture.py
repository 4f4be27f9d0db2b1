"""At the bench: readings over the model's curve, the difference beneath, and what the fit found beside what was
expected.
"""

from dataclasses import dataclass

import numpy as np

from ...bench.readings import left_out_words
from ...bench.result import BenchFit, compare
from ...bench.words import NOT_FITTED, fine_share
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST
from ...drawing.graph import Axis, Graph, around
from ...drawing.picture import Picture
from ...quantities.display import celsius, number, show
from ...quantities.units import Q_
from ...runs.insulation import BARE_PIPE
from .bench_worth import Worth

WIDTH, HEIGHT = 884, 424  # [px]
EDGE, LEFT, SPLIT = 8, 546, 272  # [px] left edge and right end of the graphs, height of the upper one
LEGEND, LINE = 186, 21  # [px] height of the place for it, and of a line
EXPECTED, CROSS = "#2f6db0", "#1d2b38"
FEW = 120  # readings up to which each is drawn large
CROSSES = 300  # left-out rows that are drawn
# kind, seconds in it, longest span [s]
TIME_KINDS = (("seconds", 1.0, 200), ("minutes", 60.0, 180 * 60), ("hours", 3600.0, np.inf))
MISSES = (0.5, 1, 2, 5, 10, 20, 50, 100)  # [K] ends of the scale of differences


@dataclass(frozen=True)
class BenchScene:
    """Everything that the picture shows, in SI floats (temperatures in degC; `at` in s, or in m along a run)."""

    name: str  # of the readings
    experiment: str  # "cooling", "first draw" or "along"
    along: bool
    asked: str  # "insulation", "loss" or "flow"
    why_none: str  # why there are no readings to draw; "" where there are some
    at: np.ndarray  # (n,) readings that are used
    read: np.ndarray
    used: int  # how many they are before thinning
    left_out: tuple  # of LeftOut
    crossed_at: np.ndarray  # (k,) left-out readings
    crossed: np.ndarray  # NaN where the row gave no usable number
    curve_at: np.ndarray  # (m,) the curve that the difference is taken from: fitted, or expected while nothing is
    curve: np.ndarray
    expected_at: np.ndarray  # (l,) what the model says without a fit
    expected: np.ndarray
    rms: float  # root mean square of the difference of all readings [K]
    fit: BenchFit | None
    ask: object  # () → BenchFit: what the readings say; may raise InputError
    shares: tuple | None  # low, value, high of the fit as shares of what was expected
    pipe_material: str
    bore: float
    pipe_outside: float
    outside: float
    thickness: float
    like_outside: float | None  # outermost diameter of what the readings show; None: not fitted
    given: float | None  # flow that the reader gave [m3/s]
    found: float | None
    hottest: float
    burn_seconds: float
    burn_bound: str

    @property
    def difference(self) -> np.ndarray:
        """Reading less curve, (n,) [K]."""
        return self.read - np.interp(self.at, self.curve_at, self.curve)


class BenchPicture(Picture):
    """Shows readings over the model's curve, their differences, and what the fit found."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, LEFT + 4, SPLIT),
        (0, SPLIT, LEFT + 4, HEIGHT - SPLIT),
        (LEFT + 4, 0, WIDTH - LEFT - 4, HEIGHT),
    )

    def build(self, canvas: Canvas) -> None:
        first = Axis("", "minutes", 0, 60, (0, 20, 40, 60), (0, 20, 40, 60))
        self.upper = Graph(
            canvas, EDGE, 0, LEFT - EDGE, SPLIT, "Readings and curve", first, around("", "temperature", 20, 60)
        )
        self.lower = Graph(
            canvas, EDGE, SPLIT, LEFT - EDGE, HEIGHT - SPLIT, "Difference: reading less curve", first, misses(1)
        )
        self.zero = self.lower.line(lw=1.5, color=FAINT)
        self.kept_curve, self.kept_points = (
            self.upper.line(lw=2, ls="--", color=GHOST),
            self.upper.mark("D", ms=5, mfc="none", mew=1.3, color=GHOST),
        )
        self.expected = self.upper.line(lw=2, ls=(0, (5, 3)), color=EXPECTED)
        self.curve = self.upper.line(lw=3)
        self.points, self.small = self.upper.mark("o", ms=6, mfc="white", mew=1.5), self.upper.mark("o", ms=2)
        self.crosses = self.upper.mark("x", ms=9, mew=2.5, color=CROSS)
        self.sticks, self.off = self.lower.line(lw=1.2), self.lower.mark("o", ms=4)
        self.nothing = self.upper.words(0, 0, weight="bold", ha="center", backed=True)
        signs = canvas.drawing(LEFT - 242, 24, 230, LEGEND)
        self.legend = [
            canvas.words(signs, 230, 0, ha="right", color=color, backed=True)
            for color in (INK, INK, EXPECTED, CROSS, GHOST)
        ]
        self.worth = Worth(canvas, LEFT + 16, 0, WIDTH - LEFT - 16)
        note = canvas.drawing(LEFT + 16, 342, WIDTH - LEFT - 16, 80)
        note.text(0, 14, "How sure is that?", size=TEXT, weight="bold", color=INK)
        self.holds = [canvas.words(note, 0, 36 + 20 * row, color=FAINT) for row in range(3)]
        self.scales = self.upper, self.lower

    def show(self, scene: BenchScene) -> None:
        kept = self.kept if self.kept and self.kept.experiment == scene.experiment else None
        per = self._scales(scene, kept)
        self.curve.set_data(scene.curve_at / per, scene.curve)
        self.curve.set_visible(scene.fit is not None)
        self.expected.set_data(scene.expected_at / per, scene.expected)
        few = len(scene.at) <= FEW
        self.points.set_data(*((scene.at / per, scene.read) if few else ([], [])))
        self.small.set_data(*(([], []) if few else (scene.at / per, scene.read)))
        floor = self.upper.up.low
        self.crosses.set_data(
            scene.crossed_at / per, np.clip(np.nan_to_num(scene.crossed, nan=floor), floor, self.upper.up.high)
        )
        self.kept_curve.set_data(*((kept.curve_at / per, kept.curve) if kept else ([], [])))
        self.kept_points.set_data(*((kept.at / per, kept.read) if kept and len(kept.at) <= FEW else ([], [])))
        self._show_differences(scene, per)
        self.nothing.set_position(
            (
                0.5 * (self.upper.across.low + self.upper.across.high),
                0.5 * (floor + self.upper.up.high),
            )
        )
        self.nothing.set_text("no readings yet: the model alone" if scene.why_none else "")
        self._show_legend(scene, kept)
        self.worth.show(scene, worth_texts(scene, self.system))
        self.worth.show_kept(kept and kept.shares)
        for words, text in zip(self.holds, holds(scene.fit)):
            words.set_text(text)

    def sentence(self, scene: BenchScene) -> str:
        return sentence(scene, self.system) + comparison(scene, self.kept)

    def _show_legend(self, scene: BenchScene, kept) -> None:
        """Writes the legend in the upper corner; where the curve rises, in the lower one."""
        texts = legend(scene, kept)
        shown = scene.read if len(scene.read) else scene.expected
        third = max(len(shown) // 3, 1)
        down = LEGEND - LINE * sum(map(bool, texts)) if np.mean(shown[-third:]) > np.mean(shown[:third]) else 16
        for words, text in zip(self.legend, texts):
            words.set_y(down)
            words.set_text(text)
            down += LINE * bool(text)

    def _scales(self, scene: BenchScene, kept) -> float:
        """Scales that take everything in; returns seconds (or metres) in a unit of the lower scale."""
        shown = [one for one in (scene, kept) if one]
        low = min(np.min(one.at, initial=one.expected_at[0]) for one in shown)
        high = max(np.max(one.at, initial=one.expected_at[0] if len(one.at) else one.expected_at[-1]) for one in shown)
        kind, per = (
            ("length", 1.0)
            if scene.along
            else next((kind, per) for kind, per, longest in TIME_KINDS if high - low <= longest)
        )
        name = "along the run" if scene.along else "time"
        across = around(name, kind, min(low, 0.0) / per if low < 0.3 * high else low / per, high / per)
        values = np.concatenate([part for one in shown for part in (one.read, one.curve, one.expected)])
        self.upper.stretch(across, around("", "temperature", values.min(), values.max()))
        most = max(np.max(np.abs(scene.difference), initial=0.0), 0.1)
        self.lower.stretch(across, misses(next((one for one in MISSES if one >= most), MISSES[-1])))
        return per

    def _show_differences(self, scene: BenchScene, per: float) -> None:
        """Each reading's difference as a stick from zero."""
        self.zero.set_data([self.lower.across.low, self.lower.across.high], [0, 0])
        x, off = scene.at / per, scene.difference
        few = len(x) <= FEW
        upright = np.stack([np.zeros_like(off), off, np.full_like(off, np.nan)], axis=1).ravel()
        self.sticks.set_data(*((np.repeat(x, 3), upright) if few else ([], [])))
        self.off.set_markersize(5 if few else 2)
        self.off.set_data(x, off)

    def description(self, scene: BenchScene) -> str:
        return (
            "Two graphs, one above the other: readings as points over the model's curve, and each reading less the"
            " curve. Beside them what was expected and what the readings show, drawn to one scale, and a bar for the"
            f" span that the readings allow.{crossed_words(scene)}"
        )


def holds(fit: BenchFit | None) -> tuple:
    """Gives where the 95 % interval comes from, and what it takes for right, in three short lines."""
    if fit is None or fit.scatter is None:
        return "Press Fit.", "", ""
    doubted = "clock" if fit.experiment == "first draw" else "model"
    scatter, doubt = (fine_share(one) for one in (fit.scatter, fit.doubt))
    return f"± {scatter} % from the readings", f"± {doubt} % from the {doubted}", "if length and air are right"


def misses(most: float) -> Axis:
    """A scale of differences, as far down as up."""
    half = around("", "temperature difference", 0, most, 2)
    return Axis(
        "",
        half.kind,
        -most,
        most,
        *(
            tuple(sorted({sign * one + 0.0 for one in numbers for sign in (-1, 1)}))
            for numbers in (half.metric, half.customary)
        ),
    )


def legend(scene: BenchScene, kept) -> tuple:
    """Gives what each sign means, where there is one."""
    return (
        "○ reading" if len(scene.read) else "",
        "━ fitted curve" if scene.fit else "",
        "- - what the model expects",
        "× left out" if scene.left_out or len(scene.crossed_at) else "",
        "◇ kept for comparison" if kept else "",
    )


def crossed_words(scene: BenchScene) -> str:
    """The rows that are not used."""
    return f" Left out: {left_out_words(scene.left_out)}." if scene.left_out else ""


def value_words(fit: BenchFit, system: str) -> tuple[str, str]:
    """The fitted value with its unit, and its 95 % interval."""
    kind = {"conductivity": "conductivity", "UA": "loss per kelvin", "flow": "measured flow"}[fit.unknown]
    low, high = (number(one, kind, system) for one in (fit.low, fit.high))
    return show(fit.value, kind, system), f"{low} to {high}" if low != high else low


def worth_texts(scene: BenchScene, system: str) -> tuple:
    """Title, two names, two values, interval and a line beneath it, for Worth.show."""
    fit = scene.fit
    names = (
        ("you gave", "readings say")
        if scene.asked == "flow"
        else ("as labelled", "behaves like" if scene.thickness else "as fitted")
    )
    title = "The flow, as buckets" if scene.asked == "flow" else "Cuts, to one scale"
    if scene.asked == "flow":
        values = tuple(
            "" if one is None else show(Q_(one, "m**3/s"), "measured flow", system)
            for one in (scene.given, scene.found)
        )
    elif scene.thickness == 0:
        names = ("the model", "the readings")
        values = (
            ("bare", "")
            if fit is None
            else tuple(number(one, "loss per kelvin", system) for one in (fit.label, fit.value))
        )
    else:
        like = None if scene.like_outside is None else 0.5 * (scene.like_outside - scene.pipe_outside)
        more = fit is not None and fit.like_thickness is not None and np.isinf(fit.like_thickness.magnitude)
        values = tuple(
            "" if one is None else show(Q_(one, "m"), "thickness", system) if one else BARE_PIPE
            for one in (scene.thickness, like)
        )
        values = (values[0], f"over {values[1]}" if more else values[1])
    if fit is None:
        return title, names[0], "", values[0], "", NOT_FITTED, "press Fit"
    shown, interval = value_words(fit, system)
    return title, *names, *values, shown, f"allowed: {interval}"


def sentence(scene: BenchScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    ends = tuple(show(celsius(value), "temperature", system) for value in (scene.expected[0], scene.expected[-1]))
    over = "along the run" if scene.along else "while it is watched"
    if scene.why_none:
        return f"{scene.why_none} The model alone: from {ends[0]} to {ends[1]} {over}."
    if scene.fit:
        return scene.fit.meaning
    rows = f"{scene.used} readings" + (
        f", {len(scene.left_out)} rows left out"
        if len(scene.left_out) > 1
        else ", 1 row left out"
        if scene.left_out
        else ""
    )
    far = scene.difference[np.argmax(np.abs(scene.difference))]
    most, side = show(Q_(abs(far), "delta_degC"), "temperature drop", system), "hotter" if far > 0 else "colder"
    return (
        f"{scene.name}: {rows}. The model expects {ends[0]} at first and {ends[1]} at the end; a reading lies up to"
        f" {most} {side}. Fit asks what would explain that."
    )


def comparison(scene: BenchScene, kept) -> str:
    """Says how a fit compares with the kept one; "" where one of them is not fitted yet."""
    if kept and kept.experiment != scene.experiment:
        return " What was kept is of another experiment and is not drawn."
    if (
        not kept
        or kept.fit is scene.fit
        or kept.fit is None
        or scene.fit is None
        or (kept.asked == "flow") != (scene.asked == "flow")
    ):
        return ""
    return f" Against the kept one: {compare(kept.fit, scene.fit).meaning}"
