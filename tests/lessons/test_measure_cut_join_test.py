"""Lesson 05: the cut length and its slips, the bars, growth, clips and fall; the surprises that its page promises."""

import re
from dataclasses import replace

import pytest
from words_on_page import seen

from lessons_lib import Q_, InputError, Pipe
from lessons_lib.lessons import heat_tape, measure_cut_join_test
from lessons_lib.lessons.measure_cut_join_test import buying_bars
from lessons_lib.lessons.measure_cut_join_test import words as lesson
from lessons_lib.lessons.measure_cut_join_test.joint import outline
from lessons_lib.lessons.measure_cut_join_test.panel import (
    ADDED,
    CENTRES_ONLY,
    FITTINGS,
    FORGOTTEN,
    OWN,
    PLAIN_END,
    SUBTRACTED,
    calculate,
    tern_bank_pieces,
)
from lessons_lib.lessons.measure_cut_join_test.picture import HOME, LONG, OUT
from lessons_lib.panels.page_state import choose_units
from lessons_lib.plant.supports import CAUTION, clip_spacing, fall
from lessons_lib.quantities.display import SI, US, number, show, sixteenths

READY = tern_bank_pieces()


def scene(title="Practice wall, measured", **changes):
    return calculate({**READY[title], **changes})


def laid(title="Practice wall", system=SI, **changes):
    """The bars of ready-made pieces, in the goods of a unit system."""
    goods = buying_bars.US_GOODS[title] if system == US else {}
    return buying_bars.calculate({**buying_bars.ready_made()[title], **goods, **changes})


def test_take_off_the_faces_and_give_back_the_depths():
    """800 - 35 - 35 + 25 + 25 = 780 mm."""
    wall = scene()
    assert wall.cut == wall.right == pytest.approx(0.780) and wall.seat == HOME and wall.measured
    assert [end.inside for end in wall.ends] == pytest.approx([0.025, 0.025])


def test_a_forgotten_depth_leaves_the_pipe_at_the_face():
    wall = scene(way=FORGOTTEN)
    assert wall.cut == pytest.approx(0.730) and wall.seat == OUT
    assert [end.inside for end in wall.ends] == pytest.approx([0, 0], abs=1e-12)


def test_a_subtracted_depth_is_four_depths_short():
    wall = scene(way=SUBTRACTED)
    assert wall.right - wall.cut == pytest.approx(4 * 0.025) and wall.seat == OUT
    assert [end.inside for end in wall.ends] == pytest.approx([-0.025, -0.025])


def test_the_centre_to_centre_length_never_fits():
    """Each fitting stands off its mark by what it takes off for good, face less depth; whatever the joint."""
    for changes in ({}, {"joint": OWN}, {"pipe": ("PEX CTS", "1 in"), "first": "coupling"}):
        wall = scene(way=CENTRES_ONLY, **changes)
        assert wall.seat == LONG and all(end.inside == pytest.approx(end.depth) for end in wall.ends)
        assert sum(end.shift for end in wall.ends) == pytest.approx(sum(end.face - end.depth for end in wall.ends))


def test_one_plain_end_leaves_the_whole_slip_to_the_other():
    wall = scene(second=PLAIN_END, way=FORGOTTEN)
    assert wall.ends[0].inside == pytest.approx(0.0) and len(wall.ends) == 1
    assert scene(second=PLAIN_END, depth=Q_(30, "mm"), way=ADDED).seat == HOME


def test_not_measured_is_said_everywhere():
    panel = measure_cut_join_test.panel()
    panel.use("Practice wall, not measured yet")
    assert "▲ measure first" in seen(panel) and "≈" in panel.sentence and "Nobody has measured" in panel.sentence
    assert panel.answer.startswith("Cut ≈") and panel.answer.endswith("measure before you cut")
    panel.use("Practice wall, measured")
    assert "● measured" in seen(panel) and "≈" not in panel.sentence
    assert "800 mm − 35 − 35 + 25 + 25 = 780 mm" in panel.sentence


def test_deeper_than_the_middle_is_measured_again():
    panel = measure_cut_join_test.panel()
    panel.use("Practice wall, measured")
    panel.set({"depth": Q_(40, "mm")})
    assert (
        "■ measure again" in seen(panel)
        and "middle of its fitting" in panel.sentence
        and "Ready" in panel._status.value
    )


@pytest.mark.parametrize("system", [SI, US])
def test_three_pieces_as_long_as_a_bar_do_not_come_out_of_it(system):
    """Nine pieces, three of which are one bar: five bars with a saw, three with a wheel cutter, in both unit systems."""
    nine, wheel = laid(buying_bars.NINE, system), laid(buying_bars.NINE, system, kerf=Q_(0, "mm"))
    assert nine.bars_to_buy == 5 and nine.waste_share == pytest.approx(0.4, abs=1e-6)
    assert wheel.bars_to_buy == 3 and wheel.waste_share >= 0  # three pieces are a bar to the last digit


@pytest.mark.parametrize("system, missing", [(SI, Q_(50, "mm")), (US, Q_(2, "in"))])
def test_the_guess_is_two_depths_whatever_the_goods(system, missing):
    choose_units(system)
    guess = lesson.guess()
    assert guess.answer().to("mm").magnitude == pytest.approx(missing.to("mm").magnitude)
    assert guess.slide.takes(missing) and show(0.5 * missing, "cut", system) in guess.question(system)


def test_the_picture_has_as_many_bars_as_are_bought():
    """Four bars were drawn and "buy 5" was written: the fifth was the spare, which nothing said."""
    panel = measure_cut_join_test.bars()
    panel.use(buying_bars.NINE)
    panel.set({"spare": Q_(30, "percent"), "pieces": Q_(4, ""), "kerf": Q_(0, "mm")})
    found = panel.scene
    assert (found.cut_bars, found.spare_bars, found.bars_to_buy) == (2, 0, 2)  # 1.2 m in the 2 m that is left
    panel.set({"pieces": Q_(6, "")})
    found = panel.scene
    assert (found.cut_bars, found.spare_bars, found.bars_to_buy) == (2, 1, 3)
    rows = panel.picture.bars.rows
    assert [row[0].pixels is not None for row in rows] == [True, True, True, False, False]
    assert "2 bars of 3 m, so buy 3 bars. The spare of 30%, 1800 mm, needs 1 of them" in panel.sentence
    assert "1800 mm needs 1 more to buy" in seen(panel) and panel.answer == "Buy 3 bars of 3 m"


def test_the_spare_is_seen_at_the_opening():
    panel = measure_cut_join_test.bars()
    shown = set()
    for spare in (0, 5, 10, 30):
        panel.set({"spare": Q_(spare, "percent")})
        shown.add((panel.sentence, panel.readouts(panel.scene, SI)[1].detail))
        assert panel.scene.bars_to_buy == 2 and ("lies in what is left over" in panel.sentence) == (spare > 0)
    assert len(shown) == 4


@pytest.mark.parametrize("way", [FORGOTTEN, SUBTRACTED, CENTRES_ONLY])
def test_a_wrong_cut_is_never_green(way):
    panel = measure_cut_join_test.panel()
    for title in READY:
        panel.use(title)
        panel.set({"way": way})
        assert "■ wrong length" in seen(panel) and "● measured" not in seen(panel)


def test_us_readers_have_their_own_goods_from_the_start():
    """As long as nobody has moved a control; what somebody set stays."""
    panel, bars = measure_cut_join_test.panel(), measure_cut_join_test.bars()
    assert panel.state["pipe"] == ("copper EN 1057", "15 mm") and bars.state["stock"] == "3 m"
    choose_units(US)
    assert "bars of 10 ft" in bars.sentence and panel.state["pipe"] == ("copper L", "1/2 in")
    assert "32 in − 1 3/8 − 1 3/8 + 1 + 1 = 31 1/4 in" in panel.sentence
    choose_units(SI)
    assert "800 mm − 35 − 35 + 25 + 25 = 780 mm" in panel.sentence
    bars.controls["stock"].menu.value = "6 m"
    choose_units(US)
    assert bars.state["stock"] == "6 m" and bars.state["length"] == Q_(780, "mm")
    bars.reset()
    assert bars.state["stock"] == "10 ft"


def test_a_page_opened_in_us_units_has_us_goods_at_once():
    choose_units(US)
    bars = measure_cut_join_test.bars()
    assert bars.system == US and bars.state["stock"] == "10 ft" and "bars of 10 ft" in bars.sentence
    assert heat_tape.panel().state["circuit"] == "120 V, 15 A"


def test_what_is_laid_into_the_bars_is_what_was_asked_for():
    wall = laid(pieces=Q_(7, ""), others=Q_(5, ""))
    found = [length for alike, pieces, _ in wall.bars for _, length in pieces for _ in range(alike)]
    assert sorted(found) == pytest.approx(sorted([wall.pieces[0][0]] * 7 + [wall.pieces[1][0]] * 5))
    for _, pieces, left in wall.bars:
        saws = min(len(pieces), round((wall.stock - sum(length for _, length in pieces)) / wall.kerf))
        assert sum(length for _, length in pieces) + saws * wall.kerf + left == pytest.approx(wall.stock, abs=wall.kerf)


def test_equal_pieces_a_and_b_are_one_kind():
    both = laid(others=Q_(4, ""), other_length=Q_(780, "mm"))
    assert {kind for _, pieces, _ in both.bars for kind, _ in pieces} == {0}


def test_plastic_grows_nine_times_as_much():
    copper, pex = scene(), scene(pipe=("PEX CTS", "1/2 in"))
    assert pex.growth / copper.growth == pytest.approx(0.15 / 0.0168) and copper.growth == pytest.approx(
        0.0168e-3 * 0.78 * 50
    )


@pytest.mark.parametrize(
    "family, size, level, upright",
    [
        ("copper L", "1 1/4 in", 6, 10),
        ("PEX CTS", "1 in", 2.67, 10),
        ("PEX CTS", "1 1/4 in", 4, 10),
        ("CPVC CTS", "1/2 in", 3, 10),
    ],
)
def test_clips_after_the_code_that_is_named(family, size, level, upright):
    """2018 International Residential Code, Table P2605.1, in feet (as quoted in secondary literature)."""
    pipe = Pipe.nominal(family, size)
    assert clip_spacing(pipe).to("ft").magnitude == pytest.approx(level) and clip_spacing(pipe, upright=True).to(
        "ft"
    ).magnitude == pytest.approx(upright)


@pytest.mark.parametrize(
    "family, size, level, upright",
    [
        ("copper EN 1057", "15 mm", 1.25, 1.25),
        ("copper EN 1057", "22 mm", 2.0, 2.0),
        ("copper EN 1057", "42 mm", 3.0, 3.0),
        ("copper EN 1057", "15 mm x 0.7 mm", 1.2, 1.8),
        ("copper EN 1057", "28 mm x 0.9 mm", 1.8, 2.4),
        ("PEX ISO 15875", "16 mm", 0.8, 0.8),
        ("PEX ISO 15875", "32 mm", 1.0, 1.0),
        ("multilayer ISO 21003", "16 mm", 1.2, 1.2),
        ("multilayer ISO 21003", "26 mm", 1.5, 1.5),
        ("multilayer ISO 21003", "32 mm", 1.5, 1.5),
        ("PEX BS 7291", "15 mm", 0.3, 0.5),
        ("PEX BS 7291", "28 mm", 0.8, 1.0),
    ],
)
def test_clips_by_the_region_of_the_pipe(family, size, level, upright):
    """German guide values (copper from memory, PE-X and multilayer as quoted in secondary literature) and British practice, in metres."""
    pipe = Pipe.nominal(family, size)
    assert clip_spacing(pipe).to("m").magnitude == pytest.approx(level) and clip_spacing(pipe, upright=True).to(
        "m"
    ).magnitude == pytest.approx(upright)


def test_clips_of_a_pipe_from_nowhere_are_the_closest_of_all():
    pipe = replace(Pipe.nominal("copper L", "1/2 in"), region="")
    assert clip_spacing(pipe).to("m").magnitude == pytest.approx(1.5) and clip_spacing(pipe, upright=True).to(
        "m"
    ).magnitude == pytest.approx(1.5)


def test_laying_refuses_what_it_does_not_know():
    with pytest.raises(InputError, match="where a Pipe is needed"):
        clip_spacing("copper")
    assert fall(Q_(12, "m")).to("mm").magnitude == pytest.approx(120)
    assert "local code" in CAUTION


@pytest.mark.parametrize(
    "millimetres, shown", [(780, "30 11/16"), (25.4, "1"), (1.5875, "1/16"), (0.3, "0"), (-25, "−1"), (0, "0")]
)
def test_sixteenths_as_a_tape_reads(millimetres, shown):
    assert sixteenths(Q_(millimetres, "mm")) == shown == number(Q_(millimetres, "mm"), "cut", US)
    assert show(Q_(12.7, "mm"), "cut", SI) == "12.7 mm" and show(Q_(25, "mm"), "cut", SI) == "25 mm"


def test_by_hand_agrees_with_the_panel():
    text = repr(lesson.by_hand())
    pairs = re.findall(r"\*\*([\d./ ]+?) (mm|in)\*\*; the panel says ([\d./ ]+?) (?:mm|in)", text)
    assert len(pairs) == 4
    metric = [(float(hand), float(panel)) for hand, unit, panel in pairs if unit == "mm"]
    assert all(hand == pytest.approx(panel, abs=0.05) for hand, panel in metric)
    hand, panel = (
        sum(
            float(part) if "/" not in part else int(part.split("/")[0]) / int(part.split("/")[1])
            for part in words.split()
        )
        for words in (pairs[2][0], pairs[2][2])
    )
    assert abs(hand - panel) <= 3 / 16  # five lengths, each rounded to a sixteenth


@pytest.mark.parametrize("fitting", FITTINGS[:-1])
def test_a_fitting_is_drawn_to_its_face(fitting):
    points = outline(fitting, 20, 70, 44, 56)
    assert points[:, 0].max() == 70 and abs(points[points[:, 0] == 70][:, 1]).max() == 20
