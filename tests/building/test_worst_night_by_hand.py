"""Which of several nights is the worst, whichever stands first in the file; how far an assessment is; what a result prints."""

import pytest

from lessons_lib.building import readings
from lessons_lib.building.changes import first_changes
from lessons_lib.building.frost import frost
from lessons_lib.building.read import read
from lessons_lib.building.source import Source
from lessons_lib.runs.assessment import HOT_ENOUGH

from .test_building_errors import GOOD

BARE = 'place = "outdoors"\ninsulation = "none"'


def house(airs, right=BARE, metres=3, flow="2 gpm", useful="38 °C"):
    """The test yard without its valve, on nights called by their air; the right leg and its tap as given."""
    nights = "".join(f'[[night]]\nname = "{air}"\nair = "{air} °C"\nhours = "14 h"\n' for air in airs)
    text = GOOD
    for old, new in (
        ('[night]\nair = "-12 °C"\nhours = "14 h"\n', nights),
        ('[valve]\nsetting = "48 °C"\nleg = "riser"\n', ""),
        ('length = "3 m"\nplace = "outdoors"\ntape = "16 W/m"', f'length = "{metres} m"\n{right}'),
        ('flow = "2 gpm"\nuseful = "38 °C"', f'flow = "{flow}"\nuseful = "{useful}"'),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    return read(Source("yard.toml", text))


@pytest.mark.parametrize("airs", [(5, 8), (0.5, 8), (-12, 8), (-12, 1), (-5, -12)])
def test_the_colder_night_is_worse_for_a_leg_outdoors(airs):
    """Settling cooler, at the edge or in ice: of two nights alike in all but their air the colder one."""
    for order in (airs, airs[::-1]):
        (leg,) = frost(house(order))
        assert leg.night == str(min(airs)) and [one.night for one in leg.nights] == [str(air) for air in order]
        assert leg.rest.magnitude == pytest.approx(min(airs), abs=1e-3)


def test_the_colder_night_is_worse_for_a_tap():
    """60 m of bare pipe, 1 L/min: what is hot enough at 8 °C is not at -12; where neither is, the cooler water is worse."""
    cool, warm = (house([air], metres=60, flow="1 L/min").assess().taps[1].delivered.magnitude for air in (-12, 8))
    assert 20 < cool < warm - 1 < 50
    for useful, enough in (((cool + warm) / 2, [False, True]), (warm + 1, [False, False]), (cool - 1, [True, True])):
        for order in ((-12, 8), (8, -12)):
            tap = house(order, metres=60, flow="1 L/min", useful=f"{useful:.3f} °C").assess().taps[1]
            told = {one.night: one.tap.word == HOT_ENOUGH for one in tap.nights}
            assert (tap.night, tap.hottest_night.night) == ("-12", "8")
            assert [told["-12"], told["8"]] == enough and tap.delivered.magnitude == pytest.approx(cool, abs=1e-6)


def test_the_lines_of_a_loop_lie_in_the_air_of_each_night():
    """Outdoors they stand in another air on another night, and the colder one is the worse for them."""
    text = GOOD.replace('[night]\nair = "-12 °C"\nhours = "14 h"\n', "".join(
        f'[[night]]\nname = "{air}"\nair = "{air} °C"\nhours = "14 h"\nhours_without_power = "9 h"\n' for air in (-3, -12)
    ))  # fmt: skip
    text = text.replace('name = "hot line"', 'name = "hot line"\nplace = "outdoors"')
    yard = read(Source("yard.toml", text))
    assert [one.loop.hot[0].surroundings.air.magnitude for one in yard.on_nights] == [-3, -12]
    hot = yard.assess().leg("hot line")
    assert hot.night == "-12" and hot.nights[0].without_power.value > hot.nights[1].without_power.value


def test_how_far_an_assessment_is_rises_evenly_from_night_to_night():
    """Each night takes the same share of what the legs leave, and its parts the same shares of it."""
    shares = list(readings.assessing(house((-12, 8, 1))))
    legs, *rest = shares
    assert legs == readings.LEGS_DONE and len(rest) % 3 == 0 and shares == sorted(shares) and shares[-1] < 1
    part, each = len(rest) // 3, (1 - legs) / 3
    for night in (1, 2):
        assert rest[night * part : (night + 1) * part] == pytest.approx([one + night * each for one in rest[:part]])
    assert legs < rest[0] < rest[part - 1] < legs + each
    alone = list(readings.assessing(house((8,))))[1:]
    assert [(one - legs) / (1 - legs) for one in alone] == pytest.approx([(one - legs) / each for one in rest[:part]])


def rows(result) -> set:
    """The names that a result prints at the beginning of its lines."""
    return {line.split("  ")[0] for line in str(result).splitlines()}


def test_a_result_prints_what_has_room_on_a_page():
    """A building prints its name and its few temperatures, not its legs; an assessment a line for each tap and leg."""
    yard = house((-12, 8))
    assert rows(yard) == {
        "name",
        "about",
        "address",
        "author",
        "date",
        "file",
        "pressure",
        "cold inlet",
        "set temperature",
        "tank place",
    }
    found = yard.assess()
    assert rows(found) >= {"left tap", "right tap", "right", "store", "slowest"}
    assert not rows(found) & {"taps", "legs"}
    for one in (*found.taps, *found.legs):
        assert not rows(one) & {"nights", "caution"} and "night" in rows(one)
    (best,) = first_changes(yard, 1)
    assert rows(best) == {"words", "gain"}
