"""Topics 07 and 14: conduction into a half-space, the damage integral, and both against experiments on people.

Closed forms and the integral at constant temperature: 0.1 %. The time to injury against another integration of the same
model: 5 %. Against experiments: a factor of 2, and only from 47 to 60 degC with the surface at the water's temperature.
"""

import numpy as np
import pytest
from scipy import special
from scipy.optimize import brentq

from lessons_lib import Q_
from lessons_lib.physics import skin
from lessons_lib.runs.skin import skin_injury
from lessons_lib.storage import tables

QUOTED = "as quoted in secondary literature"
HOLMAN = f"Holman, Heat Transfer, {QUOTED}, recomputed"
MIXED_PAIR = skin.Damage(3.1e98, 75411.0)  # 627 kJ/mol with R = 8.3145 J/(mol K) beside a rate that is not its own


def test_held_surface(agree):
    """Example 4-2: 118.5 degC 25 mm deep after 30 s."""
    agree(skin.held_surface(0.025, 30, 1.4e-5, 35, 250), 118.499, f"{HOLMAN}, Example 4-2", absolute=0.1)


def test_surface_under_a_film(agree):
    """The exact solution; the book's chart answer of about -5.44 degC is 0.27 K off."""
    found = skin.film_surface(0, 5 * 3600, 4.65e-7, 15.6, -17.8, 0.865, 11.36)
    agree(float(found), -5.16788, f"Geankoplis Example 5.3-1, inputs {QUOTED}, recomputed", absolute=0.05)


def test_time_under_a_film(agree):
    """The exact solution; the book reads 3000 s from a chart, 16 % low."""
    seconds = brentq(lambda time: skin.film_surface(0.04, time, 8.4e-5, 200, 70, 215, 525) - 120, 100, 1e5)
    agree(seconds, 3561.13, f"{HOLMAN}, inputs of Example 4-5", relative=0.005)


HENRIQUES = "Henriques, Arch. Pathol. 43 (1947) 489, from memory, content checked by computation"
CONSTANT = [  # degC, seconds, seconds with a mixed pair
    (44, 16259.3, 5.94e4),
    (45, 7731.96, 2.81e4),
    (47, 1773.03, 6.4e3),
    (48, 854.904, 3.07e3),
    (49, 414.081, 1.48e3),
    (50, 201.466, 718),
    (51, 98.4573, 350),
    (52, 48.3289, 171),
    (55, 5.86659, 20.5),
    (60, 0.189964, 0.652),
    (65, 0.00680784, 0.0229),
]
constant = pytest.mark.parametrize("temperature, seconds, mixed", CONSTANT, ids=[f"{row[0]} degC" for row in CONSTANT])


@constant
def test_damage_at_constant_temperature(agree, temperature, seconds, mixed):
    agree(float(skin.seconds_at(temperature)), seconds, HENRIQUES, relative=1e-3)


@constant
def test_a_mixed_pair_of_constants_is_wrong_by_its_known_factor(agree, temperature, seconds, mixed):
    """1 %: printed to three figures. Held so that nobody repairs one constant without the other."""
    found = float(skin.seconds_at(temperature, MIXED_PAIR))
    agree(found, mixed, "the same with 627 kJ/mol and R = 8.3145, computed", relative=0.01)
    assert 3.3 < found / float(skin.seconds_at(temperature)) < 3.7


MODEL = "semi-infinite conduction with Henriques 1947, computed with scipy erfc and trapezoids"
INJURY = [  # degC, surface held, film of 1000 W/(m2 K), surface held with the mixed pair [s]
    (49, 472.042, 713, 1.59e3),
    (51, 128.915, 256, 409),
    (55, 14.2004, 54.7, 36.6),
    (60, 2.15048, 16, 4.08),
    (65, 0.682053, 7.28, 1.05),
]
injury = pytest.mark.parametrize("temperature, held, film, mixed", INJURY, ids=[f"{row[0]} degC" for row in INJURY])


@injury
def test_time_to_injury_with_the_surface_held(agree, temperature, held, film, mixed):
    agree(float(skin.seconds_to_injury(temperature)), held, MODEL, relative=0.05)


@injury
def test_time_to_injury_under_a_film(agree, temperature, held, film, mixed):
    agree(float(skin.seconds_to_injury(temperature, film=1000)), film, MODEL, relative=0.05)


@injury
def test_time_to_injury_with_a_mixed_pair(agree, temperature, held, film, mixed):
    agree(float(skin.seconds_to_injury(temperature, damage=MIXED_PAIR)), mixed, MODEL, relative=0.05)


MORITZ = f"Moritz and Henriques, Am. J. Pathol. 23 (1947) 695-720, partial injury, {QUOTED}"
EXPERIMENTS = [(47, 1200), (48, 900), (49, 480), (51, 120), (55, 17), (60, 3)]


@pytest.mark.parametrize("temperature, seconds", EXPERIMENTS, ids=[f"{row[0]} degC" for row in EXPERIMENTS])
def test_against_experiments(agree, temperature, seconds):
    found = skin_injury(Q_(float(temperature), "degC"))
    agree(found.surface_held.to("s").magnitude, seconds, MORITZ, factor=2)


def test_a_film_decides_the_result():
    """Against the experiments a film moves the ratio from about 1 to 1.2 ... 6: shown, not hidden."""
    ratios = [float(skin.seconds_to_injury(at, film=1000)) / seconds for at, seconds in EXPERIMENTS if at >= 49]
    assert min(ratios) > 1.2 and 4 < max(ratios) < 6


def test_above_60_degrees_the_model_runs_early():
    """65.6 degC: the leaflet's 2 s (US CPSC publication 5098, full thickness) is three times the model's."""
    assert float(skin.seconds_to_injury(65.5555)) < 2 / 2


YE_DE = f"Ye and De, Burns 43 (2017) 909-932, {QUOTED}"
RANGES = [
    ("depth of the basal layer", skin.SKIN.depth, 0.075e-3, 0.15e-3),
    ("thermal inertia in living skin", skin.SKIN.conductivity * skin.SKIN.density_heat, 13.1e5, 31.7e5),
    ("density heat, dermis to epidermis", skin.SKIN.density_heat, 1116 * 3224 * 0.999, 1190 * 3600),
    ("conductivity, above that of skin in a laboratory", skin.SKIN.conductivity, 0.29, 0.60),
]


@pytest.mark.parametrize("name, value, low, high", RANGES, ids=[row[0] for row in RANGES])
def test_skin_lies_in_published_ranges(name, value, low, high):
    """Living skin conducts better than skin in a laboratory (0.21-0.29) and worse than water (0.60)."""
    assert low <= value <= high, YE_DE


def test_thresholds(agree):
    agree(skin.INJURY, 1.0, f"Henriques 1947: 0.53, 1 and 1e4, {QUOTED}", relative=1e-9)


@pytest.mark.parametrize("name, value", [("damage_rate", 3.1e98), ("damage_temperature", 75000)])
def test_constants_stand_as_a_pair(agree, name, value):
    agree(float(tables.row("skin", "property", name, "property")["value"]), value, HENRIQUES, relative=1e-12)


@pytest.mark.parametrize("x", [0.0, 1e-6, 0.1, 0.5, 1.0, 2.0, 5.0, 20.0, 1e3, 1e6])
def test_error_functions(agree, x):
    """Weideman's expansion against scipy: twelve digits."""
    agree(float(skin.erfcx(x)), special.erfcx(x), "computed with scipy", relative=1e-12)
    assert float(skin.erf(x)) == pytest.approx(special.erf(x), rel=1e-12, abs=1e-13)


@pytest.mark.parametrize("film", [np.inf, 1000.0, 100.0])
def test_steps_are_fine_enough(film):
    """Twice and sixteen times as many steps in time: the difference falls fourfold with each doubling, from 0.1 %."""
    water = np.array([44.0, 50.0, 60.0, 70.0])
    finest = skin.seconds_to_injury(water, film=film, times=16 * skin.TIMES)
    off = [
        np.max(np.abs(skin.seconds_to_injury(water, film=film, times=count) / finest - 1)) for count in (400, 800, 1600)
    ]
    assert off[2] < 1e-3
    assert off[0] / off[1] > 2.5 and off[1] / off[2] > 2.5, off
