"""Several nights in one file: each leg is judged by its worst, and every night is what it would be alone in the file."""

import csv
import io
from types import SimpleNamespace

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.building import LayoutDocument, changes
from lessons_lib.building.changes import score
from lessons_lib.building.run_sheet import run_sheet, tables_of
from lessons_lib.building.words import lines_lose
from lessons_lib.lessons.your_own_run import layout_results as results
from lessons_lib.lessons.your_own_run.layout_table import fresh_row
from lessons_lib.lessons.your_own_run.picture import OwnRunScene
from lessons_lib.quantities.display import SI
from lessons_lib.quantities.units import Q_
from lessons_lib.storage.tables import DATA

NIGHTS = (
    ("usual winter", "-2 °C", "1 m/s", "10 h", "0 h"),
    ("coldest in ten years", "-21 °C", "6 m/s", "15 h", "1 h"),
    ("power cut 6 h", "-6 °C", "2 m/s", "12 h", "6 h"),
)


def told(night, head: str, named: bool = True) -> str:
    name, air, wind, hours, without = night
    lines = [f'name = "{name}"'] if named else []
    lines += [f'air = "{air}"', f'wind = "{wind}"', f'hours = "{hours}"', f'hours_without_power = "{without}"']
    return "\n".join([head, *lines, ""])


def with_nights(said: str, building: str = "bunk_cabin") -> str:
    """The text of a demo building with other nights."""
    text = (DATA / "layouts" / f"{building}.toml").read_text(encoding="utf-8")
    begin = text.index("[night]")
    end = text.index("\n[", begin) + 1
    return text[:begin] + said + "\n" + text[end:]


@pytest.fixture(scope="module")
def read(tmp_path_factory):
    folder = tmp_path_factory.mktemp("nights")

    def load(text):
        file = folder / "house.toml"
        file.write_text(text, encoding="utf-8")
        return load_layout(file)

    return load


@pytest.fixture(scope="module")
def house(read):
    return read(with_nights("".join(told(night, "[[night]]") for night in NIGHTS)))


def same(one, two) -> bool:
    return (str(one.with_power), str(one.without_power), one.rest, one.lowest_water, float(one.ice_share or 0)) == (
        str(two.with_power),
        str(two.without_power),
        two.rest,
        two.lowest_water,
        float(two.ice_share or 0),
    )


def at_tap(one) -> tuple:
    return one.delivered, one.wait, one.unmixed, one.flow_with_others, str(one.tap), str(one.scald_unmixed)


def test_each_night_is_what_it_is_alone(house, read):
    """Three files with one [night] each, read and assessed by themselves."""
    found = house.assess()
    for place, night in enumerate(NIGHTS):
        alone = read(with_nights(told(night, "[night]", named=False))).assess()
        for leg, one in zip(found.legs, alone.legs, strict=True):
            assert leg.leg == one.leg and leg.nights[place].night == night[0] and same(leg.nights[place], one)
        for tap, one in zip(found.taps, alone.taps, strict=True):
            assert tap.nights[place].night == night[0] and at_tap(tap.nights[place]) == at_tap(one)


def test_a_leg_is_judged_by_the_night_that_is_worst_for_it(house):
    found = house.assess()
    for leg in found.legs:
        grave = max(one.with_power.word.gravity for one in leg.nights)
        assert leg.with_power.word.gravity == grave and leg.night in [night[0] for night in NIGHTS]
        assert same(leg, next(one for one in leg.nights if one.night == leg.night))
    outdoors = [leg for leg in found.legs if leg.place == "outdoors"]
    assert outdoors and {leg.night for leg in outdoors} == {"coldest in ten years"}


def test_a_tap_is_judged_by_its_worst_night_and_scalds_on_its_hottest(house):
    """More heat is lost on the way in the coldest air and wind, least in the mildest."""
    found = house.assess()
    for tap in found.taps:
        assert (tap.night, tap.hottest_night.night) == ("coldest in ten years", "usual winter")
        waits, unmixed = ([getattr(one, name).magnitude for one in tap.nights] for name in ("wait", "unmixed"))
        assert tap.wait.magnitude == max(waits) > min(waits)
        assert tap.hottest_night.unmixed.magnitude == max(unmixed) > min(unmixed)


@pytest.mark.parametrize("cold", [1, 2])
def test_two_nights_are_judged_as_three_are(cold, read):
    """Of the usual winter and a colder night the colder one is the worse for each tap and each leg outdoors."""
    found = read(with_nights("".join(told(NIGHTS[place], "[[night]]") for place in (0, cold)))).assess()
    for one in (*found.taps, *(leg for leg in found.legs if leg.place == "outdoors")):
        assert [night.night for night in one.nights] == [NIGHTS[0][0], NIGHTS[cold][0]] and one.night == NIGHTS[cold][0]


def test_taps_that_no_night_reaches_are_told_once(read):
    """Every leg to a tap lies indoors: the nights change nothing at the taps."""
    indoors = with_nights("".join(told(night, "[[night]]") for night in NIGHTS)).replace('"outdoors"', '"indoors"')
    house = read(indoors)
    found = house.assess()
    assert house.also and not any(tap.night or tap.nights for tap in found.taps)
    shown = results.taps(OwnRunScene(house, found), SI).replace("\u00a0", " ")
    assert results.SAME_EACH_NIGHT in shown and "Worst night" not in shown


def test_lines_of_a_loop_take_up_heat_in_warmer_air():
    """A share that rounds to nothing has no sign, and a negative loss is a gain."""
    loop = SimpleNamespace(lost=Q_(45.0, "W"), lost_share=0.0123)
    assert lines_lose(loop, SI) == "its lines lose 45 W, 1 % of what it carries"
    loop.lost, loop.lost_share = Q_(-5.0, "W"), -0.002
    assert lines_lose(loop, SI) == "its lines take up 5 W, less than 1 % of what it carries"


def test_points_for_taps_are_those_of_each_taps_worst_night(house, read):
    alone = [score(read(with_nights(told(night, "[night]", named=False)))) for night in NIGHTS]
    assert score(house).wait == pytest.approx(max(one.wait for one in alone))
    assert score(house).wait > min(one.wait for one in alone)


def test_points_for_ice_are_those_of_the_worst_night(house, read, monkeypatch):
    alone = [score(read(with_nights(told(night, "[night]", named=False)))).ice for night in NIGHTS]
    assert score(house).ice == pytest.approx(max(alone)) and len(set(alone)) > 1
    taped = [one for one in changes.all_ideas(house) if one.subject == ("tape",)]
    monkeypatch.setattr(changes, "all_ideas", lambda _: taped)
    change = next(one for one in house.first_changes(5) if one.after.ice < one.before.ice)
    assert len(change.layout.also) == 2 and change.after.ice == pytest.approx(score(change.layout).ice)


def test_panel_and_sheet_list_each_night(house):
    found = house.assess()
    shown = results.cold_legs(OwnRunScene(house, found), SI).replace("\u00a0", " ")
    assert all(night[0] in shown for night in NIGHTS) and "Worst night" in shown
    shown = results.taps(OwnRunScene(house, found), SI).replace("\u00a0", " ")
    assert all(night[0] in shown for night in NIGHTS) and "Worst night" in shown and results.WORST_AND_HOTTEST in shown
    cards = " ".join(card.detail for card in results.readouts(OwnRunScene(house, found), SI))
    assert cards.count("(night: coldest in ten years)") == 3 and "(night: usual winter)" in cards
    assert results.cold_legs(OwnRunScene(house, found), SI).count("(worst)") == len(found.legs)
    lines = list(csv.reader(io.StringIO(tables_of(run_sheet(house, found, changes=())))))
    rows = [line for line in lines if len(line) == 5 and line[1].removesuffix(" (worst)") in [n[0] for n in NIGHTS]]
    assert len(rows) == len(NIGHTS) * len(found.legs)
    assert sum(row[1].endswith("(worst)") for row in rows) == len(found.legs)
    rows = [line for line in lines if len(line) == 6 and line[1].removesuffix(" (worst)") in [n[0] for n in NIGHTS]]
    assert len(rows) == len(NIGHTS) * len(found.taps)
    assert {row[1] for row in rows if row[1].endswith("(worst)")} == {"coldest in ten years (worst)"}
    slowest = next(line for line in lines if line[:1] == ["slowest tap"])
    assert slowest[2].endswith("(night: coldest in ten years)")
    (outdoors,) = [line for line in lines if line[:1] == ["outdoors"]]
    assert all(air in outdoors[1].replace("\u00a0", " ") for air in ("−2 °C", "−21 °C", "−6 °C"))
    assert any("Night, power cut 6 h: −6 °C" in line[0].replace("\u00a0", " ") for line in lines if line)


def test_one_night_looks_as_before(read):
    house = read(with_nights(told(NIGHTS[0], "[night]", named=False)))
    assert "night:" not in results.headline(OwnRunScene(house, house.assess()), SI)
    assert house.also == () and house.assess().legs[0].nights == ()
    assert "Worst night" not in results.cold_legs(OwnRunScene(house, house.assess()), SI)


def test_nights_are_added_changed_and_removed_with_their_comments():
    document = LayoutDocument((DATA / "layouts" / "template.toml").read_text(encoding="utf-8"))
    comments = [line.partition("#")[2] for line in document.text.splitlines() if "#" in line]
    (only,) = document.rows("night")
    document.add("night", fresh_row(document, "night", 0), 0)
    first, second = document.rows("night")
    assert first == {**only, "name": "usual winter"} and second == {**only, "name": "another night"}
    document.change("night", 1, "air", "-20 °F")
    assert [one.night.name for one in document.layout().on_nights] == ["usual winter", "another night"]
    assert document.layout().also[0].night.air.magnitude == -20
    assert [line.partition("#")[2] for line in document.text.splitlines() if "#" in line] == comments
    with pytest.raises(InputError, match="table Nights"):
        document.set("night", "air", "1 °F")
    with pytest.raises(InputError, match="already"):
        document.change("night", 1, "name", "usual winter")
    document.remove("night", 0)
    with pytest.raises(InputError, match="at least one night"):
        document.remove("night", 0)
    assert document.undo() and len(document.layout().on_nights) == 2
    assert document.undo() and document.undo() and document.rows("night") == [only]
