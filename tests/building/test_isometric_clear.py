"""That nothing lies on anything else on the sketch: labels, legs, taps, crossings; of demo buildings, a two-storey house and random trees."""

import random
from io import BytesIO
from itertools import combinations

import numpy as np
import pytest
from PIL import Image

from lessons_lib import load_layout
from lessons_lib.building.parts import OPPOSITE
from lessons_lib.building.sketch import isometric_plan
from lessons_lib.building.sketch.isometric import Isometric
from lessons_lib.building.sketch.isometric_plan import Plan
from lessons_lib.building.sketch.isometric_views import whole
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.quantities.display import SYSTEMS
from lessons_lib.quantities.errors import InputError
from lessons_lib.storage.tables import DATA

from .two_storeys import text as two_storeys

BUILDINGS = ("workshop", "bunk_cabin", "wash_house", "template", "two_storeys")
PANEL, PAPER = (884, 500), (1090, 760)


@pytest.fixture(scope="module")
def houses(tmp_path_factory):
    """The ready-made buildings and the two-storey house, with their assessments."""
    file = tmp_path_factory.mktemp("house") / "two_storeys.toml"
    file.write_text(two_storeys(), encoding="utf-8")
    found = {name: load_layout(DATA / "layouts" / f"{name}.toml") for name in BUILDINGS[:-1]}
    found["two_storeys"] = load_layout(file)
    return {name: (house, house.assess()) for name, house in found.items()}


def drawn(house, found, size=PANEL, system=SYSTEMS[0]) -> Isometric:
    made = Isometric(Canvas(*size), 0, 0, *size)
    made.show(house, found, system)
    return made


def points_of(leg, apart=1.0) -> np.ndarray:
    """Points all along a leg, a pixel or so from each other."""
    return leg.start + np.linspace(0, 1, int(leg.length / apart) + 2)[:, np.newaxis] * (leg.end - leg.start)


def joined(one, other) -> bool:
    """Whether two legs have a point in common by their names: one begins where the other ends or begins."""
    starts, names = (one.leg.start, other.leg.start), (one.leg.name, other.leg.name)
    return starts[0] == starts[1] or starts[0] == names[1] or starts[1] == names[0]


def legs_that_lie_on_each_other(plan: Plan) -> list:
    """Pairs of legs to the taps that touch and do not plainly cross, worked out point by point."""
    found = []
    for one, other in combinations([leg for leg in plan.legs if leg.level is not None], 2):
        ends = np.array([(one.start, one.end), (other.start, other.end)])
        if joined(one, other) or np.any(ends.min(axis=1).max(axis=0) - ends.max(axis=1).min(axis=0) > 3):
            continue
        away = np.hypot(*(points_of(one)[:, np.newaxis] - points_of(other)[np.newaxis]).transpose(2, 0, 1))
        if away.min() < 3:
            row, column = np.unravel_index(away.argmin(), away.shape)
            middle = min(row, len(away) - 1 - row) > 9 and min(column, away.shape[1] - 1 - column) > 9
            if not middle or abs(float(one.along @ other.along)) > 0.99:
                found.append((one.leg.name, other.leg.name))
    return found


def boxes_that_are_met(made: Isometric) -> list:
    """Labels that lie on another label, on a leg that they do not stand on, or beyond the picture."""
    found = []
    for (one, *a), (two, *b) in combinations(made.boxes, 2):
        if min(a[2], b[2]) > max(a[0], b[0]) and min(a[3], b[3]) > max(a[1], b[1]):
            found.append((one, two))
    points_of_legs = [(leg, points_of(leg)) for leg in made.plan.legs]
    for text, left, top, right, bottom in made.boxes:
        if left < 0 or top < 0 or right > made.size[0] or bottom > made.size[1]:
            found.append((text, "beyond the picture"))
        for leg, points in points_of_legs:
            if text != str(leg.number) and np.any(np.all((points > (left, top)) & (points < (right, bottom)), axis=1)):
                found.append((text, leg.leg.name))
    return found


def reach(made: Isometric) -> np.ndarray:
    """The share of the picture's width, and of its height above the legend, that pipes, bodies and labels take."""
    x, y, wide, high = made.plan.tank
    points = [(x, y), (x + wide, y + high), *(end for leg in made.plan.legs for end in (leg.start, leg.end))]
    points += [corner for _, *box in made.boxes for corner in (box[:2], box[2:])]
    return np.ptp(np.array(points), axis=0) / (made.size[0], made.bottom)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("size", (PANEL, PAPER))
@pytest.mark.parametrize("name", BUILDINGS)
def test_nothing_lies_on_anything_and_all_is_named(houses, name, size, system):
    house, found = houses[name]
    made = drawn(house, found, size, system)
    assert legs_that_lie_on_each_other(made.plan) == [] and boxes_that_are_met(made) == []
    assert made.without_label == []
    told = " | ".join(text for text, *_ in made.boxes)
    assert all(tap.name in told for tap in house.taps)
    assert reach(made).max() >= 0.8


@pytest.mark.parametrize("name", BUILDINGS)
def test_the_coldest_leg_the_slowest_and_the_hottest_tap_have_their_marks(houses, name):
    house, found = houses[name]
    made = drawn(house, found)
    told = " | ".join(artist.get_text() for artist in made.artists if hasattr(artist, "get_text"))
    assert "◆ slowest: " in told and "☀ hottest: " in told and ("❄ coldest: " in told) == (found.coldest is not None)


def test_the_floors_stand_on_the_sketch_by_their_names(houses):
    house, found = houses["two_storeys"]
    made = drawn(house, found)
    told = [text for text, *_ in made.boxes]
    assert {"cellar", "ground floor", "upper floor"} <= set(told)
    assert [house.floor_of(level) for level in (-2, -1.4, 0, 2.6, 5.3)] == [
        "",
        "cellar",
        "cellar",
        "ground floor",
        "upper floor",
    ]


def test_without_names_a_storey_has_its_level(houses):
    made = drawn(*houses["bunk_cabin"])
    assert "level +3 m" in [text for text, *_ in made.boxes]


# --- crossings


def test_where_two_legs_cross_the_one_behind_is_broken(built, monkeypatch):
    """By hand: the end of `out` is at (1.73, 1); `up` rises from there past (1.73, 0), where `beyond` is at its middle.

    `up` is nearer to the eye, which looks from the south-east and from above. A pipe is 4 px wide, the gap 20.
    """
    legs = [("out", "tank", "east"), ("up", "out", "up"), ("in", "tank", "north"), ("beyond", "in", "east")]
    house = built([(*leg, "2 m", "") for leg in legs], [("a", "up", "6 L/min"), ("b", "beyond", "6 L/min")])
    monkeypatch.setattr(isometric_plan, "clearest", lambda choices: np.array([2.0, 3.0, 1.0, 2.0]))
    made = drawn(house, house.assess())
    up, beyond = made.plan.legs[1], made.plan.legs[3]
    at = up.start + (up.end - up.start) / 3
    assert at == pytest.approx(beyond.at(0.5)) and up.depth > beyond.depth
    made.boxes.clear()
    pixels = np.asarray(Image.open(BytesIO(made.canvas.png())).convert("L")).astype(float)

    def light(point) -> bool:
        x, y = np.round(point).astype(int)
        return pixels[y - 1 : y + 2, x].mean() > 200

    assert not light(at) and not light(at + 20 * up.along), "the nearer pipe goes on"
    for way in (-1, 1):
        assert light(at + way * 7 * beyond.along) and light(at + way * 9 * beyond.along)
        assert not light(at + way * 16 * beyond.along), "the pipe behind goes on beyond its gap"


# --- random trees


def random_house(chance: random.Random, count: int) -> tuple:
    """Legs and taps of a random tree that fits tees: at each end one leg goes on, or two of which one goes straight on."""
    ways = list(OPPOSITE)
    first = chance.choice(ways)
    legs, ends = [("leg 0", "tank", first)], [("leg 0", first)]
    while len(legs) < count:
        name, way = ends.pop(chance.randrange(len(ends)))
        turned = chance.choice([one for one in ways if one not in (way, OPPOSITE[way])])
        for go in (way, turned) if chance.random() < 0.45 else (turned,):
            legs.append((f"leg {len(legs)}", name, go))
            ends.append((legs[-1][0], go))
    lengths = [round(chance.choice([0.5, 1, 1.5, 2, 3, 4, 6, 9]) * chance.uniform(0.8, 1.2), 2) for _ in legs]
    return (
        [(*leg, f"{length} m", "") for leg, length in zip(legs, lengths)],
        [(f"tap {number}", name, "2 L/min") for number, (name, _) in enumerate(ends)],
    )


@pytest.mark.parametrize("seed", [*range(5), *(pytest.param(seed, marks=pytest.mark.million) for seed in range(5, 10))])
def test_random_trees(built, seed):
    """Ten trees each: the lines of all, of 2 to 20 legs, and two of them with their words."""
    chance = random.Random(seed)
    for number in range(10):
        house = built(*random_house(chance, chance.randint(2, 20)))
        plan = Plan.of(whole(house), 884, 420, {tap.leg: 9.0 * len(tap.name) for tap in house.taps})
        assert legs_that_lie_on_each_other(plan) == [], house.legs
        if number > 1:
            continue
        made = drawn(house, house.assess())
        assert legs_that_lie_on_each_other(made.plan) == [] and boxes_that_are_met(made) == [], house.legs
        assert made.without_label == [] and reach(made).max() >= (0.8 if len(house.legs) > 3 else 0.6)
        told = " | ".join(text for text, *_ in made.boxes)
        assert all(tap.name in told for tap in house.taps)


@pytest.mark.parametrize(
    "line, said",
    [('"cellar" = 3', "carries no unit"), (f'"{"c" * 25}" = "-1.4 m"', "a floor's name has 1 to 24 letters")],
)
def test_a_floor_that_cannot_be_read_says_what_to_write(tmp_path, line, said):
    file = tmp_path / "house.toml"
    file.write_text(two_storeys().replace('"cellar" = "-1.4 m"', line), encoding="utf-8")
    with pytest.raises(InputError, match=said):
        load_layout(file)
