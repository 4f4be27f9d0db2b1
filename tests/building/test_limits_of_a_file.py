"""How far the words of a layout file may go: the last value that is taken, and the first that is refused, in words."""

from dataclasses import replace

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.building import of_school
from lessons_lib.building.invented import invented
from lessons_lib.building.parts import FLOOR_NAME
from lessons_lib.building.read import LONGEST_ABOUT, LONGEST_AUTHOR, LONGEST_DATE, MOST_LEGS, MOST_NIGHTS, read
from lessons_lib.building.source import LONGEST_LINE, LONGEST_WORD, MOST_BRACKETS, MOST_ENTRIES, MOST_NAMES, Source
from lessons_lib.building.steps import at_once, within
from lessons_lib.storage.tables import DATA

from .test_building_errors import GOOD
from .two_storeys import text as two_storeys

# word: (text in GOOD, what stands there instead, taken, refused)
LIMITS = {
    "length": ('length = "4 m"', 'length = "{}"', ["300 m"], ["301 m", "0 m"]),
    "flow": ('flow = "6 L/min"', 'flow = "{}"', ["120 L/min"], ["121 L/min", "0 L/min"]),
    "cold_inlet": ('cold_inlet = "8 °C"', 'cold_inlet = "{}"', ["0 °C", "40 °C"], ["-0.5 °C", "40.5 °C"]),
    "hours": ('hours = "14 h"', 'hours = "{}"', ["1 h", "72 h"], ["59 min", "73 h"]),
    "without power": (
        'hours = "14 h"',
        'hours = "14 h"\nhours_without_power = "{}"',
        ["0 h", "14 h"],
        ["14 h 1 min", "-1 h"],
    ),
    "at_pressure": (
        'kind = "sink"',
        'kind = "sink"\nat_pressure = "{}"',
        ["10 kPa", "2000 kPa"],
        ["9.9 kPa", "2010 kPa"],
    ),
    "tape": ('tape = "16 W/m"', 'tape = "{}"', ["0.1 W/m", "100 W/m"], ["0 W/m", "101 W/m"]),
    "tape thickness": ("[buy]", '[tape]\nthickness = "{}"\n[buy]', ["0 mm", "30 mm"], ["-1 mm", "30.5 mm"]),
    "floor": ("[buy]", '[floors]\n"attic" = "{}"\n[buy]', ["-100 m", "100 m"], ["-101 m", "101 m"]),
    "spare": ('spare = "10 %"', 'spare = "{}"', ["0 %", "100 %"], ["-1 %", "101 %"]),
    "bare_share": (
        'tape = "16 W/m"',
        'tape = "16 W/m"\nbare_share = "{}"',
        ["0 %", "100 %"],
        ["-1 %", "101 %"],
    ),
    # the tank gives 60 °C, the main 8 °C, and a tap behind the valve wants 40 °C
    "setting": ('setting = "48 °C"', 'setting = "{}"', ["40 °C", "60 °C"], ["39.9 °C", "60.1 °C", "8 °C"]),
    "useful": ('flow = "6 L/min"', 'flow = "6 L/min"\nuseful = "{}"', ["48 °C"], ["48.1 °C"]),
    "comes_back_at": ('comes_back_at = "50 °C"', 'comes_back_at = "{}"', ["59.9 °C"], ["60 °C"]),
    "set_temperature": ('set_temperature = "60 °C"', 'set_temperature = "{}"', ["60 °C"], ["8 °C"]),
    # characters
    "name": ('name = "left tap"', 'name = "{}"', ["x" * LONGEST_LINE], ["x" * (LONGEST_LINE + 1)]),
    "about": ("[water]", 'about = "{}"\n[water]', ["x" * LONGEST_ABOUT], ["x" * (LONGEST_ABOUT + 1)]),
    "author": ("[water]", 'author = "{}"\n[water]', ["x" * LONGEST_AUTHOR], ["x" * (LONGEST_AUTHOR + 1)]),
    "date": ("[water]", 'date = "{}"\n[water]', ["x" * LONGEST_DATE], ["x" * (LONGEST_DATE + 1)]),
    "floor's name": ("[buy]", '[floors]\n"{}" = "3 m"\n[buy]', ["x" * FLOOR_NAME], ["x" * (FLOOR_NAME + 1)]),
}


def test_the_limits_are_those_that_the_messages_name():
    assert (LONGEST_LINE, LONGEST_ABOUT, LONGEST_AUTHOR, LONGEST_DATE, FLOOR_NAME) == (200, 2000, 80, 40, 24)
    assert (MOST_LEGS, MOST_NIGHTS, MOST_BRACKETS, MOST_NAMES, LONGEST_WORD) == (1000, 6, 20, 5, 200)


@pytest.mark.parametrize("what", LIMITS)
def test_the_last_value_taken_and_the_first_refused(what):
    old, new, taken, refused = LIMITS[what]
    assert old in GOOD
    for value in taken:
        read(Source("yard.toml", GOOD.replace(old, new.format(value), 1)))
    for value in refused:
        with pytest.raises(InputError, match=r"yard.toml, line \d+: "):
            read(Source("yard.toml", GOOD.replace(old, new.format(value), 1)))


def test_a_thousand_legs_and_six_nights():
    """A thousand are read, so that the fault in the last is found; one more is too many. Of nights six, and at least one."""
    more = "".join(
        f'[[leg]]\nname = "leg {n}"\nfrom = "right"\ngo = "north"\nlength = "1 m"\n' for n in range(MOST_LEGS - 4)
    )
    with pytest.raises(InputError, match="are too many; at most 1000"):
        read(Source("yard.toml", f"{GOOD}{more}[[leg]]\n"))
    with pytest.raises(InputError, match="sideways"):
        read(Source("yard.toml", (GOOD + more).removesuffix('length = "1 m"\n') + 'length = "sideways"'))
    night = '[night]\nair = "-12 °C"\nhours = "14 h"\n'
    several = "".join(f'[[night]]\nname = "{n}"\nair = "-{n} °C"\nhours = "9 h"\n' for n in range(1, MOST_NIGHTS + 1))
    house = read(Source("yard.toml", GOOD.replace(night, several)))
    assert [one.night.air.magnitude for one in house.on_nights] == [-1, -2, -3, -4, -5, -6]
    # outdoors the air is the night's, in every one of them
    assert [one.legs[3].surroundings.air.magnitude for one in house.on_nights] == [-1, -2, -3, -4, -5, -6]
    with pytest.raises(InputError, match="0 nights; possible are 1 to 6"):
        read(Source("yard.toml", "night = []\n" + GOOD.replace(night, "")))


@pytest.mark.parametrize(
    "good, bad, said",
    [
        (f"x = {'[' * MOST_BRACKETS}{']' * MOST_BRACKETS}", f"x = {'[' * 21}{']' * 21}", "more than 20 brackets"),
        (".".join("abcde") + " = 1", ".".join("abcdef") + " = 1", "more than 5 names"),
        ("x" * LONGEST_WORD + " = 1", "x" * (LONGEST_WORD + 1) + " = 1", "more than 200 characters"),
        # an equals sign, a bracket, and a comma behind each number
        (f"x = [{'0,' * (MOST_ENTRIES - 2)}]", f"x = [{'0,' * (MOST_ENTRIES - 1)}]", "at most 30000"),
    ],
    ids=["brackets", "names", "word", "entries"],
)
def test_the_deepest_and_longest_that_is_read(good, bad, said):
    assert Source("yard.toml", good).tables()
    with pytest.raises(InputError, match=said):
        Source("yard.toml", bad).tables()


def test_a_monster_is_named_in_its_own_line():
    """Brackets that are closed do not add up; of two faults the first is said, with its line."""
    assert Source("yard.toml", "x = [[[]]]\n" * 1 + "".join(f"y{n} = [[[]]]\n" for n in range(30))).tables()
    deep, long = f"b = {'[' * 21}{']' * 21}", f"c = {'1' * 201}"
    for lines, said in (
        (["a = 1", deep, long], "line 2: more than 20 brackets"),
        (["a = 1", long, deep], "line 2: a word or number"),
        (['a = """', "[[[", '"""', long], "line 4: a word or number"),
    ):
        with pytest.raises(InputError, match=said):
            Source("yard.toml", "\n".join(lines)).tables()


def test_a_school_brings_two_hundred_kilobytes(tmp_path):
    content = GOOD.encode()
    filled = content + b"#" * (200_000 - len(content))
    assert of_school.brought(filled, "yard.toml").name == "Test yard"
    with pytest.raises(InputError, match="200 kB are too large; at most 200 kB"):
        of_school.brought(filled + b"#", "yard.toml")


def test_half_the_legs_of_a_demo_building_make_it_invented():
    """The wash house has six legs: with three of them it is still invented, with two no longer. A leg is known by its length."""
    text = (DATA / "layouts" / "wash_house.toml").read_text(encoding="utf-8")
    house = read(Source("yard.toml", text))
    assert len(house.legs) == 6 and "wash-house" in invented(house).lower()
    for changed, said in ((3, True), (4, False)):
        for edit in (lambda leg: {"name": f"other {leg.name}"}, lambda leg: {"length": leg.length * 1.01}):
            legs = tuple(replace(leg, **edit(leg)) if n < changed else leg for n, leg in enumerate(house.legs))
            assert bool(invented(replace(house, legs=legs))) == said


def test_floors_of_the_legs_of_a_house(tmp_path):
    """Cellar from -1.4 m, ground floor from 1.2, upper floor from 3.9: a leg belongs to the floor on which it begins."""
    file = tmp_path / "house.toml"
    file.write_text(two_storeys(), encoding="utf-8")
    house = load_layout(file)
    floors = {leg.name: house.floor_of_leg(row) for row, leg in enumerate(house.all_legs)}
    assert [floors[name] for name in ("cellar main", "riser", "ground floor", "second riser")] == [
        "cellar",  # at the tank's outlet, 0 m
        "cellar",
        "ground floor",  # 2.6 m up
        "ground floor",
    ]
    assert floors["upper floor north"] == floors["bath"] == "upper floor"  # 2.6 + 2.7 m
    assert house.floor_of(-1.5) == "" and house.floor_of(1.195) == "ground floor" and house.floor_of(1.18) == "cellar"


def test_steps_within_steps():
    """Halves of the second quarter of the work: 0.25, 0.375 and 0.5; what it gives back is handed on."""

    def work():
        yield from (0.0, 0.5, 1.0)
        return "done"

    def whole():
        return (yield from within(0.25, 0.5, work()))

    assert list(whole()) == [0.25, 0.375, 0.5] and at_once(whole()) == "done"
