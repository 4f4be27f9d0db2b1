"""Where one answer ends and the next begins: verdicts at their edges, what is just possible, what is taken unless given."""

from dataclasses import replace
from math import inf, log

import numpy as np
import pytest

from lessons_lib import (
    Q_,
    Ground,
    InputError,
    Insulation,
    Pipe,
    Run,
    Surroundings,
    Tape,
    Weather,
    assess,
    night,
    plan,
    season_energy,
    settles_at,
    trickle,
)
from lessons_lib.quantities.results import Word
from lessons_lib.runs import assessment, common_values, first_draw, insulation, scald
from lessons_lib.runs.assessment import freeze_word, scald_word, settled_word, store_word, tap_word
from lessons_lib.runs.first_draw import wait_word
from lessons_lib.runs.flow import hazen_williams

COPPER = Pipe.nominal("copper EN 1057", "22 mm")
FROST = Surroundings(Q_(-10, "degC"), wind=Q_(5, "m/s"))
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))


def run_of(cover=FOAM, around=FROST, length=20.0, **more):
    return Run(COPPER, Q_(length, "m"), cover, around, **more)


# --- verdicts at their edges


@pytest.mark.parametrize(
    "delivered, ice, useful, word",
    [
        (40.0, inf, 40.0, "hot enough"),  # just what was asked for is enough
        (39.9, inf, 40.0, "lukewarm"),
        (30.0, inf, 40.0, "lukewarm"),  # about as warm as skin
        (29.9, inf, 40.0, "cold"),
        (45.0, 12.0, 40.0, "freezes in the run"),  # ice somewhere comes before all else
    ],
)
def test_the_taps_word(delivered, ice, useful, word):
    assert tap_word(delivered, ice, useful) == word


@pytest.mark.parametrize(
    "hours, rest, word",
    [
        (14.0, -5, "lasts one night"),  # a long night is 14 h
        (13.9, -5, "freezes overnight"),
        (2.0, -5, "freezes overnight"),
        (1.95, -5, "freezes within 2 h"),
        (0.0, -5, "freezes within 2 h"),
        (inf, 4.0, "stays above freezing"),  # a clear sky cools a still pipe 4 K below its air
        (inf, 3.9, "on the edge of freezing"),
    ],
)
def test_the_frosts_word(hours, rest, word):
    assert freeze_word(hours, rest) == word


@pytest.mark.parametrize(
    "celsius, word",
    [
        (60.0, "stored hot"),
        (59.9, "below advice"),
        (50.0, "below advice"),
        (49.9, "bacteria can grow"),
        (0.0, "bacteria can grow"),
    ],
)
def test_the_stores_word(celsius, word):
    """60 degC is 140 degF, 50 degC is 122 degF: a number typed in the other unit is the same store."""
    assert store_word(celsius) == word
    assert store_word(Q_(round(celsius * 1.8 + 32, 3), "degF").to("degC").magnitude) == word


@pytest.mark.parametrize(
    "celsius, material, word",
    [
        (0.0, "copper", "ice with the tape on"),
        (0.1, "copper", "on the edge of freezing"),
        (3.9, "copper", "on the edge of freezing"),
        (4.0, "copper", "stays above freezing"),
        (45.0, "copper", "stays above freezing"),  # this workbook's limit for taps at a bench
        (45.1, "copper", "hot: check its limits"),
        (65.0, "copper", "hot: check its limits"),  # what most tapes stand
        (65.1, "copper", "too hot for pipe or tape"),
        (50.0, "PEX", "hot: check its limits"),  # what standards for tapes in homes take of rigid plastic
        (50.1, "PEX", "too hot for pipe or tape"),
    ],
)
def test_the_taped_pipes_word(celsius, material, word):
    assert settled_word(celsius, material) == word


@pytest.mark.parametrize("seconds, word", [(0.1, "short wait"), (10.2, "middling wait"), (30.0, "middling wait")])
def test_the_waits_word(seconds, word):
    """Edges of 10 and 30 s: American Society of Plumbing Engineers, as quoted in secondary literature."""
    assert wait_word(seconds) == word


@pytest.mark.parametrize(
    "gravity, words",
    [
        (0, "hot enough; low scald risk; stays above freezing; stored hot; warm at once; short wait"),
        # to look at, to wait for, not known
        (1, "lukewarm; hot for children; test it first; lasts one night; on the edge of freezing; not answered"),
        (1, "below advice; hot: check its limits; middling wait; long wait"),
        # hurts, bursts, makes ill, or fails its purpose
        (2, "cold; freezes in the run; no water; scalds in minutes; scalds in seconds; freezes overnight"),
        (2, "freezes within 2 h; ice with the tape on; bacteria can grow; too hot for pipe or tape"),
        (2, "never warm enough; bare pipe; all bare"),
    ],
)
def test_how_grave_a_word_is(gravity, words):
    """0: fine, 1: to look at, 2: trouble. Every word of a run's verdicts is one of these."""
    found = {str(word): word.gravity for module in (assessment, first_draw, insulation) for word in words_of(module)}
    assert {word: found.get(word) for word in words.split("; ")} == dict.fromkeys(words.split("; "), gravity)
    assert len(found) == 29


def words_of(module):
    """The words that stand in a module, also those beside their thresholds."""
    for value in vars(module).values():
        parts = (
            [part for pair in value if isinstance(pair, tuple) for part in pair]
            if isinstance(value, tuple)
            else [value]
        )
        yield from (part for part in parts if isinstance(part, Word))


def burns_after(seconds, cool, longest, warm, shortest):
    """Water that burns after so many seconds, on the straight line in log time between two published points [degC]."""
    return cool + (warm - cool) * log(longest / seconds) / log(longest / shortest)


@pytest.mark.parametrize(
    "seconds, points, word",
    [
        (3650, (45, 7200, 47, 1200), "hot for children"),
        (3550, (45, 7200, 47, 1200), "test it first"),
        (61.5, (51, 120, 55, 17), "scalds in minutes"),
        (60.5, (51, 120, 55, 17), "scalds in seconds"),
    ],
)
def test_the_words_for_burns_change_at_an_hour_and_at_a_minute(seconds, points, word):
    """Points of Moritz and Henriques (1947), partial-thickness burns, as quoted in secondary literature."""
    assert scald_word(burns_after(seconds, *points)) == word


# --- values taken unless somebody gives another, a second time, with their reasons


def test_values_taken_unless_given():
    """Common practice, no source. Water to wash with and water that a sentence on burns names begin at the same 40 degC."""
    said = {name: value.magnitude for name, value in vars(common_values).items() if isinstance(value, type(Q_(1, "h")))}
    assert said == {"WARM_ENOUGH": 40, "HELD_AT": 4, "THERMOSTAT": 5, "LONG_NIGHT": 14}
    assert common_values.TAPE_MARGIN == 0.15  # in the middle of 10 to 20 %
    assert scald.TOO_COOL_TO_BURN == common_values.WARM_ENOUGH.magnitude and assessment.BARELY_WARM == 30


def test_an_assessments_water_stands_at_the_temperature_of_a_room():
    asked = run_of(), Q_(60, "degC"), Q_(6, "L/min")
    taken, given, warmer = (
        assess(*asked, **start).freeze.value for start in ({}, {"start": Q_(20, "degC")}, {"start": Q_(20.5, "degC")})
    )
    assert taken == given < warmer


def test_the_hand_methods_coefficient_is_150_unless_given():
    """Hazen-Williams in SI (from memory): h/L = 10.67 Q^1.852/(C^1.852 d^4.87), h in m of water; within 1 %."""
    length, flow, bore = 20.0, 10 / 60_000, 0.020
    by_hand = 10.67 * length * flow**1.852 / (150**1.852 * bore**4.87) * 999 * 9.80665 / 1000
    pipe = replace(COPPER, inside_diameter=Q_(bore, "m"))
    assert hazen_williams(pipe, Q_(length, "m"), Q_(flow, "m**3/s")).magnitude == pytest.approx(by_hand, rel=0.01)


# --- what is just possible


def refused(call):
    with pytest.raises(InputError):
        call()


def test_coefficients_of_the_hand_method():
    """Above 50, which is old iron that is half closed, up to 160, above the smoothest plastic."""
    for coefficient in (50.5, 160):
        hazen_williams(COPPER, Q_(1, "m"), Q_(1, "L/min"), coefficient)
    for coefficient in (50, 160.5):
        refused(lambda: hazen_williams(COPPER, Q_(1, "m"), Q_(1, "L/min"), coefficient))


def test_the_ground_covers_a_pipe_or_does_not():
    """22 mm with 14 mm of foam on it is 50 mm across: its axis at 25 mm touches the surface."""
    cover = Insulation("elastomeric foam", Q_(14, "mm"))
    run_of(cover, Ground(Q_(8, "degC"), Q_(25.1, "mm")))
    for depth in (24.6, 25.0):
        refused(lambda: run_of(cover, Ground(Q_(8, "degC"), Q_(depth, "mm"))))


def test_a_cover_goes_over_its_pipe_or_does_not():
    """Its bore may be the pipe's outside diameter, in whatever unit it was typed; a tenth of a millimetre less may not."""
    for bore in (Q_(22, "mm"), Q_(22 / 25.4, "in"), Q_(22.5, "mm")):
        run_of(Insulation("elastomeric foam", Q_(19, "mm"), bore))
    refused(lambda: run_of(Insulation("elastomeric foam", Q_(19, "mm"), Q_(21.9, "mm"))))
    # 2.8 cm is 28 mm, though in metres the one is a hair less than the other
    just = Insulation("elastomeric foam", Q_(19, "mm"), Q_(2.8, "cm"))
    Run(Pipe.nominal("copper EN 1057", "28 mm"), Q_(1, "m"), just, FROST)
    run_of(Insulation("elastomeric foam", Q_(114, "mm")))  # 250 mm across
    refused(lambda: run_of(Insulation("elastomeric foam", Q_(114.1, "mm"))))


def test_a_pipe_has_a_wall():
    replace(COPPER, inside_diameter=Q_(21.9, "mm"))
    refused(lambda: replace(COPPER, inside_diameter=Q_(22, "mm")))


def test_nights_of_an_hour_to_a_year():
    for hours in (1.0, 8760.0):
        weather = Weather.day_and_night(Q_(-5, "degC"), Q_(2, "degC"), Q_(hours, "h"))
        assert weather.time[-1].to("h").magnitude == pytest.approx(hours)
    for hours in (0.99, 9000.0):
        refused(lambda: Weather.day_and_night(Q_(-5, "degC"), Q_(2, "degC"), Q_(hours, "h")))


def test_rows_of_weather_are_an_equal_step_apart():
    """A spreadsheet's rounding is none of a gap (1 %); two minutes more than an hour are. Two rows are weather."""
    Weather(Q_([0, 1, 2, 3.005], "h"), Q_(np.zeros(4), "degC"))
    refused(lambda: Weather(Q_([0, 1, 2, 3.033], "h"), Q_(np.zeros(4), "degC")))
    Weather(Q_([0, 1], "h"), Q_([1, 0], "degC"))
    with pytest.raises(InputError, match="row 2 is not later than row 1"):
        Weather(Q_([0, 0, 1], "h"), Q_(np.zeros(3), "degC"))
    with pytest.raises(InputError, match="row 2 and row 3 .*2.5 h instead of 1 h"):
        Weather(Q_([0, 1, 3.5, 4.5, 5.5], "h"), Q_(np.zeros(5), "degC"))
    with pytest.raises(InputError, match="60 min was given, and the weather lasts 20 min"):
        night(run_of(), Weather(Q_([0, 20], "min"), Q_([0, 0], "degC")), Q_(8, "degC"), step=Q_(1, "h"))


def test_lists_of_lengths_and_of_temperatures():
    """A metre's loss does not ask how long the run is; of legs in a row the lengths weigh, so there the lists must fit."""
    lengths, water = Q_(np.array([5.0, 10.0, 20.0]), "m"), Q_(np.array([40.0, 60.0]), "degC")
    run = Run(COPPER, lengths, FOAM, FROST)
    assert run.heat_loss(water).magnitude == pytest.approx(run_of().heat_loss(water).magnitude)
    refused(lambda: Run.series([run, run_of(Insulation.none())]).heat_loss(water))
    at_50 = Run.series([run, run_of(Insulation.none())]).heat_loss(Q_(50, "degC")).magnitude
    foam, bare = (run_of(cover).heat_loss(Q_(50, "degC")).magnitude for cover in (FOAM, Insulation.none()))
    assert at_50 == pytest.approx([(metres * foam + 20 * bare) / (metres + 20) for metres in (5, 10, 20)])


def test_a_taped_pipe_settles_between_minus_60_and_99():
    """Too much tape for its foam boils the water, and under a polar sky none helps: both are named at the end of the scale."""
    strong = settles_at(run_of(Insulation("elastomeric foam", Q_(50, "mm"))), Tape.constant(Q_(100, "W/m")))
    weak = settles_at(
        run_of(Insulation.none(), Surroundings(Q_(-60, "degC"), radiant=Q_(-75, "degC"))),
        Tape.constant(Q_(0.01, "W/m")),
    )
    assert strong.magnitude == pytest.approx(99, abs=0.01) and weak.magnitude == pytest.approx(-60, abs=0.01)


def test_a_run_that_needs_no_heat_is_planned_with_one_tape():
    """Air at 10 degC holds 4 degC by itself; there is no plan with less than one tape."""
    made = plan(run_of(around=Surroundings(Q_(10, "degC"))), Tape.constant(Q_(10, "W/m")))
    assert made.needed.magnitude == 0 and made.tapes == 1 and made.tape_length.magnitude == pytest.approx(20)


# --- nights and seasons, by hand


def test_the_shortest_night_is_one_step():
    """20 minutes of weather in one step of 20 minutes: a constant tape of 12 W/m gives 20 m 0.08 kW h."""
    weather = Weather(Q_([0, 20], "min"), Q_([-10, -10], "degC"), Q_(5, "m/s"))
    found = night(run_of(), weather, Q_(8, "degC"), Tape.constant(Q_(12, "W/m")), step=Q_(20, "min"))
    assert found.time.to("min").magnitude == pytest.approx([0, 20])
    assert found.tape_energy.to("kW*h").magnitude == pytest.approx(0.08)


def test_the_power_goes_and_comes_at_its_very_minute():
    """A constant tape of 10 W/m, off from 1 to 2 h: 20 m for 2 of the 3 h are 0.4 kW h."""
    weather = Weather(Q_([0, 1, 2, 3], "h"), Q_(np.full(4, -10.0), "degC"), Q_(5, "m/s"))
    found = night(run_of(), weather, Q_(8, "degC"), Tape.constant(Q_(10, "W/m")), off=(Q_(1, "h"), Q_(2, "h")))
    minutes = np.round(found.time.to("min").magnitude).astype(int)
    working = dict(zip(minutes, found.tape_power.magnitude))
    assert minutes[0] == 0 and minutes[-1] == 180 and len(minutes) == 181
    assert (working[59], working[60], working[119], working[120]) == (10, 0, 0, 10)
    assert found.tape_energy.to("kW*h").magnitude == pytest.approx(0.4, rel=1e-9)
    refused(lambda: night(run_of(), weather, Q_(8, "degC"), off=(Q_(1, "h"), Q_(1, "h"))))


@pytest.mark.parametrize(
    "air, hours", [([-10, 10, -10], 1.0), ([10, -10, 10], 1.0), ([-10, -10, -10], 2.0), ([-10, -10, 10], 1.5)]
)
def test_hours_of_a_season(air, hours):
    """Each row stands for half an hour on either side, of which the first and the last have one; 10 degC need no heat."""
    weather = Weather(Q_([5, 6, 7], "h"), Q_(np.array(air, dtype=float), "degC"), Q_(5, "m/s"))
    expected = run_of().hold_power().to("kW/m").magnitude * 20 * hours
    assert season_energy(run_of(), weather).to("kW*h").magnitude == pytest.approx(expected, rel=1e-6)


def test_seasons_of_several_runs_are_those_of_each():
    """Two covers and two lengths side by side; the rows of the weather are summed, not the runs."""
    weather = Weather(Q_([5, 6, 7, 8], "h"), Q_([-10.0, 3.0, -20.0, 8.0], "degC"), Q_(5, "m/s"))

    def season(thickness, length):
        return season_energy(run_of(Insulation(FOAM.material, Q_(thickness, "mm")), length=length), weather).magnitude

    both = season(np.array([13.0, 25.0]), np.array([10.0, 30.0]))
    assert both == pytest.approx([season(13.0, 10.0), season(25.0, 30.0)], rel=1e-9)


def test_a_trickle_is_named_up_to_600_litres_a_minute():
    """Flow that keeps a temperature goes with the length: from one that is known to lengths of 590 and 610 L/min."""
    bare = Insulation.none()
    each = trickle(run_of(bare, length=1000.0), Q_(8, "degC")).magnitude / 1000
    assert trickle(run_of(bare, length=590 / each), Q_(8, "degC")).magnitude == pytest.approx(590, rel=1e-3)
    assert np.isinf(trickle(run_of(bare, length=610 / each), Q_(8, "degC")).magnitude)
    refused(lambda: trickle(run_of(), Q_(8, "degC"), Q_(8, "degC")))
