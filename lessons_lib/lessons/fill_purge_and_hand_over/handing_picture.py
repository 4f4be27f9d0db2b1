"""A mixing valve between its inlets, with what stands before them, and the pressures before and behind it."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.picture import Picture
from ...drawing.pipe_strip import tap
from ...plant.mixing_valve import CANNOT_PASS, CHECKED, PLAIN
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from .setting_picture import RUNS_ON, TRICKLES

WIDTH, HEIGHT = 884, 330  # [px]
HOT, COLD, OUT, VALVE, TAP = 92, 226, 159, 300, 372  # [px] down to hot, cold and outlet; across to valve and tap
STRAINER, CHECK, STOP = 122, 186, 236  # [px] across to what stands before an inlet
LEFT, ROOM, FIRST, PITCH = 8, 270, 66, 66  # [px] bars: from the left, longest, down to the first, between them
HIGHEST = 600e3  # [Pa] on the bars' scale
BOW_TIE = np.array([(-10, -9), (10, 9), (10, -9), (-10, 9)])


@dataclass(frozen=True)
class HandingScene:
    """Everything that the picture shows, in SI floats; pressures above the air's, temperatures in degC.

    outcome : what the outlet does with the cold shut, "" while it is open; outlet : pressure behind the valve
    takes : what the valve takes of the weaker inlet; hot_port : how far it is open; crossing : with the tap shut
    """

    kind: str
    where: str
    class_word: Word
    shut: bool
    outcome: str
    inlets: str
    hot_pressure: float
    cold_pressure: float
    outlet: float
    takes: float
    hot: float
    cold: float
    mixed: float
    flow: float
    hot_share: float
    hot_port: float
    crossing: float
    ratio: float
    pressures_word: Word
    flow_word: Word
    inlets_word: Word
    why: dict


class HandingPicture(Picture):
    """Shows the valve and its inlets, and the pressures as bars."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 520, HEIGHT), (530, 0, WIDTH - 530, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, 520, HEIGHT)
        axes.text(8, 18, "The valve and what stands before it", size=TEXT, weight="bold", color=INK)
        self.lines = {
            "hot": _line(canvas, axes, [20, VALVE, VALVE], [HOT, HOT, OUT - 18]),
            "cold": _line(canvas, axes, [20, VALVE, VALVE], [COLD, COLD, OUT + 18]),
            "mixed": _line(canvas, axes, [VALVE + 20, TAP], [OUT, OUT]),
        }
        axes.add_patch(Rectangle((VALVE - 22, OUT - 22), 44, 44, fc="white", ec=INK, lw=2, zorder=3))
        self.ports = [
            canvas.moving(axes.add_patch(Rectangle((VALVE - 16, OUT - 18), 32, 0, ec=INK, lw=0.6, zorder=4)))
            for _ in range(2)
        ]
        self.drop = tap(canvas, axes, TAP, OUT)
        self.stream = canvas.moving(axes.add_patch(Rectangle((TAP + 27, OUT + 18), 10, 62, ec=INK, lw=0.5)))
        axes.plot([TAP + 4, TAP + 10, TAP + 54, TAP + 60], [226, 262, 262, 226], lw=2.5, color=INK)
        self.fitted = [self._fitted(canvas, axes, y) for y in (HOT, COLD)]
        stop = Polygon(BOW_TIE + (STOP, COLD), ec=INK, lw=1.6, zorder=3)
        self.stop = canvas.moving(axes.add_patch(stop))
        self.stop_words = canvas.words(axes, STOP, COLD + 28, ha="center")
        self.of_hot = canvas.words(axes, 20, HOT - 38, weight="bold")
        self.of_cold = canvas.words(axes, 20, COLD + 50, weight="bold")
        self.of_mixed = canvas.words(axes, TAP + 60, OUT - 28, weight="bold", ha="center")
        self.port_words = canvas.words(axes, VALVE - 30, OUT + 5, ha="right")
        self.outcome = canvas.words(axes, TAP + 32, 286, weight="bold", ha="center")
        self.where = canvas.words(axes, 8, HEIGHT - 12, color=FAINT)
        self._bars(canvas)

    def _fitted(self, canvas: Canvas, axes, y: float) -> tuple:
        """A strainer, a check valve that opens to the right, and their words; hidden where they are not fitted."""
        strainer = Polygon([(STRAINER - 12, y - 9), (STRAINER + 12, y - 9), (STRAINER + 2, y + 14)], hatch="xx")
        check = Polygon([(CHECK - 9, y - 9), (CHECK + 9, y), (CHECK - 9, y + 9)])
        for patch, fill in ((strainer, "white"), (check, INK)):
            patch.set(fc=fill, ec=INK, lw=1.4, zorder=3)
            canvas.moving(axes.add_patch(patch))
        bar = canvas.moving(*axes.plot([CHECK + 10] * 2, [y - 10, y + 10], lw=3, color=INK, zorder=3))
        words = canvas.words(axes, STRAINER, y + 30, ha="center"), canvas.words(axes, CHECK, y - 16, ha="center")
        return strainer, check, bar, words

    def _bars(self, canvas: Canvas) -> None:
        axes = canvas.drawing(530, 0, WIDTH - 530, HEIGHT)
        axes.text(LEFT, 18, "Pressure while the tap is open", size=TEXT, weight="bold", color=INK)
        self.bars, self.kept_marks, self.values = [], [], []
        for place, title in enumerate(("hot inlet", "cold inlet", "behind the valve")):
            y = FIRST + place * PITCH
            axes.text(LEFT, y - 6, title, size=TEXT, color=INK)
            axes.add_patch(Rectangle((LEFT, y), ROOM, 22, fc="white", ec=FAINT))
            self.bars.append(canvas.moving(axes.add_patch(Rectangle((LEFT, y), 0, 22, ec=INK))))
            self.kept_marks.append(canvas.moving(*axes.plot([], [], lw=3, color=GHOST)))
            self.values.append(canvas.words(axes, LEFT + ROOM + 6, y + 16, weight="bold"))
        self.taken = canvas.words(axes, LEFT, FIRST + 3 * PITCH - 8)
        self.share = canvas.words(axes, LEFT, FIRST + 3 * PITCH + 14)
        self.cross = canvas.words(axes, LEFT, FIRST + 3 * PITCH + 36, weight="bold")

    def show(self, scene: HandingScene) -> None:
        self._show_valve(scene)
        self._show_inlets(scene)
        shown = (scene.hot_pressure, scene.hot), (scene.cold_pressure, scene.cold), (scene.outlet, scene.mixed)
        kept = self.kept and (self.kept.hot_pressure, self.kept.cold_pressure, self.kept.outlet)
        for place, (bar, words, (pressure, warm)) in enumerate(zip(self.bars, self.values, shown)):
            bar.set(width=ROOM * min(max(pressure, 0) / HIGHEST, 1.0), facecolor=water_colour(warm))
            words.set_text(self._pressure(max(pressure, 0.0)))
            x = LEFT + ROOM * min(max(kept[place], 0) / HIGHEST, 1.0) if kept else 0
            y = FIRST + place * PITCH
            self.kept_marks[place].set_data(*(([x, x], [y - 3, y + 25]) if kept else ([], [])))
        self.taken.set_text(f"the valve takes {self._pressure(scene.takes)}")
        self.share.set_text(f"hot share {scene.hot_share:.0%}, hot port open {scene.hot_port:.0%}")
        crossing = show(Q_(scene.crossing, "m**3/s"), "flow", self.system)
        weak = "cold" if scene.hot_pressure > scene.cold_pressure else "hot"
        self.cross.set_text(f"tap shut: up to {crossing} into the {weak}" if scene.crossing else "")

    def _pressure(self, value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", self.system)

    def _degrees(self, value: float) -> str:
        return show(celsius(value), "temperature", self.system)

    def _show_valve(self, scene: HandingScene) -> None:
        runs_on, dry = scene.outcome == RUNS_ON, scene.outcome == TRICKLES
        given = scene.hot if runs_on else scene.mixed
        for name, value in (("hot", scene.hot), ("cold", scene.cold), ("mixed", given)):
            self.lines[name].set_color(water_colour(value))
        for port, top, tall, warm in (
            (self.ports[0], OUT - 18, 36 * scene.hot_port, scene.hot),
            (self.ports[1], OUT - 18 + 36 * scene.hot_port, 36 * (1 - scene.hot_port), scene.cold),
        ):
            port.set(y=top, height=tall, facecolor=water_colour(warm))
        self.stream.set(visible=not dry, facecolor=water_colour(given))
        self.drop.set(visible=dry, facecolor=water_colour(scene.mixed))
        self.stop.set_facecolor(INK if scene.shut else "white")
        self.stop_words.set_text("shut" if scene.shut else "open")
        self.of_hot.set_text(f"hot {self._degrees(scene.hot)}, {self._pressure(scene.hot_pressure)}")
        self.of_cold.set_text(f"cold {self._degrees(scene.cold)}, {self._pressure(scene.cold_pressure)}")
        flow = show(Q_(scene.flow, "m**3/s"), "flow", self.system)
        self.of_mixed.set_text("" if scene.shut else f"{self._degrees(scene.mixed)}, {flow}")
        self.port_words.set_text(scene.kind)
        self.outcome.set_text(scene.outcome)
        self.where.set_text(scene.where)

    def _show_inlets(self, scene: HandingScene) -> None:
        for strainer, check, bar, (of_strainer, of_check) in self.fitted:
            strained, checked = scene.inlets == CHECKED, scene.inlets != PLAIN
            strainer.set_visible(strained)
            check.set_visible(checked)
            bar.set_visible(checked)
            of_strainer.set_text("strainer" if strained else "")
            of_check.set_text("check valve" if checked else "")

    def sentence(self, scene: HandingScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: HandingScene) -> str:
        return (
            f"Two drawings. A mixing valve between a hot and a cold inlet, with {scene.inlets} before them, and a tap"
            " over a bucket. Bars of the pressure at both inlets and behind the valve."
        )


def _line(canvas: Canvas, axes, x, y):
    """A pipe with water: dark beneath, coloured above."""
    axes.plot(x, y, lw=10, color=INK, solid_capstyle="butt", solid_joinstyle="miter")
    return canvas.moving(*axes.plot(x, y, lw=7, solid_capstyle="butt", solid_joinstyle="miter"))


def sentence(scene: HandingScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""

    def pressure(value: float) -> str:
        return show(Q_(value, "Pa"), "pressure", system)

    flow, crossing = (show(Q_(value, "m**3/s"), "flow", system) for value in (scene.flow, scene.crossing))
    leaves = f"leaves {pressure(scene.outlet)}" if scene.outlet >= 0 else CANNOT_PASS
    first = (
        f"A valve of class {scene.kind} stands between {pressure(scene.hot_pressure)} hot and"
        f" {pressure(scene.cold_pressure)} cold. At {flow} it takes {pressure(scene.takes)} and {leaves}."
    )
    hot = show(celsius(scene.hot), "temperature", system)
    second = {
        "": f" When its cold fails it {'must' if scene.class_word.gravity == 0 else 'need not'} shut.",
        TRICKLES: f" With the cold shut the outlet {TRICKLES}.",
        RUNS_ON: f" With the cold shut this class may let {hot} run on.",
    }[scene.outcome]
    third = f" With the tap shut up to {crossing} push into the weaker side." if scene.crossing else ""
    return first + second + third
