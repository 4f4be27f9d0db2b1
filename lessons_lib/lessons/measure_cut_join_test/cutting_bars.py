"""A cutting list as bars of stock with the pieces laid into them."""

import numpy as np
from matplotlib.colors import to_rgb

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import FOAM_EDGE
from ...quantities.display import show
from ...quantities.units import Q_

ROWS, ROW, THICK = 5, 27, 19  # bars that fit; [px] from bar to bar, height of a bar
LEFT, RIGHT = 46, 126  # [px] room for the number of bars and for what is left over
PIECES = (("#dfe3e8", "A"), ("#a9cbe8", "B"))


class CuttingBars:
    """Draws rows of bars: each bar by itself, or where they are too many bars cut alike as one. left, top, width : of
    the whole, in pixels of the picture.
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int):
        axes = canvas.drawing(left, top, width, 30 + ROWS * ROW)
        self.span = width - LEFT - RIGHT
        self.title = canvas.words(axes, 0, 14, weight="bold")
        axes.text(width - 2, 14, "the other end of each bar", size=TEXT, color=FAINT, ha="right")
        self.rows = []
        for number in range(ROWS):
            y = 24 + number * ROW
            bar = canvas.raster(axes, LEFT, y)
            times, rest = (
                canvas.words(axes, x, y + 15, ha=ha) for x, ha in ((LEFT - 8, "right"), (LEFT + self.span + 8, "left"))
            )
            letters = [canvas.words(axes, 0, y + 15, ha="center") for _ in range(12)]
            self.rows.append((bar, times, rest, letters))

    def show(self, title: str, bars, stock: float, kerf: float, system: str) -> None:
        """bars : (how many alike, ((kind, length), ...), left over), lengths in m; kind 0 or 1; all of one stock
        length; without pieces: spare.
        """
        self.title.set_text(title)
        single = sum(alike for alike, _, _ in bars) <= ROWS
        if single:
            bars = [(1, pieces, left) for alike, pieces, left in bars for _ in range(alike)]
        for number, (bar, times, rest, letters) in enumerate(self.rows):
            one = bars[number] if number < len(bars) else None
            beyond = sum(alike for alike, _, _ in bars[ROWS - 1 :]) if number == ROWS - 1 and len(bars) > ROWS else 0
            bar.set_pixels(None if one is None or beyond else self._pixels(one, stock, kerf))
            times.set_text("" if one is None or beyond else f"{number + 1}." if single else f"{one[0]} ×")
            rest.set_text("" if one is None else f"and {beyond} more" if beyond else _rest(one, system))
            self._letter(letters, () if one is None or beyond else one[1], stock, kerf)

    def _edges(self, pieces, stock: float, kerf: float):
        """Begin and end of each piece [px]."""
        at = 0.0
        for _, length in pieces:
            yield at * self.span / stock, (at + length) * self.span / stock
            at += length + kerf

    def _letter(self, letters, pieces, stock: float, kerf: float) -> None:
        middles = [
            (kind, 0.5 * (begin + end))
            for (kind, _), (begin, end) in zip(pieces, self._edges(pieces, stock, kerf))
            if end - begin > 18
        ]
        for place, words in enumerate(letters):
            words.set_text(PIECES[middles[place][0]][1] if place < len(middles) else "")
            if place < len(middles):
                words.set_x(LEFT + middles[place][1])

    def _pixels(self, bar, stock: float, kerf: float) -> np.ndarray:
        """Gives the pixels of a bar: pieces in their colours with a line at each cut; what is left is hatched."""
        across, down = np.meshgrid(np.arange(self.span), np.arange(THICK))
        hatch = ((across + down) % 8 < 2)[..., np.newaxis]
        pixels = np.where(hatch, np.array(to_rgb(FOAM_EDGE)), 1.0)
        for (kind, _), (begin, end) in zip(bar[1], self._edges(bar[1], stock, kerf)):
            first, last = round(begin), min(round(end), self.span)
            pixels[:, first:last] = to_rgb(PIECES[kind][0])
            if kind == 1:
                pixels[4:-4:5, first:last:5] = to_rgb(INK)
            pixels[:, max(last - 1, 0) : last + 1] = to_rgb(INK)
        pixels[[0, -1]], pixels[:, [0, -1]] = to_rgb(INK), to_rgb(INK)
        return np.round(255 * np.concatenate([pixels, np.ones((THICK, self.span, 1))], axis=2)).astype(np.uint8)


def _rest(bar, system: str) -> str:
    """Says what is left of a bar, in words."""
    return f"left {show(Q_(round(1000 * bar[2]), 'mm'), 'cut', system)}" if bar[1] else "spare"
