"""Lesson 03: its surprises are on the panel, its sums by hand agree with it, its verdicts warn."""

import re

import numpy as np
import pytest
from words_on_page import seen

from lessons_lib import Q_
from lessons_lib.lessons import waiting_for_hot
from lessons_lib.lessons.waiting_for_hot import words as lesson
from lessons_lib.lessons.waiting_for_hot.panel import AFTER, LITTLE, calculate, indoors
from lessons_lib.panels.shared_controls import in_goods
from lessons_lib.quantities.display import SI, US, just_under, stopwatch
from lessons_lib.runs.first_draw import wait_word
from lessons_lib.runs.pipe import Pipe

SINK = in_goods(indoors()[lesson.SINK], SI)
BARE, LATER = {"insulation": "none"}, {"draw": AFTER}


def scene(**changes):
    return calculate({**SINK, **changes})


def minutes(value):
    return {"draw": AFTER, "pause": Q_(value, "min")}


def test_foam_moves_the_second_draw_and_not_the_first():
    assert scene(**BARE).wait == pytest.approx(scene().wait, rel=0.01)
    assert scene(**minutes(20)).wait == 0 and scene(**BARE, **minutes(20)).wait > 0.8 * scene().wait
    late = scene(**minutes(120)).wait, scene(**BARE, **minutes(120)).wait
    assert min(late) > 0.9 * scene().wait


def test_the_wait_grows_with_the_area_not_with_the_name():
    family = SINK["pipe"][0]
    small, large = (Pipe.nominal(family, size).inside_diameter.to("mm").magnitude for size in ("16 mm", "20 mm"))
    grown = scene(pipe=(family, "20 mm")).wait / scene().wait
    assert grown == pytest.approx((large / small) ** 2, rel=0.05) and grown > 1.2 * 20 / 16


def test_the_wall_takes_heat():
    """The front reaches the tap cool, and more runs away than the run holds."""
    one = scene()
    assert one.wait > 1.2 * one.sweep and one.drawn > 1.2 * one.content
    assert one.tap_at(one.sweep) < 25 and one.run_at(one.sweep)[0] > 55
    assert one.tap_at(one.wait) == pytest.approx(one.useful, abs=0.5)


def test_a_third_of_the_length_waits_less_than_a_third():
    assert scene(length=SINK["length"] / 3).wait < scene().wait / 3


def test_a_tap_half_open_wastes_no_less():
    half = scene(flow=SINK["flow"] / 2)
    assert half.wait > 2 * scene().wait and half.drawn > scene().drawn


def test_the_opening_picture_does_not_answer_the_guess():
    guess, panel = lesson.guess(), waiting_for_hot.panel()
    assert guess.answer().magnitude == pytest.approx(42, abs=1)
    assert stopwatch(guess.answer().magnitude) not in panel.sentence


def test_by_hand_brackets_the_panel():
    text = lesson.by_hand().markdown
    found = [float(number) for number in re.findall(r"\*\*(\d+) s\*\*", text)]
    for (least, most, shown), system in zip((found[:3], found[3:]), (SI, US)):
        assert least < shown < most and shown == round(calculate(lesson._sink(system)).wait)
    by_hand, panel = re.search(r"\*\*([\d.]+) L\*\*; the panel says ([\d.]+) L", text).groups()
    assert float(by_hand) == pytest.approx(float(panel), rel=0.01)
    feet, gpm = 79, 1.06  # 24 m and 4 L/min; 1/2 in PEX CTS has a bore of 0.475 in
    assert found[3] == pytest.approx(60 * 0.0408 * 0.475**2 * feet / gpm, abs=1)


def test_by_hand_says_of_copper_what_the_model_gives():
    """The whole wall's heat brings the sum within 2 % of the model's wait in copper."""
    pipe = Pipe.nominal("copper L", "1/2 in")
    outside, bore = pipe.outside_diameter.to("m").magnitude, pipe.inside_diameter.to("m").magnitude
    share = (pipe.density * pipe.heat_capacity).to("J/(m**3*K)").magnitude / 4.11e6 * (outside**2 - bore**2) / bore**2
    copper = scene(pipe=("copper L", "1/2 in"))
    assert copper.wait == pytest.approx(copper.sweep * (1 + share), rel=0.02)


@pytest.mark.parametrize(
    "seconds, word",
    [
        (0, "warm at once"),
        (10, "short wait"),
        (10.1, "middling wait"),
        (30.1, "long wait"),
        (np.inf, "never warm enough"),
    ],
)
def test_words_for_waits(seconds, word):
    assert wait_word(seconds) == word


@pytest.mark.parametrize(
    "seconds, words",
    [
        (0, "0 s"),
        (0.94, "0.9 s"),
        (9.96, "10 s"),
        (99.4, "99 s"),
        (99.6, "100 s"),
        (103, "103 s"),
        (599.4, "599 s"),
        (599.6, "10 min"),
        (700, "11 min"),
    ],
)
def test_a_stopwatch_reads_seconds(seconds, words):
    assert stopwatch(seconds) == words


@pytest.mark.parametrize("flow", [0.5, 0.7, 1, 2, 6])
def test_two_times_in_one_card_are_told_in_one_style(flow):
    """ "1 min 43 s" stood beside "82 s", where their ratio is asked."""
    panel = waiting_for_hot.panel()
    panel.set({"flow": Q_(flow, "L/min")})
    detail = panel.readouts(panel.scene, panel.system)[0].detail
    assert len(set(re.findall(r"\d (s|min|h)\b", detail))) == 1 and detail.count(";") == 1, detail
    assert stopwatch(82, 103) == "82 s" and stopwatch(590, 700) == "9 min" and stopwatch(100, 700) == "1 min"


def test_just_too_cool_is_not_shown_as_warm_enough():
    """A tank at 40 °C: "never gets to 40 °C … in the end it gives 40 °C"."""
    panel = waiting_for_hot.panel()
    panel.set({"supply": Q_(40, "degC"), "useful": Q_(40, "degC")})
    assert "never gets to 40 °C" in panel.sentence and "it gives just under 40 °C" in panel.sentence
    assert "just under 40 °C" in panel.readouts(panel.scene, SI)[2].detail
    panel.set_system(US)
    assert "never gets to 104 °F" in panel.sentence and "it gives 103 °F" in panel.sentence
    assert (
        just_under(39.9, 40.0, US) == "just under 104 °F"
        and just_under(40.0, 40.0, SI) == "40 °C"
        and just_under(38.0, 40.0, SI) == "38 °C"
    )


@pytest.mark.parametrize("useful, supply", [(45, 40), (40, 40)])
def test_a_tap_that_never_gets_warm_enough_is_a_picture(useful, supply):
    panel = waiting_for_hot.panel()
    panel.set({"useful": Q_(useful, "degC"), "supply": Q_(supply, "degC")})
    assert "never gets to" in panel.sentence and "■ never warm enough" in seen(panel) and "Ready" in panel._status.value


def test_warm_at_once_still_says_that_it_scalds():
    panel = waiting_for_hot.panel()
    panel.use("Far sink, 20 min after a draw")
    assert "at once" in panel.sentence and "● warm at once" in seen(panel) and "■ scalds in seconds" in seen(panel)


@pytest.mark.parametrize("length, word", [(24, "much wasted"), (8, "little wasted")])
def test_much_and_little_wasted(length, word):
    panel = waiting_for_hot.panel()
    panel.set({"length": Q_(length, "m")})
    assert word in seen(panel) and (panel.scene.drawn > LITTLE) == (word == "much wasted")


@pytest.mark.parametrize("air, words", [(18, "through the band"), (22, "stays in the band")])
def test_bacteria_are_never_all_green(air, words):
    panel = waiting_for_hot.panel()
    panel.set({"air": Q_(air, "degC")})
    assert f"▲ {words}" in seen(panel)


def test_the_run_is_drawn_at_moments_in_order():
    for changes in (
        {},
        BARE,
        minutes(20),
        {"length": Q_(1, "m"), "flow": Q_(20, "L/min")},
        {"useful": Q_(45, "degC"), "supply": Q_(40, "degC")},
    ):
        times = [moment for moment, _ in scene(**changes).instants]
        assert len(times) == 4 and times == pytest.approx(sorted(times))


def test_pause_rests_before_a_first_draw():
    panel = waiting_for_hot.panel()
    assert panel.controls["pause"].slider.disabled
    panel.controls["draw"].menu.value = AFTER
    assert not panel.controls["pause"].slider.disabled


def test_spans_follow_long_and_short_waits():
    """A graph that shows its whole wait: the mark lies inside its axis, in both unit systems."""
    panel = waiting_for_hot.panel()
    for changes in (
        {"length": Q_(1, "m")},
        {"length": Q_(60, "m"), "flow": Q_(0.5, "L/min"), "pipe": ("copper L", "1 1/4 in"), "supply": Q_(80, "degC")},
    ):
        panel.set(changes)
        axis = panel.picture.tap.across
        assert panel.scene.wait <= axis.high * (60 if axis.kind == "minutes" else 1)
        panel.set_system(US)
        assert "°F" in panel.sentence


def test_the_librarys_cautions_are_told():
    for text in ("does not mix", "Children", "laboratories differ"):
        assert text in lesson.cautions().markdown
