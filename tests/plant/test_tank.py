"""Laws of tank and closed system: limits, monotony, units, lists equal single values."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, Pipe
from lessons_lib.physics import tank as physics
from lessons_lib.plant.closed_system import (
    expansion,
    pipe_growth,
    relief_settings,
    trapped_pressure_rise,
    vessel,
    vessel_pressure,
    vessel_reading,
)
from lessons_lib.plant.tank import (
    USUAL_USABLE,
    hot_share,
    mixing_valve,
    recovery,
    reheat_time,
    standby_loss,
    water_at_the_tap,
)
from lessons_lib.storage import tables

some = settings(max_examples=60, deadline=None, derandomize=True)
colds, hots, parts = st.floats(1, 25), st.floats(40, 90), st.floats(0.05, 0.95)


def degrees(value):
    return Q_(value, "degC")


def kelvin(value):
    return Q_(value, "delta_degC")


LIMITS = dict(least_difference=kelvin(10.0), least_flow=Q_(4, "L/min"), lowest=degrees(30.0), highest=degrees(60.0))
TANK = Q_(150, "L")


@some
@given(hots, colds, parts)
def test_mixing_closes_the_balance(hot, cold, part):
    mixed = cold + part * (hot - cold)
    share = hot_share(degrees(hot), degrees(cold), degrees(mixed))
    assert isinstance(share, float) and share == pytest.approx(part)
    assert share * hot + (1 - share) * cold == pytest.approx(mixed)


@pytest.mark.parametrize("mixed, share", [(8.0, 0.0), (58.0, 1.0), (46.0, 0.76)])
def test_hot_share_at_its_ends(mixed, share):
    """46 degC from 58 and 8 degC is 0.76, not 46/58 = 0.79."""
    assert hot_share(degrees(58.0), degrees(8.0), degrees(mixed)) == pytest.approx(share)


def test_rounding_of_a_conversion_is_not_outside():
    """104 degF is 40 degC: one from the other is all hot, not an error."""
    for hot, mixed in ((Q_(104.0, "degF"), degrees(40.0)), (degrees(40.0), Q_(104.0, "degF"))):
        assert hot_share(hot, degrees(8.0), mixed) == pytest.approx(1) and hot_share(hot, degrees(8.0), mixed) <= 1
    assert water_at_the_tap(TANK, Q_(104.0, "degF"), degrees(8.0), degrees(40.0)).to("L").magnitude == pytest.approx(
        150
    )


def test_units_do_not_matter():
    metric = water_at_the_tap(TANK, degrees(58.0), degrees(8.0), degrees(40.0))
    trade = water_at_the_tap(
        TANK.to("gallon"), degrees(58.0).to("degF"), degrees(8.0).to("degF"), degrees(40.0).to("degF")
    )
    assert metric.to("L").magnitude == pytest.approx(trade.to("L").magnitude, rel=1e-9) == pytest.approx(234.375)


def test_hotter_store_gives_more_litres_in_proportion_to_usable():
    stores = degrees(np.array([45.0, 50.0, 60.0, 70.0]))
    whole = water_at_the_tap(TANK, stores, degrees(8.0), degrees(40.0)).magnitude
    assert whole.shape == (4,) and np.all(np.diff(whole) > 0)
    part = water_at_the_tap(TANK, stores, degrees(8.0), degrees(40.0), usable=USUAL_USABLE).magnitude
    assert np.allclose(part, USUAL_USABLE * whole)
    assert water_at_the_tap(TANK, degrees(60.0), degrees(8.0), degrees(40.0), usable=0).magnitude == 0


@pytest.mark.parametrize(
    "hot, setting, flow, word, reason",
    [
        (60.0, 46.0, 6.0, "holds", "within the maker's limits"),
        (52.0, 46.0, 6.0, "can't hold", "the hot water is only 6.0 °C above the setting, the valve needs 10.0 °C"),
        (60.0, 46.0, 2.0, "can't hold", "2 L/min flows, the valve needs 4 L/min"),
        (80.0, 65.0, 6.0, "can't hold", "the setting is outside the maker's range of 30 °C to 60 °C"),
    ],
)
def test_mixing_valve(hot, setting, flow, word, reason):
    found = mixing_valve(degrees(hot), degrees(8.0), degrees(setting), Q_(flow, "L/min"), **LIMITS)
    assert found.word == word and reason in found.reason
    assert found.hottest.magnitude == (setting if word == "holds" else hot)
    assert "thermometer" in found.caution and "at least once a year" in found.caution


def test_mixing_valve_names_every_broken_limit_in_the_readers_unit():
    found = mixing_valve(Q_(120.0, "degF"), Q_(50.0, "degF"), Q_(115.0, "degF"), Q_(0.5, "gpm"), **LIMITS)
    assert "only 5.0 °F above the setting, the valve needs 18.0 °F" in found.reason and "0.5 gpm flows" in found.reason


def test_mixing_valve_exactly_at_its_limits_holds():
    assert mixing_valve(degrees(56.0), degrees(8.0), degrees(46.0), Q_(4, "L/min"), **LIMITS).word == "holds"


def test_mixing_valve_of_lists():
    hot = np.array([[48.0], [60.0]])
    found = mixing_valve(degrees(hot), degrees(8.0), degrees(46.0), Q_(np.array([3.0, 6.0, 9.0]), "L/min"), **LIMITS)
    assert found.word.tolist() == [["can't hold"] * 3, ["can't hold", "holds", "holds"]]
    assert found.hottest.magnitude.tolist() == [[48.0] * 3, [60.0, 46.0, 46.0]]
    assert "can't hold" in str(found) and "<table>" in found._repr_html_()


@pytest.mark.parametrize("room, watts", [(15.0, 70.0), (60.0, 0.0)])
def test_standby_is_proportional(room, watts):
    """1.68 kWh a day at 45 K is 70 W; nothing at no difference; a warm room gives heat back."""
    found = standby_loss(degrees(60.0), degrees(room), Q_(1.68, "kWh/day"))
    assert found.to("W").magnitude == pytest.approx(watts)
    assert standby_loss(degrees(10.0), degrees(20.0), Q_(70, "W")).magnitude < 0


def test_reheat_time():
    """150 L by 50 K with 3 kW: 150 kg x 4.18 kJ x 50/3 kW, 2.9 h. Longer with a loss, never without power."""
    plain = reheat_time(TANK, degrees(10.0), degrees(60.0), Q_(3, "kW"))
    assert plain.to("h").magnitude == pytest.approx(150 * 4.18 * 50 / 3 / 3600, rel=0.005)
    losing = reheat_time(TANK, degrees(10.0), degrees(60.0), Q_(3, "kW"), standby=Q_(1, "kW"))
    assert losing.magnitude == pytest.approx(1.5 * plain.magnitude)
    assert np.isinf(reheat_time(TANK, degrees(10.0), degrees(60.0), Q_(70, "W"), standby=Q_(70, "W")).magnitude)
    assert reheat_time(TANK, degrees(60.0), degrees(55.0), Q_(0, "W")).magnitude == 0


def test_recovery_and_reheat_agree():
    """What recovers in an hour takes an hour to reheat."""
    litres = recovery(Q_(4.5, "kW"), kelvin(45.0), cold=degrees(12.0)) * Q_(1, "h")
    assert reheat_time(litres, degrees(12.0), degrees(57.0), Q_(4.5, "kW")).to("h").magnitude == pytest.approx(1)
    assert recovery(Q_(4.5, "kW"), kelvin(45.0), efficiency=0.5).magnitude == pytest.approx(
        recovery(Q_(2.25, "kW"), kelvin(45.0)).magnitude
    )


@some
@given(st.floats(4, 40), st.floats(0, 30), st.floats(1, 25))
def test_expansion_grows_and_adds_up(cold, first, second):
    """Two steps grow by what one does, each reckoned from its own volume; 4 degC is where water is densest."""
    step = expansion(Q_(100, "L"), degrees(cold), degrees(cold + first)).magnitude
    rest = expansion(Q_(100 + step, "L"), degrees(cold + first), degrees(cold + first + second)).magnitude
    assert 0 <= step < step + rest < 5
    assert step + rest == pytest.approx(
        expansion(Q_(100, "L"), degrees(cold), degrees(cold + first + second)).magnitude, rel=1e-9
    )


def test_expansion_at_its_limits():
    assert expansion(TANK, degrees(20.0), degrees(20.0)).magnitude == 0
    assert expansion(TANK, degrees(0.0), degrees(4.0)).magnitude < 0, "water shrinks up to 4 degC"


bars = st.floats(100, 500)


@some
@given(st.floats(0.1, 20), bars, st.floats(0, 100), st.floats(50, 500))
def test_vessel_and_its_pressure_are_inverse(expanded, precharge, above, further):
    start, cold, top = precharge, precharge + above, precharge + above + further
    grown, charged, filled, highest = (Q_(expanded, "L"), *(Q_(value, "kPa") for value in (start, cold, top)))
    found = vessel(grown, charged, highest, cold=filled)
    back = vessel_pressure(found.volume, grown, charged, cold=filled)
    assert back.to("kPa").magnitude == pytest.approx(top, rel=1e-6)
    assert found.reserve.magnitude + expanded == pytest.approx(found.acceptance * found.volume.magnitude)
    assert vessel(grown, charged, 1.5 * highest, cold=filled).volume < found.volume
    assert vessel(grown, filled, highest, cold=filled).volume <= found.volume * (1 + 1e-9), (
        "pre-charge at the cold pressure is best"
    )


def test_vessel_reckons_in_absolute_pressure():
    """In gauge pressures 1 - 300/600 would be a half; of the air there are 401/701."""
    assert vessel(Q_(3, "L"), Q_(300, "kPa"), Q_(600, "kPa")).acceptance == pytest.approx(1 - 401.325 / 701.325)


def test_vessel_at_its_limits():
    assert vessel(Q_(0, "L"), Q_(300, "kPa"), Q_(600, "kPa")).volume.magnitude == 0
    assert vessel_pressure(Q_(12, "L"), Q_(0, "L"), Q_(300, "kPa")).to("kPa").magnitude == pytest.approx(300)
    assert np.isinf(vessel_pressure(Q_(2, "L"), Q_(3, "L"), Q_(300, "kPa")).magnitude), "no air left"


def test_pressures_of_lists_equal_single_values():
    grown = np.array([1.0, 3.0, 11.0, 13.0])
    together = vessel_pressure(Q_(12, "L"), Q_(grown, "L"), Q_(300, "kPa")).magnitude
    single = [vessel_pressure(Q_(12, "L"), Q_(one, "L"), Q_(300, "kPa")).magnitude for one in grown]
    assert np.array_equal(together, single) and np.all(np.diff(together[:3]) > 0)


@pytest.mark.parametrize("water, shown", [(0, 150), (100, 150), (400, 400)])
def test_a_reading_on_a_live_main_shows_the_main(water, shown):
    assert vessel_reading(Q_(150, "kPa"), Q_(water, "kPa")).to("kPa").magnitude == pytest.approx(shown)


rises = st.floats(1, 40)


@some
@given(st.floats(8, 50), rises, st.floats(0, 0.02), st.floats(0, 1000))
def test_trapped_rise_balances_volumes(start, rise, air, gauge):
    """What the water grows by is what water, wall and air give up."""
    give, pressure = 2e-10, gauge * 1e3 + 101_325
    found = float(physics.trapped_rise(start, rise, pressure, give, 1.6e-5, air))
    excess = float(physics.growth_of_water(start, start + rise)) - 3 * 1.6e-5 * rise
    given_up = (float(physics.compressibility(start + rise)) + give) * found + air * found / (pressure + found)
    assert given_up == pytest.approx(max(excess, 0.0), rel=1e-6, abs=1e-12)


@some
@given(st.floats(10, 50), rises)
def test_air_and_plastic_soften_the_rise(start, rise):
    rigid, airy = (trapped_pressure_rise(degrees(start), kelvin(rise), air=air).rise.magnitude for air in (0.0, 0.01))
    copper, plastic = (
        trapped_pressure_rise(degrees(start), kelvin(rise), Pipe.nominal(*name)).rise.magnitude
        for name in (("copper L", "3/4 in"), ("PEX CTS", "3/4 in"))
    )
    assert 0 <= plastic < copper < rigid and airy < rigid


@pytest.mark.parametrize("gauge", [0.0, 300.0])
def test_trapped_air_is_reckoned_in_absolute_pressure(gauge):
    """With much air the water hardly yields: Boyle alone gives the rise, p g/(a - g) with the growth g of the water."""
    growth, absolute = float(physics.growth_of_water(50.0, 55.0)), gauge + 101.325
    found = (
        trapped_pressure_rise(degrees(50.0), kelvin(5.0), pressure=Q_(gauge, "kPa"), air=0.2).rise.to("kPa").magnitude
    )
    assert found == pytest.approx(absolute * growth / (0.2 - growth), rel=1e-3)


def test_trapped_water_that_stays_cool_does_not_rise():
    assert trapped_pressure_rise(degrees(20.0), kelvin(0.0)).rise.magnitude == 0
    assert trapped_pressure_rise(degrees(0.0), kelvin(4.0)).rise.magnitude == 0, "it shrinks"
    assert "cap nothing" in trapped_pressure_rise(degrees(20.0), kelvin(1.0)).caution


def test_pipe_growth():
    """10 m of PEX by 50 K: 75 mm; copper a ninth of that; and it shrinks again."""
    plastic, copper = (
        pipe_growth(material, Q_(10, "m"), kelvin(50.0)).to("mm").magnitude for material in ("pex", "Copper")
    )
    assert plastic == pytest.approx(75) and copper == pytest.approx(8.4)
    assert pipe_growth("PEX", Q_(10, "m"), Q_(-90.0, "delta_degF")).to("mm").magnitude == pytest.approx(-75)


@pytest.mark.parametrize("name", ["pipe_materials", "relief_settings", "bacteria_bands", "skin"])
def test_every_row_says_where_it_is_from(name):
    for row in tables.rows(name):
        assert row["source"] and None not in row.values(), row


def test_relief_settings_name_their_region():
    assert [one.region for one in relief_settings("united states")] == ["United States"]
    every = relief_settings()
    assert len(every) == len(tables.rows("relief_settings"))
    assert all(one.source and "local code" in one.caution for one in every)
    assert all(one.highest is not None or one.pressure is not None for one in every), "each acts by something"
    assert {one.region for one in every if one.pressure is not None} == {"United States", "Europe", "United Kingdom"}


def test_relief_pressures_say_the_same_in_both_units():
    for row in (row for row in tables.rows("relief_settings") if row["kPa"]):
        assert Q_(float(row["kPa"]), "kPa").to("psi").magnitude == pytest.approx(float(row["psi"]), abs=0.5), row
