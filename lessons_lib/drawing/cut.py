"""The cut through the pipe and its insulation, to scale."""

from matplotlib.patches import Circle

from ..quantities.display import show
from ..quantities.units import Q_
from ..runs.pipe import pipe_material
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import FOAM, FOAM_EDGE, GHOST, water_colour

SHOWN = 0.122  # [m] across the drawing: 35 mm pipe under 40 mm of insulation


class Circles:
    """Insulation, wall and water of one cut, to scale, and the outline of what was kept.

    axes : a drawing (Canvas.drawing); centre [px] on it; scale [px/m]
    """

    def __init__(self, canvas: Canvas, axes, centre: tuple[float, float], scale: float):
        self.scale = scale
        self.foam = canvas.moving(axes.add_patch(Circle(centre, 1, fc=FOAM, ec=FOAM_EDGE, hatch="..")))
        self.wall = canvas.moving(axes.add_patch(Circle(centre, 1, ec=INK, lw=0.8)))
        self.water = canvas.moving(axes.add_patch(Circle(centre, 1, ec=INK, lw=0.5)))
        self.kept = canvas.moving(axes.add_patch(Circle(centre, 1, fill=False, ec=GHOST, lw=2, ls="--", visible=False)))

    def show(self, bore: float, pipe_outside: float, outside: float, wall: str, celsius: float) -> None:
        """Diameters [m], the wall's colour, and the water's temperature."""
        for circle, diameter in ((self.foam, outside), (self.wall, pipe_outside), (self.water, bore)):
            circle.set_radius(0.5 * diameter * self.scale)
        self.foam.set_visible(outside > pipe_outside)
        self.wall.set_facecolor(wall)
        self.water.set_facecolor(water_colour(celsius))

    def show_kept(self, outside: float | None) -> None:
        """A dashed circle of the kept outside diameter [m]; None: nothing."""
        self.kept.set_visible(outside is not None)
        if outside is not None:
            self.kept.set_radius(0.5 * outside * self.scale)


class Cut:
    """One cut to scale, with a bar to measure by."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, drawing: int):
        axes = canvas.drawing(left, top, width, drawing + 88)
        axes.text(0, 14, "Cut, to scale", size=TEXT, weight="bold", color=INK)
        self.scale = drawing / SHOWN  # [px/m]
        self.width = width
        self.circles = Circles(canvas, axes, (width / 2, 24 + drawing / 2), self.scale)
        low = drawing + 40
        self.bar = canvas.moving(*axes.plot([0, 0], [low, low], lw=3, color=FAINT, solid_capstyle="butt"))
        self.bar_text = canvas.words(axes, 0.5 * width + 8, low + 6, color=FAINT)
        self.loss = canvas.words(axes, 0.5 * width, drawing + 74, weight="bold", ha="center")

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see main_picture.Scene)."""
        self.circles.show(
            scene.bore, scene.pipe_outside, scene.outside, pipe_material(scene.pipe_material).colour, scene.supply
        )
        measure = Q_(50, "mm") if system == "metric" else Q_(2, "inch")
        length = measure.to("m").magnitude * self.scale
        begin = 0.5 * self.width - length
        self.bar.set_xdata([begin, begin + length])
        self.bar_text.set_text(show(measure, "thickness", system))
        self.loss.set_text(f"loses {show(Q_(scene.loss, 'W/m'), 'heat loss', system)}")

    def show_kept(self, scene) -> None:
        """Outline of what was kept for comparison; None: nothing."""
        self.circles.show_kept(scene and scene.outside)
