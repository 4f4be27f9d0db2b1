"""Pressure tests that leak and tanks that fill: put back into their balances, step by step, and into a solver's hands."""

import numpy as np
import pytest
import second_path
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from lessons_lib.physics import layers, pressure_test
from lessons_lib.physics.delivery import Delivery, along
from lessons_lib.physics.heat_loss import Air, Section
from lessons_lib.physics.line import Line

AIR_OUTSIDE = 101_325.0
SQUEEZES = {
    celsius: second_path.PropsSI("ISOTHERMAL_COMPRESSIBILITY", "T", celsius + 273.15, "P", 300_000, "Water")
    for celsius in range(0, 100, 5)
}


def rest_pressure(begin, end, start, leaked, air, give, growth):
    """Pressure [Pa] at which water, air and wall fill each other, by halving: water's volume by CoolProp's densities and
    compressibility, air's by Boyle and Gay-Lussac."""
    dense = second_path.water(np.array([begin, end]))[0]
    squeezes = np.interp(end, list(SQUEEZES), list(SQUEEZES.values()))

    def room(pressure):
        more = pressure - start
        water = (1 - air) * (dense[0] / dense[1] - squeezes * more) - leaked
        bubbles = air * start / pressure * (end + 273.15) / (begin + 273.15)
        return water + bubbles - 1 - 3 * growth * (end - begin) - give * more

    return brentq(room, 1.0, 1e9, xtol=1e-3)


# begin [degC], warmed [K], pressure [Pa], seconds, leak [1/s], air, give [1/Pa], growth [1/K]
TESTS = {
    "copper, slow leak, cooling": (20.0, -1.0, 7e5, 900.0, 2e-7, 0.001, 1.4e-10, 16.8e-6),
    "copper, leak, warming": (12.0, 3.0, 7e5, 1800.0, 4e-7, 0.004, 1.4e-10, 16.8e-6),
    "plastic, leak": (18.0, 2.0, 1e6, 3600.0, 3e-6, 0.002, 7e-9, 150e-6),
    "much air, a leak that empties the gauge": (20.0, 0.0, 4e5, 1200.0, 3e-4, 0.05, 1.4e-10, 16.8e-6),
    "emptied, then a little warmer": (20.0, 1.5, 4e5, 1800.0, 2e-5, 0.0005, 1.4e-10, 16.8e-6),
    "rigid, no leak": (25.0, 1.0, 5e5, 600.0, 0.0, 0.0, 0.0, 0.0),
}


@pytest.mark.parametrize("name", TESTS)
def test_a_leaking_test_against_a_solver(name):
    """A hole lets out with the root of what the gauge shows, and nothing at zero. 0.5 % of the first gauge, for 60 steps,
    and what the density table's straight lines leave between whole degrees: 1.3e-6 of the volume."""
    begin, warmed, start, seconds, leak, air, give, growth = TESTS[name]

    def gauge(time, leaked):
        return rest_pressure(begin, begin + warmed * time / seconds, start, leaked, air, give, growth) - AIR_OUTSIDE

    def out(time, leaked):
        return [leak * np.sqrt(max(gauge(time, leaked[0]), 0.0) / (start - AIR_OUTSIDE))]

    times, found = pressure_test.course(begin, warmed, start, seconds, leak, air, give, growth)
    solved = solve_ivp(out, (0, seconds), [0.0], method="LSODA", t_eval=times[::6], rtol=1e-6, atol=1e-11)
    exact = np.array([gauge(*one) for one in zip(solved.t, solved.y[0])])
    assert times == pytest.approx(np.linspace(0, seconds, 61))
    between = 1.3e-6 / (SQUEEZES[20] + give)
    assert np.array(found)[::6] - AIR_OUTSIDE == pytest.approx(exact, abs=0.005 * (start - AIR_OUTSIDE) + between), name


def test_a_course_without_a_leak_is_the_closed_pipe():
    begin, warmed, start, seconds, _, air, give, growth = TESTS["copper, slow leak, cooling"]
    times, found = pressure_test.course(begin, warmed, start, seconds, 0.0, air, give, growth, steps=7)
    rests = [rest_pressure(begin, begin + warmed * one / seconds, start, 0.0, air, give, growth) for one in times]
    assert len(found) == 8 and found == pytest.approx(rests, rel=2e-3)


def test_a_closed_pipe_that_is_emptied_by_cooling_stays_above_nothing():
    """Water that shrinks more than all gives back: the gauge ends below the air's, never below a vacuum."""
    _, found = pressure_test.course(40.0, -20.0, 2e5, 600.0, 0.0, give=1.4e-10, growth=16.8e-6)
    assert min(found) == 0.0


@pytest.mark.parametrize("port", [layers.TOP, 3, layers.MIDDLE, layers.BOTTOM])
@pytest.mark.parametrize("cold, store, rise", [(10.0, 60.0, 50.0), (10.0, 60.0, 8.0), (15.0, 50.0, 5.0)])
def test_a_tank_that_fills_keeps_its_heat_and_its_order(cold, store, rise, port):
    """Each step the heat grows by what the unit adds to one layer. Never colder above warmer; below the port every
    layer sinks by one as it is, above it nothing moves but what rises. It ends as soon as its bottom is within a
    hundredth of the store."""
    one = layers.filling(cold, store, rise, port)
    rows, back = one.layers, one.back
    assert len(rows) == len(back) + 1 == len(one.share) and rows[0] == pytest.approx(cold)
    added = np.minimum(back + rise, store) - back
    assert np.diff(rows.sum(axis=1)) == pytest.approx(added)
    assert one.share == pytest.approx(np.r_[0, np.cumsum(added)] / layers.LAYERS / (store - cold))
    assert np.all(np.diff(rows, axis=1) <= 1e-9) and back == pytest.approx(rows[:-1, -1])
    assert rows[1:, port + 1 :] == pytest.approx(rows[:-1, port:-1] if port else rows[:-1, :-1])
    assert np.ptp(rows[:, : port + 1], axis=1) == pytest.approx(0, abs=1e-9)  # all above the port is one
    near = store - 0.01 * (store - cold)
    assert rows[-1, -1] > near and np.all(back <= near)


def test_usable_water_of_a_tank_by_hand():
    """Two of five layers at 60 and one at 45 degC with 10 degC cold, wanted 40: (50 + 50 + 35)/30 of five layers."""
    tank = np.array([60.0, 60.0, 45.0, 39.9, 10.0])
    assert layers.usable(tank, 10.0, 40.0) == pytest.approx(135 / 30 / 5)
    assert layers.usable(np.array([40.0, 20.0]), 10.0, 40.0) == pytest.approx(0.5), "what is just warm enough counts"


def test_water_along_a_run_is_the_exponential():
    """Into air of -20 degC: to the end's temperature, or by way of 0 degC to ice, and from there on 0 degC."""
    foam = np.zeros(1), np.array([0.04])
    line = Line.of(Section(0.02, 0.022, 340.0, 0.6, 0.022, 0.042, foam, 0.9), Air(-20.0, 0.0, -20.0))
    metres = np.linspace(0, 30, 33)
    decay = np.log((50 + 20) / (30 + 20)) / 30
    arrives = along(line, 50.0, Delivery(np.array(30.0), np.array(np.inf)), 30.0)
    assert arrives == pytest.approx(-20 + 70 * np.exp(-decay * metres))
    decay = np.log((50 + 20) / 20) / 12
    freezes = along(line, 50.0, Delivery(np.array(0.0), np.array(12.0)), 30.0)
    assert freezes == pytest.approx(np.maximum(-20 + 70 * np.exp(-decay * metres), 0), abs=1e-9)
    still = along(line, -20.0, Delivery(np.array(-20.0), np.array(np.inf)), 30.0, count=5)
    assert still == pytest.approx(np.full(5, -20.0))
