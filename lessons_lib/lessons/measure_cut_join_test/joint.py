"""One end of a piece of pipe in its fitting, cut open and to scale: where the pipe stops, and where its depth mark
stands.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Polygon

from ...drawing.canvas import FAINT, INK
from ...runs.pipe import PipeMaterial

# [px/mm]; [px] of a pipe's diameter; [px] of a fitting with the gap that two slips leave
LARGEST, WIDEST, LONGEST = 3.0, 84, 300
WORDS_FROM = 170  # [px] of the longest centre to face: beyond it its number would touch the words in the middle
METAL = "#e4d3a2"  # of fittings
STIFFENER = "#3d6a96"
WALL_OF_FITTING, LEG, BACK = 7, 24, 56  # [px] around the pipe; how far a fitting's other legs are drawn
SIDE = 0.4142  # tangent of half of 45 degrees


@dataclass(frozen=True)
class JointEnd:
    """One end of a piece, lengths in m.

    fitting : name in data/fittings.csv, or "plain end"
    face, depth : centre to face, and how deep the pipe should go in; 0 and 0 at a plain end
    inside : how deep it goes in as it was cut; negative: it ends before the fitting
    shift : how far the fitting stands off its mark, outward
    measured : False: face or depth is provisional
    fault : depth was given greater than centre to face
    """

    fitting: str
    face: float
    depth: float
    inside: float
    shift: float
    measured: bool
    fault: bool = False

    @property
    def plain(self) -> bool:
        return self.face == 0


def outline(fitting: str, half: float, reach: float, leg: float, back: float) -> np.ndarray:
    """A fitting's outline [px] for a bore or body of `half` its width; along the pipe and downwards, shape (n, 2).

    reach : along the pipe from the centre; leg, back : of the other legs from the centre
    """
    run = [(-half, -half), (reach, -half), (reach, half)]
    if fitting == "elbow 90":
        points = [*run, (half, half), (half, leg), (-half, leg)]
    elif fitting == "elbow 45":
        aslant = np.sqrt(0.5) * np.array([[-leg - half, leg - half], [-leg + half, leg + half]])
        points = [(-SIDE * half, -half), *run[1:], (SIDE * half, half), aslant[1], aslant[0]]
    elif fitting == "tee through":
        points = [(-back, -half), *run[1:], (half, half), (half, leg), (-half, leg), (-half, half), (-back, half)]
    elif fitting == "tee branch":
        points = [(-half, -leg), (half, -leg), (half, -half), *run[1:], (half, half), (half, leg), (-half, leg)]
    else:  # straight through: coupling, valve
        points = [(-back, -half), *run[1:], (-back, half)]
    return np.array(points)


def scale_for(ends, outside: float) -> float:
    """Pixels of a metre at which both ends and a pipe of that outside diameter [m] find room."""
    reach, face = max(end.face + 2 * end.depth for end in ends), max(end.face for end in ends)
    return min(1000 * LARGEST, WIDEST / outside, LONGEST / max(reach, 1e-3), WORDS_FROM / max(face, 1e-3))


class Joint:
    """A fitting with its pipe. side : 1 for the left end (the pipe goes right), -1 for the right end.

    centre, axis : of the fitting's mark on the wall [px]; last : how far the pipe is drawn [px]
    """

    def __init__(self, canvas, axes, side: int, centre: float, axis: float, last: float):
        self.side, self.centre, self.axis, self.last = side, centre, axis, last

        def patch(colour, **style):
            return canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, fc=colour, **{"ec": INK, "lw": 1.2, **style})))

        self.lever = patch(FAINT)
        self.body = patch(METAL, hatch="///", lw=1.5)
        self.hollow, self.socket = patch("white", ec="none"), patch("white", ec="none")
        self.wall, self.bore, self.stiffener = patch("white"), patch("white"), patch(STIFFENER)
        self.insert = patch(METAL)
        self.rings = canvas.moving(*axes.plot([], [], "o", ms=7, color=INK))
        self.crimps = [patch(INK) for _ in range(2)]
        self.mark = canvas.moving(*axes.plot([], [], lw=4, color=INK, solid_capstyle="butt"))
        self.centre_line = canvas.moving(
            *axes.plot([centre, centre], [axis - 66, axis + 74], lw=1.5, ls="-.", color=FAINT)
        )

    def x(self, along: float) -> float:
        """A distance from the mark towards the pipe [px] as a place in the picture."""
        return self.centre + self.side * along

    def _set(self, patch: Polygon, points, shown: bool = True) -> None:
        patch.set_visible(shown)
        if shown:
            points = np.asarray(points, dtype=float)
            patch.set_xy(np.column_stack([self.x(points[:, 0]), self.axis + points[:, 1]]))

    def _box(self, patch: Polygon, begin: float, end: float, low: float, high: float, shown: bool = True) -> None:
        self._set(patch, [(begin, low), (end, low), (end, high), (begin, high)], shown)

    def show(self, end: JointEnd, joint: str, material: PipeMaterial, outside: float, bore: float, px: float) -> None:
        """Move to an end of a piece, joined by "push", "solder", "cement" or "crimp".

        outside, bore : of the pipe [m]; px : pixels of a metre
        """
        half, inner, off = 0.5 * px * outside, 0.5 * px * bore, -px * end.shift
        face, stop = px * end.face + off, px * (end.face - end.depth) + off
        begin = face - px * end.inside  # where the pipe ends
        body, leg = half + WALL_OF_FITTING, half + WALL_OF_FITTING + LEG
        shape = np.array([[off, 0.0]])
        there, over = not end.plain, joint == "crimp"
        reach = (stop if over else face) - off
        self._set(self.body, outline(end.fitting, body, max(reach, body), leg, BACK) + shape, there)
        self._set(
            self.hollow, outline(end.fitting, 0.85 * inner, max(reach, body) + 1, leg + 2, BACK + 2) + shape, there
        )
        self._box(self.socket, stop, face + 1, -half, half, there and not over)
        lever = [(-3, -body), (-3, -body - 18), (52, -body - 18), (52, -body - 10), (5, -body - 10), (5, -body)]
        self._set(self.lever, np.array(lever) + shape, end.fitting == "ball valve")
        self._box(self.wall, begin, self.last, -half, half)
        self._box(self.bore, begin - 1, self.last + 1, -inner, inner)
        self.wall.set_facecolor(material.colour)
        lined = there and joint == "push" and material.stiffener
        self._box(self.stiffener, begin, begin + 0.8 * px * end.depth, -inner + 1, inner - 1, lined)
        self._box(self.insert, stop - 2, face, -inner + 2, inner - 2, there and over)
        grip = stop + 0.5 * (face - stop)
        sealed = joint == "push" and there
        self.rings.set_data(
            [self.x(grip)] * 2 if sealed else [], [self.axis - half, self.axis + half] if sealed else []
        )
        for crimp, edge in zip(self.crimps, (-half - 4, half)):
            self._box(crimp, grip - 9, grip + 9, edge, edge + 4, there and over)
        at = begin + px * end.depth
        self.mark.set_data(
            [self.x(at)] * 2 if there else [], [self.axis - half - 1, self.axis + half + 1] if there else []
        )
        self.pipe_end, self.face, self.middle, self.at = (self.x(place) for place in (begin, face, off, at))
