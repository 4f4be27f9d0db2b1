"""Metals together: two pipes and what joins them, to scale, and the order of the metals in sea water."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import water_colour
from ...drawing.picture import Picture
from ...plant.metals import CARRIED, EATEN, SLOWED, material, metals
from ...quantities.display import celsius, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 360  # [px]
JOINT = 216  # [px] height of the upper drawing
MIDDLE, AXIS, PIPE, BORE = 438, 110, 44, 32  # [px] of the pipes: middle of the joint, axis, outside and bore
PER_M = 22 * 1e3 / 12  # [px] a metre: the pipe is drawn as 24 mm, 1 in
ENDS = 20, 856
BRASS, UNION, PLASTIC = "#c9a227", "#f4f6f8", "#77838f"
LOW, HIGH, LEFT, RIGHT = -1.1, 0.0, 60, 824  # [V] ends of the scale and where they stand [px]
DANGER = "#9b1c1c"
ARROW = np.array([(0, -5), (20, -5), (20, -11), (38, 0), (20, 11), (20, 5), (0, 5)])


@dataclass(frozen=True)
class MetalsScene:
    """Everything that the picture shows; potentials in V, lengths in m."""

    first: str
    second: str
    joint: str
    brass: bool  # a piece of brass stands between
    parts: bool  # no current passes the joint
    length: float  # of what stands between
    water: float  # [degC]
    apart: float
    eaten: str
    at_joint: str
    carried: str
    of_brass: str
    bonding: str


class MetalsPicture(Picture):
    """Shows the joint, and where its two materials stand in the order."""

    size = WIDTH, HEIGHT
    parts = tuple((left, top, 442, down) for top, down in ((0, JOINT), (JOINT, HEIGHT - JOINT)) for left in (0, 442))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(4, 4, WIDTH - 8, JOINT - 4)
        axes.text(0, 14, "The joint, cut open", size=TEXT, weight="bold", color=INK)
        self.pieces = [
            canvas.moving(axes.add_patch(Rectangle((0, AXIS - PIPE / 2), 0, PIPE, ec=INK, lw=1.2))) for _ in "ab"
        ]
        self.between = canvas.moving(axes.add_patch(Rectangle((0, AXIS - 34), 0, 68, ec=INK, lw=1.2)))
        self.water = canvas.moving(
            axes.add_patch(Rectangle((ENDS[0], AXIS - BORE / 2), ENDS[1] - ENDS[0], BORE, ec="none"))
        )
        for x in (60, 790):
            arrow = Polygon(ARROW + (x, AXIS), fc="white", ec=INK, lw=1)
            canvas.moving(axes.add_patch(arrow))
        self.pits = canvas.moving(*axes.plot([], [], ls="none", marker="^", ms=11, mfc=DANGER, mec=INK))
        self.grains = canvas.moving(*axes.plot([], [], ls="none", marker="o", ms=5, mfc="#a35f2a", mec=INK, mew=0.5))
        self.of_first = canvas.words(axes, 180, 62, weight="bold", ha="center")
        self.of_second = canvas.words(axes, 700, 62, weight="bold", ha="center")
        self.of_joint = canvas.words(axes, MIDDLE - 12, 42, ha="right")
        self.of_eaten = canvas.words(axes, MIDDLE + 12, 172, weight="bold", color=DANGER)
        self.of_grains = canvas.words(axes, MIDDLE + 12, 194, color=DANGER)
        self._order(canvas)

    def _order(self, canvas: Canvas) -> None:
        """The metals on a scale of their potentials in sea water: what stands further left is eaten."""
        axes = canvas.drawing(4, JOINT + 2, WIDTH - 8, HEIGHT - JOINT - 4)
        axes.text(0, 14, "Order in sea water: the one further left is eaten", size=TEXT, weight="bold", color=INK)
        axes.plot([LEFT, RIGHT], [78, 78], lw=2, color=FAINT)
        self.names = {}
        known = [one for one in map(material, metals()) if one.potential is not None]
        self.apart = canvas.moving(*axes.plot([], [], lw=7, color="#efb0a1", solid_capstyle="butt"))
        for number, one in enumerate(sorted(known, key=lambda each: each.potential)):
            x, above = _place(one.potential), number % 2 == 0
            axes.plot([x, x], [66, 78] if above else [78, 90], lw=2, color=INK)
            words = canvas.words(axes, x, 60 if above else 106, ha="center")
            self.names[one.name] = words
        self.marks = canvas.moving(*axes.plot([], [], ls="none", marker="o", ms=12, mfc=INK, mec="white"))
        self.of_apart = canvas.words(axes, 0, 130, ha="center")

    def show(self, scene: MetalsScene) -> None:
        for name, words in self.names.items():
            words.set_text(name)
        half = 0.5 * PER_M * scene.length
        first, second = material(scene.first), material(scene.second)
        self.pieces[0].set(x=ENDS[0], width=MIDDLE - half - ENDS[0], facecolor=first.colour)
        self.pieces[1].set(x=MIDDLE + half, width=ENDS[1] - MIDDLE - half, facecolor=second.colour)
        colour = BRASS if scene.brass else PLASTIC if scene.length > 0.1 else UNION
        self.between.set(x=MIDDLE - half, width=2 * half, facecolor=colour, hatch="xx" if colour == UNION else None)
        self.between.set_visible(scene.length > 0)
        self.water.set_facecolor(water_colour(scene.water))
        self._damage(scene, half)
        self.of_first.set_text(scene.first)
        self.of_second.set_text(scene.second)
        length = f", {show(Q_(1e3 * scene.length, 'mm'), 'thickness', self.system)}" if scene.length else ""
        self.of_joint.set_text(f"{scene.joint}{length}")
        places = [_place(one.potential) for one in (first, second) if one.potential is not None]
        self.marks.set_data(places, [78] * len(places))
        self.apart.set_data(*((places, [78, 78]) if len(places) == 2 else ([], [])))
        self.of_apart.set_position((_clear_of_middle(min(max(np.mean(places), 130), 750) if places else MIDDLE), 130))
        self.of_apart.set_text(f"{scene.apart:.2f} V apart" if len(places) == 2 else "plastic stands in no order")

    def _damage(self, scene: MetalsScene, half: float) -> None:
        """Pits in the metal that is eaten beside the joint, and grains of copper along the second pipe."""
        at = scene.at_joint in (EATEN, SLOWED) and scene.eaten
        side = -1 if scene.eaten == scene.first else 1
        steps = np.array([10, 26, 46]) if scene.at_joint == EATEN else np.array([10])
        xs = MIDDLE + side * (half + steps)
        self.pits.set_data(
            *((np.tile(xs, 2), np.repeat([AXIS - PIPE / 2 + 3, AXIS + PIPE / 2 - 3], len(xs))) if at else ([], []))
        )
        self.of_eaten.set_text(f"{scene.eaten} is eaten" if at else "")
        self.of_eaten.set(x=MIDDLE + 12 * side, ha="left" if side > 0 else "right")
        carried = scene.carried == CARRIED
        grains = np.linspace(MIDDLE + half + 60, ENDS[1] - 20, 9)
        self.grains.set_data(
            *((grains, AXIS + (BORE / 2 - 3) * np.where(np.arange(9) % 2, 1, -1)) if carried else ([], []))
        )
        self.of_grains.set_text("copper settles downstream" if carried else "")

    def sentence(self, scene: MetalsScene) -> str:
        water = show(celsius(scene.water), "temperature", self.system)
        first = f"Water of {water} flows from {scene.first} to {scene.second}, {scene.joint}."
        if scene.eaten:
            middle = f"In sea water they lie {scene.apart:.2f} V apart, so {scene.eaten} is the one that is eaten"
            middle += {EATEN: " where they touch.", SLOWED: ", more slowly with brass between."}.get(
                scene.at_joint, ", but no current passes this joint."
            )
        else:
            middle = "Neither eats the other at the joint."
        carried = (
            " The water carries copper on, and it settles on the second pipe, whatever the joint."
            if scene.carried == CARRIED
            else ""
        )
        bonding = " The joint interrupts the bonding of the pipe." if scene.parts else ""
        return f"{first} {middle}{carried}{bonding}"

    def description(self, scene: MetalsScene) -> str:
        return (
            "Two drawings. The two pipes and what joins them, cut open, with pits where metal is eaten. A scale of the"
            " metals' order in sea water."
        )


def _clear_of_middle(x: float) -> float:
    """Moves the middle of a line of words [px] to the left where a narrow screen would cut it between two parts."""
    return min(x, MIDDLE - 110) if abs(x - MIDDLE) < 110 else x


def _place(potential: float) -> float:
    """Says where a potential [V] stands on the scale [px]."""
    return LEFT + (RIGHT - LEFT) * (potential - LOW) / (HIGH - LOW)
