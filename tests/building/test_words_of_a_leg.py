"""What the words of a leg in a file become: what is around it, what sits along it, its tape; and what two taps take of each other."""

import numpy as np
import pytest

from lessons_lib import InputError
from lessons_lib.building import kept
from lessons_lib.building.read import read
from lessons_lib.building.source import Source

from .test_building_errors import GOOD

WINDY = ('hours = "14 h"', 'hours = "14 h"\nwind = "5 m/s"')
SOIL = ("[usual]", 'buried = "6 °C"\ndepth = "80 cm"\n[usual]')
RIGHT = 'place = "outdoors"\ntape = "16 W/m"'


def house(*edits):
    text = GOOD
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    return read(Source("yard.toml", text))


def around(leg) -> tuple:
    """Air [degC] and wind [m/s] around a leg."""
    return leg.surroundings.air.to("degC").magnitude, leg.surroundings.wind.to("m/s").magnitude


def test_the_air_and_wind_around_a_leg():
    """Outdoors those of the night; indoors and in the crawlspace their own air without wind; 25 °F are -3.9 °C."""
    legs = house(WINDY, ('length = "2 m"', 'length = "2 m"\nplace = "crawlspace"')).legs
    assert [around(leg) for leg in legs] == [(20, 0), (20, 0), (pytest.approx(-35 / 9), 0), (-12, 5)]
    assert [leg.cold for leg in legs] == [False, False, True, True]


def test_a_leg_can_say_its_own_air_and_wind():
    own = 'place = "outdoors"\nair = "-3 °C"\nwind = "1 m/s"'
    assert around(house(WINDY, (RIGHT, own)).legs[3]) == (-3, 1)
    draughty = 'place = "indoors"\nwind = "2 m/s"'
    assert around(house(WINDY, (RIGHT, draughty)).legs[3]) == (20, 2)
    usual = house(WINDY, ('place = "indoors"', 'place = "indoors"\nwind = "3 m/s"'))
    assert [around(leg)[1] for leg in usual.legs] == [3, 3, 3, 3]


@pytest.mark.parametrize(
    "own, soil, temperature, kind",
    [("", "", 6, "moist"), ("", '\nsoil = "wet"', 6, "wet"), ('\nair = "4 °C"', '\nsoil = "dry"', 4, "dry")],
)
def test_the_soil_around_a_buried_leg(own, soil, temperature, kind):
    edits = (SOIL[0], SOIL[1].replace("\n[usual]", f"{soil}\n[usual]")), (RIGHT, f'place = "buried"{own}')
    ground = house(*edits).legs[3].surroundings
    assert (ground.temperature.to("degC").magnitude, ground.soil) == (temperature, kind)
    assert ground.depth.to("m").magnitude == pytest.approx(0.8)


def test_words_in_any_case_and_in_either_sides_spelling():
    edits = ('insulation = "elastomeric foam"', 'insulation = "Glass Fiber"'), ('go = "west"', 'go = "WEST"')
    found = house(*edits, ('place = "outdoors"', 'place = " Outdoors "'))
    assert {leg.insulation.material for leg in found.legs} == {"glass fibre"}
    assert found.legs[2].go == "west" and found.legs[3].place == "outdoors" and around(found.legs[3])[0] == -12


@pytest.mark.parametrize(
    "written, said",
    [
        ('["ball valve 3/4 in"]', None),
        ('["Ball-Valve", "ball valve"]', None),
        ('["ball valve 1 in"]', "too small"),
        ('["ball valve 1 1/4 in"]', "too small"),
        ('["ball valve 1/2 in"]', "too large"),
        ('["tee through"]', "count themselves"),
        ('"ball valve"', "list is needed"),
        ("[3]", "list is needed"),
    ],
)
def test_fittings_along_a_leg_have_the_size_of_its_pipe(written, said):
    edit = 'fittings = ["ball valve"]', f"fittings = {written}"
    if said is None:
        ((name, count),) = house(edit).legs[0].fittings
        assert (name, count) == ("ball valve", written.count(",") + 1)
        return
    with pytest.raises(InputError, match=said):
        house(edit)


def test_a_metric_pipe_and_its_valve():
    """22 mm tubes with the Continent's wall and with the UK's take the same valve, and no valve of 15 mm."""
    for size in ("22 mm", "22 mm x 0.9 mm"):
        own = f'\nfittings = ["ball valve 22 mm"]\npipe = "copper EN 1057"\nsize = "{size}"'
        assert house(('\nfittings = ["ball valve"]', own)).legs[0].fittings == (("ball valve", 1),)
        with pytest.raises(InputError, match="too large"):
            house(('\nfittings = ["ball valve"]', own.replace("valve 22", "valve 15")))


def test_tape_by_one_power_or_by_two_points():
    """16 W/m at 10 °C and 8 W/m at 40 °C, whichever stands first: 12 W/m half way, at 25 °C."""
    assert house().legs[3].tape.points[0][1] == 16 and house().legs[0].tape is None
    for written in ("16 W/m at 10 °C, 8 W/m at 40 °C", "8 W/m at 40 °C, 16 W/m at 10 °C"):
        tape = house(('"16 W/m"', f'"{written}"')).legs[3].tape
        assert tape.points == ((10, 16), (40, 8))
        assert np.interp(25, *zip(*tape.points)) == 12
    assert house(('"16 W/m"', '"None"')).legs[3].tape is None


def test_what_stays_from_before_does_not_grow_for_ever(monkeypatch):
    """With room for three, the fourth begins anew: never more than three are held, and none is made twice while it is held."""
    monkeypatch.setattr(kept, "MOST", 3)
    monkeypatch.setattr(kept, "_found", {})
    made, held = [], []
    for number in (1, 2, 3, 3, 1, 4, 4, 1):
        assert kept.kept(("number", number), lambda: made.append(number) or number) == number
        held.append(len(kept._found))
    assert made == [1, 2, 3, 4, 1] and held == [1, 2, 3, 3, 3, 1, 1, 2]


def test_what_taps_take_of_each_other():
    """A reading has of each tap the flow and pressure that the network gives it alone, and those with all open."""
    found = (layout := house(('pressure = "300 kPa"', 'pressure = "120 kPa"'))).assess()
    together = layout.flows()
    for number, tap in enumerate(layout.taps):
        alone, told = layout.flows(tap.name), found.taps[number]
        pairs = (
            (told.flow, alone.flow[number]),
            (told.flow_with_others, together.flow[number]),
            (told.pressure, alone.pressure[number]),
            (told.pressure_with_others, together.pressure[number]),
        )
        for shown, solved in pairs:
            assert shown.magnitude == pytest.approx(solved.magnitude, rel=1e-6) and shown.units == solved.units
        assert told.flow_with_others < told.flow and told.pressure_with_others < told.pressure
        assert told.flow_with_others.magnitude > 0
