"""An edit of one leg works out that leg anew and takes the others as they were; nothing stale is ever taken."""

import pytest

from lessons_lib.building import LayoutDocument, frost, kept, layout
from lessons_lib.building.steps import at_once
from lessons_lib.quantities.errors import InputError
from lessons_lib.storage.tables import DATA


@pytest.fixture
def document():
    return LayoutDocument.open(DATA / "layouts" / "workshop.toml")


def counted(monkeypatch, where, name) -> list:
    """Names of the legs for which a function is called."""
    calls, real = [], getattr(where, name)

    def count(house, leg, *rest):
        calls.append(leg.name)
        return real(house, leg, *rest)

    monkeypatch.setattr(where, name, count)
    return calls


def test_an_edit_leaves_the_other_legs_as_they_were(document, monkeypatch):
    before = document.layout()
    before.assess()
    cut, stood = counted(monkeypatch, layout.pieces, "pieces_of"), counted(monkeypatch, frost, "_leg_frost")
    document.change("leg", 0, "length", "1.2345 m")
    after = document.layout()
    after.assess()
    assert [one is two for one, two in zip(before.all_legs, after.all_legs)] == [False] + 11 * [True]
    assert cut == [after.legs[0].name] and stood == [] and after.legs[0].place == "indoors"
    same = [before.runs[leg.name] is after.runs[leg.name] for leg in after.all_legs]
    assert same == [False] + 11 * [True]


@pytest.mark.parametrize(
    "table, word, value",
    [
        ("night", "air", "-23.4 °C"),
        ("night", "hours_without_power", "1 h 11 min"),
        ("water", "cold_inlet", "5.5 °C"),
        ("water", "pressure", "123 kPa"),
        ("valve", "setting", "47.5 °C"),
        ("valve", "end", "end"),
        ("valve", "leg", "along the wall"),
        ("tap", "flow", "3.3 L/min"),
        ("places", "crawlspace", "-7.7 °C"),
        ("usual", "thickness", "17 mm"),
        ("tape", "hold", "7.7 °C"),
        ("tape", "thickness", "13 mm"),
        ("tank", "set_temperature", "61.5 °C"),
        ("loop", "comes_back_at", "44.4 °C"),
        ("buy", "saw_kerf", "3.3 mm"),
    ],
)
def test_what_changes_for_all_is_never_taken_from_before(document, table, word, value, monkeypatch):
    """The same as if everything was worked out for the first time."""
    if table == "tape":
        document.change("loop.hot", 0, "tape", "9 W/m")
        document.change("leg", 0, "tape", "9 W/m")
    document.layout().assess()
    if table == "tap":
        document.change(table, 0, word, value)
    else:
        document.set(table, word, value)

    def told():
        house = document.layout()
        found = house.assess()
        list_ = house.take_off()
        return [str(one) for one in (*found.taps, *found.legs, found, list_)] + [
            str(one) for one in list_.bars.values()
        ]

    once = told()
    monkeypatch.setattr(kept, "_found", {})
    monkeypatch.setattr(kept, "_lately", {})
    assert told() == once


def test_of_whole_buildings_only_the_last_few_stay(monkeypatch):
    """With room for two: the one that was asked for longest ago goes."""
    monkeypatch.setattr(kept, "MOST_LATELY", 2)
    monkeypatch.setattr(kept, "_lately", {})
    made = []

    def steps(number):
        yield 0.5
        made.append(number)
        return number

    for number in (1, 2, 1, 3, 1, 2):
        assert at_once(kept.lately(("number", number), steps(number))) == number
    assert made == [1, 2, 3, 2] and list(kept._lately) == [("number", 1), ("number", 2)]


def test_a_leg_without_its_length_is_missed_each_time(document):
    """It is drawn with a length of its own, which nobody may take for the leg's later."""
    document.change("leg", 1, "length", None)
    for _ in range(2):
        assert document.layout(so_far=True).no_length == {document.rows()[1]["name"]}
        with pytest.raises(InputError, match="length"):
            document.layout()
