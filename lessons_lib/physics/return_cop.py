"""COP of three kinds of heat pump against the water that comes back: condensing with water or glycol, and CO2.

A unit that condenses gives its heat at one temperature, a little above the water that it sends out. A transcritical CO2
unit cools its gas along the water's way (Lorenz 1895: the ideal between a glide and one temperature), so what counts is
how cold the water comes back. Teaching figures, not a maker's map: see `heat_pump`.
"""

import numpy as np

from ..storage.tables import columns
from .heat_pump import CONDENSER_STEP, EVAPORATOR_STEP, HIGHEST, SHARE_OF_CARNOT, carnot
from .properties import KELVIN

SECOND_EXCHANGER_STEP = 5.0  # [K] that a double-wall exchanger adds (teaching value, no source)
SHARE_OF_CYCLE = 0.8  # [-] of the CO2 cycle's COP: motor, fan, bends (teaching value, no source)
_table = columns("co2_cycle")
_AXES = [np.unique(_table[name]) for name in ("store", "evaporating", "back")]
_COPS = _table["cop"].reshape([len(axis) for axis in _AXES])


def condensing_cop(out, outdoor, extra=0.0):
    """COP of a unit whose refrigerant condenses above the water that it sends out [-], at most HIGHEST.

    out, outdoor [degC]; extra [K] : step of a second exchanger; broadcast
    """
    ideal = carnot(np.add(out, CONDENSER_STEP + extra), np.subtract(outdoor, EVAPORATOR_STEP))
    return np.minimum(SHARE_OF_CARNOT * ideal, HIGHEST)


def co2_cycle(store: float, back, evaporating: float):
    """COP of the CO2 cycle alone [-] that heats water from `back` to `store`: no motor, no fan.

    store, evaporating [degC] scalars, back [degC] a scalar or an array. Straight lines between the rows of
    data/co2_cycle.csv, whose ends hold beyond them.
    """
    table = _COPS
    for axis, value in zip(_AXES, (store, evaporating)):
        place = np.interp(value, axis, np.arange(len(axis)))
        below = min(int(place), len(axis) - 2)
        table = table[below] + (place - below) * (table[below + 1] - table[below])
    return np.interp(back, _AXES[2], table)


def co2_cop(store: float, back, outdoor: float):
    """COP of a one-pass CO2 unit [-], at most HIGHEST. Arguments as in `co2_cycle`, outdoor [degC] the air."""
    return np.minimum(SHARE_OF_CYCLE * co2_cycle(store, back, outdoor - EVAPORATOR_STEP), HIGHEST)


def lorenz(back, store, evaporating):
    """Ideal COP of heating water from `back` to `store` against one cold temperature [-]; all [degC].

    T_m/(T_m - T_cold) with the logarithmic mean of the water's two temperatures in kelvin (Lorenz 1895).
    """
    low, high = np.add(back, KELVIN), np.add(store, KELVIN)
    mean = (high - low) / np.log(high / low)
    return mean / (mean - np.add(evaporating, KELVIN))
