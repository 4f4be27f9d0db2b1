"""The parts of a joint cut open along the pipe's middle, to scale: pipe, fitting, and what holds and seals it."""

import numpy as np
from matplotlib.patches import Polygon

from ...drawing.canvas import INK
from ...plant.joints import BURR, DEPTH, INSERT, LAST
from ...runs.pipe import PipeMaterial
from .joint import METAL, STIFFENER

AXIS, FACE, FIRST, LAST_PX = 130, 170, 8, 416  # [px] the pipe's axis; the fitting's face; ends of the drawing
ROOM, WIDEST, LARGEST = 150, 92, 7.0  # [px] for the depth and for the pipe across; [px/mm] at the most
WALL, NUT, LIP = 3.0, 6.0, 1.4  # [mm] of a fitting's wall, of a nut and of a ring or insert (drawn so; fittings differ)
SHORT_OF = 0.45  # of the depth, when it was not pushed home
FILLS = {"solder": "#9aa7b5", "cement": "#d9a441"}
OVER_INSERT = ("crimp", "expansion")
SEALED = ("push", "press")
RING = "#b98a3d"


def legend_of(joint: str, plastic: bool) -> tuple[str, str]:
    """Names what is drawn of a joint, in two short lines."""
    second = {
        "push": "dots: seal · red: teeth that grip" + (" · blue: stiffener" if plastic else ""),
        "solder": "pale line: solder",
        "cement": "yellow: cement",
        "crimp": "black: ring, crimped",
        "expansion": "outer ring: of the pipe's own material",
        "compression": "brown: ring, squeezed by the nut" + (" · blue: liner" if plastic else ""),
        "press": "dots: seal · black: pressed",
    }[joint]
    return "thick line: depth mark", second


class JointParts:
    """The moving parts; each is drawn above and below the pipe's axis."""

    def __init__(self, canvas, axes):
        def pair(colour, **style):
            given = {"ec": INK, "lw": 1.2, **style}
            return [canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, fc=colour, **given))) for _ in range(2)]

        axes.plot([FIRST, LAST_PX], [AXIS, AXIS], lw=1, ls="-.", color="#5b6b7a")
        self.body, self.stop, self.nut = pair(METAL, hatch="///"), pair(METAL, hatch="///"), pair(METAL, hatch="\\\\\\")
        self.fill, self.insert, self.wall = pair("white", lw=0.5), pair(METAL, hatch="///"), pair("white")
        self.ring, self.dent = pair(RING), pair(INK)
        self.liner = pair(STIFFENER)
        self.burr = pair(INK)
        self.seal = canvas.moving(*axes.plot([], [], "o", ms=9, color=INK))
        self.teeth = canvas.moving(*axes.plot([], [], "d", ms=7, color="#9b1c1c"))
        self.mark = [canvas.moving(*axes.plot([], [], lw=5, color=INK, solid_capstyle="butt")) for _ in range(2)]

    def show(self, joint: str, material: PipeMaterial, outside: float, bore: float, depth: float, forgotten: str):
        """Moves the parts to a joint; lengths in m. Gives where the fitting's face and its stop are [px]."""
        px = 1000 * min(LARGEST, ROOM / (1000 * depth), WIDEST / (1000 * outside))
        self.px, self.outer, self.inner = px, 0.5 * px * outside, 0.5 * px * bore
        stop = FACE + px * depth
        end = FACE + px * depth * (SHORT_OF if forgotten == DEPTH else 1)
        self._pipe(material, end, depth * px, forgotten)
        self._fitting(joint, stop)
        self._holds(joint, stop, forgotten == LAST)
        missing = forgotten == INSERT
        lined = joint in ("push", "compression") and material.plastic and not missing
        self._pair(self.liner, end - 0.8 * px * depth, end, self.inner - self._mm(1.0), self.inner, lined)
        self._pair(self.insert, FACE, stop, self.inner - self._mm(LIP), self.inner, joint in OVER_INSERT)
        return FACE, stop

    def _mm(self, millimetres: float) -> float:
        return 1e-3 * millimetres * self.px

    def _pair(self, parts, begin: float, end: float, near: float, far: float, shown: bool = True) -> None:
        """Sets a part to a box from `near` to `far` from the axis [px], above and below it."""
        box = np.array([(begin, near), (end, near), (end, far), (begin, far)])
        for part, sign in zip(parts, (-1, 1)):
            part.set_visible(shown)
            part.set_xy(np.column_stack([box[:, 0], AXIS + sign * box[:, 1]]))

    def _pipe(self, material: PipeMaterial, end: float, depth: float, forgotten: str) -> None:
        self._pair(self.wall, FIRST, end, self.inner, self.outer)
        for part in self.wall:
            part.set_facecolor(material.colour)
        at = end - depth
        for line, sign in zip(self.mark, (-1, 1)):
            y = AXIS + sign * self.outer
            line.set_data([at, at], [y - 6, y + 6])
        self._pair(self.burr, end - 3, end, self.outer, self.outer + 4, forgotten == BURR)

    def _fitting(self, joint: str, stop: float) -> None:
        """The fitting itself: a cup around the pipe, or a shoulder with an insert."""
        outer, wall = self.outer + 1, self._mm(WALL)
        over = joint in OVER_INSERT
        self._pair(self.body, stop if over else FACE, LAST_PX, outer, outer + wall)
        self._pair(self.stop, stop, LAST_PX, self.inner, outer)
        nut = joint == "compression"
        self._pair(self.nut, FACE - self._mm(9), FACE + self._mm(6), outer, outer + self._mm(NUT), nut)

    def _holds(self, joint: str, stop: float, undone: bool) -> None:
        """Draws what holds and seals the pipe. undone : the last step was left out"""
        deep, outer, middle = stop - FACE, self.outer, 0.5 * (FACE + stop)
        filled = joint in FILLS and not undone
        self._pair(self.fill, FACE, stop, outer, outer + self._mm(0.5), filled)
        for part in self.fill:
            part.set_facecolor(FILLS.get(joint, "white"))
        seal = FACE + {"push": 0.62, "press": 0.3}.get(joint, 0) * deep
        sides = [AXIS - outer - 4, AXIS + outer + 4]
        self.seal.set_data(*(([seal, seal], sides) if joint in SEALED else ([], [])))
        teeth = FACE + 0.3 * deep
        self.teeth.set_data(*(([teeth, teeth], sides) if joint == "push" else ([], [])))
        width = {"compression": self._mm(3), "crimp": self._mm(4.5), "expansion": 0.5 * deep - 2}.get(joint, 1)
        at = FACE + self._mm(3) if joint == "compression" else middle
        loose = 6 if undone else 0
        thick = self._mm(3.0 if joint == "expansion" else 1.8)
        self._pair(
            self.ring,
            at - width,
            at + width,
            outer + loose,
            outer + loose + thick,
            joint in OVER_INSERT or joint == "compression",
        )
        for part in self.ring:
            part.set_facecolor({"crimp": INK, "expansion": "#77838f"}.get(joint, RING))
        wall = outer + self._mm(WALL)
        self._pair(self.dent, seal + 14, seal + 30, wall - 5, wall + 2, joint == "press" and not undone)
