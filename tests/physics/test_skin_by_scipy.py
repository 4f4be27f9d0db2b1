"""The time to injury of skin under hot water by a second path: scipy's error functions, adaptive quadrature and a root.

The module adds up 1600 trapezoids; against sixteen times as many they are good to 0.1 %, so 0.2 % here.
"""

import numpy as np
import pytest
from scipy import special
from scipy.integrate import quad
from scipy.optimize import brentq

from lessons_lib.physics import skin

# data/skin.csv, by hand: depth [m], conductivity [W/(m K)], heat [J/(m3 K)], skin at rest [degC]; Henriques (1947)
DEPTH, CONDUCTIVITY, HEAT, REST, RATE, ACTIVATION = 80e-6, 0.37, 3.6e6, 34.0, 3.1e98, 75_000.0


def by_scipy(water, film):
    """Seconds until the integral of RATE exp(-ACTIVATION/T) is 1 in the basal layer."""

    def basal(time):
        reach = np.sqrt(CONDUCTIVITY / HEAT * time)
        x = DEPTH / (2 * reach)
        if np.isinf(film):
            return water + (REST - water) * special.erf(x)
        more = x + film * reach / CONDUCTIVITY
        return REST + (water - REST) * np.exp(-x * x) * (special.erfcx(x) - special.erfcx(more))

    def pace(log_time):
        time = np.exp(log_time)
        return time * RATE * np.exp(-ACTIVATION / (basal(time) + 273.15))

    def short(log_end):
        return quad(pace, np.log(1e-3), log_end, limit=200, epsrel=1e-8)[0] - 1

    return np.exp(brentq(short, np.log(2e-3), np.log(1e7), xtol=1e-9))


@pytest.mark.parametrize("film", [np.inf, 1000.0, 100.0])
@pytest.mark.parametrize("water", [45.0, 50.0, 60.0, 75.0])
def test_time_to_injury(water, film):
    assert float(skin.seconds_to_injury(water, film=film)) == pytest.approx(by_scipy(water, film), rel=2e-3)


def test_a_deeper_layer_and_cooler_skin():
    """Four times the way takes sixteen times as long to warm: with all else the same, depth squared over diffusivity."""
    deep = skin.Skin(4 * DEPTH, CONDUCTIVITY, HEAT / 16, REST)  # the same ladder in time
    assert float(skin.seconds_to_injury(60.0, deep)) == pytest.approx(float(skin.seconds_to_injury(60.0)), rel=1e-9)
    cool = skin.Skin(DEPTH, CONDUCTIVITY, HEAT, 20.0)
    assert float(skin.seconds_to_injury(60.0, cool)) > 1.05 * float(skin.seconds_to_injury(60.0))


def test_skin_as_warm_as_the_water_has_the_constant_rate():
    """At 50 degC from the start: 1/(RATE exp(-75000/323.15)), by hand 201.5 s."""
    by_hand = 1 / np.exp(np.log(RATE) - ACTIVATION / 323.15)
    warm = skin.Skin(DEPTH, CONDUCTIVITY, HEAT, 50.0)
    assert by_hand == pytest.approx(201.5, rel=1e-3) and float(skin.seconds_at(50.0)) == pytest.approx(by_hand)
    assert float(skin.seconds_to_injury(50.0, warm)) == pytest.approx(by_hand, rel=2e-3)


def test_cool_water_never_burns():
    """At 30 degC the constant rate takes 28 years, and the model ends after three: 1e8 s."""
    assert float(skin.seconds_at(30.0)) / (365 * 86_400) == pytest.approx(28.4, rel=0.01)
    assert np.isinf(skin.seconds_to_injury(np.array([30.0, 60.0]))).tolist() == [True, False]


def test_waters_side_by_side_are_each_alone():
    water = np.array([[48.0, 52.0, 60.0], [45.0, 70.0, 30.0]])
    alone = [[float(skin.seconds_to_injury(one)) for one in row] for row in water]
    assert skin.seconds_to_injury(water) == pytest.approx(np.array(alone), rel=1e-9)
