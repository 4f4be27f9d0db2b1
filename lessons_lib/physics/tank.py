"""A store of hot water: mixing at its outlet, what it loses and regains, and what its water does when it grows.

All arguments broadcast. Temperatures [degC], pressures [Pa] absolute unless a name says otherwise.
"""

import numpy as np

from ..storage.tables import columns
from .properties import water

ATMOSPHERE = 101_325.0  # [Pa]
_COMPRESSIBILITY = columns("water_compressibility")


def hot_share(hot, cold, mixed):
    """Share of hot water in a mixture [-], (mixed - cold)/(hot - cold).

    Equal heat capacities: exact mixing of enthalpies differs by less than 0.3 K.
    """
    return (mixed - cold) / (hot - cold)


def heat_to_warm(volume, start, end):
    """Heat that takes a volume [m3], full at `start`, to `end` [J]; heat capacity at the middle of the way."""
    return (
        volume * water(start).density * water((np.asarray(start) + end) / 2).heat_capacity * (end - np.asarray(start))
    )


def recovery(power, cold, rise):
    """Volume flow [m3/s], measured cold, that a power [W] warms by `rise` [K]."""
    return power / heat_to_warm(1.0, cold, np.asarray(cold) + rise)


def reheat_time(heat, power):
    """Seconds for a power [W], losses taken off, to give `heat` [J]: 0 if none is needed, inf without power."""
    enough = np.asarray(power) > 0
    seconds = np.where(enough, heat / np.where(enough, power, 1.0), np.inf)
    return np.where(np.asarray(heat) <= 0, 0.0, seconds)


def growth_of_water(cold, hot):
    """Gives by how much of its volume water grows from `cold` to `hot` [-]: rho_cold/rho_hot - 1; least volume at 4
    degC.
    """
    return water(cold).density / water(hot).density - 1


def vessel_volume(expanded, precharge, cold, highest):
    """Volume of an expansion vessel [m3] whose air takes up `expanded` [m3] between two pressures.

    Boyle: the air fills the vessel at `precharge` with the water side at zero, V p0/p at the pressure p. What it
    gives up between `cold` and `highest` is what the water grows by: V = expanded/(p0/cold - p0/highest).
    """
    return expanded / (precharge / cold - precharge / highest)


def vessel_pressure(volume, expanded, precharge, cold):
    """Pressure [Pa] once a vessel of `volume` [m3] has taken up `expanded` [m3]; inf where no air is left."""
    air = volume * precharge / cold - expanded
    left = air > 0
    return np.where(left, volume * precharge / np.where(left, air, 1.0), np.inf)


def compressibility(temperature):
    """Isothermal compressibility of water at 300 kPa [1/Pa]; straight lines between rows 10 K apart."""
    return np.interp(temperature, _COMPRESSIBILITY["temperature"], _COMPRESSIBILITY["compressibility"])


def give_of_pipe(inside, outside, elastic_modulus, poisson):
    """Gives by how much of its volume a closed pipe, free to lengthen, grows for each pascal inside [1/Pa].

    inside, outside [m], elastic_modulus [Pa], poisson [-]
    Lame's thick wall with closed ends (Timoshenko, Strength of Materials; from memory): with k = outside/inside,
    (3(1 - 2 nu) + 2(1 + nu) k^2)/(E (k^2 - 1)). Thin wall: d/(E t) (5/4 - nu).
    """
    square = (outside / inside) ** 2
    return (3 * (1 - 2 * poisson) + 2 * (1 + poisson) * square) / (elastic_modulus * (square - 1))


def trapped_rise(start, rise, pressure, give=0.0, growth=0.0, air=0.0):
    """Pressure rise [Pa] of water trapped between two shut valves and warmed by `rise` [K].

    start [degC], pressure at the start [Pa]
    give : of what encloses the water [1/Pa], growth : its lengthening [1/K]; both 0 is a rigid vessel
    air : share of the volume that is air at the start, which is squeezed at constant temperature (Boyle) [-]
    The water's growth beyond the vessel's goes into squeezing water, wall and air:
    g = c x + a x/(p + x), a quadratic in the rise x. 0 where the vessel grows more than the water.
    """
    end = np.asarray(start) + rise
    excess = np.maximum(growth_of_water(start, end) - 3 * growth * np.asarray(rise), 0.0)
    yielding = compressibility(end) + give
    half = (yielding * pressure - excess + air) / 2
    return (np.sqrt(half**2 + yielding * excess * pressure) - half) / yielding
