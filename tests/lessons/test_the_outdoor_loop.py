"""Lesson 09: its surprises hold, its sums on paper agree with the panel, its verdicts and its corners."""

import re
from dataclasses import replace

import numpy as np
import pytest
from words_on_page import seen

from lessons_lib import Q_, Pipe, heat_pump_cop, loop_flow, loop_loss
from lessons_lib.lessons import the_outdoor_loop
from lessons_lib.lessons.the_outdoor_loop import words as lesson
from lessons_lib.lessons.the_outdoor_loop.panel import (
    NO_PURGE,
    TOO_FAST,
    TOO_MUCH,
    calculate,
    circulator,
    flow_word,
    lost_word,
    readouts,
    rig,
)
from lessons_lib.panels.shared_controls import in_goods, run_of
from lessons_lib.physics.properties import water
from lessons_lib.quantities.display import SI, US, ice_words

FULL = Q_(35, "degC")
SIZES = ("3/8 in", "1/2 in", "3/4 in", "1 in", "1 1/4 in")


def scene(**changes):
    return calculate({**rig(), **changes})


def sizes(**changes):
    return [scene(pipe=("PEX CTS", size), **changes) for size in SIZES]


def words(**changes) -> dict:
    return {readout.title: readout.word for readout in readouts(scene(**changes), "metric")}


def test_a_bigger_pipe_does_not_change_the_flow():
    flows = [one.flow for one in sizes()]
    assert max(flows) / min(flows) < 1.01


def test_a_bigger_pipe_is_slower_loses_more_and_freezes_later():
    found = sizes()
    for name, rising in (
        ("speed", False),
        ("lost", True),
        ("cold_hours", True),
        ("hot_hours", True),
        ("pressure", False),
        ("least_flow", True),
    ):
        values = [getattr(one, name) for one in found]
        assert values == sorted(values, reverse=not rising), name


def test_the_small_flow_cannot_purge_itself_in_any_size():
    assert all(one.speed < one.carries_air and flow_word(one) == NO_PURGE for one in sizes())


def test_a_hotter_store_lowers_cop_and_flow():
    found = [scene(store=Q_(store, "degC")) for store in (50, 60, 70)]
    for name in ("cop", "flow"):
        values = [getattr(one, name) for one in found]
        assert values == sorted(values, reverse=True), name
    assert found[2].electricity > 1.15 * found[0].electricity


def test_the_cold_line_freezes_first_also_when_the_store_is_nearly_full():
    for bottom in (5, 8, 20, 35):
        found = scene(bottom=Q_(bottom, "degC"))
        assert found.cold_hours < found.hot_hours
    assert scene().cold_hours < 0.4 * scene().hot_hours


def test_a_fuller_store_warms_the_cold_line_only():
    before, after = scene(), scene(bottom=FULL)
    assert after.cold_loss > 2 * before.cold_loss and after.hot_loss == pytest.approx(before.hot_loss, rel=0.01)
    assert after.flow > 1.9 * before.flow


def test_the_way_back_is_a_large_part_of_the_loss():
    found = scene(bottom=FULL)
    assert 0.35 < found.cold_loss / (found.hot_loss + found.cold_loss) < 0.5


def test_foam_saves_most_of_the_loss():
    """Bare, the loop loses more than a fifth; with foam a fiftieth."""
    bare, foam = scene(insulation="none"), scene()
    assert bare.lost > 0.2 and foam.lost < 0.02


def test_the_smallest_pipe_suits_the_small_flow():
    """The guess: with 12 mm (US 3/8 in) the circulator has pressure to spare, and the water is slower than its limit."""
    bore, thin = lesson.guess().answer(), scene(pipe=("PEX ISO 15875", "12 mm"))
    assert bore == Pipe.nominal("PEX ISO 15875", "12 mm").inside_diameter
    area = 0.25 * np.pi * bore.to("m").magnitude ** 2
    assert thin.speed == pytest.approx(thin.flow / area) and thin.speed < 0.2 * thin.limit
    assert thin.pressure < 0.5 * thin.available


@pytest.mark.parametrize("bottom, size", [(25, "12 mm"), (35, "16 mm")])
def test_a_larger_flow_needs_a_larger_bore(bottom, size, monkeypatch):
    """As the store fills the flow grows, and from some flow on 12 mm takes more pressure than the pump gives."""
    loop = {**rig(), "bottom": Q_(bottom, "degC"), "length": Q_(12, "m")}
    monkeypatch.setattr(lesson, "rig", lambda: loop)
    assert lesson.guess().answer() == Pipe.nominal("PEX ISO 15875", size).inside_diameter


@pytest.mark.parametrize(
    "changes, words",
    [
        ({}, "The pump can push 2 L/min through this pipe"),
        (
            {"pipe": ("PEX CTS", "3/8 in"), "heat": Q_(16, "kW"), "bottom": FULL},
            "The pump cannot push this flow through the pipe",
        ),
        (
            {"insulation": "none", "air": Q_(-30, "degC"), "wind": Q_(15, "m/s"), "heat": Q_(2, "kW")},
            "A line freezes while its water flows",
        ),
    ],
)
def test_the_headline(changes, words):
    panel = the_outdoor_loop.panel()
    panel.set(changes)
    assert panel.answer == words


@pytest.mark.parametrize(
    "changes", [{}, {"insulation": "none"}, {"bottom": FULL}, {"length": Q_(40, "m")}, {"air": Q_(40, "degC")}]
)
def test_the_flow_carries_the_heat_and_the_bars_add_up(changes):
    found = scene(**changes)
    rise = Q_(found.store - found.returns, "delta_degC")
    assert found.flow == pytest.approx(
        loop_flow(Q_(found.heat, "W"), rise, Q_(found.store, "degC")).to("m**3/s").magnitude, rel=5e-3
    )
    carried = found.flow * float(water(found.store).density * water(0.5 * (found.store + found.returns)).heat_capacity)
    assert found.stored == pytest.approx(carried * (found.arrives - found.bottom), rel=5e-3)
    assert found.stored + found.hot_loss + found.cold_loss == pytest.approx(found.heat)


def test_the_loss_is_the_librarys_loop_loss():
    """Each line's loss where the water enters it, times its length: 2 %, for the water cools a little on its way."""
    found, run = scene(), run_of(rig())
    losses = [run.heat_loss(Q_(at, "degC"), Q_(found.flow, "m**3/s")) for at in (found.store, found.bottom)]
    expected = loop_loss(losses, [rig()["length"]] * 2, rig()["heat"])
    assert found.lost == pytest.approx(expected.share, rel=0.02)


def test_cop_and_pressure_are_the_librarys():
    found, run = scene(), run_of(rig())
    assert found.cop == heat_pump_cop(rig()["store"], rig()["air"]).cop
    each = run.pressure_drop(Q_(found.flow, "m**3/s"), Q_(np.array([60.0, 8.0]), "degC"))
    assert found.pressure == pytest.approx(1000 * float(np.sum(each.magnitude)))


def test_cop_by_hand():
    """0.45 (65 + 273.15)/(65 + 20)."""
    assert scene().cop == pytest.approx(0.45 * 338.15 / 85)


def test_the_circulator_is_a_parabola_and_never_pulls():
    litre = 1 / 60_000
    assert circulator(0) == 40_000 and circulator(10 * litre) == pytest.approx(30_000) and circulator(30 * litre) == 0


def test_words_for_the_flow():
    found = scene()
    assert flow_word(found) == NO_PURGE
    assert flow_word(replace(found, speed=0.7)) == "carries air"
    assert flow_word(replace(found, speed=9.0)) == TOO_FAST
    assert flow_word(replace(found, pressure=50_000)) == TOO_MUCH
    assert words(pipe=("PEX CTS", "3/8 in"), heat=Q_(16, "kW"), bottom=FULL)["Flow"] == TOO_MUCH


@pytest.mark.parametrize(
    "share, word",
    [
        (-0.01, "little is lost"),
        (0.049, "little is lost"),
        (0.05, "some is lost"),
        (0.2, "too much is lost"),
        (1.5, "too much is lost"),
    ],
)
def test_words_for_the_loss(share, word):
    assert lost_word(share) == word


def test_paper_agrees_with_the_panel():
    text, found = repr(lesson.by_hand()), calculate(in_goods(rig(), SI))
    flow, speed, gpm, feet = (
        float(re.search(rf"\*\*([\d.]+) {unit}\*\*", text)[1]) for unit in ("L/min", "m/s", "gpm", "ft/s")
    )
    assert flow == pytest.approx(found.flow * 60_000, rel=0.01) and speed == pytest.approx(found.speed, rel=0.02)
    us = scene()
    assert gpm == pytest.approx(Q_(us.flow, "m**3/s").to("gpm").magnitude, rel=0.03)
    assert feet == pytest.approx(Q_(us.speed, "m/s").to("ft/s").magnitude, rel=0.06)
    lost = float(re.search(r"together \*\*(\d+) W\*\*", text)[1])
    assert 1 < lost / (found.hot_loss + found.cold_loss) < 1.1
    cops = [float(value) for value in re.findall(r"= \*\*([\d.]+)\*\*", text)]
    assert cops == pytest.approx([found.cop] * 2, rel=0.005)


def test_frost_in_a_running_line_is_red():
    hard = {
        "insulation": "none",
        "air": Q_(-30, "degC"),
        "wind": Q_(15, "m/s"),
        "length": Q_(40, "m"),
        "heat": Q_(2, "kW"),
        "pipe": ("PEX CTS", "1 1/4 in"),
    }
    found = scene(**hard)
    assert found.freezes and 0 < found.cold_ice < found.length and found.returns == 0
    assert words(**hard)["Power fails"] == "freezes in the run" and found.lost <= 1.7
    panel = the_outdoor_loop.panel()
    panel.set(hard)
    assert "freezes on the way" in panel.sentence and "■ freezes in the run" in seen(panel)


def test_slow_water_freezes_on_its_cold_side():
    """Where only the film of slow water keeps the cold line from freezing the word is ice, as in lessons 02 and 11."""
    hard = {
        "insulation": "none",
        "air": Q_(-20, "degC"),
        "wind": Q_(10, "m/s"),
        "length": Q_(5, "m"),
        "heat": Q_(2, "kW"),
        "pipe": ("PEX CTS", "1/2 in"),
    }
    found, run = scene(**hard), run_of({**rig(), **hard})
    bottom, flow = Q_(found.bottom, "degC"), Q_(found.flow, "m**3/s")
    assert np.isinf(run.deliver(bottom, flow).ice_distance) and found.returns > 0
    assert (
        found.freezes
        and found.cold_ice == pytest.approx(run.ice_distance(bottom, flow).magnitude)
        and found.cold_ice < 5
    )
    assert found.cold[-1] == 0 and words(**hard)["Power fails"] == "freezes in the run"


def test_in_frost_something_is_always_red():
    for size in SIZES:
        assert "■" in "".join(readout.html() for readout in readouts(scene(pipe=("PEX CTS", size)), "metric"))


def test_defrost_is_named_where_it_matters():
    assert not scene().defrost and scene(air=Q_(2, "degC")).defrost
    panel = the_outdoor_loop.panel()
    panel.set({"air": Q_(2, "degC")})
    assert "without defrost" in panel.sentence


def test_ready_made_settings_and_the_question_in_both_units():
    panel = the_outdoor_loop.panel()
    for title in panel.ready_made:
        panel._menu.value = title
        assert "Ready" in panel._status.value
    assert "8 m" in lesson.guess().question("metric") and "26 ft" in lesson.guess().question(US)


def test_lines_in_warm_air_gain_heat_and_do_not_lose_less_than_nothing():
    """ "The lines lose −0.2 % of the heat"."""
    panel = the_outdoor_loop.panel()
    panel.set(
        {
            "air": Q_(40, "degC"),
            "bottom": Q_(5, "degC"),
            "store": Q_(45, "degC"),
            "insulation": "none",
            "wind": Q_(5, "m/s"),
        }
    )
    assert panel.scene.lost < 0
    said = f"the lines gain {-100 * panel.scene.lost:.1f} % of the heat"
    assert said in panel.sentence and said in seen(panel) and "−0." not in panel.sentence
    panel.reset()
    assert "the lines lose 1." in panel.sentence


def test_the_cop_says_that_it_does_not_count_the_tanks_bottom():
    """A one-pass CO2 unit's COP falls as the return warms; the share of Carnot has no place for it."""
    panel = the_outdoor_loop.panel()
    cold = panel.scene.cop
    panel.set({"bottom": Q_(35, "degC")})
    assert panel.scene.cop == cold and "tank bottom not counted" in seen(panel)
    assert "CO2" in panel.controls["bottom"].explained
    found = heat_pump_cop(Q_(60, "degC"), Q_(5, "degC"))
    assert "one-pass CO2 unit" in found.caution and "tank's bottom" in found.caution and "CO2" in heat_pump_cop.__doc__


@pytest.mark.parametrize(
    "seconds, words",
    [
        (0, "at once"),
        (59, "at once"),
        (61, "after 1 min"),
        (117, "after 1 min"),
        (121, "after 2 min"),
        (5400, "after 90 min"),
    ],
)
def test_ice_is_told_in_minutes_and_rounded_down(seconds, words):
    assert ice_words(seconds / 3600) == f"ice can form {words}"
