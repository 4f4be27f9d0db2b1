"""The first picture of the start page: a pipe from tank to tap, and its standing water in a bucket."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, TANK, water_colour
from ...drawing.picture import Picture
from ...drawing.vessels import Vessel
from ...quantities.display import SI, US, show, stopwatch
from ...quantities.units import Q_

WIDTH, HEIGHT, BELOW = 800, 330, 136  # [px] the whole, and the top of what stands beneath the pipe
START, END, LONGEST = 70, 740, 61.0  # [px] from tank to the farthest tap; [m] its distance
MIDDLE, HALF = 70, 9  # [px] the pipe's axis, half the drawn pipe
HOT, ROOM = 60.0, 20.0  # [degC] in the tank, and in the pipe after a night
BUCKETS = {SI: Q_(20, "L"), US: Q_(6, "gallon")}  # each takes what the longest pipe holds
TAP = np.array(
    [(0, -7), (10, -7), (10, -18), (2, -18), (2, -23), (24, -23), (24, -18), (16, -18), (16, -7), (30, -7)]
    + [(38, 0), (38, 16), (26, 16), (26, 7), (0, 7)]
)  # [px] around the end of the pipe


@dataclass(frozen=True)
class Standing:
    """Says what stands in one pipe: its name, volume [m3], and the time to run it out [s]."""

    pipe: str
    volume: float
    wait: float


@dataclass(frozen=True)
class PipeScene:
    """Holds the length [m], a tap's flow [m3/s], and for each unit system what stands in the pipe of its readers."""

    length: float
    flow: float
    stands: dict

    def volume(self, system: str) -> str:
        """Gives the standing water in words."""
        return show(Q_(self.stands[system].volume, "m**3"), "pipe content", system)


class FirstPicture(Picture):
    """Shows the pipe as long as it is against the longest one, and a bucket with the water that stands in it."""

    size = WIDTH, HEIGHT
    parts = ((170, BELOW, 460, HEIGHT - BELOW), (0, 0, 400, BELOW), (400, 0, 400, BELOW))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, WIDTH, BELOW)
        axes.text(4, 14, "From tank to tap", size=TEXT, weight="bold", color=INK)
        for inset, colour in ((0, TANK), (5, water_colour(HOT))):
            size = 44 - 2 * inset, 76 - 2 * inset
            corner = 8 + inset, MIDDLE - 38 + inset
            axes.add_patch(FancyBboxPatch(corner, *size, boxstyle="round,pad=0,rounding_size=8", fc=colour, ec=INK))
        axes.plot([52, START], [MIDDLE] * 2, lw=8, color=INK, solid_capstyle="butt")
        standing = Rectangle((START, MIDDLE - HALF), 0, 2 * HALF, fc=water_colour(ROOM), ec=INK, lw=1.8)
        self.pipe = canvas.moving(axes.add_patch(standing))
        self.tap = canvas.moving(axes.add_patch(Polygon(TAP, fc=FAINT, ec=INK)))
        self.kept_tap = canvas.moving(*axes.plot([0, 0], [MIDDLE - 24, MIDDLE + 24], lw=2.5, ls="--", color=GHOST))
        self.of_pipe = canvas.words(axes, START, MIDDLE + 40)
        below = canvas.drawing(170, BELOW, 460, HEIGHT - BELOW)
        self.bucket = Vessel(canvas, below, 50, 20, 100, 116, "in a bucket")
        self.size_of = canvas.words(below, 100, 12, ha="center", color=FAINT)
        self.lines = [canvas.words(below, 200, 50 + 30 * row, weight="bold" if row == 2 else None) for row in range(3)]

    def show(self, scene: PipeScene) -> None:
        end, stands, bucket = self._end(scene), scene.stands[self.system], BUCKETS[self.system]
        self.pipe.set_width(end - START)
        self.tap.set_xy(TAP + (end, MIDDLE))
        self.of_pipe.set_text(f"{self._length(scene)} of bare {stands.pipe}")
        volume, flow = scene.volume(self.system), show(Q_(scene.flow, "m**3/s"), "flow", self.system)
        self.bucket.show(self._share(scene), water_colour(ROOM), volume)
        self.size_of.set_text(f"{show(bucket, 'large volume', self.system)} bucket")
        told = (f"in the pipe: {volume}", f"the tap gives: {flow}", f"{volume} ÷ {flow} = {stopwatch(stands.wait)}")
        for line, words in zip(self.lines, told):
            line.set_text(words)
        self.kept_tap.set_visible(self.kept is not None)
        if self.kept:
            self.kept_tap.set_xdata([self._end(self.kept)] * 2)
        self.bucket.show_kept(self.kept and self._share(self.kept))

    def _share(self, scene: PipeScene) -> float:
        return scene.stands[self.system].volume / BUCKETS[self.system].to("m**3").magnitude

    def _end(self, scene: PipeScene) -> float:
        """Says where the tap is [px]."""
        return START + (END - START) * scene.length / LONGEST

    def _length(self, scene: PipeScene) -> str:
        return show(Q_(scene.length, "m"), "length", self.system)

    def sentence(self, scene: PipeScene) -> str:
        """Puts into words what the picture shows, with its numbers."""
        stands = scene.stands[self.system]
        flow = show(Q_(scene.flow, "m**3/s"), "flow", self.system)
        return (
            f"{self._length(scene)} of {stands.pipe} hold {scene.volume(self.system)} of cool water. A tap that gives"
            f" {flow}"
            f" empties the pipe in {stopwatch(stands.wait)}. Hot water cannot come sooner."
        )

    def description(self, scene: PipeScene) -> str:
        return "A pipe from a tank to a tap, as long as the slider says, and a bucket with the water that stands in it."
