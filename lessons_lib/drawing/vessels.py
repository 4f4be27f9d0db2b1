"""Volumes as vessels: a jug, a bucket or a tank filled to its share."""

from matplotlib.patches import FancyBboxPatch, Rectangle

from .canvas import INK, TEXT
from .colours import GHOST


class Vessel:
    """An open vessel on a drawing: outline, water, a name beneath and words beneath that.

    axes : a drawing (Canvas.drawing); x, y, width, height : of the vessel on it [px], y is its top
    """

    def __init__(self, canvas, axes, x: float, y: float, width: float, height: float, name: str, closed: bool = False):
        self.x, self.bottom, self.width, self.height = x, y + height, width, height
        self.water = canvas.moving(axes.add_patch(Rectangle((x, self.bottom), width, 0, ec="none")))
        if closed:
            rounded = FancyBboxPatch(
                (x, y), width, height, boxstyle="round,pad=0,rounding_size=8", fc="none", ec=INK, lw=2.5
            )
            self.outline = canvas.moving(axes.add_patch(rounded))
        else:
            self.outline = canvas.moving(
                *axes.plot([x, x, x + width, x + width], [y, self.bottom, self.bottom, y], lw=2.5, color=INK)
            )
        self.kept = canvas.moving(
            *axes.plot([x - 4, x + width + 4], [self.bottom] * 2, lw=2.5, ls="--", color=GHOST, visible=False)
        )
        axes.text(x + 0.5 * width, self.bottom + 20, name, size=TEXT, color=INK, ha="center")
        self.words = canvas.words(axes, x + 0.5 * width, self.bottom + 40, weight="bold", ha="center")

    def show(self, share: float, colour, text: str) -> None:
        """Fill it to a share (0 to 1; more stays full) with water of a colour."""
        level = self.height * min(max(share, 0.0), 1.0)
        self.water.set(y=self.bottom - level, height=level, facecolor=colour)
        self.words.set_text(text)

    def set_visible(self, visible: bool) -> None:
        """Says whether the vessel and its water are drawn; its words are not touched."""
        for part in (self.water, self.outline):
            part.set_visible(visible)

    def show_kept(self, share: float | None) -> None:
        """A dashed line at the kept level; None: nothing."""
        self.kept.set_visible(share is not None)
        if share is not None:
            level = self.bottom - self.height * min(max(share, 0.0), 1.0)
            self.kept.set_ydata([level, level])
