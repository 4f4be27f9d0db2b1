"""Waiting for hot water: the front in the run, the tap, the bucket, and the water that then stands."""

from dataclasses import dataclass

import numpy as np

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.front_strip import FrontStrip
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.vessels import Vessel
from ...quantities.display import US, celsius, duration, just_under, show, stopwatch
from ...quantities.units import Q_
from ...runs.bacteria import GROWTH
from ...runs.scald import TOO_COOL_TO_BURN, skin_words

WIDTH, HEIGHT = 884, 446  # [px]
MOMENTS, BELOW = 4, 148  # rows of the run; [px] top of what stands beneath them
DEGREES = {"low": 0, "high": 80, "metric": even(0, 80, 20), "customary": (40, 80, 120, 160)}
# Spans of the graphs: [s] since the tap opened, [min] between draws.
WAITS = (12, 40, 120, 240, 600, 1200, 3600, 7200, 14400)
PAUSES = (60, 120, 240, 480, 960, 1920)
# metric, US
BUCKETS = (Q_(np.array([1, 2, 5, 10, 20, 50, 100, 200]), "L"), Q_(np.array([0.25, 0.5, 1, 2, 5, 10, 20, 50]), "gallon"))


@dataclass(frozen=True)
class WaitScene:
    """Everything that the picture shows, in floats: temperatures in degC, times in s but for `hours`, volumes in m3."""

    useful: float
    start: float  # what stands at the tap as it opens
    pause: float  # since the last draw; inf: the first of the day
    content: float  # of the run
    flow: float  # [m3/s]
    wait: float  # inf: never
    time: np.ndarray  # shape (n,), with the tap's temperature at each
    at_tap: np.ndarray
    moments: np.ndarray  # shape (m,), with the water along the run at each, (m, places)
    along: np.ndarray
    delivered: float  # when the tap has run long enough
    burn_seconds: float
    burn_bound: str
    hours: np.ndarray  # shape (k,), with the standing water at the tap at each
    standing: np.ndarray
    warm_for: float  # how long standing water stays useful
    half_life: float
    band_hours: float  # inf: it stays there

    @property
    def sweep(self) -> float:
        """The time in which the flow passes once what the run holds: volume over flow."""
        return self.content / self.flow

    @property
    def drawn(self) -> float:
        """Gives what ran down the drain until the wait was over."""
        return self.wait * self.flow

    @property
    def instants(self) -> list[tuple[float, str]]:
        """The moments at which the run is drawn, in order, and what is to be said of each."""
        waited = 0 < self.wait < np.inf
        last = (self.wait, "warm enough") if waited else (2 * self.sweep, "two pipe-fulls")
        moments = [(0.0, "the tap opens"), (0.5 * self.sweep, ""), (self.sweep, "one pipe-full"), last]
        return sorted(moments, key=lambda moment: round(moment[0], 6))

    def run_at(self, moment: float) -> np.ndarray:
        """The water along the run; after the record it stays as it was."""
        return self.along[min(np.searchsorted(self.moments, moment), len(self.along) - 1)]

    def tap_at(self, moment: float) -> float:
        """The water at the tap, just after a front that comes at that moment."""
        return float(np.interp(moment * (1 + 1e-9), self.time, self.at_tap))


class WaitingPicture(Picture):
    """Shows a draw: the hot front in the run, the tap, the wasted water, and the water that stands after it."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 500, BELOW - 8),
        (500, 0, WIDTH - 500, BELOW - 8),
        (0, BELOW - 8, 388, HEIGHT - BELOW + 8),
        (386, BELOW - 8, WIDTH - 386, HEIGHT - BELOW + 8),
    )

    def build(self, canvas: Canvas) -> None:
        self.strip = FrontStrip(canvas, 4, 2, WIDTH - 8, MOMENTS)
        tall = HEIGHT - BELOW
        self.tap = Graph(
            canvas, 4, BELOW, 374, tall, "At the tap", since_opened(WAITS[2]), Axis("", "temperature", **DEGREES)
        )
        self.level = self.tap.line(lw=1.6, ls=":", color=FAINT)
        self.swept = self.tap.line(lw=1.6, ls=":", color=FAINT)
        self.kept_tap = self.tap.line(lw=2, ls="--", color=GHOST)
        self.full = self.tap.words(0, 3, color=FAINT, backed=True)
        self.enough = self.tap.words(0, 0, color=FAINT, ha="right", backed=True)
        self.curve = self.tap.line()
        self.mark = self.tap.mark()
        self._vessels(canvas, 394, BELOW)
        self.stands = Graph(
            canvas,
            576,
            BELOW,
            WIDTH - 576,
            tall,
            "After the tap is shut",
            between_draws(PAUSES[2]),
            Axis("", "temperature", **DEGREES),
        )
        low, high = (edge.magnitude for edge in GROWTH)
        self.stands.axes.axhspan(low, high, fc="#e9edf0", ec="#8996a2", hatch="//", lw=0)
        across = self.stands.axes.get_yaxis_transform()
        paper = {"fc": "white", "ec": "none", "alpha": 0.85, "pad": 1}
        self.stands.axes.text(
            0.985, high - 5, "bacteria band", size=TEXT, color=INK, ha="right", transform=across, bbox=paper
        )
        self.warm, self.band = (self.stands.words(0, up, ha="right", backed=True) for up in (73, 59))
        self.kept_stands = self.stands.line(lw=2, ls="--", color=GHOST)
        self.cooling = self.stands.line()
        self.paused = self.stands.mark()
        self.scales = self.tap, self.stands

    def _vessels(self, canvas: Canvas, left: int, top: int) -> None:
        """Draws what the run holds beside what is wasted, on one scale."""
        axes = canvas.drawing(left, top, 172, HEIGHT - top)
        self.bucket = canvas.words(axes, 0, 14, weight="bold")
        self.holds = Vessel(canvas, axes, 8, 34, 62, 198, "in the pipe")
        self.wasted = Vessel(canvas, axes, 100, 34, 62, 198, "wasted")

    def show(self, scene: WaitScene) -> None:
        moments = [
            (f"{stopwatch(t)}{': ' if words else ''}{words}", scene.run_at(t), scene.tap_at(t))
            for t, words in scene.instants
        ]
        self.strip.show(moments, self.system)
        self._show_tap(scene)
        self._show_vessels(scene)
        self._show_standing(scene)

    def sentence(self, scene: WaitScene) -> str:
        return sentence(scene, self.system)

    def _show_tap(self, scene: WaitScene) -> None:
        """Shows the tap against time."""
        wanted = 1.25 * max(2 * scene.sweep, scene.wait if np.isfinite(scene.wait) else 0)
        span = next((one for one in WAITS if one >= wanted), WAITS[-1])
        axis = since_opened(span)
        self.tap.stretch(across=axis)
        per = 60 if axis.kind == "minutes" else 1
        self.curve.set_data(
            np.append(scene.time, max(span, scene.time[-1])) / per, np.append(scene.at_tap, scene.at_tap[-1])
        )
        self.level.set_data([0, span / per], [scene.useful] * 2)
        self.swept.set_data([scene.sweep / per] * 2, [DEGREES["low"], DEGREES["high"]])
        finite = np.isfinite(scene.wait)
        self.mark.set_data(
            *(([scene.wait / per], [max(scene.useful, scene.start if scene.wait == 0 else 0)]) if finite else ([], []))
        )
        self.full.set_position((scene.sweep / per + 0.015 * span / per, 3))
        self.full.set_text("one pipe-full")
        self.enough.set_position((0.99 * span / per, scene.useful - 6))
        self.enough.set_text("warm enough")
        kept = self.kept
        self.kept_tap.set_data(
            *((np.append(kept.time, 1e6) / per, np.append(kept.at_tap, kept.at_tap[-1])) if kept else ([], []))
        )

    def _show_vessels(self, scene: WaitScene) -> None:
        """The smallest bucket that takes both."""
        sizes = BUCKETS[self.system == US]
        volumes = sizes.to("m**3").magnitude
        finite = np.isfinite(scene.wait)
        most = max(scene.content, scene.drawn if finite else 0)
        place = min(np.searchsorted(volumes, most), len(volumes) - 1)
        unit = "gal" if self.system == US else "L"
        self.bucket.set_text(f"{sizes.magnitude[place]:g} {unit} buckets")
        self.holds.show(scene.content / volumes[place], water_colour(scene.start), content(scene.content, self.system))
        text = content(scene.drawn, self.system) if finite else "all of it"
        self.wasted.show(scene.drawn / volumes[place] if finite else 1.0, water_colour(scene.start), text)
        kept = self.kept if self.kept and np.isfinite(self.kept.wait) else None
        self.wasted.show_kept(kept and kept.drawn / volumes[place])

    def _show_standing(self, scene: WaitScene) -> None:
        """The water at the tap after it is shut."""
        wanted = max(1.1 * scene.pause / 60 if np.isfinite(scene.pause) else 0, 3 * scene.half_life / 60)
        span = next((one for one in PAUSES if one >= wanted), PAUSES[-1])
        axis = between_draws(span)
        self.stands.stretch(across=axis)
        per = 60 if axis.kind == "minutes" else 1
        self.cooling.set_data(scene.hours * per, scene.standing)
        self.paused.set_data(*(([scene.pause / 3600 * per], [scene.start]) if np.isfinite(scene.pause) else ([], [])))
        right = 0.99 * span / 60 * per
        self.warm.set_x(right)
        self.band.set_x(right)
        self.warm.set_text(f"warm enough for {duration(scene.warm_for)}" if 0 < scene.warm_for < np.inf else "")
        self.band.set_text(f"in the band: {band_words(scene.band_hours)}")
        kept = self.kept
        self.kept_stands.set_data(*((kept.hours * per, kept.standing) if kept else ([], [])))

    def description(self, scene: WaitScene) -> str:
        rows = "; ".join(
            f"after {stopwatch(t)} {show(celsius(scene.tap_at(t)), 'temperature', self.system)} at the tap"
            for t, _ in scene.instants
        )
        return (
            f"Four drawings. The run as the hot front comes: {rows}. A curve of the tap's temperature. Two buckets:"
            " what the run holds and what is wasted. A curve of the water that stands after the draw, with the band in"
            f" which bacteria grow."
        )


def since_opened(span: float) -> Axis:
    """The scale of the tap's graph up to so many seconds."""
    kind, per = ("minutes", 60) if span > 120 else ("seconds", 1)
    ticks = even(0, span / per, span / per / 4)
    return Axis("since the tap opened", kind, 0, span / per, ticks, ticks)


def between_draws(minutes: float) -> Axis:
    """The scale of the standing water up to so many minutes."""
    kind, per = ("hours", 60) if minutes > 60 else ("minutes", 1)
    ticks = even(0, minutes / per, minutes / per / 4)
    return Axis("since the tap was shut", kind, 0, minutes / per, ticks, ticks)


def content(volume: float, system: str) -> str:
    """A volume [m3] in words."""
    return show(Q_(volume, "m**3"), "pipe content", system)


def band_words(hours: float) -> str:
    """Says how long the standing water is in the band where bacteria grow."""
    return "it stays" if np.isinf(hours) else duration(3600 * hours) if hours > 0 else "no time"


def sentence(scene: WaitScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    start, useful = (show(celsius(value), "temperature", system) for value in (scene.start, scene.useful))
    tap = just_under(scene.delivered, scene.useful, system)
    low, high = (show(edge, "temperature", system) for edge in GROWTH)
    when = "First draw of the day" if np.isinf(scene.pause) else f"Draw {duration(scene.pause)} after the last"
    holds = f"The run holds {content(scene.content, system)}."
    if np.isinf(scene.wait):
        first = f"{when}: the tap opens on {start} and never gets to {useful}. {holds}"
    elif scene.wait == 0:
        first = f"{when}: the tap opens on {start}, warm enough ({useful}) at once. {holds}"
    else:
        first = (
            f"{when}: the tap opens on {start} and is warm enough ({useful}) after {stopwatch(scene.wait)}, with"
            f" {content(scene.drawn, system)} wasted. {holds}"
        )
    hot = scene.delivered >= TOO_COOL_TO_BURN
    skin = f" ({skin_words(scene.burn_seconds, scene.burn_bound)})" if hot else ""
    if scene.band_hours == 0:
        band = f"is never between {low} and {high}"
    else:
        band = (
            f"stays between {low} and {high}"
            if np.isinf(scene.band_hours)
            else f"is between {low} and {high} for {band_words(scene.band_hours)}"
        )
    return f"{first} In the end it gives {tap}{skin}. Left to stand it {band}."
