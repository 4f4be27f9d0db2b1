"""Where the heat goes: loss against thickness, the way out through foam and air, what a gap lets out, and what is
radiated.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, water_colour
from ...drawing.cut import SHOWN, Circles
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.pipe_strip import foam_bar
from ...quantities.display import SYSTEMS, celsius, show
from ...quantities.units import Q_
from ...runs.pipe import pipe_material

WIDTH, HEIGHT = 884, 446  # [px]
PART, RIGHT, LOWER = 430, 450, 268  # [px] width of a part; left edge of the right one; top of the lower row
THICKEST = 40.0  # [mm] shown
THICKNESS = Axis("thickness of the insulation", "thickness", 0, THICKEST, even(0, THICKEST, 10), (0, 0.5, 1, 1.5))
TOPS = (25, 50, 100, 200, 400, 800, 1600)  # [W/m] ends of the upright scale
LOSSES = tuple(Axis("", "heat loss", 0, top, even(0, top, top / 5), even(0, 0.96 * top, top / 5)) for top in TOPS)
HEAT, GAP_HEAT = "#c3ced8", "#5b6b7a"  # heat that leaves through foam, and through bare pipe: neither hot nor dangerous
LAYERS = ("water's film", "pipe wall", "insulation", "air outside")


@dataclass(frozen=True)
class Bare:
    """A bare pipe's loss and the part of it that is radiated [W/m]."""

    loss: float
    radiated: float


@dataclass(frozen=True)
class Scene:
    """Everything that the picture shows, in SI floats (temperatures in degC, lengths in m, losses in W/m)."""

    pipe_material: str
    bore: float
    pipe_outside: float
    thickness: float
    length: float
    bare_share: float
    water: float
    air: float
    wind: float  # [m/s]
    loss: float  # of the run, gaps included
    covered: Bare  # its covered part
    bare: float  # its bare part
    twice: float  # the run with twice the insulation, gaps as they are
    shiny: Bare | None  # None: this material is never shiny
    dark: Bare
    drops: tuple  # [K] across LAYERS, of the covered part
    hottest: float  # of the surfaces that a hand can reach
    thicknesses: np.ndarray  # shape (n,)
    losses: np.ndarray  # of the run at them
    gapless: np.ndarray  # and without its gaps

    @property
    def outside(self) -> float:
        """Gives the outermost diameter [m]."""
        return self.pipe_outside + 2 * self.thickness

    @property
    def gap_share(self) -> float:
        """Share of the loss that leaves through the gaps."""
        return self.bare_share * self.bare / self.loss

    def faces(self) -> tuple:
        """Gives what the bars show: (name, what it loses or None) of bare shiny pipe, bare dull pipe, covered pipe."""
        own = "this run" if self.thickness == 0 or self.bare_share == 0 else "covered part"
        return (("bare, shiny", self.shiny), (f"bare, {dark_name(self)}", self.dark), (own, self.covered))

    @property
    def difference(self) -> float:
        """Gives the difference from water to air [K]."""
        return self.water - self.air


class HeatGoesPicture(Picture):
    """Shows in its left part what a thickness is worth and why, in its right part what gaps and bare pipe lose."""

    size = WIDTH, HEIGHT
    parts = tuple(
        (left, top, 442, bottom - top) for top, bottom in ((0, LOWER - 2), (LOWER - 2, HEIGHT)) for left in (0, 442)
    )

    def build(self, canvas: Canvas) -> None:
        graph = self.graph = Graph(canvas, 4, 2, PART, LOWER - 10, "Loss at each thickness", THICKNESS, LOSSES[1])
        self.ghost = graph.line(lw=2, ls="--", color=GHOST)
        self.gapless = graph.line(lw=2, ls=":", color=FAINT)
        self.curve = graph.line()
        # none of the shapes of a verdict: a circle, a triangle, a square
        self.bare = graph.mark("D", ms=10, color=GAP_HEAT)
        self.here = graph.mark("*", ms=19, mec="white", mew=1.2)
        legend = canvas.drawing(4, 24, PART - 6, 80)
        self.names = [
            canvas.words(legend, PART - 6, 16 + 22 * row, ha="right", weight=weight, backed=True)
            for row, weight in enumerate(("bold", "normal", "normal"))
        ]
        self.way_out = WayOut(canvas, 4, LOWER, PART)
        self.gaps = Gaps(canvas, RIGHT, 2, PART)
        self.faces = Faces(canvas, RIGHT, LOWER, PART)
        self.scales = (self.graph,)

    def show(self, scene: Scene) -> None:
        kept = self.kept
        highest = max(one for each in (scene, kept) if each for one in (each.bare, each.loss, each.dark.loss))
        axis = next((axis for axis in LOSSES if axis.high >= highest), LOSSES[-1])
        self.graph.stretch(up=axis)
        self._show_graph(scene)
        self.way_out.show(scene, self.system)
        self.way_out.circles.show_kept(kept and kept.outside)
        self.gaps.show(scene, axis.high, self.system)
        self.gaps.show_kept(kept, axis.high)
        self.faces.show(scene, axis.high, self.system)

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def _show_graph(self, scene: Scene) -> None:
        self.curve.set_data(1000 * scene.thicknesses, scene.losses)
        self.gapless.set_data(1000 * scene.thicknesses, scene.gapless)
        self.gapless.set_visible(scene.bare_share > 0)
        self.ghost.set_data(*((1000 * self.kept.thicknesses, self.kept.losses) if self.kept else ([], [])))
        self.bare.set_data([0], [scene.bare])
        self.here.set_data([1000 * scene.thickness], [scene.loss])
        texts = (
            f"★ this run: {loss_words(scene.loss, self.system)}",
            f"◆ bare: {loss_words(scene.bare, self.system)}",
            f"dotted: {loss_words(scene.covered.loss, self.system)} without gaps" if scene.bare_share else "",
        )
        for name, text in zip(self.names, texts):
            name.set_text(text)

    def description(self, scene: Scene) -> str:
        layers = ", ".join(
            f"{name} {show(Q_(drop, 'delta_degC'), 'temperature drop', self.system)}"
            for name, drop in zip(LAYERS, scene.drops)
        )
        bars = "; ".join(
            f"{name}: {loss_words(one.loss, self.system)}, of which {one.radiated / one.loss:.0%} radiated"
            if one
            else not_shown(scene)
            for name, one in scene.faces()
        )
        return (
            "Four drawings. A curve of loss that falls steeply with the first thickness and then hardly. A cut through"
            f" the pipe, to scale, and what each layer of it holds back: {layers}. The run with all its gaps put"
            " together, and the heat that leaves its covered and its bare length as two blocks whose areas are the"
            f" heat. Bars of what a {per(self.system)} loses: {bars}."
        )


class WayOut:
    """The cut through the run, to scale, and the temperatures that the heat passes on its way out."""

    ACROSS = 150  # [px] of the largest cut
    LINES = (44, 70, 96, 122, 148)  # [px] baselines

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, HEIGHT - LOWER)
        axes.text(0, 14, "Cut, to scale, and the heat's way out", size=TEXT, weight="bold", color=INK)
        self.circles = Circles(canvas, axes, (0.5 * self.ACROSS, 24 + 0.5 * self.ACROSS), self.ACROSS / SHOWN)
        self.names, self.values = (
            [canvas.words(axes, x, y, ha=ha, color=FAINT if row % 2 else INK) for row, y in enumerate(self.LINES)]
            for x, ha in ((self.ACROSS + 18, "left"), (width - 14, "right"))
        )

    def show(self, scene: Scene, system: str) -> None:
        """Move the artists to a scene."""
        self.circles.show(scene.bore, scene.pipe_outside, scene.outside, wall_colour(scene), scene.water)
        inside, air = sum(scene.drops[:-1]), scene.drops[-1]
        last = "foam" if scene.thickness else "pipe"
        held = [show(Q_(drop, "delta_degC"), "temperature drop", system) for drop in (inside, air)]
        warm, face, cool = (
            show(celsius(value), "temperature", system) for value in (scene.water, scene.water - inside, scene.air)
        )
        rows = (
            ("water", warm),
            ("pipe and foam take" if scene.thickness else "the pipe takes", held[0]),
            (f"outside of the {last}", face),
            ("the film of air takes", held[1]),
            ("air", cool),
        )
        for name, value, texts in zip(self.names, self.values, rows):
            name.set_text(texts[0])
            value.set_text(texts[1])


class Gaps:
    """The run with its bare length put together at one end, and above it the heat that leaves it, as two blocks: as
    wide as the length, as high as the loss of each metre or foot.
    """

    TOP, BASE, PIPE, COVER = 44, 176, 14, 8  # [px] of the blocks; thickness of the drawn pipe and of its foam

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, LOWER - 10)
        axes.text(0, 14, "What covered and bare lengths lose", size=TEXT, weight="bold", color=INK)
        axes.text(0, 36, "the area of a block is its heat", size=TEXT, color=FAINT)
        self.width = width
        y = self.BASE + 4 + self.COVER
        self.blocks = [
            canvas.moving(axes.add_patch(Rectangle((0, 0), 0, 0, fc=colour, ec=INK, lw=0.8)))
            for colour in (HEAT, GAP_HEAT)
        ]
        self.pipe = canvas.moving(axes.add_patch(Rectangle((0, y), width, self.PIPE, ec=INK, lw=1.5)))
        self.foam = [foam_bar(canvas, axes, 0, place, 0, self.COVER) for place in (y - self.COVER, y + self.PIPE)]
        self.kept = canvas.moving(*axes.plot([], [], lw=2, ls="--", color=GHOST))
        self.losses, self.lengths, self.shares = (
            [
                canvas.words(axes, x, low, ha=ha, weight=weight, backed=low == self.BASE)
                for x, ha in ((0, "left"), (width, "right"))
            ]
            for low, weight in (
                (self.BASE, "normal"),
                (y + self.PIPE + self.COVER + 20, "normal"),
                (y + self.PIPE + self.COVER + 42, "bold"),
            )
        )

    def show(self, scene: Scene, highest: float, system: str) -> None:
        """Move the artists to a scene. highest : loss [W/m] of a block as high as there is room"""
        bare, heat = (scene.bare_share, scene.gap_share) if scene.thickness else (1.0, 1.0)
        place = round(self.width * (1 - bare))
        self.pipe.set_facecolor(water_colour(scene.water))
        for foam in self.foam:
            foam.set_width(place)
        parts = zip(
            self.blocks,
            ((0, place), (place, self.width)),
            (scene.covered.loss, scene.bare),
            (("covered", 1 - bare, 1 - heat), ("bare", bare, heat)),
        )
        for number, (block, (begin, end), loss, (name, share, of_heat)) in enumerate(parts):
            height = (self.BASE - self.TOP) * loss / highest
            block.set(x=begin, y=self.BASE - height, width=end - begin, height=height, visible=share > 0)
            texts = (
                (self.losses[number], loss_words(loss, system)),
                (self.lengths[number], f"{share:.0%} of the length {name}"),
                (self.shares[number], f"{of_heat:.0%} of the heat"),
            )
            self.losses[number].set_y(self.BASE - height - 6)
            for words, text in texts:
                words.set_text(text if share > 0 else "")
        if not bare:
            self.lengths[1].set_text("no gaps: the best case")

    def show_kept(self, scene: Scene | None, highest: float) -> None:
        """A dashed line along the top of the kept blocks; None: nothing."""
        if scene is None:
            return self.kept.set_data([], [])
        place = self.width * (1 - scene.bare_share)
        levels = [self.BASE - (self.BASE - self.TOP) * loss / highest for loss in (scene.covered.loss, scene.bare)]
        ends = 2 if scene.bare_share == 0 else 4
        return self.kept.set_data([0, place, place, self.width][:ends], np.repeat(levels, 2)[:ends])


class Faces:
    """Bars of what this pipe loses bare, shiny and dull, and under its foam; the radiated part of each is hatched."""

    ROOM, NUMBERS, FIRST, ROW = 128, 96, 26, 32  # [px]

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, HEIGHT - LOWER)
        axes.text(0, 14, "Bare and covered: what is radiated", size=TEXT, weight="bold", color=INK)
        self.span = width - self.ROOM - self.NUMBERS
        self.names, self.numbers, self.bars = [], [], []
        for row in range(3):
            y = self.FIRST + self.ROW * row
            self.bars.append(
                [
                    canvas.moving(
                        axes.add_patch(Rectangle((self.ROOM, y), 0, 22, fc=HEAT, ec=INK, lw=0.8, hatch=hatch))
                    )
                    for hatch in ("", "//")
                ]
            )
            self.names.append(canvas.words(axes, 0, y + 16))
            self.numbers.append(canvas.words(axes, self.ROOM, y + 16))
        low = self.FIRST + 3 * self.ROW + 4
        for x, hatch, name in ((0, "", "carried off by the air"), (214, "//", "radiated")):
            axes.add_patch(Rectangle((x, low), 22, 16, fc=HEAT, ec=INK, lw=0.8, hatch=hatch))
            axes.text(x + 30, low + 13, name, size=TEXT, color=INK)

    def show(self, scene: Scene, highest: float, system: str) -> None:
        """Move the artists to a scene. highest : loss [W/m] of the longest bar that fits"""
        for (name, one), words, number, bars in zip(scene.faces(), self.names, self.numbers, self.bars):
            words.set_text(name)
            loss, radiated = (one.loss, one.radiated) if one else (0.0, 0.0)
            begin = self.ROOM
            for bar, part in zip(bars, (loss - radiated, radiated)):
                bar.set(x=begin, width=self.span * part / highest, visible=bool(one))
                begin += bar.get_width()
            number.set_x(begin + 8 if one else self.ROOM)
            number.set_text(loss_words(loss, system) if one else not_shown(scene))


def dark_name(scene: Scene) -> str:
    """Says what the duller of the two bare pipes is called."""
    return "oxidised" if scene.shiny else scene.pipe_material


def wall_colour(scene: Scene) -> str:
    """Gives the colour of this run's pipe wall."""
    return pipe_material(scene.pipe_material).colour


def not_shown(scene: Scene) -> str:
    """Says why there is no shiny pipe beside the dull one."""
    if pipe_material(scene.pipe_material).plastic:
        return f"{scene.pipe_material} is never shiny"
    return "a shiny face has no figure"


def per(system: str) -> str:
    """Says which length a loss is given for."""
    return "metre" if system == SYSTEMS[0] else "foot"


@lru_cache(maxsize=64)
def loss_words(watts: float, system: str) -> str:
    """Gives a loss [W/m] in words; a move of a slider asks for the same few of them several times."""
    return show(Q_(watts, "W/m"), "heat loss", system)


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    water, air = (show(celsius(value), "temperature", system) for value in (scene.water, scene.air))
    wind = f"in wind of {show(Q_(scene.wind, 'm/s'), 'wind', system)}" if scene.wind > 0 else "without wind"
    around, loss = f"With water at {water} and air at {air} {wind} the run", loss_words(scene.loss, system)
    if scene.thickness == 0:
        return f"{around} loses {loss}. All of it is bare pipe."
    foam = f"{show(Q_(scene.thickness, 'm'), 'thickness', system)} of insulation"
    if scene.bare_share == 0:
        return f"{around}, under {foam}, loses {loss}. Bare it would lose {loss_words(scene.bare, system)}."
    return (
        f"{around} loses {loss}. The part under {foam} loses {loss_words(scene.covered.loss, system)}, the bare part"
        f" {loss_words(scene.bare, system)}. Of the length {scene.bare_share:.0%} is bare, and it makes"
        f" {scene.gap_share:.0%} of the loss."
    )
