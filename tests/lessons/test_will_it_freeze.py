"""Lesson 07: its surprises on the panel's own scenes, its step against a finer one, closed forms, verdicts, extremes."""

import numpy as np
import pytest

from lessons_lib import Q_
from lessons_lib.lessons import will_it_freeze
from lessons_lib.lessons.will_it_freeze import words as lesson
from lessons_lib.lessons.will_it_freeze.panel import (
    CIRCULATOR,
    NIGHT,
    NOTHING,
    TAPE,
    calculate,
    follow,
    night_word,
    pipe_word,
    power_word,
    readouts,
    run_of,
    settings,
    weather_of,
)
from lessons_lib.panels.shared_controls import in_goods
from lessons_lib.quantities.display import SI, SYSTEMS, US, ice_after
from lessons_lib.runs.insulation import NONE

CABIN, LOOP, CLEAR = (
    in_goods(settings()[title], SI)
    for title in (lesson.CABIN, "Loop, hot line to the tank", "Cabin on a still, clear night")
)
MILD_DAY = {"swing": Q_(6, "delta_degC")}


def scene(state, **changes):
    return calculate({**state, **changes})


def test_five_minutes_do_for_half_a_minute():
    """Ice within 0.02 of the bore at every cut, first ice within 3 minutes, on nights of every kind."""
    states = [
        CABIN,
        LOOP,
        {**LOOP, "keeps": TAPE},
        CLEAR,
        {**CABIN, **MILD_DAY},
        {**CABIN, "insulation": NONE},
        {**CABIN, "air": Q_(-1, "degC"), "insulation": NONE},
    ]
    for state in states:
        run, weather = run_of(state), weather_of(state)
        for coarse, fine in zip(follow(state, run, weather), follow(state, run, weather, Q_(0.5, "min"))):
            water, ice, after = coarse
            assert np.all(np.abs(ice - fine[1][::10]) < 0.03)
            assert np.all(np.abs(ice - fine[1][::10])[::24] < 0.02)
            assert after == pytest.approx(fine[2], abs=3 / 60)


@pytest.mark.parametrize(
    "changes",
    [{}, {"insulation": NONE}, {"pipe": ("PEX CTS", "1/2 in")}, {"wind": Q_(0, "m/s")}, {"sky": Q_(10, "delta_degC")}],
)
def test_a_steady_night_is_the_closed_form(changes):
    """First ice and a tenth of the bore: the integrals of Run.freezing, within 2 %."""
    state = {**CABIN, **changes}
    found = calculate(state)
    for start, after in ((state["cold"], found.ice_after), (state["supply"], found.hot_ice_after)):
        assert after == pytest.approx(run_of(state).freezing(start).hours_to_zero.magnitude, rel=0.02)
    tenth = run_of(state).freezing(state["cold"]).hours_to_share(0.1).magnitude
    assert np.interp(0.1, found.ice, found.hours) == pytest.approx(tenth, rel=0.05, abs=0.04)


def test_double_the_foam_is_not_double_the_time_and_a_size_up_buys_as_much():
    for more in ({}, MILD_DAY):
        once, twice, bigger = (
            scene(CABIN, **more, **changes).ice_after
            for changes in ({}, {"thickness": Q_(38, "mm")}, {"pipe": ("copper L", "1 in")})
        )
        assert 1.3 < twice / once < 1.6 and bigger == pytest.approx(twice, rel=0.06)


def test_a_pipe_that_stood_cold_freezes_several_times_sooner():
    found = scene(CABIN)
    assert 2.5 < found.hot_ice_after / found.ice_after < 4


def test_a_clear_sky_freezes_in_air_above_freezing_and_wind_saves():
    assert scene(CLEAR).ice_after < 4 and scene(CLEAR).air.min() == pytest.approx(2.0)
    for rescue in ({"sky": Q_(0, "delta_degC")}, {"wind": Q_(2, "m/s")}, {"wind": Q_(4, "mph")}):
        assert np.isinf(scene(CLEAR, **rescue).ice_after), rescue
    assert np.isfinite(scene(CLEAR, air=Q_(4, "degC")).ice_after) and np.isinf(
        scene(CLEAR, air=Q_(7, "degC")).ice_after
    )


def test_foam_settles_lower_under_the_sky_but_takes_longer():
    bare, foam = scene(CLEAR, insulation=NONE), scene(CLEAR)
    assert foam.rest < bare.rest < 0 and foam.ice_after > bare.ice_after


def test_power_cut():
    """Tape holds its thermostat and no more; a circulator leaves hot water; neither reaches dawn under any foam."""
    pumped, taped = scene(LOOP), scene(LOOP, keeps=TAPE)
    assert pumped.in_hand > 3 * taped.in_hand and taped.in_hand < 1
    assert np.all(pumped.water[pumped.hours < pumped.fails] == pytest.approx(60.0))
    for keeps in (CIRCULATOR, TAPE):
        assert np.isfinite(scene(LOOP, keeps=keeps, thickness=Q_(40, "mm")).ice_after)
        never = scene(LOOP, keeps=keeps, fails=Q_(NIGHT, "h"))
        assert np.isinf(never.ice_after) and np.isinf(never.fails) and "while the power lasts" in panels_sentence(never)
    at_dusk = scene(LOOP, fails=Q_(0, "h"))
    assert at_dusk.ice_after == pytest.approx(at_dusk.hot_ice_after)


def panels_sentence(found) -> str:
    panel = will_it_freeze.panel()
    return panel.picture.draw(found)


def test_frost_starts_at_the_gap():
    assert scene(CABIN, insulation=NONE).ice_after < 0.1 * scene(CABIN).ice_after


def test_words():
    assert [
        night_word(hours, rest) for hours, rest in ((1.0, -5), (5.0, -5), (np.inf, -5), (np.inf, 2), (np.inf, 6))
    ] == [
        "freezes within 2 h",
        "freezes overnight",
        "lasts one night",
        "on the edge of freezing",
        "stays above freezing",
    ]
    assert power_word(scene(CABIN)) == "nothing to fail"
    assert power_word(scene(LOOP)) == "ice before dawn"
    assert power_word(scene(LOOP, fails=Q_(NIGHT, "h"))) == "no cut tonight"
    assert power_word(scene(LOOP, fails=Q_(13.5, "h"))) == "lasts till dawn"
    weak = scene(LOOP, keeps=TAPE, insulation=NONE, air=Q_(-25, "degC"), wind=Q_(10, "m/s"))
    assert power_word(weak) == "ice in spite of power"
    assert [pipe_word(found) for found in (scene(CABIN), scene(CLEAR), scene(CABIN, air=Q_(10, "degC")))] == [
        "frozen solid",
        "ice in the bore",
        "no ice",
    ]


def test_never_all_green_in_frost():
    """Whatever keeps the run warm, some card of a frosty night asks for care."""
    for keeps in (NOTHING, CIRCULATOR, TAPE):
        for air in (-30, -5, -1, 0, 3):
            levels = [
                card.level
                for card in readouts(scene(LOOP, keeps=keeps, air=Q_(air, "degC"), fails=Q_(NIGHT, "h")), "metric")
            ]
            assert max(levels) >= 1


def test_solid_ice_is_a_picture_too():
    found = scene(CABIN, insulation=NONE, air=Q_(-30, "degC"), wind=Q_(15, "m/s"), cold=Q_(1, "degC"))
    assert found.most_ice == 1 and -30 - 1e-9 <= found.water.min() < -25 and "solid" in panels_sentence(found)
    mild = scene(CABIN, air=Q_(15, "degC"), swing=Q_(15, "delta_degC"))
    assert mild.most_ice == 0 and "no ice forms by dawn" in panels_sentence(mild)


def test_by_hand_agrees_with_the_panel():
    text, found = str(lesson.by_hand()), scene(CABIN)
    for system in SYSTEMS:
        assert f"the panel says {scene(lesson._cabin(system)).ice_after:.2f} h" in text
    first, ice = lesson._hours(
        {
            "water": 0.314,
            "copper": 0.590,
            "heats": (4.19, 0.385),
            "start": 8,
            "air": -12,
            "zero": 0,
            "resistance": 4.35,
            "fusion": 334,
            "per_hour": 3.6,
        }
    )
    assert first == pytest.approx(found.ice_after, rel=0.03)
    assert ice == pytest.approx(
        run_of(CABIN).freezing(CABIN["cold"]).hours_to_solid.magnitude - found.ice_after, rel=0.05
    )


def test_controls_rest_that_do_nothing():
    panel = will_it_freeze.panel()
    assert panel.idle(panel.state) == ("fails",)
    panel.set({"keeps": CIRCULATOR})
    assert panel.idle(panel.state) == ("cold",)
    panel.set({"keeps": TAPE, "insulation": NONE})
    assert panel.idle(panel.state) == ("thickness",)


def test_ready_made_settings_are_complete():
    for title, state in settings().items():
        assert set(state) == set(will_it_freeze.panel().controls), title
    panel = will_it_freeze.panel()
    for title in panel.ready_made:
        panel._menu.value = title
        assert "Ready" in panel._status.value


def test_the_guess_speaks_both_systems():
    guess = lesson.guess()
    assert "−12 °C" in guess.question("metric") and "10 °F" in guess.question(US)
    for system in SYSTEMS:
        assert f"after {ice_after(scene(lesson._cabin(system)).ice_after)}" in guess.question(system)
    guess.keep()
    guess.compare()
    assert "too high" in guess.told.value


def test_one_bare_valve_has_a_tenth_of_the_time():
    """The surprise: 58 minutes under foam, 3 in the bare valve; as in the closed form, and as on the panel."""
    guess, panel = lesson.guess(), will_it_freeze.panel()
    minutes = guess.answer().magnitude
    assert minutes < 0.1 * 60 * scene(CABIN).ice_after
    bare = run_of({**CABIN, "insulation": NONE}).freezing(CABIN["cold"]).hours_to_zero.magnitude
    assert minutes == np.floor(60 * bare)
    panel.set({"insulation": NONE})
    assert panel.answer == f"Ice can form after {minutes:.0f} min"


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"air": Q_(15, "degC")}, "No ice forms by dawn"),
        ({"keeps": CIRCULATOR, "fails": Q_(NIGHT, "h")}, "No ice forms by dawn, while the power lasts"),
        ({"keeps": TAPE, "insulation": NONE, "air": Q_(-30, "degC")}, "Ice can form after "),
    ],
)
def test_the_headline(changes, words):
    panel = will_it_freeze.panel()
    panel.set(changes)
    assert panel.answer.startswith(words)
    panel.set({**CABIN, "keeps": TAPE})
    assert panel.answer == f"Ice can form {ice_after(panel.scene.in_hand)} after the power fails"
