"""Why the time to burn falls so steeply: heat conducted into skin. Beside the published table, never instead of it."""

from dataclasses import dataclass

import numpy as np

from ..physics import skin as physics
from ..quantities.results import Printed
from ..quantities.units import Q_, Domain, Quantity, broadcast, quantity, to_base
from .scald import CAUTION as BURN_CAUTION
from .scald import time_to_burn

INJURY_WATER = Domain("water temperature", "degC", 44, 70, 'Q_(55, "degC")')
BATH_WATER = Domain("water temperature", "degC", 0, 99, 'Q_(55, "degC")')
SKIN_DEPTH = Domain("depth in the skin", "m", 0, 0.02, 'Q_(0.08, "mm")')
EXPOSURE = Domain("time in the water", "s", 0, 1e5, 'Q_(10, "s")', above_low=True)
FILM = Domain("film", "W/(m**2*K)", 10, 1e5, 'Q_(1000, "W/(m**2*K)")')

CAUTION = (
    "A model to show why the curve is so steep, beside the published table and never instead of it. How the water"
    " touches the skin decides: with a film the model gives up to several times longer, which protects nobody; it has"
    " been held against experiments from 47 to 60 °C only, and above that it runs early. " + BURN_CAUTION
)


@dataclass(frozen=True, repr=False, eq=False)
class SkinInjury(Printed):
    """Model and table side by side, for adults.

    surface_held : time to injury if the skin's surface takes the water's temperature at once [s]
    with_film : time to injury through a surface film [s]
    film : its coefficient [W/(m2 K)]
    table, bound : the shortest published time [s] and whether it is "at", "longer than" or "shorter than"
    """

    surface_held: Quantity
    with_film: Quantity
    film: Quantity
    table: object
    bound: str | np.ndarray
    caution: str = CAUTION


def skin_injury(water, film=Q_(physics.FILM, "W/(m**2*K)")) -> SkinInjury:
    """Time until the damage integral of the skin's basal layer reaches 1, the mark of a partial-thickness burn.

    water : 44 to 70 degC, scalar or array; cooler than 44 degC no experiment went
    film : coefficient of the film between water and skin
    Skin and constants: data/skin.csv (Henriques 1947; Ye and De 2017). Within a factor of 2 of the partial-thickness
    times of Moritz and Henriques (1947) from 47 to 60 degC with the surface held. Raises InputError.
    """
    temperature, coefficient = to_base(water, INJURY_WATER), to_base(film, FILM)
    broadcast(water=temperature, film=coefficient)
    published = time_to_burn(water)
    return SkinInjury(
        surface_held=quantity(physics.seconds_to_injury(temperature), "s"),
        with_film=quantity(physics.seconds_to_injury(temperature, film=coefficient), "s"),
        film=quantity(coefficient, "W/(m**2*K)"),
        table=published.seconds,
        bound=published.bound,
    )


def skin_temperature(water, depth, time, film=None):
    """Temperature in the skin under water [degC], for a picture: without blood flow.

    water : temperature; depth : below the surface; time : since the water came
    film : coefficient of the film between water and skin; None: the surface takes the water's temperature at once
    """
    warm, below, seconds = to_base(water, BATH_WATER), to_base(depth, SKIN_DEPTH), to_base(time, EXPOSURE)
    coefficient = np.inf if film is None else to_base(film, FILM)
    broadcast(water=warm, depth=below, time=seconds, film=coefficient)
    skin = physics.SKIN
    if film is None:
        return quantity(physics.held_surface(below, seconds, skin.diffusivity, skin.start, warm), "degC")
    return quantity(
        physics.film_surface(below, seconds, skin.diffusivity, skin.start, warm, skin.conductivity, coefficient), "degC"
    )
