"""Standing water: how it cools to 0 degC, and the ice that then grows inwards."""

import numpy as np

from ..quantities.display import US, celsius, ice_parts, show
from .canvas import FAINT, INK, TEXT, Canvas, quiet_spines
from .colours import GHOST, ICE_EDGE
from .rings import Rings

HIGHEST = 25.0  # [degC] shown
CELSIUS_TICKS = np.arange(0, 26, 5)
FAHRENHEIT_TICKS = np.arange(32, 78, 9)
# Spans of the time axis [h] whose quarters read well.
SPANS = (1 / 3, 2 / 3, 1, 2, 4, 8, 12, 16, 24, 48)
QUARTERS = np.array([0, 0.25, 0.5, 0.75, 1])
RING = 17  # [px]


def span_for(hours_to_zero: float, hours_to_solid: float) -> float:
    """The time axis [h] that shows when ice can form and most of its growth."""
    if np.isinf(hours_to_zero):
        return 24.0
    wanted = max(1.5 * hours_to_zero, 0.6 * hours_to_solid)
    return next((span for span in SPANS if span >= wanted), SPANS[-1])


def _time_label(hours: float) -> str:
    if hours == 0:
        return "0"
    return f"{60 * hours:.0f} min" if hours < 1 else f"{hours:g} h"


class StandingPipe:
    """A cooling curve from the cold inlet, a fainter one from hot, and a row of cut-through pipes with their ice."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas = canvas
        axes = self.axes = canvas.axes(left + 44, top + 28, width - 44 - RING - 6, height - 4)
        quiet_spines(axes)
        axes.set(xlim=(0, 1), ylim=(0, HIGHEST), xticks=QUARTERS, xticklabels=[])
        self.ice_line = canvas.moving(*axes.plot([], [], color=ICE_EDGE, lw=6, solid_capstyle="butt"))
        self.warm = canvas.moving(*axes.plot([], [], lw=1.6, ls=":", color=FAINT))
        self.kept = canvas.moving(*axes.plot([], [], lw=2, ls="--", color=GHOST))
        self.cold = canvas.moving(*axes.plot([], [], lw=3, color=INK))
        self.mark = canvas.moving(*axes.plot([], [], "v", ms=13, color=ICE_EDGE, clip_on=False))
        self.note = canvas.words(axes, 0.99, 22.6, color=ICE_EDGE, weight="bold", ha="right", backed=True)
        self.starts = canvas.words(axes, 0.99, 20.2, color=FAINT, ha="right", backed=True)
        around = canvas.drawing(left, top, width, height + 94)
        around.text(0, 14, "If the water stands still", size=TEXT, weight="bold", color=INK)
        low = height + 24
        around.text(0, low + 54, "ice", size=TEXT, color=INK)
        places = 44 + QUARTERS * (width - 44 - RING - 6)
        self.labels = [canvas.words(around, x, low + 22, ha="center") for x in places[:-1]]
        # ends with the drawing, so that the words are not cut
        self.labels.append(canvas.words(around, width, low + 22, ha="right"))
        self.rings = Rings(canvas, around, places, low + 48, RING)

    def units(self, system: str) -> None:
        """Label the scale in the reader's unit."""
        ticks = FAHRENHEIT_TICKS if system == US else CELSIUS_TICKS
        self.axes.set_yticks((ticks - 32) / 1.8 if system == US else ticks, [f"{tick}°" for tick in ticks])
        self.canvas.renew(self, system)

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see main_picture.Scene)."""
        span = scene.span
        liquid = scene.hours <= scene.hours_to_zero
        self.cold.set_data(scene.hours[liquid] / span, scene.standing_cold[liquid])
        self.warm.set_data(scene.hours / span, scene.standing_warm)
        frozen = np.isfinite(scene.hours_to_zero) and scene.hours_to_zero <= span
        self.mark.set_data([scene.hours_to_zero / span] if frozen else [], [0.8] if frozen else [])
        self.ice_line.set_data([scene.hours_to_zero / span, 1] if frozen else [], [0, 0] if frozen else [])
        # the reason stands in the sentence
        self.note.set_text(ice_parts(scene.hours_to_zero, scene.rest)[0])
        cold, warm = (show(celsius(value), "temperature", system) for value in (scene.cold_inlet, scene.supply))
        self.starts.set_text(f"from {cold} (dotted: from {warm})")
        hours = QUARTERS * span
        for label, hour in zip(self.labels, hours):
            label.set_text(_time_label(hour))
        self.rings.show(
            np.interp(hours, scene.ice_hours, scene.ice_shares), np.interp(hours, scene.hours, scene.standing_cold)
        )

    def show_kept(self, scene, span: float) -> None:
        """The curve kept for comparison, on the present time axis [h]; None: nothing."""
        if scene is None:
            self.kept.set_data([], [])
        else:
            self.kept.set_data(scene.hours / span, scene.standing_cold)
