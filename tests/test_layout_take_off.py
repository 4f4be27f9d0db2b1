"""The take-off of whole buildings: one by hand, every length, cut and count; the others by what must add up."""

import csv

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.tables import DATA

LAYOUTS = sorted((DATA / "layouts").glob("*.toml"))
every_layout = pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)


def layout(name):
    return load_layout(DATA / "layouts" / f"{name}.toml")


def test_the_wash_house_by_hand():
    """Every length, cut and count of one building, worked out on paper.

    Measured, centre to face less depth: elbow 3/4 in 43 - 29 = 14 mm; elbow 1/2 in 36 - 25 = 11 mm; tee through 3/4 in
    42 - 29 = 13 mm; tee branch 1/2 in 35 - 25 = 10 mm; coupling 3/4 in 30 - 29 = 1 mm. Not measured: the ball valve,
    whose pipe stops 0.5 outside diameters from its centre: 0.5 x 0.875 in = 0.4375 in = 11.1125 mm.
    Stock 20 ft = 6.096 m.
    """
    found = layout("wash_house").take_off()
    cuts = [(piece.leg, round(piece.cut.to("mm").magnitude, 4), bool(piece.measure)) for piece in found.pieces]
    assert cuts == [
        ("riser", 988.8875, True),  # 2000 / 2 = 1000 to the valve in the middle; 1000 - 11.1125
        ("riser", 974.8875, True),  # 1000 - 11.1125 - 14
        ("passage", 6096.0, False),  # 10 000 - 14 - 14 = 9972 is longer than the stock: a whole length …
        ("passage", 3874.0, False),  # … and 9972 - 6096 - 2 x 1 in the coupling
        ("round the corner", 2973.0, False),  # 3000 - 14 - 13
        ("first drop", 1190.0, False),  # 1200 - 10
        ("along the showers", 873.0, False),  # 900 - 13 - 14
        ("second drop", 1189.0, False),  # 1200 - 11
    ]
    bars = found.bars["copper L 3/4 in"]
    # 6096 | 3874 + 988.8875 + 974.8875 = 5837.775 | 2973 + 873 = 3846
    assert [round(float(bar.to("mm").magnitude.sum()), 3) for bar in bars.bars] == [6096.0, 5837.775, 3846.0]
    assert bars.total.to("mm").magnitude == pytest.approx(15_779.775)
    assert bars.waste.to("mm").magnitude == pytest.approx(3 * 6096 - 15_779.775)
    # spare 10 % = 1578 mm lies in the longest left-over, 6096 - 3846 = 2250 mm: no fourth bar
    assert (bars.bars_needed, bars.bars_to_buy) == (3, 3)
    small = found.bars["copper L 1/2 in"]
    assert small.total.to("mm").magnitude == pytest.approx(1190 + 1189) and small.bars_to_buy == 1
    counts = {(row.kind, row.what, row.size): (row.need, row.with_spare) for row in found.rows if row.kind in ("fitting", "clip")}
    big, little = "copper L 3/4 in", "copper L 1/2 in"
    assert counts == {
        ("fitting", "elbow 90", big): (2, 3),  # riser to passage, passage to corner; 2.2 is 3 whole ones
        ("fitting", "tee", f"{big} x {big} x {little}"): (1, 2),
        ("fitting", "elbow 90", f"{big} x {little}"): (1, 2),  # along the showers to the second drop
        ("fitting", "ball valve", big): (1, 2),
        ("fitting", "coupling", big): (1, 2),
        ("fitting", "tap, shower", little): (2, 3),
        ("fitting", "mixing valve", big): (1, 2),
        # every 6 ft = 1.8288 m across and 10 ft = 3.048 m upright: riser 2/3.048 → 1, passage 10/1.8288 = 5.47 → 6,
        # corner 3/1.8288 = 1.64 → 2, along 0.9/1.8288 → 1; 1 each for the drops
        ("clip", "support", big): (1 + 6 + 2 + 1, 11),
        ("clip", "support", little): (1 + 1, 3),
    }
    notes = {row.what: row.note for row in found.rows if row.kind == "fitting"}
    assert notes["elbow 90"] == "" and notes["ball valve"] == "measure centre to face, insertion depth"
    assert not [row for row in found.rows if row.kind in ("insulation", "tape")]  # bare, and no tape


def test_insulation_tape_and_clips_of_the_cabin():
    """18 m over a tape: bore 22.225 + 6 + 2 x 1 mm; 12 m in the crawlspace; 2 + 5 + 4 + 8 + 2 + 3 ft indoors; 15 + 0.3 + 3 m of tape."""
    found = layout("bunk_cabin").take_off().rows
    lengths = {(row.what, row.size.split(",")[0]): row.need.to("m").magnitude for row in found if row.kind == "insulation"}
    assert lengths == {
        ("elastomeric foam", "bore 30.2 mm"): pytest.approx(18.0), ("polyethylene foam", "bore 22.2 mm"): pytest.approx(12.0),
        ("elastomeric foam", "bore 22.2 mm"): pytest.approx(2 * 0.3048), ("elastomeric foam", "bore 15.9 mm"): pytest.approx(22 * 0.3048),
    }
    tape_row, = (row for row in found if row.kind == "tape")
    assert tape_row.need.to("m").magnitude == pytest.approx(18.3) and tape_row.with_spare == tape_row.need
    # PEX 3/4 in every 32 in = 2.67 ft: 4/0.8138 → 5, 8/0.8138 → 10, 2 ft upright → 1
    clips = {row.size: row.need for row in found if row.kind == "clip"}
    assert clips["PEX CTS 3/4 in"] == 5 + 10 + 1


@every_layout
def test_pieces_and_fittings_add_up_to_the_leg(path):
    """Centre to centre of a leg's pieces is its length: nothing is lost at a coupling or a valve."""
    house = load_layout(path)
    for one in house.all_legs:
        pieces = house.pieces_of(one)
        assert sum(piece.centre_to_centre.to("m").magnitude for piece in pieces) == pytest.approx(one.length.to("m").magnitude)
        assert all(piece.second == after.first for piece, after in zip(pieces, pieces[1:]))
    found = house.take_off()
    for pipe, bars in found.bars.items():
        assert bars.total.to("m").magnitude == pytest.approx(sum(p.cut.to("m").magnitude for p in found.pieces if p.pipe == pipe))


def test_csv_is_written_whole_and_never_over_another(tmp_path):
    found, file = layout("workshop").take_off(), tmp_path / "list.csv"
    found.to_csv(file)
    lines = list(csv.reader(file.read_text(encoding="utf-8").splitlines()))
    assert lines[0][0] == "kind" and len(lines) == 1 + len(found.rows) + len(found.pieces) and {len(line) for line in lines} == {8}
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="there already"):
        found.to_csv(file)
    assert file.read_text(encoding="utf-8") == "mine"
    found.to_csv(file, replace=True)
    assert file.read_text(encoding="utf-8").startswith("kind") and [one.name for one in tmp_path.iterdir()] == ["list.csv"]
    with pytest.raises(InputError, match="was not written"):
        found.to_csv(tmp_path / "no folder" / "list.csv")


def test_a_layout_is_only_read(tmp_path):
    text = LAYOUTS[0].read_bytes()
    file = tmp_path / "mine.toml"
    file.write_bytes(text)
    house = load_layout(file)
    house.assess(), house.take_off(), house.first_changes(1)
    assert file.read_bytes() == text
