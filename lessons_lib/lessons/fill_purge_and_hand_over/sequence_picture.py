"""The whole installation as far as the work has come: what is fitted, where water and air are, and whether heat is
allowed.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Circle, FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import FOAM, FOAM_EDGE, TANK, water_colour
from ...drawing.picture import Picture
from ...drawing.pipe_strip import tap
from ...plant.work_order import WorkOrder, steps
from ..hot_enough_not_too_hot.valve_strip import SHAPE

WIDTH, HEIGHT = 884, 352  # [px]
EMPTY = "#ffffff"
COLD, HOT, MIXED = (water_colour(value) for value in (10.0, 65.0, 44.0))
LOCKED, ALLOWED = "#73808c", "#2f6f4f"
# Pipes as lines of corners [px]; the tank stands between (402, 92) and (482, 290), outdoors is left of x = 236.
PIPES = {
    "loop": ([116, 402, 402, 116], [206, 206, 158, 158]),
    "vent": ([330, 330], [158, 126]),
    "hot": ([442, 442, 617], [92, 52, 52]),
    "run": ([643, 812], [52, 52]),
    "main": ([872, 482], [276, 276]),
    "mixing cold": ([630, 630], [276, 65]),
    "to vessel": ([694, 694], [276, 236]),
}
LOOP = (([116, 402], [206, 206]), ([116, 402], [158, 158]))
COVERED = (*LOOP, PIPES["run"])  # with foam once it is fitted
AIR = [
    (160, 158),
    (214, 158),
    (290, 158),
    (330, 136),
    (190, 206),
    (362, 206),
    (480, 52),
    (540, 52),
    (670, 52),
    (722, 52),
    (776, 52),
]


@dataclass(frozen=True)
class SequenceScene:
    """Holds how far the work has come."""

    order: WorkOrder
    refused: int  # steps that were tried while they were locked

    def has(self, key: str) -> bool:
        """Says whether a step is done."""
        return key in self.order.done

    @property
    def pipes(self) -> str:
        """Says what is in the pipes, in words."""
        if self.has("purge"):
            return "Water runs solid at the highest hot tap and at the loop's return vent"
        if self.has("fill"):
            return "The pipes are full, and there is air in them"
        return "The pipes hold test water, nothing more" if self.has("pressure test") else "The pipes are empty"

    @property
    def tank(self) -> str:
        """Says what is in the tank, in words."""
        return (
            "the tank is hot"
            if self.has("first heat")
            else "the tank is full and cold"
            if self.has("fill")
            else "the tank is empty"
        )

    @property
    def answer(self) -> str:
        """Says how far the work has come and whether heat is allowed: the one answer of this panel."""
        return f"{len(self.order.done)} of {len(steps())} steps are done: {self.heat}"

    @property
    def heat(self) -> str:
        """Says whether heat is allowed, in words."""
        return "heat is allowed" if self.order.may_heat else "heat is locked"


class SequencePicture(Picture):
    """Shows the installation as far as the work has come."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 504, HEIGHT), (396, 0, WIDTH - 396, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = self.axes = canvas.drawing(0, 0, WIDTH, HEIGHT)
        axes.text(4, 16, "The installation as it stands", size=TEXT, weight="bold", color=INK)
        axes.plot([236, 236], [70, 300], lw=6, color=FOAM_EDGE, solid_capstyle="butt")
        for x, word in ((118, "outdoors"), (300, "indoors")):
            axes.text(x, 50, word, size=TEXT, color=FAINT, ha="center")
        self.foam = [canvas.moving(*axes.plot(*way, lw=24, color=FOAM, solid_capstyle="butt")) for way in COVERED]
        self.water = {name: self._pipe(way) for name, way in PIPES.items()}
        self._stands(canvas, axes)
        self.bubbles = canvas.moving(*axes.plot(*np.transpose(AIR), "o", ms=6, mfc="white", mec=INK, mew=1.2))
        self.fitted = [
            canvas.moving(axes.add_patch(Polygon(SHAPE + (630, 52), fc="white", ec=INK, lw=2))),
            canvas.moving(
                axes.add_patch(
                    FancyBboxPatch((676, 186), 36, 50, boxstyle="round,pad=0,rounding_size=9", fc="white", ec=INK, lw=2)
                )
            ),
            canvas.moving(*axes.plot([466, 466, 498, 498], [92, 78, 78, 250], lw=3, color=INK)),
        ]
        self.drop = tap(canvas, axes, 812, 52)
        self.drop.set_facecolor(COLD)
        self.bolt = canvas.moving(
            axes.add_patch(Polygon([(62, 92), (44, 122), (58, 122), (50, 146), (74, 112), (60, 112), (72, 92)], ec=INK))
        )
        self.sheet = self._sheet(canvas, axes)
        self.power, self.tank_words = (
            canvas.words(axes, x, y, weight="bold", ha=ha, backed=backed)
            for x, y, ha, backed in ((84, 116, "left", False), (442, 196, "center", True))
        )
        self.lock = canvas.moving(axes.add_patch(Rectangle((4, 336), 0, 5)))

    def _pipe(self, way):
        """Draws a pipe: dark beneath, its water above."""
        self.canvas.moving(*self.axes.plot(*way, lw=9, color=INK, solid_capstyle="butt", solid_joinstyle="miter"))
        return self.canvas.moving(*self.axes.plot(*way, lw=6, solid_capstyle="butt", solid_joinstyle="miter"))

    def _stands(self, canvas: Canvas, axes) -> None:
        """Draws what is there from the first day: heat pump, tank, main, and the places of what is fitted later."""
        axes.add_patch(Rectangle((26, 150), 90, 66, fc=TANK, ec=INK, lw=2))
        axes.add_patch(Circle((71, 183), 24, fc="white", ec=INK, lw=1.5))
        axes.plot([54, 88], [166, 200], [54, 88], [200, 166], lw=2, color=FAINT)
        axes.plot([20, 122], [222, 222], lw=5, color=FAINT)
        canvas.moving(
            axes.add_patch(
                FancyBboxPatch((402, 92), 80, 198, boxstyle="round,pad=0,rounding_size=10", fc=TANK, ec=INK, lw=2)
            )
        )
        inside = FancyBboxPatch((408, 98), 68, 186, boxstyle="round,pad=0,rounding_size=7", ec="none")
        self.tank = canvas.moving(axes.add_patch(inside))
        axes.add_patch(Polygon([(322, 126), (338, 114), (338, 126), (322, 114)], fc="white", ec=INK, lw=1.5))
        canvas.moving(
            axes.add_patch(Polygon([(770, 267), (794, 285), (770, 285), (794, 267)], fc="white", ec=INK, lw=1.5))
        )
        dashed = {"fill": False, "ec": FAINT, "lw": 1.2, "ls": ":"}
        axes.add_patch(FancyBboxPatch((676, 186), 36, 50, boxstyle="round,pad=0,rounding_size=9", **dashed))
        axes.plot([466, 466, 498, 498], [92, 78, 78, 250], lw=1.2, ls=":", color=FAINT)
        named = {
            "heat pump": (71, 246, "center"),
            "tank": (442, 312, "center"),
            "return vent": (330, 104, "center"),
            "relief valve": (506, 132, "left"),
            "mixing valve": (648, 92, "left"),
            "vessel": (722, 216, "left"),
            "reducing valve": (782, 308, "center"),
            "main": (850, 256, "center"),
            "highest tap": (880, 112, "right"),
            "loop": (280, 188, "center"),
        }
        for word, (x, y, ha) in named.items():
            axes.text(x, y, word, size=TEXT, color=INK, ha=ha)

    def _sheet(self, canvas: Canvas, axes) -> list:
        """The record, and the tick of the hand-over."""
        paper = canvas.moving(axes.add_patch(Rectangle((806, 134), 64, 82, fc="white", ec=INK, lw=2)))
        lines = [canvas.moving(*axes.plot([816, 860], [y, y], lw=2, color=FAINT)) for y in (150, 164, 178)]
        tick = canvas.moving(*axes.plot([822, 834, 858], [198, 208, 188], lw=4, color=ALLOWED))
        return [paper, *lines, tick]

    def show(self, scene: SequenceScene) -> None:
        heated, full = scene.has("first heat"), scene.has("fill")
        colour = COLD if scene.has("pressure test") else EMPTY
        hot = HOT if heated else colour
        colours = {"loop": hot, "vent": hot, "hot": hot, "run": MIXED if scene.has("set the valve") else hot}
        for name, line in self.water.items():
            line.set_color(colours.get(name, colour))
        self.tank.set_facecolor(HOT if heated else COLD if full else EMPTY)
        self.bubbles.set_visible(full and not scene.has("purge"))
        for artist in self.fitted:
            artist.set_visible(scene.has("fit"))
        for foam in self.foam:
            foam.set_visible(scene.has("insulate"))
        self.drop.set_visible(full)
        self.bolt.set_facecolor("#f0c23a" if scene.has("energise") else EMPTY)
        for artist in self.sheet[:-1]:
            artist.set_visible(scene.has("record"))
        self.sheet[-1].set_visible(scene.has("hand over"))
        self._write(scene, full)

    def sentence(self, scene: SequenceScene) -> str:
        done = ", ".join(scene.order.done) or "none"
        return (
            f"{len(scene.order.done)} of {len(steps())} steps are done: {done}. {scene.pipes}, and {scene.tank}."
            f" {scene.heat.capitalize()}. Steps that were tried too early: {scene.refused}."
        )

    def _write(self, scene: SequenceScene, full: bool) -> None:
        self.power.set_text("power on" if scene.has("energise") else "no power")
        self.tank_words.set_text("hot" if scene.has("first heat") else "full" if full else "empty")
        allowed = scene.order.may_heat
        done, whole = len(scene.order.done), len(steps())
        self.lock.set(
            width=(WIDTH - 8) * done / whole, facecolor=ALLOWED if allowed else LOCKED, hatch=None if allowed else "///"
        )

    def description(self, scene: SequenceScene) -> str:
        return (
            "A drawing of a heat pump outdoors, a loop with its vent, a tank with relief valve, a main with reducing"
            " valve and vessel, a mixing valve and the highest hot tap."
        )
