"""A building's water, heat, frost and points worked out by hand: small houses whose answers are short sums.

Heat by second_path, which uses nothing of lessons_lib's physics: steady temperatures to 0.05 K, waits to 1 %, for taps of
a building are followed with half the cells. Sums of pressures and points are exact.
"""

import numpy as np
import pytest
import second_path

from lessons_lib import Q_, load_layout
from lessons_lib.building.changes import score
from lessons_lib.building.frost import FREEZES
from lessons_lib.building.heat import Heat
from lessons_lib.quantities.display import EDGE
from lessons_lib.runs.assessment import ICY, ON_THE_EDGE
from lessons_lib.runs.common_values import HELD_AT
from lessons_lib.storage.tables import DATA

BARE = 'insulation = "none"\nplace = "crawlspace"'


def leg(name, start, go, length, more="") -> str:
    return f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length}"\n{more}\n'


def tap(name, on, flow="6 L/min", useful="40 °C") -> str:
    return f'[[tap]]\nname = "{name}"\nleg = "{on}"\nkind = "sink"\nflow = "{flow}"\nuseful = "{useful}"\n'


@pytest.fixture
def read(tmp_path):
    def load(legs, taps, more="", pressure="500 kPa", crawlspace="2 °C", night='air = "-10 °C"\nhours = "12 h"'):
        file = tmp_path / "house.toml"
        file.write_text(
            f'name = "x"\n[water]\npressure = "{pressure}"\ncold_inlet = "10 °C"\n[night]\n{night}\n'
            f'[tank]\nset_temperature = "60 °C"\n{more}\n[places]\nindoors = "18 °C"\ncrawlspace = "{crawlspace}"\n'
            f'[usual]\npipe = "copper L"\nsize = "3/4 in"\ninsulation = "polyethylene foam"\nthickness = "9 mm"\n'
            f'place = "indoors"\n{"".join(legs)}\n{"".join(taps)}',
            encoding="utf-8",
        )
        return load_layout(file)

    return load


# --- water


def test_a_tap_above_the_tank(read):
    """3 m up: 999.7 x 9.80665 x 3 Pa. Before the tap its flow squared, of 300 kPa for 6 L/min; the speed is flow over bore."""
    house = read([leg("a", "tank", "up", "3 m")], [tap("t", "a")], pressure="250 kPa")
    found, density = house.flows(), second_path.water(10.0)[0]
    flow = found.flow[0].to("L/min").magnitude
    assert found.lift[0].to("Pa").magnitude == pytest.approx(density * 9.80665 * 3, rel=1e-4)
    assert found.pressure[0].to("kPa").magnitude == pytest.approx(300 * (flow / 6) ** 2 * density / 1000, rel=1e-4)
    bore = house.legs[0].pipe.inside_diameter.to("m").magnitude
    assert found.speed[0].to("m/s").magnitude == pytest.approx(flow / 60_000 / (np.pi / 4 * bore**2))
    told = house.assess().taps[0]
    assert told.pressure.to("kPa").magnitude == pytest.approx(found.pressure[0].to("kPa").magnitude, rel=1e-6)
    assert told.flow.magnitude == pytest.approx(flow, rel=1e-6)


@pytest.mark.parametrize("name", ["bunk_cabin", "template"])
def test_each_tap_alone_is_the_network_with_that_tap_open(name):
    """Two ways to one flow: all taps at once by their paths, and the whole network with one tap."""
    house = load_layout(DATA / "layouts" / f"{name}.toml")
    alone = house.network.alone()
    for number, one in enumerate(house.taps):
        assert house.flows(one.name).flow[number].to("m**3/s").magnitude == pytest.approx(alone[number], rel=1e-6)


# --- heat


def cut_of(house, name):
    return second_path.Cut(house.runs[name])


def air_of(house, name):
    return house.runs[name].surroundings.air.to("degC").magnitude


def kilograms(litres, celsius):
    """Mass flow [kg/s] of litres a minute at a temperature."""
    return litres / 60_000 * float(second_path.water(celsius)[0])


def leaves(house, name, entering, mass):
    """Temperature at the end of a leg in steady flow."""
    return second_path.delivered(
        cut_of(house, name), entering, mass, house.runs[name].length.to("m").magnitude, air_of(house, name), 0.0
    )


@pytest.mark.parametrize("useful", [40, 52])
def test_a_wait_by_laplaces_transform(read, useful):
    """12 m of 3/4 in under foam, then 20 m of bare 1/2 in at 2 degC, 2 L/min: the water that arrives is hardly above 52 degC."""
    legs = [leg("a", "tank", "north", "12 m"), leg("b", "a", "north", "20 m", 'size = "1/2 in"\n' + BARE)]
    house = read(legs, [tap("t", "b", "2 L/min", f"{useful} °C")])
    mass, entering, ladder = kilograms(2, 60.0), 60.0, []
    for name in "ab":
        cut = cut_of(house, name)
        shells = (cut.d + (cut.D - cut.d) * np.array([0, 1, 3, 7]) / 7) / 2
        length = house.runs[name].length.to("m").magnitude
        ladder.append(second_path.Leg(cut, length, entering, mass, air_of(house, name), 0.0, shells))
        entering = ladder[-1].out
    found = house.assess().taps[0]
    assert found.delivered.magnitude == pytest.approx(entering, abs=0.05)
    times = np.linspace(20, 400, 1901)
    wait = times[np.argmax(second_path.tap(ladder, 60.0, 10.0, times) >= useful)]
    assert found.wait.magnitude == pytest.approx(wait, rel=0.01)
    assert found.water_drawn.to("L").magnitude == pytest.approx(found.wait.magnitude * 2 / 60)


BRANCHED = [
    leg("a", "tank", "north", "10 m", BARE),
    leg("v", "a", "north", "6 m", BARE),
    leg("s", "a", "east", "4 m", BARE),
]


@pytest.mark.parametrize("end", ["start", "end"])
def test_a_valve_behind_a_branch(read, end):
    """Before the valve flows the side tap's water and the hot share of the other's, (45 - 10)/(hot - 10)."""
    more = f'[valve]\nsetting = "45 °C"\nleg = "v"\nend = "{end}"'
    house = read(BRANCHED, [tap("mixed", "v", "6 L/min", "38 °C"), tap("side", "s", "3 L/min")], more)
    flows = np.array([[6 / 60_000, 3 / 60_000]])
    steady, share = Heat.of(house).steady(flows, np.array([True])), 1.0
    for _ in range(20):
        mass = kilograms(6 * share + 3, 60.0)
        at_branch = leaves(house, "a", 60.0, mass)
        hot = at_branch if end == "start" else leaves(house, "v", at_branch, kilograms(6 * share, 60.0))
        share = 35 / (hot - 10)
    numbers = {one.name: number for number, one in enumerate(house.legs)}
    a, v, s = (numbers[name] for name in "avs")
    assert steady.leaving[0, a] == pytest.approx(at_branch, abs=0.05)
    assert steady.flow[0, a] * 60_000 == pytest.approx(6 * share + 3, rel=2e-3)
    assert steady.leaving[0, s] == pytest.approx(leaves(house, "s", at_branch, kilograms(3, 60.0)), abs=0.05)
    if end == "start":
        assert steady.entering[0, v] == 45 and steady.flow[0, v] * 60_000 == pytest.approx(6, rel=1e-6)
        assert steady.leaving[0, v] == pytest.approx(leaves(house, "v", 45.0, kilograms(6, 45.0)), abs=0.05)
    else:
        warmed = kilograms(6 * share, 60.0) / float(second_path.water(at_branch)[0])
        assert steady.leaving[0, v] == 45 and steady.flow[0, v] == pytest.approx(warmed, rel=2e-3)
    unmixed = Heat.of(house).steady(flows, np.array([False]))
    assert unmixed.flow[0, a] * 60_000 == pytest.approx(9, rel=1e-6) and unmixed.leaving[0, v] > 45


def test_a_tap_behind_the_valve_waits_twice(read):
    """Until water of the setting reaches the valve, and then until mixed water passes the leg behind it."""
    legs = [leg("a", "tank", "north", "10 m"), leg("b", "a", "north", "5 m")]
    more = '[valve]\nsetting = "45 °C"\nleg = "b"'
    both = read(legs, [tap("t", "b", "4 L/min", "38 °C")], more).assess().taps[0].wait.magnitude
    first = read(legs[:1], [tap("t", "a", "4 L/min", "45 °C")]).assess().taps[0].wait.magnitude
    house = read(legs, [tap("t", "b", "4 L/min")])
    second = house.runs["b"].first_draw(Q_(45, "degC"), Q_(4, "L/min"), Q_(10, "degC"), Q_(38, "degC")).wait
    assert both == pytest.approx(first + second.to("s").magnitude, rel=0.01)


def test_the_slowest_the_hottest_and_the_coldest(read):
    """Of two taps the far one waits longer and gets cooler water; of two bare legs the thinner one freezes first."""
    legs = [
        leg("a", "tank", "north", "2 m"),
        leg("near", "a", "east", "2 m", BARE),
        leg("far", "a", "west", "9 m", 'size = "1/2 in"\n' + BARE),
    ]
    house = read(legs, [tap("close by", "near"), tap("far off", "far", "3 L/min")], crawlspace="-5 °C")
    found = house.assess()
    assert (found.slowest, found.hottest, found.coldest) == ("far off", "close by", "far")
    # both open, each at the flow wanted, for the main gives more than that
    mass = kilograms(9, 60.0)
    at_branch = leaves(house, "a", 60.0, mass)
    for number, (name, litres) in enumerate((("near", 6), ("far", 3))):
        with_others, alone = found.taps[number].delivered_with_others.magnitude, found.taps[number].delivered.magnitude
        assert with_others == pytest.approx(leaves(house, name, at_branch, kilograms(litres, 60.0)), abs=0.05)
        first = leaves(house, "a", 60.0, kilograms(litres, 60.0))
        assert alone == pytest.approx(leaves(house, name, first, kilograms(litres, 60.0)), abs=0.05)
        assert found.taps[number].unmixed.magnitude == alone


# --- frost


@pytest.mark.parametrize("air, word", [(EDGE + 0.05, "no ice this night"), (EDGE - 0.05, ON_THE_EDGE)])
def test_water_that_settles_near_the_edge(read, air, word):
    """A clear sky draws a still pipe 4 K below its air: above that no ice, below it on the edge, though it is above 0."""
    house = read([leg("a", "tank", "north", "5 m", BARE)], [tap("t", "a")], crawlspace=f"{air} °C")
    (found,) = house.assess().legs
    assert np.isinf(found.with_power.value.magnitude) and found.rest.magnitude == pytest.approx(air, abs=1e-3)
    assert found.with_power.word == found.without_power.word == word


def test_tape_that_just_keeps_a_pipe(read):
    """Tape settles where it gives what the pipe loses: 2 % less than 0 degC needs is ice, 2 % more is on the edge."""
    plain = read([leg("a", "tank", "north", "5 m", BARE)], [tap("t", "a")], crawlspace="-10 °C")
    needed = float(second_path.Cut(plain.runs["a"], wall=False).loss(0.0, -10.0)[0])
    for factor, word in ((0.98, ICY), (1.02, ON_THE_EDGE)):
        taped = leg("a", "tank", "north", "5 m", f'{BARE}\ntape = "{factor * needed:.4f} W/m"')
        (found,) = read([taped], [tap("t", "a")], crawlspace="-10 °C").assess().legs
        assert found.with_power.word == word and abs(found.kept.magnitude) < 0.5
        # its power for twelve hours on 5 m, without a cut
        assert found.tape_energy.to("kWh").magnitude == pytest.approx(factor * needed * 5 * 12 / 1000, rel=1e-4)


def test_a_night_with_a_cut(read):
    """Tape gives what holds the pipe for the hours that have power, 12 less 3; without it a leg must last all 12, with it the cut."""
    night = 'air = "-10 °C"\nhours = "12 h"\nhours_without_power = "3 h"'
    legs = [
        leg("a", "tank", "north", "5 m", f'{BARE}\ntape = "20 W/m"'),
        leg("b", "a", "north", "4 m", BARE),
    ]
    house = read(legs, [tap("t", "b")], crawlspace="-6 °C", night=night)
    taped, bare = house.assess().legs
    assert taped.kept == HELD_AT
    holds = float(second_path.Cut(house.runs["a"], wall=False).loss(HELD_AT.to("degC").magnitude, -6.0)[0])
    assert taped.tape_energy.to("kWh").magnitude == pytest.approx(holds * 5 * 9 / 1000, rel=2e-3)
    hours = house.runs["a"].freezing(taped.kept).hours_to_zero.magnitude
    assert taped.without_power.value.magnitude == pytest.approx(hours)
    # points: each leg's missing share of the hours with power and without, over the length; 20 each
    with_power = 1 - bare.with_power.value.magnitude / 12
    short = max(1 - hours / 3, 0.0)
    assert 0 < with_power < 1
    assert score(house).ice == pytest.approx(20 * (4 * 2 * with_power + 5 * short) / 9)


def test_bare_places_under_a_tape_that_is_always_on(read):
    """10 % bare: there 2 degC, by the second path; the covered pipe is warmer. When the power fails the bare places freeze first."""
    foam = 'insulation = "polyethylene foam"\nthickness = "9 mm"\nplace = "crawlspace"\nbare_share = "10 %"'
    plain = read([leg("a", "tank", "north", "5 m", BARE)], [tap("t", "a")], crawlspace="-10 °C")
    power = float(second_path.Cut(plain.runs["a"], wall=False).loss(2.0, -10.0)[0])
    taped = leg("a", "tank", "north", "5 m", f'{foam}\ntape = "{power:.4f} W/m"')
    more = '[tape]\nthermostat = "none"'
    house = read([taped], [tap("t", "a")], crawlspace="-10 °C", more=more)
    (found,) = house.assess().legs
    assert found.bare_kept.magnitude == pytest.approx(2, abs=0.1) and found.kept.magnitude > 5
    assert (found.coldest_kept, found.hottest_kept) == (found.bare_kept, found.kept)
    assert found.with_power.word == ON_THE_EDGE and "the bare places settle at" in found.with_power.reason
    bare = plain.runs["a"].freezing(found.bare_kept).hours_to_zero.magnitude
    assert found.without_power.value.magnitude == pytest.approx(bare, rel=1e-3)
    # one power on all 5 m, through the twelve hours, wherever it lies
    assert found.tape_energy.to("kWh").magnitude == pytest.approx(power * 5 * 12 / 1000, rel=1e-4)


@pytest.mark.parametrize("share, word", [(0.999, "no ice this night"), (1.001, FREEZES)])
def test_a_night_as_long_as_it_takes_to_freeze(read, share, word):
    """Standing water that reaches 0 degC just after the night has no ice in it, and just before its end it has."""
    bare = [leg("a", "tank", "north", "5 m", BARE)], [tap("t", "a")]
    (first,) = read(*bare, crawlspace="-1 °C").assess().legs
    hours = share * first.with_power.value.magnitude
    (found,) = read(*bare, crawlspace="-1 °C", night=f'air = "-10 °C"\nhours = "{hours:.6f} h"').assess().legs
    assert found.with_power.word == found.without_power.word == word


def test_the_coldest_water_of_a_night_with_a_cut(read):
    """Tape holds 4 degC until the power fails 20 min before the end. From there on it falls as it does on its way to 0 degC.

    Under foam the loss goes with the distance from the air: 4 + 6 K shrink to 6 K in the hours that freezing takes, and
    in the 20 min by the same root. Within 0.15 K, for a night reads the loss by straight lines.
    """
    night = 'air = "-10 °C"\nhours = "12 h"\nhours_without_power = "20 min"'
    foam = 'insulation = "polyethylene foam"\nthickness = "9 mm"\nplace = "crawlspace"\ntape = "20 W/m"'
    house = read([leg("a", "tank", "north", "5 m", foam)], [tap("t", "a")], crawlspace="-6 °C", night=night)
    (found,) = house.assess().legs
    hours = house.runs["a"].freezing(HELD_AT).hours_to_zero.magnitude
    cooled = -6 + 10 * (6 / 10) ** (1 / 3 / hours)
    assert 0.5 < cooled < 3.5 and found.lowest_water.magnitude == pytest.approx(cooled, abs=0.15)
    assert float(found.ice_share) == 0


# --- points


def test_points_of_a_poor_tap(read):
    """By HOW_SCORED: at most 30 for a wait, 1 for each kelvin too cool, 1 for every 5 % of the flow that is missing."""
    legs = [leg("a", "tank", "north", "60 m", BARE), leg("b", "a", "north", "30 m", 'size = "3/8 in"\n' + BARE)]
    house = read(legs, [tap("t", "b", "6 L/min", "58 °C")], pressure="60 kPa")
    found, points = house.assess().taps[0], score(house)
    assert np.isinf(found.wait.magnitude) and points.wait == 30
    assert points.cool == pytest.approx(58 - found.delivered.magnitude)
    assert points.flow == pytest.approx(20 * (1 - found.flow_with_others.to("L/min").magnitude / 6)) and points.flow > 1
    assert points.store == points.scald == 0
    assert points.total == pytest.approx(points.wait + points.cool + points.flow + points.ice)
