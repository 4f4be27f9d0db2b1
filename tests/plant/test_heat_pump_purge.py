"""Laws of heat pump, loop and purge: bounds, monotony, cautions that travel, lists equal single values."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics import heat_pump as physics
from lessons_lib.plant.heat_pump import heat_pump_cop, loop_flow, loop_loss, loop_stored_heat, store_cost
from lessons_lib.plant.purge import purge_legs

some = settings(max_examples=60, deadline=None, derandomize=True)
stores, airs = st.floats(30, 75), st.floats(-30, 45)


def degrees(value):
    return Q_(value, "degC")


def kelvin(value):
    return Q_(value, "delta_degC")


@some
@given(stores, airs, st.floats(0.1, 1))
def test_cop_stays_within_its_bounds(store, air, share):
    found = heat_pump_cop(degrees(store), degrees(air), share_of_carnot=share)
    assert 0 < found.cop <= physics.HIGHEST and found.cop <= found.ideal
    assert found.capped == (share * found.ideal > physics.HIGHEST)


@some
@given(stores, airs)
def test_hotter_store_and_colder_air_never_help(store, air):
    base = heat_pump_cop(degrees(store), degrees(air)).cop
    if store < 70:
        assert heat_pump_cop(degrees(store + 5), degrees(air)).cop <= base
    if air > -25:
        assert heat_pump_cop(degrees(store), degrees(air - 5)).cop <= base


@pytest.mark.parametrize("air, said", [(-5.1, False), (-5.0, True), (0.0, True), (5.0, True), (5.1, False)])
def test_no_defrost_is_said_where_it_matters(air, said):
    caution = heat_pump_cop(degrees(55.0), degrees(air)).caution
    assert ("No defrost" in caution) == said
    assert "teaching approximation" in caution and "licensed trades" in caution
    assert ("No defrost" in store_cost(degrees(air)).caution) == said
    assert ("No defrost" in heat_pump_cop(degrees(55.0), Q_(air * 1.8 + 32, "degF")).caution) == said


def test_cautions_of_a_list_are_its_own():
    found = heat_pump_cop(degrees(55.0), degrees(np.array([-10.0, 2.0, 12.0])))
    assert ["No defrost" in text for text in found.caution] == [False, True, False]
    assert found.cop.shape == found.capped.shape == (3,)
    assert found.cop.tolist() == [heat_pump_cop(degrees(55.0), degrees(air)).cop for air in (-10.0, 2.0, 12.0)]


def test_scalars_give_plain_values():
    found = heat_pump_cop(degrees(55.0), degrees(7.0))
    assert type(found.cop) is float and type(found.ideal) is float and type(found.capped) is bool
    assert "cop" in str(found)


@some
@given(airs, st.floats(30, 60), st.floats(0, 15))
def test_a_hotter_store_costs(air, low, more):
    found = store_cost(degrees(air), degrees(low), degrees(low + more))
    assert found.extra_electricity >= 0 and found.low_cop >= found.high_cop
    assert "never recommended" in found.caution, "the price of 60 degC is no reason to store cooler"


def test_what_a_hotter_store_costs_by_hand():
    """Air at 5 degC: 0.45 x 327.15/57 = 2.583 for 49 degC and 0.45 x 338.15/68 = 2.238 for 60 degC: 15.4 % more."""
    found = store_cost(degrees(5.0))
    assert (found.low_cop, found.high_cop) == (pytest.approx(2.583, abs=1e-3), pytest.approx(2.238, abs=1e-3))
    assert found.extra_electricity == pytest.approx(0.1542, abs=1e-4)
    assert (found.low.magnitude, found.high.magnitude) == (49.0, 60.0)


def test_the_same_store_costs_nothing_more():
    assert store_cost(degrees(0.0), degrees(55.0), degrees(55.0)).extra_electricity == 0


@some
@given(st.floats(1, 20), st.floats(2, 20))
def test_loop_flow_carries_the_heat(kilowatts, drop):
    """Back through the water's own properties at the middle."""
    flow = loop_flow(Q_(kilowatts, "kW"), kelvin(drop)).to("m**3/s").magnitude
    carried = physics.stored_heat(flow, 50.0, 50.0 - drop)
    assert carried == pytest.approx(1000 * kilowatts, rel=1e-9)
    assert loop_flow(Q_(kilowatts, "kW"), kelvin(2 * drop)).to("m**3/s").magnitude < 0.51 * flow


def test_loop_loss_of_two_runs():
    """Supply and return of the same pipe; more outdoors, and the share falls with the heat that the loop carries."""
    pipe, foam, frost = (
        Pipe.nominal("copper L", "3/4 in"),
        Insulation("elastomeric foam", Q_(19, "mm")),
        Surroundings(degrees(-10.0)),
    )
    run = Run(pipe, Q_(15, "m"), foam, frost)
    losses = [run.heat_loss(degrees(value)) for value in (50.0, 45.0)]
    found = loop_loss(losses, [run.length, run.length], Q_(6, "kW"))
    assert found.power.to("W").magnitude == pytest.approx(15 * sum(loss.magnitude for loss in losses))
    assert found.share == pytest.approx(found.power.magnitude / 6000) and 0.02 < found.share < 0.2
    assert loop_loss(losses, [run.length, run.length], Q_(3, "kW")).share == pytest.approx(2 * found.share)


def test_loop_loss_of_lists():
    """Each line may hold an array of cases; a bare line may lose more than the heat pump gives, and that is not hidden."""
    found = loop_loss([Q_(np.array([10.0, 500.0]), "W/m"), Q_(5, "W/m")], [Q_(15, "m"), Q_(10, "m")], Q_(6, "kW"))
    assert found.power.to("W").magnitude.tolist() == [200.0, 7550.0]
    assert found.share.tolist() == pytest.approx([200 / 6000, 7550 / 6000])
    stacked = loop_loss(Q_(np.array([10.0, 5.0]), "W/m"), Q_(np.array([15.0, 10.0]), "m"), Q_(6, "kW"))
    assert stacked.power.to("W").magnitude == 200.0
    assert loop_loss(Q_(10, "W/m"), Q_(15, "m"), Q_(6, "kW")).power.to("W").magnitude == 150.0


def test_stored_heat_at_its_limits():
    assert loop_stored_heat(Q_(8, "L"), degrees(30.0), degrees(30.0)).magnitude == 0
    assert loop_stored_heat(Q_(8, "L"), degrees(30.0), degrees(40.0)).magnitude == 0, "warmer surroundings take nothing"
    frost = [loop_stored_heat(Q_(8, "L"), degrees(55.0), degrees(air)).magnitude for air in (0.0, -20.0)]
    assert frost[0] == frost[1], "down to 0 degC"


@some
@given(st.floats(8, 50), st.floats(1, 100), st.floats(1, 60), st.floats(0.5, 10))
def test_purge_changes_the_water_so_often(bore, length, flow, changes):
    found = purge_legs(Q_(bore, "mm"), Q_(length, "m"), Q_(flow, "L/min"), changes)
    assert flow * found.time.to("min").magnitude == pytest.approx(changes * found.volume.to("L").magnitude)
    assert found.speed.to("m/s").magnitude * found.time.to("s").magnitude == pytest.approx(changes * length)
    assert (found.word == "carries air") == (found.speed.to("m/s").magnitude >= 0.6)


def test_purge_at_its_least_flow_carries_air():
    least = purge_legs(Q_(20, "mm"), Q_(10, "m"), Q_(1, "L/min")).least_flow
    assert least.to("L/min").magnitude == pytest.approx(0.6 * np.pi / 4 * 0.02**2 * 60_000)
    assert purge_legs(Q_(20, "mm"), Q_(10, "m"), least).word == "carries air"
    assert purge_legs(Q_(20, "mm"), Q_(10, "m"), 0.999 * least).word == "too slow to carry air"


def test_a_small_loop_flow_does_not_purge_its_own_pipe():
    """3 kW at 5 K through a 25 mm bore: enough to run, too little to carry air."""
    flow = loop_flow(Q_(3, "kW"), kelvin(5.0))
    found = purge_legs(Q_(25, "mm"), Q_(15, "m"), flow)
    assert found.word == "too slow to carry air" and found.least_flow > flow


def test_legs_as_lists():
    bores, lengths = np.array([14.0, 20.0, 26.0]), np.array([10.0, 5.0, 2.0])
    found = purge_legs(Q_(bores, "mm"), Q_(lengths, "m"), Q_(8, "L/min"))
    for place, (bore, length) in enumerate(zip(bores, lengths)):
        alone = purge_legs(Q_(bore, "mm"), Q_(length, "m"), Q_(8, "L/min"))
        assert found.word[place] == alone.word and found.time[place] == alone.time
    assert np.all(np.diff(found.speed.magnitude) < 0) and "common practice" in found.caution
