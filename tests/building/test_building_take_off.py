"""The take-off of whole buildings: one by hand, every length, cut and count; the others by what must add up."""

import csv
from dataclasses import replace

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.building.run_sheet_rows import Rows
from lessons_lib.building.take_off import as_text
from lessons_lib.quantities.display import SYSTEMS, measured
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
    # 2379 mm and 10 % of it, 238 mm, come out of 10 ft = 3048 mm: the shorter of the two lengths that shops have
    assert small.total.to("mm").magnitude == pytest.approx(1190 + 1189) and small.bars_to_buy == 1
    assert small.stock.to("ft").magnitude == pytest.approx(10) and bars.stock.to("ft").magnitude == pytest.approx(20)
    counts = {
        (row.kind, row.what, row.size): (row.need, row.with_spare)
        for row in found.rows
        if row.kind in ("fitting", "clip")
    }
    big, little = "copper L 3/4 in", "copper L 1/2 in"
    assert counts == {
        ("fitting", "elbow 90 (push)", big): (2, 2),  # riser to passage, passage to corner; 10 % of two is no whole one
        ("fitting", "tee (push)", f"{big} x 3/4 in x 1/2 in (run x run x branch)"): (1, 1),
        ("fitting", "elbow 90 (push)", f"{big} x 1/2 in"): (1, 1),  # along the showers to the second drop
        ("fitting", "ball valve (push)", big): (1, 1),
        ("fitting", "coupling (push)", big): (1, 1),
        ("fitting", "tap, shower", little): (2, 2),
        ("fitting", "mixing valve", big): (1, 1),
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
    assert tape_row.need.to("m").magnitude == pytest.approx(18.3)
    assert tape_row.with_spare.to("m").magnitude == pytest.approx(20.13)  # it weakens as it warms: cut from a reel
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
    assert found == {
        ("tee (solder, inlet on the branch)", "copper L 1/2 in x 1/2 in x 3/4 in (run x run x branch)"): 1,
        ("reducer (solder)", "copper L 1/2 in x 3/8 in"): 1,
    }
    sockets = [house.ends[name] for name in ("on", "off")]
    assert sockets == [(("tee through", "solder", ""), None), (("tee through", "solder", "reducer"), None)]
    # water turns: the loss of a branch
    assert house.ends["main"][1] == ("tee branch", "solder", "") and house.met["on"] == "tee branch"


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


def fittings_of(house) -> dict:
    """The fittings of a take-off without its taps: {(what, size): need}."""
    rows = [row for row in house.take_off().rows if row.kind == "fitting" and not row.what.startswith("tap")]
    return {(row.what, row.size): row.need for row in rows}


EN = "copper EN 1057"


def copper(size: str) -> str:
    return f'pipe = "{EN}"\nsize = "{size}"\njoint = "solder"'


def test_sizes_that_no_fitting_has_take_a_reducer(built):
    """Drawn north, on paper:

    tank ── 35, 1 m ──┬ straight on ┬── 28, 4 m ──┬── 22, 3 m ── turns up, 15, 2 m
                                                  └ east: 15, 2 m ── turns north, 12, 1 m

    35 to 28 straight on: a reducer. 28, 22 and 15 meet: a tee 28 x 28 x 15, and 28 to 22 beside it. 22 turns into 15,
    with 18 between them: an elbow of 15, and 22 to 15 before it. 15 turns into 12, the next size: one elbow.
    Clips, European copper: 1.25 m up to 15, 2 m for 22, 2.25 m for 28, 2.75 m for 35.
    """
    legs = [
        ("out", "tank", "north", "1 m", copper("35 mm")),
        ("main", "out", "north", "4 m", copper("28 mm")),
        ("on", "main", "north", "3 m", copper("22 mm")),
        ("up", "on", "up", "2 m", copper("15 mm")),
        ("off", "main", "east", "2 m", copper("15 mm")),
        ("end", "off", "north", "1 m", copper("12 mm")),
    ]
    house = built(legs, [("one", "up", "4 L/min"), ("two", "end", "4 L/min")])
    assert fittings_of(house) == {
        ("reducer (solder)", f"{EN} 35 mm x 28 mm"): 1,
        ("tee (solder)", f"{EN} 28 mm x 28 mm x 15 mm (run x run x branch)"): 1,
        ("reducer (solder)", f"{EN} 28 mm x 22 mm"): 1,
        ("elbow 90 (solder)", f"{EN} 15 mm"): 1,
        ("reducer (solder)", f"{EN} 22 mm x 15 mm"): 1,
        ("elbow 90 (solder)", f"{EN} 15 mm x 12 mm"): 1,
        ("coupling (solder)", f"{EN} 28 mm"): 1,  # 4 m out of bars of 3 m
    }
    (on,) = house.pieces_of(house.legs[2])
    assert [word for word in on.measure if "reducer" in word] == [
        "what the reducer takes at the first end",
        "what the reducer takes at the second end",
    ]
    others = [piece for leg in house.legs if leg.name != "on" for piece in house.pieces_of(leg)]
    assert not [word for piece in others for word in piece.measure if "reducer" in word]
    clips = {row.size: row.need for row in house.take_off().rows if row.kind == "clip"}
    # 1/2.75, 4/2.25 = 1.8, 3/2, 2/1.25 = 1.6 twice, 1/1.25
    assert clips == {f"{EN} 35 mm": 1, f"{EN} 28 mm": 2, f"{EN} 22 mm": 2, f"{EN} 15 mm": 2 + 2, f"{EN} 12 mm": 1}


def test_a_run_that_widens_is_reduced_before_the_tee(built):
    """15 arrives, 22 goes on, 12 turns off: the tee is 22 x 22 x 12, and the reducer sits on the pipe that arrives."""
    pipes = {"main": (EN, "15 mm", "solder"), "on": (EN, "22 mm", "solder"), "off": (EN, "12 mm", "solder")}
    house, found = three(built, **pipes)
    assert found == {
        ("tee (solder)", f"{EN} 22 mm x 22 mm x 12 mm (run x run x branch)"): 1,
        ("reducer (solder)", f"{EN} 22 mm x 15 mm"): 1,
    }
    assert house.ends["main"][1].between == "reducer" and house.ends["on"][0].between == ""


@pytest.mark.parametrize(
    "sizes, printed",
    [
        (("22 mm", "22 mm", "15 mm"), "22 mm x 22 mm x 15 mm"),
        (("22 mm", "15 mm", "22 mm"), "22 mm x 15 mm x 22 mm"),
        (("22 mm", "15 mm", "15 mm"), "22 mm x 15 mm x 15 mm"),
        (("15 mm", "15 mm", "22 mm"), "15 mm x 15 mm x 22 mm"),
    ],
)
def test_a_tee_of_two_sizes_needs_no_reducer(built, sizes, printed):
    pipes = {name: (EN, size, "solder") for name, size in zip(PIPES, sizes)}
    assert three(built, **pipes)[1] == {("tee (solder)", f"{EN} {printed} (run x run x branch)"): 1}


@pytest.mark.parametrize("ways", [("north", "north", "east"), ("up", "east", "west")])
def test_a_tee_is_of_the_material_that_most_of_its_legs_have(built, ways):
    """Copper feeds two legs of plastic: one transition before a plastic tee, not two behind one of copper."""
    plastic = ("PEX CTS", "1/2 in", "crimp")
    house, found = three(built, ways, on=plastic, off=plastic)
    turned = ", inlet on the branch" if ways[0] == "up" else ""
    assert found == {
        (f"tee (crimp{turned})", "PEX CTS 1/2 in"): 1,
        ("transition", "PEX CTS 1/2 in (crimp) to copper L 3/4 in (solder)"): 1,
    }
    assert house.ends["main"][1].between == "transition"
    assert house.ends["on"][0].between == house.ends["off"][0].between == ""


def test_pipes_of_two_sizes_and_materials_straight_on_take_one_transition(built):
    legs = [
        ("one", "tank", "up", "2 m", 'joint = "solder"'),
        ("two", "one", "up", "2 m", 'pipe = "PEX CTS"\nsize = "1/2 in"\njoint = "crimp"'),
    ]
    house = built(legs, [("tap", "two", "4 L/min")])
    assert fittings_of(house) == {("transition", "PEX CTS 1/2 in (crimp) to copper L 3/4 in (solder)"): 1}
    one, two = (piece.measure for leg in house.legs for piece in house.pieces_of(leg))
    assert "what the transition takes at the second end" in one and "what the transition takes at the first end" in two


def test_reducers_are_named_after_the_joint_of_the_leg_behind_and_wider_first(built):
    """1/2 in runs straight on into 3/4 in: the same part as the other way round."""
    legs = [
        ("one", "tank", "up", "2 m", 'size = "1/2 in"\njoint = "solder"'),
        ("two", "one", "up", "2 m", 'size = "3/4 in"\njoint = "push"'),
    ]
    found = fittings_of(built(legs, [("tap", "two", "4 L/min")]))
    assert found == {("reducer (push)", "copper L 3/4 in x 1/2 in"): 1}


@pytest.mark.parametrize(
    "pipe, joint, usual",
    [
        ("PEX CTS", "solder", "crimp"),
        ("CPVC CTS", "crimp", "cement"),
        ("copper L", "cement", "solder"),
        ("copper L", "solder", None),
        ("PEX CTS", "crimp", None),
        ("CPVC CTS", "push", None),
    ],
)
def test_a_joint_that_a_material_does_not_have_is_said(built, pipe, joint, usual):
    """Nobody solders PEX: the row of the elbow, and of the valve, says how it is usually joined."""
    more = f'pipe = "{pipe}"\nsize = "3/4 in"\njoint = "{joint}"'
    legs = [("a", "tank", "up", "2 m", more), ("b", "a", "north", "2 m", more + '\nfittings = ["ball valve"]')]
    house = built(legs, [("tap", "b", "4 L/min")])
    notes = [row.note for row in house.take_off().rows if "elbow" in row.what or "ball valve" in row.what]
    said = f"is usually joined by {usual} or push"
    assert len(notes) == 2 and all((said in note) == (usual is not None) for note in notes)


# --- what is spared, and which lengths are bought


@pytest.mark.parametrize("elbows, with_spare", [(9, 9), (10, 11), (19, 20), (20, 22)])
def test_spare_fittings_are_whole_ones_and_valves_have_none(built, elbows, with_spare):
    """10 % of nine elbows is no elbow, of ten one, of nineteen one, of twenty two. Valves and taps are never spared."""
    ways = ("north", "east")
    legs = [
        (f"{n}", f"{n - 1}" if n else "tank", ways[n % 2], "1 m", 'fittings = ["ball valve"]')
        for n in range(elbows + 1)
    ]
    rows = {row.what: row for row in built(legs, [("tap", f"{elbows}", "4 L/min")]).take_off().rows}
    elbow, valve, tap = rows["elbow 90 (push)"], rows["ball valve (push)"], rows["tap, sink"]
    assert (elbow.need, elbow.with_spare) == (elbows, with_spare)
    assert valve.need == valve.with_spare == elbows + 1 and tap.need == tap.with_spare == 1


def test_tape_of_one_power_is_never_cut_and_has_no_spare(built):
    more = 'place = "outdoors"\ntape = "10 W/m"'
    house = built([("a", "tank", "up", "2 m", more)], [("tap", "a", "4 L/min")])
    (row,) = (row for row in house.take_off().rows if row.kind == "tape")
    assert row.need == row.with_spare and row.need.to("m").magnitude == pytest.approx(2)


@pytest.mark.parametrize(
    "family, size, lengths, bought",
    [
        ("PEX ISO 15875", "16 mm", [1.8], (1, 5)),  # not a coil of 50 m
        ("PEX ISO 15875", "16 mm", [8], (1, 25)),  # longer than a bar: the shortest coil
        ("PEX ISO 15875", "32 mm", [8], (1, 50)),  # of this size there is no coil of 25 m
        # four of 6 m are 24 m, and 2.4 m to spare do not come out of 25 m: one coil of 50 m, not two of 25
        ("PEX ISO 15875", "16 mm", [6, 6, 6, 6], (1, 50)),
        ("PEX BS 7291", "15 mm", [2.5], (1, 3)),
        ("PEX BS 7291", "28 mm", [20], (1, 25)),
        ("PEX CTS", "1/2 in", [1.8], (1, 3.048)),
        ("PEX CTS", "1/2 in", [5], (1, 6.096)),
        ("copper EN 1057", "15 mm", [4], (2, 3)),
        ("multilayer ISO 21003", "20 mm", [1.8], (1, 5)),
    ],
)
def test_a_short_piece_does_not_buy_a_coil(built, family, size, lengths, bought):
    ways = ("north", "east")
    legs = [
        (f"{n}", f"{n - 1}" if n else "tank", ways[n % 2], f"{length} m", f'pipe = "{family}"\nsize = "{size}"')
        for n, length in enumerate(lengths)
    ]
    found = built(legs, [("tap", f"{len(lengths) - 1}", "1 L/min")], pressure="600 kPa").take_off()
    bars = found.bars[f"{family} {size}"]
    assert (bars.bars_to_buy, round(bars.stock.to("m").magnitude, 6)) == bought


def test_the_readers_own_length_of_one_size_comes_before_that_of_the_pipe(tmp_path):
    """Template: copper L is sold in 10 ft. With 20 ft for 3/4 in alone, 1/2 in stays at 10 ft."""
    text = (DATA / "layouts" / "template.toml").read_text(encoding="utf-8")
    file = tmp_path / "own.toml"
    file.write_text(text.replace('"copper L" = "10 ft"', '"copper L" = "10 ft"\n"copper L 3/4 in" = "20 ft"'), "utf-8")
    stock = {pipe: bars.stock.to("ft").magnitude for pipe, bars in load_layout(file).take_off().bars.items()}
    assert (stock["copper L 3/4 in"], stock["copper L 1/2 in"]) == (pytest.approx(20), pytest.approx(10))


@pytest.mark.parametrize(
    "size, way, clips",
    [
        ("15 mm x 0.7 mm", "north", 5),  # British tube, 6 m: every 1.2 m across …
        ("15 mm x 0.7 mm", "up", 4),  # … 1.8 m upright: 3.3
        ("15 mm", "up", 5),  # European: every 1.25 m either way: 4.8
        ("22 mm x 0.9 mm", "up", 3),  # 2.4 m: 2.5
        ("22 mm", "up", 3),  # 2 m
        ("28 mm", "north", 3),  # European 2.25 m: 2.7
        ("28 mm x 0.9 mm", "north", 4),  # British 1.8 m: 3.3
    ],
)
def test_clips_are_those_of_the_pipes_region(built, size, way, clips):
    house = built([("a", "tank", way, "6 m", copper(size))], [("tap", "a", "4 L/min")], pressure="400 kPa")
    assert [row.need for row in house.take_off().rows if row.kind == "clip"] == [clips]


def test_four_pipes_at_a_point_are_refused_with_the_way_to_draw_them(built):
    legs = [
        ("main", "tank", "north", "4 m", ""),
        ("on", "main", "north", "2 m", ""),
        ("left", "main", "west", "2 m", ""),
        ("right", "main", "east", "2 m", ""),
    ]
    taps = [(name, name, "2 L/min") for name in ("on", "left", "right")]
    with pytest.raises(InputError) as told:
        built(legs, taps)
    assert '"right"' in str(told.value) and "two tees a short leg apart" in str(told.value)
    # what the sentence says: "left" turns off, a short leg runs north, the other two begin at its end
    legs[1:2] = [("short", "main", "north", "0.3 m", ""), ("on", "short", "north", "2 m", "")]
    legs[-1] = ("right", "short", "east", "2 m", "")
    assert fittings_of(built(legs, taps)) == {("tee (push)", "copper L 3/4 in"): 2}


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


def test_sizes_are_in_the_readers_units():
    """Bore and tape of the cabin's list by hand: 22.225 + 6 + 2 mm are 1 3/16 in, 22.225 mm 7/8 in, 15 W/m 4.6 W/ft."""
    house = layout("bunk_cabin")
    metric, us = (
        [f"{row.what} {row.size}" for row in house.take_off(system).rows if row.kind in ("insulation", "tape")]
        for system in SYSTEMS
    )
    assert not [one for one in us if " mm" in one or "W/m" in one or "°C" in one]
    assert not [one for one in metric if " in" in one or "W/ft" in one or "°F" in one]
    assert [one for one in us if one.startswith("elastomeric foam bore 1 3/16 in, 3/4 in thick")]
    assert [one for one in us if one.startswith("polyethylene foam bore 7/8 in")]
    assert len(metric) == len(us) and house.take_off().rows[-1].what == house.take_off(SYSTEMS[0]).rows[-1].what
    power = house.legs[0].tape.points[0][1]
    assert f"{power * 0.3048:.1f} W/ft at" in us[-1] and f"{power:.1f} W/m at" in metric[-1]


def test_the_sheet_buys_the_stock_that_was_nested(built):
    """Of a pipe by two legs: the length bought is the stock's own, whatever is left over of the last."""
    house = built([("a", "tank", "north", "4 m", ""), ("b", "a", "east", "3.7 m", "")], [("t", "b", "4 L/min")])
    (bars,) = house.take_off().bars.values()
    (row,) = Rows(house, house.assess(), SYSTEMS[0]).pipes().rows
    assert row[3] == f"{bars.bars_to_buy} of {measured(bars.stock, SYSTEMS[0])}".replace(" m", "\u00a0m")
