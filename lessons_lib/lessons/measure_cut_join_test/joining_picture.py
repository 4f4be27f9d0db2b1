"""One joint cut open and to scale, and beside it how it is made."""

from dataclasses import dataclass

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.picture import Picture
from ...plant.joints import INSERT, NOTHING, JointKind
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import pipe_material
from .joint_parts import JointParts, legend_of

WIDTH, HEIGHT = 884, 330  # [px]
LABELS = 100  # [px] for the names of the lines beside the drawing


@dataclass(frozen=True)
class JoiningScene:
    """Everything that the picture shows; lengths in m, pressures above the air's in Pa.

    depth : how far the pipe goes in, or over the insert; harm : what comes of what was forgotten
    limit : as the standard rates the joint at `hottest` [degC], None where it has no figure
    """

    kind: JointKind
    material: str
    plastic: bool
    pipe: str  # as people say it
    outside: float
    bore: float
    depth: float
    forgotten: str
    harm: str
    standard: str
    hottest: float
    pressure: float
    limit: float | None
    suits_word: Word
    made_word: Word
    rating_word: Word


class JoiningPicture(Picture):
    """Shows a joint cut open, and what it needs in words."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 424, HEIGHT), (424, 0, WIDTH - 424, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        axes = canvas.drawing(0, 0, 424, HEIGHT)
        axes.text(8, 18, "The joint, cut open and to scale", size=TEXT, weight="bold", color=INK)
        self.joint = JointParts(canvas, axes)
        self.depth_line = canvas.moving(*axes.plot([], [], "|-", lw=1.5, ms=11, color=INK))
        self.depth = canvas.words(axes, 0, 256, ha="center", weight="bold")
        self.legend = [canvas.words(axes, 8, y, color=FAINT) for y in (292, 314)]
        beside = canvas.drawing(424, 0, WIDTH - 424, HEIGHT)
        self.title = canvas.words(beside, 8, 18, weight="bold")
        self.lines = []
        for place, name in enumerate(
            ("prepare", "goes in", "insert", "tool", "right when", "forgotten", "undo", "rated by")
        ):
            beside.text(8, 50 + 36 * place, name, size=TEXT, color=FAINT)
            self.lines.append(canvas.words(beside, LABELS, 50 + 36 * place))

    def show(self, scene: JoiningScene) -> None:
        kind = scene.kind
        begin, stop = self.joint.show(
            kind.name, pipe_material(scene.material), scene.outside, scene.bore, scene.depth, scene.forgotten
        )
        self.depth_line.set_data([begin, stop], [236, 236])
        self.depth.set_x(0.5 * (begin + stop))
        self.depth.set_text(f"≈ {show(Q_(scene.depth, 'm'), 'cut', self.system)}")
        for words, text in zip(self.legend, legend_of(kind.name, scene.plastic)):
            words.set_text(text)
        self.title.set_text(f"{kind.name.capitalize()} joint in {scene.material}")
        told = (
            kind.prepare,
            kind.goes_in,
            kind.insert or "none",
            kind.tool,
            kind.shows,
            scene.harm if scene.forgotten in (NOTHING, INSERT) else f"{scene.forgotten}: {scene.harm}",
            kind.undone,
            f"{scene.standard}: {self._limit(scene)}",
        )
        for words, text in zip(self.lines, told):
            words.set_text(text)

    def _limit(self, scene: JoiningScene) -> str:
        if scene.limit is None:
            return "no figure here"
        hottest = show(celsius(scene.hottest), "temperature", self.system)
        return f"{show(Q_(scene.limit, 'Pa'), 'pressure', self.system)} at {hottest}"

    def sentence(self, scene: JoiningScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: JoiningScene) -> str:
        return (
            f"A pipe of {scene.material} in a {scene.kind.name} joint, cut open along its middle, with its depth mark."
            " Beside it stand the steps in words."
        )


def sentence(scene: JoiningScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    kind = scene.kind
    depth = show(Q_(scene.depth, "m"), "cut", system)
    hottest, pressure = (
        show(celsius(scene.hottest), "temperature", system),
        show(Q_(scene.pressure, "Pa"), "pressure", system),
    )
    limit = "has no figure" if scene.limit is None else f"allows {show(Q_(scene.limit, 'Pa'), 'pressure', system)}"
    article = "An" if kind.name[0] in "aeiou" else "A"
    return (
        f"{article} {kind.name} joint on {scene.pipe}: {scene.suits_word}. The pipe goes about"
        f" {depth} deep. Forgotten: {scene.forgotten}; {scene.made_word}. For {pressure} at {hottest}"
        f" {scene.standard} {limit}."
    )
