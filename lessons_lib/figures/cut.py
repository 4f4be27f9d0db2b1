"""The cut through the pipe and its insulation, to scale."""

from matplotlib.patches import Circle

from ..display import show
from ..units import Q_
from .canvas import FAINT, INK, TEXT, Canvas
from .colours import FOAM, FOAM_EDGE, GHOST, WALL, water_colour

SHOWN = 0.122  # [m] across the drawing: 35 mm pipe under 40 mm of insulation


class Cut:
    """Circles to scale, with a bar to measure by."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, drawing: int):
        axes = canvas.drawing(left, top, width, drawing + 88)
        axes.text(0, 14, "Cut, to scale", size=TEXT, weight="bold", color=INK)
        self.scale = drawing / SHOWN  # [px/m]
        self.width, centre = width, (width / 2, 24 + drawing / 2)
        self.foam = canvas.moving(axes.add_patch(Circle(centre, 1, fc=FOAM, ec=FOAM_EDGE, hatch="..")))
        self.wall = canvas.moving(axes.add_patch(Circle(centre, 1, ec=INK, lw=0.8)))
        self.water = canvas.moving(axes.add_patch(Circle(centre, 1, ec=INK, lw=0.5)))
        self.kept = canvas.moving(axes.add_patch(Circle(centre, 1, fill=False, ec=GHOST, lw=2, ls="--", visible=False)))
        low = drawing + 40
        self.bar = canvas.moving(*axes.plot([0, 0], [low, low], lw=3, color=FAINT, solid_capstyle="butt"))
        self.bar_text = canvas.words(axes, 0.5 * width + 8, low + 6, color=FAINT)
        self.loss = canvas.words(axes, 0.5 * width, drawing + 74, weight="bold", ha="center")

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see main_picture.Scene)."""
        for circle, diameter in ((self.foam, scene.outside), (self.wall, scene.pipe_outside), (self.water, scene.bore)):
            circle.set_radius(0.5 * diameter * self.scale)
        self.foam.set_visible(scene.outside > scene.pipe_outside)
        self.wall.set_facecolor(WALL[scene.pipe_material])
        self.water.set_facecolor(water_colour(scene.supply))
        measure = Q_(50, "mm") if system == "metric" else Q_(2, "inch")
        length = measure.to("m").magnitude * self.scale
        begin = 0.5 * self.width - length
        self.bar.set_xdata([begin, begin + length])
        self.bar_text.set_text(show(measure, "thickness", system))
        self.loss.set_text(f"loses {show(Q_(scene.loss, 'W/m'), 'heat loss', system)}")

    def show_kept(self, scene) -> None:
        """Outline of what was kept for comparison; None: nothing."""
        self.kept.set_visible(scene is not None)
        if scene is not None:
            self.kept.set_radius(0.5 * scene.outside * self.scale)
