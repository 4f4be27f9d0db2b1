"""Layouts of whole buildings: the tree, water and heat in it against independent answers, the night, and what to change first."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import root

from lessons_lib import Q_, InputError, Run, load_layout, settles_at, time_to_burn
from lessons_lib.building.changes import score
from lessons_lib.building.heat import Heat
from lessons_lib.building.parts import Valve
from lessons_lib.storage.tables import DATA, rows

LAYOUTS = sorted((DATA / "layouts").glob("*.toml"))
BUILDINGS = ("workshop", "bunk_cabin", "wash_house")
every_layout = pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)


def layout(name):
    return load_layout(DATA / "layouts" / f"{name}.toml")


def a_house(legs: str, taps: str, valve: str = "", pressure="250 kPa") -> str:
    """A small layout as text."""
    return (
        f'name = "x"\n[water]\npressure = "{pressure}"\ncold_inlet = "10 °C"\n[night]\nair = "-10 °C"\nhours = "12 h"\n'
        f'[tank]\nset_temperature = "60 °C"\n{valve}\n[places]\nindoors = "18 °C"\ncrawlspace = "2 °C"\n[usual]\npipe = "copper L"\n'
        f'size = "3/4 in"\ninsulation = "polyethylene foam"\nthickness = "9 mm"\nplace = "indoors"\n{legs}\n{taps}'
    )


def leg(name, start, go, length, more="") -> str:
    return f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length}"\n{more}\n'


def tap(name, on, flow="6 L/min", more="") -> str:
    return f'[[tap]]\nname = "{name}"\nleg = "{on}"\nkind = "sink"\nflow = "{flow}"\nuseful = "40 °C"\n{more}\n'


@pytest.fixture
def read(tmp_path):
    def load(text):
        file = tmp_path / "house.toml"
        file.write_text(text, encoding="utf-8")
        return load_layout(file)

    return load


# --- what the files are


@every_layout
def test_every_layout_says_that_it_is_invented_and_can_be_assessed(path):
    assert "INVENTED" in path.read_text(encoding="utf-8")
    found = load_layout(path).assess()
    for one in found.taps:
        assert one.tap.word == "hot enough" and 0 < one.wait.magnitude < 300
    assert found.store.word == "stored hot" and "local code" in found.caution


def test_the_three_buildings_and_the_loop():
    assert {path.stem for path in LAYOUTS} == {*BUILDINGS, "template"}
    assert [layout(name).loop is not None for name in BUILDINGS] == [True, False, False]


def test_both_unit_systems_in_one_file(read):
    text = a_house(leg("a", "tank", "north", "10 ft"), tap("t", "a"))
    metric = a_house(leg("a", "tank", "north", "3.048 m"), tap("t", "a"))
    mixed = [read(one).assess().taps[0].delivered.magnitude for one in (text, metric)]
    assert mixed[0] == pytest.approx(mixed[1], abs=1e-9)


@pytest.mark.parametrize("name", ["bunk_cabin", "template", "wash_house"])
def test_showers_that_came_with_the_workbook_are_behind_a_valve_at_skin_temperature(name):
    """41 to 43 °C: 44 °C and more scalds children within the hour of the tables; the tank stays hot for all that."""
    house = layout(name)
    setting = house.valve.setting.to("degC").magnitude
    assert 41 <= setting <= 43 and all(behind for behind in house.behind_valve)
    gentle = ("low scald risk", "hot for children")
    assert all(one.delivered.magnitude <= 43 and one.scald.word in gentle for one in house.assess().taps)


# --- water: continuity, and an independent solution of the whole network


def friction(reynolds, rough):
    """Darcy friction factor, written anew: Churchill (1977), the law that the library states."""
    a = (-2.457 * np.log((7 / reynolds) ** 0.9 + 0.27 * rough)) ** 16
    b = (37530 / reynolds) ** 16
    return 8 * ((8 / reynolds) ** 12 + 1 / (a + b) ** 1.5) ** (1 / 12)


def solved_apart(house, open_taps):
    """Flow of each leg [m3/s] and pressure at its end [Pa] by a general root finder: one unknown pressure an end, one flow a leg.

    Written from the pieces of the layout: nothing of the library's network is used.
    """
    legs, number = house.legs, {leg.name: n for n, leg in enumerate(house.legs)}
    density, viscosity = (getattr(house.network.properties, name) for name in ("density", "viscosity"))
    height = {"tank": 0.0}
    for one in sorted(legs, key=lambda one: len(house.tree.path(number[one.name]))):
        rise = {"up": 1, "down": -1}.get(one.go, 0) * one.length.to("m").magnitude
        height[one.name] = height[one.start] + rise
    tap_on = {t.leg: t for t in house.taps}
    bore = np.array([one.pipe.inside_diameter.to("m").magnitude for one in legs])
    rough = np.array([one.pipe.roughness.to("m").magnitude for one in legs])
    long = np.array([one.length.to("m").magnitude for one in legs])
    long = long + [house.runs[one.name].fittings.equivalent_length(one.pipe).to("m").magnitude for one in legs]
    scale_flow, scale_pressure = 1e-4, 1e5

    def misses(unknown):
        flow, end = unknown[: len(legs)] * scale_flow, unknown[len(legs) :] * scale_pressure
        found = []
        for n, one in enumerate(legs):
            start = house.pressure.to("Pa").magnitude if one.start == "tank" else end[number[one.start]]
            moving = max(abs(flow[n]), 1e-12) / (np.pi * bore[n] ** 2 / 4)
            factor = friction(density * moving * bore[n] / viscosity, rough[n] / bore[n])
            lost = np.sign(flow[n]) * factor * long[n] / bore[n] * density * moving**2 / 2
            lift = density * 9.80665 * (height[one.name] - height[one.start])
            found.append((start - end[n] - lost - lift) / scale_pressure)
            if one.name in tap_on:
                t = tap_on[one.name]
                wanted, stated = t.flow.to("m**3/s").magnitude, t.pressure.to("Pa").magnitude
                passes = wanted * np.sqrt(max(end[n], 0) / (stated * density / 1000)) if t.name in open_taps else 0.0
                found.append((flow[n] - passes) / scale_flow)
            else:
                found.append((flow[n] - sum(flow[number[c.name]] for c in legs if c.start == one.name)) / scale_flow)
        return found

    start = np.r_[np.full(len(legs), 0.5), np.full(len(legs), 2.0)]
    answer = root(misses, start, method="hybr", tol=1e-12)
    if not answer.success:
        answer = root(misses, start, method="lm", tol=1e-14)
    assert np.max(np.abs(answer.fun)) < 1e-7, answer.message
    return answer.x[: len(legs)] * scale_flow, answer.x[len(legs) :] * scale_pressure


@pytest.mark.parametrize("name", [*BUILDINGS, "template"])
def test_flows_against_an_independent_solution(name):
    """Flows within 0.1 %, pressures at the taps within 0.1 kPa; for all taps open and for each alone."""
    house = layout(name)
    names = [t.name for t in house.taps]
    for open_taps in (names, *([one] for one in names)):
        flow, end = solved_apart(house, open_taps)
        found = house.flows(open_taps)
        assert found.leg_flow.to("m**3/s").magnitude == pytest.approx(flow, rel=1e-3, abs=1e-8)
        for n, leg_number in enumerate(house.tap_legs):
            if names[n] in open_taps:
                assert found.pressure[n].to("kPa").magnitude == pytest.approx(end[leg_number] / 1000, abs=0.1)


@pytest.mark.parametrize("name", [*BUILDINGS, "template"])
def test_continuity_and_every_path_adds_up(name):
    house = layout(name)
    found = house.flows()
    for n in range(len(house.legs)):
        fed = (
            sum(found.leg_flow[c] for c in house.tree.children[n])
            if house.tree.children[n]
            else found.flow[house.tap_legs.index(n)]
        )
        assert found.leg_flow[n].magnitude == pytest.approx(fed.magnitude, rel=1e-12)
    for n, end in enumerate(house.tap_legs):
        spent = sum(found.leg_loss[one] for one in house.tree.path(end)) + found.lift[n] + found.pressure[n]
        assert spent.to("kPa").magnitude == pytest.approx(house.pressure.to("kPa").magnitude, abs=0.1)


def test_alone_is_the_single_run(read):
    house = read(a_house(leg("a", "tank", "north", "8 m") + leg("b", "a", "up", "2 m"), tap("t", "b")))
    density = house.network.properties.density
    alone = house.network.alone()[0]
    assert alone == pytest.approx(house.flows().flow[0].to("m**3/s").magnitude, rel=1e-8)
    lost = sum(house.runs[name].pressure_drop(Q_(alone, "m**3/s"), Q_(10, "degC")).to("Pa").magnitude for name in "ab")
    at_tap = 3e5 * (alone / 1e-4) ** 2 * density / 1000
    assert lost + at_tap + density * 9.80665 * 2 == pytest.approx(250e3, rel=1e-6)


def test_a_tap_too_high_gets_nothing_and_takes_nothing(read):
    text = a_house(
        leg("a", "tank", "east", "5 m") + leg("low", "a", "east", "2 m") + leg("high", "a", "up", "40 m"),
        tap("low tap", "low") + tap("high tap", "high"),
    )
    house = read(text)
    found = house.flows()
    assert found.flow[1].magnitude == 0 and found.flow[0].magnitude == pytest.approx(
        house.flows(["low tap"]).flow[0].magnitude, rel=1e-6
    )
    assert house.assess().tap("high tap").tap.word == "no water"
    assert np.isinf(house.assess().tap("high tap").wait.magnitude)


def test_a_greedy_tap_below_can_leave_one_above_dry(read):
    """It has pressure while alone, and none once the other draws: nothing flows back."""
    text = a_house(
        leg("a", "tank", "east", "60 m", 'size = "3/8 in"')
        + leg("low", "a", "east", "1 m")
        + leg("high", "a", "up", "12 m"),
        tap("low tap", "low", "60 L/min") + tap("high tap", "high"),
    )
    house = read(text)
    assert house.flows(["high tap"]).flow[1].magnitude > 1
    both = house.flows()
    assert both.flow[1].magnitude == 0 and both.flow[0].magnitude > 1


def test_unknown_and_no_open_taps():
    with pytest.raises(InputError, match='"shower"'):
        layout("bunk_cabin").flows(["showr"])
    with pytest.raises(InputError, match="none was named"):
        layout("bunk_cabin").flows([])


# --- heat


def test_series_legs_are_a_single_equal_run(read):
    """Twelve legs of one pipe, straight on, against one run of their whole length: 0.01 K, and 1 % of the wait."""
    names = ["tank", *(f"leg {n}" for n in range(12))]
    house = read(
        a_house(
            "".join(leg(name, before, "north", "2.5 m") for before, name in zip(names, names[1:])), tap("t", names[-1])
        )
    )
    found = house.assess().taps[0]
    first = house.runs["leg 0"]
    whole = Run(first.pipe, Q_(30, "m"), first.insulation, first.surroundings)
    flow = min(found.flow, Q_(6, "L/min"))
    assert found.delivered.magnitude == pytest.approx(
        whole.delivery_temperature(Q_(60, "degC"), flow).magnitude, abs=0.01
    )
    single = whole.first_draw(Q_(60, "degC"), flow, Q_(10, "degC"))
    assert found.wait.magnitude == pytest.approx(single.wait.magnitude, rel=0.01)
    assert found.water_drawn.magnitude == pytest.approx(single.water_drawn.magnitude, rel=0.01)


@pytest.mark.parametrize("name", ["workshop", "wash_house", "template"])
def test_many_taps_at_once_are_each_the_series_of_its_legs(name):
    """Valve on the tank's outlet: mixed water enters the series. 0.01 K; 2 % of the wait, whose cells are shared by all taps."""
    house = layout(name)
    found = house.assess()
    for one, reading, end in zip(house.taps, found.taps, house.tap_legs):
        series = Run.series([house.runs[house.legs[n].name] for n in house.tree.path(end)])
        flow = min(reading.flow, one.flow)
        assert reading.delivered.magnitude == pytest.approx(
            series.delivery_temperature(house.valve.setting, flow).to("degC").magnitude, abs=0.01
        )
        assert reading.unmixed.magnitude == pytest.approx(
            series.delivery_temperature(house.set_temperature, flow).to("degC").magnitude, abs=0.01
        )
        draw = series.first_draw(house.valve.setting, flow, house.cold_inlet, one.useful)
        assert reading.wait.magnitude == pytest.approx(draw.wait.magnitude, rel=0.02)
        assert reading.scald.value.magnitude == pytest.approx(time_to_burn(reading.delivered).seconds.magnitude)


def test_a_shared_leg_carries_the_flow_of_all_taps_beyond_it(read):
    legs = leg("a", "tank", "north", "20 m") + leg("l", "a", "west", "3 m") + leg("r", "a", "east", "5 m")
    text = a_house(legs, tap("left", "l", "4 L/min") + tap("right", "r", "5 L/min"))
    house = read(text)
    found, flows = house.assess(), house.flows()
    used = [min(flows.flow[n], t.flow) for n, t in enumerate(house.taps)]
    middle = house.runs["a"].delivery_temperature(house.set_temperature, used[0] + used[1])
    table = rows("water")
    kelvin = [float(row["temperature"]) for row in table], [float(row["density"]) for row in table]
    lighter = np.interp(60.0, *kelvin) / np.interp(
        middle.magnitude, *kelvin
    )  # the mass is one, the volume follows the density
    for n, name in enumerate("lr"):
        flow = used[n] * lighter
        assert found.taps[n].delivered_with_others.magnitude == pytest.approx(
            house.runs[name].delivery_temperature(middle, flow).magnitude, abs=0.01
        )
        assert found.taps[n].delivered_with_others > found.taps[n].delivered


def test_only_the_hot_share_flows_before_the_valve(read):
    """By hand: the leg before the valve carries (setting - cold)/(hot - cold) of the tap's flow."""
    text = a_house(
        leg("a", "tank", "north", "25 m") + leg("b", "a", "north", "4 m"),
        tap("t", "b"),
        '[valve]\nsetting = "45 °C"\nleg = "b"',
    )
    house = read(text)
    flow, share = min(house.flows().flow[0], Q_(6, "L/min")), 1.0
    for _ in range(20):
        hot = house.runs["a"].delivery_temperature(house.set_temperature, share * flow).magnitude
        share = (45 - 10) / (hot - 10)
    steady = Heat.of(house).steady(np.array([[flow.to("m**3/s").magnitude]]), np.array([True]))
    assert steady.leaving[0, 0] == pytest.approx(hot, abs=0.05)  # the share stands to 0.1 %
    assert steady.entering[0, 1] == 45
    found = house.assess().taps[0]
    assert found.delivered.magnitude == pytest.approx(
        house.runs["b"].delivery_temperature(Q_(45, "degC"), flow).magnitude, abs=0.01
    )
    assert found.behind_valve and found.unmixed > found.delivered


def test_where_the_valve_sits_decides_who_is_protected():
    house = layout("template")
    none, behind = (
        replace(house, valve=None).assess(),
        replace(house, valve=Valve(Q_(45, "degC"), "shower riser", "end")).assess(),
    )
    assert none.tap("shower").scald.word == "scalds in seconds"
    assert (
        behind.tap("shower").delivered.magnitude == pytest.approx(45)
        and behind.tap("kitchen sink").scald.word == "scalds in seconds"
    )
    assert not behind.tap("kitchen sink").behind_valve
    # A valve at the tap keeps the whole way hot: it waits no longer than the plain run.
    assert behind.tap("shower").wait.magnitude == pytest.approx(none.tap("shower").wait.magnitude, rel=0.02)


def test_a_valve_that_gets_too_little_heat_passes_it_on(read):
    legs = leg("a", "tank", "north", "60 m", 'insulation = "none"\nplace = "crawlspace"') + leg(
        "b", "a", "north", "2 m"
    )
    text = a_house(legs, tap("t", "b", "1 L/min"), '[valve]\nsetting = "58 °C"\nleg = "b"')
    found = read(text).assess().taps[0]
    assert (
        found.delivered.magnitude == pytest.approx(found.unmixed.magnitude, abs=0.01) and found.delivered.magnitude < 58
    )


def test_slow_water_freezes_on_its_cold_side(read):
    """Where only the film of slow water keeps it from freezing the word is ice, with and without a valve, as of a Run."""
    bare = 'pipe = "copper L"\nsize = "1/2 in"\ninsulation = "none"\nplace = "outdoors"'
    gale = ('air = "-10 °C"', 'air = "-25 °C"\nwind = "12 m/s"')
    for metres, word in ((12, "freezes in the run"), (7, "cold")):
        house = read(a_house(leg("a", "tank", "north", f"{metres} m", bare), tap("t", "a", "0.5 L/min")).replace(*gale))
        asked = house.set_temperature, house.flows().flow[0]
        assert np.isinf(house.runs["a"].deliver(*asked).ice_distance)
        assert (house.runs["a"].ice_distance(*asked) < Q_(metres, "m")) == (word == "freezes in the run")
        found = house.assess().taps[0]
        assert found.tap.word == word and found.delivered > Q_(2, "degC")
    legs = leg("a", "tank", "north", "2 m") + leg("b", "a", "north", "12 m", bare)
    text = a_house(legs, tap("t", "b", "0.5 L/min"), '[valve]\nsetting = "50 °C"\nleg = "b"').replace(*gale)
    assert read(text).assess().taps[0].tap.word == "freezes in the run"


# --- the night


def test_tape_holds_with_power_and_stores_no_heat():
    house = layout("bunk_cabin")
    gap = house.assess().leg("out of the workshop")
    assert (
        gap.with_power.word == "ice with the tape on"
        and gap.with_power.value.magnitude == gap.without_power.value.magnitude == 0
    )
    house = replace(house, legs=tuple(replace(one, bare_share=0.0) for one in house.legs))
    found = house.assess()
    taped, bare = found.leg("out of the workshop"), found.leg("under the bunks")
    assert (
        np.isinf(taped.with_power.value.magnitude)
        and taped.without_power.word == "can freeze"
        and taped.bare_kept is None
    )
    run = house.runs[taped.leg]
    assert house.tape_supply.thermostat is None and taped.kept.magnitude == pytest.approx(
        settles_at(run, house.legs[0].tape).magnitude
    )
    assert taped.without_power.value.magnitude == pytest.approx(run.freezing(taped.kept).hours_to_zero.magnitude)
    # the tape at 17.05 °C, 11 h of power on 15.3 m, by hand: 10 - 12.05 x 6/40 = 8.19 W/m; 8.19 x 15.3 x 11 / 1000
    assert taped.tape_energy.to("kWh").magnitude == pytest.approx(1.379, rel=2e-3)
    assert bare.with_power.value.magnitude == pytest.approx(
        house.runs[bare.leg].freezing(house.cold_inlet).hours_to_zero.magnitude
    )
    # 15 m and 0.3 m for the ball valve, by hand; 10.15 W/m at 4 °C on the line through (5, 10) and (45, 4): 10 + 1 x 6/40
    assert taped.plan.tape_length.to("m").magnitude == pytest.approx(15.3)
    assert taped.circuit.load.to("A").magnitude == pytest.approx(10.15 * 15.3 / 120)
    assert {leg.leg for leg in found.legs} == {
        "out of the workshop",
        "up the slope",
        "under the porch",
        "under the bunks",
    }
    assert "stores no heat" in taped.caution and "electrician" in taped.circuit.caution


def test_loop_legs_stand_only_without_power():
    found = layout("workshop").assess()
    assert len(found.legs) == 4 and all(np.isinf(leg.with_power.value.magnitude) for leg in found.legs)
    assert all(leg.without_power.word == "can freeze" for leg in found.legs)
    loop = found.loop
    assert 50 < loop.arrives.magnitude < 60 and 0 < loop.lost_share < 0.5
    # 2 L/min of water at 60 °C, 983.2 kg/m3 and 4.185 kJ/(kg K), cooled by 10 K
    assert loop.heat.to("W").magnitude == pytest.approx(2 / 60_000 * 983.2 * 4185 * 10, rel=1e-3)


def test_a_buried_leg_is_not_answered(read):
    text = a_house(leg("a", "tank", "north", "5 m", 'place = "buried"'), tap("t", "a"))
    house = read(text.replace("[usual]", 'buried = "1 °C"\ndepth = "0.8 m"\n[usual]'))
    found = house.assess()
    one = found.legs[0]
    assert one.with_power.word == "not answered" and found.coldest is None
    assert one.rest is one.lowest_water is one.ice_share is one.bare_hold_power is None
    assert one.hold_power == house.runs["a"].hold_power(house.tape_supply.hold) and one.hold_power.magnitude > 0


@pytest.mark.parametrize("size, wind", [("1/2 in", "5 m/s"), ("3/8 in", "15 m/s")])
def test_no_leg_gets_colder_than_the_air(read, size, wind):
    """Bare pipe that freezes through within one step of the night: ice that is complete takes no more heat of freezing."""
    bare = f'place = "outdoors"\nsize = "{size}"\ninsulation = "none"'
    text = a_house(leg("a", "tank", "north", "5 m", bare), tap("t", "a"))
    frost = text.replace('air = "-10 °C"\nhours = "12 h"', f'air = "-20 °C"\nhours = "12 h"\nwind = "{wind}"')
    (found,) = read(frost).assess().legs
    assert -20 - 1e-9 <= found.lowest_water.magnitude < -19 and found.ice_share == 1


# --- what to change first


def test_a_missing_valve_is_the_first_thing_to_change():
    house = replace(layout("workshop"), valve=None)
    first = house.first_changes(1)[0]
    assert first.words.startswith("a mixing valve set to 42 °C (108 °F) at the tank's outlet")
    assert first.before.scald > 0 and first.after.scald == 0


def test_a_cool_store_counts():
    house = replace(layout("wash_house"), set_temperature=Q_(50, "degC"))
    assert score(house).store == pytest.approx(10)
    first = house.first_changes()
    assert len(first) <= 3 and any("tank set to 60 °C" in one.words for one in first)


def test_score_by_hand(read):
    """One tap, nothing cold: its wait over 10 s, what it lacks in flow over 5 %, 2 points a kelvin above 48.9 °C."""
    house = read(a_house(leg("a", "tank", "north", "10 m"), tap("t", "a")))
    found, points = house.assess().taps[0], score(house)
    assert points.wait == pytest.approx(found.wait.magnitude / 10)
    assert points.flow == pytest.approx((1 - found.flow_with_others.magnitude / 6) * 20)
    assert points.scald == pytest.approx(2 * (found.delivered.magnitude - 48.9))
    assert points.cool == points.ice == points.store == 0


@pytest.mark.parametrize("floors", [3, 25])
def test_a_tall_house_with_all_taps_open(floors, read):
    """Whoever has water: the path adds up. Whoever has none: the pressure left at the end of the leg does not lift it."""
    legs, taps, riser = "", "", "tank"
    for floor in range(floors):
        legs += leg(f"up {floor}", riser, "up", "1 m") + leg(
            f"off {floor}", f"up {floor}", "east", f"{1 + floor % 3} m", 'size = "1/2 in"'
        )
        legs += leg(f"end {floor}", f"up {floor}", "west", "1 m", 'size = "1/2 in"') if floor == floors - 1 else ""
        taps += tap(f"tap {floor}", f"off {floor}")
        riser = f"up {floor}"
    house = read(a_house(legs, taps + tap("last", f"end {floors - 1}"), pressure="200 kPa"))
    found = house.flows()
    for n, end in enumerate(house.tap_legs):
        left = (
            (house.pressure - sum(found.leg_loss[one] for one in house.tree.path(end)) - found.lift[n])
            .to("kPa")
            .magnitude
        )
        if found.flow[n].magnitude > 0:
            assert left == pytest.approx(found.pressure[n].to("kPa").magnitude, abs=0.1)
        else:
            assert left <= 0.1
    assert (found.flow.magnitude == 0).any() == (floors == 25)


def test_push_elbows_lose_what_was_measured_of_them():
    """A solder elbow loses as much as 30 bores of pipe, a push elbow as much as 50."""
    names = {
        joint: {
            name
            for leg in layout(house).all_legs
            if leg.joint == joint
            for name, _ in layout(house).runs[leg.name].fittings.counts
        }
        for house, joint in (("template", "push"), ("workshop", "solder"))
    }
    assert "push elbow" in names["push"] and "elbow 90" not in names["push"]
    assert "push elbow" not in names["solder"] and "elbow 90" in names["solder"]
