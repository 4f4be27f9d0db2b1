"""A piece of pipe between its fittings, to scale, with its dimension lines."""

from dataclasses import dataclass

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST
from ...drawing.picture import Picture
from ...drawing.vector import width_of
from ...quantities.display import SI, number, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import pipe_material
from .joint import Joint, JointEnd, scale_for

WIDTH, HEIGHT = 884, 272  # [px]
AXIS, CENTRES = 142, 116  # [px] the pipe's axis; from each edge to the mark on the wall
OVER, FACES, DEPTHS, CUT = 40, 64, 232, 256  # [px] the dimension lines, from above
FIT = 5e-4  # [m] what a saw and a pencil leave
HOME, PLAIN = Word("pushed in up to the marks", 0), Word("plain ends", 0)
OUT, LONG = Word("not in the fitting", 2), Word("too long", 2)


@dataclass(frozen=True)
class PieceScene:
    """Everything that the picture shows; lengths in m."""

    first: JointEnd
    second: JointEnd
    joint: str
    material: str
    outside: float
    bore: float
    centres: float
    right: float  # the length that fits
    cut: float  # as it was cut
    how: str
    growth: float
    warmer: float  # [K]
    spacing: float
    fall: float

    @property
    def ends(self) -> tuple:
        return tuple(end for end in (self.first, self.second) if not end.plain)

    @property
    def measured(self) -> bool:
        return all(end.measured for end in self.ends)

    @property
    def fault(self) -> bool:
        return any(end.fault for end in self.ends)

    @property
    def off(self) -> float:
        """The length [m] by which the piece is longer than fits."""
        return self.cut - self.right

    @property
    def seat(self) -> Word:
        """Says how the piece sits in its fittings, in a word."""
        if not self.ends:
            return PLAIN
        if abs(self.off) < FIT:
            return HOME
        return LONG if self.off > 0 else OUT


class JointPicture(Picture):
    """Shows a piece of pipe between its two fittings."""

    size = WIDTH, HEIGHT
    parts = ((52, 0, 553, HEIGHT), (597, 0, WIDTH - 597, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, WIDTH, 270)
        axes.text(52, 16, "The piece between its fittings, cut open and to scale", size=TEXT, weight="bold", color=INK)
        axes.text(612, 16, "The other end", size=TEXT, weight="bold", color=INK)  # a phone shows it by itself
        middle = WIDTH / 2
        self.joints = [
            Joint(canvas, axes, side, middle - side * (middle - CENTRES), AXIS, middle - CENTRES - 8)
            for side in (1, -1)
        ]
        self.named = [
            canvas.words(axes, x, y + 5, color=FAINT, ha="center")
            for x, y in ((middle, FACES), (405, AXIS + 66), (middle, DEPTHS))
        ]
        names = "over", "cut", "face 0", "face 1", "depth 0", "depth 1"
        self.lines = {name: canvas.moving(*axes.plot([], [], "|-", color=INK, lw=1.5, ms=11)) for name in names}
        self.over, self.cut = (
            canvas.words(axes, middle, y - 5, weight="bold", ha="center") for y in (OVER + 10, CUT + 10)
        )
        self.kept_words = canvas.words(axes, WIDTH - 6, CUT + 5, color=GHOST, ha="right")
        self.faces = [canvas.words(axes, 0, FACES + 5) for _ in range(2)]
        self.depths = [canvas.words(axes, 0, DEPTHS + 5, ha=ha) for ha in ("right", "left")]

    def show(self, scene: PieceScene) -> None:
        ends = scene.first, scene.second
        px = scale_for(ends, scene.outside)
        for joint, end in zip(self.joints, ends):
            joint.show(end, scene.joint, pipe_material(scene.material), scene.outside, scene.bore, px)
        self._measure(scene)
        marked = "middle to face", legend(scene), "depth"
        for words, text in zip(self.named, marked if scene.ends else ("", "", "")):
            words.set_text(text)
        self.kept_words.set_text(f"kept: cut {show(Q_(self.kept.cut, 'm'), 'cut', self.system)}" if self.kept else "")

    def sentence(self, scene: PieceScene) -> str:
        return sentence(scene, self.system)

    def _measure(self, scene: PieceScene) -> None:
        """Dimension lines and their words."""
        left, right = self.joints
        self._broken_line(
            "over",
            left.centre,
            right.centre,
            OVER,
            self.over,
            f"middle to middle {show(Q_(scene.centres, 'm'), 'cut', self.system)}",
        )
        self._broken_line(
            "cut", left.pipe_end, right.pipe_end, CUT, self.cut, f"cut {about(scene.cut, scene.measured, self.system)}"
        )
        for place, (joint, end) in enumerate(zip(self.joints, (scene.first, scene.second))):
            self._line(f"face {place}", joint.middle, joint.face, FACES, not end.plain)
            self._line(f"depth {place}", joint.pipe_end, joint.at, DEPTHS, not end.plain)
            beside = 8 * joint.side
            written = (
                (self.faces[place], end.face, (joint.face, joint.middle)[place] + 8),
                (
                    self.depths[place],
                    end.depth,
                    joint.pipe_end - beside,
                ),
            )
            for words, value, at in written:
                words.set_x(at)
                words.set_text("" if end.plain else about(value, end.measured, self.system))

    def _broken_line(self, name: str, begin: float, end: float, y: float, words, text: str) -> None:
        """A dimension line with its words in the middle of it."""
        words.set_text(text)
        middle, half = words.get_position()[0], 0.5 * width_of(words) + 4
        self.lines[name].set(
            xdata=[begin, middle - half, float("nan"), middle + half, end], ydata=[y] * 5, markevery=[0, 4]
        )

    def _line(self, name: str, begin: float, end: float, y: float, shown: bool = True) -> None:
        self.lines[name].set_data([begin, end] if shown else [], [y, y] if shown else [])

    def description(self, scene: PieceScene) -> str:
        return (
            f"A pipe between {scene.first.fitting} and {scene.second.fitting}, cut open, with its depth"
            " marks and dimension lines."
        )


def legend(scene: PieceScene) -> str:
    """Names what is drawn of the joints."""
    material = pipe_material(scene.material)
    parts = {
        "thick line: depth mark": True,
        "dots: seal": scene.joint == "push",
        "blue: stiffener": scene.joint == "push" and material.stiffener,
        "black: crimp ring": scene.joint == "crimp",
    }
    return " · ".join(words for words, drawn in parts.items() if drawn)


def about(value: float, measured: bool, system: str) -> str:
    """A length [m] with its unit; not measured: rounded, and marked so."""
    if measured:
        return show(Q_(value, "m"), "cut", system)
    rounded = Q_(round(1000 * value), "mm") if system == SI else Q_(value, "m")
    return f"≈ {show(rounded, 'cut', system)}"


def seat_words(scene: PieceScene, system: str) -> str:
    """Says how the piece sits, with its number."""
    each = scene.off / max(len(scene.ends), 1)
    if scene.seat == LONG:
        return f"too long, and each fitting is {about(each, scene.measured, system)} off"
    if scene.seat == OUT:
        gap = -min(end.inside for end in scene.ends)
        return (
            f"too short and ends {about(gap, scene.measured, system)} before the fitting"
            if gap > FIT
            else "too short and only touches the fitting"
        )
    return "plain at both ends, with nothing taken off" if scene.seat == PLAIN else scene.seat


def sentence(scene: PieceScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    centres, cut = (show(Q_(value, "m"), "cut", system) for value in (scene.centres, scene.cut))
    if scene.fault:
        first = (
            "Measure again: no pipe goes in beyond the middle of its fitting, so depth can't be more than middle to"
            " face."
        )
    elif scene.seat == PLAIN:
        first = f"Between plain ends nothing is taken off, so {cut} was cut."
    elif scene.measured:
        parts = [f" − {number(Q_(end.face, 'm'), 'cut', system)}" for end in scene.ends]
        parts += [f" + {number(Q_(end.depth, 'm'), 'cut', system)}" for end in scene.ends]
        right = show(Q_(scene.right, "m"), "cut", system)
        sits = seat_words(scene, system)
        first = (
            f"The length that fits is {centres}{''.join(parts)} = {right}. The piece was cut to {cut}. It is {sits}."
        )
    else:
        provisional = about(scene.cut, False, system)
        first = (
            f"Nobody has measured yet. For {centres} from middle to middle"
            f" the piece was cut to {provisional} by provisional"
            f" figures. It is {seat_words(scene, system)}."
        )
    warmer = show(Q_(scene.warmer, "delta_degC"), "temperature difference", system)
    growth = show(Q_(scene.growth, "m"), "diameter", system)
    return f"{first} The piece grows {growth} when it gets {warmer} warmer. Test with water before you cover it."
