"""Lying bars: what was kept for comparison stands as a line, and the number at a bar's end keeps clear of it."""

import pytest

from lessons_lib.drawing.bars import Bars
from lessons_lib.drawing.canvas import Canvas


@pytest.mark.parametrize("kept, right_of", [(0.2, 0.5), (0.9, 0.9)])
def test_a_number_stands_right_of_its_bar_and_of_the_kept_line(kept, right_of):
    bars = Bars(Canvas(400, 80), 0, 0, 400, "Power", ["pump"], [("#ffffff", "//")], room=100, numbers=100)
    bars.show([0.5], ["5 kW"])
    bars.show_kept([kept])
    assert bars.kept[0].get_visible() and list(bars.kept[0].get_xdata()) == [100 + 200 * kept] * 2
    assert bars.numbers[0].get_position()[0] == 100 + 200 * right_of + 6
    bars.show_kept(None)
    assert not bars.kept[0].get_visible()
