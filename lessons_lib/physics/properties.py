"""Water and air between the rows of data/water.csv and data/air.csv, by straight lines.

The tables come from the IAPWS formulations (water, 0-100 degC at 300 kPa) and the reference equation of
Lemmon et al. (air, -70-110 degC at 101.325 kPa); see data/make_property_tables.py.
"""

from typing import NamedTuple

import numpy as np

from ..storage.tables import columns

KELVIN = 273.15
FREEZING = 0.0  # [degC]
GRAVITY = 9.80665  # [m/s2]


class Water(NamedTuple):
    """Liquid water at one or many temperatures."""

    density: np.ndarray  # [kg/m3]
    heat_capacity: np.ndarray  # [J/(kg K)]
    conductivity: np.ndarray  # [W/(m K)]
    viscosity: np.ndarray  # [Pa s]

    @property
    def prandtl(self):
        return self.viscosity * self.heat_capacity / self.conductivity


class Air(NamedTuple):
    """Dry air at one or many temperatures."""

    conductivity: np.ndarray  # [W/(m K)]
    kinematic_viscosity: np.ndarray  # [m2/s]
    prandtl: np.ndarray  # [-]


def _lines(temperature, *values):
    """Gives intercepts and slopes of the straight pieces between two rows 1 K apart, each of shape (values, pieces)."""
    slopes = np.diff(values)
    return np.asarray(values)[:, :-1] - temperature[:-1] * slopes, slopes


_water = columns("water")
_air = columns("air")
_WATER = _lines(_water["temperature"], *(_water[name] for name in Water._fields))
_AIR = _lines(
    _air["temperature"],
    _air["conductivity"],
    _air["viscosity"] / _air["density"],
    _air["viscosity"] * _air["heat_capacity"] / _air["conductivity"],
)


def _piece(temperature, table):
    """Says which piece of the table each temperature lies in; beyond the ends the last piece goes on straight."""
    first, last = table["temperature"][0], table["temperature"][-1]
    return np.minimum(np.maximum(temperature - first, 0), last - first - 1).astype(int)


def water(temperature) -> Water:
    """Gives the properties of liquid water. temperature [degC], 0 to 100."""
    temperature = np.asarray(temperature, dtype=float)
    piece, (base, slope) = _piece(temperature, _water), _WATER
    return Water(*(base[:, piece] + slope[:, piece] * temperature))


def air(temperature) -> Air:
    """Gives the properties of dry air. temperature [degC], -70 to 110."""
    temperature = np.asarray(temperature, dtype=float)
    piece, (base, slope) = _piece(temperature, _air), _AIR
    return Air(*(base[:, piece] + slope[:, piece] * temperature))


def temperature_at_viscosity(viscosity):
    """Temperature at which liquid water has this viscosity [degC], 0 to 100: the ends beyond them. viscosity [Pa s]"""
    return np.interp(-np.asarray(viscosity), -_water["viscosity"], _water["temperature"])
