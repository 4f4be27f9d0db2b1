"""Artists as elements of a vector picture: where they lie, how they look, and what a page may not run."""

import re
from xml.etree import ElementTree

import numpy as np
import pytest
from matplotlib.patches import Circle, Rectangle

from lessons_lib.drawing.canvas import Canvas
from lessons_lib.drawing.vector import width_of


@pytest.fixture
def canvas():
    return Canvas(400, 300)


def drawn(canvas) -> list:
    """The elements of what moves, with their attributes."""
    inside = ElementTree.fromstring(f"<svg>{canvas.moved()}</svg>")
    return [one for one in inside if one.tag != "defs"]


def places(element) -> np.ndarray:
    """The numbers of a path, as pairs."""
    return np.array(re.findall(r"-?[\d.]+(?:e-?\d+)?", element.get("d")), dtype=float).reshape(-1, 2)


def test_a_line_lies_where_its_data_lie(canvas):
    axes = canvas.axes(100, 50, 200, 100)  # [px] from the top left corner
    axes.set(xlim=(0, 10), ylim=(0, 5))
    canvas.moving(*axes.plot([0, 5, 10], [0, 5, 0], lw=3, color="#123456"))
    (line,) = drawn(canvas)
    assert places(line) == pytest.approx(np.array([[100, 150], [200, 50], [300, 150]]), abs=0.05)
    assert line.get("stroke") == "#123456" and float(line.get("stroke-width")) == pytest.approx(4.0)
    assert line.get("clip-path") is None


def test_what_reaches_beyond_its_axes_is_clipped_to_them(canvas):
    axes = canvas.axes(100, 50, 200, 100)
    axes.set(xlim=(0, 10), ylim=(0, 5))
    line = canvas.moving(*axes.plot([0, 20], [0, 0]))
    assert drawn(canvas)[0].get("clip-path") == f"url(#{canvas.name}-100-50)"
    assert (
        f'<clipPath id="{canvas.name}-100-50"><rect x="100.0" y="50.0" width="200.0" height="100.0"/>' in canvas.moved()
    )
    line.set_clip_on(False)
    assert drawn(canvas)[0].get("clip-path") is None


def test_gaps_in_a_line_stay_gaps(canvas):
    axes = canvas.drawing(0, 0, 400, 300)
    canvas.moving(*axes.plot([10, 20, np.nan, 40, 50], [7, 7, 7, 7, 7]))
    (line,) = drawn(canvas)
    assert line.get("d").count("M") == 2 and "nan" not in line.get("d")


def test_a_long_line_is_simplified_within_a_fifth_of_a_pixel(canvas):
    axes = canvas.drawing(0, 0, 400, 300)
    x = np.linspace(0, 400, 2001)
    canvas.moving(*axes.plot(x, 150 + 100 * np.sin(x / 40)))
    found = places(drawn(canvas)[0])
    assert len(found) < 700
    off = np.interp(x, found[:, 0], found[:, 1]) - (150 + 100 * np.sin(x / 40))
    assert np.max(np.abs(off) / np.hypot(1, 2.5 * np.cos(x / 40))) < 0.2, "measured across the line, [px]"


def test_circles_are_round_and_hatched(canvas):
    axes = canvas.drawing(0, 0, 400, 300)
    canvas.moving(axes.add_patch(Circle((200, 150), 40, fc="#ffcc00", ec="#123456", hatch="..")))
    face, hatch = drawn(canvas)
    assert face.get("fill") == "#ffcc00" and "C" in face.get("d")
    assert np.hypot(*(places(face)[0] - (200, 150))) == pytest.approx(40, abs=0.05)
    assert re.fullmatch(r"url\(#(.*)\)", hatch.get("fill"))[1] in canvas.moved().partition("</defs>")[0]


def test_each_picture_has_ids_of_its_own():
    names = []
    for _ in range(2):
        canvas = Canvas(100, 100)
        canvas.moving(canvas.drawing(0, 0, 100, 100).add_patch(Rectangle((0, 0), 9, 9, hatch="//")))
        names += re.findall(r'id="([^"]+)"', canvas.moved())
    assert len(names) == len(set(names)) == 2


def test_words_keep_their_width_and_run_nothing(canvas):
    axes = canvas.drawing(0, 0, 400, 300)
    words = canvas.words(axes, 390, 20, ha="right", weight="bold")
    words.set_text("<script>alert(1)</script> 60 °C & more")
    (element,) = drawn(canvas)
    assert element.text == "<script>alert(1)</script> 60 °C & more" and not list(element)
    assert element.get("text-anchor") == "end" and element.get("font-weight") == "bold"
    assert float(element.get("x")) == pytest.approx(390) and float(element.get("y")) == pytest.approx(20)
    extent = words.get_window_extent(canvas.figure.canvas.get_renderer())
    assert width_of(words) == pytest.approx(extent.width, rel=0.04), "as wide as matplotlib draws it"
    words.set_text("")
    assert drawn(canvas) == []


def test_a_strip_of_colour_is_one_row(canvas):
    axes = canvas.drawing(0, 0, 400, 300)
    strip = canvas.raster(axes, 30, 40)
    strip.set_pixels(np.broadcast_to(np.full((1, 200, 4), 255, dtype=np.uint8), (26, 200, 4)))
    (image,) = drawn(canvas)
    assert [float(image.get(side)) for side in ("x", "y", "width", "height")] == [30, 40, 200, 26]
    assert len(image.get("href")) < 400
    strip.set_visible(False)
    assert drawn(canvas) == []
