"""What to change first: one idea is one row, two together are told with what each does alone, and trying can be stopped."""

from dataclasses import replace
from itertools import islice

import pytest

from lessons_lib import load_layout
from lessons_lib.building.changes import LEAST_GAIN, all_ideas, first_changes, score, trying
from lessons_lib.building.words import SAME_GAIN, add_up
from lessons_lib.runs.insulation import Insulation
from lessons_lib.storage.tables import DATA

COLD_AND_WARM = """name = "x"
[water]
pressure = "250 kPa"
cold_inlet = "10 °C"
[night]
air = "-6 °C"
wind = "2 m/s"
hours = "12 h"
hours_without_power = "5 h"
[tank]
set_temperature = "60 °C"
[valve]
setting = "42 °C"
leg = "riser"
[places]
indoors = "18 °C"
crawlspace = "-3 °C"
[usual]
pipe = "copper L"
size = "3/4 in"
insulation = "polyethylene foam"
thickness = "9 mm"
place = "indoors"
[[leg]]
name = "riser"
from = "tank"
go = "up"
length = "1 m"
[[leg]]
name = "under the floor"
from = "riser"
go = "north"
length = "9 m"
place = "crawlspace"
[[leg]]
name = "along the wall"
from = "under the floor"
go = "east"
length = "7 m"
place = "outdoors"
tape = "12 W/m"
[[leg]]
name = "left"
from = "along the wall"
go = "north"
length = "2 m"
[[leg]]
name = "right"
from = "along the wall"
go = "east"
length = "5 m"
place = "outdoors"
tape = "12 W/m"
bare_share = "4 %"
[[tap]]
name = "left tap"
leg = "left"
kind = "sink"
flow = "6 L/min"
[[tap]]
name = "right tap"
leg = "right"
kind = "shower"
flow = "8 L/min"
"""


COLD = (("crawlspace", "[[leg]]"), ("outdoors", "tape"))  # the places of the cold legs, and how the next line begins


@pytest.fixture(scope="module")
def read(tmp_path_factory):
    folder = tmp_path_factory.mktemp("changes")

    def load(*edits):
        text = COLD_AND_WARM
        for old, new in edits:
            assert old in text
            text = text.replace(old, new)
        file = folder / f"{len(list(folder.iterdir()))}.toml"
        file.write_text(text, encoding="utf-8")
        return load_layout(file)

    return load


@pytest.fixture(scope="module")
def house(read):
    return read()


@pytest.fixture(scope="module")
def found(house):
    return first_changes(house, 9, 9)


def test_one_thickness_at_several_places_is_one_row(house, found, read):
    """13 mm instead of 9 mm in the crawlspace and outdoors; indoors it does next to nothing and is left as it is."""
    (foam,) = (one for one in found if one.words.startswith("polyethylene foam of 13 mm") and not one.alone)
    assert "in 2 places: on leg 2 in the crawlspace" in foam.words and "; on legs 3, 5 outdoors" in foam.words
    thicker = [leg.name for leg in foam.layout.all_legs if leg.insulation.thickness.to("mm").magnitude == 13]
    assert thicker == ["under the floor", "along the wall", "right"]
    by_hand = read(
        *((f'place = "{place}"\n{more}', f'place = "{place}"\nthickness = "13 mm"\n{more}') for place, more in COLD)
    )
    assert foam.after.total == pytest.approx(score(by_hand).total, abs=1e-9)
    assert foam.gain == pytest.approx(score(house).total - foam.after.total) and foam.gain > LEAST_GAIN


def test_closing_the_bare_places_says_where_and_how_much(found, read):
    (closed,) = (one for one in found if one.words.startswith("the bare places closed") and not one.alone)
    assert closed.words.endswith("on leg 5 outdoors, 4 % of the length")
    assert closed.after.total == pytest.approx(score(read(('bare_share = "4 %"\n', ""))).total, abs=1e-9)


def test_two_together_are_told_with_what_each_does_alone(house, found):
    """The pair's score is that of both changes made by hand; its halves are the changes that stand alone in the list."""
    single, pairs = ([one for one in found if bool(one.alone) == two] for two in (False, True))
    known = {one.words: one.gain for one in single}
    (pair,) = (
        one for one in pairs if {"bare", "foam"} <= {word for one in one.alone for word in one.words.split()[:3]}
    )
    warm = Insulation("polyethylene foam", house.legs[0].insulation.thickness * 13 / 9)
    both = tuple(
        replace(leg, insulation=warm, bare_share=0.0) if leg.place in ("crawlspace", "outdoors") else leg
        for leg in house.legs
    )
    assert pair.after.total == pytest.approx(score(replace(house, legs=both)).total, abs=1e-6)
    assert [known[one.words] for one in pair.alone] == [one.gain for one in pair.alone]
    assert all(one.gain > max(half.gain for half in one.alone) for one in pairs)
    assert [one.gain for one in pairs] == sorted((one.gain for one in pairs), reverse=True)
    surplus = pair.gain - sum(one.gain for one in pair.alone)
    word = "yes" if abs(surplus) < SAME_GAIN else f"no: {abs(surplus):.1f} {'more' if surplus > 0 else 'less'}"
    assert add_up(pair).startswith(word)
    assert any(add_up(one) != "yes" for one in pairs)


def test_the_best_change_is_no_worse_than_any_at_one_place(house, found):
    """Every idea at every place, tried here one by one."""
    before, gains = score(house).total, []
    for idea in all_ideas(house):
        gains += [before - score(make(house)).total for make in idea.spots.values()]
    single = [one.gain for one in found if not one.alone]
    assert single[0] >= max(gains) - 1e-9 and single == sorted(single, reverse=True)


def test_the_only_valve_is_one_row_that_names_every_place_that_helps():
    house = replace(load_layout(DATA / "layouts" / "workshop.toml"), valve=None)
    valves = [one for one in first_changes(house, 9) if "mixing valve" in one.words]
    assert len(valves) == 1 and "; it helps less at the tap" in valves[0].words
    ideas = [idea for idea in all_ideas(house) if idea.subject == ("valve",)]
    assert len(ideas) == 1 and len(ideas[0].spots) == 1 + len(house.taps)


def test_trying_says_how_far_it_is_and_can_be_left_at_any_step(house, found):
    steps = list(trying(house, 9, 9))
    shares = [step.share for step in steps]
    assert shares == sorted(shares) and shares[0] == 0 and shares[-1] == 1 and len(set(shares)) > 10
    assert [one.words for one in steps[-1].best] == [one.words for one in found]
    early = list(islice(trying(house, 9, 9), len(steps) // 2))[-1]
    assert 0.2 < early.share < 0.8 and {one.words for one in early.best} <= {one.words for one in found}


def test_what_does_next_to_nothing_is_told_neither_alone_nor_in_a_pair(read):
    """In a heated room nothing freezes, and a thicker foam takes less than half a second off the waits: only the thinner
    pipe is worth naming, and the two together are not.
    """
    house = read(*((f'place = "{place}"\n', "") for place, _ in COLD), ('tape = "12 W/m"\n', ""))
    (only,) = first_changes(house, 99, 99)
    assert only.words.startswith("one size smaller: copper L 1/2 in") and not only.alone
    (foam,) = (idea for idea in all_ideas(house) if idea.what.startswith("polyethylene foam of 13 mm"))
    (make,) = foam.spots.values()
    alone = score(house).total - score(make(house)).total
    surplus = only.after.total - score(make(only.layout)).total
    assert 0 < alone < LEAST_GAIN / 2 and 0 < surplus < LEAST_GAIN / 2
