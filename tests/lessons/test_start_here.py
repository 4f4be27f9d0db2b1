"""The start page's panel: its water and its wait by hand, in each reader's own pipe, and nothing of lesson 01 in it."""

import pytest

from lessons_lib import Q_
from lessons_lib.lessons import start_here
from lessons_lib.lessons.how_hot_at_the_tap import panel as main
from lessons_lib.lessons.start_here.panel import FLOW
from lessons_lib.lessons.start_here.picture import BUCKETS
from lessons_lib.panels.page_state import choose_units
from lessons_lib.quantities.display import SI, US
from lessons_lib.storage import preferences


@pytest.mark.parametrize("system, bore", [(SI, 20.0), (US, 0.785 * 25.4)])
def test_water_and_wait_by_hand(system, bore):
    """EN 1057 22 mm has a bore of 20 mm, copper L 3/4 in one of 0.785 in; a circle's area times 30 m, over 6 L/min."""
    panel = start_here.panel()
    panel.set({"length": Q_(30, "m")})
    stands = panel.scene.stands[system]
    litres = 3.14159 * (bore / 200) ** 2 * 300
    assert 1000 * stands.volume == pytest.approx(litres, rel=0.002)
    assert stands.wait == pytest.approx(litres / 6 * 60, rel=0.002)


def test_each_reader_sees_the_goods_of_the_own_side():
    panel = start_here.panel()
    for system, own, other in ((SI, "22 mm copper EN 1057", "copper L"), (US, "3/4 in copper L", "copper EN 1057")):
        panel.set_system(system)
        assert own in panel.sentence and other not in panel.sentence


def test_a_uk_reader_chooses_uk_goods_and_every_open_panel_takes_them():
    chooser, panel, touched = start_here.units(), start_here.panel(), main()
    touched.controls["pipe"].set(("PEX CTS", "3/4 in"))
    opened = main()
    chooser.goods.value = "United Kingdom"
    assert "22 mm x 0.9 mm" in panel.sentence and opened.state["pipe"] == ("copper EN 1057", "22 mm x 0.9 mm")
    assert touched.state["pipe"] == ("PEX CTS", "3/4 in"), "work under way keeps its pipe"
    assert preferences.region(SI) == "United Kingdom" and preferences.region(US) == "United States"
    assert "0.9 mm wall" in chooser.told.value
    choose_units(US)
    assert chooser.goods.layout.display == "none" and "120 V" in chooser.told.value
    assert opened.state["pipe"] == ("copper L", "3/4 in")
    assert main().state["pipe"] == ("copper L", "3/4 in")
    choose_units(SI)
    assert opened.state["pipe"] == ("copper EN 1057", "22 mm x 0.9 mm")


def test_the_bucket_takes_what_the_longest_pipe_holds():
    panel = start_here.panel()
    panel.set_system(US)
    panel.set({"length": Q_(200, "ft")})
    for system, bucket in BUCKETS.items():
        assert 0.8 < panel.scene.stands[system].volume / bucket.to("m**3").magnitude <= 1
    assert FLOW == Q_(6, "L/min")


def test_it_gives_no_surprise_of_lesson_01_away():
    panel = start_here.panel()
    assert not any(word in panel.sentence + panel.tries.told.value for word in ("burn", "skin", "scald", "°"))
