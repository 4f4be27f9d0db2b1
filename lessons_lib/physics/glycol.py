"""Propylene glycol in water between the rows of data/glycol.csv, by straight lines in share and temperature."""

import numpy as np

from ..storage.tables import columns
from .properties import Water

_table = columns("glycol")
_SHARES, _TEMPERATURES = np.unique(_table["share"]) / 100, np.unique(_table["temperature"])
_VALUES = np.array([_table[name].reshape(len(_SHARES), -1) for name in Water._fields])


def glycol(share: float, temperature: float) -> Water:
    """Gives the properties of the mixture as `properties.water` does; scalars only.

    share [-] by mass, 0.2 to 0.5, temperature [degC], 0 to 90; beyond them those of the nearest end.
    """
    across = [np.interp(temperature, _TEMPERATURES, row) for row in _VALUES.reshape(-1, len(_TEMPERATURES))]
    down = np.reshape(across, (len(_VALUES), len(_SHARES)))
    return Water(*(float(np.interp(share, _SHARES, row)) for row in down))
