"""The one-page sheet of a building: one side in both papers and unit systems, every tap and caution on it, texts escaped."""

import io
import re
from dataclasses import replace
from html import unescape

import pypdfium2
import pytest

from lessons_lib import Q_, InputError, load_layout, time_to_burn
from lessons_lib.building.run_sheet import WIDTH, run_sheet
from lessons_lib.building.words import burn_time, holds_with, to_buy, warm_after
from lessons_lib.lessons.your_own_run import layout_results as results
from lessons_lib.lessons.your_own_run.picture import OwnRunScene
from lessons_lib.quantities.display import SYSTEMS, US
from lessons_lib.sheets import Picture
from lessons_lib.sheets.blocks import MARGIN, PAPERS
from lessons_lib.storage.tables import DATA

BUILDINGS = ("workshop", "bunk_cabin", "wash_house")
TYPE_PX, POINTS = 16, 72 / 25.4  # of the sketch [px]; in a millimetre


@pytest.fixture(scope="module")
def houses():
    found = {name: load_layout(DATA / "layouts" / f"{name}.toml") for name in BUILDINGS}
    return {name: (house, house.assess()) for name, house in found.items()}


def words(pdf: bytes) -> str:
    return " ".join(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range().split())


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", BUILDINGS)
def test_one_side_in_both_papers_with_everything_on_it(houses, name, system):
    house, found = houses[name]
    sheet = run_sheet(house, found, system, changes=())
    assert sheet.type_size >= 9
    for paper in ("A4", "Letter"):
        assert sheet.pages(paper) == 1
        text = words(sheet.pdf(paper))
        for one in house.taps:
            assert one.name in text
        for what in (
            "Hot water scalds",
            "licensed contractor",
            "(coldest",
            "slowest",
            "hottest",
            "trickle",
            "measure",
            "hangers" if system == US else "clips",
            "fittings",
            "Mixing valve",
        ):
            assert what in text
        assert ("ground-fault" in text) == any(one.tape for one in house.all_legs)
        assert ("drinking water" in text) == (house.loop is not None)
        assert "no room here" not in text


def test_the_sketch_is_large_enough_to_read(houses):
    sheet = run_sheet(*houses["bunk_cabin"], changes=())
    picture = next(block for block in sheet.blocks if isinstance(block, Picture))
    assert picture.share == 1 and "Isometric sketch of Bunk cabin" in picture.alt
    for paper in ("A4", "Letter"):
        inside = (PAPERS[paper][0] - 2 * MARGIN) * POINTS
        assert TYPE_PX * inside / WIDTH >= 7.5


def test_cuts_and_bars_of_the_wash_house(houses):
    """As worked by hand in test_layout_take_off: 2 m less two plain halves …; three bars of 20 ft and one."""
    text = words(run_sheet(*houses["wash_house"], changes=()).pdf("A4"))
    assert "15.8 / 17.4 m: buy 3 of 6.096 m" in text and "4: 1.19 m; 6: 1.189 m" in text
    assert "0.989 m measure + 0.975 m measure" in text  # nobody has measured the ball valve
    assert "copper L 3/4 in: elbow 90 (push) 2 / 2, coupling (push) 1 / 1" in text
    assert "tees: run x run x branch" in text and "copper L 3/4 in x 3/4 in x 1/2 in: tee (push) 1 / 1" in text


def test_what_to_change_first_stands_on_it(houses):
    house, found = houses["wash_house"]
    changes = house.first_changes()
    text = words(run_sheet(house, found, changes=changes).pdf("A4"))
    assert changes and all(change.words in text for change in changes)


def test_markup_in_names_stays_text(built):
    house = built([("<b>x</b>", "tank", "up", "2 m", "")], [("<script>alert(1)</script>", "<b>x</b>", "6 L/min")])
    page = run_sheet(house, changes=()).html()
    assert "<script" not in page and "<b>x" not in page and "&lt;script&gt;" in page


def test_a_long_building_says_what_was_left_out(built):
    name = "a very long name of the leg with the number {}".format
    legs = [
        (name(n), name(n - 1) if n else "tank", "east", f"{2 + n} m", 'place = "crawlspace"' if n % 2 else "")
        for n in range(40)
    ]
    legs += [(f"drop {n}", name(n), "down", "1 m", 'size = "1/2 in"') for n in range(39)]
    taps = [(f"tap {n}", f"drop {n}", "1 L/min") for n in range(39)] + [("last", name(39), "1 L/min")]
    sheet = run_sheet(built(legs, taps, pressure="600 kPa"), changes=())
    text = words(sheet.pdf("Letter"))
    assert sheet.pages("Letter") == sheet.pages("A4") == 1
    assert (
        "more taps have no room here; the CSV and the workbook have all" in text
        and "legs more" in text
        and "slowest" in text
    )


def test_a_file_is_written_whole_and_never_over_another(houses, tmp_path, monkeypatch):
    house = houses["wash_house"][0]
    monkeypatch.setattr(
        type(house), "first_changes", lambda self: ()
    )  # they have tests of their own, and take their time
    for name in ("sheet.html", "sheet.pdf"):
        file = tmp_path / name
        assert house.sheet(file, "Letter") == file
        before = file.read_bytes()
        with pytest.raises(InputError, match="is there already"):
            house.sheet(file)
        assert file.read_bytes() == before
        house.sheet(file, "A4", SYSTEMS[1], replace=True)
        assert file.read_bytes() != before
    assert len(pypdfium2.PdfDocument(io.BytesIO((tmp_path / "sheet.pdf").read_bytes()))) == 1
    with pytest.raises(InputError, match="A4"):
        house.sheet(tmp_path / "x.pdf", "A3")
    with pytest.raises(InputError, match="unit system"):
        house.sheet(tmp_path / "x.pdf", system="imperial")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet.html", "sheet.pdf"]


def test_paper_of_a_demo_building_says_that_it_is_invented(houses, built):
    """At the foot of HTML and PDF; a reader's own building does not get it."""
    for name in BUILDINGS:
        sheet = run_sheet(*houses[name], changes=())
        assert "INVENTED: Tern Bank" in words(sheet.pdf("A4")) and "INVENTED: Tern Bank" in sheet.html("Letter")
    template = run_sheet(load_layout(DATA / "layouts" / "template.toml"), changes=())
    assert "INVENTED: these legs are still the template's" in words(template.pdf("A4"))
    own = run_sheet(built([("a", "tank", "up", "2 m", "")], [("t", "a", "6 L/min")]), changes=())
    assert "INVENTED" not in words(own.pdf("A4")) + own.html()


TAPED = 'place = "outdoors"\nair = "-10 °C"\nwind = "8 m/s"\ninsulation = "none"\ntape = "10 W/m"\nfittings = ["ball valve"]'


def test_tape_is_bought_once_and_the_panel_says_the_same(built):
    """By hand: n tapes side by side on 18 ft with 0.3 m for the valve are n x 5.7864 m, and no more: rounded up to a foot."""
    house = built([("out", "tank", "up", "18 ft", TAPED)], [("t", "out", "6 L/min")])
    found = house.assess()
    (leg,) = found.legs
    count = leg.plan.tapes
    assert count > 2 and leg.plan.tape_length.to("m").magnitude == pytest.approx(count * (18 * 0.3048 + 0.3))
    feet = int(-(-count * (18 * 0.3048 + 0.3) // 0.3048))
    told = f"{feet} ft in {count} tapes side by side"
    text = words(run_sheet(house, found, SYSTEMS[1], changes=()).pdf("A4"))
    assert told in text and f"{count} ×" not in text and f"{feet} / {feet} ft" in text
    assert told in results.cold_legs(OwnRunScene(house, found), SYSTEMS[1])


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", [*BUILDINGS, "template"])
def test_panel_and_sheet_print_the_same_numbers(name, system):
    """Waits, times to a burn, lengths to buy, tape and heat: each as the panel's tables print it."""
    house = load_layout(DATA / "layouts" / f"{name}.toml")
    found = house.assess()
    scene, text = OwnRunScene(house, found), words(run_sheet(house, found, system, changes=()).pdf("A4"))
    panel = " ".join(
        unescape(re.sub("<[^>]+>", " ", part))
        for part in (results.taps(scene, system), results.cold_legs(scene, system), results.take_off(house, system))
    )
    for tap in found.taps:
        assert warm_after(tap) in text and warm_after(tap) in panel
        assert burn_time(tap.delivered) in text and burn_time(tap.unmixed) in text
        if not burn_time(tap.delivered).startswith("over"):
            assert f"adults burn in {burn_time(tap.delivered)}" in panel
    for row in house.take_off().rows:
        assert to_buy(row.need, system) in panel
        assert f"{to_buy(row.need, system).split(' ')[0]} / {to_buy(row.with_spare, system)}" in text
    for leg in found.legs:
        assert holds_with(leg, system) in panel and (holds_with(leg, system) in text or leg.plan is None)


def test_shorter_than_the_tables_shortest_time_stays_so_on_paper(built):
    """At 75 °C the tables say under a second or so: "under" is the safe word, and it stands on the sheet and in the panel."""
    house = replace(built([("a", "tank", "up", "1 m", "")], [("t", "a", "6 L/min")]), set_temperature=Q_(80, "degC"))
    found = house.assess()
    (tap,) = found.taps
    assert time_to_burn(tap.delivered).bound == "shorter than" and burn_time(tap.delivered).startswith("under ")
    assert burn_time(tap.delivered) in words(run_sheet(house, found, changes=()).pdf("A4"))
    assert f"adults burn in {burn_time(tap.delivered)}" in results.taps(OwnRunScene(house, found), SYSTEMS[0])


def test_lengths_to_buy_are_never_too_short():
    assert [to_buy(Q_(value, "m"), SYSTEMS[0]) for value in (7.1, 7.101, 7.199)] == ["7.1 m", "7.2 m", "7.2 m"]
    assert [to_buy(Q_(value, "ft"), SYSTEMS[1]) for value in (7.0, 7.01)] == ["7 ft", "8 ft"] and to_buy(
        3, SYSTEMS[0]
    ) == "3"
