"""Looks that many parts share: one object for the same words, which nobody can change by mistake."""

import ipywidgets as widgets
import pytest

from lessons_lib.lessons import fill_purge_and_hand_over
from lessons_lib.panels.controls import Slide, label_of
from lessons_lib.panels.looks import plain, written
from lessons_lib.quantities.display import SYSTEMS, US
from lessons_lib.quantities.units import Q_


def test_parts_that_look_alike_share_one_look():
    one, other, wide = label_of("Length"), label_of("Size"), label_of("Size", "300px")
    assert one.layout is other.layout is not wide.layout and one.style is wide.style is plain(widgets.HTML)
    assert (one.layout.width, wide.layout.width) == ("122px", "300px")
    assert type(plain(widgets.Dropdown)) is type(widgets.Dropdown().style)


@pytest.mark.parametrize(
    "change",
    [lambda part: setattr(part.layout, "display", "none"), lambda part: setattr(part.style, "font_size", "9px")],
)
def test_a_shared_look_is_not_changed_by_one_part(change):
    with pytest.raises(TypeError, match="of its own"):
        change(written("Words"))


def test_what_one_control_hides_is_hidden_there_alone():
    """Each slider's own layout: the one of the other unit system is not shown."""
    one, other = (Slide("Length", "length", Q_(5, "m"), (1, 30, 0.5), (3, 100, 1), "") for _ in range(2))
    one.set_system(US)
    assert [slider.layout.display for slider in one.sliders.values()] == ["none", None]
    assert [slider.layout.display for slider in other.sliders.values()] == [None, "none"]


def test_units_there_and_back_make_no_new_part(monkeypatch):
    """A change of units writes other words into the parts that are there."""
    panel, made = fill_purge_and_hand_over.panel(), []
    monkeypatch.setattr(widgets.Widget, "open", made.append)
    for system in SYSTEMS[::-1]:
        panel.set_system(system)
    assert made == []
