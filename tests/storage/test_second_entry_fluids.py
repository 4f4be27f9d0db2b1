"""Double entry of two tables that a program made: what glycol does, and what a CO2 cycle gives.

data/glycol.csv was made with CoolProp, whose figures are Melinder's (2010). They are held against Melinder's own
polynomials, typed from secondary literature, and against a correlation that another author fitted to other tables.

data/co2_cycle.csv was made with CoolProp's equation of Span and Wagner (1996). Here the whole cycle is worked out a
second time: with the short equation of Span and Wagner (2003), another form with other coefficients, and with halving
where the maker of the table goes in steps of a quarter of a kelvin.
"""

from functools import cache

import numpy as np
import pytest

from lessons_lib.physics import glycol, return_cop
from lessons_lib.storage.tables import columns

# Melinder, Properties of Secondary Working Fluids (2010), propylene glycol: sum of c (x - 30.7031)^i (t - 32.7089)^j, x in
# per cent by mass, t in degC; of the viscosity it is the logarithm in mPa s. As quoted in secondary literature.
MELINDER_CENTRE, ORDERS = (30.7031, 32.7089), (4, 4, 4, 3, 2, 1)
MELINDER = {
    "density": """1.018e3 -5.406e-1 -2.666e-3 1.347e-5   7.604e-1 -9.450e-3 5.541e-5 -1.343e-7
        -2.498e-3 2.700e-5 -4.018e-7 3.376e-9   -1.550e-4 2.829e-6 -7.175e-9   -1.131e-6 -2.221e-8   2.342e-8""",
    "heat_capacity": """3.882e3 2.699e0 -1.659e-3 -1.032e-5   -1.304e1 5.070e-2 -4.752e-5 1.522e-6
        -1.598e-1 9.534e-5 1.167e-5 -4.870e-8   3.539e-4 3.102e-5 -2.950e-7   5.000e-5 -7.135e-7   -4.959e-7""",
    "conductivity": """4.513e-1 7.955e-4 3.482e-8 -5.966e-9   -4.795e-3 -1.678e-5 8.941e-8 1.493e-10
        2.076e-5 1.563e-7 -4.615e-9 9.897e-12   -9.083e-8 -2.518e-9 6.543e-11   -5.952e-10 -3.605e-11   2.104e-11""",
    "viscosity": """6.837e-1 -3.045e-2 2.525e-4 -1.399e-6   3.328e-2 -3.984e-4 4.332e-6 -1.860e-8
        5.453e-5 -8.600e-8 -1.593e-8 -4.465e-11   -3.900e-6 1.054e-7 -1.589e-9   -1.587e-8 4.475e-10   3.564e-9""",
}


def melinder(name: str, share, celsius):
    """A property by Melinder's polynomial [SI]. share : 0 to 1 by mass"""
    numbers = iter(map(float, MELINDER[name].split()))
    x, t = 100 * share - MELINDER_CENTRE[0], celsius - MELINDER_CENTRE[1]
    value = sum(next(numbers) * x**i * t**j for i, order in enumerate(ORDERS) for j in range(order))
    return np.exp(value) / 1000 if name == "viscosity" else value


@pytest.mark.parametrize("name", MELINDER)
def test_glycol_is_melinders(name):
    """Every row to 5 in 100,000: his coefficients have four digits. The viscosity is furthest off, 4 in 100,000."""
    table = columns("glycol")
    assert table[name] == pytest.approx(melinder(name, table["share"] / 100, table["temperature"]), rel=5e-5)


# A1 + A2 Z + A3 T + A4 Z T + A5 T^2 with T = 273.15 K/temperature, Z the share by mass; of the viscosity it is the
# logarithm in Pa s. Conde, Thermophysical Properties of Brines (2011), as quoted in secondary literature.
CONDE = {
    "density": (508.41109, -182.4082, 965.76507, 280.29104, -472.2251),
    "heat_capacity": (4476.42, 608.63, -714.97, -1938.55, 478.73),
    "conductivity": (1.18886, -1.4911, -0.69682, 1.13633, 0.06735),
    "viscosity": (-1.02798, -10.03298, -19.93497, 14.65802, 14.6205),
}


@pytest.mark.parametrize(
    "name, anywhere, in_use",
    [
        ("density", 0.006, 0.004),
        ("heat_capacity", 0.036, 0.036),
        ("conductivity", 0.093, 0.093),
        ("viscosity", 0.22, 0.082),
    ],
)
def test_glycol_is_near_another_authors(name, anywhere, in_use):
    """Two fits to different measurements lie so far apart, and no further: over all rows, and up to 40 degC."""
    table = columns("glycol")
    a1, a2, a3, a4, a5 = CONDE[name]
    share, inverse = table["share"] / 100, 273.15 / (table["temperature"] + 273.15)
    said = a1 + a2 * share + a3 * inverse + a4 * share * inverse + a5 * inverse**2
    off = np.abs((np.exp(said) if name == "viscosity" else said) / table[name] - 1)
    assert off.max() < anywhere and off[table["temperature"] <= 40].max() < in_use


@pytest.mark.parametrize("name, bend", [("density", 4e-4), ("heat_capacity", 1.1e-3), ("conductivity", 1.3e-3)])
def test_glycol_between_the_rows(name, bend):
    """Straight lines leave the polynomial by its bend alone; beyond the table its ends hold."""
    for share, celsius in ((0.25, 2.5), (0.35, 42.5), (0.45, 87.5), (0.2, 33.0), (0.275, 20.0)):
        assert getattr(glycol.glycol(share, celsius), name) == pytest.approx(melinder(name, share, celsius), rel=bend)
    for given, held in (((0.1, 20.0), (0.2, 20.0)), ((0.6, 95.0), (0.5, 90.0)), ((0.3, -5.0), (0.3, 0.0))):
        assert getattr(glycol.glycol(*given), name) == pytest.approx(melinder(name, *held), rel=5e-5)


@pytest.mark.parametrize(
    "share, celsius, bend", [(0.25, 0, 0.044), (0.35, 20, 0.02), (0.45, 60, 0.02), (0.3, 32.5, 0.005)]
)
def test_viscosity_of_glycol_between_the_rows(share, celsius, bend):
    """It bends most where it is cold: half way between two shares a straight line gives up to 4.4 % too much."""
    found = glycol.glycol(share, celsius).viscosity / melinder("viscosity", share, celsius)
    assert 1.0 < found < 1 + bend


# --- a CO2 cycle, worked out again

# Span and Wagner, Int. J. Thermophysics 24 (2003) 111, the short equation for CO2: n delta^d tau^t exp(-delta^c), c = 0
# without the exponential; the ideal gas of Span and Wagner (1996). As quoted in secondary literature.
GAS, CRITICAL_T, CRITICAL_RHO, CRITICAL_P = 8314.51 / 44.0098, 304.1282, 467.6, 7.3773e6
N, D, TAU, C = np.array(
    [
        (0.89875108, 1, 0.25, 0),
        (-2.1281985, 1, 1.25, 0),
        (-0.06819032, 1, 1.5, 0),
        (0.076355306, 3, 0.25, 0),
        (0.00022053253, 7, 0.875, 0),
        (0.41541823, 1, 2.375, 1),
        (0.71335657, 2, 2.0, 1),
        (0.00030354234, 5, 2.125, 1),
        (-0.36643143, 1, 3.5, 2),
        (-0.0014407781, 1, 6.5, 2),
        (-0.089166707, 4, 4.75, 2),
        (-0.023699887, 2, 12.5, 3),
    ]
).T
WEIGHT, THETA = np.array(
    [
        (1.99427042, 3.15163),
        (0.62105248, 6.11190),
        (0.41195293, 6.77708),
        (1.04028922, 11.32384),
        (0.08327678, 27.08792),
    ]
).T


def residual(kelvin, density):
    """The residual part, its slope in density times density, and in inverse temperature times that."""
    tau, delta = CRITICAL_T / np.asarray(kelvin)[..., None], np.asarray(density)[..., None] / CRITICAL_RHO
    inside = np.where(C > 0, delta**C, 0.0)
    terms = N * delta**D * tau**TAU * np.exp(-inside)
    return terms.sum(-1), (terms * (D - C * inside)).sum(-1), (terms * TAU).sum(-1)


def pressure(kelvin, density):
    return density * GAS * kelvin * (1 + residual(kelvin, density)[1])


def enthalpy_and_entropy(kelvin, density):
    part, by_density, by_tau = residual(kelvin, density)
    tau = CRITICAL_T / np.asarray(kelvin)
    waves = np.exp(-THETA * tau[..., None])
    ideal_by_tau = 2.5 + (WEIGHT * THETA * tau[..., None] * waves / (1 - waves)).sum(-1)
    ideal = np.log(density / CRITICAL_RHO) + 2.5 * np.log(tau) + (WEIGHT * np.log(1 - waves)).sum(-1)
    return (
        GAS * kelvin * (1 + ideal_by_tau + by_tau + by_density),
        GAS * (ideal_by_tau + by_tau - ideal - part),
    )


def density(kelvin, pascal, low, high):
    """By halving between two densities of one phase."""
    low, high = np.full(np.shape(kelvin), float(low)), np.full(np.shape(kelvin), float(high))
    for _ in range(34):
        middle = (low + high) / 2
        less = pressure(kelvin, middle) < pascal
        low, high = np.where(less, middle, low), np.where(less, high, middle)
    return low


def vapour_pressure(kelvin):
    """Span and Wagner (1996), equation 3.13 (from memory)."""
    off = 1 - kelvin / CRITICAL_T
    powers = -7.0602087 * off + 1.9391218 * off**1.5 - 1.6463597 * off**2 - 3.2995634 * off**4
    return CRITICAL_P * np.exp(CRITICAL_T / kelvin * powers)


def test_the_short_equation_says_what_is_known_of_co2():
    """Critical pressure 7.3773 MPa; at 0 degC 3.485 MPa, 97.6 and 927 kg/m3, 231 kJ/kg; 629 kg/m3 at 10 MPa, 40 degC.

    Published figures from memory; the short equation is good to 1 % near the critical point, 0.2 % elsewhere.
    """
    assert pressure(np.array(CRITICAL_T), np.array(CRITICAL_RHO)) == pytest.approx(CRITICAL_P, rel=0.002)
    zero = np.array(273.15)
    boiling = vapour_pressure(zero)
    gas, liquid = density(zero, boiling, 1, 200), density(zero, boiling, 800, 1100)
    assert (boiling, gas, liquid) == pytest.approx((3.485e6, 97.6, 927.4), rel=0.002)
    latent = enthalpy_and_entropy(zero, gas)[0] - enthalpy_and_entropy(zero, liquid)[0]
    assert latent == pytest.approx(230.9e3, rel=0.005)
    # what Clausius and Clapeyron ask of the vapour pressure: slope = latent heat/(T (1/rho_gas - 1/rho_liquid))
    slope = (vapour_pressure(273.65) - vapour_pressure(272.65)) / 1.0
    assert slope == pytest.approx(latent / (zero * (1 / gas - 1 / liquid)), rel=0.005)
    assert density(np.array(313.15), 1e7, 50, 1100) == pytest.approx(628.6, rel=0.01)


@cache
def cycles():
    """The best COP of each row of the table, worked out again, and the pressure [Pa] that it is reached at."""
    table = columns("co2_cycle")
    cold, hot = table["back"] + 273.15, np.maximum(table["store"], table["back"] + 3) + 273.15
    sources, row = np.unique(table["evaporating"], return_inverse=True)
    sources = sources + 273.15
    suction, entropy = enthalpy_and_entropy(sources, density(sources, vapour_pressure(sources), 0.1, 250))
    kelvin, way = np.arange(275.0, 475.1, 0.5), np.linspace(0, 1, 61)
    water = cold[:, None] + way * (hot - cold)[:, None]
    best, at = np.zeros((2, len(cold)))
    for pascal in np.arange(75e5, 140.1e5, 2.5e5):
        heat, disorder = enthalpy_and_entropy(kelvin, density(kelvin, pascal, 50, 1100))
        work = (np.interp(entropy, disorder, heat) - suction) / 0.7
        gas = (suction + work)[row]
        low, high = np.interp(cold + 3, kelvin, heat), gas.copy()  # the gas leaves 3 K above the water at best
        for _ in range(13):
            middle = (low + high) / 2
            along = np.interp(middle[:, None] + way * (gas - middle)[:, None], heat, kelvin)
            far_enough = np.min(along - water, axis=1) >= 3
            low, high = np.where(far_enough, low, middle), np.where(far_enough, middle, high)
        found = (gas - high) / work[row]
        best, at = np.maximum(best, found), np.where(found > best, pascal, at)
    return best, at


def test_every_row_of_the_co2_cycle():
    """All 234 rows within 1.1 %, nine of ten within 0.35 %.

    The table's maker looks for the gas's way out in steps of a quarter of a kelvin, so its rows lie low by up to 0.2 %.
    The rest is what the two equations differ by beside the critical point, most at the smallest lift, from 15 to 50 degC.
    """
    off = columns("co2_cycle")["cop"] / cycles()[0] - 1
    assert len(off) == 234 and -0.011 < off.min() and off.max() < 0.002
    assert np.quantile(np.abs(off), 0.9) < 0.0035 and abs(np.median(off)) < 0.001


def test_what_the_cycle_takes_from_the_cold():
    """First law: the water gets what the cold side and the compressor give, so COP - 1 is what the cold gives, above 0.

    Colder water back, a warmer source, or a cooler store never cost anything.
    """
    table = columns("co2_cycle")["cop"].reshape(3, 6, 13)
    assert np.all(table > 1) and np.all(np.diff(table, axis=2) < 0) and np.all(np.diff(table, axis=1) > 0)
    assert np.all(np.diff(table, axis=0) <= 0)


@pytest.mark.parametrize("store, evaporating, back", [(55, -10, 7.5), (65, 10, 42.5), (60, -8, 10)])
def test_the_co2_cycle_between_its_rows(store, evaporating, back):
    """By hand: the mean of the rows around it, each by how near it is; beyond the table its ends hold."""
    table = columns("co2_cycle")["cop"].reshape(3, 6, 13)
    s, e, b = (store - 50) / 10, (evaporating + 35) / 10, (back - 5) / 5
    by_hand = sum(
        (1 - abs(s - i)) * (1 - abs(e - j)) * (1 - abs(b - k)) * table[i, j, k]
        for i in range(3)
        for j in range(6)
        for k in range(13)
        if abs(s - i) < 1 and abs(e - j) < 1 and abs(b - k) < 1
    )
    assert return_cop.co2_cycle(store, back, evaporating) == pytest.approx(by_hand, rel=1e-12)
    assert return_cop.co2_cycle(45.0, 2.0, -40.0) == table[0, 0, 0]
    assert return_cop.co2_cycle(75.0, 70.0, 20.0) == table[-1, -1, -1]


def test_a_co2_unit_by_hand():
    """0.8 of the cycle that evaporates 8 K below the air, at most 5 (teaching values, no source); Lorenz by its mean."""
    cycle = return_cop.co2_cycle(60.0, 10.0, -1.0)
    assert return_cop.co2_cop(60.0, 10.0, 7.0) == pytest.approx(0.8 * cycle) and 3 < 0.8 * cycle < 5
    assert 0.8 * return_cop.co2_cycle(50.0, 5.0, 15.0) > 5 == return_cop.co2_cop(50.0, 5.0, 23.0)
    assert return_cop.condensing_cop(40.0, 7.0, 5.0) == pytest.approx(0.45 * 323.15 / 51)
    mean = 50 / np.log(333.15 / 283.15)
    assert return_cop.lorenz(10.0, 60.0, -1.0) == pytest.approx(mean / (mean - 272.15))
