"""Moist air at a cold coil: how much of its water condenses or freezes there, and what melting that ice takes.

Pressures in Pa, temperatures in degC, humidity ratios in kg of water for each kg of dry air; all broadcast.
"""

import numpy as np

from .freezing import LATENT_HEAT as MELTING
from .properties import FREEZING, KELVIN

ATMOSPHERE = 101_325.0  # [Pa]
MASS_RATIO = 0.621945  # [-] of water's molar mass over dry air's (ASHRAE Handbook, Fundamentals, from memory)
AIR_HEAT, VAPOUR_HEAT, ICE_HEAT = 1006.0, 1860.0, 2100.0  # [J/(kg K)] likewise; ice about -10 degC
EVAPORATION = 2.501e6  # [J/kg] at 0 degC (likewise)
SUBLIMATION = EVAPORATION + MELTING  # [J/kg]
# Hyland and Wexler (1983), as in ASHRAE Handbook, Fundamentals, psychrometrics, equations 5 and 6 (from memory).
OVER_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
OVER_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def saturation_pressure(temperature):
    """Pressure of saturated vapour over ice below 0 degC and over water from there on [Pa]; -60 to 60 degC.

    Hyland and Wexler (1983). The humidity of a weather report counts over water also in frost: 100 % there is 110 %
    over ice at -10 degC.
    """
    kelvin = np.add(temperature, KELVIN)
    pressures = [_fitted(kelvin, terms) for terms in (OVER_ICE, OVER_WATER)]
    return np.where(np.less(temperature, FREEZING), *pressures)


def _fitted(kelvin, terms):
    """Gives the exponential of a/T + b + c T + ... + g ln T."""
    inverse, *powers, log = terms
    return np.exp(inverse / kelvin + np.polyval(powers[::-1], kelvin) + log * np.log(kelvin))


def humidity_ratio(temperature, humidity):
    """Water in the air [kg/kg of dry air] at a relative humidity [-]; ideal gases at sea level, 0.5 % low."""
    vapour = humidity * saturation_pressure(temperature)
    return MASS_RATIO * vapour / (ATMOSPHERE - vapour)


def condensed(air, humidity, surface):
    """Water that air gives to a colder wet or frosted surface, and the share of its heat that comes with it.

    air, surface : temperatures; humidity [-]. Gives kg for each joule of all heat, and the latent share [-]; both 0
    where the surface is above the dew point. Heat and vapour go side by side: Lewis relation, the straight line from
    the air's state towards saturation at the surface (Threlkeld 1970, as quoted in secondary literature).
    """
    wetter = np.maximum(humidity_ratio(air, humidity) - humidity_ratio(surface, 1.0), 0.0)
    each = np.where(np.less(surface, FREEZING), SUBLIMATION, EVAPORATION)
    dry = (AIR_HEAT + VAPOUR_HEAT * humidity_ratio(air, humidity)) * np.subtract(air, surface)
    whole = dry + each * wetter
    return wetter / whole, each * wetter / whole


def melting_heat(mass, surface):
    """Heat that warms ice from the surface's temperature to 0 degC and melts it [J]. mass [kg]"""
    return mass * (MELTING + ICE_HEAT * np.maximum(FREEZING - np.asarray(surface), 0.0))
