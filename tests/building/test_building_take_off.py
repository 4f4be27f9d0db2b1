"""The take-off of whole buildings: one by hand, every length, cut and count; the others by what must add up."""

import csv
from dataclasses import replace

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.building.take_off import as_text
from lessons_lib.storage.tables import DATA

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
    counts = {
        (row.kind, row.what, row.size): (row.need, row.with_spare)
        for row in found.rows
        if row.kind in ("fitting", "clip")
    }
    big, little = "copper L 3/4 in", "copper L 1/2 in"
    assert counts == {
        ("fitting", "elbow 90 (push)", big): (2, 3),  # riser to passage, passage to corner; 2.2 is 3 whole ones
        ("fitting", "tee (push)", f"{big} x 3/4 in x 1/2 in (run x run x branch)"): (1, 2),
        ("fitting", "elbow 90 (push)", f"{big} x 1/2 in"): (1, 2),  # along the showers to the second drop
        ("fitting", "ball valve (push)", big): (1, 2),
        ("fitting", "coupling (push)", big): (1, 2),
        ("fitting", "tap, shower", little): (2, 3),
        ("fitting", "mixing valve", big): (1, 2),
        # every 6 ft = 1.8288 m across and 10 ft = 3.048 m upright: riser 2/3.048 → 1, passage 10/1.8288 = 5.47 → 6,
        # corner 3/1.8288 = 1.64 → 2, along 0.9/1.8288 → 1; 1 each for the drops
        ("clip", "support", big): (1 + 6 + 2 + 1, 11),
        ("clip", "support", little): (1 + 1, 3),
    }
    notes = {row.what: row.note for row in found.rows if row.kind == "fitting"}
    assert notes["elbow 90 (push)"] == "" and notes["ball valve (push)"] == "measure centre to face, insertion depth"
    assert not [row for row in found.rows if row.kind in ("insulation", "tape")]  # bare, and no tape


def test_insulation_tape_and_clips_of_the_cabin():
    """18 m over a tape: bore 22.225 + 6 + 2 x 1 mm; 12 m in the crawlspace; 2 + 5 + 4 + 8 + 2 + 3 ft indoors; 15 + 0.3 + 3 m of tape."""
    found = layout("bunk_cabin").take_off().rows
    lengths = {
        (row.what, row.size.split(",")[0]): row.need.to("m").magnitude for row in found if row.kind == "insulation"
    }
    assert lengths == {
        ("elastomeric foam", "bore 30.2 mm"): pytest.approx(18.0),
        ("polyethylene foam", "bore 22.2 mm"): pytest.approx(12.0),
        ("elastomeric foam", "bore 22.2 mm"): pytest.approx(2 * 0.3048),
        ("elastomeric foam", "bore 15.9 mm"): pytest.approx(22 * 0.3048),
    }
    (tape_row,) = (row for row in found if row.kind == "tape")
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
        assert sum(piece.centre_to_centre.to("m").magnitude for piece in pieces) == pytest.approx(
            one.length.to("m").magnitude
        )
        assert all(piece.second == after.first for piece, after in zip(pieces, pieces[1:]))
    found = house.take_off()
    for pipe, bars in found.bars.items():
        assert bars.total.to("m").magnitude == pytest.approx(
            sum(p.cut.to("m").magnitude for p in found.pieces if p.pipe == pipe)
        )


def test_csv_is_written_whole_and_never_over_another(tmp_path):
    found, file = layout("workshop").take_off(), tmp_path / "list.csv"
    found.to_csv(file)
    lines = list(csv.reader(file.read_text(encoding="utf-8").splitlines()))
    assert (
        lines[0][0] == "kind"
        and len(lines) == 2 + len(found.rows) + len(found.pieces)
        and {len(line) for line in lines} == {8}
    )
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(InputError, match="there already"):
        found.to_csv(file)
    assert file.read_text(encoding="utf-8") == "mine"
    found.to_csv(file, replace=True)
    assert file.read_text(encoding="utf-8").startswith("kind") and [one.name for one in tmp_path.iterdir()] == [
        "list.csv"
    ]
    with pytest.raises(InputError, match="was not written"):
        found.to_csv(tmp_path / "no folder" / "list.csv")


def test_a_layout_is_only_read(tmp_path):
    text = LAYOUTS[0].read_bytes()
    file = tmp_path / "mine.toml"
    file.write_bytes(text)
    house = load_layout(file)
    house.assess(), house.take_off(), house.first_changes(1)
    assert file.read_bytes() == text


# --- nothing that cannot be bought or fitted


PIPES = {  # a main, and two legs behind it: (family, size, joint)
    "main": ("copper L", "3/4 in", "solder"),
    "on": ("PEX CTS", "1/2 in", "crimp"),
    "off": ("CPVC CTS", "1/2 in", "cement"),
}


def three(built, ways=("north", "north", "east"), **pipes):
    """A leg from the tank with two behind it, in these pipes: fittings of its take-off as {(what, size): need}."""
    pipes = {**PIPES, **pipes}
    lines = {
        name: f'pipe = "{family}"\nsize = "{size}"\njoint = "{joint}"' for name, (family, size, joint) in pipes.items()
    }
    starts = {"main": "tank", "on": "main", "off": "main"}
    legs = [(name, starts[name], way, "2 m", lines[name]) for name, way in zip(pipes, ways)]
    house = built(legs, [("one", "on", "4 L/min"), ("two", "off", "4 L/min")])
    rows = [row for row in house.take_off().rows if row.kind == "fitting" and not row.what.startswith("tap")]
    return house, {(row.what, row.size): row.need for row in rows}


def test_no_tee_spans_two_materials(built):
    """The tee is the main's; where plastic begins, a transition takes it, and the cut beside it is provisional for that."""
    house, found = three(built)
    assert found == {
        ("tee (solder)", "copper L 3/4 in"): 1,
        ("transition", "copper L 3/4 in (solder) to PEX CTS 1/2 in (crimp)"): 1,
        ("transition", "copper L 3/4 in (solder) to CPVC CTS 1/2 in (cement)"): 1,
    }
    assert all(
        "what the transition takes at the first end" in house.take_off().pieces[place].measure for place in (1, 2)
    )
    assert "what the transition takes at the second end" not in house.take_off().pieces[0].measure


def test_copper_of_another_wall_needs_no_transition_and_metric_copper_does(built):
    same = {"on": ("copper M", "3/4 in", "solder"), "off": ("copper K", "1/2 in", "push")}
    assert three(built, **same)[1] == {
        ("tee (solder)", "copper L 3/4 in x copper M 3/4 in x copper K 1/2 in (run x run x branch)"): 1
    }
    metric = {"on": ("copper EN 1057", "22 mm", "solder"), "off": ("copper L", "3/4 in", "solder")}
    assert ("transition", "copper L 3/4 in (solder) to copper EN 1057 22 mm (solder)") in three(built, **metric)[1]


def test_an_inlet_on_the_branch_is_said_and_its_size_comes_last(built):
    """Both legs part to the sides: run x run are theirs, the branch is the main's. Their pipes sit in the run of the tee."""
    copper = {"on": ("copper L", "1/2 in", "solder"), "off": ("copper L", "3/8 in", "solder")}
    house, found = three(built, ("up", "east", "west"), **copper)
    assert found == {("tee (solder, inlet on the branch)", "copper L 1/2 in x 3/8 in x 3/4 in (run x run x branch)"): 1}
    assert [house.ends[name] for name in ("on", "off")] == [(("tee through", "solder", False), None)] * 2
    assert (
        house.ends["main"][1] == ("tee branch", "solder", False) and house.met["on"] == "tee branch"
    )  # water turns: the loss of a branch


def test_pipes_that_meet_straight_on_take_a_transition_and_no_coupling(built):
    legs = [
        ("one", "tank", "up", "2 m", 'joint = "solder"'),
        ("two", "one", "up", "2 m", 'pipe = "PEX CTS"\nsize = "3/4 in"\njoint = "crimp"'),
    ]
    rows = built(legs, [("tap", "two", "4 L/min")]).take_off().rows
    assert [(row.what, row.size) for row in rows if row.kind == "fitting"][:-1] == [
        ("transition", "PEX CTS 3/4 in (crimp) to copper L 3/4 in (solder)")
    ]


def test_solder_and_push_elbows_are_rows_of_their_own(built):
    """An elbow is joined as the leg behind it is, also at the end of the leg before it."""
    legs = [
        ("a", "tank", "up", "2 m", 'joint = "solder"'),
        ("b", "a", "north", "2 m", 'joint = "solder"'),
        ("c", "b", "up", "2 m", 'joint = "push"'),
    ]
    house = built(legs, [("tap", "c", "4 L/min")])
    found = {row.what: row.need for row in house.take_off().rows if row.kind == "fitting"}
    assert found["elbow 90 (solder)"] == found["elbow 90 (push)"] == 1
    assert house.ends["b"][1].joint == "push"


@pytest.mark.parametrize(
    "ways, fits",
    [
        (("north", "north", "east"), True),
        (("north", "up", "north"), True),
        (("up", "east", "west"), True),
        (("up", "down", "up"), False),
        (("north", "down", "east"), False),
        (("up", "north", "east"), False),
        (("down", "west", "south"), False),
    ],
)
def test_a_tee_has_a_run_and_a_branch(built, ways, fits):
    copper = {name: ("copper L", "3/4 in", "push") for name in PIPES}
    if fits:
        three(built, ways, **copper)
        return
    with pytest.raises(InputError) as told:
        three(built, ways, **copper)
    assert "back over" in str(told.value) or (
        "three axes" in str(told.value) and f"Add a short leg that runs {ways[0]}" in str(told.value)
    )


# --- the table as a file


@pytest.mark.parametrize("name", ['=HYPERLINK("http://x","y")', "+1", "-1", "@SUM(A1)", "\t=1", "'=1", "plain"])
def test_no_name_becomes_a_formula_in_a_spreadsheet(built, tmp_path, name):
    """A cell that would begin a formula stands behind an apostrophe; nothing else is changed."""
    written = name.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t")
    house = built([(written, "tank", "up", "2 m", "")], [("tap", written, "4 L/min")])
    file = house.take_off().to_csv(tmp_path / "list.csv")
    cells = [cell for line in csv.reader(file.open(encoding="utf-8", newline="")) for cell in line]
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))]
    assert any(name.strip().removeprefix("'") in cell for cell in cells)


def test_a_cell_that_begins_a_formula_is_kept_as_text():
    assert [as_text(cell) for cell in ("=1", "\t=1", "a=1", 3, "")] == ["'=1", "'\t=1", "a=1", 3, ""]


@every_layout
def test_every_paper_of_what_came_with_the_workbook_says_so(path, tmp_path):
    """The first line of the table; after an edit here and there too, and no longer once more than half of the legs are others."""
    house = load_layout(path)
    lines = house.take_off().to_csv(tmp_path / "list.csv").read_text(encoding="utf-8").splitlines()
    assert lines[1].startswith("note,") and "INVENTED" in lines[1]
    assert ("Tern Bank" in house.invented) == (path.stem != "template") and ("template" in house.invented) == (
        path.stem == "template"
    )
    longer = [replace(one, length=2 * one.length) for one in house.legs]
    assert replace(house, legs=(*house.legs[:-1], longer[-1])).invented == house.invented
    own = replace(house, legs=tuple(longer), loop=None)
    assert own.invented == "" and "INVENTED" not in own.take_off().to_csv(tmp_path / "own.csv").read_text(
        encoding="utf-8"
    )
