"""Tank, pipe, two taps, and a mixing valve that may sit in four places. Lengthwise to scale."""

import numpy as np
from matplotlib.patches import FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import TANK, water_colour
from ...drawing.pipe_strip import tap
from ...quantities.border import ROUNDING
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.bacteria import GROWTH

NOWHERE, AT_TANK, BETWEEN, AT_EACH = "no valve", "at the tank", "between the taps", "at each tap"
PLACES = (NOWHERE, AT_TANK, BETWEEN, AT_EACH)
MAIN, COLD, SPOUT = 58, 94, 113  # [px] down to the hot main, the cold line, the taps
HALF, THIN = 8, 3  # [px] half the drawn pipe; half the cold line
START, END = 66, 792  # [px] tank and last tap
VALVE, AFTER_FIRST = 108, 74  # [px] the valve at the tank; how far after the first tap the valve between the taps sits
# A three-way valve: hot from the left, cold from below, mixed to the right.
SHAPE = np.array([(-13, -9), (-13, 9), (0, 0), (-9, 13), (9, 13), (0, 0), (13, 9), (13, -9), (0, 0)])
TURNED = np.column_stack([-SHAPE[:, 1], SHAPE[:, 0]])  # hot from above, cold from the left, mixed downwards


class ValveStrip:
    """first : share of the way from the tank at which the first tap is; the last is at the end."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int, first: float):
        axes = self.axes = canvas.drawing(left, top, width, height)
        self.taps = (START + first * (END - START), END)
        self.between = self.taps[0] + AFTER_FIRST
        axes.text(0, 14, "From tank to taps", size=TEXT, weight="bold", color=INK)
        axes.add_patch(
            FancyBboxPatch((6, 26), 54, 100, boxstyle="round,pad=0,rounding_size=10", fc=TANK, ec=INK, lw=1.5)
        )
        water = FancyBboxPatch((11, 31), 44, 90, boxstyle="round,pad=0,rounding_size=7", ec="none")
        self.tank = canvas.moving(axes.add_patch(water))
        axes.text(33, 144, "tank", size=TEXT, color=INK, ha="center")
        axes.plot([60, START], [MAIN, MAIN], lw=8, color=INK, solid_capstyle="butt")
        self.cold = [canvas.moving(axes.add_patch(Rectangle((0, 0), 0, 0, ec=INK, lw=0.8))) for _ in range(2)]
        self.stubs = [[self._piece(canvas) for _ in range(2)] for _ in self.taps]
        self.main = [self._piece(canvas) for _ in range(4)]
        canvas.moving(axes.add_patch(Polygon(self._outline(), fill=False, ec=INK, lw=1.8)))
        self.drops = [tap(canvas, axes, x, SPOUT) for x in self.taps]
        self.valves = [canvas.moving(axes.add_patch(Polygon(SHAPE, fc="white", ec=INK, lw=1.8))) for _ in range(2)]
        self.in_tank = canvas.words(axes, 33, 82, weight="bold", ha="center", backed=True)
        middles = 0.5 * (VALVE + 13 + self.taps[0]), 0.5 * (self.between + END)
        self.in_main = [canvas.words(axes, x, MAIN + 6, weight="bold", ha="center", backed=True) for x in middles]
        self.at_taps = [canvas.words(axes, x - 14, SPOUT + 26, weight="bold", ha="right") for x in self.taps]
        self.of_cold = canvas.words(axes, START + 8, COLD + 22, color=FAINT)
        self.of_valve = canvas.words(axes, 0, MAIN - 18, ha="center")
        self.tepid = canvas.words(axes, width - 4, 14, weight="bold", ha="right")

    def _piece(self, canvas):
        """A piece of pipe and its hatch, which says tepid."""
        plain = Rectangle((0, 0), 0, 0, ec="none")
        hatched = Rectangle((0, 0), 0, 0, fill=False, ec=INK, hatch="///", lw=0)
        return [canvas.moving(self.axes.add_patch(patch)) for patch in (plain, hatched)]

    def _outline(self) -> list:
        """Once round the main and both ways down to the taps."""
        down = [
            corner
            for x in reversed(self.taps)
            for corner in (
                (x + HALF, MAIN + HALF),
                (x + HALF, SPOUT + 6),
                (x - HALF, SPOUT + 6),
                (x - HALF, MAIN + HALF),
            )
        ]
        return [(START, MAIN - HALF), (END + HALF, MAIN - HALF), *down, (START, MAIN + HALF)]

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see hot_enough_picture.Scene)."""
        trunk, leg = scene.trunk, scene.leg
        edges = (START, VALVE, self.taps[0], self.between, END + HALF)
        temperatures = (scene.tank, trunk, scene.tank if scene.place == BETWEEN else leg, leg)
        for piece, begin, end, value in zip(self.main, edges, edges[1:], temperatures):
            self._lay(piece, begin, MAIN - HALF, end - begin, 2 * HALF, value)
        for pieces, x, above, below in zip(self.stubs, self.taps, (trunk, leg), (scene.first, scene.last)):
            self._lay(pieces[0], x - HALF, MAIN + HALF, 2 * HALF, COLD - MAIN - HALF, above)
            self._lay(pieces[1], x - HALF, COLD, 2 * HALF, SPOUT + 6 - COLD, below)
        for drop, value in zip(self.drops, (scene.first, scene.last)):
            drop.set_facecolor(water_colour(value))
        self.tank.set_facecolor(water_colour(scene.tank))
        self._place_valve(scene)
        self._write(scene, system)

    def _lay(self, piece, x, y, width, height, value) -> None:
        """A piece of pipe from corner to size with water of a temperature [degC]."""
        plain, hatched = piece
        for patch in piece:
            patch.set_bounds(x, y, width, height)
        plain.set_facecolor(water_colour(value))
        hatched.set_visible(is_tepid(value))

    def _place_valve(self, scene) -> None:
        """The valve or valves, and the cold line that feeds them."""
        single = {AT_TANK: VALVE, BETWEEN: self.between}.get(scene.place)
        each = scene.place == AT_EACH
        for valve, x in zip(self.valves, self.taps):
            valve.set_visible(each)
            valve.set_xy(TURNED + (x, COLD))
        if single is not None:
            self.valves[0].set(visible=True, xy=SHAPE + (single, MAIN))
        end = self.taps[1] - 13 if each else single or START
        along, up = self.cold
        along.set_bounds(START + 8, COLD - THIN, end + THIN - START - 8, 2 * THIN)
        up.set_bounds(end - THIN, MAIN + 13, 2 * THIN, COLD - MAIN - 13 + THIN)
        along.set(visible=scene.place != NOWHERE, facecolor=water_colour(scene.cold))
        up.set(visible=single is not None, facecolor=water_colour(scene.cold))
        self.of_valve.set_x(max(single or self.taps[0], START + 66))

    def _write(self, scene, system: str) -> None:
        """Writes every word and number."""
        tank, cold, out, first, last, trunk, leg = (
            show(celsius(value), "temperature", system)
            for value in (scene.tank, scene.cold, scene.out, scene.first, scene.last, scene.trunk, scene.leg)
        )
        self.in_tank.set_text(tank)
        for words, text in zip(self.in_main, (trunk, leg)):
            words.set_text(text)
        for words, name, text in zip(self.at_taps, ("first tap", "last tap"), (first, last)):
            words.set_text(f"{name} {text}")
        self.of_cold.set_text("" if scene.place == NOWHERE else f"cold {cold}")
        called = "valves" if scene.place == AT_EACH else "valve"
        self.of_valve.set_text(
            "" if scene.place == NOWHERE else f"{called} {out}" if scene.holds else f"{called}: can't hold"
        )
        volume = show(Q_(scene.tepid_volume, "m**3"), "pipe content", system)
        most = show(celsius(scene.tepid_most), "temperature", system)
        self.tepid.set_text(
            f"hatched: {volume} of tepid pipe, {most} at most" if scene.tepid_volume > 0 else HOT_THROUGHOUT
        )


HOT_THROUGHOUT, TEPID_ENDS = Word("hot to the taps", 0), Word("tepid ends only", 0)
TEPID_AFTER, TEPID_THROUGHOUT = Word("tepid pipe", 1), Word("tepid all the way", 2)
# Tepid water that guidance on short pipes after a valve would let pass [m3]: a teaching value (common practice).
SHORT_ENDS = Q_(0.5, "L").to("m**3").magnitude


def is_tepid(value: float) -> bool:
    """Says whether water of this temperature lets bacteria live [degC]."""
    return value < GROWTH[1].magnitude - ROUNDING


def tepid_word(tank: float, volume: float) -> Word:
    """One word for the pipes. tank [degC], volume : of the pipes that never get hot [m3]"""
    if volume == 0:
        return HOT_THROUGHOUT
    if is_tepid(tank):
        return TEPID_THROUGHOUT
    return TEPID_ENDS if volume <= SHORT_ENDS else TEPID_AFTER
