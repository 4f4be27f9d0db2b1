"""Two branches on one pump: their flows, their valves, and how warm each comes back."""

from dataclasses import dataclass

from matplotlib.patches import Polygon

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, PAPER, TEXT, Canvas
from ...drawing.picture import Picture
from ...quantities.display import celsius, number, show
from ...quantities.units import Q_
from .diagram import CheckValve, Lying, Pump, colour, round_end, standing_pipe, tank
from .returns import HIGHEST, LOWEST, return_word

WIDTH, HEIGHT = 884, 402  # [px]
OUT, BACK, NEAR, FAR = 58, 170, 380, 800  # [px] down to both mains, across to both branches
BARS = 226  # [px] down to the bars
BRANCHES = "near branch", "far branch"
BACK_NAMES = "near branch", "far branch", "mixed", "strictest source"
LOOKS = (("#7fb2de", ".."), ("#f0913a", ""))
BACK_LOOKS = (*LOOKS, ("#cfd8e0", "//"), ("#dfe3e8", ".."))
EVEN = 1.0  # [K] by which two returns may differ and count as balanced (common practice, no source)
WARMEST = 75.0  # [degC] the end of the bars of temperature
BOW_TIE = ((-9, -10), (9, 10), (-9, 10), (9, -10))


@dataclass(frozen=True)
class BalancingScene:
    """Everything that the picture shows, in SI floats (temperatures in degC); pairs are near and far branch."""

    hot: float
    tee: float  # where the branches part
    flows: tuple
    last: tuple  # at each branch's last tap
    returns: tuple  # at the end of each branch's return
    mixed: float  # where the returns meet
    back: float  # at the heater
    lengths: tuple
    openings: tuple  # of the valves, 0 to 1
    given: float  # [Pa] by the pump


class BalancingPicture(Picture):
    """Shows both branches, their flows and their returns."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 442, BARS), (442, 0, 442, BARS), (0, BARS, 436, HEIGHT - BARS), (442, BARS, 442, HEIGHT - BARS))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 2, WIDTH, BARS - 4)
        axes.text(0, 14, "Two branches, one pump", size=TEXT, weight="bold", color=INK)
        self.tank = tank(canvas, axes, 6, 40, 56, 146)
        axes.text(34, 208, "heater", size=TEXT, color=FAINT, ha="center")
        self.legs = [
            (standing_pipe(canvas, axes, x, OUT, 112), standing_pipe(canvas, axes, x, 112, BACK)) for x in (NEAR, FAR)
        ]
        self.lying = [
            Lying(canvas, axes, left, right + 7, down)
            for down in (OUT, BACK)
            for left, right in ((62, NEAR), (NEAR + 7, FAR))
        ]
        self.valves = [
            canvas.moving(axes.add_patch(Polygon([(x + a, 132 + b) for a, b in BOW_TIE], fc=PAPER, ec=INK, lw=1.8)))
            for x in (NEAR, FAR)
        ]
        Pump(canvas, axes, 160, BACK, "left")
        CheckValve(canvas, axes, 250, BACK, "left")
        axes.text(160, 204, "pump", size=TEXT, color=FAINT, ha="center")
        axes.text(250, 204, "check valve", size=TEXT, color=FAINT, ha="center")
        self._labels(canvas, axes)
        self.flow = Bars(canvas, 0, BARS, 430, "Flow", BRANCHES, LOOKS, 116, 96)
        below = canvas.drawing(0, BARS + 98, 436, 70)
        self.told = [canvas.words(below, 0, 20 + 23 * row) for row in range(2)]
        self.back = Bars(canvas, 452, BARS, 430, "Back from the branch", BACK_NAMES, BACK_LOOKS, 142, 76)

    def _labels(self, canvas: Canvas, axes) -> None:
        style = {"weight": "bold", "backed": True}
        self.names = [canvas.words(axes, x - 14, 92, ha="right", weight="bold") for x in (NEAR, FAR)]
        self.openings = [canvas.words(axes, x - 16, 138, ha="right") for x in (NEAR, FAR)]
        self.degrees = [
            canvas.words(axes, x, y + 6, ha="center", **style)
            for x, y in ((110, OUT), (320, OUT), (110, BACK), (600, BACK))
        ]
        self.after = [
            canvas.words(axes, NEAR - 16, 160, ha="right", **style),
            canvas.words(axes, FAR + 16, 160, **style),
        ]
        self.kept_words = canvas.words(axes, WIDTH - 4, 14, color=FAINT, ha="right")

    def show(self, scene: BalancingScene) -> None:
        colour(self.tank, scene.hot)
        near, far = 0, 1
        for pipe, ends in zip(
            self.lying,
            (
                (scene.hot, scene.tee),
                (scene.tee, scene.last[far]),
                (scene.back, scene.mixed),
                (scene.returns[far], scene.last[far]),
            ),
        ):
            pipe.show(ends)
        for place, (top, bottom) in enumerate(self.legs):
            colour(top, scene.last[place] if place == far else scene.tee)
            colour(bottom, scene.returns[place] if place == near else scene.last[place])
        for words, value in zip(self.degrees, (scene.hot, scene.tee, scene.back, scene.returns[far])):
            words.set_text(self._short(value))
        for place in (near, far):
            length = show(Q_(scene.lengths[place], "m"), "length", self.system)
            self.names[place].set_text(f"{BRANCHES[place]}, {length} each way")
            self.openings[place].set_text(f"valve {100 * scene.openings[place]:.0f} % open")
        self.after[near].set_text(f"back {self._short(scene.returns[near])}")
        self.after[far].set_text(self._short(scene.last[far]))
        self.kept_words.set_text("(kept: dashed)" if self.kept else "")
        self._show_bars(scene)

    def _short(self, value: float) -> str:
        return number(celsius(value), "temperature", self.system) + "°"

    def _show_bars(self, scene: BalancingScene) -> None:
        end = round_end(*scene.flows, *(self.kept.flows if self.kept else ()))
        texts = [show(Q_(value, "m**3/s"), "measured flow", self.system) for value in scene.flows]
        self.flow.show([value / end for value in scene.flows], texts)
        self.flow.show_kept(self.kept and [value / end for value in self.kept.flows])
        warm = temperatures(scene)
        shown = [show(celsius(value), "temperature", self.system) for value in warm]
        self.back.show([value / WARMEST for value in warm], shown)
        self.back.show_kept(self.kept and [value / WARMEST for value in temperatures(self.kept)])
        given = show(Q_(scene.given, "Pa"), "loop pressure", self.system)
        self.told[0].set_text(f"The pump gives {given}.")
        least = show(celsius(LOWEST), "temperature", self.system)
        self.told[1].set_text(f"Every source asks for at least {least}.")

    def sentence(self, scene: BalancingScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: BalancingScene) -> str:
        return (
            "A heater, a pipe out and a return with a pump and a check valve, and two branches between them, each with"
            " a balancing valve. Bars of both flows, and of how warm each branch comes back."
        )


def temperatures(scene: BalancingScene) -> tuple:
    """Gives the temperatures [degC] in the order of BACK_NAMES."""
    return (*scene.returns, scene.mixed, HIGHEST)


def sentence(scene: BalancingScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    flows = [show(Q_(value, "m**3/s"), "measured flow", system) for value in scene.flows]
    backs = [show(celsius(value), "temperature", system) for value in scene.returns]
    mixed = show(celsius(scene.mixed), "temperature", system)
    alike = abs(scene.returns[0] - scene.returns[1]) <= EVEN
    warns = "" if alike else ": a thermometer at the heater does not show which branch is cool"
    return (
        f"The near branch takes {flows[0]} and comes back at {backs[0]}. The far branch gets {flows[1]} and comes back"
        f" at {backs[1]}, {return_word(scene.returns[1])}. Mixed they are {mixed}{warns}."
    )
