"""The start page's panel: its water and its wait by hand, in each reader's own pipe, and nothing of lesson 01 in it."""

import pytest

from lessons_lib import Q_
from lessons_lib.lessons import start_here
from lessons_lib.lessons.start_here.panel import FLOW, PIPES
from lessons_lib.lessons.start_here.picture import BUCKETS
from lessons_lib.quantities.display import SI, US


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
    assert PIPES == {SI: ("copper EN 1057", "22 mm"), US: ("copper L", "3/4 in")}
    for system, other in ((SI, US), (US, SI)):
        panel.set_system(system)
        assert PIPES[system][0] in panel.sentence and PIPES[other][0] not in panel.sentence


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
