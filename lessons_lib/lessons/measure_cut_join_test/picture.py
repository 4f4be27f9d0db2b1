"""A piece of pipe between its fittings, to scale, with its dimension lines, and the bars that such pieces are cut
from.
"""

from dataclasses import dataclass

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST
from ...drawing.picture import Picture
from ...drawing.vector import width_of
from ...quantities.display import SI, number, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import pipe_material
from .cutting_bars import CuttingBars
from .joint import Joint, JointEnd, scale_for

WIDTH, HEIGHT = 884, 440  # [px]
AXIS, CENTRES = 142, 116  # [px] the pipe's axis; from each edge to the mark on the wall
OVER, FACES, DEPTHS, CUT = 40, 64, 232, 256  # [px] the dimension lines, from above
FIT = 5e-4  # [m] what a saw and a pencil leave
HOME, PLAIN = Word("home at its marks", 0), Word("plain ends", 0)
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
    bars: tuple  # see CuttingBars.show
    pieces: tuple  # (length, how many) of each kind
    stock: float
    stock_name: str
    kerf: float
    spare_share: float  # [-] of all pieces, asked for
    spare: float  # and how long that is
    spare_bars: int  # bars bought for it; 0: it lies in the longest left-over
    waste_share: float  # [-]
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
    def cut_bars(self) -> int:
        """Bars that the pieces are cut from."""
        return sum(alike for alike, _, _ in self.bars)

    @property
    def bars_to_buy(self) -> int:
        return self.cut_bars + self.spare_bars

    @property
    def off(self) -> float:
        """Says by how much the piece is longer than fits."""
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
    """Shows a piece of pipe between its two fittings, and the bars of stock that it is cut from."""

    size = WIDTH, HEIGHT
    parts = (
        (52, 0, 545, 272),
        (597, 0, WIDTH - 597, 272),
        (0, 272, 470, HEIGHT - 272),
        (430, 272, WIDTH - 430, HEIGHT - 272),
    )

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, WIDTH, 270)
        axes.text(52, 16, "The piece between its fittings, cut open and to scale", size=TEXT, weight="bold", color=INK)
        middle = WIDTH / 2
        self.joints = [
            Joint(canvas, axes, side, middle - side * (middle - CENTRES), AXIS, middle - CENTRES - 8)
            for side in (1, -1)
        ]
        signs = (AXIS + 52, "red line: depth mark"), (AXIS + 71, "dots: seal · blue: stiffener")
        for y, name in ((FACES, "centre to face"), *signs, (DEPTHS, "depth")):
            axes.text(middle, y + 5, name, size=TEXT, color=FAINT, ha="center")
        names = "over", "cut", "face 0", "face 1", "depth 0", "depth 1"
        self.lines = {name: canvas.moving(*axes.plot([], [], "|-", color=INK, lw=1.5, ms=11)) for name in names}
        self.over, self.cut = (
            canvas.words(axes, middle, y - 5, weight="bold", ha="center") for y in (OVER + 10, CUT + 10)
        )
        self.kept_words = canvas.words(axes, WIDTH - 6, CUT + 5, color=GHOST, ha="right")
        self.seat = canvas.words(axes, middle - 42, FACES + 28, weight="bold", ha="center")
        self.faces = [canvas.words(axes, 0, FACES + 5) for _ in range(2)]
        self.depths = [canvas.words(axes, 0, DEPTHS + 5, ha=ha) for ha in ("right", "left")]
        self.bars = CuttingBars(canvas, 4, 272, WIDTH - 8)

    def show(self, scene: PieceScene) -> None:
        ends = scene.first, scene.second
        px = scale_for(ends, scene.outside)
        for joint, end in zip(self.joints, ends):
            joint.show(end, scene.joint, pipe_material(scene.material), scene.outside, scene.bore, px)
        self._measure(scene)
        self.kept_words.set_text(f"kept: cut {show(Q_(self.kept.cut, 'm'), 'cut', self.system)}" if self.kept else "")
        spare = ((scene.spare_bars, (), scene.stock),) if scene.spare_bars else ()
        self.bars.show(self._title(scene), scene.bars + spare, scene.stock, scene.kerf, self.system)

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
            f"centre to centre {show(Q_(scene.centres, 'm'), 'cut', self.system)}",
        )
        self._broken_line(
            "cut", left.pipe_end, right.pipe_end, CUT, self.cut, f"cut {about(scene.cut, scene.measured, self.system)}"
        )
        self.seat.set_text(seat_words(scene, self.system))
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

    def _title(self, scene: PieceScene) -> str:
        kinds = ", ".join(
            f"{letter} {about(length, scene.measured, self.system)} × {count}"
            for letter, (length, count) in zip("AB", scene.pieces)
            if count
        )
        return f"Bars of {scene.stock_name}: {kinds}"

    def description(self, scene: PieceScene) -> str:
        bars = "; ".join(
            f"{alike} with {len(pieces)} pieces and {about(left, scene.measured, self.system)} left"
            for alike, pieces, left in scene.bars
        )
        return (
            f"Two drawings. A pipe between {scene.first.fitting} and {scene.second.fitting}, cut open, with its depth"
            f" marks and dimension lines. Beneath it the bars of stock: {bars}."
        )


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
        return f"too long: each fitting {about(each, scene.measured, system)} off its mark"
    if scene.seat == OUT:
        gap = -min(end.inside for end in scene.ends)
        return (
            f"too short: it ends {about(gap, scene.measured, system)} before the face"
            if gap > FIT
            else "too short: it ends at the face"
        )
    return "plain ends: nothing taken off" if scene.seat == PLAIN else scene.seat


def spare_words(scene: PieceScene, system: str) -> str:
    """Says where the spare is, for a wrong cut."""
    if scene.spare == 0:
        return ", with no spare"
    length = about(scene.spare, scene.measured, system)
    if scene.spare_bars == 0:
        return f"; the spare of {scene.spare_share:.0%}, {length}, lies in what is left over"
    return f", {scene.cut_bars} to cut from and {scene.spare_bars} for the spare of {scene.spare_share:.0%}, {length}"


def sentence(scene: PieceScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    centres, cut = (show(Q_(value, "m"), "cut", system) for value in (scene.centres, scene.cut))
    if scene.fault:
        first = (
            "Measure again: no pipe goes in beyond the middle of its fitting, so depth can't be more than centre to"
            " face."
        )
    elif scene.seat == PLAIN:
        first = f"Between plain ends nothing is taken off: cut {cut}."
    elif scene.measured:
        parts = [f" − {number(Q_(end.face, 'm'), 'cut', system)}" for end in scene.ends]
        parts += [f" + {number(Q_(end.depth, 'm'), 'cut', system)}" for end in scene.ends]
        right = show(Q_(scene.right, "m"), "cut", system)
        first = f"What fits: {centres}{''.join(parts)} = {right}; cut {cut}: {seat_words(scene, system)}."
    else:
        provisional = about(scene.cut, False, system)
        first = (
            f"Measure first: for {centres} centre to centre it was cut {provisional} by provisional figures:"
            f" {seat_words(scene, system)}."
        )
    many = "s" if scene.bars_to_buy > 1 else ""
    bars = (
        f"{scene.bars_to_buy} bar{many} of {scene.stock_name} to buy{spare_words(scene, system)};"
        f" {scene.waste_share:.0%} waste."
    )
    warmer = show(Q_(scene.warmer, "delta_degC"), "temperature difference", system)
    growth = show(Q_(scene.growth, "m"), "diameter", system)
    return f"{first} {bars} Each piece A grows {growth} when {warmer} warmer. Test with water before you cover it."
