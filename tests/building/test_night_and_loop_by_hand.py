"""What a night and a loop do to a building, and its points, each number reached another way than the building's own."""

from dataclasses import replace

import pytest

from lessons_lib import Q_, load_layout
from lessons_lib.building.changes import LONGEST_WAIT, score
from lessons_lib.storage.tables import DATA

LAYOUTS = sorted((DATA / "layouts").glob("*.toml"))
CUT, HOURS = 0.5, 12.0
TAPED = 'place = "outdoors"\nthickness = "25 mm"\ntape = "10 W/m"'


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


def test_a_leg_on_tape_cools_for_as_long_as_the_power_is_off(built):
    """At the end of the night it is where water cools to that begins at the tape's temperature: 0.1 K, the night has steps."""
    house = built([("a", "tank", "north", "6 m", TAPED)], [("t", "a", "6 L/min")])
    house = house_with(house, air=-3.0)
    found, run = house.assess().legs[0], house.runs["a"]
    curve = run.cooling(found.kept, Q_(CUT, "h"))
    assert curve.temperature.magnitude[-1] > 1 and found.ice_share == 0
    assert found.lowest_water.magnitude == pytest.approx(curve.temperature.magnitude[-1], abs=0.1)
    assert found.kept.magnitude == house.tape_supply.hold.to("degC").magnitude, "its thermostat is not known"


def test_ice_of_a_whole_night_without_tape(built):
    """Its share is the one for which the law of freezing needs just this night: 2 % of the time."""
    house = built([("a", "tank", "north", "6 m", 'place = "outdoors"\nthickness = "25 mm"')], [("t", "a", "6 L/min")])
    house = house_with(house, air=-6.0)
    found, run = house.assess().legs[0], house.runs["a"]
    assert 0.1 < found.ice_share < 0.9 and found.lowest_water.magnitude == pytest.approx(0, abs=0.05)
    hours = run.freezing(house.cold_inlet).hours_to_share(float(found.ice_share))
    assert hours.magnitude == pytest.approx(HOURS, rel=0.02)
    assert found.with_power.value == found.without_power.value == run.freezing(house.cold_inlet).hours_to_zero
    assert found.rest.magnitude == pytest.approx(-6.0) and found.tape_energy is None and found.coldest_kept is None


def house_with(house, air: float, cut: float = CUT):
    """The house on a still night of this air, with the power off at its end."""
    around = Q_(air, "degC")
    night = replace(house.night, air=around, hours=Q_(HOURS, "h"), without_power=Q_(cut, "h"))
    legs = tuple(replace(leg, surroundings=replace(leg.surroundings, air=around)) for leg in house.legs)
    return replace(house, night=night, legs=legs)


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


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_the_slowest_the_hottest_and_the_coldest_are_what_they_are_called(path):
    found = load_layout(path).assess()
    by_name, wanted = {tap.name: tap for tap in found.taps}, {tap.name: tap.flow for tap in load_layout(path).taps}
    assert by_name[found.slowest].wait.magnitude == max(tap.wait.magnitude for tap in found.taps)
    assert by_name[found.hottest].delivered.magnitude == max(tap.delivered.magnitude for tap in found.taps)
    if found.legs:
        soonest = min(leg.without_power.value.magnitude for leg in found.legs)
        assert found.leg(found.coldest).without_power.value.magnitude == soonest
    for name, tap in by_name.items():
        drawn = tap.wait.to("min") * min(tap.flow, wanted[name])
        assert tap.water_drawn.to("L").magnitude == pytest.approx(drawn.to("L").magnitude, rel=1e-6)


def test_points_for_ice_by_hand(built):
    """20 times the share of the hours that is missing, with power and without, by the metres; tape must last the cut."""
    legs = [("a", "tank", "north", "6 m", 'place = "outdoors"'), ("b", "a", "north", "3 m", TAPED)]
    house = house_with(built(legs, [("t", "b", "6 L/min")]), air=-10.0, cut=3.0)
    bare, taped = house.assess().legs
    ice, fails = bare.with_power.value.magnitude, taped.without_power.value.magnitude
    assert bare.with_power.value == bare.without_power.value and 0 < ice < HOURS and 0 < fails < 3
    missing = 6 * 2 * (1 - ice / HOURS) + 3 * (1 - fails / 3)
    assert score(house).ice == pytest.approx(20 * missing / 9)


def test_points_for_cool_water_and_for_a_wait_without_end_by_hand(built):
    """1 point for each kelvin below what is wanted; a tap that never gets it costs as much as the longest wait counted."""
    bare = 'insulation = "none"\nplace = "crawlspace"'
    house = built([("a", "tank", "north", "60 m", bare)], [("t", "a", "1 L/min")])
    (tap,), points = house.assess().taps, score(house)
    assert 20 < tap.delivered.magnitude < 35 and tap.wait.magnitude == float("inf")
    assert points.cool == pytest.approx(40 - tap.delivered.magnitude) and points.wait == LONGEST_WAIT / 10 == 30
