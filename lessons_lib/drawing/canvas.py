"""A figure that is laid out once, whose moving artists are written as vectors over a background that stands still.

A full redraw of three axes takes 45-50 ms, and a slider should follow a hand. So what stands still is written once
(vector.background), and for each picture only the moving lines, patches, words and strips of colour (vector.Pen).
"""

from io import BytesIO
from uuid import uuid4

import numpy as np
from matplotlib import patheffects
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from PIL import Image

from ..storage.spelling import in_words_of
from .vector import DPI, INK, PAPER, USUAL, Pen, background, printed

TEXT = 12  # [pt] smallest type
FAINT = "#5b6b7a"
BACKGROUNDS = 12  # that are kept, some 100 kB each: units there and back, scales of a slider that goes to and fro
BACKED = (patheffects.withStroke(linewidth=3, foreground=PAPER),)


class Canvas:
    """A figure of a size in screen pixels, and the artists on it that move.

    backgrounds : what stands still on canvases that are laid out alike, which share it: states of all parts → an SVG
        document. None: this canvas keeps its own
    """

    def __init__(self, width: int, height: int, backgrounds: dict | None = None):
        self.size = (width, height)
        self.figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI, facecolor=PAPER)
        self._agg = FigureCanvasAgg(self.figure)
        self._moving = []
        self._stands: dict = {}  # part that stands still → its state
        self._backgrounds = {} if backgrounds is None else backgrounds
        self._still_pixels = None
        self.handles: list = []  # SVG elements by which a page's script finds a part of the picture
        self.name = f"picture-{uuid4().hex[:8]}"  # no other picture on a page has its ids

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

    def handle(self, number: int, sign: str, **places: float) -> None:
        """Lets a page find and mark a part of the picture by its number; without the page's look it is not seen.

        sign : "line" or "rect" of SVG; places : its attributes [px]
        """
        where = " ".join(f'{name}="{place:.4g}"' for name, place in places.items())
        self.handles.append(f'<{sign} data-leg="{number}" {where} fill="none" style="opacity:var(--leg-{number},0)"/>')

    def raster(self, axes, x: float, y: float) -> "Raster":
        """A moving image with its top left corner at (x, y) of the axes."""
        return self.moving(axes.add_artist(Raster(x, y)))

    def words(self, axes, x: float, y: float, backed: bool = False, **style) -> Text:
        """A moving line of text that stands on (x, y) of the axes; set it with set_text.

        style : color, weight, ha as in matplotlib; backed : on white, so that a curve beneath does not cross the words
        """
        style = {"color": INK, "size": TEXT, "path_effects": BACKED if backed else None, **style}
        return self.moving(axes.text(x, y, "", **style))

    def say_as(self, system: str) -> None:
        """Puts the moving words into those of a unit system's side, see `in_words_of`; what stands still serves both."""
        for artist in self._moving:
            if isinstance(artist, Text):
                artist.set_text(in_words_of(artist.get_text(), system))

    def renew(self, part, state=None) -> None:
        """Says that a part which stands still has changed (units, labels, limits).

        state : all that decides how the part looks, hashable; a picture whose parts have all stood in their states
            before is not written anew. None: the part never looks as before
        """
        self._stands[part], self._still_pixels = state, None
        if state is None:
            self._backgrounds = {}  # no other canvas looks like this one

    @property
    def still(self) -> str:
        """Says what stands still, as an SVG document."""
        states = tuple(self._stands.values())
        if states not in self._backgrounds:
            if len(self._backgrounds) == BACKGROUNDS:
                self._backgrounds.pop(next(iter(self._backgrounds)), None)  # the oldest
            self._backgrounds[states] = background(self.figure, self.size)
        return self._backgrounds[states]

    def moved(self) -> str:
        """Says what moves, as it is now: the inside of an SVG element of the canvas's size."""
        pen = Pen(self.name, self.size[1])
        drawn = "".join(pen.element(artist) for artist in self._moving)
        return f"<defs>{''.join(pen.definitions.values())}</defs>{drawn}"

    def svg(self) -> str:
        """The whole picture as one SVG document, for pages and paper."""
        width, height = self.size
        inside = self.still[self.still.index("<svg ") :]
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="{width}"'
            f' height="{height}" viewBox="0 0 {width} {height}" {USUAL}>{inside}{self.moved()}</svg>'
        )

    def pdf(self) -> bytes:
        """The whole picture as one page of a PDF, for paper."""
        return printed(self.figure, self.size, self._moving)

    def png(self) -> bytes:
        """The picture as it is now in pixels, for where no vectors can be shown."""
        if self._still_pixels is None:
            self._agg.draw()
            self._still_pixels = self._agg.copy_from_bbox(self.figure.bbox)
        self._agg.get_renderer()  # of the figure's size, whatever was written last
        self._agg.restore_region(self._still_pixels)
        for artist in self._moving:
            self.figure.draw_artist(artist)
        image = Image.frombuffer("RGBA", self._agg.get_width_height(), self._agg.buffer_rgba(), "raw", "RGBA", 0, 1)
        # 192 colours are more than these drawings have, in half the time and size; paper must stay quite white.
        image = image.convert("RGB").quantize(192, method=Image.Quantize.FASTOCTREE)
        image.putpalette([255 if level > 252 else level for level in image.getpalette()])
        buffer = BytesIO()
        image.save(buffer, "PNG", compress_level=1)
        return buffer.getvalue()


class Raster(Artist):
    """Pixels at a place in axes coordinates, for strips of colour that change along their length."""

    def __init__(self, x: float, y: float):
        super().__init__()
        self.place, self.pixels = (x, y), None

    def set_pixels(self, pixels) -> None:
        """RGBA bytes, shape (rows, columns, 4), top row first; None: nothing is drawn."""
        self.pixels = pixels

    def draw(self, renderer) -> None:
        """Put the pixels on the figure; called by matplotlib."""
        if self.pixels is not None and self.pixels.size and self.get_visible():
            scale = self.figure.dpi / DPI
            rows, columns = (np.arange(round(scale * side)) / scale for side in self.pixels.shape[:2])
            pixels = self.pixels[rows.astype(int)[:, np.newaxis], columns.astype(int)]
            x, y = self.axes.transData.transform(self.place)
            renderer.draw_image(renderer.new_gc(), round(x), round(y) - len(pixels), pixels[::-1])


def quiet_spines(axes) -> None:
    """Keep the left and bottom line of a graph only."""
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(FAINT)
    axes.tick_params(colors=INK, labelsize=TEXT, length=4)
