"""A relief valve's discharge pipe from the side, and how far each size of it may go."""

from dataclasses import dataclass

from matplotlib.patches import Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, TANK, water_colour
from ...drawing.picture import Picture
from ...plant.discharge import CAP, FITS, FREE, THREAD, TRAP, VALVE, WIDER
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_

WIDTH, HEIGHT = 884, 330  # [px]
VALVE_AT, FLOOR, DOWN = 74, 282, 160  # [px] down to the valve, down to the floor, across to the pipe
BEND, FAR = 176, 400  # [px] down to the first bend at the most; across to the pipe's end
LEFT, ROOM, FIRST, PITCH = 76, 180, 64, 56  # [px] across to the bars, their longest, down to the first, between them
FURTHEST = 30.0  # [m] on the bars' scale
HOT = 90.0  # [degC] only for the colour of what comes out


@dataclass(frozen=True)
class SizeBar:
    """One size of the table: how long it may be with these elbows and without any [m], and how many it may have."""

    size: str
    allowed: float
    longest: float
    most_elbows: int | None
    chosen: bool


@dataclass(frozen=True)
class DischargeScene:
    """Everything that the picture shows; lengths in m.

    size : of the pipe, "" where the table has none; first : of the pipe before the tundish, "" without one
    """

    region: str
    rule: str
    outlet: str
    step: str
    size: str
    first: str
    across: float
    bars: tuple[SizeBar, ...]
    length: float
    elbows: int
    elbows_count: bool  # each of them takes some of the length; else there is a limit of them
    fall: float
    least_fall: float
    straight: float
    least_straight: float
    fault: str
    end: float
    low: float
    high: float
    over: str
    allowed: float
    needed: str
    size_word: Word
    way_word: Word
    end_word: Word


class DischargePicture(Picture):
    """Shows the pipe from valve to floor, and the table's sizes as bars."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 500, HEIGHT), (500, 0, WIDTH - 500, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, 500, HEIGHT)
        axes.text(8, 18, "The pipe from the side, not to scale", size=TEXT, weight="bold", color=INK)
        axes.add_patch(Rectangle((10, 44), 92, FLOOR - 44, fc=TANK, ec=INK, lw=1.8))
        axes.text(56, 170, "tank", size=TEXT, color=INK, ha="center")
        axes.plot([4, 496], [FLOOR, FLOOR], lw=4, color=INK)
        self.over = canvas.words(axes, 8, FLOOR + 38, color=FAINT)
        axes.plot([102, DOWN], [VALVE_AT, VALVE_AT], lw=9, color=INK)
        axes.add_patch(Polygon([(112, 64), (136, 84), (112, 84), (136, 64)], fc="white", ec=INK, lw=1.5))
        axes.plot([124, 124], [64, 50], lw=3, color=INK)
        axes.text(112, 42, "relief valve", size=TEXT, color=INK)
        self.before = canvas.moving(*axes.plot([DOWN, DOWN], [VALVE_AT - 4, 104], lw=9, color=INK))
        self.tundish = canvas.moving(
            axes.add_patch(
                Polygon([(DOWN - 16, 112), (DOWN + 16, 112), (DOWN + 5, 134), (DOWN - 5, 134)], ec=INK, lw=2)
            )
        )
        self.tundish.set_facecolor("white")
        self.kept_pipe = canvas.moving(*axes.plot([], [], lw=3, ls="--", color=GHOST))
        self.pipe = canvas.moving(*axes.plot([], [], color=INK, solid_joinstyle="miter", solid_capstyle="butt"))
        self.inside = canvas.moving(*axes.plot([], [], solid_joinstyle="miter", solid_capstyle="butt"))
        self.tundish_words = canvas.words(axes, DOWN + 24, 122)
        self.straight = canvas.words(axes, DOWN + 14, 156)
        self.length = canvas.words(axes, 270, 232, ha="center", weight="bold", backed=True)
        self.fall = canvas.words(axes, 270, 252, ha="center", backed=True)
        self.gap_line = canvas.moving(*axes.plot([], [], "|-", lw=1.5, ms=8, color=INK))
        self.gap = canvas.words(axes, FAR - 30, FLOOR - 10, ha="right")
        self.fault = canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, fc=INK, ec=INK)))
        self.fault_words = canvas.words(axes, 412, 160, weight="bold", ha="center", backed=True)
        self._bars(canvas)

    def _bars(self, canvas: Canvas) -> None:
        axes = self.bar_axes = canvas.drawing(500, 0, WIDTH - 500, HEIGHT)
        axes.text(8, 18, "How far each size may go", size=TEXT, weight="bold", color=INK)
        self.sizes, self.boxes, self.full, self.marks = [], [], [], []
        for place in range(3):
            y = FIRST + place * PITCH
            self.sizes.append(canvas.words(axes, 8, y + 17, weight="bold"))
            self.full.append(canvas.moving(axes.add_patch(Rectangle((LEFT, y), 0, 24, fc="white", ec=FAINT))))
            self.boxes.append(canvas.moving(axes.add_patch(Rectangle((LEFT, y), 0, 24, ec=INK))))
            self.marks.append(canvas.words(axes, 0, y + 17, backed=True))
        self.way = canvas.moving(*axes.plot([], [], lw=3, color=INK))
        self.way_words = canvas.words(axes, 0, FIRST + 3 * PITCH + 10, weight="bold", ha="center")
        self.note = canvas.words(axes, 8, FIRST + 3 * PITCH + 38, color=FAINT)
        self.rule = canvas.words(axes, 8, FIRST + 3 * PITCH + 60, color=FAINT)

    def show(self, scene: DischargeScene) -> None:
        self._show_pipe(scene)
        self._show_fault(scene)
        self._show_bars(scene)

    def _length(self, metres: float, kind: str = "length") -> str:
        return show(Q_(metres, "m"), kind, self.system)

    def _show_pipe(self, scene: DischargeScene) -> None:
        wide = min(7 + 160 * scene.across, 15)
        x, y = _way(scene)
        for line, width in ((self.pipe, wide), (self.inside, wide - 4)):
            line.set_data(x, y)
            line.set_linewidth(width)
        self.inside.set_color(water_colour(HOT))
        self.kept_pipe.set_data(*(_way(self.kept) if self.kept else ([], [])))
        with_tundish = bool(scene.first)
        self.tundish.set_visible(with_tundish)
        self.before.set_visible(with_tundish)
        self.tundish_words.set_text(f"tundish, first pipe {scene.first}" if with_tundish else "")
        self.straight.set_text(f"{self._length(scene.straight, 'thickness')} straight" if with_tundish else "")
        elbows = f"{scene.elbows} elbow{'s' if scene.elbows != 1 else ''}"
        self.length.set_text(f"{scene.size or scene.step}, {self._length(scene.length)}, {elbows}")
        self.fall.set_text(fall_words(scene))
        self.gap_line.set_data([FAR + 22] * 2, [y[-1], FLOOR - 2])
        self.gap.set_text(f"end {self._length(scene.end, 'thickness')} above")
        self.over.set_text(f"{scene.over}: {self._length(scene.low, 'thickness')} to "
                           f"{self._length(scene.high, 'thickness')} above it")  # fmt: skip

    def _show_fault(self, scene: DischargeScene) -> None:
        _, y = _way(scene)
        self.fault.set_visible(scene.fault in (VALVE, CAP, THREAD))
        self.fault_words.set_text("" if scene.fault == FREE else scene.fault)
        if scene.fault == VALVE:
            middle = 0.5 * (y[-3] + y[-2])
            self.fault.set_xy([(268, middle - 12), (292, middle + 12), (268, middle + 12), (292, middle - 12)])
        elif scene.fault in (CAP, THREAD):
            low, tall = y[-1], 8 if scene.fault == CAP else 4
            self.fault.set_xy([(FAR - 11, low - tall), (FAR + 11, low - tall), (FAR + 11, low), (FAR - 11, low)])

    def _show_bars(self, scene: DischargeScene) -> None:
        px = ROOM / FURTHEST
        for place, (name, box, full, mark) in enumerate(zip(self.sizes, self.boxes, self.full, self.marks)):
            bar = scene.bars[place] if place < len(scene.bars) else None
            name.set_text(bar.size if bar else "")
            full.set(visible=bar is not None, width=px * bar.longest if bar else 0)
            box.set_visible(bar is not None)
            box.set_width(px * bar.allowed if bar else 0)
            box.set_facecolor("#2f6f4f" if bar and bar.allowed >= scene.length else "#d9dee3")
            mark.set_text(f"{self._length(bar.allowed)}{' ◄ this pipe' if bar.chosen else ''}" if bar else "")
            mark.set_x(LEFT + (px * bar.longest if bar else 0) + 8)
        at = LEFT + px * min(scene.length, FURTHEST)
        self.way.set_data([at, at], [FIRST - 14, FIRST + 3 * PITCH - 8])
        self.way_words.set_x(max(at, 60))
        self.way_words.set_text(f"this way {self._length(scene.length)}")
        self.note.set_text(
            "each elbow takes some of the length" if scene.elbows_count else "a limit of length and a limit of elbows"
        )
        self.rule.set_text(scene.rule)

    def sentence(self, scene: DischargeScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: DischargeScene) -> str:
        funnel = "through a tundish, an open funnel, " if scene.first else ""
        return (
            f"Two drawings. A tank with a relief valve, whose discharge pipe goes {funnel}down, along and down to"
            " its end above the floor. Bars of how far each size of pipe may go, with a line at the length of this one."
        )


def _way(scene: DischargeScene) -> tuple[list, list]:
    """The way of the pipe in the picture [px], from the valve or the tundish to its end."""
    top = 134 if scene.first else VALVE_AT
    bend = min(BEND, 134 + 140 * scene.straight) if scene.first else BEND
    sinks = bend + min(1200 * scene.fall, 30)
    low = FLOOR - 4 - min(160 * scene.end, 62)
    x, y = [DOWN, DOWN], [top, bend]
    if scene.fault == TRAP:
        x, y = x + [260, 285, 310], y + [bend, bend + 24, bend + 24]
    x, y = x + [FAR, FAR], y + [sinks, low]
    if not scene.first:
        x, y = [DOWN - 10, *x], [VALVE_AT, *y]
    return x, y


def fall_words(scene: DischargeScene) -> str:
    """Says how much the pipe falls."""
    return f"falls {100 * scene.fall:.1f} %" if scene.fall else "level: it does not fall"


def end_words(scene: DischargeScene, system: str) -> str:
    """Says how far the end stands above what it drains on, and how far it may."""
    found, low, high = (show(Q_(value, "m"), "thickness", system) for value in (scene.end, scene.low, scene.high))
    return f"{found}; allowed {low} to {high}"


def sentence(scene: DischargeScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""

    def metres(value: float) -> str:
        return show(Q_(value, "m"), "length", system)

    elbows = f"{scene.elbows} elbow{'s' if scene.elbows != 1 else ''}"
    first = f"By {scene.rule} this pipe of {metres(scene.length)} with {elbows}"
    if scene.size_word == FITS:
        first += f" may be {scene.size}, which goes as far as {metres(scene.allowed)}."
    elif scene.size_word == WIDER:
        first += f" is wider than the table's {scene.bars[-1].size}, for which local code decides."
    elif scene.needed:
        first += f" must be {scene.needed}; {scene.size or scene.step} is not enough."
    else:
        first += " is too long or has too many corners for every size in the table."
    return (
        f"{first} Its way: {scene.way_word}. Its end: {scene.end_word}, {end_words(scene, system)}. What comes out can"
        " be close to boiling."
    )
