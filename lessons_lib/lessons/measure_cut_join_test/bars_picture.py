"""The bars that pieces are cut from, and what is left of each."""

from dataclasses import dataclass

from ...drawing.canvas import Canvas
from ...drawing.picture import Picture
from ...quantities.display import show
from ...quantities.units import Q_
from .cutting_bars import CuttingBars

WIDTH, HEIGHT = 884, 174  # [px]


@dataclass(frozen=True)
class BarsScene:
    """Everything that the picture shows; lengths in m."""

    bars: tuple  # see CuttingBars.show
    pieces: tuple  # (length, how many) of each kind
    stock: float
    stock_name: str
    kerf: float
    spare_share: float  # [-] of all pieces, asked for
    spare: float  # and how long that is
    spare_bars: int  # bars bought for it; 0: it lies in the longest left-over
    waste_share: float  # [-]

    @property
    def cut_bars(self) -> int:
        """Counts the bars that the pieces are cut from."""
        return sum(alike for alike, _, _ in self.bars)

    @property
    def bars_to_buy(self) -> int:
        """Counts the bars to buy, with those for the spare."""
        return self.cut_bars + self.spare_bars


class BarsPicture(Picture):
    """Shows the bars of stock with the pieces laid into them."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 470, HEIGHT), (430, 0, WIDTH - 430, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        self.bars = CuttingBars(canvas, 4, 4, WIDTH - 8)

    def show(self, scene: BarsScene) -> None:
        spare = ((scene.spare_bars, (), scene.stock),) if scene.spare_bars else ()
        self.bars.show(self._title(scene), scene.bars + spare, scene.stock, scene.kerf, self.system)

    def _title(self, scene: BarsScene) -> str:
        kinds = ", ".join(
            f"{letter} {self._length(length)} × {count}" for letter, (length, count) in zip("AB", scene.pieces) if count
        )
        return f"Bars of {scene.stock_name}: {kinds}"

    def _length(self, metres: float) -> str:
        """A length in whole millimetres, or in sixteenths of an inch."""
        return show(Q_(round(1000 * metres, 1), "mm"), "cut", self.system)

    def sentence(self, scene: BarsScene) -> str:
        many = "s" if scene.bars_to_buy > 1 else ""
        spare = self._length(scene.spare)
        if scene.spare == 0:
            more = "There is no spare."
        elif scene.spare_bars == 0:
            more = f"The spare of {scene.spare_share:.0%}, {spare}, lies in what is left over."
        else:
            more = f"The spare of {scene.spare_share:.0%}, {spare}, needs {scene.spare_bars} of them."
        return (
            f"The pieces come out of {scene.cut_bars} bars of {scene.stock_name}, so buy {scene.bars_to_buy} bar{many}."
            f" {more} The waste is {scene.waste_share:.0%}."
        )

    def description(self, scene: BarsScene) -> str:
        bars = "; ".join(
            f"{alike} with {len(pieces)} pieces and {self._length(left)} left" for alike, pieces, left in scene.bars
        )
        return f"The bars of stock: {bars}."
