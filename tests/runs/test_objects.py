"""Objects of the library: wrong kinds are refused in words, arrays are copied, what is pickled comes back and works."""

import pickle
import re
from dataclasses import fields

import numpy as np
import pytest

from lessons_lib import Q_, Ground, InputError, Insulation, Pipe, Run, Surroundings, Weather, assess
from lessons_lib.building import load_layout
from lessons_lib.runs.alternatives import Alternatives
from lessons_lib.runs.assessment import Assessment
from lessons_lib.runs.bacteria import time_in_growth_band
from lessons_lib.runs.cooling_freezing import Cooling
from lessons_lib.runs.first_draw import FirstDraw
from lessons_lib.runs.nights import night, season_energy, trickle
from lessons_lib.runs.tape import Tape, bore_over, plan, settles_at
from lessons_lib.storage.tables import DATA

PIPE = Pipe.nominal("copper L", "3/4 in")
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))
RUN = Run(PIPE, Q_(18, "m"), FOAM, Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s")))
TAPE = Tape.constant(Q_(10, "W/m"))
FROST = Weather.day_and_night(Q_(-12, "degC"), Q_(0, "degC"))
WATER, COLD, FLOW = Q_(60, "degC"), Q_(8, "degC"), Q_(6, "L/min")

CALLS = {
    "night run": lambda it: night(it, FROST, COLD),
    "night weather": lambda it: night(RUN, it, COLD),
    "season run": lambda it: season_energy(it, FROST),
    "season weather": lambda it: season_energy(RUN, it),
    "trickle": lambda it: trickle(it, COLD),
    "plan run": lambda it: plan(it, TAPE),
    "plan tape": lambda it: plan(RUN, it),
    "settles run": lambda it: settles_at(it, TAPE),
    "settles tape": lambda it: settles_at(RUN, it),
    "bore": lambda it: bore_over(it, Q_(5, "mm")),
    "growth band": time_in_growth_band,
}


@pytest.mark.parametrize(
    "given", [None, 5, "copper", Q_(5, "m"), [], FOAM, np.zeros(100_000)], ids=lambda it: type(it).__name__
)
@pytest.mark.parametrize("call", CALLS)
def test_the_wrong_kind_of_object_is_refused_in_words(call, given):
    with pytest.raises(InputError, match="was given where .* is needed") as caught:
        CALLS[call](given)
    assert len(str(caught.value)) < 300


def test_the_right_kinds_still_work():
    assert trickle(RUN, COLD).magnitude > 0 and plan(RUN, TAPE).tapes == 1 and settles_at(RUN, TAPE) > Q_(-12, "degC")
    assert (
        bore_over(PIPE, Q_(5, "mm")).magnitude > 22
        and time_in_growth_band(RUN.cooling(WATER, Q_(8, "h"))).magnitude > 0
    )
    assert season_energy(RUN, FROST).magnitude > 0


def answers(run) -> np.ndarray:
    return np.ravel(run.delivery_temperature(WATER, FLOW).magnitude)


@pytest.mark.parametrize("of", ["length", "thickness", "bore", "air", "wind", "radiant", "soil", "depth"])
def test_a_run_keeps_its_own_copy_of_the_callers_arrays(of):
    """In the very units inside, where nothing need be converted, and in others."""
    spans = {
        "length": (5, 15, "m"),
        "thickness": (0.01, 0.03, "m"),
        "bore": (0.025, 0.03, "m"),
        "air": (-20, 0, "degC"),
        "wind": (1, 9, "m/s"),
        "radiant": (-30, 0, "degC"),
        "soil": (2, 9, "degC"),
        "depth": (0.5, 1, "m"),
    }
    *ends, unit = spans[of]
    array = np.array(ends, dtype=float)
    given = Q_(array, unit)
    cover = Insulation(
        "elastomeric foam", given if of == "thickness" else Q_(19, "mm"), bore=given if of == "bore" else None
    )
    if of in ("soil", "depth"):
        around = Ground(given if of == "soil" else Q_(5, "degC"), given if of == "depth" else Q_(0.8, "m"))
    else:
        around = Surroundings(
            given if of == "air" else Q_(-5, "degC"),
            given if of == "wind" else Q_(1, "m/s"),
            given if of == "radiant" else None,
        )
    run = Run(PIPE, given if of == "length" else Q_(10, "m"), cover, around)
    before, text = answers(run), str(run)
    array[:] = ends[0]
    assert before[0] != before[1] and np.array_equal(answers(run), before) and str(run) == text


def test_weather_keeps_its_own_copy():
    air = np.array([-5.0, -9.0, -5.0])
    weather = Weather(Q_(np.array([0.0, 1.0, 2.0]), "h"), Q_(air, "degC"))
    air[:] = 0
    assert weather.at(np.array([3600.0]))[0] == -9


def test_a_pickled_run_works():
    again = pickle.loads(pickle.dumps(RUN))
    assert np.array_equal(answers(again), answers(RUN)) and str(again) == str(RUN)
    assert night(again, pickle.loads(pickle.dumps(FROST)), COLD).lowest_water == night(RUN, FROST, COLD).lowest_water
    assert again.cooling(WATER, Q_(8, "h")).time_to(Q_(40, "degC")) == RUN.cooling(WATER, Q_(8, "h")).time_to(
        Q_(40, "degC")
    )


@pytest.mark.parametrize("name", ["bunk_cabin", "template"])
def test_a_pickled_layout_works(name):
    house = load_layout(DATA / "layouts" / f"{name}.toml")
    again = pickle.loads(pickle.dumps(house))
    assert again.name == house.name and str(again.assess()) == str(house.assess())


def test_weather_of_a_missing_file(tmp_path):
    with pytest.raises(InputError, match="none.csv: the file cannot be opened"):
        Weather.from_csv(tmp_path / "none.csv")


def test_weather_as_a_spreadsheet_saves_it(tmp_path):
    file = tmp_path / "frost.csv"
    file.write_bytes(
        '\ufeff"# invented, by hand";;\r\nhour;air;wind\r\n0;-5,5;2\r\n1;−6;2\r\n2;-8;3\r\n;;\r\n'.encode()
    )
    assert Weather.from_csv(file).air.magnitude.tolist() == [-5.5, -6, -8]


RESULTS = [Alternatives, Assessment, Cooling, FirstDraw, Insulation, Run]  # all that keep more than they print
FOR_MORE = {
    "caution",
    "freezing",
    "start",
    "delivered",
    "moments",
    "along",
}  # beside the print, or for further questions


@pytest.mark.parametrize("kind", RESULTS, ids=lambda kind: kind.__name__)
def test_a_print_shows_what_is_for_people(kind):
    """What a class does not name in its docstring is for the physics."""
    printed = {item.name for item in fields(kind) if item.repr}
    assert all(re.search(rf"\b{name}\b", kind.__doc__) for name in printed - {"caution"})
    assert not printed & FOR_MORE or kind is FirstDraw and printed & FOR_MORE == {"caution"}


def test_a_print_of_an_assessment_or_a_freezing_is_short():
    """Cautions stand beside them on the page; printed once more they would hide the figures."""
    found = assess(RUN, WATER, FLOW)
    assert found.caution not in str(found)
    rows = str(RUN.freezing(COLD)).splitlines()
    assert [row.split("  ")[0] for row in rows] == ["hours to zero", "hours to solid"]
