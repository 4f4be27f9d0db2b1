"""Air that was read with the readings: cooling water follows it, other experiments take its mean and its spread."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from lessons_lib import Q_, Insulation, Pipe, Readings, Run, Surroundings, fit_along, fit_cooling
from lessons_lib.physics import bench as physics

COPPER = Pipe.nominal("copper L", "1/2 in")
FOAM = Insulation("elastomeric foam", Q_(19, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
TIMES = np.arange(0, 10_801, 120.0)
AIRS = {
    "the heating comes on": lambda t: 17 + 6 / (1 + np.exp(-(t - 4000) / 600)),
    "it falls all day": lambda t: 26 - 8 * t / 10_800,
    "a swing in an hour": lambda t: 20 + 3 * np.sin(2 * np.pi * t / 3600),
}


def in_air(insulation, air) -> Run:
    return Run(COPPER, Q_(10, "m"), insulation, Surroundings(Q_(air, "degC")))


def stepped(insulation, air, start=58.0):
    """Standing water by a general-purpose integrator: at each moment the loss is that of steady air as it is then."""
    standing = in_air(insulation, 20.0).standing()

    def rate(time, water):
        now = replace(standing, line=in_air(insulation, air(time)).line)
        return -(water - air(time)) / now.seconds_per_unit(water[0], air(time))

    return solve_ivp(rate, (0, TIMES[-1]), [start], t_eval=TIMES, rtol=1e-6, atol=1e-6).y[0]


@pytest.mark.parametrize("air", AIRS)
@pytest.mark.parametrize("insulation", [FOAM, Insulation.none()], ids=["foam", "bare"])
def test_water_follows_the_air(insulation, air):
    """Within 0.02 K, where steady air would be wrong by half a kelvin and more."""
    true, air = stepped(insulation, AIRS[air]), AIRS[air](TIMES)
    standing = in_air(insulation, np.mean(air)).standing()
    followed = physics.standing_water(standing, 58.0, TIMES, air=(TIMES, air - np.mean(air)))
    assert np.max(np.abs(followed - true)) < 0.02
    assert np.max(np.abs(physics.standing_water(standing, 58.0, TIMES) - true)) > 0.5


@pytest.mark.parametrize("air", AIRS)
def test_a_column_for_the_air_is_used_as_the_air_over_time(air):
    """Water in changing air is fitted to what it was made with; its mean alone would be wrong by more than that."""
    noise = 0.1 * np.random.default_rng(3).standard_normal(len(TIMES))
    values, air = stepped(FOAM, AIRS[air]) + noise, AIRS[air](TIMES)
    rows = "\n".join(f"{t:g};{v:.2f};{a:.2f}" for t, v, a in zip(TIMES, values, air))
    readings = Readings.from_text(f"time [s];pipe [°C];air [°C]\n{rows}")
    run = in_air(FOAM, 5.0)  # what the reader set does not count: the air was read
    fit = fit_cooling(run, readings)
    assert fit.value.magnitude == pytest.approx(0.04, rel=0.015) and fit.rms.magnitude < 0.13
    mean = fit_cooling(in_air(FOAM, np.mean(air)), replace(readings, air=None))
    assert abs(mean.value.magnitude - 0.04) > abs(fit.value.magnitude - 0.04) or mean.rms > 1.5 * fit.rms


def test_the_air_is_that_of_the_same_moment_whatever_the_clock_said():
    """A logger that had run for an hour before."""
    air, times = AIRS["the heating comes on"](TIMES[::6]), TIMES[::6]
    standing = in_air(FOAM, np.mean(air)).standing()
    values = physics.standing_water(standing, 58.0, times, air=(times, air - np.mean(air)))
    early, late = (
        fit_cooling(
            in_air(FOAM, 5.0), Readings(Q_(values, "degC"), Q_(times + begun, "s"), air=Q_(air, "degC"))
        ).value.magnitude
        for begun in (0.0, 3600.0)
    )
    assert late == pytest.approx(early, rel=1e-6)


def test_a_slow_thermometer_in_changing_air():
    air = AIRS["it falls all day"]
    values = physics.lagging(TIMES, stepped(FOAM, air), 200.0, 30.0, TIMES)
    readings = Readings(Q_(values, "degC"), Q_(TIMES, "s"), air=Q_(air(TIMES), "degC"))
    fit = fit_cooling(in_air(FOAM, 5.0), readings, thermometer=Q_(200, "s"))
    assert fit.value.magnitude == pytest.approx(0.04, rel=0.015)


def test_along_a_run_the_spread_of_the_air_is_in_the_interval():
    places = np.linspace(0, 24, 13)
    run = Run(COPPER, Q_(24, "m"), FOAM, Surroundings(Q_(20, "degC")))
    values = physics.flowing_water(run.line, 58.0, 6e-6, 24.0, places)
    steady, uneven = (
        Readings(Q_(values, "degC"), place=Q_(places, "m"), air=Q_(20 + swing * (-1.0) ** np.arange(13), "degC"))
        for swing in (0.0, 2.0)
    )
    one, other = (fit_along(run, readings, Q_(0.36, "L/min")) for readings in (steady, uneven))
    assert other.value.magnitude == pytest.approx(one.value.magnitude, rel=0.02)
    # 2 K of some 30 K between water and air, and 1.96 standard deviations of it
    assert 0.08 < other.doubt < 0.2 and one.doubt < 0.5 * other.doubt


def test_rows_without_the_air_are_still_readings():
    text = "time [s],pipe [C],air [C]\n0,50,20\n1,49,\n2,48,21\n3,47,-127\n4,46,23\n5,45,23"
    readings = Readings.from_text(text)
    assert readings.left_out == () and readings.air.magnitude.tolist() == [20, 20.5, 21, 22, 23, 23]
    assert Readings.from_text(text.replace(",2", ",x")).air is None, "a thermometer that says nothing is no column"


def test_saved_with_its_air_and_read_as_it_was_saved_before():
    readings = Readings.from_text("time [s],pipe [C],air [C]\n" + "\n".join(f"{n},{50 - n},{20 + n}" for n in range(6)))
    data = readings.to_data()
    assert Readings.from_data(data).air.magnitude.tolist() == [20, 21, 22, 23, 24, 25]
    del data["air"]
    assert Readings.from_data(data).air is None
