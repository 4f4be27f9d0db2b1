"""Editing a layout file: comments stay, every edit can be undone, nothing is written by halves or over another file."""

from pathlib import Path

import pytest

from lessons_lib import InputError, LayoutDocument, load_layout
from lessons_lib.building import document as module
from lessons_lib.building.sketch.isometric import describe
from lessons_lib.building.sketch.isometric_views import whole
from lessons_lib.quantities.display import SI
from lessons_lib.storage.tables import DATA

from .two_storeys import text as two_storeys

FILES = sorted((DATA / "layouts").glob("*.toml"))
TEMPLATE = DATA / "layouts" / "template.toml"


def comments(text: str) -> list[str]:
    return sorted(line.partition("#")[2].strip() for line in text.splitlines() if "#" in line)


@pytest.fixture
def opened():
    return LayoutDocument.open(TEMPLATE)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_change_moves_its_own_line_only(path):
    edited = LayoutDocument.open(path)
    name = edited.rows("leg")[1]["name"]
    before = edited.text.splitlines()
    edited.change("leg", name, "length", "19 ft")
    after = edited.text.splitlines()
    assert [new for old, new in zip(before, after) if old != new] == ['length = "19 ft"'] and len(before) == len(after)
    assert edited.layout().runs[name].length.to("ft").magnitude == pytest.approx(19)
    assert edited.undo() and edited.text == path.read_text(encoding="utf-8") and not edited.undo()


def test_a_value_keeps_its_comment(opened):
    opened.change("leg", "under the porch", "bare_share", "3 %")
    opened.set("water", "pressure", "3 bar")
    assert 'bare_share = "3 %"             # share of the length' in opened.text
    assert 'pressure = "3 bar"            # at the tank' in opened.text
    assert comments(opened.text) == comments(TEMPLATE.read_text(encoding="utf-8"))


def test_add_remove_and_undo(opened):
    first = opened.text
    opened.add(
        "leg", {"name": "bath branch", "from": "over to the kitchen", "go": "up", "length": "2 m"}, after="sink drop"
    )
    with pytest.raises(InputError, match="is the third leg from the end of"):
        opened.layout()  # the reader is half way; the edit stands
    opened.change("leg", "bath branch", "from", "shower riser")
    opened.change("tap", "shower", "leg", "bath branch")
    assert [row["name"] for row in opened.rows()][2:4] == ["sink drop", "bath branch"]
    assert len(opened.layout().legs) == 7
    opened.remove("leg", "bath branch")
    opened.change("tap", "shower", "leg", "shower riser")
    assert opened.layout().take_off().rows and comments(opened.text) == comments(first)
    while opened.undo():
        pass
    assert opened.text == first


def test_comments_above_the_next_table_outlive_a_leg(opened):
    first = comments(opened.text)
    opened.remove("leg", "shower riser")  # "A tap sits at the end …" stands below it
    opened.change("tap", "shower", "leg", "under the porch")
    assert comments(opened.text) == first and opened.layout().taps


def test_a_new_name_is_carried_on(opened):
    opened.change("leg", "out of the tank", "name", "riser")
    house = opened.layout()
    assert house.valve.leg == "riser" and house.legs[1].start == "riser"
    opened.change("leg", "sink drop", "name", "drop")
    assert opened.layout().taps[0].leg == "drop"


def test_a_word_taken_out_falls_back_to_the_usual_value(opened):
    opened.change("leg", "sink drop", "size", None)
    assert opened.layout().legs[2].size == "3/4 in"


def test_a_first_loop_and_a_first_table(opened):
    cabin = LayoutDocument.open(DATA / "layouts" / "bunk_cabin.toml")
    cabin.set("loop", "flow", "2 L/min")
    cabin.set("loop", "leaves_at", "60 °C")
    cabin.set("loop", "comes_back_at", "50 °C")
    cabin.add("loop.hot", {"name": "h", "go": "east", "length": "3 m"})
    cabin.add("loop.return", {"name": "r", "go": "west", "length": "3 m"})
    assert len(cabin.layout().loop.legs) == 2 and comments(cabin.text) == comments(
        (DATA / "layouts" / "bunk_cabin.toml").read_text("utf-8")
    )


@pytest.mark.parametrize(
    "edit, said",
    [
        (lambda one: one.add("leg", {"name": "x", "lenght": "2 m"}), '"length"'),
        (lambda one: one.add("leg", {"from": "tank"}), "needs a name"),
        (lambda one: one.add("leg", {"name": "sink drop"}), "already"),
        (lambda one: one.add("loop.hot", {"name": "sink drop"}), "already"),
        (lambda one: one.add("legs", {"name": "x"}), '"leg"'),
        (lambda one: one.add("leg", {"name": "x"}, after="sink dorp"), '"sink drop"'),
        (lambda one: one.change("leg", "sink dorp", "length", "2 m"), '"sink drop"'),
        (lambda one: one.change("leg", "sink drop", "lengt", "2 m"), '"length"'),
        (lambda one: one.change("leg", "sink drop", "name", "under the porch"), "already"),
        (lambda one: one.remove("tap", "showr"), '"shower"'),
        (lambda one: one.set("tnak", "place", "indoors"), '"tank"'),
        (lambda one: one.rows("taps"), '"tap"'),
    ],
)
def test_a_refused_edit_changes_nothing(opened, edit, said):
    with pytest.raises(InputError, match=said):
        edit(opened)
    assert opened.text == TEMPLATE.read_text(encoding="utf-8") and not opened.undo()


def test_saved_whole_under_a_new_name(opened, tmp_path):
    opened.change("leg", "sink drop", "length", "2 m")
    assert opened.save(tmp_path / "mine.toml") == "Saved as mine.toml."
    assert (tmp_path / "mine.toml").read_text(encoding="utf-8") == opened.text
    assert load_layout(tmp_path / "mine.toml").legs[2].length.magnitude == 2
    with pytest.raises(InputError, match="there already"):
        opened.save(tmp_path / "mine.toml")
    opened.undo()
    opened.save(tmp_path / "mine.toml", replace=True)
    assert (tmp_path / "mine.toml").read_bytes() == TEMPLATE.read_bytes()


def test_half_done_work_is_saved_and_read_as_far_as_it_goes(opened, tmp_path):
    """A leg without a length, a leg without a tap, a tap that waits, a valve and a loop half filled in: each is named, the rest stays."""
    opened.change("leg", "sink drop", "length", None)
    opened.add("leg", {"name": "bath", "from": "past the kitchen", "go": "north", "length": "2 m"})
    opened.set("valve", "setting", None)
    opened.remove("loop.hot", 0)
    opened.add("tap", {"name": "spare", "leg": "bath", "kind": "sink"})
    opened.save(tmp_path / "mine.toml")
    again = LayoutDocument.open(tmp_path / "mine.toml")
    with pytest.raises(InputError, match="line"):
        again.layout()
    house = again.layout(so_far=True)
    assert {error.path for error in house.unfinished} == {
        ("leg", 2, "length"),
        ("tap", 0),
        ("tap", 2, "flow"),
        ("leg", 6),
        ("valve", "setting"),
        ("loop",),
    }
    assert house.no_length == {"sink drop"} and house.open_ends == {"sink drop": "kitchen sink?", "bath": "tap?"}
    assert house.valve is None and house.loop is None and len(house.legs) == 7
    assert [tap.name for tap in house.assess().taps] == ["shower"]
    words = describe(whole(house), house.assess(), SI)
    assert "leg 3: length?" in words and "leg 3: kitchen sink?" in words and "leg 7: tap?" in words
    assert "1 m down" not in words  # a length that nobody gave is told to nobody


def test_what_is_not_there_yet_changes_nothing_for_the_rest(opened):
    """A branch without its tap carries no water: the other taps get what they get without the branch."""
    alone = opened.layout().assess().tap("shower")
    opened.add("leg", {"name": "bath", "from": "past the kitchen", "go": "north", "length": "2 m"})
    tap = opened.layout(so_far=True).assess().tap("shower")
    assert tap.delivered.magnitude == pytest.approx(alone.delivered.magnitude, abs=0.05)
    assert tap.flow_with_others.magnitude == pytest.approx(alone.flow_with_others.magnitude, rel=0.02)
    opened.remove("tap", 0)
    opened.remove("tap", 0)
    found = opened.layout(so_far=True).assess()
    assert found.taps == () and found.slowest is None and found.hottest is None and found.coldest == "under the porch"


def test_a_wrong_value_is_no_half_done_work(opened):
    opened.change("leg", "sink drop", "go", "sideways")
    with pytest.raises(InputError, match="sideways"):
        opened.layout(so_far=True)


def test_a_file_that_cannot_be_read_is_kept_aside(opened, tmp_path):
    file = tmp_path / "mine.toml"
    for number, text in enumerate(("this is = not = toml", "nor is this"), 1):
        file.write_text(text, encoding="utf-8")
        assert f"kept as mine-unreadable-{number}.toml" in opened.save(file, replace=True)
        assert (tmp_path / f"mine-unreadable-{number}.toml").read_text(encoding="utf-8") == text
    assert load_layout(file).name == "My house"


def test_a_failed_write_leaves_the_old_file(opened, tmp_path, monkeypatch):
    file = tmp_path / "mine.toml"
    file.write_bytes(FILES[0].read_bytes())

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(InputError, match="No space left"):
        opened.save(file, replace=True)
    assert file.read_bytes() == FILES[0].read_bytes() and [one.name for one in tmp_path.iterdir()] == ["mine.toml"]


def test_what_is_no_toml_is_not_opened(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text("[tank\n", encoding="utf-8")
    with pytest.raises(InputError, match="mine.toml, line 1"):
        LayoutDocument.open(file)
    assert file.read_text(encoding="utf-8") == "[tank\n"


def test_undo_goes_back_a_long_way_but_not_for_ever(opened, monkeypatch):
    monkeypatch.setattr(module, "MOST_UNDONE", 3)
    for metres in range(1, 7):
        opened.change("leg", "sink drop", "length", f"{metres} m")
    assert [opened.undo() for _ in range(4)] == [True, True, True, False]
    assert opened.rows()[2]["length"] == "3 m"


@pytest.mark.parametrize(
    "text",
    [
        "[[leg]]\n[[leg]]",
        "name = 'x'\n[[leg]]\nname = 'a'",
        "leg = []",
        "leg = [{name = 'a'}]",
        "loop = 'round'",
        "usual = 3",
        "",
    ],
)
def test_edits_of_odd_files_leave_a_file_that_can_be_read(text):
    """Without a last line's end, with something else under a table's name: an edit is refused in words, or gives TOML."""
    edited = LayoutDocument(text)
    edits = (
        lambda: edited.add("leg", {"name": "riser"}),
        lambda: edited.add("loop.hot", {"name": "out"}),
        lambda: edited.set("usual", "size", "1/2 in"),
        lambda: edited.change("leg", 0, "go", "up"),
        lambda: edited.rows("leg"),
        lambda: edited.rows("loop.hot"),
    )
    refused = 0
    for edit in edits:
        try:
            edit()
        except InputError as error:
            refused += 1
            assert "by hand" in str(error) or "not known" in str(error)
        LayoutDocument(edited.text)
    assert refused < len(edits)
    while edited.undo():
        pass
    assert edited.text == text


def test_rows_by_number_other_texts_and_settings(opened):
    first = opened.text
    opened.change("leg", 1, "length", "17 ft")
    opened.remove("tap", 1)
    assert opened.rows("leg")[1]["length"] == "17 ft" and len(opened.rows("tap")) == 1 and opened.can_undo
    opened.take(first.replace("My house", "Our house"))
    assert (
        opened.layout().name == "Our house"
        and opened.settings("tank")["place"] == "indoors"
        and opened.settings("buy") == {"spare": "10 %", "saw_kerf": "0 mm"}
    )
    with pytest.raises(InputError):
        opened.take("name = ")
    while opened.undo():
        pass
    assert opened.text == first and not opened.can_undo


def test_an_error_knows_its_place(opened):
    opened.change("leg", 2, "go", "nroth")
    with pytest.raises(InputError, match="line") as told:
        opened.layout()
    assert told.value.path == ("leg", 2, "go") and told.value.plain.startswith("go:")


@pytest.mark.parametrize(
    "table, words", [("valve", ("setting", "leg", "end")), ("loop", ("flow", "leaves_at", "comes_back_at"))]
)
def test_a_house_without_a_valve_or_a_loop(opened, table, words):
    """Emptied word by word, or taken out at once, the table leaves the file; comments on what follows stay; it can come back."""
    first = opened.text
    said = opened.settings(table)
    for word in words:
        opened.set(table, word, None)
    emptied = opened.text
    while opened.undo():
        pass
    opened.drop(table)
    assert opened.text == emptied and f"[{table}" not in emptied and getattr(opened.layout(), table) is None
    gone = set(comments(first)) - set(comments(emptied))
    own = first[first.index(f"[{table}]") : first.index({"valve": "[places]", "loop": "[tape]"}[table])]
    assert gone == {comment for comment in comments(own) if comment}
    for word, value in said.items():
        opened.set(table, word, value)
    if table == "loop":
        opened.add("loop.hot", {"name": "h", "go": "east", "length": "3 m"})
        opened.add("loop.return", {"name": "r", "go": "west", "length": "3 m"})
    assert opened.settings(table) == said and getattr(opened.layout(), table) is not None


def test_comments_below_a_loop_that_is_taken_out_speak_of_what_follows():
    opened = LayoutDocument(
        'name = "x"\n\n[[leg]]\nname = "a"\n\n[loop]\nflow = "2 L/min"\n\n# about the tank\n\n[tank]\n'
    )
    opened.drop("loop")
    assert opened.text == 'name = "x"\n\n[[leg]]\nname = "a"\n\n# about the tank\n\n[tank]\n'
    with pytest.raises(InputError, match='"loop"'):
        opened.drop("tank")


def test_what_is_added_stands_above_the_comment_on_the_next_table():
    """A new word behind the last one, a new leg behind the leg's own lines: each comment stays above what it speaks of."""
    opened = LayoutDocument(
        '[[leg]]\nname = "a"\n# a is steep\n\n# b: mind the beam\n[[leg]]\nname = "b"\n\n# taps\n\n[[tap]]\nname = "t"\n'
    )
    opened.change("leg", "a", "size", "22 mm")
    opened.change("leg", "b", "size", "15 mm")
    assert opened.text == (
        '[[leg]]\nname = "a"\n# a is steep\nsize = "22 mm"\n\n# b: mind the beam\n[[leg]]\nname = "b"\nsize = "15 mm"\n\n'
        '# taps\n\n[[tap]]\nname = "t"\n'
    )
    opened.add("leg", {"name": "new"}, after="a")
    opened.add("leg", {"name": "last"})
    assert opened.text == (
        '[[leg]]\nname = "a"\n# a is steep\nsize = "22 mm"\n\n[[leg]]\nname = "new"\n\n# b: mind the beam\n[[leg]]\nname = "b"\n'
        'size = "15 mm"\n\n[[leg]]\nname = "last"\n\n# taps\n\n[[tap]]\nname = "t"\n'
    )


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_word_or_leg_more_moves_no_line(path):
    """Whatever is added to a file that came with the workbook, its old lines stay in their order, and nothing else is new."""
    before = path.read_text(encoding="utf-8").splitlines()
    edited = LayoutDocument.open(path)
    for row in range(len(edited.rows("leg"))):
        word = next(word for word in ("air", "wind") if word not in edited.rows("leg")[row])
        edited.change("leg", row, word, "3.21")
        edited.add("leg", {"name": f"new {row}"}, after=row)
        after = edited.text.splitlines()
        new = [line for line in after if line and line not in before]
        assert sorted(new) == sorted([f'{word} = "3.21"', f'name = "new {row}"'])
        at = after.index(f'{word} = "3.21"')
        assert after[at - 1].partition(" ")[2].startswith("=") and after[at + 1] == ""
        assert [line for line in after if line and line not in new and line != "[[leg]]"] == [
            line for line in before if line and line != "[[leg]]"
        ]
        while edited.undo():
            pass


def test_whose_building_it_is_stands_above_all_tables(opened, tmp_path):
    first = opened.text
    for word, value in (("name", "Heron Lodge"), ("address", "3 Quay"), ("author", "A. B."), ("date", "5 March")):
        opened.set("building", word, value)
    house = opened.layout()
    assert (house.name, house.address, house.author, house.date) == ("Heron Lodge", "3 Quay", "A. B.", "5 March")
    assert opened.settings("building")["about"] == house.about and comments(opened.text) == comments(first)
    assert opened.text.index("address") < opened.text.index("[water]")
    with pytest.raises(InputError, match="81 characters"):
        opened.set("building", "author", "x" * 81)
        opened.layout()
    with pytest.raises(InputError, match='"author"'):
        opened.set("building", "autor", "A. B.")
    dated = LayoutDocument(first.replace("[water]", "date = 2026-03-05\n\n[water]", 1))
    assert dated.layout().date == "2026-03-05" and LayoutDocument(first).layout().address == ""


def test_floors_are_rows_that_keep_their_comments():
    """Name, height, one more and one less: each moves its own line, and the layout follows."""
    document = LayoutDocument(two_storeys().replace('"cellar" = "-1.4 m"', '"cellar" = "-1.4 m"   # under the kitchen'))
    assert document.rows("floor")[0] == {"name": "cellar", "height": "-1.4 m"} and len(document.rows("floor")) == 3
    before = document.text.splitlines()
    document.change("floor", 0, "name", 'the "old" cellar')
    document.change("floor", 'the "old" cellar', "height", "-4 ft")
    document.change("floor", "upper floor", "height", "12 ft 9 in")
    assert '"the \\"old\\" cellar" = "-4 ft"   # under the kitchen' in document.text
    after = document.text.splitlines()
    assert len(after) == len(before) and sum(one != two for one, two in zip(before, after)) == 2
    document.add("floor", {"name": "attic", "height": "6.5 m"})
    assert [name for name, _ in document.layout().floors] == [
        'the "old" cellar',
        "ground floor",
        "upper floor",
        "attic",
    ]
    assert document.layout().floor_of(7) == "attic"
    document.remove("floor", "ground floor")
    assert [row["name"] for row in document.rows("floor")] == ['the "old" cellar', "upper floor", "attic"]
    for edit, said in (
        (lambda: document.add("floor", {"name": "attic", "height": "9 m"}), "already"),
        (lambda: document.add("floor", {"name": "roof"}), "needs its height"),
        (lambda: document.change("floor", 0, "height", None), "needs its height"),
        (lambda: document.change("floor", 0, "name", "attic"), "already"),
        (lambda: document.change("floor", 0, "length", "3 m"), "word of a floor"),
    ):
        text = document.text
        with pytest.raises(InputError, match=said):
            edit()
        assert document.text == text
    while document.undo():
        pass
    assert document.text.splitlines() == before


def test_the_first_floor_of_a_house_without_floors(opened):
    document = LayoutDocument.open(DATA / "layouts" / "wash_house.toml")
    assert document.rows("floor") == [] and document.layout().floors == ()
    document.add("floor", {"name": "wash house", "height": "-1 m"})
    assert [name for name, _ in document.layout().floors] == ["wash house"]
