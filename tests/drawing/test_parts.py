"""What a narrow screen shows of each picture: all of it, every word whole, and large enough to be read."""

from io import BytesIO

import numpy as np
import pytest
from matplotlib.text import Text
from PIL import Image

from lessons_lib.classroom.class_board_panel import class_board
from lessons_lib.classroom.session_panel import session_planner
from lessons_lib.drawing.vector import PIXELS_PER_POINT
from lessons_lib.lessons import (
    at_the_bench,
    choosing_the_pipe_size,
    fill_purge_and_hand_over,
    heat_tape,
    hot_enough_not_too_hot,
    hot_water_that_comes_back,
    how_hot_at_the_tap,
    measure_cut_join_test,
    outdoor_unit_notes,
    start_here,
    the_outdoor_loop,
    waiting_for_hot,
    what_water_does_to_the_works,
    where_the_heat_goes,
    will_it_freeze,
    your_own_run,
)
from lessons_lib.quantities.display import SYSTEMS

NARROW, SMALLEST = 345, 9.95  # [px] what JupyterLab leaves of a phone's 400; type there
SLACK = 3.0  # [px] around letters: a line of type is higher than what is seen of it
PANELS = (
    start_here.panel,
    hot_enough_not_too_hot.panel,
    hot_enough_not_too_hot.burn_times,
    how_hot_at_the_tap.panel,
    waiting_for_hot.panel,
    choosing_the_pipe_size.panel,
    measure_cut_join_test.panel,
    measure_cut_join_test.bars,
    where_the_heat_goes.panel,
    will_it_freeze.panel,
    heat_tape.panel,
    heat_tape.unit_circuit,
    the_outdoor_loop.panel,
    fill_purge_and_hand_over.panel,
    fill_purge_and_hand_over.set_valve,
    fill_purge_and_hand_over.sequence,
    your_own_run.panel,
    hot_water_that_comes_back.panel,
    hot_water_that_comes_back.balancing,
    hot_water_that_comes_back.thermosiphon,
    at_the_bench.panel,
    what_water_does_to_the_works.panel,
    outdoor_unit_notes.panel,
    class_board,
    session_planner,
)


def words(picture):
    """Gives every line of words that is seen, with left, top, right and bottom on the picture [px]."""
    if picture.canvas._still_pixels is None:
        picture.png()  # axes find the places of their titles when they are drawn
    height, renderer = picture.size[1], picture.canvas._agg.get_renderer()
    for axes in picture.canvas.figure.axes:
        for text in axes.findobj(Text):
            if text.get_text().strip() and text.get_visible() and (axes.axison or text in axes.texts):
                box = text.get_window_extent(renderer)
                yield text, (box.x0, height - box.y1, box.x1, height - box.y0)


def cut(picture) -> list[str]:
    """Gives the words that no part has whole."""
    return [
        text.get_text()
        for text, (left, top, right, bottom) in words(picture)
        if left > 0
        and not any(
            x - 1 <= left and right <= x + width + 1 and y - SLACK <= top and bottom <= y + height + SLACK
            for x, y, width, height in picture.parts
        )
    ]


@pytest.mark.usefixtures("no_background")  # all that is read here is drawn as pixels
@pytest.mark.parametrize("made", PANELS, ids=lambda made: f"{made.__module__.split('.')[-2]}_{made.__name__}")
def test_the_parts_of_a_picture_show_all_of_it_with_every_word_whole(made):
    panel = made()
    for system in SYSTEMS if hasattr(panel, "set_system") else SYSTEMS[:1]:
        if hasattr(panel, "set_system"):
            panel.set_system(system)
        assert cut(panel.picture) == []
        for title in getattr(panel, "ready_made", ()):
            panel.use(title)
            assert cut(panel.picture) == [], title
            panel.keep()
            assert cut(panel.picture) == [], f"{title}, kept"
    picture = panel.picture
    told = list(words(picture))
    smallest = min(text.get_fontsize() * PIXELS_PER_POINT for text, _ in told)
    widest = max(width for _, _, width, _ in picture.parts)
    assert smallest * min(1, NARROW / widest) >= SMALLEST
    for x, y, width, height in picture.parts:
        inside = [box for _, box in told if x - 1 <= box[0] and box[2] <= x + width + 1]
        own = [box for box in inside if y - SLACK <= box[1] and box[3] <= y + height + SLACK]
        assert len(own) >= 2 or width >= 400, f"a part at ({x}, {y}) says too little to be read by itself"
    paper = np.array(Image.open(BytesIO(picture.png())).convert("L"))
    for left, top, width, height in picture.parts:
        paper[top : top + height, left : left + width] = 255
    assert paper.min() > 235, "something is drawn outside of all parts"
