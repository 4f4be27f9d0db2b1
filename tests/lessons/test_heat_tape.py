"""Lesson 08: its surprises hold, its sums on paper agree with the panel, its verdicts and its corners."""

import re

import numpy as np
import pytest
from words_on_page import seen

from lessons_lib import Q_, Pipe, Weather, night, season_energy
from lessons_lib.lessons import heat_tape
from lessons_lib.lessons.heat_tape import words as lesson
from lessons_lib.lessons.heat_tape.panel import (
    AT,
    CIRCUITS,
    OVER,
    STARTS_HIGH,
    UNDER,
    cabin,
    calculate,
    circuit_word,
    readouts,
    region_of,
    runs_of,
    tape_of,
)
from lessons_lib.lessons.heat_tape.tries import STRONG
from lessons_lib.plant.circuit import tape_circuit
from lessons_lib.quantities.display import SYSTEMS, US, ice_after
from lessons_lib.runs.assessment import ICY, TOO_HOT, settled_word
from lessons_lib.runs.common_values import HELD_AT

GAP = Q_(0.3, "m")
THERMOSTAT = "at 5 °C (41 °F)"
TAPES = (
    "self-regulating, light",
    "self-regulating, medium",
    "self-regulating, strong",
    "constant, light",
    "constant, medium",
)


def scene(**changes):
    return calculate({**cabin(), **changes})


def words(**changes) -> dict:
    return {readout.title: readout.word for readout in readouts(scene(**changes), "metric")}


@pytest.mark.parametrize("tape", TAPES)
def test_frost_starts_at_the_gap_whatever_the_tape(tape):
    found = scene(tape=tape, gap=GAP)
    assert found.bare < 0 < 10 < found.covered
    assert words(tape=tape, gap=GAP)["Bare piece"] == ICY


def test_a_bare_foot_needs_as_much_as_metres_of_covered_pipe():
    """Held against the two lines of the graph themselves."""
    found = scene(gap=GAP)
    covered, bare = runs_of(cabin())
    assert 3 < found.worth < 6
    assert found.worth * covered.hold_power(HELD_AT).magnitude == pytest.approx(
        0.3 * bare.hold_power(HELD_AT).magnitude
    )


def test_more_than_twice_the_watts_are_not_twice_the_hours():
    light, strong = scene(), scene(tape="self-regulating, strong")
    assert strong.given > 2 * light.given and 1.3 < strong.hours / light.hours < 1.8


def test_a_thermostat_saves_energy_and_costs_hours():
    free, held = scene(), scene(thermostat=THERMOSTAT)
    assert held.with_thermostat < 0.6 * free.always_on and held.hours < 0.5 * free.hours
    assert held.covered == pytest.approx(5.0)


def test_a_sensor_under_the_insulation_starves_the_bare_piece():
    free, held = scene(gap=GAP), scene(gap=GAP, thermostat=THERMOSTAT)
    assert held.bare < free.bare - 1 and 0 < held.on_share < 1


def test_constant_tape_does_not_know_the_weather():
    frost, summer = scene(tape="constant, medium"), scene(tape="constant, medium", air=Q_(20, "degC"))
    assert frost.always_on == pytest.approx(summer.always_on) == pytest.approx(16 * 18 * 0.024)
    assert summer.with_thermostat == 0 and summer.covered > 65
    assert words(tape="constant, medium", air=Q_(20, "degC"))["Pipe"] == TOO_HOT


def test_ninety_metres_are_at_the_limit():
    ninety = {"tape": "constant, medium", "length": Q_(90, "m"), "circuit": "120 V, 15 A"}
    found = scene(**ninety)
    assert found.load == pytest.approx(12) and found.limit == pytest.approx(12) and found.longest == pytest.approx(90)
    assert words(**ninety)["Circuit"] == AT


def test_every_tape_that_the_run_takes_is_in_the_circuit():
    """Bare, it "takes 7 tapes side by side" and the circuit said 1.6 A: seven times as much must be counted, cold start and day too."""
    one = scene(circuit="120 V, 15 A")
    found = scene(insulation="none", circuit="120 V, 15 A")
    assert one.tapes == 1 and found.tapes == 7
    assert one.load == pytest.approx(11.0 * 18 / 120, rel=0.005) and found.load == pytest.approx(7 * one.load)
    assert found.cold_start == pytest.approx(7 * one.cold_start) and found.longest == pytest.approx(one.longest / 7)
    assert found.longest * found.load / found.length == pytest.approx(found.limit)
    assert words(insulation="none", circuit="120 V, 15 A")["Circuit"] != UNDER
    panel = heat_tape.panel()
    panel.set({"insulation": "none", "circuit": "120 V, 15 A"})
    assert f"The 7 tapes take {found.load:.1f} A" in panel.sentence and "with one tape settles" in panel.sentence
    assert f"{found.load:.1f} A of 12.0 A for 7 tapes" in seen(panel)
    seven = float(tape_of(found.tape).available(4.0)) * 7
    held = (
        found.with_thermostat / 0.024 / 18
    )  # W/m: what holds a bare pipe at 5 degC is below what seven tapes give at 4 degC
    assert (
        held
        == pytest.approx(runs_of({**cabin(), "insulation": "none"})[0].hold_power(Q_(5, "degC")).magnitude, rel=0.01)
        and held < seven
    )


def test_a_bare_pipe_in_a_gale_takes_dozens_of_tapes_and_all_count():
    """Their sum passed the limit of one tape's power, and the panel refused a setting that its own sliders allow."""
    found = scene(insulation="none", pipe=("copper L", "1 in"), air=Q_(-30, "degC"), wind=Q_(15, "m/s"))
    assert found.tapes > 12 and found.load > found.limit


@pytest.mark.parametrize(
    "system, pipe, circuit, region",
    [
        ("metric", "copper EN 1057", "230 V, 16 A", "IEC"),
        (US, "copper L", "120 V, 15 A", "United States"),
    ],
)
def test_each_side_opens_on_its_own_goods(system, pipe, circuit, region):
    panel = heat_tape.panel()
    panel.set_system(system)
    assert panel.state == cabin(system) and panel.state["pipe"][0] == pipe and panel.state["circuit"] == circuit
    volts, breaker = CIRCUITS[circuit]
    assert region_of(volts) == region
    limit = tape_circuit(Q_(1, "W/m"), Q_(1, "m"), volts, breaker, region=region).continuous_limit.magnitude
    assert panel.scene.limit == pytest.approx(limit)
    for title in list(panel.ready_made)[:3]:
        panel._menu.value = title
        assert panel.state["circuit"] == circuit


def test_each_circuit_has_the_rule_of_its_region():
    """NEC 210.20: 80 % of 20 A; BS 7671 433.1.1: all of 16 A."""
    limits = {circuit: scene(circuit=circuit).limit for circuit in CIRCUITS}
    assert (
        limits["120 V, 20 A"] == limits["240 V, 20 A"] == 16
        and limits["230 V, 16 A"] == 16
        and limits["230 V, 10 A"] == 10
    )


@pytest.mark.parametrize("load, start, word", [(3, 3, UNDER), (12, 12, AT), (12.1, 13, OVER), (10, 12.5, STARTS_HIGH)])
def test_words_for_the_circuit(load, start, word):
    assert circuit_word(load, start, 12.0) == word


@pytest.mark.parametrize(
    "temperature, material, word",
    [
        (-1, "copper", ICY),
        (3, "copper", "on the edge of freezing"),
        (20, "PEX", "stays above freezing"),
        (48, "PEX", "hot: check its limits"),
        (51, "PEX", TOO_HOT),
        (51, "CPVC", TOO_HOT),
        (60, "copper", "hot: check its limits"),
        (66, "copper", TOO_HOT),
    ],
)
def test_words_for_the_pipe(temperature, material, word):
    assert settled_word(temperature, material) == word


def test_in_frost_the_power_cut_is_never_green():
    for tape in TAPES:
        for thickness in (9, 19, 40):
            assert words(tape=tape, thickness=Q_(thickness, "mm"))["Power fails"].gravity > 0


def test_the_bore_closes_over_pipe_tape_and_ties():
    found, pipe = scene(), Pipe.nominal(*cabin()["pipe"])
    assert found.insulation_bore == pytest.approx(pipe.outside_diameter.to("m").magnitude + 0.006 + 0.002)
    assert found.outside == pytest.approx(found.insulation_bore + 0.038)


def test_where_the_lines_meet_and_what_a_day_takes():
    found = scene()
    covered, _ = runs_of(cabin())
    given = float(tape_of(found.tape).available(found.covered))
    assert given == pytest.approx(float(covered.without_wall().loss(found.covered)[0]), rel=1e-4)
    assert found.always_on == pytest.approx(given * 18 * 24 / 1000, rel=1e-4)


def test_a_day_with_thermostat_is_the_librarys_least_energy():
    steady = Weather(Q_(np.arange(25.0), "h"), Q_(np.full(25, -12.0), "degC"), wind=cabin()["wind"])
    assert scene().with_thermostat == pytest.approx(
        season_energy(runs_of(cabin())[0], steady, Q_(5, "degC")).magnitude, rel=1e-6
    )


def test_the_hours_are_those_of_the_night_followed_step_by_step():
    """The power fails after an hour at the settled temperature; the library's own night then finds the first ice."""
    found = scene()
    covered, _ = runs_of(cabin())
    steady = Weather(Q_(np.arange(8.0), "h"), Q_(np.full(8, -12.0), "degC"), wind=cabin()["wind"])
    result = night(covered, steady, Q_(found.covered, "degC"), tape=tape_of(found.tape), off=(Q_(1, "h"), Q_(7.5, "h")))
    assert result.ice_after.to("h").magnitude - 1 == pytest.approx(found.hours, rel=0.03)


def test_paper_agrees_with_the_panel():
    """Foam alone against foam and air film: paper is on the high side, by less than a tenth."""
    text = repr(lesson.by_hand())
    found, us = scene(), calculate(cabin(US))
    metric, customary = (float(value) for value in re.findall(r"\*\*([\d.]+) W/(?:m|ft)\*\*", text))
    assert 1 < metric / found.needed < 1.1 and 1 < customary / Q_(us.needed, "W/m").to("W/ft").magnitude < 1.1
    amps = [float(value) for value in re.findall(r"\*\*([\d.]+) A\*\*", text)]
    assert amps == pytest.approx([found.load, us.load], rel=0.01)


def test_foam_twice_as_thick_is_not_twice_the_time():
    once, twice = (scene(thickness=cabin()["thickness"] * factor, thermostat=THERMOSTAT).hours for factor in (1, 2))
    assert 1.3 < twice / once < 1.8


def test_twice_the_watts_gain_nothing_behind_a_thermostat():
    """The guess: the thermostat holds both pipes at one temperature, and what cools from there is the same water."""
    light, strong = (scene(tape=tape, thermostat=THERMOSTAT) for tape in ("self-regulating, light", STRONG))
    guess, gained = lesson.guess(), 60 * (strong.hours - light.hours)
    assert strong.given > 2 * light.given and light.hours > 0.3 and abs(gained) < 0.1
    assert guess.answer().to("min").magnitude == pytest.approx(gained, abs=1e-9)
    for system in SYSTEMS:
        hours = calculate({**cabin(system), "thermostat": THERMOSTAT}).hours
        assert f"ice can form after {ice_after(hours)}" in guess.question(system)
    assert "5 °C" in guess.question("metric") and "41 °F" in guess.question(US)


@pytest.mark.parametrize(
    "changes, words",
    [
        ({}, "Without power ice can form after 86 min"),
        ({"gap": GAP}, "The bare piece freezes with the tape on"),
        ({"insulation": "none"}, "The pipe freezes with the tape on"),
        ({"tape": "constant, medium", "air": Q_(20, "degC")}, f"71 °C: {TOO_HOT}"),
    ],
)
def test_the_headline_says_the_worst_first(changes, words):
    panel = heat_tape.panel()
    panel.set(changes)
    assert panel.answer == words


def test_a_piece_as_long_as_the_run_leaves_nothing_covered():
    panel = heat_tape.panel()
    panel.set({"length": Q_(1, "m"), "gap": Q_(1, "m")})
    assert panel.scene.gap == panel.scene.length and "Ready" in panel._status.value


def test_without_insulation_nothing_is_left_bare():
    panel = heat_tape.panel()
    panel.set({"insulation": "none", "gap": GAP})
    assert not panel.scene.has_gap and panel.scene.bare == panel.scene.covered
    assert panel.controls["gap"].slider.disabled and panel.controls["thickness"].slider.disabled
    assert "Bare, the pipe with one tape settles" in panel.sentence
    assert "■ all bare" in seen(panel) and "from end to end" not in seen(panel)


def test_hotter_than_the_balance_is_looked_for():
    panel = heat_tape.panel()
    panel.set(
        {
            "tape": "constant, medium",
            "air": Q_(40, "degC"),
            "insulation": "rigid urethane",
            "thickness": Q_(40, "mm"),
            "pipe": ("PEX CTS", "3/8 in"),
        }
    )
    assert "over 98 °C" in panel.sentence and "too hot for pipe or tape" in seen(panel)


def test_every_tape_of_the_table_is_in_the_menu():
    assert tuple(heat_tape.panel().controls["tape"].menu.options) == TAPES
