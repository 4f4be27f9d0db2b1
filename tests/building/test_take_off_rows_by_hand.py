"""What the rows of a take-off say, by hand: spare, waste, feet, whole lengths and rests, clips at their spacing."""

import csv

import pytest

from lessons_lib import load_layout
from lessons_lib.storage.tables import DATA

COUPLING = (
    '[[fittings_measured]]\nfitting = "coupling"\nsize = "3/4 in"\ncentre_to_face = "30 mm"\n'
    'insertion_depth = "29 mm"\n'
)


def layout(name):
    return load_layout(DATA / "layouts" / f"{name}.toml")


@pytest.fixture
def run_of(tmp_path):
    """One leg of 3/4 in copper from the tank to a tap, both ends plain, out of lengths of 20 ft."""

    def load(
        metres,
        more="",
        measured=COUPLING,
        buying='[buy]\nspare = "10 %"\nsaw_kerf = "0 mm"\n[buy.stock]\n"copper L" = "20 ft"\n',
    ):
        file = tmp_path / "house.toml"
        file.write_text(
            'name = "x"\n[water]\npressure = "300 kPa"\ncold_inlet = "10 °C"\n[night]\nair = "-10 °C"\nhours = "12 h"\n'
            '[tank]\nset_temperature = "60 °C"\n[places]\nindoors = "18 °C"\n[usual]\npipe = "copper L"\nsize = "3/4 in"\n'
            'insulation = "polyethylene foam"\nthickness = "9 mm"\nplace = "indoors"\n'
            f'[[leg]]\nname = "a"\nfrom = "tank"\ngo = "north"\nlength = "{metres} m"\n{more}\n'
            '[[tap]]\nname = "t"\nleg = "a"\nkind = "sink"\nflow = "6 L/min"\nuseful = "40 °C"\n'
            f"{measured}{buying}",
            encoding="utf-8",
        )
        return load_layout(file)

    return load


def cuts(house) -> list:
    return [round(piece.cut.to("m").magnitude, 4) for piece in house.take_off().pieces]


@pytest.mark.parametrize(
    "metres, expected",
    [
        (6.096, [6.096]),  # just one length of 20 ft, whatever is left of the conversion
        # longer than the stock: a whole length, 2 mm in the coupling, and the rest
        (6.399, [6.096, 0.301]),
        (6.397, [3.1975, 3.1975]),  # a rest under 0.3 m is not left over: both are half
        (12.194, [6.096, 6.096]),  # just two lengths and 2 mm
        (12.6, [6.096, 6.096, 0.404]),
        (12.4, [6.096, 3.15, 3.15]),  # 12.4 m - 2 x 2 mm - 2 x 6.096 m = 0.204 m
    ],
)
def test_a_leg_longer_than_the_pipe_is_sold(run_of, metres, expected):
    house = run_of(metres)
    assert cuts(house) == expected
    pieces = house.take_off().pieces
    assert sum(one.centre_to_centre.to("m").magnitude for one in pieces) == pytest.approx(metres)
    assert [one.number for one in pieces] == list(range(1, len(expected) + 1)) and not any(
        one.measure for one in pieces
    )
    # from middle to middle a piece is its cut and 1 mm for each coupling that it sits in
    sits = [(one.first is not None) + (one.second is not None) for one in pieces]
    for one, ends in zip(pieces, sits):
        assert one.centre_to_centre.to("mm").magnitude - one.cut.to("mm").magnitude == pytest.approx(ends)
    couplings = [row.need for row in house.take_off().rows if row.what.startswith("coupling")]
    assert couplings == ([len(expected) - 1] if len(expected) > 1 else [])


def test_valves_part_a_leg_evenly(run_of):
    """Two ball valves in 3 m: three parts of 1 m; the pipe stops half an outside diameter, 11.1 mm, from a valve's middle."""
    house = run_of(3, 'fittings = ["ball valve", "ball valve"]')
    assert cuts(house) == [0.9889, 0.9778, 0.9889]
    assert [one.number for one in house.take_off().pieces] == [1, 2, 3]


def test_what_is_to_be_measured_where_a_leg_is_coupled(run_of):
    """Nobody has measured the coupling: one length needs none, and says so; two need it."""
    unmeasured = '[buy]\nsaw_kerf = "0 mm"\n[buy.stock]\n"copper L" = "20 ft"\n'
    for metres, words in ((6.096, ()), (7.0, ("centre to face of the coupling", "insertion depth of the coupling"))):
        house = run_of(metres, measured="", buying=unmeasured)
        assert {one.measure for one in house.take_off().pieces} == {words}


def test_spare_and_waste_of_one_length(run_of):
    """4 m out of 6.096 m: 2.096 m left over, in which a tenth, 0.4 m, lies. Foam 4 m and 4.4 m. Clips every 6 ft: 2.19, so 3."""
    rows = {row.kind: row for row in run_of(4).take_off().rows if row.kind != "fitting"}
    pipe, foam, clip = rows["pipe"], rows["insulation"], rows["clip"]
    assert [one.to("m").magnitude for one in (pipe.need, pipe.with_spare)] == pytest.approx([4, 4.4])
    assert pipe.note == "buy 1 of 6.10 m; waste 2.10 m in the 1 that is cut"
    assert [one.to("m").magnitude for one in (foam.need, foam.with_spare)] == pytest.approx([4, 4.4])
    assert (clip.need, clip.with_spare) == (3, 4)
    assert foam.size == "bore 22.2 mm, 9 mm thick"


@pytest.mark.parametrize("metres, clips", [(1.8288, 1), (1.83, 2), (3.6576, 2), (3.66, 3)])
def test_a_clip_for_every_spacing_begun(run_of, metres, clips):
    (row,) = (row for row in run_of(metres).take_off().rows if row.kind == "clip")
    assert row.need == clips


@pytest.mark.parametrize(
    "metres, spare, bought",
    [
        (5.54, "10 %", 1),  # 0.554 m to spare lie in the 0.556 m that are left
        (5.55, "10 %", 2),
        (6.096, "0 %", 1),
        (6.0, "100 %", 2),  # as much again: 6.0 m do not lie in 0.096 m
    ],
)
def test_how_many_lengths_are_bought(run_of, metres, spare, bought):
    buying = f'[buy]\nspare = "{spare}"\nsaw_kerf = "0 mm"\n[buy.stock]\n"copper L" = "20 ft"\n'
    (bars,) = run_of(metres, buying=buying).take_off().bars.values()
    assert (bars.bars_needed, bars.bars_to_buy) == (1, bought)


def test_waste_of_the_wash_house():
    """18.288 - 15.780 = 2.508 m of three lengths of 20 ft; 3.048 - 2.379 = 0.669 m of one of 10 ft."""
    notes = {row.what: row.note for row in layout("wash_house").take_off().rows if row.kind == "pipe"}
    assert notes["copper L 3/4 in"] == "buy 3 of 6.10 m; waste 2.51 m in the 3 that are cut"
    assert notes["copper L 1/2 in"] == "buy 1 of 3.05 m; waste 0.67 m in the 1 that is cut"


def test_foam_of_the_cabin_with_its_spare():
    """A tenth more of each: 18 and 19.8 m over the tape, 12 and 13.2 m in the crawlspace."""
    found = {
        row.size.split(",")[0]: row
        for row in layout("bunk_cabin").take_off().rows
        if row.kind == "insulation" and row.need.to("m").magnitude > 10
    }
    assert {size: row.with_spare.to("m").magnitude for size, row in found.items()} == {
        "bore 30.2 mm": pytest.approx(19.8),
        "bore 22.2 mm": pytest.approx(13.2),
    }


def test_the_table_in_metres_and_feet(tmp_path):
    """18.3 m of tape are 60.04 ft; the first piece 988.89 mm, 3.24 ft; a number of things has no feet."""
    lines = list(
        csv.reader(layout("bunk_cabin").take_off().to_csv(tmp_path / "a.csv").open(encoding="utf-8", newline=""))
    )
    (tape,) = (line for line in lines if line[0] == "tape")
    assert tape[3:7] == ["18.30", "20.13", "m", "60.0"]
    lines = list(
        csv.reader(layout("wash_house").take_off().to_csv(tmp_path / "b.csv").open(encoding="utf-8", newline=""))
    )
    first = next(line for line in lines if line[0] == "cut")
    assert first[3:7] == ["0.989", "", "m", "3.24"]
    clip = next(line for line in lines if line[0] == "clip")
    assert clip[3:7] == ["10", "11", "pieces", ""]


@pytest.mark.parametrize(
    "tape, valve, bore, foam_note, tape_note",
    [
        ("", "", "30.2 mm", "measure the tape's thickness", ""),  # 22.225 + 6 + 2 mm
        ('[tape]\nthickness = "8 mm"\n', "", "32.2 mm", "", ""),
        ("", 'fittings = ["ball valve"]', "30.2 mm", "measure the tape's thickness", "measure what valves take"),
        ("", 'fittings = ["coupling"]', "30.2 mm", "measure the tape's thickness", ""),
    ],
)
def test_foam_over_a_tape(run_of, tape, valve, bore, foam_note, tape_note):
    """Its bore closes over pipe, tape and ties; a tape that nobody measured is 6 mm thick, and that is to be measured."""
    house = run_of(4, f'place = "outdoors"\ntape = "10 W/m"\n{valve}', buying=f"{tape}[buy]\n")
    rows = {row.kind: row for row in house.take_off().rows if row.kind != "fitting"}
    assert rows["insulation"].size == f"bore {bore}, 9 mm thick" and rows["insulation"].note == foam_note
    assert rows["tape"].note.startswith(tape_note) and bool(rows["tape"].note) == bool(tape_note)
    # a valve takes 0.3 m of tape on top of the leg's 4 m; a tape of one power has no spare
    length = 4.3 if "valve" in valve else 4
    assert [one.to("m").magnitude for one in (rows["tape"].need, rows["tape"].with_spare)] == pytest.approx(
        [length] * 2
    )
