"""Ice in standing water: hours to 0 degC, then an ice ring that grows inwards from the wall.

Stage 2 is the quasi-steady Stefan problem of a cylinder (London and Seban, Trans. ASME 65 (1943) 771): the latent
heat leaves through ice, wall, insulation and film. The wall's and the ice's own heat below 0 degC is left out, and
no credit is given for supercooling (Gilpin, Int. J. Heat Mass Transfer 20 (1977) 693): both on the early side.
"""

import numpy as np

from ..storage.tables import rows
from .cooling import Standing, time_to
from .line import Line
from .properties import FREEZING
from .quadrature import integral

_ICE = {row["property"]: float(row["value"]) for row in rows("ice")}
ICE_CONDUCTIVITY = _ICE["conductivity"]  # [W/(m K)]
LATENT_HEAT = _ICE["latent_heat"]  # [J/kg]
LATENT_HEAT_OF_VOLUME = _ICE["density"] * LATENT_HEAT  # [J/m3]


def ice_resistance(share):
    """Gives the resistance [m K/W] of an ice ring that fills `share` of the bore: ln(R/r)/(2 pi k) with (r/R)^2 = 1 -
    share.
    """
    return -np.log1p(-share) / (4 * np.pi * ICE_CONDUCTIVITY)


def seconds_to_zero(standing: Standing, start):
    """Seconds until standing water is at 0 degC and ice can form; inf where it settles at 0 degC or above.

    start [degC], 0 or above
    """
    return np.where(standing.line.rest() >= FREEZING, np.inf, time_to(standing, start, FREEZING))


def seconds_from_zero(line: Line, share):
    """Seconds from 0 degC until ice fills `share` (above 0, at most 1) of the bore; inf if it never freezes.

    The integral runs over v = sqrt(1 - share), in which the ice resistance's steep end is tame.
    """
    shape = np.broadcast_shapes(line.shape, np.shape(share))
    freezes = np.broadcast_to(line.loss(FREEZING)[0] > 0, shape)
    left = np.broadcast_to(np.sqrt(1 - np.asarray(share, dtype=float)), shape)

    def seconds_per_v(ahead):
        v = 1 - ahead  # from 1, no ice, down to the water that is left
        loss, _ = line.loss(FREEZING, ice_resistance(1 - v * v))
        return 2 * v / np.where(freezes, loss, 1.0)

    latent = LATENT_HEAT_OF_VOLUME * 0.25 * np.pi * line.inside_diameter**2
    return np.where(freezes, latent * integral(seconds_per_v, 1 - left), np.inf)
