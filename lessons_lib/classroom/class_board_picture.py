"""The picture of the class board: questions by share right, guesses around the model's result, mistakes by kind. No
names are in it.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Rectangle

from ..drawing.canvas import FAINT, INK, TEXT, Canvas
from ..drawing.colours import GHOST
from ..drawing.picture import Picture
from ..exercises.bank import name_of, of_school
from ..quantities.display import number, show

WIDTH, HEIGHT = 884, 462  # [px]
ROWS, COLUMN, ROW = 9, 5, 48  # questions, of them in the left half, [px] for a name and the bar beneath it
FEW, BELOW = 5, 290  # rows of guesses and of mistakes, [px] where they begin
# [px] longest bar, room of guesses, where the right half begins
BAR, STRIP, HALF = 360, 130, 452
AT_ONCE, LATER, MADE = "#2f6f4f", "#d3ecd9", "#f0913a"
FAR = 3.0  # a guess is drawn at the edge from so many times the middle guess's distance on
LONGEST = 32  # characters of a name


@dataclass(frozen=True)
class QuestionRow:
    """Describes one question of the board. identity : of the bank; learners who tried, got it right, and got it right
    at once.
    """

    identity: str
    tried: int
    right: int
    at_once: int

    @property
    def share(self) -> float:
        return self.right / self.tried

    @property
    def name(self) -> str:
        """Gives its name on page, worksheet and key, and a few words: "01 · 3 hot share", "07 · 9 own question"."""
        words = "own question" if of_school(self.identity) else self.identity[3:].replace("-", " ")
        return f"{name_of(self.identity)} {words}"


@dataclass(frozen=True)
class GuessRow:
    """The guesses of one lesson. key; kind : of display.KINDS; offs : guessed less the model's [own unit]; middle,
    model : quantities, None where unknown
    """

    key: str
    kind: str
    offs: tuple
    middle: object
    model: object


@dataclass(frozen=True)
class Scene:
    """A class as it is drawn, without names.

    title : whose answers; questions : QuestionRow of all, those first that need help most; guesses : GuessRow
    mistakes : (name,
        learners) pairs, most first
    learners, stuck, skipped : how many; next : what to say next
    """

    title: str
    learners: int
    questions: tuple
    guesses: tuple
    mistakes: tuple
    stuck: int
    skipped: int
    next: str

    @property
    def hardest(self) -> tuple:
        """The questions that are drawn: those that need help most."""
        return self.questions[:ROWS]

    @property
    def at_once(self) -> float | None:
        """Share of first answers that were right; None without any."""
        tried = sum(one.tried for one in self.questions)
        return sum(one.at_once for one in self.questions) / tried if tried else None


class ClassBoardPicture(Picture):
    """Shows how a class does: questions, guesses around the model's result, and mistakes by kind."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 554, 22),
        (554, 0, WIDTH - 554, 22),
        (0, 22, 442, BELOW - 48),
        (442, 22, 442, BELOW - 48),
        (442, BELOW - 26, 442, HEIGHT - BELOW + 26),
        (0, BELOW - 26, 442, HEIGHT - BELOW + 26),
    )

    def build(self, canvas: Canvas) -> None:
        axes = self.axes = canvas.drawing(0, 0, WIDTH, HEIGHT)
        self.head = canvas.words(axes, 0, 14, weight="bold")
        for x, colour, hatch, word in (
            (572, AT_ONCE, "", "at once"),
            (668, LATER, "//", "later"),
            (746, "white", "", "not yet"),
        ):
            axes.add_patch(Rectangle((x, 3), 22, 13, fc=colour, ec=INK, lw=0.8, hatch=hatch))
            axes.text(x + 27, 15, word, size=TEXT, color=INK)
        self.rows = [self._row(HALF * (place // COLUMN), 24 + ROW * (place % COLUMN)) for place in range(ROWS)]
        axes.text(0, BELOW - 8, "Guesses on a scale around the model's result", size=TEXT, weight="bold", color=INK)
        axes.text(HALF, BELOW - 8, "As if it were so: learners", size=TEXT, weight="bold", color=INK)
        self.guesses = [self._guess(BELOW + 32 * place) for place in range(FEW)]
        self.mistakes = [self._mistake(BELOW + 32 * place) for place in range(FEW)]

    def _row(self, left: float, top: float) -> tuple:
        canvas, axes, middle = self.canvas, self.axes, top + 31
        patches = [
            canvas.moving(axes.add_patch(Rectangle((left, middle - 9), 0, 18, fc=colour, ec=INK, lw=0.8, hatch=hatch)))
            for colour, hatch in (("white", ""), (LATER, "//"), (AT_ONCE, ""))
        ]
        ghost = canvas.moving(*axes.plot([], [], ls="--", lw=2.5, color=GHOST))
        name, number = canvas.words(axes, left, top + 16), canvas.words(axes, left + BAR + 8, middle + 5)
        return patches, ghost, name, number, (left, middle)

    def _guess(self, top: float) -> tuple:
        canvas, axes, middle = self.canvas, self.axes, top + 16
        line = canvas.moving(*axes.plot([], [], lw=1, color=FAINT))
        model = canvas.moving(*axes.plot([], [], lw=3, color=INK))
        dots = canvas.moving(*axes.plot([], [], "o", ms=8, mfc=MADE, mec=INK, mew=0.8, alpha=0.6))
        return (
            line,
            model,
            dots,
            canvas.words(axes, 0, middle + 5, weight="bold"),
            canvas.words(axes, 2 * STRIP - 66, middle + 5),
            middle,
        )

    def _mistake(self, top: float) -> tuple:
        canvas, axes, middle = self.canvas, self.axes, top + 16
        bar = canvas.moving(
            axes.add_patch(Rectangle((HALF + 310, middle - 8), 0, 16, fc=MADE, ec=INK, lw=0.8, hatch=".."))
        )
        return (
            bar,
            canvas.words(axes, HALF + 302, middle + 5, ha="right"),
            canvas.words(axes, HALF + 316, middle + 5),
            middle,
        )

    def show(self, scene: Scene) -> None:
        shown = scene.hardest
        which = (
            f"the {len(shown)} that need it most, of {len(scene.questions)}"
            if len(scene.questions) > ROWS
            else "every question tried, by need"
        )
        self.head.set_text(f"{scene.title}: right, {which}" if shown else f"{scene.title}: no answers yet")
        kept = {one.identity: one.share for one in self.kept.questions} if self.kept else {}
        for place, parts in enumerate(self.rows):
            self._show_row(parts, shown[place] if place < len(shown) else None, kept)
        for place, parts in enumerate(self.guesses):
            self._show_guess(parts, scene.guesses[place] if place < len(scene.guesses) else None)
        most = max((times for _, times in scene.mistakes), default=1)
        for place, parts in enumerate(self.mistakes):
            self._show_mistake(parts, scene.mistakes[place] if place < len(scene.mistakes) else None, most)

    def sentence(self, scene: Scene) -> str:
        who = "1 learner" if scene.learners == 1 else f"{scene.learners} learners"
        left = f" {scene.skipped} other file{'s' if scene.skipped != 1 else ''} skipped." if scene.skipped else ""
        if not scene.questions:
            return f"{scene.title}: {who}, no question answered yet. Press Refresh when they have begun.{left}"
        hardest = scene.questions[0]
        most = (
            f" Most common mistake: “{shortened(scene.mistakes[0][0])}” ({scene.mistakes[0][1]})."
            if scene.mistakes
            else ""
        )
        stuck = (
            "Nobody is" if not scene.stuck else "1 learner is" if scene.stuck == 1 else f"{scene.stuck} learners are"
        )
        return (
            f"{scene.title}: {who}, {len(scene.questions)} question{'s' if len(scene.questions) != 1 else ''} tried;"
            f" {100 * scene.at_once:.0f} % of first answers were right. Lowest: {hardest.name}, {hardest.right} of"
            f" {hardest.tried}.{most} {stuck} stuck.{left} {scene.next}"
        )

    def _show_row(self, parts, row: QuestionRow | None, kept: dict) -> None:
        patches, ghost, name, number, (left, middle) = parts
        for patch, share in zip(patches, (1.0, row.share, row.at_once / row.tried) if row else (0.0, 0.0, 0.0)):
            patch.set_width(BAR * share)
            patch.set_visible(row is not None)
        name.set_text(row.name if row else "")
        number.set_text(f"{row.right} of {row.tried}" if row else "")
        here = row is not None and row.identity in kept
        x = left + BAR * kept[row.identity] if here else 0.0
        ghost.set_data(([x, x], [middle - 12, middle + 12]) if here else ([], []))

    def _show_guess(self, parts, row: GuessRow | None) -> None:
        line, model, dots, name, words, middle = parts
        shown = row is not None and len(row.offs) > 0
        left, right, centre = 34, 2 * STRIP - 80, STRIP - 23
        line.set_data(([left, right], [middle, middle]) if shown else ([], []))
        model.set_data(([centre, centre], [middle - 12, middle + 12]) if shown else ([], []))
        places = centre + (right - centre - 4) * np.array(spread(row.offs)) if shown else []
        dots.set_data(places, [middle] * len(places))
        name.set_text(row.key if row else "")
        words.set_text(scale_told(row, self.system) if row else "")

    def _show_mistake(self, parts, pair, most: int) -> None:
        bar, name, number, middle = parts
        bar.set_width(80 * pair[1] / most if pair else 0)
        bar.set_visible(pair is not None)
        name.set_text(f"“{shortened(pair[0])}”" if pair else "")
        number.set_position((HALF + 316 + bar.get_width(), middle + 5))
        number.set_text(str(pair[1]) if pair else "")

    def description(self, scene: Scene) -> str:
        rows = "; ".join(f"{one.name} {one.right} of {one.tried} right, {one.at_once} at once" for one in scene.hardest)
        guesses = "; ".join(
            f"lesson {one.key}, middle {show(one.middle, one.kind, self.system)}, model {_model(one, self.system)}"
            for one in scene.guesses[:FEW]
        )
        mistakes = "; ".join(f"“{shortened(name)}” {times}" for name, times in scene.mistakes[:FEW])
        return (
            f"Bars for questions: {rows or 'none'}. Guesses as dots on lines around the model's result:"
            f" {guesses or 'none'}. Bars for mistakes: {mistakes or 'none'}."
        )


def spread(offs) -> tuple:
    """Says where guesses stand between the edges, -1 to 1: the edge is three times as far off as the middle guess."""
    return tuple(float(one) for one in np.clip(np.array(offs) / edge_of(offs), -1.0, 1.0))


def edge_of(offs) -> float:
    """Says how far from the model's result the edges of the line are."""
    return FAR * float(np.median(np.abs(offs))) or float(np.max(np.abs(offs))) or 1.0


def scale_told(row: GuessRow, system: str) -> str:
    """Says what the ends of a line, the model's result and the middle guess are."""
    if row.model is None:
        return f"middle guess {show(row.middle, row.kind, system)}, not compared"
    edge = type(row.model)(edge_of(row.offs), row.middle.units)
    model = row.model.to(row.middle.units).magnitude
    low, high = (type(row.model)(value, row.middle.units) for value in (model - edge.magnitude, model + edge.magnitude))
    ends = f"{number(low, row.kind, system)} … {show(high, row.kind, system)}"
    return f"{ends}; model {number(row.model, row.kind, system)}"


def shortened(name: str) -> str:
    """A name as long as the picture has room for."""
    return name if len(name) <= LONGEST else f"{name[: LONGEST - 1]}…"


def _model(row: GuessRow, system: str) -> str:
    return "not compared" if row.model is None else show(row.model, row.kind, system)
