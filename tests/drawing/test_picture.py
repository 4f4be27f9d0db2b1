"""The base of every picture: built once, drawn from scene to scene, its words, and its ways to a page and a notebook."""

import base64
from xml.etree import ElementTree

import pypdfium2
import pytest

from lessons_lib.drawing import canvas, vector
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


def test_what_stands_still_is_written_again_only_when_it_changes():
    picture = Dot(SI)
    assert picture.draw(3) == "The dot is at <3>."
    still, moved = picture.style(), picture.html(3)
    picture.draw(4)
    assert picture.style() == still and picture.html(4) != moved
    picture.units(US)
    assert picture.style() != still
    picture.units(SI)
    assert picture.style() == still


def test_pictures_of_a_class_share_what_stands_still_and_those_of_another_do_not():
    class Wide(Dot):
        size = 300, 160

    one, other, wide, changed = Dot(SI), Dot(SI), Wide(SI), Dot(SI)
    assert one.canvas.still is other.canvas.still == vector.background(other.canvas.figure, other.size)
    assert wide.canvas.still == vector.background(wide.canvas.figure, wide.size) != one.canvas.still
    changed.scales[0].axes.axvline(3)
    changed.canvas.renew(changed)
    assert changed.canvas.still != one.canvas.still is Dot(SI).canvas.still


def test_a_scale_seen_before_has_the_background_that_a_new_picture_has(monkeypatch):
    """Units and scales there and back: each is written once, as it is on a picture that never stood otherwise."""
    written = []
    monkeypatch.setattr(canvas, "background", lambda *of: written.append(1) or vector.background(*of))
    scales = [Axis("length", "length", 0, end, (0, end), (0, 3 * end)) for end in range(1, 1 + canvas.BACKGROUNDS // 2)]
    picture = Dot(SI)
    for _ in range(2):
        for system in (SI, US):
            picture.units(system)
            for scale in scales:
                picture.scales[0].stretch(across=scale)
                fresh = Dot(system)
                fresh.scales[0].stretch(across=scale)
                assert picture.canvas.still == vector.background(fresh.canvas.figure, fresh.size)
    assert len(written) == canvas.BACKGROUNDS
    picture.scales[0].stretch(across=LENGTHS)
    assert picture.canvas.still and len(written) == len(picture.canvas._backgrounds) + 1 == canvas.BACKGROUNDS + 1
    picture.canvas.renew(picture)
    assert picture.canvas.still and len(picture.canvas._backgrounds) == 1, "what never looks as before is kept once"


def test_a_closed_notebook_gets_the_whole_picture_for_page_and_paper():
    picture = Dot(SI)
    picture.draw(3)
    stored = picture.bundle()
    assert base64.b64decode(stored["image/png"]) == picture.png()
    whole = ElementTree.fromstring(stored["image/svg+xml"])
    paper = pypdfium2.PdfDocument(base64.b64decode(stored["application/pdf"]))
    assert len(paper) == 1 and paper[0].get_size()[0] == pytest.approx(150)  # [pt], of 200 px
    other = Dot(SI)
    other.draw(3)
    assert other.bundle() == stored, "a page that is stored anew does not change where nothing did"
    assert whole.get("width") == "200" and len(whole.findall(".//{http://www.w3.org/2000/svg}use")) > 2


def test_what_was_kept_is_drawn_and_told():
    picture = Dot(SI)
    picture.draw(3)
    alone = picture.png()
    assert picture.describe(3) == "A dot. The dot is at <3>."
    picture.kept = 7
    picture.draw(3)
    assert picture.png() != alone
    assert picture.describe(3) == "A dot. The dot is at <3>. Kept for comparison: The dot is at <7>."
    assert 'aria-label="A dot. The dot is at &lt;3&gt;. Kept' in picture.html(3) and "width:200px" in picture.html(3)


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
