"""An air-to-water heat pump as a share of Carnot, and what its loop carries and loses.

A teaching approximation, not a maker's map: one share of the ideal for all conditions, fixed temperature steps in
both heat exchangers, no defrost, no part load, no fan or pump power. All heat is given off at one temperature: the
water that comes back from the tank has no say. A transcritical CO2 unit cools its gas along the water's whole way, so
that its COP falls as that water warms: see `return_cop`.
"""

import numpy as np

from .properties import KELVIN, water

CONDENSER_STEP = 5.0  # [K] condensing above the store (PHYSICS of this workbook: teaching value, no source)
EVAPORATOR_STEP = 8.0  # [K] evaporating below the outdoor air (likewise)
SHARE_OF_CARNOT = 0.45  # [-] typical of small air-to-water units (common practice, no source)
HIGHEST = 5.0  # [-] cap: the formula has no bound where store and air come close; no small unit makes hot water better


def carnot(condensing, evaporating):
    """Ideal heating COP [-], T_cond/(T_cond - T_evap) in kelvin (Carnot 1824); inf without a lift.

    condensing, evaporating [degC]
    """
    lift = np.subtract(condensing, evaporating)
    needed = lift > 0
    return np.where(needed, np.add(condensing, KELVIN) / np.where(needed, lift, 1.0), np.inf)


def ideal(store, outdoor):
    """Carnot COP of a heat pump between its two exchangers [-]. store, outdoor [degC]"""
    return carnot(np.add(store, CONDENSER_STEP), np.subtract(outdoor, EVAPORATOR_STEP))


def cop(store, outdoor, share_of_carnot=SHARE_OF_CARNOT, highest=HIGHEST):
    """Heat given for each unit of electricity [-]: a share of Carnot, at most `highest`. store, outdoor [degC]"""
    return np.minimum(share_of_carnot * ideal(store, outdoor), highest)


def loop_flow(heat, difference, supply):
    """Volume flow [m3/s], measured at the supply temperature [degC], that carries `heat` [W] at `difference` [K].

    Q/(rho c dT), heat capacity at the middle between supply and return.
    """
    middle = water(np.subtract(supply, np.divide(difference, 2)))
    return heat / (water(supply).density * middle.heat_capacity * difference)


def stored_heat(volume, temperature, rest):
    """Heat [J] that a volume [m3] of water gives up from `temperature` to `rest` [degC]."""
    middle = water(np.add(temperature, rest) / 2)
    return volume * water(temperature).density * middle.heat_capacity * np.subtract(temperature, rest)
