"""The water side of lesson 09: its three panels say what physics and a maker's sheet say, in every corner."""

import re
from importlib import import_module

import numpy as np
import pytest
from words_on_page import seen

from lessons_lib import Q_
from lessons_lib.lessons import the_outdoor_loop
from lessons_lib.physics import layers, moist_air, return_cop
from lessons_lib.physics import pump as physics_pump
from lessons_lib.quantities.display import SYSTEMS

LESSON = "lessons_lib.lessons.the_outdoor_loop"
pump, frost, tank = (
    import_module(f"{LESSON}.{name}") for name in ("pump_on_the_loop", "frost_outside", "tank_and_units")
)
choices = import_module(f"{LESSON}.frost_choices")
LITRE = 1 / 60_000


def scene(of, **changes):
    return of.calculate({**next(iter(of.ready_made().values())), **changes})


def words(of, **changes) -> dict:
    return {one.title: one.word for one in of.readouts(scene(of, **changes), SYSTEMS[0])}


def test_the_parts_of_the_pressure_are_what_the_pump_gives():
    for changes in ({}, {"clogged": Q_(95, "percent")}, {"length": Q_(40, "m")}, {"back": Q_(5, "degC")}):
        found = scene(pump, **changes)
        assert sum(found.parts) == pytest.approx(found.pressure, rel=1e-9)


def test_the_rise_carries_the_heat():
    """69.0 W for one L/min and kelvin at 40 degC, a hand figure: 992.2 x 4.179/60."""
    found = scene(pump)
    assert found.rise * found.flow / LITRE * 992.2 * 4.179 / 60 == pytest.approx(7000, rel=2e-3)


def test_a_strainer_costs_little_at_first_and_then_everything():
    flows = [scene(pump, clogged=Q_(share, "percent")).flow for share in (0, 50, 90, 95)]
    assert flows[1] > 0.88 * flows[0] and flows[2] < 0.5 * flows[0] and flows[3] < 0.3 * flows[0]


def test_a_clean_strainer_takes_two_kilopascals_at_ten_litres():
    assert physics_pump.strainer_loss(10 * LITRE, 0.0) == pytest.approx(2000, rel=1e-9)
    assert physics_pump.exchanger_loss(20 * LITRE, 15e3, 10 * LITRE) == pytest.approx(15e3 * 2**1.75, rel=1e-9)


def test_cops_by_hand():
    """0.45 (40 + 5 + 273.15)/(45 + 3) with water, 5 K more with glycol; 0.8 of the cycle's 3.94 with CO2 from 5 degC."""
    assert return_cop.condensing_cop(40.0, 5.0) == pytest.approx(0.45 * 318.15 / 48)
    assert return_cop.condensing_cop(40.0, 5.0, return_cop.SECOND_EXCHANGER_STEP) == pytest.approx(0.45 * 323.15 / 53)
    assert return_cop.co2_cop(50.0, 5.0, -7.0) == pytest.approx(0.8 * 3.9446, abs=1e-3)
    assert return_cop.co2_cop(60.0, 5.0, 20.0) == 5.0


def test_height_takes_no_pressure_but_can_be_outside_the_sheet():
    low, high = (scene(pump, height=Q_(metres, "m")) for metres in (0, 15))
    assert low.flow == high.flow and low.beyond == () and high.beyond == ("height",)


@pytest.mark.parametrize(
    "changes, outside",
    [
        ({"length": Q_(15, "m")}, ()),
        ({"length": Q_(15.1, "m")}, ("length",)),
        ({"smallest": Q_(40, "mm")}, ("bore",)),
        ({"length": Q_(16, "m"), "height": Q_(6, "m")}, ("length", "height")),
    ],
)
def test_limits_of_the_sheet(changes, outside):
    assert scene(pump, **changes).beyond == outside
    assert words(pump, **changes)["Limits"] == (pump.OUTSIDE if outside else pump.INSIDE)


def test_words_for_the_flow():
    flow = scene(pump).flow / LITRE
    for least, word in ((flow * 1.01, pump.TOO_LITTLE), (flow / 1.1, pump.NEAR), (flow / 1.3, pump.ENOUGH)):
        assert words(pump, least=Q_(least, "L/min"))["Flow"] == word


def test_starved_water_leaves_too_hot_and_is_not_told_above_boiling():
    starved = {"clogged": Q_(95, "percent"), "heat": Q_(16, "kW"), "back": Q_(55, "degC"), "least": Q_(1, "L/min")}
    assert words(pump, **starved)["Water out"] == pump.TOO_HOT
    panel = the_outdoor_loop.pump_on_the_loop()
    panel.set(starved)
    assert panel.answer == "The water would leave too hot: the unit stops" and "over 99" in seen(panel)


def test_frost_at_the_setting_that_was_worked_out_by_hand():
    """2 degC, 90 %: 3.92 g/kg in the air, 2.27 g/kg at -6 degC; 4.69 kJ of frost beside 8.11 kJ of cooling."""
    found = scene(frost)
    assert found.latent == pytest.approx(0.366, abs=0.001) and found.kind == "ice"
    assert found.daily == pytest.approx(found.taken * 12 * 3600 * found.latent / moist_air.SUBLIMATION, rel=1e-9)


def test_a_defrost_takes_the_heat_of_its_ice():
    """Twice what melting takes, for half of the heat melts: 1.3 kg x 346 kJ/kg x 2 from 5 kW."""
    found = scene(frost)
    melting = found.cycle * (333.43e3 + 2100 * 6)
    assert found.lasts == pytest.approx(2 * melting / 5000, rel=1e-6)
    assert found.share == pytest.approx(2 * melting / (7000 * 45 * 60), rel=1e-6)


def test_most_ice_near_freezing_and_no_ice_in_mild_air():
    daily = [scene(frost, air=Q_(air, "degC")).daily for air in (-20, -10, 0, 4)]
    assert daily == sorted(daily) and daily[0] < 0.3 * daily[2]
    mild = scene(frost, air=Q_(12, "degC"))
    assert mild.kind == "water" and mild.lasts == 0 and words(frost, air=Q_(12, "degC"))["Defrost"] == frost.NO_ICE


def test_dry_air_leaves_the_coil_dry():
    found = scene(frost, air=Q_(-20, "degC"), humidity=Q_(30, "percent"))
    assert found.daily == 0 and found.kind == "nothing" and "stays dry" in frost.headline(found, SYSTEMS[0])


@pytest.mark.parametrize(
    "air, drain, supply, word",
    [
        (-5, choices.WALKWAY, choices.ON, frost.SLIPPERY),
        (3, choices.WALKWAY, choices.ON, frost.SLIPPERY),  # what the coil thaws can freeze on a clear night
        (12, choices.WALKWAY, choices.ON, frost.WET),
        (-5, choices.GROUND, choices.ON, frost.MOUND),
        (2, choices.GROUND, choices.ON, frost.SOAKS),
        (-5, choices.BARE_LINE, choices.ON, frost.SHUT),
        (-5, choices.WARM_LINE, choices.ON, frost.TAPED),
        (-5, choices.WARM_LINE, choices.CUT, frost.TAPE_OFF),
        (12, choices.BARE_LINE, choices.ON, frost.SOAKS),
        (-5, choices.GROUND, choices.CUT, frost.NONE_COMES),  # a unit at rest thaws nothing
        (-5, choices.WALKWAY, choices.CUT, frost.SLIPPERY),
        (12, choices.WALKWAY, choices.CUT, frost.NONE_COMES),
    ],
)
def test_where_the_coils_water_goes(air, drain, supply, word):
    assert words(frost, air=Q_(air, "degC"), drain=drain, supply=supply)["Drain"] == word


@pytest.mark.parametrize(
    "air, mode, supply, word",
    [
        (-5, choices.PUMP_RUNS, choices.ON, frost.PROTECTED),
        (-5, choices.PUMP_RUNS, choices.CUT, frost.UNPROTECTED),
        (-5, choices.VALVE_OPENS, choices.CUT, frost.EMPTIED),
        (-5, choices.NOTHING, choices.ON, frost.UNPROTECTED),
        (2, choices.NOTHING, choices.ON, frost.UNPROTECTED),
        (12, choices.NOTHING, choices.CUT, frost.MILD),
    ],
)
def test_what_guards_the_loop(air, mode, supply, word):
    assert words(frost, air=Q_(air, "degC"), mode=mode, supply=supply)["Loop"] == word


def test_a_power_cut_stops_the_coil_too():
    found = scene(frost, supply=choices.CUT)
    assert found.daily == found.lasts == 0 and not np.any(found.dailies)


def test_the_tank_keeps_its_heat_whatever_the_port():
    """Both tanks hold the share of heat that is asked for, to one step of the filling."""
    for port in tank.PORTS:
        found = scene(tank, port=port, filled=Q_(50, "percent"))
        for layer in found.tanks:
            held = (layer.mean() - found.cold) / (found.store - found.cold)
            assert 0.5 - 1e-9 <= held < 0.5 + 1 / layers.LAYERS


def test_layers_give_hot_water_first():
    """0.5 x 200 L x 52/32: 162.5 L, by hand; mixed, 34 degC is no hot water."""
    top, bottom = scene(tank), scene(tank, port="the bottom")
    assert top.usable == pytest.approx((0, 0.1625), rel=1e-9) and bottom.usable == (0, 0)
    assert tank.usable_word(top) == tank.LAYERED and tank.usable_word(bottom) == tank.COLD


def test_the_middle_port_lies_between():
    """Its upper half mixes with what enters, its lower half stays cold until the upper has passed it on."""
    top, middle, bottom = (scene(tank, port=port, filled=Q_(80, "percent")) for port in tank.PORTS)
    cops = [one.units[2].mean for one in (top, middle, bottom)]
    assert cops == sorted(cops, reverse=True) and cops[0] > 1.05 * cops[2]


def test_a_warm_return_costs_the_co2_unit_most():
    cold, warm = (scene(tank, filled=Q_(share, "percent"), port="the bottom") for share in (5, 90))
    water, glycol, co2 = zip(cold.units, warm.units)
    assert co2[1].cop < 0.55 * co2[0].cop and water[1].cop < water[0].cop
    assert all(one.cop <= other.cop for one, other in zip(glycol, water))
    assert tank.suits_word(cold) == tank.STRONG and tank.suits_word(warm) == tank.WEAK


def test_glycol_is_harder_to_pump_the_more_of_it():
    found = [scene(tank, share=Q_(share, "percent")) for share in (20, 30, 40, 50)]
    extras = [one.units[1].pressure / one.units[0].pressure for one in found]
    assert extras == sorted(extras) and 1.1 < extras[0] < extras[-1] < 2.5


def test_sums_on_paper_agree_with_the_panels():
    text = repr(the_outdoor_loop.water_by_hand())
    found = scene(pump, pipe=("PEX ISO 15875", "20 mm"))
    left, rise, litres = (float(re.search(rf"\*\*([\d.]+) {unit}\*\*", text)[1]) for unit in ("kPa", "°C", "L"))
    assert "162.5 L**; the panel says 163 L" in text and litres == 162.5
    assert rise == pytest.approx(9.4, abs=0.1) and left == pytest.approx(found.parts[0] / 1000, abs=0.2)
    for said in re.findall(r"\*\*([\d.]+) (?:kPa|psi|°C|°F|%)\*\*[^;]*; the panel says ([\d.]+)", text):
        assert float(said[0]) == pytest.approx(float(said[1]), rel=0.03)
