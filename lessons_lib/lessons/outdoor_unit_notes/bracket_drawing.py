"""An outdoor unit on its wall bracket, from the side and to scale, with the forces on the bolts."""

from matplotlib.patches import Circle, FancyBboxPatch, Polygon, Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, TANK
from ...quantities.display import show
from ...quantities.units import Q_

SCALE = 330  # [px/m]
WALL, FACE, LOWER = 134, 186, 346  # [px] the wall from the left to its face; the lower bolts down from the top
UNIT_HALF, UNIT_TALL = 0.17, 0.5  # [m] half the drawn depth of the unit, and its height: not the reader's own
LEAST_GAP = 0.03  # [m] between wall and unit
LONGEST, HEAVIEST = 82, 2500.0  # [px] longest arrow, and the force that it stands for [N]
# [m/s] longest wind arrow; where the arrows meet the unit, clear of its weight
WINDIEST, HEIGHTS = 60.0, (0.12, 0.28, 0.86)
PULL, DOWN = "#9b1c1c", "#1f5fa8"


class BracketDrawing:
    """Arrows grow with their forces; lengths of the bracket are to scale."""

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        axes = self.axes = canvas.drawing(left, top, width, height)
        axes.text(0, 14, "The bracket from the side, to scale", size=TEXT, weight="bold", color=INK)
        axes.add_patch(Rectangle((WALL, 28), FACE - WALL, height - 28, fc=TANK, ec=INK, hatch="//", lw=0))
        axes.plot([FACE, FACE], [28, height], lw=2.5, color=INK)
        self.unit = canvas.moving(
            axes.add_patch(
                FancyBboxPatch((0, 0), 1, 1, boxstyle="round,pad=0,rounding_size=8", fc="#f6f8fa", ec=FAINT, lw=2)
            )
        )
        self.fan = canvas.moving(axes.add_patch(Circle((0, 0), 1, fill=False, ec=FAINT, lw=2)))
        self.rail, self.arm = (
            canvas.moving(axes.add_patch(Rectangle((FACE, 0), 0, 0, fc=INK, ec=INK))) for _ in range(2)
        )
        self.bolts = [canvas.moving(*axes.plot([], [], lw=6, color=FAINT, solid_capstyle="butt")) for _ in range(2)]
        self.centre = canvas.moving(*axes.plot([], [], "o", ms=12, mfc="white", mec=INK, mew=2.5))
        self.dimensions = [canvas.moving(*axes.plot([], [], lw=1.5, color=INK, marker="|", ms=10)) for _ in range(2)]
        self.dimensions[0].set_marker("_")
        self.kept = canvas.moving(*axes.plot([], [], "o", ms=12, mfc="none", mec=GHOST, mew=2.5))
        self.weight, self.pull, self.push = (_Arrow(canvas, axes, colour) for colour in (DOWN, PULL, PULL))
        self.shears = [_Arrow(canvas, axes, DOWN) for _ in range(2)]
        self.winds = [_Arrow(canvas, axes, FAINT) for _ in range(3)]
        self.of_spacing = canvas.words(axes, WALL - 24, 0, ha="right")
        self.of_arm = canvas.words(axes, FACE + 6, LOWER + 62)
        self.of_weight = canvas.words(axes, 0, 0, color=DOWN, weight="bold", backed=True)
        self.of_pull = canvas.words(axes, FACE + 12, 0, color=PULL, weight="bold", backed=True)
        self.of_shear = canvas.words(axes, WALL - 8, 0, color=DOWN, weight="bold", ha="right")
        self.of_wind = canvas.words(axes, width - 4, 48, ha="right")

    def show(self, scene, system: str) -> None:
        """Move the artists to a scene (see outdoor_unit_picture.Scene)."""
        upper, out = LOWER - SCALE * scene.spacing, FACE + SCALE * scene.arm
        half = SCALE * min(UNIT_HALF, scene.arm - LEAST_GAP)
        floor = LOWER + 12
        top = floor - SCALE * UNIT_TALL
        self.unit.set_bounds(out - half, top, 2 * half, floor - top)
        self.fan.set(center=(out, top + 0.5 * (floor - top)), radius=0.8 * half)
        self.rail.set_bounds(FACE, upper - 14, 9, LOWER - upper + 28)
        self.arm.set_bounds(FACE, floor, out + half - FACE, 9)
        for bolt, level in zip(self.bolts, (upper, LOWER)):
            bolt.set_data([FACE - 40, FACE + 16], [level, level])
        middle = top + 0.5 * (floor - top)
        self.centre.set_data([out], [middle])
        self._forces(scene, upper, out, middle)
        self._wind(scene, out + half, top, floor)
        self.dimensions[0].set_data([WALL - 14] * 2, [upper, LOWER])
        self.dimensions[1].set_data([FACE, out], [floor + 24] * 2)
        self._write(scene, system, upper, out, middle)

    def _forces(self, scene, upper, out, middle) -> None:
        """Weight at the centre of gravity; pull on the upper bolts, push at the lower ones; across both."""
        self.weight.show(out, middle, 0, _long(scene.load))
        self.pull.show(FACE + 16, upper, _long(scene.tension), 0)
        self.push.show(FACE + 16 + _long(scene.tension), LOWER, -_long(scene.tension), 0)
        for arrow, level in zip(self.shears, (upper, LOWER)):
            arrow.show(FACE - 30, level, 0, _long(scene.shear))

    def _wind(self, scene, side, top, floor) -> None:
        """Three arrows against the unit, longer in stronger wind."""
        long = LONGEST * scene.wind / WINDIEST
        for height, arrow in zip(HEIGHTS, self.winds):
            arrow.show(side + 4 + long, top + height * (floor - top), -long, 0)

    def _write(self, scene, system: str, upper, out, middle) -> None:
        """Writes every word and number."""
        load, tension, shear = (
            show(Q_(value, "N"), "force", system) for value in (scene.load, scene.tension, scene.shear)
        )
        spacing, arm = (show(Q_(value, "m"), "thickness", system) for value in (scene.spacing, scene.arm))
        self.of_spacing.set_y(0.5 * (upper + LOWER) + 5)
        self.of_spacing.set_text(spacing)
        self.of_arm.set_text(f"arm {arm}")
        self.of_weight.set_position((out + 12, middle + 6))
        self.of_weight.set_text(load)
        self.of_pull.set_y(upper - 12)
        self.of_pull.set_text(f"pulls {tension} each")
        self.of_shear.set_y(LOWER + 24)
        self.of_shear.set_text(f"{shear} each")
        pressure = show(Q_(scene.pressure, "Pa"), "wind pressure", system)
        self.of_wind.set_text(f"wind: {pressure} and more" if scene.wind > 0 else "no wind")

    def show_kept(self, scene) -> None:
        """A ring at the kept centre of gravity; None: nothing."""
        kept = scene is not None
        self.kept.set_data(
            [FACE + SCALE * scene.arm] if kept else [], [LOWER + 12 - 0.5 * SCALE * UNIT_TALL] if kept else []
        )


class _Arrow:
    """An arrow from a point; its head keeps its size."""

    def __init__(self, canvas: Canvas, axes, colour: str):
        self.shaft = canvas.moving(*axes.plot([], [], lw=4, color=colour, solid_capstyle="butt"))
        self.head = canvas.moving(axes.add_patch(Polygon([(0, 0)] * 3, color=colour, lw=0)))

    def show(self, x: float, y: float, right: float, down: float) -> None:
        """Along one axis from (x, y); without length nothing is drawn."""
        long = abs(right) + abs(down)
        self.shaft.set_visible(long > 0)
        self.head.set_visible(long > 0)
        if long > 0:
            along, across = (right / long, down / long), (-down / long, right / long)
            neck = max(long - 12, 0)
            base = x + neck * along[0], y + neck * along[1]
            self.shaft.set_data([x, base[0]], [y, base[1]])
            self.head.set_xy(
                [(x + right, y + down), *((base[0] + side * across[0], base[1] + side * across[1]) for side in (-8, 8))]
            )


def _long(force: float) -> float:
    """Length of a force's arrow [px]. force [N]"""
    return 14 + (LONGEST - 14) * min(force / HEAVIEST, 1.0)
