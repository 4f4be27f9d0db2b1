"""The base of every picture: built once, drawn from scene to scene, its words, and its ways to a page and a notebook."""

import base64

import pytest

from lessons_lib.drawing.canvas import Canvas
from lessons_lib.drawing.graph import Axis, Graph
from lessons_lib.drawing.picture import Picture
from lessons_lib.lessons import start_here
from lessons_lib.quantities.display import SI, US

LENGTHS = Axis("length", "length", 0, 10, (0, 5, 10), (0, 15, 30))


class Dot(Picture):
    """Shows a number as a dot, and what was kept as another."""

    size = 200, 160

    def build(self, canvas):
        graph = Graph(canvas, 0, 0, 200, 160, "a dot", LENGTHS, LENGTHS)
        self.dot, self.ghost = graph.mark(), graph.mark(mfc="none")
        self.scales = (graph,)

    def show(self, scene):
        self.dot.set_data([scene], [scene])
        self.ghost.set_data(*(([self.kept], [self.kept]) if self.kept else ([], [])))

    def sentence(self, scene):
        return f"The dot is at <{scene}>."

    def description(self, scene):
        return "A dot."


@pytest.fixture
def encoded(monkeypatch):
    """The canvases that were encoded, one entry for each time."""
    made, png = [], Canvas.png
    monkeypatch.setattr(Canvas, "png", lambda canvas: made.append(canvas) or png(canvas))
    return made


def test_a_scene_is_encoded_once_for_all_its_ways_out(encoded):
    picture = Dot(SI)
    assert picture.draw(3) == "The dot is at <3>." and not encoded
    first = base64.b64encode(picture.png()).decode()
    assert picture.bundle() == {"image/png": first} and first in picture.html(3) and len(encoded) == 1
    picture.draw(4)
    assert base64.b64encode(picture.png()).decode() != first and len(encoded) == 2


def test_what_was_kept_is_drawn_and_told():
    picture = Dot(SI)
    picture.draw(3)
    alone = picture.png()
    assert picture.describe(3) == "A dot. The dot is at <3>."
    picture.kept = 7
    picture.draw(3)
    assert picture.png() != alone
    assert picture.describe(3) == "A dot. The dot is at <3>. Kept for comparison: The dot is at <7>."
    assert 'alt="A dot. The dot is at &lt;3&gt;. Kept' in picture.html(3) and 'width="200"' in picture.html(3)


def test_scales_follow_the_units():
    picture, other = Dot(SI), Dot(US)
    picture.draw(3), other.draw(3)
    assert picture.png() != other.png()
    picture.units(US)
    picture.draw(3)
    assert picture.system == US and picture.png() == other.png()


def test_a_panel_tells_its_ghost():
    panel = start_here.panel()
    before = panel.sentence
    panel.keep()
    assert panel.picture.describe(panel.scene).endswith(f" Kept for comparison: {before}")
