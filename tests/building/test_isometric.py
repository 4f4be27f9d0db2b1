"""The isometric sketch: where its lines lie, by hand; its words for who cannot see it; labels that keep off each other."""

import re
from dataclasses import fields, replace
from itertools import combinations

import numpy as np
import pypdfium2
import pytest

from lessons_lib import Q_, load_layout
from lessons_lib.building.sketch.isometric import Isometric, describe, drawn_alone
from lessons_lib.building.sketch.isometric_lengths import apart_and_crossed
from lessons_lib.building.sketch.isometric_plan import Plan
from lessons_lib.building.sketch.isometric_signs import LOOKS
from lessons_lib.building.sketch.isometric_views import views_of, whole
from lessons_lib.building.sketch.isometric_words import COLDEST, HOTTEST, SLOWEST, Label, LabelWords
from lessons_lib.building.sketch.label_placement import LabelPlacer
from lessons_lib.building.sketch.labels_placed import places
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.panels.readout import SHAPES
from lessons_lib.quantities.display import SYSTEMS, measured
from lessons_lib.storage.tables import DATA

BUILDINGS = ("workshop", "bunk_cabin", "wash_house")
SIZES = ((1000, 620), (884, 500))
COS30 = 0.8660254


@pytest.fixture(scope="module")
def houses():
    """The three buildings with their assessments."""
    found = {name: load_layout(DATA / "layouts" / f"{name}.toml") for name in BUILDINGS}
    return {name: (house, house.assess()) for name, house in found.items()}


def sketch(house, found, system=SYSTEMS[0], size=SIZES[0]) -> Isometric:
    made = Isometric(Canvas(*size), 0, 0, *size)
    made.show(house, found, system)
    return made


# --- where the lines lie


def plan_of(house, size=SIZES[0], names=True) -> Plan:
    return Plan.of(whole(house), *size, {tap.leg: 9.0 * len(tap.name) for tap in house.taps} if names else {})


ON_PAPER = {  # by hand: north to the upper right, east to the lower right, 30 degrees; y downwards
    "north": (COS30, -0.5),
    "south": (-COS30, 0.5),
    "east": (COS30, 0.5),
    "west": (-COS30, -0.5),
    "up": (0, -1),
    "down": (0, 1),
}


@pytest.mark.parametrize("name", BUILDINGS)
def test_each_leg_runs_its_own_way_from_the_end_of_the_leg_before(houses, name):
    house = houses[name][0]
    plan = plan_of(house)
    ends = {"tank": plan.outlet, **{drawn.leg.name: drawn.end for drawn in plan.legs[: len(house.legs)]}}
    for drawn in plan.legs:
        assert drawn.along == pytest.approx(np.array(ON_PAPER[drawn.leg.go])), drawn.leg.name
        looped = drawn.level is None
        assert looped or drawn.start == pytest.approx(ends[drawn.leg.start])


def test_the_cabins_legs_are_whole_steps_and_its_levels_are_those_of_the_file(houses):
    plan = plan_of(houses["bunk_cabin"][0])
    lengths = np.array([drawn.length for drawn in plan.legs])
    steps = lengths / lengths.min()
    shares = [share for share in (1, 2, 3, 4) if np.allclose(share * steps, np.round(share * steps), atol=1e-6)]
    assert shares, f"{steps} have no common step"
    levels = [0, 3, 3, 3, 3.6096, 3.6096, 4.8288, 3.6096, 3.6096, 3.6096]
    assert [drawn.level for drawn in plan.legs] == pytest.approx(levels, abs=1e-9)
    true = np.array([drawn.leg.length.to("m").magnitude for drawn in plan.legs])
    short = lengths / true < 0.5 * np.median(lengths / true)
    assert [drawn.shortened for drawn in plan.legs] == short.tolist() and short[0]


def test_legs_of_nearly_one_length_are_drawn_in_proportion(built):
    house = built(
        [("a", "tank", "up", "2 m", ""), ("b", "a", "north", "3 m", ""), ("c", "b", "down", "2.5 m", "")],
        [("t", "c", "6 L/min")],
    )
    plan = plan_of(house)
    assert plan.to_scale and plan.legs[1].length / plan.legs[0].length == pytest.approx(1.5)


@pytest.mark.parametrize("name", BUILDINGS)
@pytest.mark.parametrize("size", SIZES)
def test_everything_lies_within_the_field_and_nothing_on_the_tank(houses, name, size):
    plan = plan_of(houses[name][0], size)
    ends = np.array([end for drawn in plan.legs for end in (drawn.start, drawn.end)])
    assert np.all(ends >= 0) and np.all(ends <= size)
    x, y, wide, high = plan.tank
    assert x >= 0 and y >= 0 and x + wide <= size[0] and y + high <= size[1]
    middles = np.array([drawn.at(share) for drawn in plan.legs for share in (0.25, 0.5, 0.75)])
    assert not np.any(np.all((middles > (x, y)) & (middles < (x + wide, y + high)), axis=1))


def test_the_loops_lines_run_beside_each_other_and_meet_the_heat_pump(houses):
    house = houses["workshop"][0]
    plan = plan_of(house)
    hot, back = plan.legs[6:9], plan.legs[9:]
    for one, two in zip(hot, back[::-1]):
        assert one.start - two.end == pytest.approx(np.array([20, 30])) and one.end - two.start == pytest.approx(
            np.array([20, 30])
        )
    assert len(plan.stubs) == 4 and plan.pump is not None
    assert all(drawn.level is None for drawn in (*hot, *back))


def test_the_distance_of_lines_by_hand():
    def one(a, b, c, d):
        ends = [np.array([complex(*point)]) for point in (a, b, c, d)]
        turns = [np.conj((last - first) / abs(last - first)) for first, last in (ends[:2], ends[2:])]
        apart, crossed = apart_and_crossed(*ends, *turns)
        return float(apart[0]), bool(crossed[0])

    assert one((0, 0), (4, 0), (2, -1), (2, 3)) == (1.0, True)  # the nearest end is 1 beyond the other line
    assert one((0, 0), (4, 0), (7, 4), (7, 9)) == (5.0, False)  # 3 beyond, 4 down
    assert one((0, 0), (4, 0), (1, 2), (3, 2)) == (2.0, False)  # beside
    assert one((0, 0), (4, 0), (4, 0), (4, 3)) == (0.0, False)  # a corner is no crossing


def test_places_are_told_apart_without_colour():
    assert set(LOOKS) == {"indoors", "crawlspace", "outdoors", "buried"} and len(set(LOOKS.values())) == 4


# --- words


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", BUILDINGS)
def test_the_sketch_in_words_names_every_leg_and_mark(houses, name, system):
    house, found = houses[name]
    told = describe(whole(house), found, system)
    for number, one in enumerate(house.all_legs, 1):
        assert f"{number} {one.name}: " in told and f"{measured(one.length, system)} {one.go}" in told
    for one in house.taps:
        assert f"Tap {one.name} ({one.kind})" in told
    assert all(word in told for word in ("slowest", "hottest", "coldest", "mixing valve"))
    assert ("heat pump" in told) == (house.loop is not None)


def test_what_the_words_say(houses):
    told = describe(whole(houses["bunk_cabin"][0]), houses["bunk_cabin"][1], SYSTEMS[0])
    assert (
        "2 up the slope: from leg 1 3 m up to level +3 m, copper L 3/4 in, 19 mm elastomeric foam, outdoors, heat tape"
        in told
    )
    assert "Tap shower (shower) at the end of leg 7, level +4.829 m" in told


@pytest.mark.parametrize(
    "length, metric, customary",
    [
        (Q_(15, "m"), "15 m", "49 ft 2 9/16 in"),
        (Q_(2, "ft"), "0.61 m", "2 ft"),
        (Q_(7.5, "inch"), "0.191 m", "7 1/2 in"),
        (Q_(-1, "m"), "−1 m", "−3 ft 3 3/8 in"),
        (Q_(0, "m"), "0 m", "0 in"),
        (Q_(11.99, "inch"), "0.305 m", "1 ft"),
    ],
)
def test_lengths_as_a_tape_measure_shows_them(length, metric, customary):
    assert [measured(length, system) for system in SYSTEMS] == [metric, customary]


# --- labels


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", BUILDINGS)
def test_labels_keep_off_each_other_and_within_the_picture(houses, name, size, system):
    made = sketch(*houses[name], system, size)
    assert made.without_label == []
    for _, left, top, right, bottom in made.boxes:
        assert left >= 0 and top >= 0 and right <= size[0] and bottom <= size[1]
    for (one, *a), (two, *b) in combinations(made.boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, f"{one} lies on {two}"


def test_another_layout_replaces_the_sketch(houses):
    made = sketch(*houses["workshop"])
    before = made.canvas.png()
    made.show(*houses["wash_house"], SYSTEMS[1])
    assert made.canvas.png() != before and made.canvas.png() == sketch(*houses["wash_house"], SYSTEMS[1]).canvas.png()


def test_a_label_goes_to_the_nearest_free_place_and_nowhere_else():
    room = LabelPlacer(100, 60)
    first = room.nearest(20, 8, [(50, 30)], 50)
    second = room.nearest(20, 8, [(50, 30)], 50)
    assert first.distance == 0 and second is not None
    assert (
        second.left >= first.left + 20
        or second.left + 20 <= first.left
        or second.top >= first.top + 8
        or second.top + 8 <= first.top
    )
    room.take_box(0, 0, 100, 60)
    assert room.nearest(20, 8, [(50, 30)], 50) is None
    assert room.on_line(20, 8, [(50, 30)], 3) is None


def test_labels_keep_their_places_only_where_all_is_as_before(houses):
    """Whatever a label says, and whatever is taken by what, another one looks for its place anew."""
    label = Label((("1 riser", False),), np.array([[50.0, 30.0]]))
    others = {"lines": (("2 riser", False),), "points": label.points + 1, "framed": True, "number": 3}
    others |= {"on_line": True, "tap": 3}
    assert set(others) == {field.name for field in fields(Label)}
    keys = [replace(label, **{name: value}).key for name, value in others.items()]
    rooms = [LabelPlacer(100, 60) for _ in range(7)]
    for room, first, last in zip(rooms[2:4], (2, 3), (50, 50)):
        room.take_box(first, 2, last, 20)
    for room, given in zip(rooms[4:], ((None, 0), (3, 0), (3, 1))):
        room.take_line((10, 10), (40, 50), *given)
    assert rooms[0].key == rooms[1].key and replace(label, points=label.points + 0).key == label.key
    assert len({label.key, *keys}) == 7 and len({room.key for room in rooms}) == 6
    for name in BUILDINGS:
        places.cache_clear()
        for _ in range(2):
            boxes = [sketch(*houses[name], system).boxes for system in SYSTEMS]
        assert places.cache_info().misses == places.cache_info().hits == 2
        places.cache_clear()
        assert boxes == [sketch(*houses[name], system).boxes for system in SYSTEMS]


def test_the_note_on_pipes_is_true_of_every_leg(houses):
    """By number, for a leg may have nothing else on the sketch: each leg is in the ranges of its own pipe, or in no range."""
    for name in BUILDINGS:
        house, found = houses[name]
        note = LabelWords(whole(house), found, SYSTEMS[0]).pipes()
        assert "no other is named" not in note
        for number, leg in enumerate(house.all_legs, 1):
            (part,) = [one for one in note.split(": ", 1)[-1].split("; ") if leg.family in one]
            named = [
                range(int(one.split("–")[0]), int(one.split("–")[-1]) + 1)
                for one in re.findall(r"\d+(?:–\d+)?", part.partition(" in ")[2])
            ]
            assert "all others" in part or "Pipe is" in part or any(number in one for one in named)
    for name, legs in (("bunk_cabin", "1–2"), ("workshop", "1–3")):
        note = LabelWords(whole(houses[name][0]), houses[name][1], SYSTEMS[0]).pipes()
        assert note == f"Pipe: copper L in legs {legs}; PEX CTS in all others."


def test_pipes_of_many_kinds_are_left_to_the_list(built):
    legs = [
        (f"{n}", f"{n - 1}" if n else "tank", ("up", "north")[n % 2], "1 m", 'pipe = "copper M"' if n % 2 else "")
        for n in range(40)
    ]
    house = built(legs, [("t", "39", "1 L/min")])
    assert (
        LabelWords(whole(house), house.assess(), SYSTEMS[0]).pipes()
        == "Pipe is of several kinds: the list names that of each leg."
    )


def test_marks_on_the_sketch_are_no_signs_of_verdicts():
    """Circle, triangle and square say how grave something is; hottest, slowest and coldest do not."""
    for mark in (COLDEST, SLOWEST, HOTTEST):
        assert not set(mark) & set(SHAPES + ("△", "□", "○"))


# --- few and many legs


def test_one_leg(built):
    house = built([("only", "tank", "down", "3 m", "")], [("sink", "only", "6 L/min")])
    made = sketch(house, house.assess())
    assert made.without_label == [] and any("only" in text for text, *_ in made.boxes)


def test_legs_to_all_sides_of_the_tank(built):
    ways = ("north", "south", "east", "west", "up", "down")
    house = built(
        [(way, "tank", way, f"{1 + number} m", "") for number, way in enumerate(ways)],
        [(f"tap {way}", way, "3 L/min") for way in ways],
    )
    made = sketch(house, house.assess())
    assert made.without_label == []


def test_300_legs(built):
    """A main of 151 legs with 149 drops, in all directions: no floors are named, and every leg has its number."""
    main = [
        (f"leg {n}", f"leg {n - 1}" if n else "tank", ("east", "north", "up")[n % 3], f"{1 + n % 7} m", "")
        for n in range(151)
    ]
    drops = [(f"drop {n}", f"leg {n}", ("south", "down", "west")[n % 3], "40 cm", "") for n in range(1, 150)]
    taps = [(f"tap {n}", f"drop {n}", "0.5 L/min") for n in range(1, 150)] + [("last", "leg 150", "0.5 L/min")]
    house = built(main + drops, taps, pressure="900 kPa")
    found, views = house.assess(), views_of(house)
    assert sorted(row for view in views for row in view.chosen) == list(range(300)) and len(views) < 20
    made = Isometric(Canvas(884, 500), 0, 0, 884, 500)
    for view in views[::4]:
        made.show(house, found, SYSTEMS[0], view)
        assert made.without_label == []
    told = " ".join(describe(view, found, SYSTEMS[0]) for view in views)
    assert "slowest" in told and "hottest" in told and "drop 149" in told
    paper = pypdfium2.PdfDocument(drawn_alone(house, found, SYSTEMS[1], 500, 300, views[0]).pdf())
    assert paper[0].get_size() == pytest.approx((375, 225))  # [pt]; four thirds of a pixel each
    assert "tap" in paper[0].get_textpage().get_text_range()  # words, not pixels
