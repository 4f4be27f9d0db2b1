"""Topic 20: pump and loop, moist air at a cold coil, glycol, CO2 units, and a tank in layers.

Saturation against printed table values 0.1 %, against a reference library 0.1 %, which is what real gas leaves. Humidity
ratios 0.6 %: ideal gases here, real moist air there. Operating points 1 %: Churchill's friction against Colebrook's.
Glycol 1.5 % in density and heat capacity, for printed tables are of inhibited glycol; freezing and pumping are the
maker's. What follows from geometry is exact, but for the layers' own grain. CO2 units that were measured:
test_measured_series.py.
"""

import fluids
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI
from scipy.optimize import brentq

from lessons_lib.physics import layers, moist_air, pump, return_cop
from lessons_lib.physics.glycol import glycol
from lessons_lib.physics.pressure import loss_per_metre
from lessons_lib.physics.properties import water

TABLE = "ASHRAE Handbook, Fundamentals, properties of water at saturation, from memory"


@pytest.mark.parametrize(
    "celsius, pascals",
    [(-40, 12.85), (-30, 38.02), (-20, 103.24), (-10, 259.87), (10, 1228.0), (20, 2338.8), (30, 4246.0), (40, 7383.5)],
)
def test_saturation_pressure(agree, celsius, pascals):
    agree(moist_air.saturation_pressure(float(celsius)), pascals, TABLE, relative=1e-3)


@pytest.mark.parametrize("celsius", [5, 15, 25, 35, 45])
def test_saturation_over_water_is_the_steam_tables(agree, celsius):
    """IAPWS-95 by another library; the 1983 fit is 0.02 % off."""
    agree(
        moist_air.saturation_pressure(float(celsius)),
        PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water"),
        "IAPWS R6-95, computed with CoolProp",
        relative=1e-3,
    )


@pytest.mark.parametrize("celsius", [-30, -15, -10, -5, -1, 2, 10, 20])
@pytest.mark.parametrize("humidity", [0.5, 0.9])
def test_humidity_ratio(agree, celsius, humidity):
    real = HAPropsSI("W", "T", celsius + 273.15, "P", 101325, "R", humidity)
    agree(moist_air.humidity_ratio(float(celsius), humidity), real, "moist air, computed with CoolProp", relative=6e-3)


@pytest.mark.parametrize(
    "air, humidity, share",
    [(2, 0.90, 0.366), (7, 0.87, 0.402), (-5, 0.85, 0.236), (-15, 0.8, 0.106)],
)
def test_latent_share_by_enthalpies(agree, air, humidity, share):
    """What the air's enthalpy loses on the straight line to saturation at the coil, water's own enthalpy left out.

    Sums on paper with ASHRAE's formulas, then the library's enthalpies: 3 %, for one latent heat serves all.
    """
    surface = air - 8.0
    ends = [(air + 273.15, humidity), (surface + 273.15, 1.0)]
    (heat, wet), (cold_heat, cold_wet) = (
        tuple(HAPropsSI(name, "T", kelvin, "P", 101325, "R", relative) for name in ("H", "W"))
        for kelvin, relative in ends
    )
    ice = -333.4e3 + 2.05e3 * surface if surface < 0 else 4.2e3 * surface
    whole = heat - cold_heat - (wet - cold_wet) * ice
    each = (2.501e6 + 1860 * surface) - ice
    expected = (wet - cold_wet) * each / whole
    found = float(moist_air.condensed(float(air), humidity, surface)[1])
    agree(found, expected, "enthalpies of moist air, computed with CoolProp", relative=0.03)
    agree(found, share, "ASHRAE's formulas, computed by hand", absolute=0.002)


def test_ice_takes_what_it_gave_and_more(agree):
    """Ice at -6 degC: 2.1 kJ/(kg K) and 333.4 kJ/kg, a kilogram for 346 kJ."""
    agree(moist_air.melting_heat(1.0, -6.0), 346_030.0, "2100 x 6 + 333 430, computed by hand", relative=1e-9)


@pytest.mark.parametrize("metres", [5, 8, 20, 40])
@pytest.mark.parametrize("bore", [0.0123, 0.0168, 0.022])
def test_operating_point(agree, metres, bore):
    """Colebrook's friction and another root finder, for turbulent flow; a pump of 40 kPa and 20 L/min."""
    fluid = water(40.0)
    rough, rated, most = 7e-6, 15 / 60_000, 20 / 60_000

    def takes(flow):
        return 2 * metres * loss_per_metre(flow, bore, rough, fluid) + pump.exchanger_loss(flow, 15e3, rated)

    def other(flow):
        speed = flow / (np.pi / 4 * bore**2)
        reynolds = float(fluid.density) * speed * bore / float(fluid.viscosity)
        factor = fluids.friction_factor(Re=reynolds, eD=rough / bore, Method="Colebrook")
        friction = factor * 2 * metres / bore * 0.5 * float(fluid.density) * speed**2
        return friction + 15e3 * (flow / rated) ** 1.75 - 40e3 * (1 - (flow / most) ** 2)

    found = pump.operating_flow(takes, 40e3, most)
    agree(found, brentq(other, 1e-6, most), "Colebrook, computed with fluids and scipy", relative=0.01)


def test_operating_point_by_hand(agree):
    """A quadratic pump against an exchanger alone that also goes with the square: both parabolas meet at a root.

    40 (1 - (Q/20)^2) = 15 (Q/15)^2, so Q^2 = 40/(0.1 + 0.066667) = 240 and Q = 15.492 L/min.
    """
    found = pump.operating_flow(lambda flow: pump.exchanger_loss(flow, 15e3, 15 / 60_000, 2.0), 40e3, 20 / 60_000)
    agree(found * 60_000, 15.4919, "two parabolas, computed by hand", relative=1e-5)


def test_a_strainer_that_is_half_shut_takes_four_times(agree):
    clean, half = (float(pump.strainer_loss(1e-4, share)) for share in (0.0, 0.5))
    agree(half / clean, 4.0, "speed in the openings, squared (orifice law)", relative=1e-9)


GLYCOL = "a cooling unit's table of propylene glycol by share, as quoted in secondary literature"


@pytest.mark.parametrize(
    "share, celsius, density, heat_capacity",
    [
        (0.2, 0, 1025.8, 3930),
        (0.2, 20, 1019.0, 3970),
        (0.2, 40, 1010.2, 4020),
        (0.3, 0, 1036.2, 3790),
        (0.3, 20, 1028.4, 3850),
        (0.3, 40, 1018.4, 3900),
        (0.4, 0, 1045.1, 3640),
        (0.4, 20, 1036.2, 3700),
        (0.4, 40, 1025.3, 3770),
    ],
)
def test_glycol(agree, share, celsius, density, heat_capacity):
    found = glycol(share, float(celsius))
    agree(found.density, density, GLYCOL, relative=0.015)
    agree(found.heat_capacity, heat_capacity, GLYCOL, relative=0.015)


def test_a_third_of_glycol_carries_a_twentieth_less(agree):
    """Volumetric heat of 30 % at 20 degC: 1028.4 x 3.85 against 998.2 x 4.184 kJ/(m3 K)."""
    mixed, plain = glycol(0.3, 20.0), water(20.0)
    ratio = mixed.density * mixed.heat_capacity / float(plain.density * plain.heat_capacity)
    agree(ratio, 1028.4 * 3.85 / (998.2 * 4.184), GLYCOL, relative=0.01)


@pytest.mark.parametrize("share, times", [(0.2, 1.17), (0.3, 1.31), (0.4, 1.45)])
def test_glycol_takes_more_pressure(agree, share, times):
    """Factors of a cooling unit's sheet, which names no temperature: cold service, 10 degC, at one flow. 10 %."""
    mixed, plain = (
        float(loss_per_metre(20 / 60_000, 0.0232, 7e-6, fluid)) for fluid in (glycol(share, 10.0), water(10.0))
    )
    agree(mixed / plain, times, "a cooling unit's sheet, as quoted in secondary literature", relative=0.1)


@pytest.mark.parametrize("store", [50.0, 60.0, 70.0])
@pytest.mark.parametrize("back, evaporating", [(5.0, -15.0), (25.0, -5.0), (45.0, 5.0)])
def test_no_cycle_beats_lorenz(agree, store, back, evaporating):
    """T_m/(T_m - T_cold) with the logarithmic mean, computed by hand; the cycle is 30 to 75 % of it."""
    low, high, cold = (value + 273.15 for value in (back, store, evaporating))
    mean = (high - low) / np.log(high / low)
    ideal = mean / (mean - cold)
    agree(return_cop.lorenz(back, store, evaporating), ideal, "Lorenz 1895, computed by hand", relative=1e-9)
    assert 0.30 < return_cop.co2_cycle(store, back, evaporating) / ideal < 0.75


@pytest.mark.parametrize("filled", [0.25, 0.5, 0.75, 1.0])
def test_usable_water_of_a_layered_tank(agree, filled):
    """Share of the tank times (store - cold)/(wanted - cold): the heat over what a litre needs."""
    one = layers.filling(10.0, 60.0, 50.0, layers.TOP)
    now = one.layers[int(round(filled * layers.LAYERS))]
    agree(float(layers.usable(now, 10.0, 40.0)), filled * 50 / 30, "a balance of heat, by hand", relative=1e-9)


@pytest.mark.parametrize("litres", [0.5, 1.0, 2.0])
def test_a_mixed_tank_warms_by_the_exponential_law(agree, litres):
    """Hot water into the bottom port, out at the bottom: 1 - exp(-v/V) of the rise; 2 % for 20 steps a tank."""
    one = layers.filling(10.0, 60.0, 50.0, layers.BOTTOM)
    now = one.share[int(round(litres * layers.LAYERS))]
    agree(now, 1 - np.exp(-litres), "a stirred tank, by hand", relative=0.03)
