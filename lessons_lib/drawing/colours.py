"""Colours of water by temperature, of the bands at the tap, and of foam and ice.

A pipe's wall has its colour in data/pipe_materials.csv.

Chosen to stay apart for colour-blind readers (blue against orange, lightness changes along the scale);
no picture relies on them alone.
"""

from functools import lru_cache

import numpy as np
from matplotlib.colors import LinearSegmentedColormap, Normalize

COLDEST, HOTTEST = 0.0, 80.0  # [degC]
WATER = LinearSegmentedColormap.from_list(
    "water by temperature",
    [(0.0, "#1f5fa8"), (0.25, "#7fb2de"), (0.5, "#f4d58a"), (0.75, "#f0913a"), (1.0, "#b8321f")],
)
_scale = Normalize(COLDEST, HOTTEST, clip=True)

FOAM, FOAM_EDGE = "#d5dbe0", "#8996a2"
ICE, ICE_EDGE = "#e6f2fb", "#2b6cb0"
GHOST = "#7a3e9d"
TANK = "#eef1f4"

BAND_COLOURS = ("#d3ecd9", "#fdf4d3", "#fbe9b0", "#f8cfa0", "#efb0a1")  # at the tap, coolest first


@lru_cache(maxsize=1000)
def water_colour(celsius: float) -> tuple:
    """Gives the colour of water at a temperature [degC]; matplotlib works one out as slowly as a whole bar of them."""
    return WATER(_scale(celsius))


def water_pixels(celsius, width: int, height: int) -> np.ndarray:
    """A bar of water, coloured by temperatures at equal distances along it [degC]: RGBA bytes (height, width, 4)."""
    places = np.linspace(0, len(celsius) - 1, width)
    row = WATER(_scale(np.interp(places, np.arange(len(celsius)), celsius)), bytes=True)
    return np.broadcast_to(row, (height, width, 4))
