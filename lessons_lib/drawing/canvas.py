"""A figure that is laid out once and whose moving artists are drawn over a saved background.

A full redraw of three axes takes 45-50 ms and one line of matplotlib text about 2 ms; a slider should follow a hand.
So lines and patches move over a saved background, and moving words and colours are small pixel images (`Raster`).
"""

from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path

import matplotlib
import numpy as np
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch
from matplotlib.text import Text
from PIL import Image, ImageDraw, ImageFont

DPI = 96  # one typographic point is 4/3 of a screen pixel, as in a browser
TEXT = 12  # [pt] smallest type
INK, FAINT, PAPER = "#1d2b38", "#5b6b7a", "#ffffff"
ACROSS = {"left": 0.0, "center": 0.5, "right": 1.0}  # share of a text's width that lies left of its anchor


class Canvas:
    """An Agg figure of a size in screen pixels, and the artists on it that move."""

    def __init__(self, width: int, height: int):
        self.size = (width, height)
        self.figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI, facecolor=PAPER)
        self._agg = FigureCanvasAgg(self.figure)
        self._moving = []
        self._background = None
        self.scale, self.type_size = 1.0, TEXT  # larger for a projector; see enlarge

    def enlarge(self, by: float, type_by: float, lines_by: float) -> None:
        """Once, for the back of a classroom: the whole picture larger, and within it type and lines larger again."""
        self.scale, self.type_size = by, TEXT * type_by
        self.figure.set_dpi(by * DPI)
        self.size = self._agg.get_width_height()
        for text in self.figure.findobj(Text):
            text.set_fontsize(type_by * text.get_fontsize())
        for axes in self.figure.axes:
            axes.tick_params(labelsize=self.type_size)  # for the ticks of another unit system too
        for line in self.figure.findobj(lambda artist: isinstance(artist, (Line2D, Patch))):
            line.set_linewidth(lines_by * line.get_linewidth())
        self.renew()

    def axes(self, left: int, top: int, width: int, height: int):
        """Axes placed in screen pixels from the top left corner."""
        across, down = self.size
        return self.figure.add_axes((left / across, 1 - (top + height) / down, width / across, height / down))

    def drawing(self, left: int, top: int, width: int, height: int):
        """Axes without frame whose coordinates are pixels from their own top left corner."""
        axes = self.axes(left, top, width, height)
        axes.set_axis_off()
        axes.set(xlim=(0, width), ylim=(height, 0))
        return axes

    def moving(self, *artists):
        """Marks artists as drawn anew for each picture; returns the first."""
        for artist in artists:
            artist.set_animated(True)
            self._moving.append(artist)
        return artists[0]

    def raster(self, axes, x: float, y: float) -> "Raster":
        """A moving image with its top left corner at (x, y) of the axes."""
        return self.moving(axes.add_artist(Raster(self, x, y)))

    def words(self, axes, x: float, y: float, **style) -> "MovingWords":
        """A moving line of text at (x, y) of the axes; see MovingWords."""
        return self.moving(axes.add_artist(MovingWords(self, x, y, **style)))

    def renew(self) -> None:
        """Forgets the saved background: something that stands still has changed (units, labels, limits)."""
        self._background = None

    def png(self) -> bytes:
        """The picture as it is now."""
        if self._background is None:
            self._agg.draw()
            self._background = self._agg.copy_from_bbox(self.figure.bbox)
        self._agg.restore_region(self._background)
        for artist in self._moving:
            self.figure.draw_artist(artist)
        buffer = BytesIO()
        image = Image.frombuffer("RGBA", self._agg.get_width_height(), self._agg.buffer_rgba(), "raw", "RGBA", 0, 1)
        # 192 colours are more than these drawings have, in half the time and size; paper must stay quite white.
        image = image.convert("RGB").quantize(192, method=Image.Quantize.FASTOCTREE)
        image.putpalette([255 if level > 252 else level for level in image.getpalette()])
        image.save(buffer, "PNG", compress_level=1)
        return buffer.getvalue()


class Raster(Artist):
    """Pixels at a place in axes coordinates: drawn in microseconds, for what moves."""

    def __init__(self, canvas: Canvas, x: float, y: float):
        super().__init__()
        self.canvas, self.place, self.pixels = canvas, (x, y), None

    def set_pixels(self, pixels) -> None:
        """RGBA bytes, shape (rows, columns, 4), top row first; None: nothing is drawn."""
        self.pixels = pixels

    def fitted(self) -> np.ndarray:
        """The pixels at the picture's scale."""
        scale = self.canvas.scale
        if scale == 1:
            return self.pixels
        rows, columns = (np.arange(round(scale * side)) / scale for side in self.pixels.shape[:2])
        return self.pixels[rows.astype(int)[:, np.newaxis], columns.astype(int)]

    def corner(self, pixels, x: float, y: float) -> tuple[float, float]:
        """Lower left corner on the figure [px] for the anchor's position there."""
        return x, y - len(pixels)

    def draw(self, renderer) -> None:
        """Put the pixels on the figure; called by matplotlib."""
        if self.pixels is not None and self.pixels.size and self.get_visible():
            pixels = self.fitted()
            x, y = self.corner(pixels, *self.axes.transData.transform(self.place))
            renderer.draw_image(renderer.new_gc(), round(x), round(y), pixels[::-1])


class MovingWords(Raster):
    """One line of text on its baseline.

    color, weight ("normal", "bold"), ha ("left", "center", "right") as in matplotlib;
    backed : on white, so that a curve beneath does not cross the words
    """

    def __init__(self, canvas, x, y, color=INK, weight="normal", ha="left", backed=False):
        super().__init__(canvas, x, y)
        self.style, self.across, self.depth = (color, weight, backed), ACROSS[ha], 0

    @property
    def width(self) -> float:
        """The width of the words on a picture of common size [px]; 0 where there are none."""
        return 0.0 if self.pixels is None else self.pixels.shape[1] / self.canvas.scale

    def set_text(self, text: str) -> None:
        """Shows this text from now on."""
        size = round(self.canvas.scale * self.canvas.type_size * DPI / 72)
        self.pixels, self.depth = _words(text, size, *self.style) if text else (None, 0)

    def fitted(self):
        return self.pixels

    def corner(self, pixels, x, y):
        return x - self.across * pixels.shape[1], y - self.depth


@cache
def _font(weight: str, size: int) -> ImageFont.FreeTypeFont:
    """Matplotlib's own typeface, so that moving and standing words look alike."""
    file = "DejaVuSans-Bold.ttf" if weight == "bold" else "DejaVuSans.ttf"
    return ImageFont.truetype(Path(matplotlib.get_data_path()) / "fonts" / "ttf" / file, size)


@lru_cache(maxsize=2000)
def _words(text: str, size: int, color: str, weight: str, backed: bool) -> tuple[np.ndarray, int]:
    """A line of text as RGBA bytes, and how far it reaches below its baseline [px]."""
    font = _font(weight, size)
    ascent, descent = font.getmetrics()
    paper = Image.new("L", (round(font.getlength(text)) + 2, ascent + descent))
    ImageDraw.Draw(paper).text((1, 0), text, fill=255, font=font)
    ink = np.asarray(paper, dtype=float)[..., np.newaxis] / 255
    colour = np.array(to_rgb(color))
    if backed:
        return _bytes(np.concatenate([1 - ink + ink * colour, np.maximum(ink, 0.85)], axis=2)), descent
    return _bytes(np.concatenate([np.broadcast_to(colour, ink.shape[:2] + (3,)), ink], axis=2)), descent


def _bytes(rgba) -> np.ndarray:
    """Colours from 0 to 1 as bytes."""
    return np.round(255 * rgba).astype(np.uint8)


def quiet_spines(axes) -> None:
    """Keep the left and bottom line of a graph only."""
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(FAINT)
    axes.tick_params(colors=INK, labelsize=TEXT, length=4)
