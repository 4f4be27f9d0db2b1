"""Lying bars, one beneath the other: a name, a length, and the number in words."""

from matplotlib.patches import Rectangle

from .canvas import FAINT, INK, TEXT, Canvas
from .colours import GHOST


class Bars:
    """Draws as many bars as there are names; each has a hatch of its own beside its colour.

    left, top, width : of the whole, in pixels; room : [px] for the names
    looks : (colour, hatch) of each bar
    """

    ROW = 30  # [px]

    def __init__(
        self,
        canvas: Canvas,
        left: int,
        top: int,
        width: int,
        title: str,
        names,
        looks,
        room: int = 120,
        numbers: int = 110,
    ):
        axes = canvas.drawing(left, top, width, 30 + self.ROW * len(names))
        axes.text(0, 14, title, size=TEXT, weight="bold", color=INK)
        self.start, self.span = room, width - room - numbers
        self.bars, self.numbers, self.kept = [], [], []
        for row, (name, (colour, hatch)) in enumerate(zip(names, looks)):
            middle = 30 + self.ROW * (row + 0.5)
            axes.text(room - 8, middle + 5, name, size=TEXT, color=INK, ha="right")
            bar = Rectangle((room, middle - 10), 0, 20, fc=colour, ec=INK, lw=0.8, hatch=hatch)
            self.bars.append(canvas.moving(axes.add_patch(bar)))
            self.kept.append(
                canvas.moving(
                    *axes.plot([room, room], [middle - 13, middle + 13], ls="--", lw=2.5, color=GHOST, visible=False)
                )
            )
            self.numbers.append(canvas.words(axes, room, middle + 5, backed=True))
        axes.plot([room, room], [30, 30 + self.ROW * len(names)], lw=1, color=FAINT)

    def show(self, shares, texts) -> None:
        """Lengths as shares of the longest that fits (0 to 1), and what to write at their ends."""
        for bar, number, share, text in zip(self.bars, self.numbers, shares, texts):
            bar.set_width(self.span * min(max(share, 0.0), 1.0))
            number.set_x(self.start + bar.get_width() + 6)
            number.set_text(text)

    def show_kept(self, shares) -> None:
        """A dashed line where each kept bar ended; None: nothing."""
        for number, line in enumerate(self.kept):
            line.set_visible(shares is not None)
            if shares is not None:
                end = self.start + self.span * min(max(shares[number], 0.0), 1.0)
                line.set_xdata([end, end])
                words = self.numbers[number]
                words.set_x(max(words.get_position()[0], end + 6))
