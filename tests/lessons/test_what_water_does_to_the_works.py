"""Lesson 13, hardness and scale: its surprises hold, its sums on paper agree with the panel, its verdicts and corners."""

import re

import numpy as np
import pytest
from calcite_by_scipy import scale
from words_on_page import seen

from lessons_lib import Q_, InputError, heat_pump_cop
from lessons_lib.lessons import what_water_does_to_the_works
from lessons_lib.lessons.what_water_does_to_the_works import words as lesson
from lessons_lib.lessons.what_water_does_to_the_works.panel import (
    COST_WORDS,
    HARD,
    SOON_WORDS,
    calculate,
    cost_word,
    readouts,
    ready_made,
    soon_word,
)
from lessons_lib.lessons.what_water_does_to_the_works.picture import how_soon, thickness
from lessons_lib.panels.page_state import choose_units
from lessons_lib.plant.scale import HARDNESS_WORDS, degrees, hardness_word, layer, one, scale_from
from lessons_lib.quantities.display import SI, US
from lessons_lib.runs.bacteria import RECOMMENDED_STORE


def scene(**changes):
    return calculate({**ready_made()[HARD], **changes})


def test_half_the_hardness_gives_a_third_of_the_scale():
    assert scene(hardness=Q_(150, "mg/L")).falls / scene().falls == pytest.approx(0.307, abs=0.002)


def test_a_year_of_hard_water_is_kilograms():
    """The guess, worked by hand from scipy's equilibrium: 68 mg/L, 73 m3 a year."""
    expected = scale(300, 10, 60) * 200 * 365 / 1e6
    assert expected == pytest.approx(4.96, abs=0.01)
    assert lesson.guess().answer().to("kg").magnitude == pytest.approx(expected, rel=1e-3)


def test_more_of_everything_is_more_scale():
    for name, values, unit in (
        ("hardness", (40, 60, 100, 200, 450), "mg/L"),
        ("hot", (40, 50, 60, 75), "degC"),
        ("litres", (50, 200, 600), "L"),
    ):
        masses = [scene(**{name: Q_(value, unit)}).mass for value in values]
        assert masses == sorted(masses) and masses[0] < masses[-1], name


def test_a_larger_surface_has_the_same_mass_in_a_thinner_layer():
    small, large = scene(), scene(surface=Q_(2.0, "m**2"))
    assert large.mass == small.mass
    assert large.grown == pytest.approx(small.grown / 4) and large.years == pytest.approx(4 * small.years)
    assert large.step == pytest.approx(small.step / 4) and large.dearer < small.dearer / 3.5


@pytest.mark.parametrize("hardness", [35, 60, 120, 300, 450])
@pytest.mark.parametrize("hot", [40, 60, 75])
def test_the_panel_against_another_solver(hardness, hot):
    found = scene(hardness=Q_(hardness, "mg/L"), hot=Q_(hot, "degC"))
    assert found.falls == pytest.approx(max(scale(hardness, 10, hot), 0), rel=2e-3, abs=1e-3)
    assert np.interp(hot, found.grid, found.curve) == pytest.approx(found.falls, rel=1e-3, abs=1e-3)


def test_the_layer_by_hand():
    """7 kW through 0.5 m2 with 1 mm of 2.2 W/(m K): 6.36 K; what is left of the heat for each degree; mass over area."""
    found = scene()
    assert found.step == pytest.approx(7000 * 0.001 / (2.2 * 0.5))
    assert found.passes == pytest.approx(5 / (5 + 6.3636), rel=1e-4)
    assert found.condensing == pytest.approx((65, 71.3636), rel=1e-5)
    assert found.grown == pytest.approx(found.mass / 2710 / 0.5)
    assert found.years * found.grown == pytest.approx(found.layer) and found.layer == 0.001


def test_the_cop_is_that_of_lesson_09():
    found = scene()
    for cop, store in ((found.clean_cop, 60.0), (found.scaled_cop, 60.0 + found.step)):
        assert cop == pytest.approx(heat_pump_cop(Q_(store, "degC"), Q_(10.0, "degC")).cop)
    assert found.dearer == pytest.approx((338.15 / 63) / ((338.15 + found.step) / (63 + found.step)) - 1)
    heat = 0.2 * 365 * 992 * 4180 * 50 / 3.6e6
    assert found.heat == pytest.approx(heat, rel=0.01)
    assert found.extra == pytest.approx(found.heat * found.dearer / found.clean_cop)


def test_very_soft_water_says_that_nothing_comes_down():
    panel = what_water_does_to_the_works.panel()
    panel.set({"hardness": Q_(30, "mg/L")})
    assert panel.answer == "No scale comes down" and panel.scene.years == np.inf
    assert "loses nothing of it as scale" in panel.sentence and "never in this model" in seen(panel)


@pytest.mark.parametrize(
    "years, words",
    [
        (0.0005, "after 1 day"),
        (0.1, "after 36 days"),
        (0.27, "after 3 months"),
        (1.99, "after 23 months"),
        (2.0, "after 2 years"),
        (199.9, "after 199 years"),
        (201, "after 200 years or more"),
        (np.inf, "never in this model"),
    ],
)
def test_how_soon(years, words):
    assert how_soon(years) == words


@pytest.mark.parametrize("metres, metric, us", [(0, "0 mm", "0 in"), (4e-5, "less than 0.1 mm", "less than 0.01 in")])
def test_a_thin_layer_is_not_told_as_none(metres, metric, us):
    assert (thickness(metres, SI), thickness(metres, US)) == (metric, us)


def test_verdicts_at_their_edges():
    assert [soon_word(years) for years in (0.99, 1.0, 9.99, 10.0, np.inf)] == [
        SOON_WORDS[place][1] for place in (2, 1, 1, 0, 0)
    ]
    assert [cost_word(share) for share in (0.029, 0.03, 0.099, 0.1)] == [COST_WORDS[place][1] for place in (2, 1, 1, 0)]
    assert [hardness_word(hard) for hard in (60, 61, 120, 121, 180, 181)] == [
        HARDNESS_WORDS[place][1] for place in (0, 1, 1, 2, 2, 3)
    ]


def test_cards_in_both_systems():
    metric, us = ({card.title: card for card in readouts(scene(), system)} for system in (SI, US))
    assert metric["Water"].detail == "17 °dH, 30 °f, 21 °e" and us["Water"].detail == "300 mg/L (ppm)"
    assert metric["Scale"].detail == "1 mm after 3 months" and us["Scale"].detail == "0.04 in after 3 months"
    assert metric["Electricity"].detail == "8 % more under 1 mm"
    assert metric["Store"].level == 0 and readouts(scene(hot=Q_(45, "degC")), SI)[3].level == 2


def test_the_panel_opens_where_guidance_stores():
    assert ready_made()[HARD]["hot"] == RECOMMENDED_STORE


def test_the_us_reader_gets_round_numbers():
    choose_units(US)
    panel = what_water_does_to_the_works.panel()
    assert {name: control.box.value for name, control in panel.controls.items()} == {
        "hardness": "17.5",
        "hot": "140",
        "litres": "55",
        "surface": "5.5",
    }
    assert panel.scene.hardness == pytest.approx(17.5 * 17.118, rel=1e-4)


@pytest.mark.parametrize("system", [SI, US])
def test_paper_agrees_with_the_panel(system):
    """Each number in bold stands beside what the panel says, and they differ by rounding only."""
    text = repr(lesson.by_hand()).split("**US customary.**")[system == US]
    pairs = re.findall(r"\*\*([\d.]+) [^*]+\*\*; the panel says ([\d.]+)", text)
    assert len(pairs) >= 3
    for paper, panel in pairs:
        assert float(paper) == pytest.approx(float(panel), rel=0.03), (paper, panel)


def test_quantities_at_the_border():
    found = scale_from(Q_(17.5, "grain/gallon"), Q_(50, "degF"), Q_(140, "degF"))
    assert found.to("mg/L").magnitude == pytest.approx(scale(17.5 * 17.11806, 10, 60), rel=1e-3)
    assert scale_from(Q_(300, "mg/L"), Q_(20, "degC"), Q_(20, "degC")).magnitude == pytest.approx(0, abs=1e-3)
    assert np.shape(scale_from(Q_([100.0, 300.0], "mg/L"), Q_(10.0, "degC"), Q_(60.0, "degC")).magnitude) == (2,)


@pytest.mark.parametrize(
    "given, said",
    [
        ((Q_(5, "mg/L"), Q_(10, "degC"), Q_(60, "degC")), "hardness: 5 mg/L was given"),
        ((Q_(300, "mg/L"), Q_(40, "degC"), Q_(60, "degC")), "cold water: 40"),
        ((Q_(300, "mg/L"), Q_(10, "degC"), Q_(120, "degC")), "water temperature: 120"),
        ((300, Q_(10, "degC"), Q_(60, "degC")), "carries no unit"),
    ],
)
def test_what_cannot_be(given, said):
    with pytest.raises(InputError, match=re.escape(said)):
        scale_from(*given)


def test_an_unknown_layer_or_unit_is_told():
    for ask in (lambda: layer("chalk"), lambda: one("°x")):
        with pytest.raises(InputError, match="possible|known|Did you mean|choose"):
            ask()


def test_other_units_of_hardness_are_of_one_water():
    assert degrees(178.48, SI) == "10 °dH, 18 °f, 13 °e" and degrees(178.48, US) == "178 mg/L (ppm)"
