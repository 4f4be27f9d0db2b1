"""A tank as equal layers of water while a heat pump fills it: which port the hot water enters, what stays usable."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

LAYERS = 20
TOP, MIDDLE, BOTTOM = 0, LAYERS // 2, LAYERS - 1  # ports, as layers counted from the top


class Filling(NamedTuple):
    """A tank on its way from cold to full, one row for each layer of water that went round."""

    layers: np.ndarray  # [degC], shape (steps + 1, LAYERS), the top first
    back: np.ndarray  # [degC], shape (steps,), of the water that the heat pump took from the bottom
    share: np.ndarray  # [-], shape (steps + 1,), of the heat of a full tank


@lru_cache(maxsize=200)
def filling(cold: float, store: float, rise: float, port: int) -> Filling:
    """Fills a tank layer by layer until its bottom is at the store's temperature.

    cold, store [degC]; rise [K] across the unit, at most up to the store; as large as store - cold: one pass.
    port : layer that the warm water enters. Water leaves at the bottom. Warm water that enters beneath cooler water
    rises and mixes with all above it; nothing else mixes, no heat is conducted and none is lost.
    """
    water, rows, back = np.full(LAYERS, float(cold)), [], []
    rows.append(water)
    for _ in range(200 * LAYERS):
        bottom = water[-1]
        if bottom > store - 0.01 * (store - cold):
            break
        water = np.concatenate([water[:port], [min(bottom + rise, store)], water[port:-1]])
        if port and water[port] > water[port - 1]:
            water[: port + 1] = water[: port + 1].mean()
        rows.append(water)
        back.append(bottom)
    layers = np.array(rows)
    return Filling(layers, np.array(back), (layers.mean(axis=1) - cold) / (store - cold))


def usable(layers, cold, wanted):
    """Water at `wanted` that a tank gives before its outlet falls below that, as a share of the tank's volume [-].

    layers [degC] from the top, drawn from the top without mixing; each litre is blended with cold [degC].
    """
    hot = np.where(np.greater_equal(layers, wanted), np.subtract(layers, cold), 0.0)
    return np.mean(hot, axis=-1) / (wanted - cold)
