"""The picture of a session: one line a lesson, its parts along the minutes, and where the time that there is ends."""

from dataclasses import dataclass

from matplotlib.patches import Rectangle

from ..drawing.canvas import FAINT, INK, TEXT, Canvas
from ..drawing.colours import GHOST
from ..drawing.picture import Picture
from .lesson_minutes import lessons
from .session import Plan
from .session_clock import clock
from .timetable import BENCH, FOR_ALL, PATH, TALK

LINE, TOP, LEFT = 24, 52, 250  # [px]
LINES = len(lessons()) + 1  # and what all share
WIDTH, HEIGHT = 884, TOP + LINE * LINES + 62  # [px]
PARTS = 12  # parts of one line that are drawn one by one
STEPS = (10, 15, 30, 60, 120, 300, 600, 1500, 3000, 6000)  # [min] from number to number
LOOKS = {PATH: ("#9dc3e6", ""), BENCH: ("#f4d58a", "//"), TALK: ("#d3ecd9", ".."), FOR_ALL: ("#d5dbe0", "")}
ALL = "Opening, breaks, closing"


@dataclass(frozen=True)
class Scene:
    """A plan; the names of its lessons, number → name; when it begins [min after midnight] or None; the people's names,
    or none.
    """

    plan: Plan
    names: dict
    begins: int | None = None
    people: tuple = ()


class SessionPicture(Picture):
    """Shows a session's timetable, a line for each lesson."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 500, HEIGHT), (380, 0, WIDTH - 380, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = self.axes = canvas.drawing(0, 0, WIDTH, HEIGHT)
        self.title = canvas.words(axes, 0, 14, weight="bold")
        for x, (colour, hatch), word in zip(
            (250, 335, 492, 650), LOOKS.values(), ("path", "at the benches", "talking it over", "for everybody")
        ):
            axes.add_patch(Rectangle((x, 2), 20, 14, fc=colour, ec=INK, lw=0.8, hatch=hatch))
            axes.text(x + 25, 14, word, size=TEXT, color=INK)
        self.ticks = [
            (
                canvas.moving(*axes.plot([], [], lw=1, color="#d5dbe0")),
                canvas.words(axes, 0, TOP - 8, ha="center", color=FAINT),
            )
            for _ in range(12)
        ]
        self.names, self.numbers = (
            [canvas.words(axes, x, TOP + LINE * (place + 0.5) + 5, ha="right") for place in range(LINES)]
            for x in (LEFT - 8, WIDTH - 1)
        )
        self.bars = [
            [canvas.moving(axes.add_patch(Rectangle((0, 0), 0, 18, ec=INK, lw=0.8))) for _ in range(PARTS)]
            for _ in range(LINES)
        ]
        self.end, self.kept_end = (
            canvas.moving(*axes.plot([], [], lw=3, ls=ls, color=colour)) for ls, colour in (("-", INK), ("--", GHOST))
        )
        self.end_words = canvas.words(axes, 0, HEIGHT - 40, weight="bold", ha="right", backed=True)
        self.verdict = canvas.words(axes, 0, HEIGHT - 12, weight="bold")

    def show(self, scene: Scene) -> None:
        plan = scene.plan
        longest = max(plan.needed, plan.minutes, self.kept.plan.needed if self.kept else 0)
        scale = (WIDTH - LEFT - 24) / longest
        self.title.set_text("Timetable [min]" if scene.begins is None else "Timetable")
        self._scale(scene, longest, scale)
        rows = [(ALL, [part for part in plan.parts if not part.lesson])]
        rows += [(_name(scene, one), [part for part in plan.parts if one in part.lessons]) for one in plan.lessons]
        for place, (name, number, bars) in enumerate(zip(self.names, self.numbers, self.bars)):
            label, parts = rows[place] if place < len(rows) else ("", [])
            name.set_text(label)
            number.set_text(label[:2] if label != ALL else "")
            self._show(bars, drawn(parts), scale, TOP + LINE * place + 3)
        x = LEFT + scale * plan.minutes
        self.end.set_data([x, x], [TOP - 4, HEIGHT - 56])
        self.end_words.set_position((x + 4, HEIGHT - 38))
        self.end_words.set_text(f"{plan.minutes} min in all")
        kept = LEFT + scale * self.kept.plan.needed if self.kept else 0
        self.kept_end.set_data(([kept, kept], [TOP - 4, HEIGHT - 56]) if self.kept else ([], []))
        self.verdict.set_text(
            f"{'●' if plan.fits else '■'} {plan.needed} of {plan.minutes} minutes{'' if plan.fits else ': too long'}"
        )

    def sentence(self, scene: Scene) -> str:
        plan = scene.plan
        rounds = "everybody at once" if plan.rounds == 1 else f"up to {plan.rounds} turns, {plan.at_once} at once"
        benches = "1 bench" if plan.benches == 1 else f"{plan.benches} benches"
        return f"{plan.told()} {plan.people} {'people' if plan.people > 1 else 'person'} at {benches}: {rounds}."

    def _scale(self, scene: Scene, longest: int, scale: float) -> None:
        step = next(one for one in STEPS if longest / one <= len(self.ticks) - 1)
        for place, (line, words) in enumerate(self.ticks):
            x, shown = LEFT + scale * step * place, step * place <= longest
            line.set_data(([x, x], [TOP, HEIGHT - 56]) if shown else ([], []))
            words.set_position((x, TOP - 8))
            words.set_text(clock(scene.begins, step * place, self.system).split(" ")[0] if shown else "")

    def _show(self, bars, parts, scale: float, top: float) -> None:
        for place, bar in enumerate(bars):
            bar.set_visible(place < len(parts))
            if place < len(parts):
                start, minutes, colour, hatch = parts[place]
                bar.set(x=LEFT + scale * start, y=top, width=scale * minutes, facecolor=colour, hatch=hatch)

    def description(self, scene: Scene) -> str:
        lines = "; ".join(
            f"{clock(scene.begins, part.start, self.system)} to {clock(scene.begins, part.end, self.system)},"
            f" {part.lesson + ' ' if part.lesson else ''}{part.what}"
            for part in scene.plan.parts
        )
        return f"A timetable as bars along the minutes: {lines}."


def drawn(parts) -> list[tuple]:
    """Start, minutes, colour and hatch of bars; turns that are too many for a line are drawn as one bar."""
    looks = [(part.start, part.minutes, *LOOKS[part.kind]) for part in parts]
    if len(looks) <= PARTS:
        return looks
    middle = looks[1:-1]
    return [looks[0], (middle[0][0], middle[-1][0] + middle[-1][1] - middle[0][0], *middle[0][2:]), looks[-1]]


def _name(scene: Scene, lesson: str) -> str:
    name = f"{lesson} {scene.names.get(lesson, '')}".strip()
    return name if len(name) <= 27 else f"{name[:26]}…"
