"""The reader's own building as a pipefitter's sketch, with what its slowest, hottest and coldest points say."""

from dataclasses import dataclass

import numpy as np

from ...building.sketch.isometric import Isometric, describe
from ...building.words import burn_words, hours_words, on_night, wait_words
from ...drawing.canvas import Canvas
from ...drawing.picture import Picture
from ...quantities.display import show

WIDTH, HEIGHT = 884, 500  # [px]
NO_TAP = "no tap can be worked out yet."


@dataclass(frozen=True)
class OwnRunScene:
    """A Layout and its LayoutAssessment."""

    layout: object
    found: object


class OwnRunPicture(Picture):
    """Shows the sketch of a layout."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 552, HEIGHT),
        (WIDTH - 552, 0, 552, HEIGHT),
    )

    def build(self, canvas: Canvas) -> None:
        self.sketch = Isometric(canvas, 0, 0, WIDTH, HEIGHT)

    def show(self, scene: OwnRunScene) -> None:
        self.sketch.show(scene.layout, scene.found, self.system)

    def sentence(self, scene: OwnRunScene) -> str:
        """Tells of the slowest tap, the hottest tap and the coldest leg."""
        found = scene.found
        told = self._taps(scene) if found.taps else [f"{scene.layout.name}: {NO_TAP}"]
        if found.coldest is None:
            told.append("No leg lies where it can freeze.")
        else:
            leg = found.leg(found.coldest)
            told.append(
                f"First to freeze, {leg.leg}: without power {hours_words(leg.without_power, leg.rest)}{on_night(leg)}."
            )
        return " ".join(told)

    def _taps(self, scene: OwnRunScene) -> list[str]:
        """Tells of the slowest tap and of the hottest, where water comes."""
        found = scene.found
        slow, hot = found.tap(found.slowest), found.tap(found.hottest).hottest_night
        told = [
            f"{scene.layout.name}: {wait_words(slow, self.system)} at the slowest tap, {slow.name}{on_night(slow)}."
        ]
        if np.isfinite(hot.delivered.magnitude):
            told.append(
                f"Hottest, {hot.name}: {show(hot.delivered, 'temperature', self.system)},"
                f" {burn_words(hot.delivered)}{on_night(hot)}."
            )
        return told

    def description(self, scene: OwnRunScene) -> str:
        return describe(scene.layout, scene.found, self.system)
