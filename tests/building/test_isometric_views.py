"""A large building's sketch in views: each leg on one of them, every label inside, and both sides of a cut name each other."""

import random
from collections import Counter

import pypdfium2
import pytest

from lessons_lib import load_layout
from lessons_lib.building.document import LayoutDocument
from lessons_lib.building.run_sheet import run_sheet
from lessons_lib.building.sketch.isometric import Isometric, describe
from lessons_lib.building.sketch.isometric_views import LOOP, MOST, MOST_AT_ONCE, views_of
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.quantities.display import SYSTEMS
from lessons_lib.sheets import Table
from lessons_lib.storage.tables import DATA

from .block_of_flats import text as block_of_flats
from .test_isometric_clear import boxes_that_are_met, legs_that_lie_on_each_other, random_house
from .two_storeys import text as two_storeys

PANEL, PAPER = (884, 500), (1090, 589)


def block(**of):
    return LayoutDocument(block_of_flats(**of)).layout()


@pytest.fixture(scope="module")
def flats():
    """The whole block and its assessment, with and without names of floors."""
    return {floors: (house, house.assess()) for floors in (True, False) for house in [block(floors=floors)]}


def whole_building_once(house, views) -> None:
    """Every leg and tap on exactly one view; every view hangs together; none is too large to be read."""
    assert sorted(row for view in views for row in view.chosen) == list(range(len(house.all_legs)))
    assert Counter(tap.name for view in views for tap in view.taps) == Counter(tap.name for tap in house.taps)
    for number, view in enumerate(views, 1):
        assert view.number == number and view.count == len(views) and len(view.chosen) <= MOST_AT_ONCE
        starts = {leg.start for leg in view.legs} - {leg.name for leg in view.legs}
        assert len(starts) <= 1, "all legs of a view hang on the point where it begins"
        for leg in view.all_legs:
            assert house.all_legs[view.numbers[leg.name] - 1] is leg


def cuts_name_both_sides(house, views) -> None:
    """Worked out from the names alone: a leg that begins in another view than the one before it ends in."""
    home = {leg.name: view for view in views for leg in view.legs}
    numbers = {leg.name: number for number, leg in enumerate(house.all_legs, 1)}
    cut = [leg for leg in house.legs if leg.start in home and home[leg.start] is not home[leg.name]]
    assert len({home[leg.name] for leg in cut}) == len([view for view in views if view.begins is not None])
    for leg in cut:
        before, behind = home[leg.start], home[leg.name]
        assert behind.from_words == f"from leg {numbers[leg.start]}, view {before.number}"
        (told,) = [one for one in before.goes_on[leg.start] if one.view == behind.number]
        assert numbers[leg.name] in told.legs and f"view {behind.number}" in told.words
        assert not any(other.start == leg.start for other in before.legs), "nothing goes on here at a cut"
    assert sum(len(one.legs) for view in views for cuts in view.goes_on.values() for one in cuts) == len(cut)


def all_is_named(made: Isometric, view) -> None:
    """Every label inside and on nothing; every leg's number, every tap's name, and where each pipe goes on."""
    assert made.without_label == [] and boxes_that_are_met(made) == [] and legs_that_lie_on_each_other(made.plan) == []
    told = [text for text, *_ in made.boxes]
    for leg in made.plan.legs:
        assert any(text.split(":")[0].split(" ")[0] == str(leg.number) for text in told), leg.leg.name
    for name in [tap.name for tap in view.taps]:
        assert any(text.startswith(name[:20]) for text in told), name
    written = [artist.get_text() for artist in made.artists if hasattr(artist, "get_text")]
    wanted = [words for leg in view.goes_on for words in view.to_words(leg)]
    for words in [*wanted, *([view.from_words] if view.comes_from else []), view.title]:
        assert written.count(words) == 1, words


@pytest.mark.parametrize("floors", (True, False))
def test_each_leg_of_the_block_stands_on_one_view_and_cuts_are_named_on_both_sides(flats, floors):
    house, _ = flats[floors]
    views = views_of(house)
    assert len(house.all_legs) == 492 and len(house.taps) == 200 and 492 / MOST < len(views) < 30
    whole_building_once(house, views)
    cuts_name_both_sides(house, views)


def test_views_follow_the_floors(flats):
    """By hand: 61 legs on a storey are three views, with 14 of the next riser or fewer in the first; the cellar's five
    legs join the first storey's."""
    views = views_of(flats[True][0])
    assert [view.shows for view in views[:6]] == [
        "cellar to storey 1",
        "storey 1, part 1 of 2",
        "storey 1, part 2 of 2",
        *(f"storey 2, part {number} of 3" for number in (1, 2, 3)),
    ]
    assert views[4].title == "View 5 of 24: storey 2, part 2 of 3"
    for view in views[3:]:
        assert {view.layout.floor_of_leg(row) for row in view.chosen} == {view.shows.split(",")[0]}
    assert {view.shows for view in views_of(flats[False][0])} == {""}
    assert views_of(flats[False][0])[2].title == "View 3 of 24"


def test_no_view_spans_two_storeys_where_the_file_names_them():
    """Four storeys of 25 legs: named, no view has legs of two of them; unnamed, the riser and all storeys share one."""
    named, unnamed = (views_of(block(storeys=4, flats=2, floors=floors)) for floors in (True, False))
    floor_of = named[0].layout.floor_of_leg
    spans = [[len({floor_of(row) for row in view.chosen} - {"cellar"}) for view in views] for views in (named, unnamed)]
    assert set(spans[0]) == {1} and max(spans[1]) == 4 and len(unnamed) < len(named)
    assert named[0].shows == "cellar to storey 1"


@pytest.mark.parametrize("size, system", [(PANEL, SYSTEMS[0]), (PANEL, SYSTEMS[1]), (PAPER, SYSTEMS[1])])
def test_every_view_of_a_storey_has_every_label_inside(flats, size, system):
    house, found = flats[True]
    made = Isometric(Canvas(*size), 0, 0, *size)
    for view in views_of(house)[:6]:
        made.show(house, found, system, view)
        all_is_named(made, view)


@pytest.mark.parametrize("seed", range(4))
def test_random_trees_of_many_legs(built, seed):
    chance = random.Random(seed)
    house = built(*random_house(chance, chance.randint(MOST_AT_ONCE + 1, 200)), pressure="900 kPa")
    views = views_of(house)
    whole_building_once(house, views)
    cuts_name_both_sides(house, views)
    made, found = Isometric(Canvas(*PANEL), 0, 0, *PANEL), house.assess()
    for view in chance.sample(views, 2):
        made.show(house, found, SYSTEMS[0], view)
        all_is_named(made, view)


def test_a_small_building_is_one_picture():
    for name in ("workshop", "bunk_cabin", "wash_house", "template"):
        (view,) = views_of(load_layout(DATA / "layouts" / f"{name}.toml"))
        assert view.title == "" and view.goes_on == {} and view.comes_from is None
    small, large = block(storeys=1, flats=5), block(storeys=1, flats=4)
    assert [len(large.all_legs), len(views_of(large))] == [53, 1]
    assert len(small.all_legs) == 65 and len(views_of(small)) == 3


@pytest.mark.parametrize("count, own", [(4, False), (50, True)])
def test_the_loop_stands_with_the_tank_or_on_a_view_of_its_own(count, own):
    lines = "".join(
        f'[[loop.{line}]]\nname = "{line} {n}"\ngo = "{go if n % 2 else "up"}"\nlength = "2 m"\nplace = "outdoors"\n'
        for line, go in (("hot", "north"), ("return", "south"))
        for n in range(count // 2)
    )
    loop = f'[loop]\nflow = "2 L/min"\nleaves_at = "60 °C"\ncomes_back_at = "50 °C"\n{lines}'
    house = LayoutDocument(block_of_flats(storeys=1) + loop).layout()
    views = views_of(house)
    whole_building_once(house, views)
    (shown,) = [view for view in views if view.loop is not None]
    assert (shown.shows == LOOP) == own and (shown is views[0]) == (not own)
    assert len(shown.legs) == 0 if own else shown.legs[0].start == "tank"
    made, found = Isometric(Canvas(*PANEL), 0, 0, *PANEL), house.assess()
    made.show(house, found, SYSTEMS[0], shown)
    assert made.plan.tank is not None and made.plan.pump is not None


def test_a_view_in_words(flats):
    house, found = flats[True]
    view = views_of(house)[3]
    told = describe(view, found, SYSTEMS[0])
    assert "View 4 of 24: storey 2, part 1 of 3. The pipe comes from leg 66, view 1." in told
    assert "The pipe goes on at the end of leg 79: to legs 80, 91, view 5." in told
    assert "Tap kitchen sink 2.1 " in told and "kitchen sink 2.2" not in told and "tank is at" not in told


def test_the_two_storeys_are_one_picture_with_their_floors():
    assert [view.shows for view in views_of(LayoutDocument(two_storeys()).layout())] == [""]


@pytest.mark.parametrize("system", SYSTEMS)
def test_each_view_has_its_part_on_the_sheet_and_its_page_in_the_list(system):
    """102 legs on two storeys: the first page lists the views; on the page that it names stand title, taps and cuts."""
    house = block(storeys=2, flats=4)
    views, sheet = views_of(house), run_sheet(house, None, system, ())
    rows = [row for block in sheet.blocks if isinstance(block, Table) and block.head[0] == "view" for row in block.rows]
    assert [int(row[0]) for row in rows] == [view.number for view in views] and len(views) > 3
    for paper in ("A4", "Letter"):
        pages = [
            " ".join(side.get_textpage().get_text_range().split()) for side in pypdfium2.PdfDocument(sheet.pdf(paper))
        ]
        assert "The sketch, in views" in pages[0] and "Isometric" not in pages[0]
        for view, row in zip(views, rows):
            page = pages[int(row[4]) - 1]
            assert page.count(view.title) == 2, "as a heading, and on the picture"
            assert all(tap.name in page for tap in view.taps) and f"page {row[4]} of {len(pages)}" in page
            told = [words for leg in view.goes_on for words in view.to_words(leg)]
            told += [view.from_words] if view.comes_from else []
            assert all(page.count(words) >= 2 for words in told), "on the picture and under it"
        assert all(f"<h2>{view.title}" in sheet.html(paper) for view in views)
