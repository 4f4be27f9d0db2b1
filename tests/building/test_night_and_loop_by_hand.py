"""What a night and a loop do to a building, each number reached another way than the building's own."""

from dataclasses import replace

import pytest

from lessons_lib import Q_, load_layout
from lessons_lib.storage.tables import DATA


def layout(name):
    return load_layout(DATA / "layouts" / f"{name}.toml")


def test_tape_energy_counts_what_covered_and_bare_metres_take():
    """By hand on the maker's line, 10 W/m at 5 °C and 4 W/m at 45 °C: 2 % of the metres are colder and take more."""
    house = layout("bunk_cabin")
    found, leg = house.assess().leg("out of the workshop"), house.legs[0]
    assert leg.bare_share == 0.02 and found.kept.magnitude > found.bare_kept.magnitude + 10
    covered, bare = (10 - (kept.magnitude - 5) * 6 / 40 for kept in (found.kept, found.bare_kept))
    metres, on = 15 + 0.3, 14 - 3  # one valve; hours with power
    assert found.tape_energy.to("kWh").magnitude == pytest.approx((0.98 * covered + 0.02 * bare) * metres * on / 1000)
    assert found.coldest_kept == found.bare_kept and found.hottest_kept == found.kept


def test_ice_of_a_whole_night_without_tape(built):
    """Its share is the one for which the law of freezing needs just this night: 2 % of the time."""
    house = built([("a", "tank", "north", "6 m", 'place = "outdoors"\nthickness = "25 mm"')], [("t", "a", "6 L/min")])
    around, hours = Q_(-6.0, "degC"), Q_(12.0, "h")
    legs = tuple(replace(leg, surroundings=replace(leg.surroundings, air=around)) for leg in house.legs)
    house = replace(house, night=replace(house.night, air=around, hours=hours), legs=legs)
    found, run = house.assess().legs[0], house.runs["a"]
    assert 0.1 < found.ice_share < 0.9 and found.lowest_water.magnitude == pytest.approx(0, abs=0.05)
    needed = run.freezing(house.cold_inlet).hours_to_share(float(found.ice_share))
    assert needed.magnitude == pytest.approx(hours.magnitude, rel=0.02)
    assert found.with_power.value == found.without_power.value == run.freezing(house.cold_inlet).hours_to_zero
    assert found.rest.magnitude == pytest.approx(-6.0) and found.tape_energy is None and found.coldest_kept is None


def test_what_a_loop_loses_is_what_its_legs_lose():
    """Watts of each leg by its length; and the fall of temperature from leg to leg, which is less by what has cooled."""
    house = layout("workshop")
    loop, found = house.loop, house.assess().loop
    lost, fell = 0.0, 0.0
    for legs, warm, end in (
        (loop.hot, Q_(60.0, "degC"), found.arrives),
        (loop.back, Q_(50.0, "degC"), found.comes_back),
    ):
        lost += sum(house.runs[leg.name].heat_loss(warm, loop.flow).magnitude * leg.metres for leg in legs)
        now = warm
        for leg in legs:
            now = house.runs[leg.name].delivery_temperature(now, loop.flow)
        assert end.magnitude == pytest.approx(now.magnitude, abs=1e-3)  # the mass is one, the volume is not
        fell += warm.magnitude - now.magnitude
    carried = 2 / 60_000 * 983.2 * 4185  # [W/K] of 2 L/min at 60 °C, as in the heat of the loop
    assert found.lost.to("W").magnitude == pytest.approx(lost)
    assert found.lost_share == pytest.approx(lost / (10 * carried), rel=1e-3)
    assert 0.93 * lost < fell * carried < lost
