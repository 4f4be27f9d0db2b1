"""Which changes a building gives rise to, where, and how far the trying is: small houses whose ideas can be listed by hand."""

from dataclasses import replace

import pytest

from lessons_lib import Q_, InputError, load_layout
from lessons_lib.building.changes import all_ideas, first_changes, score, trying
from lessons_lib.building.parts import Valve
from lessons_lib.runs.pipe import sizes
from lessons_lib.storage.tables import DATA


def layout(name):
    return load_layout(DATA / "layouts" / f"{name}.toml")


def ideas(house, subject: str) -> list:
    return [idea for idea in all_ideas(house) if idea.subject[0] == subject]


def one_leg(built, more=""):
    return built([("a", "tank", "north", "6 m", more)], [("t", "a", "6 L/min")])


@pytest.mark.parametrize(
    "has, next_sold",
    [
        ("3/8 in", 13),
        ("9 mm", 13),
        ("1/2 in", 19),
        ("13 mm", 19),
        ("3/4 in", 25),
        ("1 in", 32),
        ("1 1/4 in", 38),
        ("1 1/2 in", 50),
        ("38 mm", 50),
        ("2 in", None),
    ],
)
def test_the_next_thickness_that_is_sold(built, has, next_sold):
    """Half an inch is sold as 13 mm, three quarters as 19, and so on: the next is one step up and of the same foam."""
    found = ideas(one_leg(built, f'thickness = "{has}"'), "insulation")
    if next_sold is None:
        assert found == []
        return
    (idea,) = found
    (make,) = idea.spots.values()
    covering = make(one_leg(built)).legs[0].insulation
    assert covering.thickness.to("mm").magnitude == next_sold and covering.material == "polyethylene foam"
    assert idea.what.startswith(f"polyethylene foam of {next_sold} mm")


def test_a_bare_pipe_gets_the_thinnest_foam(built):
    (idea,) = ideas(one_leg(built, 'insulation = "none"'), "insulation")
    ((words, make),) = idea.spots.items()
    covering = make(one_leg(built, 'insulation = "none"')).legs[0].insulation
    assert (covering.material, covering.thickness.to("mm").magnitude) == ("elastomeric foam", 13)
    assert words == "on leg 1 indoors where the pipe is bare"


def test_insulation_is_one_idea_for_each_foam_and_thickness_and_one_spot_for_each_place(built):
    """Two places with one foam: one idea at two spots. Another thickness: an idea of its own. Each leg stands once."""
    legs = [
        ("a", "tank", "north", "3 m", ""),
        ("b", "a", "north", "3 m", 'place = "crawlspace"'),
        ("c", "b", "north", "3 m", 'place = "crawlspace"\nthickness = "20 mm"'),
        ("d", "c", "north", "3 m", 'place = "outdoors"\nthickness = "20 mm"'),
    ]
    house = built(legs, [("t", "d", "6 L/min")])
    found = {idea.subject: idea for idea in ideas(house, "insulation")}
    assert set(found) == {("insulation", 13.0), ("insulation", 25.0)}
    thin, thick = found["insulation", 13.0], found["insulation", 25.0]
    assert [words.split(" instead")[0] for words in thin.spots] == ["on leg 1 indoors", "on leg 2 in the crawlspace"]
    assert [words.split(" instead")[0] for words in thick.spots] == ["on leg 3 in the crawlspace", "on leg 4 outdoors"]
    changed = thick.spots["on leg 3 in the crawlspace instead of 20 mm (0.79 in)"](house)
    assert [leg.insulation.thickness.magnitude for leg in changed.legs] == [9, 9, 25, 20]


@pytest.mark.parametrize("size, others", [(0, [1]), (2, [1, 3]), (-1, [-2])])
def test_one_size_smaller_and_larger_where_there_is_one(built, size, others):
    ladder = sizes("copper L")
    house = one_leg(built, f'size = "{ladder[size]}"')
    made = [make(house).legs[0].size for idea in ideas(house, "copper L") for make in idea.spots.values()]
    assert made == [ladder[other] for other in others]


def test_a_tube_of_another_wall_is_no_other_size(built):
    """From 15 mm up the next is 18 mm and down 12 mm, whatever walls a table lists beside them; of a thin tube its own is kept."""
    plain = one_leg(built, 'pipe = "copper EN 1057"\nsize = "15 mm"\njoint = "solder"')
    made = [make(plain).legs[0].size for idea in ideas(plain, "copper EN 1057") for make in idea.spots.values()]
    assert made == ["12 mm", "18 mm"]


def test_only_legs_of_one_pipe_change_their_size(built):
    """The legs of the wider pipe stay: each pipe is an idea of its own, and what is narrower is said to be smaller."""
    legs = [("a", "tank", "north", "3 m", ""), ("b", "a", "north", "3 m", 'size = "1/2 in"')]
    house = built(legs, [("t", "b", "6 L/min")])
    found = {idea.what: idea for idea in ideas(house, "copper L")}
    bores = {}
    for what, idea in found.items():
        ((words, make),) = idea.spots.items()
        bores[what.split(":")[0], words] = [
            changed.pipe.inside_diameter.to("mm").magnitude - leg.pipe.inside_diameter.to("mm").magnitude
            for changed, leg in zip(make(house).legs, house.legs)
        ]
    assert len(bores) == 4
    for (what, words), (first, second) in bores.items():
        changed, same = (first, second) if words == "on leg 1" else (second, first)
        assert same == 0 and (changed < 0) == (what == "one size smaller") and changed != 0


def test_bare_places_are_closed_place_by_place(built):
    """Where only one share is left bare it is named, else the largest; a pipe without insulation has no bare places."""
    legs = [
        ("a", "tank", "north", "3 m", 'place = "outdoors"\nbare_share = "2 %"'),
        ("b", "a", "north", "3 m", 'place = "outdoors"\nbare_share = "7 %"'),
        ("c", "b", "north", "3 m", 'place = "crawlspace"\nbare_share = "5 %"'),
        ("d", "c", "north", "3 m", 'place = "crawlspace"\ninsulation = "none"'),
        ("e", "d", "north", "3 m", ""),
    ]
    house = built(legs, [("t", "e", "6 L/min")])
    (idea,) = ideas(house, "gaps")
    assert list(idea.spots) == [
        "on leg 3 in the crawlspace, 5 % of the length",
        "on legs 1–2 outdoors, up to 7 % of the length",
    ]
    crawlspace, outdoors = (make(house) for make in idea.spots.values())
    assert [leg.bare_share for leg in crawlspace.legs] == pytest.approx([0.02, 0.07, 0, 0, 0])
    assert [leg.bare_share for leg in outdoors.legs] == pytest.approx([0, 0, 0.05, 0, 0])
    assert idea.at_once and ideas(one_leg(built), "gaps") == []


# --- valve, tape and tank


def branches(built, taps=2, more=""):
    """A main with a tap off each of its legs."""
    legs, last = [], "tank"
    for n in range(taps):
        legs += [(f"m{n}", last, "north", "1 m", more)]
        legs += [(f"t{n}", f"m{n}", "east", "1 m", "")] if n < taps - 1 else []
        last = f"m{n}"
    ends = [f"t{n}" for n in range(taps - 1)] + [last]
    return built(legs, [(f"tap {end}", end, "3 L/min") for end in ends])


def test_where_a_mixing_valve_can_sit(built):
    """At the outlet, if one leg leaves the tank, and at each of the first six taps; where it sits already is no change."""
    house = branches(built, 8)
    (idea,) = ideas(house, "valve")
    assert len(idea.spots) == 1 + 6 and list(idea.spots)[0] == "at the tank's outlet" and not idea.at_once
    assert idea.what == "a mixing valve set to 42 °C (108 °F)"
    put = [make(house).valve for make in idea.spots.values()]
    assert [(one.leg, one.end) for one in put] == [("m0", "start")] + [(tap.leg, "end") for tap in house.taps[:6]]
    assert {one.setting.magnitude for one in put} == {42}
    with_one = replace(house, valve=Valve(Q_(45, "degC"), "t1", "end"))
    (moved,) = ideas(with_one, "valve")
    assert moved.what == "the mixing valve moved, to sit" and len(moved.spots) == 6
    assert 'at the tap "tap t1"' not in moved.spots
    assert {make(with_one).valve.setting.magnitude for make in moved.spots.values()} == {45}


def test_two_legs_from_the_tank_have_no_common_outlet(built):
    legs = [("a", "tank", "north", "3 m", ""), ("b", "tank", "east", "3 m", "")]
    house = built(legs, [("one", "a", "6 L/min"), ("two", "b", "6 L/min")])
    (idea,) = ideas(house, "valve")
    assert list(idea.spots) == ['at the tap "one"', 'at the tap "two"']


def test_a_valve_is_tried_where_the_tank_is_warm_enough_for_it(built):
    """42 °C needs a tank of 42 °C or more."""
    for tank, there in ((41.9, False), (42, True), (43, True)):
        house = replace(one_leg(built), set_temperature=Q_(tank, "degC"))
        assert bool(ideas(house, "valve")) == there


def test_a_valve_is_set_lower_only_where_it_is_above_what_codes_ask(built):
    house = one_leg(built)
    for setting, there in ((41, False), (42, False), (43, True), (55, True)):
        with_one = replace(house, valve=Valve(Q_(setting, "degC"), "a", "start"))
        found = ideas(with_one, "setting")
        assert bool(found) == there
        for idea in found:
            (make,) = idea.spots.values()
            lower = make(with_one).valve
            assert (lower.setting.to("degC").magnitude, lower.leg, lower.end) == (42, "a", "start")


def test_no_valve_is_set_below_what_a_tap_behind_it_wants(built):
    """A bath at 44 °C, behind a valve of 45: lower it to 42 and the bath is never warm enough, so that is not tried."""
    house = replace(one_leg(built), valve=Valve(Q_(45, "degC"), "a", "start"))
    for useful, possible in ((41, True), (42, True), (44, False)):
        wants = replace(house, taps=tuple(replace(tap, useful=Q_(useful, "degC")) for tap in house.taps))
        (idea,) = ideas(wants, "setting")
        (make,) = idea.spots.values()
        if possible:
            assert make(wants).valve.setting.to("degC").magnitude == 42
        else:
            with pytest.raises(InputError, match="hotter"):
                make(wants)


def test_tape_goes_on_cold_legs_that_have_none(built):
    """Not in a heated room and not in the ground; 10 W/m."""
    legs = [
        ("a", "tank", "north", "3 m", ""),
        ("b", "a", "north", "3 m", 'place = "crawlspace"'),
        ("c", "b", "north", "3 m", 'place = "outdoors"'),
        ("d", "c", "north", "3 m", 'place = "outdoors"\ntape = "15 W/m"'),
    ]
    house = built(legs, [("t", "d", "6 L/min")])
    (idea,) = ideas(house, "tape")
    assert list(idea.spots) == ["on leg 2 in the crawlspace", "on leg 3 outdoors"] and idea.at_once
    taped = idea.spots["on leg 3 outdoors"](house)
    assert [leg.tape and leg.tape.points[0][1] for leg in taped.legs] == [None, None, 10, 15]
    assert idea.what.startswith("heat tape of 10.0 W/m (3.0 W/ft)") and ideas(one_leg(built), "tape") == []


@pytest.mark.parametrize(
    "tank, useful, valve, there",
    [
        (60, 40, None, False),
        (59.6, 40, None, False),
        (60.4, 40, None, False),
        (59.4, 40, None, True),
        (60.6, 40, None, True),
        (70, 60, None, True),
        (70, 62, None, False),  # a tap that wants 62 °C keeps its hotter tank
        (70, 40, 60, True),
        (70, 40, 61, False),  # so does a valve
    ],
)
def test_the_tank_goes_to_what_guidance_asks_where_taps_and_valve_allow_it(built, tank, useful, valve, there):
    house = one_leg(built)
    house = replace(
        house,
        set_temperature=Q_(tank, "degC"),
        taps=tuple(replace(tap, useful=Q_(useful, "degC")) for tap in house.taps),
        valve=valve and Valve(Q_(valve, "degC"), "a", "start"),
    )
    found = ideas(house, "tank")
    assert bool(found) == there
    assert all(make(house).set_temperature.to("degC").magnitude == 60 for one in found for make in one.spots.values())


# --- points and progress


def test_ice_of_a_loop_counts_while_the_power_is_off():
    """The circulator keeps the loop's legs with power; the rest by hand: the share of the cut that is missing, by length."""
    house = layout("workshop")
    found, hours = house.assess(), house.night.without_power.to("h").magnitude
    missing = total = 0.0
    for leg in house.loop.legs:
        if leg.place != "indoors":
            lasts = found.leg(leg.name).without_power.value.to("h").magnitude
            missing += leg.metres * max(1 - lasts / hours, 0)
            total += leg.metres
    assert 0 < missing < total and {leg.place for leg in house.legs} == {"indoors"}
    assert score(house).ice == pytest.approx(20 * missing / total)


def test_how_far_the_trying_is_goes_up_by_one_share_a_trial(built):
    """Each spot is one trial, all spots of an idea that helps at several are one, and so is each two of the best six."""
    legs = [
        ("a", "tank", "north", "8 m", 'place = "crawlspace"'),
        ("b", "a", "north", "8 m", 'place = "outdoors"\nbare_share = "5 %"'),
    ]
    house = built(legs, [("t", "b", "6 L/min")])
    found = list(all_ideas(house))
    spots, several = sum(len(idea.spots) for idea in found), sum(idea.at_once and len(idea.spots) > 1 for idea in found)
    assert (len(found), spots, several) == (6, 9, 2)  # sizes 2, foam, gaps, valve at the tank or the tap, tape
    for pairs, trials in ((0, spots + several), (3, spots + several + 6 * 5 // 2)):
        steps = [step.share * trials for step in trying(house, 3, pairs)]
        assert steps[0] == 0 and steps[-1] == pytest.approx(trials)
        assert all(step == pytest.approx(round(step)) for step in steps)
        assert len(steps) == 2 + trials - several and (not pairs or steps[-2] == pytest.approx(trials))


def test_no_pair_of_two_changes_of_one_thing(built):
    """A pipe is not made smaller and larger, nor the only mixing valve put in two places."""
    house = one_leg(built, 'place = "outdoors"')
    pairs = first_changes(house, 0, 99)
    assert len(pairs) > 2
    for pair in pairs:
        one, two = (half.words for half in pair.alone)
        assert one.split()[:2] != two.split()[:2]  # one size …, a mixing …
