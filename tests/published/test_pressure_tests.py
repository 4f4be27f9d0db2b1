"""Topic 20: what the gauge of a pressure test does for the water's temperature, for a leak, and the rules of such tests.

The slope of a gauge is held against IAPWS-95 in a wall worked out anew from Lame's strains: 2.5 kPa a degree in metal,
whose slope goes through zero near 8 degC and to 450 kPa at 30, and 0.5 kPa in plastic, whose slopes are a tenth of that.
Two per cent where only water counts and a whole degree is taken at once. A leak's first second 1 %. Rules come back as printed. Energies are formulas: 0.1 %.
"""

import pytest
from iapws import IAPWS95

from lessons_lib import Q_, Pipe
from lessons_lib.physics import pressure_test as physics
from lessons_lib.plant.pressure_test import AIR, pressure_test, rules

STILL = Q_(0, "delta_degC")
IAPWS = "IAPWS-95 by the library iapws"
# family, size, outside and bore [mm], modulus [Pa], Poisson, growth [1/K], tolerance [kPa]
TUBES = [
    ("copper EN 1057", "15 mm", 15, 13, 117e9, 0.34, 16.8e-6, 2.5),
    ("copper EN 1057", "22 mm", 22, 20, 117e9, 0.34, 16.8e-6, 2.5),
    ("copper L", "1/2 in", 15.875, 13.843, 117e9, 0.34, 16.8e-6, 2.5),
    ("PEX CTS", "1/2 in", 15.875, 12.065, 0.6e9, 0.46, 150e-6, 0.5),
    ("CPVC CTS", "1/2 in", 15.875, 12.42, 2.9e9, 0.38, 63e-6, 0.5),
    ("PEX ISO 15875", "16 mm", 16, 11.6, 0.6e9, 0.46, 150e-6, 0.5),
]
DEGREES = (6, 10, 15, 20, 25, 30)


def slope(family, size, celsius, air=0.0, gauge=Q_(600, "kPa")):
    """What one degree more does to the gauge [kPa]."""
    found = pressure_test(
        Pipe.nominal(family, size), Q_(20, "m"), gauge, Q_(celsius, "degC"), STILL, Q_(1, "min"), Q_(0, "mL/min"), air
    )
    return found.per_degree.to("kPa").magnitude


def water(celsius):
    """Expansion [1/K] and compressibility [1/Pa] of water at 7 bar."""
    state = IAPWS95(T=celsius + 273.15, P=0.7)
    return state.alfav, 1e-6 * state.kappa


def lame(outside, bore, modulus, poisson) -> float:
    """Share by which a closed tube grows for each pascal, from Lame's hoop and axial strain at its bore."""
    square = (outside / bore) ** 2
    along, hoop = 1 / (square - 1), (square + 1) / (square - 1)
    return (2 * (hoop - poisson * (along - 1)) + along - poisson * (hoop - 1)) / modulus


@pytest.mark.parametrize("celsius", DEGREES)
@pytest.mark.parametrize("family, size, outside, bore, modulus, poisson, growth, tolerance", TUBES)
def test_slope(agree, family, size, outside, bore, modulus, poisson, growth, tolerance, celsius):
    expands, squeezes = water(celsius)
    published = (expands - 3 * growth) / (squeezes + lame(outside, bore, modulus, poisson)) / 1000
    source = f"{IAPWS}, in Lame's thick wall worked out from hoop and axial strain (Timoshenko, from memory)"
    agree(slope(family, size, celsius), published, source, absolute=tolerance)


@pytest.mark.parametrize("celsius", [20, 30, 40])
def test_slope_in_a_rigid_wall(agree, celsius):
    """Water of constant volume, one degree warmer, by the equation of state itself."""
    first = IAPWS95(T=celsius + 273.15, P=0.7)
    published = IAPWS95(T=celsius + 1 + 273.15, rho=first.rho).P - first.P
    found = physics.closed_pressure(celsius, celsius + 1, 7e5) - 7e5
    agree(found / 1e6, published, f"{IAPWS}, at constant volume", relative=0.02)


def test_the_rule_of_thumb_for_water_shut_in(agree):
    found = physics.closed_pressure(20, 21, 7e5) - 7e5
    agree(
        found / 1e5, 4.6, "about 4.6 bar for each degree at 20 degC, textbook of hydraulics, from memory", relative=0.05
    )


@pytest.mark.parametrize("celsius", [5, 15, 25])
def test_air_follows_its_absolute_temperature(agree, celsius):
    """Gay-Lussac: 1/273 of the absolute pressure for each degree from 0 degC, less what the wall gives."""
    published = (345 + 101.325) / (celsius + 273.15)
    agree(slope("copper L", "1/2 in", celsius, 1.0, Q_(345, "kPa")), published, "Gay-Lussac's law", relative=0.02)


LEAKS = [
    ("copper L", "1/2 in", 13.843, 0.5),
    ("copper EN 1057", "15 mm", 13, 0.1),
    ("copper EN 1057", "22 mm", 20, 0.2),
]


@pytest.mark.parametrize("family, size, bore, millilitres", LEAKS)
def test_what_a_leak_takes_from_the_gauge_at_first(agree, family, size, bore, millilitres):
    """Volume lost by what water and thin wall give for each pascal, in the first seconds."""
    outside = {"1/2 in": 15.875, "15 mm": 15, "22 mm": 22}[size]
    pressure, seconds = Q_(600, "kPa"), 1
    found = pressure_test(
        Pipe.nominal(family, size), Q_(20, "m"), pressure, Q_(20, "degC"), STILL, Q_(seconds, "s"),
        Q_(millilitres, "mL/min"),
    )  # fmt: skip
    content = 3.14159265 / 4 * bore**2 * 20 * 1e-6
    yielding = water(20)[1] + lame(outside, bore, 117e9, 0.34)
    published = millilitres * 1e-6 / 60 * seconds / content / yielding / 1000
    source = f"volume balance with the compressibility of {IAPWS}"
    agree(600 - found.gauge.magnitude[-1], published, source, relative=0.01)


ENERGIES = [(1.0, 345), (3.0, 345), (2.0, 690)]


@pytest.mark.parametrize("litres, kilopascals", ENERGIES)
def test_energy_of_air(agree, litres, kilopascals):
    """ASME PCC-2: E = 2.5 p V (1 - (p0/p)^0.286), all pressures absolute."""
    absolute = 1000 * kilopascals + 101_325
    published = 2.5 * absolute * litres / 1000 * (1 - (101_325 / absolute) ** 0.286)
    source = "ASME PCC-2, article 501, stored energy, from memory"
    agree(physics.air_energy(litres / 1000, absolute), published, source, relative=1e-3)


RULES = [
    ("IPC 312.5, UPC 609.4", 600, (15, 15), "International Plumbing Code 312.5, as quoted in secondary literature"),
    ("EN 806-4", 660, (10, 60), "EN 806-4 (2010), 6.1, from memory"),
    ("Water Regulations guide", 900, (60, 60), "Water Regulations guide, paragraph 12, from memory"),
]


@pytest.mark.parametrize("name, kilopascals, minutes, source", RULES)
def test_rules_as_printed(agree, name, kilopascals, minutes, source):
    (rule,) = [one for one in rules() if one.name == name]
    agree(rule.pressure(Q_(600, "kPa")).magnitude, kilopascals, source, relative=1e-6)
    for found, published in zip(rule.minutes, minutes):
        agree(found, published, source, relative=1e-6)


def test_air_test_of_metal(agree):
    rule = rules()[0]
    agree(
        rule.pressure(Q_(600, "kPa"), AIR).to("psi").magnitude,
        50,
        f"{RULES[0][3]}: not less than 50 psi",
        absolute=0.05,
    )
