"""Heat tape and runs worked out by hand: operating points, margins, lengths, gaps, soil, faces, weather of a night."""

import numpy as np
import pytest
import second_path

from lessons_lib import (
    Q_,
    Ground,
    Insulation,
    Pipe,
    Run,
    Surroundings,
    Tape,
    Weather,
    bore_over,
    plan,
    settles_at,
)
from lessons_lib.quantities.errors import InputError
from lessons_lib.runs.tape import switched

COPPER = Pipe.nominal("copper L", "3/4 in")  # 22.225 mm outside
FOAM = Insulation("elastomeric foam", Q_(20, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
LINE = (Q_(10, "degC"), Q_(12, "W/m")), (Q_(40, "degC"), Q_(0, "W/m"))


def run_of(air=-20.0, wind=5.0, cover=FOAM, pipe=COPPER, length=10.0, **more):
    return Run(pipe, Q_(length, "m"), cover, Surroundings(Q_(air, "degC"), wind=Q_(wind, "m/s")), **more)


@pytest.mark.parametrize("celsius, watts", [(-5, 18.0), (10, 12.0), (25, 6.0), (40, 0.0), (60, 0.0)])
def test_output_line_by_hand(celsius, watts):
    """From 12 W/m at 10 degC down to nothing at 40 degC: 0.4 W/m for each kelvin; order of the points does not matter."""
    for tape in (Tape.self_regulating(*LINE), Tape.self_regulating(*LINE[::-1])):
        assert tape.power(Q_(celsius, "degC")).magnitude == pytest.approx(watts, abs=1e-9)
    assert Tape.constant(Q_(7, "W/m")).power(Q_(celsius, "degC")).magnitude == 7.0


def test_equal_outputs_or_points_are_refused():
    for second in ((Q_(40, "degC"), Q_(12, "W/m")), (Q_(10, "degC"), Q_(3, "W/m"))):
        with pytest.raises(InputError):
            Tape.self_regulating(LINE[0], second)


@pytest.mark.parametrize("air, wind, thickness", [(-20, 5, 20), (-35, 0, 10), (-5, 10, 40), (10, 2, 15)])
@pytest.mark.parametrize("pipe", [("copper L", "3/4 in"), ("PEX CTS", "1/2 in"), ("CPVC CTS", "1 in")])
def test_a_run_settles_where_output_meets_loss(air, wind, thickness, pipe):
    """Output line and loss line cross; the tape lies outside the wall, whose resistance has no part in it."""
    cover = Insulation("elastomeric foam", Q_(thickness, "mm"))
    run = run_of(air, wind, cover, Pipe.nominal(*pipe))
    cut, low, high = second_path.Cut(run, wall=False), float(air), 99.0
    for _ in range(40):
        middle = (low + high) / 2
        gives = max(12 - 0.4 * (middle - 10), 0.0)
        low, high = (middle, high) if gives > cut.loss(middle, air, wind)[0] else (low, middle)
    assert settles_at(run, Tape.self_regulating(*LINE)).magnitude == pytest.approx(low, abs=0.02)
    for hold in (4.0, 30.0):
        held = max(float(cut.loss(hold, air, wind)[0]), 0.0)
        assert run.hold_power(Q_(hold, "degC")).magnitude == pytest.approx(held, rel=2e-3, abs=1e-6)


def test_plan_by_hand():
    """Needed: loss at 4 degC and 15 % more. Length: as many tapes as it takes, of 10 m and 0.3 m for each of 3 brackets."""
    run = run_of()
    loss = float(second_path.Cut(run, wall=False).loss(4.0, -20.0, 5.0)[0])
    for power, tapes in ((loss * 1.16, 1), (loss * 1.14, 2), (loss * 0.576, 2), (loss * 0.3, 4)):
        made = plan(run, Tape.constant(Q_(power, "W/m")), brackets=3)
        assert made.needed.magnitude == pytest.approx(1.15 * loss, rel=1e-3) and made.tapes == tapes
        assert made.tape_length.magnitude == pytest.approx(tapes * (10 + 3 * 0.3))
        assert made.given.magnitude == pytest.approx(power)
    assert plan(run, Tape.constant(Q_(loss, "W/m")), margin=0.5).needed.magnitude == pytest.approx(1.5 * loss, rel=1e-3)
    assert bore_over(COPPER, Q_(6, "mm"), Q_(1.5, "mm")).magnitude == pytest.approx(22.225 + 6 + 3)


def test_the_limits_of_a_tape():
    """A pipe at the limit is allowed, one above it is not; a material that is listed is, another is not."""
    run, tape = run_of(), Tape.constant(Q_(12, "W/m"), highest_pipe=Q_(30, "degC"), materials=("copper",))
    tape.check(COPPER, 30.0)
    for pipe, hottest in ((COPPER, 30.5), (Pipe.nominal("PEX CTS", "1/2 in"), 20.0)):
        with pytest.raises(InputError):
            tape.check(pipe, hottest)
    with pytest.raises(InputError):
        settles_at(run, Tape.constant(Q_(60, "W/m"), highest_pipe=Q_(30, "degC")))


def test_a_sensor_gives_the_tape_its_share_of_time():
    """The covered pipe at 5 degC loses P: a tape of 3 P works a third of the time, and so it does where the pipe is bare."""
    covered, bare = run_of(), run_of(cover=Insulation.none())
    needed = float(second_path.Cut(covered, wall=False).loss(5.0, -20.0, 5.0)[0])
    mean, share, (kept, at_bare) = switched(covered, bare, Tape.constant(Q_(3 * needed, "W/m")), 5.0)
    assert share == pytest.approx(1 / 3, rel=1e-3) and kept == 5.0
    assert float(mean.available(0.0)) == pytest.approx(needed, rel=1e-3)
    cut = second_path.Cut(bare, wall=False)
    assert float(cut.loss(at_bare, -20.0, 5.0)[0]) == pytest.approx(needed, rel=5e-3)
    assert switched(covered, bare, Tape.constant(Q_(0.8 * needed, "W/m")), 5.0)[1] == 1.0


def test_a_tape_at_its_limits():
    """One that gives just what is needed is one; 1 W/m is not nothing; without brackets the tape is as long as the pipe."""
    run = run_of()
    needed = plan(run, Tape.constant(Q_(50, "W/m"))).needed
    just = plan(run, Tape.constant(needed))
    assert just.tapes == 1 and just.tape_length.magnitude == pytest.approx(10)
    weak = plan(run, Tape.constant(Q_(1, "W/m")))
    assert weak.tapes == int(np.ceil(needed.magnitude)) and weak.given.magnitude == 1
    with pytest.raises(InputError, match="gives nothing"):
        plan(run, Tape.self_regulating((Q_(-10, "degC"), Q_(10, "W/m")), (Q_(4, "degC"), Q_(0, "W/m"))))
    # ties of 1 mm on either side unless told
    assert bore_over(COPPER, Q_(6, "mm")).magnitude == pytest.approx(22.225 + 6 + 2)


def test_a_tape_too_weak_for_its_sensor_is_always_on():
    """80 % of what 5 degC needs: it works all the time and the pipe settles below; the sensor's temperature is not reached."""
    covered, bare = run_of(), run_of(cover=Insulation.none())
    cut = second_path.Cut(covered, wall=False)
    power = 0.8 * float(cut.loss(5.0, -20.0, 5.0)[0])
    mean, share, (kept, _) = switched(covered, bare, Tape.constant(Q_(power, "W/m")), 5.0)
    assert share == 1.0 and kept < 5.0 and float(cut.loss(kept, -20.0, 5.0)[0]) == pytest.approx(power, rel=2e-3)
    assert float(mean.available(0.0)) == pytest.approx(power)


@pytest.mark.parametrize("soil, conductivity", [("dry", 0.5), ("moist", 1.2), ("wet", 2.0)])
@pytest.mark.parametrize("depth", [0.1, 0.8, 2.0])
def test_buried_by_the_shape_factor(soil, conductivity, depth):
    """2 pi k/arccosh(2 z/D) of a cylinder under an isothermal surface (Carslaw and Jaeger 1959, as quoted in secondary
    literature), in series with foam and wall: 50 degC water in soil of 8 degC."""
    run = Run(COPPER, Q_(10, "m"), FOAM, Ground(Q_(8, "degC"), Q_(depth, "m"), soil))
    cut = second_path.Cut(run)
    outward = np.arccosh(2 * depth / cut.outer) / (2 * np.pi * conductivity)
    foam = np.log(62.225 / 22.225) / (2 * np.pi * 0.04)
    assert run.heat_loss(Q_(50, "degC")).magnitude == pytest.approx(42 / (outward + foam + cut.wall), rel=1e-4)
    Run(COPPER, Q_(10, "m"), FOAM, Ground(Q_(8, "degC"), Q_(0.0312, "m"), soil))  # half of 62.225 mm is 31.1 mm
    with pytest.raises(InputError, match="depth"):
        Run(COPPER, Q_(10, "m"), FOAM, Ground(Q_(8, "degC"), Q_(0.031, "m"), soil))


def test_a_gap_is_air_and_radiation_beside_each_other():
    """28 mm bore over 22.225 mm: air conducts 2 pi k/ln(D/d), and two long cylinders exchange heat; open at the joints it
    holds nothing. Emissivities of copper and foam as the tables give them; the worth of the gap is capped at foam's."""
    sealed, opened = (
        run_of(
            0.0, 0.0, Insulation("elastomeric foam", Q_(20, "mm"), Q_(28, "mm"), gap, conductivity=Q_(0.04, "W/(m*K)"))
        )
        for gap in ("sealed", "open")
    )
    d, bore, outer, water = 0.022225, 0.028, 0.068, 60.0
    air = 2 * np.pi * float(second_path._AIR(water)[0]) / np.log(bore / d)
    exchange = 1 / (1 / COPPER.emissivity + (1 / 0.93 - 1) * d / bore)
    gap = 1 / (air + np.pi * d * exchange * 4 * 5.670374e-8 * (water + 273.15) ** 3)
    gap = min(gap, np.log(bore / d) / (2 * np.pi * 0.04))
    cut = second_path.Cut(sealed)
    cut.outer, foam = outer, np.log(outer / bore) / (2 * np.pi * 0.04)
    for run, through in ((sealed, gap), (opened, 0.0)):
        cut.cover = lambda _, through=through: foam + through
        assert run.heat_loss(Q_(water, "degC")).magnitude == pytest.approx(float(cut.loss(water, 0.0)[0]), rel=1e-3)


@pytest.mark.parametrize("cover", [FOAM, Insulation.none(), Insulation.none(0.95)])
@pytest.mark.parametrize("radiant", [None, -30.0, 20.0])
@pytest.mark.parametrize("litres", [None, 0.5, 6.0])
def test_faces_films_and_bare_shares(cover, radiant, litres):
    """A third bare: two thirds of one loss and a third of the other. Bare foamless pipe radiates as the reader says."""
    sky = None if radiant is None else Q_(radiant, "degC")
    around = Surroundings(Q_(-5, "degC"), Q_(3, "m/s"), sky)
    run = Run(Pipe.nominal("PEX CTS", "3/4 in"), Q_(10, "m"), cover, around, bare_share=1 / 3)
    parts = second_path.Cut(run), second_path.Cut(run, bare=True)
    if cover.thickness.magnitude == 0 and cover.surface_emissivity is not None:
        for part in parts:
            part.emissivity = cover.surface_emissivity
    elif cover.thickness.magnitude == 0:
        parts[0].emissivity = run.pipe.emissivity
    flow = None if litres is None else Q_(litres, "L/min")
    film = 0.0 if litres is None else second_path.water_film(
        parts[0].d, 55.0, litres / 60_000 * second_path.water(55.0)[0]
    )  # fmt: skip
    by_hand = [float(part.loss(55.0, -5.0, 3.0, radiant, film)[0]) for part in parts]
    found = run.heat_loss(Q_(55, "degC"), flow).magnitude
    assert found == pytest.approx(2 / 3 * by_hand[0] + 1 / 3 * by_hand[1], rel=2e-3)


def test_the_largest_outside_is_a_quarter_of_a_metre():
    """22.225 mm and twice 113 mm are allowed, twice 115 mm are not; a bore smaller than the pipe is not."""
    run_of(cover=Insulation("elastomeric foam", Q_(113, "mm")))
    for cover in (
        Insulation("elastomeric foam", Q_(115, "mm")),
        Insulation("elastomeric foam", Q_(9, "mm"), Q_(22, "mm")),
    ):
        with pytest.raises(InputError):
            run_of(cover=cover)


@pytest.mark.parametrize("hours", [6, 14, 20.1])
def test_the_sine_of_a_night_by_hand(hours):
    """Coldest at two thirds of the night, half a swing on either side 6 h from there, a row each quarter of an hour."""
    weather = Weather.day_and_night(Q_(-12, "degC"), Q_(2, "degC"), Q_(hours, "h"), Q_(3, "m/s"))
    times, air = weather.time.to("h").magnitude, weather.air.magnitude
    by_hand = -5 - 7 * np.cos(2 * np.pi * (times - 2 / 3 * hours) / 24)
    assert air == pytest.approx(by_hand, abs=1e-9) and len(times) == int(np.ceil(4 * hours)) + 1
    assert times[0] == 0 and times[-1] == pytest.approx(hours)
    between = weather.at(np.array([450.0, 1350.0]))
    assert between[0] == pytest.approx(np.interp([0.125, 0.375], times, by_hand), abs=1e-9)
    assert np.all(between[1] == 3.0) and np.all(between[2] == between[0])
    sky = Weather.day_and_night(Q_(-12, "degC"), Q_(2, "degC"), radiant=Q_(-25, "degC"))
    assert np.all(sky.at(np.array([0.0, 900.0]))[2] == -25.0)
    assert np.ptp(Weather.day_and_night(Q_(-12, "degC"), Q_(-12, "degC")).air.magnitude) == 0
