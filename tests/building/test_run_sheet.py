"""The sheet of a building: a page for the talk, then every leg, tap and part once, in both papers and unit systems."""

import csv
import io
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from html import unescape
from types import SimpleNamespace

import pypdfium2
import pytest

from lessons_lib import Q_, InputError, load_layout, time_to_burn
from lessons_lib.building import run_sheet as run_sheet_module
from lessons_lib.building.changes import SCORED_IN_SHORT
from lessons_lib.building.run_sheet import MOST_TRIED, WIDTH, run_sheet, save, tables_of
from lessons_lib.building.run_sheet_rows import ranges
from lessons_lib.building.words import adults_skin, burn_words, holds_with, to_buy, warm_after
from lessons_lib.lessons.your_own_run import layout_results as results
from lessons_lib.lessons.your_own_run.picture import OwnRunScene
from lessons_lib.quantities.display import SI, SYSTEMS, US, measured, show
from lessons_lib.sheets import Picture
from lessons_lib.sheets.blocks import MARGIN, PAPERS
from lessons_lib.storage.spelling import in_words_of
from lessons_lib.storage.tables import DATA

from .two_storeys import text as two_storeys

BUILDINGS = ("workshop", "bunk_cabin", "wash_house")
TYPE_PX, POINTS = 16, 72 / 25.4  # of the sketch [px]; in a millimetre


@pytest.fixture(scope="module")
def houses(tmp_path_factory):
    """Each building with its assessment."""
    file = tmp_path_factory.mktemp("house") / "two_storeys.toml"
    file.write_text(two_storeys(), encoding="utf-8")
    found = {name: load_layout(DATA / "layouts" / f"{name}.toml") for name in (*BUILDINGS, "template")}
    found["two floors"] = load_layout(file)
    return {name: (house, house.assess()) for name, house in found.items()}


@pytest.fixture(scope="module")
def sheets(houses):
    """The sheet of a building in a unit system, without changes to make first; made once for all tests that read it."""
    return cache(lambda name, system=SI: Paper(run_sheet(*houses[name], system, ())))


class Paper:
    """A sheet, and the words of its sides on a paper, each printed once."""

    def __init__(self, sheet):
        self.sheet, self.sides = sheet, cache(lambda paper: sides(sheet.pdf(paper)))

    def words(self, paper: str = "A4") -> str:
        return " ".join(self.sides(paper))


def sides(pdf: bytes) -> list[str]:
    """The words of each side of paper."""
    return [" ".join(side.get_textpage().get_text_range().split()) for side in pypdfium2.PdfDocument(pdf)]


def words(pdf: bytes) -> str:
    return " ".join(sides(pdf))


def squeezed(text: str) -> str:
    """A text without blanks, as lines break differently on paper."""
    return "".join(text.split())


def tables(sheet) -> dict:
    """Heading → rows of each table of the CSV."""
    found, rows = {}, []
    for line in csv.reader(io.StringIO(tables_of(sheet))):
        if len(line) > 1:
            rows.append(line)
        elif line and not line[0].endswith("."):  # sentences end so, headings do not
            rows = found.setdefault(line[0], [])
    return {heading: rows[1:] for heading, rows in found.items() if rows}


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", BUILDINGS)
def test_page_one_is_for_the_talk_and_every_page_has_name_and_number(houses, sheets, name, system):
    (house, _), printed = houses[name], sheets(name, system)
    sheet = printed.sheet
    assert sheet.type_size >= 9
    for paper in ("A4", "Letter"):
        pages = printed.sides(paper)
        assert len(pages) == sheet.pages(paper) > 2
        for number, page in enumerate(pages, 1):
            assert f"{house.name} · INVENTED" in page and f"page {number} of {len(pages)}" in page
        for what in ("Hot water scalds", "We ask you to", "hottest tap", "slowest tap", "coldest leg", "Comments of"):
            assert what in pages[0] and not any(what in page for page in pages[1:])
        text = " ".join(pages)
        for what in (
            "(coldest",
            "trickle",
            "measure",
            "Hangers" if system == US else "Clips",
            "Fittings",
            "Mixing valve",
        ):
            assert what in text
        assert ("ground-fault" in text) == any(one.tape for one in house.all_legs)
        assert ("drinking water" in text) == (house.loop is not None)
        assert "no room" not in text


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", [*BUILDINGS, "two floors"])
def test_every_leg_tap_piece_and_part_is_once_on_paper_and_in_the_table_of_text(houses, sheets, name, system):
    """The rows of each table are the layout's own, in number and name, and each row of the CSV stands on the paper."""
    (house, found), printed = houses[name], sheets(name, system)
    sheet = printed.sheet
    found_rows, listed = tables(sheet), house.take_off(system)

    def said(text: str) -> str:
        return in_words_of(text, system)

    legs = next(rows for heading, rows in found_rows.items() if heading == "Legs")
    assert [row[:2] for row in legs] == [[str(n), said(leg.name)] for n, leg in enumerate(house.all_legs, 1)]
    assert [(row[3], row[4], row[6], row[8]) for row in legs] == [
        (leg.go, measured(leg.length, system), leg.joint, leg.place) for leg in house.all_legs
    ]
    assert all(row[5].startswith(leg.pipe.name) for row, leg in zip(legs, house.all_legs))
    assert [row[0].split(" (")[0] for row in found_rows["Taps"]] == [said(tap.name) for tap in house.taps]
    cold = sorted(row[0].removesuffix(" (coldest)") for row in found_rows["Legs in the cold"])
    numbers = {leg.name: n for n, leg in enumerate(house.all_legs, 1)}
    assert cold == sorted(said(f"{numbers[leg.leg]} {leg.leg}") for leg in found.legs)
    tapes = [leg for leg in found.legs if leg.plan is not None]
    assert (
        len(found_rows.get("Heat tape, leg by leg", ())) == len(tapes) == sum(bool(leg.tape) for leg in house.all_legs)
    )
    bought = [row for heading, rows in found_rows.items() for row in rows if row[0] == "☐" and ":" not in row[1]]
    parts = [row for row in listed.rows if row.kind != "pipe"]
    assert Counter(row[3] for row in bought) == Counter(to_buy(row.need, system) for row in parts)
    assert [row[1] for row in bought] == [said(row.what) for row in parts]
    assert [row[:3] for row in found_rows["Pipe"]] == [
        [row.what, to_buy(row.need, system), to_buy(row.with_spare, system)]
        for row in listed.rows
        if row.kind == "pipe"
    ]
    assert [(row[1], row[4]) for row in found_rows["Pieces to cut"]] == [
        (f"{numbers[piece.leg]}: {piece.number}", measured(piece.cut, system)) for piece in listed.pieces
    ]
    assert sum(row[2].count(",") + 1 for row in found_rows["Places"]) >= len({leg.place for leg in house.all_legs})
    for paper in ("A4", "Letter"):
        on_paper, page = squeezed(printed.words(paper)), squeezed(unescape(re.sub("<[^>]+>", "", sheet.html(paper))))
        for row in (row for rows in found_rows.values() for row in rows):
            told = squeezed("".join(row)).removeprefix("'")
            assert told in on_paper and told in page, row
        assert all(on_paper.count(squeezed("".join(row))) == 1 for row in legs)


def test_speeds_foam_places_and_levels_of_the_two_storeys(houses, sheets):
    """By hand: the yard's pipe passes what its tap takes with all open; its bore is 13 mm; the post stands 1.2 m high."""
    found = houses["two floors"][1]
    rows = tables(sheets("two floors").sheet)
    flow = found.tap("yard tap").flow_with_others.to("m**3/s").magnitude
    speed = show(Q_(flow / (3.14159265 * 0.0065**2), "m/s"), "speed", SI)
    yard, buried, post = rows["Legs"][5:8]
    assert [row[9] for row in (yard, buried, post)] == [speed] * 3 and yard[2] == "leg 2"
    assert yard[5] == "copper EN 1057 15 mm, 1 × ball valve" and post[7] == "polyethylene foam 13 mm, 3 % bare"
    assert rows["Places"] == [
        ["indoors", "air of 19 °C", "1–5, 9–22"],
        ["crawlspace", "air of 1 °C", "6"],
        ["buried", "moist soil of 6 °C, 0.8 m deep", "7"],
        ["outdoors", "air of −11 °C, wind 4 m/s", "8"],
    ]
    assert rows["Levels, to see the floors"] == [
        ["0 m", "cellar", "1–3, 6–7", ""],
        ["1 m", "cellar", "", "utility sink"],
        ["1.2 m", "ground floor", "", "yard tap"],
        ["2.6 m", "ground floor", "9, 11–14", "kitchen sink, cloakroom basin"],
        ["3.8 m", "ground floor", "", "lower shower"],
        ["5.3 m", "upper floor", "16, 18–22", "left basin, right basin, upper shower head"],
        ["5.9 m", "upper floor", "", "bath tap"],
    ]
    floors = [row[10] for row in rows["Legs"]]
    assert floors == ["cellar"] * 8 + ["ground floor"] * 7 + ["upper floor"] * 7
    assert ranges([1, 2, 3, 7, 9, 10]) == "1–3, 7, 9–10" and ranges([]) == ""


def test_the_sketch_is_large_enough_to_read(sheets):
    picture = next(block for block in sheets("bunk_cabin").sheet.blocks if isinstance(block, Picture))
    assert picture.share == 1 and picture.proportion > 0.5 and "Isometric sketch of Bunk cabin" in picture.alt
    for paper in ("A4", "Letter"):
        inside = (PAPERS[paper][0] - 2 * MARGIN) * POINTS
        assert TYPE_PX * inside / WIDTH >= 7.5


def test_cuts_and_bars_of_the_wash_house(sheets):
    """As worked by hand in test_layout_take_off: 2 m less two plain halves …; three bars of 20 ft and one."""
    rows = tables(sheets("wash_house").sheet)
    assert ["copper L 3/4 in", "15.8 m", "17.4 m", "3 of 6.096 m"] in [row[:4] for row in rows["Pipe"]]
    cuts = {row[1]: (row[4], row[6]) for row in rows["Pieces to cut"]}
    assert cuts["4: 1"] == ("1.19 m", "") and cuts["6: 1"] == ("1.189 m", "")
    assert ("0.989 m", "measure") in cuts.values() and ("0.975 m", "measure") in cuts.values()  # the ball valve
    fittings = rows["Fittings to tick off; sizes of a tee: run x run x branch"]
    assert ["elbow 90 (push)", "copper L 3/4 in", "2"] in [row[1:4] for row in fittings]
    assert ["tee (push)", "copper L 3/4 in x 3/4 in x 1/2 in", "1"] in [row[1:4] for row in fittings]


def test_what_to_change_first_stands_on_it(houses):
    house, found = houses["wash_house"]
    changes = house.first_changes(3, 1)
    sheet = run_sheet(house, found, changes=changes)
    text = words(sheet.pdf("A4"))
    assert (
        changes and all(change.words in text for change in changes) and "What to change first" in sides(sheet.pdf())[0]
    )
    single, (pair,) = ([one for one in changes if bool(one.alone) == two] for two in (False, True))
    rows = tables(sheet)["What to change first"]
    assert [row[1] for row in rows[: len(single)]] == [change.words for change in single]
    assert [row[3] for row in rows[: len(single)]] == [f"{change.gain:.1f}" for change in single]
    assert [pair.words, f"{pair.gain:.1f}"] in [[row[0], row[2]] for row in rows if len(row) > 2]
    assert SCORED_IN_SHORT in " ".join(text.split())


def test_markup_in_names_stays_text(built):
    house = built([("<b>x</b>", "tank", "up", "2 m", "")], [("<script>alert(1)</script>", "<b>x</b>", "6 L/min")])
    page = run_sheet(house, changes=()).html()
    assert "<script" not in page and "<b>x" not in page and "&lt;script&gt;" in page


def test_a_long_building_goes_on_and_on_and_is_not_tried_unasked(built, monkeypatch):
    """80 legs with long names: every one of them and every tap is there; nothing was left out, no change was tried."""
    name = "a very long name of the leg with the number {}".format
    legs = [
        (name(n), name(n - 1) if n else "tank", "east", f"{2 + n} m", 'place = "crawlspace"' if n % 2 else "")
        for n in range(40)
    ]
    legs += [(f"drop {n}", name(n), "down", "1 m", 'size = "1/2 in"') for n in range(39)]
    taps = [(f"tap {n}", f"drop {n}", "1 L/min") for n in range(39)] + [("last", name(39), "1 L/min")]
    house = built(legs, taps, pressure="600 kPa")
    assert len(house.all_legs) > MOST_TRIED
    monkeypatch.setattr(run_sheet_module, "trying", lambda *_: pytest.fail("tried"))
    sheet = run_sheet(house)
    rows, pages = tables(sheet), sides(sheet.pdf("Letter"))
    assert [row[1] for row in rows["Legs"]] == [leg[0] for leg in legs] and len(rows["Taps"]) == 40
    assert all(f"page {n} of {len(pages)}" in page for n, page in enumerate(pages, 1)) and len(pages) > 6
    text = " ".join(pages)
    assert "no room" not in text and "in a building of 79 legs it takes minutes" in text and "slowest" in text
    assert sum(page.count("joint insulation") for page in pages) > 1  # a table says its head anew on each page


def test_the_tables_are_written_as_text_that_no_spreadsheet_runs(built, tmp_path):
    house = built([("=1+1", "tank", "up", "2 m", "")], [("t", "=1+1", "6 L/min")])
    file = tmp_path / "sheet.csv"
    assert save(run_sheet(house, changes=()), file) == file
    cells = [cell for row in csv.reader(file.open(encoding="utf-8")) for cell in row]
    assert "'=1+1" in cells and "=1+1" not in cells and "\u00a0" not in "".join(cells)
    with pytest.raises(InputError, match="is there already"):
        save(run_sheet(house, changes=()), file)


def test_a_file_is_written_whole_and_never_over_another(houses, tmp_path, monkeypatch):
    house = houses["wash_house"][0]
    # changes have tests of their own, and take their time
    monkeypatch.setattr(run_sheet_module, "trying", lambda *_: iter([SimpleNamespace(share=1.0, best=())]))
    for name in ("sheet.csv", "sheet.html", "sheet.pdf"):
        file = tmp_path / name
        assert house.sheet(file, "Letter") == file
        before = file.read_bytes()
        with monkeypatch.context() as patch, pytest.raises(InputError, match="is there already"):
            patch.setattr(run_sheet_module, "run_sheet", lambda *_, **__: pytest.fail("made before it was refused"))
            house.sheet(file)
        assert file.read_bytes() == before
        house.sheet(file, "A4", SYSTEMS[1], replace=True)
        assert file.read_bytes() != before
    assert len(pypdfium2.PdfDocument(io.BytesIO((tmp_path / "sheet.pdf").read_bytes()))) > 2
    with pytest.raises(InputError, match="A4"):
        house.sheet(tmp_path / "x.pdf", "A3")
    with pytest.raises(InputError, match="unit system"):
        house.sheet(tmp_path / "x.pdf", system="imperial")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet.csv", "sheet.html", "sheet.pdf"]


def test_paper_of_a_demo_building_says_that_it_is_invented(sheets, built):
    """At the foot of HTML and PDF; a reader's own building does not get it."""
    for name in BUILDINGS:
        printed = sheets(name)
        assert "INVENTED: Tern Bank" in printed.words() and "INVENTED: Tern Bank" in printed.sheet.html("Letter")
    assert "INVENTED: these legs are still the template's" in sheets("template").words()
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
    assert told in text and f"{count} ×" not in text and f"{feet} ft {feet} ft" in text
    assert told in results.cold_legs(OwnRunScene(house, found), SYSTEMS[1]).replace("\u00a0", " ")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", [*BUILDINGS, "template"])
def test_panel_and_sheet_print_the_same_numbers(houses, sheets, name, system):
    """Waits, times to a burn, lengths to buy, tape and heat: each as the panel's tables print it."""
    house, found = houses[name]
    scene, text = OwnRunScene(house, found), sheets(name, system).words()
    panel = " ".join(
        unescape(re.sub("<[^>]+>", " ", part))
        for part in (results.taps(scene, system), results.cold_legs(scene, system), results.take_off(house, system))
    ).replace("\u00a0", " ")
    for tap in found.taps:
        assert warm_after(tap) in text and warm_after(tap) in panel
        assert adults_skin(tap.delivered) in text and adults_skin(tap.unmixed) in text
        assert f"adults: {adults_skin(tap.delivered)}" in panel
        assert adults_skin(tap.delivered) in burn_words(tap.delivered), "the card and the column *As set* say the same"
    for row in house.take_off().rows:
        assert to_buy(row.need, system) in panel
        assert f"{to_buy(row.need, system)} {to_buy(row.with_spare, system)}" in text
    for leg in found.legs:
        assert holds_with(leg, system) in panel and (holds_with(leg, system) in text or leg.plan is None)


def test_shorter_than_the_tables_shortest_time_stays_so_on_paper(built):
    """At 75 °C the tables say under a second or so: "under" is the safe word, and it stands on the sheet and in the panel."""
    house = replace(built([("a", "tank", "up", "1 m", "")], [("t", "a", "6 L/min")]), set_temperature=Q_(80, "degC"))
    found = house.assess()
    (tap,) = found.taps
    assert time_to_burn(tap.delivered).bound == "shorter than" and adults_skin(tap.delivered).startswith(
        "burns in under "
    )
    assert adults_skin(tap.delivered) in words(run_sheet(house, found, changes=()).pdf("A4"))
    assert f"adults: {adults_skin(tap.delivered)}" in results.taps(OwnRunScene(house, found), SYSTEMS[0]).replace(
        "\u00a0", " "
    )


def test_lengths_to_buy_are_never_too_short():
    assert [to_buy(Q_(value, "m"), SYSTEMS[0]) for value in (7.1, 7.101, 7.199)] == ["7.1 m", "7.2 m", "7.2 m"]
    assert [to_buy(Q_(value, "ft"), SYSTEMS[1]) for value in (7.0, 7.01)] == ["7 ft", "8 ft"] and to_buy(
        3, SYSTEMS[0]
    ) == "3"
