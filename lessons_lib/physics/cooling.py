"""Standing water: C' dT/dt = -q'(T), integrated over temperature.

C' holds the heat of water, wall and insulation weighted with the square of the steady profile (see
line.heat_taken_along).
With s the logarithm of the distance from rest, dt = C'/U' ds, and both C' and U' change slowly along s:
a dozen points do what thousands of time steps would. A constant conductance gives the exponential law exactly.
"""

from dataclasses import dataclass

import numpy as np

from .line import NEAR, Line, heat_taken_along
from .properties import FREEZING, water
from .quadrature import integral

CURVE_NODES = 129


@dataclass(frozen=True)
class Standing:
    """A line full of still water, with what its materials hold.

    wall_density_heat, insulation_density_heat : density times heat capacity [J/(m3 K)]; 0 leaves one out
    """

    line: Line
    wall_density_heat: np.ndarray
    insulation_density_heat: np.ndarray

    def seconds_per_unit(self, temperature, rest):
        """Gives C'/U' [s]: the time for the distance from rest to shrink by the factor e. temperature, rest [degC]"""
        conductance, shares = self.line.conductance(temperature, rest)
        properties = water(temperature)
        water_heat = properties.density * properties.heat_capacity
        capacity = sum(
            share
            * heat_taken_along(
                section, temperature, rest, surface, water_heat, self.wall_density_heat, self.insulation_density_heat
            )
            for (share, section), surface in zip(self.line.parts, shares)
        )
        return capacity / conductance


def time_to(standing: Standing, start, target):
    """Seconds until the standing water passes `target`: 0 if it has passed already, inf if it never does.

    start, target [degC], 0 to 99, broadcast with the line.
    """
    rest = standing.line.rest()
    start, target, rest = np.broadcast_arrays(np.asarray(start, dtype=float), target, rest)
    shape = np.broadcast_shapes(start.shape, standing.line.shape)
    units = np.broadcast_to(_units(start - rest, target - rest), shape)
    reached = np.where(np.isfinite(units), units, 0.0)
    distance = np.broadcast_to(start - rest, shape)
    seconds = integral(lambda s: standing.seconds_per_unit(rest + distance * np.exp(-s), rest), reached)
    return np.where(np.isfinite(units), seconds, np.inf)


def _units(from_rest, to_rest):
    """Gives ln(from/to): how often the distance must shrink by e; 0 if passed already, inf if the target is not on the
    way.
    """
    same_side = from_rest * to_rest > 0
    # a difference of logarithms, for air may be so near to freezing that the ratio has no room in a float
    began, ends = (np.log(np.abs(np.where(same_side, one, 1.0))) for one in (from_rest, to_rest))
    on_the_way = np.maximum(began - ends, 0.0)
    # Not on the same side: starting at or beyond rest the target lies behind (passed) only if it is where we stand.
    return np.where(same_side, on_the_way, np.where(from_rest == to_rest, 0.0, np.inf))


def curve(standing: Standing, start, times):
    """Temperature at each time [degC], shape (n,)+S. times [s], shape (n,), rising from 0.

    Water that reaches 0 degC stays there (ice: see freezing.py). Past 0.01 K from rest it is at rest.
    """
    line = standing.line
    shape = np.broadcast_shapes(np.shape(start), line.shape)
    rest = np.broadcast_to(np.asarray(line.rest(), dtype=float), shape)
    distance = np.broadcast_to(start, shape) - rest
    floor = np.where((distance > 0) & (rest < FREEZING), FREEZING - rest, NEAR)
    span = np.log(np.maximum(np.abs(distance) / floor, 1.0))
    units = np.multiply.outer(np.linspace(0, 1, CURVE_NODES), span)
    pace = standing.seconds_per_unit(rest + distance * np.exp(-units), rest)
    clock = np.concatenate(
        [np.zeros((1,) + shape), np.cumsum(0.5 * (pace[1:] + pace[:-1]) * np.diff(units, axis=0), axis=0)]
    )
    at_time = np.empty((len(times),) + shape)
    for case in np.ndindex(shape):
        at_time[(..., *case)] = np.interp(times, clock[(..., *case)], units[(..., *case)])
    return rest + distance * np.exp(-at_time)
