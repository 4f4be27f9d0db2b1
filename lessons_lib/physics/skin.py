"""Hot water on skin: heat conducted inwards, and the injury that it adds up to.

The skin is one half-space with one set of properties (data/skin.csv), without blood flow. It explains why the time to
burn falls so steeply; it does not replace the published table (scald.py), which is what people were burned by.
"""

from typing import NamedTuple

import numpy as np

from ..storage.tables import rows
from .properties import KELVIN

TERMS = 32  # of the rational approximation of erfcx; a wrong digit in the 13th place
EARLIEST, LATEST, TIMES = 1e-3, 1e8, 1600  # [s], [s], steps in the logarithm of time


class Skin(NamedTuple):
    """Holds what lies between the water and the basal layer."""

    depth: float  # [m] of the basal layer
    conductivity: float  # [W/(m K)]
    density_heat: float  # [J/(m3 K)] density times heat capacity
    start: float  # [degC] before the water comes

    @property
    def diffusivity(self):
        return self.conductivity / self.density_heat


class Damage(NamedTuple):
    """The two constants of the damage integral: a pair, fitted together; neither goes with another's partner."""

    rate: float  # [1/s]
    temperature: float  # [K] activation energy over gas constant


_values = {row["property"]: float(row["value"]) for row in rows("skin")}
SKIN = Skin(_values["depth"], _values["conductivity"], _values["density_heat"], _values["start"])
HENRIQUES = Damage(_values["damage_rate"], _values["damage_temperature"])
FILM = _values["film"]  # [W/(m2 K)]
INJURY = 1.0  # damage integral of a partial-thickness burn (Henriques 1947; 0.53 reddens, 1e4 is full thickness)


def _rational(terms: int) -> tuple[float, np.ndarray]:
    """Scale and coefficients of Weideman's expansion, from the trapezoid rule over a half circle."""
    scale = np.sqrt(terms / np.sqrt(2))
    angle = np.pi * np.arange(1 - 2 * terms, 2 * terms) / (2 * terms)
    squared = (scale * np.tan(angle / 2)) ** 2
    weight = np.exp(-squared) * (scale**2 + squared)
    order = np.arange(1, terms + 1)
    return scale, np.cos(np.multiply.outer(order, angle)) @ weight / (4 * terms)


_SCALE, _COEFFICIENTS = _rational(TERMS)


def erfcx(x):
    """Gives exp(x^2) erfc(x) for x >= 0. Weideman, SIAM J. Numer. Anal. 31 (1994) 1497, on the imaginary axis."""
    below = _SCALE + np.asarray(x, dtype=float)
    series = np.polynomial.polynomial.polyval((2 * _SCALE - below) / below, _COEFFICIENTS)
    return 2 * series / below**2 + 1 / (np.sqrt(np.pi) * below)


def erf(x):
    """Error function for x >= 0."""
    return 1 - np.exp(-np.square(x)) * erfcx(x)


def held_surface(depth, time, diffusivity, start, surface):
    """Temperature in a half-space whose surface is held at `surface` from time 0 on [degC].

    T = T_s + (T_0 - T_s) erf(x/(2 sqrt(a t))) (Carslaw and Jaeger 1959, section 2.4)
    depth [m], time above 0 [s], diffusivity [m2/s], start, surface [degC]
    """
    return surface + (np.subtract(start, surface)) * erf(depth / (2 * np.sqrt(np.multiply(diffusivity, time))))


def film_surface(depth, time, diffusivity, start, fluid, conductivity, film):
    """Temperature in a half-space under a fluid with a surface film [degC].

    (T - T_0)/(T_f - T_0) = erfc(x) - exp(h d/k + h^2 a t/k^2) erfc(x + h sqrt(a t)/k), x = d/(2 sqrt(a t))
    (Carslaw and Jaeger 1959, section 2.7), written with erfcx so that no factor overflows.
    depth d [m], time above 0 [s], conductivity [W/(m K)], film [W/(m2 K)], the rest as in `held_surface`
    """
    reach = np.sqrt(np.multiply(diffusivity, time))
    x = depth / (2 * reach)
    response = np.exp(-np.square(x)) * (erfcx(x) - erfcx(x + film * reach / conductivity))
    return start + np.subtract(fluid, start) * response


def damage_rate(temperature, damage: Damage = HENRIQUES):
    """Gives A exp(-(E/R)/T) [1/s]: how fast skin at this temperature [degC] comes nearer to injury 1 (Henriques
    1947).
    """
    return np.exp(np.log(damage.rate) - damage.temperature / np.add(temperature, KELVIN))


def seconds_at(temperature, damage: Damage = HENRIQUES):
    """Seconds until injury 1 in a layer that has this temperature [degC] from the start."""
    return INJURY / damage_rate(temperature, damage)


def seconds_to_injury(water, skin: Skin = SKIN, film=np.inf, damage: Damage = HENRIQUES, times: int = TIMES):
    """Seconds until the basal layer's damage integral is 1; inf beyond three years.

    water [degC], any shape S; film [W/(m2 K)], inf: the surface takes the water's temperature at once
    Trapezoids in the logarithm of time: 1600 steps are within 0.1 % of 16 times as many.
    """
    water, film = np.broadcast_arrays(np.asarray(water, dtype=float), film)
    time = np.geomspace(EARLIEST, LATEST, times).reshape(-1, *(1,) * water.ndim)
    held = held_surface(skin.depth, time, skin.diffusivity, skin.start, water)
    through = film_surface(
        skin.depth,
        time,
        skin.diffusivity,
        skin.start,
        water,
        skin.conductivity,
        np.where(np.isinf(film), 1.0, film),
    )
    pace = time * damage_rate(np.where(np.isinf(film), held, through), damage)  # for each unit of ln(time)
    step = np.log(LATEST / EARLIEST) / (times - 1)
    injury = np.cumsum(0.5 * step * (pace[1:] + pace[:-1]), axis=0)
    return _crossing(np.log(time[1:]), np.log(np.maximum(injury, 1e-300)))


def _crossing(log_time, log_injury):
    """Seconds at which the logarithm of a rising injury passes 0; inf where it does not. Steps on the first axis."""
    after = np.argmax(log_injury >= 0, axis=0)
    reached = log_injury[-1] >= 0
    after = np.where(reached, np.maximum(after, 1), 1)
    right, left = (np.take_along_axis(log_injury, (after - back)[np.newaxis], axis=0)[0] for back in (0, 1))
    late, early = (log_time.ravel()[after - back] for back in (0, 1))
    part = np.where(reached, -left / np.where(right > left, right - left, 1.0), 0.0)
    return np.where(reached, np.exp(early + part * (late - early)), np.inf)
