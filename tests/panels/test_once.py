"""Nothing is worked out twice for one picture, and a value gets its unit once: counted while a slider moves."""

from collections import Counter

import pytest
from pint.facets.plain import PlainQuantity

from lessons_lib.drawing.canvas import Canvas
from lessons_lib.lessons import heat_tape, how_hot_at_the_tap, waiting_for_hot, where_the_heat_goes
from lessons_lib.panels.panel_base import STYLE
from lessons_lib.physics import cooling, freezing
from lessons_lib.runs import assessment, first_draw, run, series, tape

# What one move may make with everything that it shows: 58 and 40 were counted, most of them for texts.
QUANTITIES = {how_hot_at_the_tap: 62, where_the_heat_goes: 44}
# How often a function may be called for one move: once for each question that the panel asks. The delivery of the main
# panel is asked with and without the water's film; a tape is followed on covered pipe and on bare, and on bare once more
# when a sensor switches it.
CALLS = {
    how_hot_at_the_tap: (
        (run, "deliver", 2),
        (freezing, "time_to", 1),
        (cooling, "curve", 1),
        (assessment, "tap_word", 1),
        (assessment, "scald_word", 1),
        (assessment, "freeze_word", 1),
    ),
    waiting_for_hot: ((run, "deliver", 1), (first_draw, "leg_of", 1)),
    heat_tape: ((tape, "_settled", 3),),
    where_the_heat_goes: ((series, "to_base", 6), (run, "inside_resistance", 3)),
}


def counted(monkeypatch, lesson, *watched) -> tuple[int, Counter]:
    """The quantities made, and the calls of the watched (module, name) pairs, for one move of the length's slider."""
    monkeypatch.setattr(Canvas, "png", lambda canvas: b"")
    panel, calls, made = lesson.panel(), Counter(), PlainQuantity.__new__

    def watch(owner, name):
        asked = getattr(owner, name)

        def count(*given, **named):
            calls[name] += 1
            return asked(*given, **named)

        monkeypatch.setattr(owner, name, count)

    for owner, name in watched:
        watch(owner, name)

    def quantity(*given, **named):
        calls["quantities"] += 1
        return made(*given, **named)

    monkeypatch.setattr(PlainQuantity, "__new__", staticmethod(quantity))
    before = panel.scene
    panel.controls["length"].slider.value += 3
    assert panel.scene is not before and "Ready" in panel._status.value
    return calls.pop("quantities"), calls


@pytest.mark.parametrize("lesson", QUANTITIES, ids=lambda lesson: lesson.__name__.split(".")[-1])
def test_a_move_wraps_each_value_once(lesson, monkeypatch):
    made, _ = counted(monkeypatch, lesson)
    assert made <= QUANTITIES[lesson]


@pytest.mark.parametrize("lesson", CALLS, ids=lambda lesson: lesson.__name__.split(".")[-1])
def test_a_move_asks_each_question_once(lesson, monkeypatch):
    _, calls = counted(monkeypatch, lesson, *(watched[:2] for watched in CALLS[lesson]))
    assert {name: calls[name] for _, name, _ in CALLS[lesson]} == {name: most for _, name, most in CALLS[lesson]}


def test_no_rule_of_style_looks_through_every_new_picture():
    """A page is told to be large by a class: `.jp-Notebook:has()` made the browser look through each picture of a move for
    50 ms (tests/benchmarks/README.md)."""
    assert ".jp-Notebook:has(" not in STYLE and ".jp-Notebook.hot-water-page-large" in STYLE
