"""Where the heat goes: loss against thickness, shiny and dark bare pipe, what holds the heat back, and what a gap
does.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.bars import Bars
from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import FOAM, GHOST, tube_pixels, water_colour
from ...drawing.cut import SHOWN, Circles
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.pipe_strip import foam_bar
from ...quantities.display import celsius, show
from ...quantities.units import Q_
from ...runs.pipe import pipe_material

WIDTH, HEIGHT = 884, 446  # [px]
SPLIT = 442  # [px] left edge of the right half
THICKEST = 40.0  # [mm] shown
THICKNESS = Axis("thickness of the insulation", "thickness", 0, THICKEST, even(0, THICKEST, 10), (0, 0.5, 1, 1.5))
TOPS = (25, 50, 100, 200, 400, 800, 1600)  # [W/m] ends of the upright scale
LOSSES = tuple(Axis("", "heat loss", 0, top, even(0, top, top / 5), even(0, 0.96 * top, top / 5)) for top in TOPS)
SHINY, DARK, LOST = "#e3a46c", "#5d3a22", "#e8924a"
LAYERS = ("water's film", "pipe wall", "insulation", "air outside")
LOOKS = (("#7fb2de", ""), ("#a35f2a", "\\\\"), (FOAM, ".."), ("#dfe7ee", "//"))


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

    @property
    def difference(self) -> float:
        """Gives the difference from water to air [K]."""
        return self.water - self.air


class HeatGoesPicture(Picture):
    """Shows the loss against the insulation, pipes to one scale, what each layer holds back, and gaps."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, SPLIT - 10, 286),
        (SPLIT - 10, 0, WIDTH - SPLIT + 10, 280),
        (0, 286, SPLIT - 10, HEIGHT - 286),
        (SPLIT - 10, 278, WIDTH - SPLIT + 10, HEIGHT - 278),
    )

    def build(self, canvas: Canvas) -> None:
        graph = self.graph = Graph(canvas, 4, 2, SPLIT - 26, 280, "Loss against thickness", THICKNESS, LOSSES[1])
        self.ghost = graph.line(lw=2, ls="--", color=GHOST)
        self.gapless = graph.line(lw=2, ls=":", color=FAINT)
        self.curve = graph.line()
        self.shiny = graph.mark("D", ms=10, mfc="white", mew=2.5)
        # none of the shapes of a verdict: a circle, a triangle, a square
        self.dark = graph.mark("D", ms=10, color=DARK)
        self.here = graph.mark("*", ms=19, mec="white", mew=1.2)
        legend = canvas.drawing(SPLIT - 250, 26, 230, 100)
        self.names = [canvas.words(legend, 230, 16 + 22 * row, ha="right", backed=True) for row in range(4)]
        self.layers = Bars(
            canvas, 4, 292, SPLIT - 26, "Temperature that each layer holds back", LAYERS, LOOKS, room=110, numbers=84
        )
        self.pieces = Pieces(canvas, SPLIT, 2, WIDTH - SPLIT)
        self.gaps = Gaps(canvas, SPLIT, 276, WIDTH - SPLIT - 8)
        self.scales = (self.graph,)

    def show(self, scene: Scene) -> None:
        self._show_graph(scene)
        drops = [show(Q_(drop, "delta_degC"), "temperature drop", self.system) for drop in scene.drops]
        self.layers.show([drop / scene.difference for drop in scene.drops], drops)
        self.layers.show_kept(self.kept and [drop / self.kept.difference for drop in self.kept.drops])
        self.pieces.show(scene, self.system)
        self.pieces.own.show_kept(self.kept and self.kept.outside)
        self.gaps.show(scene)

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def _show_graph(self, scene: Scene) -> None:
        bare = [one.loss for one in (scene.shiny, scene.dark) if one]
        highest = max(*bare, scene.loss, *((self.kept.losses.max(),) if self.kept else ()))
        self.graph.stretch(up=next((axis for axis in LOSSES if axis.high >= highest), LOSSES[-1]))
        self.curve.set_data(1000 * scene.thicknesses, scene.losses)
        self.gapless.set_data(1000 * scene.thicknesses, scene.gapless)
        self.gapless.set_visible(scene.bare_share > 0)
        self.ghost.set_data(*((1000 * self.kept.thicknesses, self.kept.losses) if self.kept else ([], [])))
        self.shiny.set_data([0] if scene.shiny else [], [scene.shiny.loss] if scene.shiny else [])
        self.dark.set(xdata=[0], ydata=[scene.dark.loss], color=dark_colour(scene))
        self.here.set_data([1000 * scene.thickness], [scene.loss])
        texts = (
            "★ this run",
            "◆ bare, " + dark_name(scene),
            "◇ bare, shiny" if scene.shiny else "",
            "dotted: without gaps" if scene.bare_share else "",
        )
        for name, text in zip(self.names, texts):
            name.set_text(text)

    def description(self, scene: Scene) -> str:
        layers = ", ".join(
            f"{name} {show(Q_(drop, 'delta_degC'), 'temperature drop', self.system)}"
            for name, drop in zip(LAYERS, scene.drops)
        )
        shiny = (
            f"a shiny one loses {_loss(scene.shiny.loss, self.system)}" if scene.shiny else " ".join(not_shown(scene))
        )
        return (
            "Four drawings. A curve of loss that falls steeply with the first thickness and then hardly. Pipes to one"
            f" scale: of bare ones {shiny}, and {'an' if scene.shiny else 'a'} {dark_name(scene)} one"
            f" {_loss(scene.dark.loss, self.system)}. Bars of the temperature that each layer holds back: {layers}. A"
            " strip of the run with its bare share, and a strip of its loss."
        )


class Pieces:
    """A shiny bare pipe and a dark one from the side, the run's own cut through, all to one scale, and what each
    loses.
    """

    CENTRES, LEVEL, TALL = (70, 214, 356), 140, 150  # [px]
    SCALE = 164 / SHOWN  # [px/m]

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, 274)
        axes.text(0, 14, "To one scale, and what each loses", size=TEXT, weight="bold", color=INK)
        self.sides = [canvas.raster(axes, x, self.LEVEL - 0.5 * self.TALL) for x in self.CENTRES[:2]]
        self.own = Circles(canvas, axes, (self.CENTRES[2], self.LEVEL), self.SCALE)
        self.names, self.losses, self.radiated = (
            [canvas.words(axes, x, y, weight=weight, ha="center") for x in self.CENTRES]
            for y, weight in ((40, "normal"), (246, "bold"), (266, "normal"))
        )

    def show(self, scene: Scene, system: str) -> None:
        """Move the artists to a scene."""
        across = max(2, round(scene.pipe_outside * self.SCALE))
        for side, x, colour in zip(self.sides, self.CENTRES, (SHINY if scene.shiny else None, dark_colour(scene))):
            side.place = (x - 0.5 * across, side.place[1])
            side.set_pixels(tube_pixels(across, self.TALL, colour, colour == SHINY) if colour else None)
        self.own.show(scene.bore, scene.pipe_outside, scene.outside, wall_colour(scene), scene.water)
        own = "this run: bare" if scene.thickness == 0 else "its covered part" if scene.bare_share > 0 else "this run"
        for name, text in zip(self.names, ("bare, shiny" if scene.shiny else "", "bare, " + dark_name(scene), own)):
            name.set_text(text)
        for number, one in enumerate((scene.shiny, scene.dark, scene.covered)):
            lines = (_loss(one.loss, system), f"{one.radiated / one.loss:.0%} radiated") if one else not_shown(scene)
            self.losses[number].set_text(lines[0])
            self.radiated[number].set_text(lines[1])


class Gaps:
    """The run with its bare share gathered at one end, and beneath it where its heat leaves."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, 168)
        axes.text(0, 14, "All gaps put together, and their loss", size=TEXT, weight="bold", color=INK)
        self.width, self.canvas = width, canvas
        self.pipe = canvas.moving(axes.add_patch(Rectangle((0, 44), width, 20, ec=INK, lw=1.5)))
        self.foam = [foam_bar(canvas, axes, 0, y, 0, 15) for y in (28, 65)]
        self.lines = [
            canvas.moving(*axes.plot([0, 0], ends, lw=2, ls="--", color=INK))
            for ends in ((24, 84), (84, 112), (112, 142))
        ]
        self.kept_heat = canvas.moving(
            axes.add_patch(Rectangle((0, 112), width, 30, fc=FOAM, ec=INK, lw=0.8, hatch=".."))
        )
        self.lost = canvas.moving(axes.add_patch(Rectangle((0, 112), 0, 30, fc=LOST, ec=INK, lw=0.8, hatch="//")))
        self.ends = [canvas.words(axes, x, 164, ha=ha) for x, ha in ((0, "left"), (width, "right"))]
        self.length = canvas.words(axes, width, 102, ha="right", backed=True)

    def show(self, scene: Scene) -> None:
        """Move the artists to a scene."""
        bare = scene.bare_share if scene.thickness > 0 else 1.0
        lost = scene.gap_share if scene.thickness > 0 else 1.0
        place, heat = round(self.width * (1 - bare)), self.width * (1 - lost)
        self.pipe.set_facecolor(water_colour(scene.water))
        for foam in self.foam:
            foam.set_width(place)
        for line, ends in zip(self.lines, ((place, place), (place, heat), (heat, heat))):
            line.set(xdata=ends, visible=0 < bare < 1)
        self.lost.set(x=heat, width=self.width - heat)
        self.length.set_text(f"{bare:.0%} of the length is bare" if bare else "no gaps: the best case")
        self.ends[0].set_text(f"covered: {1 - lost:.0%} of the loss" if bare < 1 else "")
        self.ends[1].set_text(f"bare: {lost:.0%} of the loss" if bare else "")


def dark_name(scene: Scene) -> str:
    """Says what the duller of the two bare pipes is called."""
    return "oxidised" if scene.shiny else scene.pipe_material


def dark_colour(scene: Scene) -> str:
    """Gives the colour of the duller of the two bare pipes."""
    return DARK if scene.shiny else wall_colour(scene)


def wall_colour(scene: Scene) -> str:
    """Gives the colour of this run's pipe wall."""
    return pipe_material(scene.pipe_material).colour


def not_shown(scene: Scene) -> tuple[str, str]:
    """Says why there is no shiny pipe beside the dull one, in two lines."""
    if pipe_material(scene.pipe_material).plastic:
        return f"{scene.pipe_material} is", "never shiny"
    return "a shiny face", "has no figure"


def _loss(watts: float, system: str) -> str:
    return show(Q_(watts, "W/m"), "heat loss", system)


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    water, air = (show(celsius(value), "temperature", system) for value in (scene.water, scene.air))
    wind = f"in wind of {show(Q_(scene.wind, 'm/s'), 'wind', system)}" if scene.wind > 0 else "without wind"
    around = f"With water at {water} and air at {air} {wind} the run"
    if scene.thickness == 0:
        return f"{around} loses {_loss(scene.loss, system)}, all of it bare pipe."
    foam = f"{show(Q_(scene.thickness, 'm'), 'thickness', system)} of insulation"
    if scene.bare_share == 0:
        return (
            f"{around}, under {foam} without a gap, loses {_loss(scene.loss, system)}; bare it would lose"
            f" {_loss(scene.bare, system)}."
        )
    return (
        f"{around} loses {_loss(scene.loss, system)}. The part under {foam} loses {_loss(scene.covered.loss, system)}"
        f" and the bare part {_loss(scene.bare, system)}: {scene.bare_share:.0%} of the length is bare and makes"
        f" {scene.gap_share:.0%} of the loss."
    )
