"""The moving artists of a kept figure as elements of a vector picture (SVG).

Matplotlib's own SVG backend writes what stands still, once; for each move only lines, patches, words and colour strips
are written here, which takes a fifth of the time and a tenth of the bytes. Coordinates are screen pixels from the
picture's top left corner, as SVG counts them.
"""

import base64
from functools import lru_cache
from html import escape
from io import BytesIO, StringIO
from pathlib import Path as File

import matplotlib
import numpy as np
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_hex, to_rgba
from matplotlib.lines import Line2D
from matplotlib.markers import MarkerStyle
from matplotlib.path import Path
from matplotlib.text import Text
from matplotlib.transforms import Affine2D
from PIL import Image, ImageFont

matplotlib.rcParams["svg.hashsalt"] = "hot water runs"  # a picture has the same ids each time
DPI = 96  # one typographic point is 4/3 of a screen pixel, as in a browser
PIXELS_PER_POINT = DPI / 72
INK, PAPER = "#1d2b38", "#ffffff"
FONTS = "'DejaVu Sans',Verdana,sans-serif"  # Verdana has nearly the same widths; textLength sees to the rest
TYPE_SIZE = 16  # [px] that most words have
# What every element has unless it says otherwise.
USUAL = f'font-family="{FONTS}" font-size="{TYPE_SIZE}" fill="{INK}"'
ANCHORS = {"left": "start", "center": "middle", "right": "end"}
LETTERS = {Path.MOVETO: "M", Path.LINETO: "L", Path.CURVE3: "Q", Path.CURVE4: "C", Path.CLOSEPOLY: "Z"}
# One tile of each hatch: its side [px], and its lines or dots as a path. Three or four signs are closer together.
HATCHES = {
    "//": (6, "M-1,1l2-2M0,6l6-6M5,7l2-2"),
    "\\\\": (6, "M-1,5l2,2M0,0l6,6M5-1l2,2"),
    "xx": (6, "M-1,1l2-2M0,6l6-6M5,7l2-2M-1,5l2,2M0,0l6,6M5-1l2,2"),
    "++": (6, "M0,3h6M3,0v6"),
    "..": (12, "M2,3a1.2,1.2 0 1,0 2.4,0a1.2,1.2 0 1,0-2.4,0M8,9a1.2,1.2 0 1,0 2.4,0a1.2,1.2 0 1,0-2.4,0"),
}
HATCH_LINE = 1.3  # [px]
hex_of = lru_cache(maxsize=1000)(to_hex)  # a colour, written as on web pages


def background(figure, size) -> str:
    """The parts of a figure that stand still, as one SVG document whose letters are outlines.

    figure : matplotlib's, whose moving artists are animated; size : (width, height) [px]
    """
    width, height = (side / PIXELS_PER_POINT for side in size)
    stream, dpi = StringIO(), figure.dpi
    figure.set_dpi(72)  # the backend's own measure
    renderer = RendererSVG(width, height, stream, image_dpi=72, metadata=dict.fromkeys(("Date", "Creator", "Type")))
    figure.draw(renderer)
    renderer.finalize()
    figure.set_dpi(dpi)
    return stream.getvalue()


def printed(figure, size, moving) -> bytes:
    """A figure as one page of a PDF: what stands still, and over it the artists that move.

    figure, size : as for `background`; moving : the animated artists
    """
    from matplotlib.backends.backend_pdf import PdfFile, RendererPdf  # reads how fonts are cut, for prints alone

    width, height = (side / DPI for side in size)
    stream, dpi = BytesIO(), figure.dpi
    file = PdfFile(stream, metadata=dict.fromkeys(("Creator", "Producer", "CreationDate")))
    figure.set_dpi(72)  # the backend's own measure
    file.newPage(width, height)
    renderer = RendererPdf(file, 72, height, width)
    figure.draw(renderer)
    for artist in moving:
        artist.draw(renderer)
    renderer.finalize()
    file.finalize()
    file.close()
    figure.set_dpi(dpi)
    return stream.getvalue()


class Pen:
    """Writes artists as SVG elements. name : of the picture, begins the ids of its patterns and clips on a page"""

    def __init__(self, name: str, height: float):
        self.name, self.height = name, height
        self.definitions: dict[str, str] = {}
        self._matrices = {}  # id of a transform → the same as one matrix

    def element(self, artist) -> str:
        """One artist as it is now; nothing where it cannot be seen."""
        if not artist.get_visible():
            return ""
        if isinstance(artist, Text):
            return self._words(artist)
        if isinstance(artist, Line2D):
            return self._line(artist)
        if hasattr(artist, "pixels"):
            return self._image(artist)
        return self._patch(artist)

    def _words(self, text: Text) -> str:
        words = text.get_text()
        if not words:
            return ""
        x, y = self._matrix(text.get_transform()).transform(text.get_position())
        look = f'x="{x:.4g}" y="{self.height - y:.4g}" textLength="{width_of(text):.0f}"'
        size, colour, align = text.get_fontsize() * PIXELS_PER_POINT, hex_of(text.get_color()), text.get_ha()
        look += f' font-size="{size:.4g}"' if size != TYPE_SIZE else ""
        look += f' fill="{colour}"' if colour != INK else ""
        look += f' text-anchor="{ANCHORS[align]}"' if align != "left" else ""
        look += ' font-weight="bold"' if text.get_fontweight() == "bold" else ""
        look += f' paint-order="stroke" stroke="{PAPER}" stroke-width="4"' if text.get_path_effects() else ""
        return f"<text {look}>{escape(words)}</text>"

    def _line(self, line: Line2D) -> str:
        made, alpha = "", _alpha(line)
        width = line.get_linewidth() * PIXELS_PER_POINT
        if line.get_linestyle() != "None" and width:
            solid = line.get_linestyle() == "-"
            cap = line.get_solid_capstyle() if solid else line.get_dash_capstyle()
            join = line.get_solid_joinstyle() if solid else line.get_dash_joinstyle()
            ways, beyond = self._way(line.get_path(), self._matrix(line.get_transform()), line)
            if ways:
                made = (
                    f'<path d="{ways}" fill="none" stroke="{hex_of(line.get_color())}" stroke-width="{width:.4g}"'
                    f"{_cap(str(cap.name if hasattr(cap, 'name') else cap))}{_join(join)}"
                    f"{_dashes(line.get_linestyle(), width)}{alpha}{beyond}/>"
                )
        return made + self._marks(line, alpha)

    def _marks(self, line: Line2D, alpha: str) -> str:
        if line.get_marker() in (None, "None", "", " "):
            return ""
        mark, size = MarkerStyle(line.get_marker()), line.get_markersize() * PIXELS_PER_POINT
        shape = mark.get_path().transformed(mark.get_transform() + Affine2D().scale(size, size))
        face, edge = line.get_markerfacecolor(), line.get_markeredgecolor()
        fill = hex_of(face) if mark.is_filled() and to_rgba(face)[3] else "none"
        stroke = f'stroke="{hex_of(edge)}" stroke-width="{line.get_markeredgewidth() * PIXELS_PER_POINT:.4g}"'
        key = f"{self.name}-m{len(self.definitions)}"
        way = _written(*_flipped(shape, 0.0))
        self.definitions[key] = f'<path id="{key}" d="{way}" fill="{fill}" {stroke}{alpha}/>'
        places = line.get_xydata()
        if line.get_markevery() is not None:  # a list of numbers, as these pictures use it
            places = places[[number for number in line.get_markevery() if number < len(places)]]
        places = self._matrix(line.get_transform()).transform(places[np.isfinite(places).all(axis=1)])
        places = [0, self.height] + [1, -1] * places
        beyond = self._clip(places, line) if len(places) else ""
        return "".join(f'<use href="#{key}" x="{x:.4g}" y="{y:.4g}"{beyond}/>' for x, y in places.tolist())

    def _patch(self, patch) -> str:
        transform = patch.get_patch_transform() + self._matrix(patch.get_data_transform())
        way, beyond = self._way(patch.get_path(), transform, patch)
        if not way:
            return ""
        face, edge = patch.get_facecolor(), patch.get_edgecolor()
        width = patch.get_linewidth() * PIXELS_PER_POINT
        look = f'fill="{hex_of(face)}"' if patch.get_fill() and face[3] else 'fill="none"'
        if 0 < face[3] < 1 and patch.get_fill():
            look += f' fill-opacity="{face[3]:.3g}"'
        if edge[3] and width:
            look += f' stroke="{hex_of(edge)}" stroke-width="{width:.4g}"{_dashes(patch.get_linestyle(), width)}'
        made = f'<path d="{way}" {look}{beyond}/>'
        if patch.get_hatch():
            made += f'<path d="{way}" fill="url(#{self._hatch(patch.get_hatch(), hex_of(edge))})"{beyond}/>'
        return made

    def _image(self, raster) -> str:
        pixels = raster.pixels
        if pixels is None or not pixels.size:
            return ""
        rows, columns = pixels.shape[:2]
        x, y = raster.axes.transData.transform(raster.place)
        return (
            f'<image x="{x:.4g}" y="{self.height - y:.4g}" width="{columns}" height="{rows}"'
            f' preserveAspectRatio="none" href="data:image/png;base64,{_png(pixels)}"/>'
        )

    def _matrix(self, transform):
        """Gives a transform as one matrix, shared by artists of the same axes; matplotlib multiplies it anew each time."""
        if id(transform) not in self._matrices:
            self._matrices[id(transform)] = transform.get_affine() if transform.is_affine else transform
        return self._matrices[id(transform)]

    def _way(self, path: Path, transform, artist) -> tuple[str, str]:
        """The d of a path on the picture, and the clip that it needs where it reaches beyond its axes."""
        places, letters = _flipped(path, self.height, transform)
        if not len(places):
            return "", ""
        return _written(places, letters), self._clip(places[letters != Path.CLOSEPOLY], artist)

    def _clip(self, places, artist) -> str:
        box = artist.get_clip_box()
        if not artist.get_clip_on() or box is None:
            return ""
        (left, right), (top, bottom) = box.intervalx, self.height - box.intervaly[::-1]
        (low, high), slack = (places.min(axis=0), places.max(axis=0)), 1.0
        if low[0] >= left - slack and high[0] <= right + slack and low[1] >= top - slack and high[1] <= bottom + slack:
            return ""
        key = f"{self.name}-{left:.0f}-{top:.0f}"
        self.definitions[key] = (
            f'<clipPath id="{key}"><rect x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}"'
            f' height="{bottom - top:.1f}"/></clipPath>'
        )
        return f' clip-path="url(#{key})"'

    def _hatch(self, hatch: str, colour: str) -> str:
        side, way = HATCHES[2 * hatch[0]]
        key = f"{self.name}-{list(HATCHES).index(2 * hatch[0])}{len(hatch)}{colour[1:]}"
        look = f'fill="{colour}"' if hatch[0] == "." else f'fill="none" stroke="{colour}" stroke-width="{HATCH_LINE}"'
        self.definitions[key] = (
            f'<pattern id="{key}" width="{side}" height="{side}" patternUnits="userSpaceOnUse"'
            f' patternTransform="scale({2 / len(hatch):.3g})"><path d="{way}" {look}/></pattern>'
        )
        return key


def _flipped(path: Path, height: float, transform=None) -> tuple:
    """Gives a path's vertices as SVG counts them, y from the top down [px], and their codes; what is not seen is left
    out.
    """
    simplify = path.should_simplify and path.codes is None
    drawn = path.cleaned(transform=transform, remove_nans=True, simplify=simplify, curves=True)
    places, letters = drawn.vertices[:-1], drawn.codes[:-1]  # the last one says stop
    places[:, 1] = height - places[:, 1]
    return places, letters


def _written(places, letters) -> str:
    """A path's vertices [px] with their codes, as the d of an SVG path, to a tenth of a pixel."""
    numbers = [f"{x:.4g},{y:.4g}" for x, y in places.tolist()]
    if (letters[1:] == Path.LINETO).all():
        return "M" + " ".join(numbers)
    made, before = [], None
    for letter, number in zip(letters.tolist(), numbers):
        if letter == Path.CLOSEPOLY:
            made.append("Z")
        else:
            made.append(number if letter == before and letter != Path.MOVETO else LETTERS[letter] + number)
        before = letter
    return " ".join(made)


def _alpha(artist) -> str:
    return "" if artist.get_alpha() is None else f' opacity="{artist.get_alpha():g}"'


def _cap(name: str) -> str:
    word = {"projecting": "square"}.get(name, name)
    return "" if word == "butt" else f' stroke-linecap="{word}"'


def _join(name) -> str:
    word = str(getattr(name, "name", name))
    return "" if word == "miter" else f' stroke-linejoin="{word}"'


def _dashes(style: str, width: float) -> str:
    """Matplotlib's dash patterns, which are in units of the line's width."""
    pattern = {
        "--": "lines.dashed_pattern",
        "dashed": "lines.dashed_pattern",
        ":": "lines.dotted_pattern",
        "dotted": "lines.dotted_pattern",
        "-.": "lines.dashdot_pattern",
        "dashdot": "lines.dashdot_pattern",
    }.get(style)
    if pattern is None:
        return ""
    return f' stroke-dasharray="{" ".join(f"{part * width:.3g}" for part in matplotlib.rcParams[pattern])}"'


def width_of(text: Text) -> float:
    """Gives the width of a line of words in matplotlib's own typeface [px]."""
    bold = text.get_fontweight() == "bold"
    return text.get_fontsize() * PIXELS_PER_POINT * _width(text.get_text(), bold)


@lru_cache(maxsize=2000)
def _width(words: str, bold: bool) -> float:
    """Gives the width of a line of words as a multiple of the type's size."""
    return _font(bold).getlength(words) / 100


@lru_cache
def _font(bold: bool) -> ImageFont.FreeTypeFont:
    file = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return ImageFont.truetype(File(matplotlib.get_data_path()) / "fonts" / "ttf" / file, 100)


def _png(pixels) -> str:
    """Pixels (RGBA bytes) as PNG in base64; rows or columns that are all the same are written once."""
    if pixels.strides[0] == 0:
        pixels = pixels[:1]
    if pixels.strides[1] == 0:
        pixels = pixels[:, :1]
    buffer = BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels), "RGBA").save(buffer, "PNG", compress_level=1)
    return base64.b64encode(buffer.getvalue()).decode()
