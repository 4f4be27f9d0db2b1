"""Lesson 14: its surprises hold, its sums on paper agree with the panels, its verdicts and its corners."""

import re
from importlib import import_module

import numpy as np
import pytest
from words_on_page import seen

from lessons_lib import Q_
from lessons_lib.lessons import hot_water_that_comes_back as lesson
from lessons_lib.lessons.hot_water_that_comes_back import returns
from lessons_lib.lessons.hot_water_that_comes_back import words as told
from lessons_lib.lessons.hot_water_that_comes_back.balancing_picture import sentence as told_of_branches
from lessons_lib.lessons.hot_water_that_comes_back.going_round import leg_of, once_round
from lessons_lib.lessons.hot_water_that_comes_back.picture import AT_TANK
from lessons_lib.panels.shared_controls import in_goods
from lessons_lib.physics import circulation, pressure
from lessons_lib.physics.properties import water
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.runs.assessment import FREEZES_IN_THE_RUN, SAFE_FROM_ICE

# The door hands out functions of the same names as these rooms; here their modules are meant.
balancing, panel, thermosiphon = (
    import_module(f"{lesson.__name__}.{name}") for name in ("balancing", "panel", "thermosiphon")
)


def scene(room, **changes):
    return room.calculate({**next(iter(room.ready_made().values())), **changes})


def words(room, **changes) -> dict:
    return {one.title: one.word for one in room.readouts(scene(room, **changes), SI)}


# The return


@pytest.mark.parametrize("drop", [1, 5, 12])
@pytest.mark.parametrize("length, insulation", [(5, "none"), (24, "elastomeric foam"), (60, "none")])
def test_the_water_comes_back_cooler_by_what_is_allowed(drop, length, insulation):
    found = scene(panel, drop=Q_(drop, "delta_degC"), length=Q_(length, "m"), insulation=insulation)
    assert found.hot - found.returns == pytest.approx(drop, abs=2e-3)
    assert found.hot > found.far > found.returns
    carried = found.flow * float(water(60).density * water(60 - drop / 2).heat_capacity)
    assert carried * drop == pytest.approx(found.loss, rel=1e-3)


def test_the_flow_follows_the_loss_not_the_taps():
    covered, bare = scene(panel), scene(panel, insulation="none")
    assert bare.loss > 2 * covered.loss
    assert bare.flow / covered.flow == pytest.approx(bare.loss / covered.loss, rel=1e-3)


def test_half_the_drop_takes_about_twice_the_flow():
    wide, narrow = (scene(panel, drop=Q_(value, "delta_degC")).flow for value in (10, 5))
    assert 2.1 < narrow / wide < 2.3  # the pipes are warmer, and the water's film thinner


def test_a_day_adds_up():
    found = scene(panel)
    assert found.pump == pytest.approx(0.025 * 24)
    assert found.heat == pytest.approx(found.loss * 24 / 1000 / found.cop, rel=1e-6)
    assert found.with_return == found.heat + found.pump
    half = scene(panel, hours=Q_(12, "h"))
    assert half.pump == pytest.approx(found.pump / 2)
    assert 0.5 * found.heat < half.heat < 0.75 * found.heat  # once a day the cooled pipes are warmed again
    none = scene(panel, draws=Q_(0, ""))
    assert none.without == none.water == none.on_demand == 0


def test_waiting_is_what_the_first_draw_says():
    """The quicker answer that the panel takes, beside the whole first draw and its heat."""
    state = next(iter(panel.ready_made().values()))
    draw = panel.runs_of(state)[0].first_draw(state["supply"], panel.TAP, state["air"], panel.WARM_ENOUGH)
    found = scene(panel)
    assert found.wait == pytest.approx(draw.wait.to("s").magnitude, rel=0.01)
    assert found.water == pytest.approx(12 * draw.water_drawn.to("L").magnitude, rel=0.01)
    heat = (draw.energy_lost + draw.energy_left).to("kWh").magnitude
    assert found.without == pytest.approx(12 * heat / found.cop, rel=0.02)


def test_verdicts_of_a_return():
    assert words(panel)["Return"] == returns.WARM
    assert words(panel, drop=Q_(8, "delta_degC"))["Return"] == returns.SOME
    assert words(panel, supply=Q_(50, "degC"))["Return"] == returns.GROWS
    assert returns.return_word(returns.LOWEST - 0.1) == returns.GROWS
    assert returns.return_word(15.0) == returns.COOL
    assert [panel.hours_word(hours) for hours in (24, 16, 15)] == [panel.ROUND_THE_CLOCK, panel.RESTS, panel.RESTS_LONG]
    thin = ("copper EN 1057", "10 mm")
    assert words(panel, back=thin, insulation="none", drop=Q_(1, "delta_degC"))["Speed back"] == panel.WEARS


def test_mixed_water_goes_round_cool_and_the_store_stays_hot():
    """The COP is that of the store, which guidance keeps hot whatever goes round."""
    mixed = scene(panel, supply=Q_(48, "degC"), valve=AT_TANK)
    plain = scene(panel, supply=Q_(48, "degC"))
    assert mixed.cop == scene(panel).cop < plain.cop and mixed.store == 60 and plain.store == 48
    shown = lesson.panel()
    shown.use("Bath house mixed at the tank")
    assert returns.GROWS in shown.sentence and "mixed water" in shown.sentence
    assert "each through a check valve" in shown.picture.describe(shown.scene)


def test_more_flow_comes_back_warmer_and_takes_more_pressure():
    supply, back = panel.runs_of(next(iter(panel.ready_made().values())))
    found = [once_round(supply, back, 60.0, flow / 60_000) for flow in (0.5, 1, 2, 4, 8)]
    for name in ("far", "returns", "loss", "pressure"):
        values = [getattr(one, name) for one in found]
        assert values == sorted(values), name


def test_pressure_is_that_of_both_pipes():
    supply, back = panel.runs_of(next(iter(panel.ready_made().values())))
    flow = Q_(4, "L/min")
    found = once_round(supply, back, 60.0, flow.to("m**3/s").magnitude)
    taken = sum(run.pressure_drop(flow, Q_(found.far, "degC")).to("Pa").magnitude for run in (supply, back))
    assert found.pressure == pytest.approx(taken, rel=0.01)


# Two branches


def test_the_far_branch_starves_and_the_near_valve_feeds_it():
    wide, throttled = scene(balancing), scene(balancing, near_valve=Q_(50, "percent"))
    assert wide.flows[0] > 2 * wide.flows[1] and wide.returns[0] - wide.returns[1] > 8
    assert throttled.flows[1] > 1.2 * wide.flows[1] and throttled.returns[1] > wide.returns[1] + 1
    assert wide.mixed > wide.returns[1] + 5  # a thermometer at the heater hides the cool branch


def test_a_bigger_pump_is_no_balance():
    """Twice the pressure lifts the far return, and most of the water still takes the short way."""
    one, two = scene(balancing), scene(balancing, shut_off=Q_(4, "kPa"))
    assert two.flows[0] - one.flows[0] > 2 * (two.flows[1] - one.flows[1])


def test_equal_branches_share_equally():
    found = scene(balancing, near=Q_(20, "m"), far=Q_(20, "m"))
    assert found.flows[0] == pytest.approx(found.flows[1], rel=1e-6)
    assert words(balancing, near=Q_(20, "m"), far=Q_(20, "m"))["Branches"] == balancing.BALANCED
    assert words(balancing)["Branches"] == balancing.UNEVEN


def test_no_branch_is_called_cool_where_both_come_back_alike():
    """The warning about the thermometer at the heater belongs to branches that are not balanced."""
    alike = scene(balancing, near=Q_(20, "m"), far=Q_(20, "m"))
    assert "thermometer" not in told_of_branches(alike, SI)
    assert "thermometer" in told_of_branches(scene(balancing), SI)


def test_pressures_round_each_branch_add_up():
    """What the pump gives is what the common pipes, one branch's pipes and its valve take."""
    state = next(iter(balancing.ready_made().values()))
    runs, inside = balancing.runs_of(state), water(60.0)
    flows, given = balancing.flows(state, runs)
    common = sum(float(pressure.loss([leg_of(run)], np.sum(flows), inside)) for run in runs[0])
    for place, flow in enumerate(flows):
        own = sum(float(pressure.loss([leg_of(run)], flow, inside)[place]) for run in runs[1])
        valve = 0.5 * float(inside.density) * float(circulation.valve_hole(1.0, balancing.KV_OPEN)) * flow**2
        assert common + own + valve == pytest.approx(given, rel=1e-5)


# The loop that runs by itself


def test_it_runs_by_itself_and_a_check_valve_stops_it():
    runs, stands = scene(thermosiphon), scene(thermosiphon, opening=Q_(2000, "Pa"))
    assert runs.flow > 0 and runs.watts > 200 and runs.cools > 10
    assert stands.flow == stands.watts == stands.cools == 0 and stands.driving < stands.opening
    assert words(thermosiphon)["Outdoor end"] == SAFE_FROM_ICE
    assert words(thermosiphon, opening=Q_(2000, "Pa"))["Outdoor end"] == thermosiphon.CAN_FREEZE
    assert words(thermosiphon, opening=Q_(2000, "Pa"), air=Q_(5, "degC"))["Outdoor end"] == thermosiphon.NO_FROST


def test_a_weak_check_valve_only_slows_it():
    free, slowed = scene(thermosiphon), scene(thermosiphon, opening=Q_(30, "Pa"))
    assert 0 < slowed.flow < 0.8 * free.flow and slowed.returns < free.returns


def test_a_unit_hung_low_hardly_runs_and_freezes():
    low = scene(thermosiphon, height=Q_(-2, "m"))
    assert 0 < low.flow < 0.1 * scene(thermosiphon).flow
    assert words(thermosiphon, height=Q_(-2, "m"))["Outdoor end"] == FREEZES_IN_THE_RUN


def test_a_heat_trap_hardly_stops_a_whole_loop():
    plain, trap = scene(thermosiphon), scene(thermosiphon, trap=Q_(0.5, "m"))
    assert trap.flow > 0.9 * plain.flow


def test_what_the_loop_is_made_of():
    """The unit's loss is given at 50 K, the trap is pipe twice its depth, and the night's heat comes out of 200 L."""
    state = {**next(iter(thermosiphon.ready_made().values())), "trap": Q_(0.5, "m")}
    loop = thermosiphon.loop_of(state)
    assert loop.unit == pytest.approx(2.0)
    assert loop.hot.leg.length == loop.hot.bends[-1][0] == pytest.approx(9.0) and loop.cold.leg.length == 8.0
    found = scene(thermosiphon)
    holds = 0.2 * float(water(60).density * water(60).heat_capacity)
    assert found.cools == pytest.approx(70 * (1 - np.exp(-found.watts * 14 * 3600 / holds / 70)), rel=1e-6)
    assert balancing.KV_OPEN == 2.5  # as the page says


# Words


def figures(text: str) -> list:
    """Pairs of a result on paper and what the panel says."""
    found = re.findall(r"\*\*(\d+\.?\d*) [^*]*\*\*; the panel\s+says\s+(\d+\.?\d*)", text)
    return [tuple(map(float, pair)) for pair in found]


def test_paper_agrees_with_the_panels():
    pairs = figures(lesson.by_hand().markdown)
    assert len(pairs) == 4
    for paper, shown in pairs:
        assert paper == pytest.approx(shown, rel=0.06)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_guess_is_the_panels_flow(system):
    asked = told.guess()
    found = panel.calculate(in_goods(next(iter(panel.ready_made().values())), SI)).flow
    assert asked.answer().to("m**3/s").magnitude == pytest.approx(found)
    assert ("24 m" if system == SI else "79 ft") in asked.question(system)


def test_tries_tell_what_the_panels_show():
    for make in (lesson.panel, lesson.balancing, lesson.thermosiphon):
        shown = make()
        for one in shown.tries.tries:
            for system in (SI, US):
                answer = one.answer(shown.tries.scenes(one, system), system)
                assert "nan" not in answer and "**" in answer or "bacteria" in answer
        for title in shown.ready_made:
            shown.use(title)
            assert "Ready" in shown._status.value and seen(shown)
