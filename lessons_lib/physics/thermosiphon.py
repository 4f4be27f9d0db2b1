"""A loop that runs by itself: warm water rises, cooled water falls, and friction holds it back.

A tank with two ports, a line from the upper one to a cold outdoor unit, and a line back to the lower one. The pump
stands. The water cools along both lines and in the unit by the exponential law (ISO 12241) down to the air, and no
further than 0 degC. The tank is one temperature throughout, the cautious side: a real tank's bottom is cooler.
"""

from typing import NamedTuple

import numpy as np

from . import pressure
from .properties import FREEZING, GRAVITY, water

LEAST, MOST = 1e-6, 3.0  # [kg/s] between which the flow is looked for
TRIED = 240  # flows, evenly apart in their logarithm
HALVINGS = 60
PIECES = 24  # of each straight part of a line, over which the density is integrated


class Way(NamedTuple):
    """One line of the loop, in the order that the water takes it."""

    bends: tuple  # of (metres along the line, height [m]) of its ends and bends
    conductance: float  # loss for each kelvin above the air [W/(m K)]
    leg: pressure.FlowLeg  # for friction


class Loop(NamedTuple):
    """Describes a tank's loop to an outdoor unit."""

    hot: Way  # from the tank's upper port to the unit
    cold: Way  # from the unit to the tank's lower port
    unit: float  # loss of the unit for each kelvin above the air [W/K]
    tank: float  # [degC]
    air: float  # [degC]


class Circulation(NamedTuple):
    """Describes the water that runs by itself; with no flow its other values are those of standing water."""

    mass_flow: float  # [kg/s]; 0: it stands
    driving: float  # [Pa] that cooled water pushes with, at this flow; standing: the most that it could at any
    reaches: float  # [degC] the unit
    leaves: float  # [degC] the unit
    returns: float  # [degC] to the tank
    watts: float  # that leave the tank


def _after(start, air, units):
    """Water after so many transfer units, no colder than ice [degC]."""
    return np.maximum(air + (start - air) * np.exp(-units), FREEZING)


def _capacity(loop: Loop, mass_flow):
    """Heat that the stream carries for each kelvin [W/K]."""
    return mass_flow * water(0.5 * (loop.tank + max(loop.air, FREEZING))).heat_capacity


def temperatures(loop: Loop, mass_flow):
    """Water at the unit, after it, and back at the tank [degC]. mass_flow [kg/s] > 0, any shape"""
    carries = _capacity(loop, mass_flow)
    reaches = _after(loop.tank, loop.air, loop.hot.conductance * loop.hot.bends[-1][0] / carries)
    leaves = _after(reaches, loop.air, loop.unit / carries)
    returns = _after(leaves, loop.air, loop.cold.conductance * loop.cold.bends[-1][0] / carries)
    return reaches, leaves, returns


def _weight(way: Way, start, loop: Loop, mass_flow):
    """The integral of density over height along a line, in the water's direction [kg/m2]."""
    carries, total = _capacity(loop, mass_flow), 0.0
    for (begin, low), (end, high) in zip(way.bends, way.bends[1:]):
        if high == low:
            continue
        places = begin + (end - begin) * (np.arange(PIECES) + 0.5) / PIECES
        units = way.conductance * places / np.asarray(carries)[..., np.newaxis]
        inside = _after(np.asarray(start)[..., np.newaxis], loop.air, units)
        total = total + (high - low) * np.mean(water(inside).density, axis=-1)
    return total


def driving(loop: Loop, mass_flow):
    """Pressure with which cooled water pushes round, -g times the integral of density over height, once round [Pa].

    mass_flow [kg/s] > 0, any shape. Positive: from the tank's upper port through the unit to its lower port.
    """
    _, leaves, _ = temperatures(loop, mass_flow)
    start = np.broadcast_to(loop.tank, np.shape(mass_flow))
    rises = loop.hot.bends[0][1] - loop.cold.bends[-1][1]  # through the tank, between its ports [m]
    lines = _weight(loop.hot, start, loop, mass_flow) + _weight(loop.cold, leaves, loop, mass_flow)
    return -GRAVITY * (lines + rises * water(loop.tank).density)


def friction(loop: Loop, mass_flow):
    """Pressure that both lines take [Pa]. mass_flow [kg/s] > 0, any shape"""
    reaches, leaves, returns = temperatures(loop, mass_flow)
    total = 0.0
    for way, middle in ((loop.hot, 0.5 * (loop.tank + reaches)), (loop.cold, 0.5 * (leaves + returns))):
        inside = water(middle)
        total = total + pressure.loss([way.leg], mass_flow / inside.density, inside)
    return total


def circulates(loop: Loop, opening: float = 0.0) -> Circulation:
    """Finds what runs by itself, once it has been set going: the largest flow at which it balances friction.

    opening : pressure at which a check valve opens [Pa]; 0: there is none
    A pump that stops leaves warm lines and moving water behind, so the larger flow counts, not the start from rest.
    """
    tried = np.geomspace(LEAST, MOST, TRIED)
    pushes = driving(loop, tried)
    spare = pushes - friction(loop, tried) - opening
    moving = np.flatnonzero(spare > 0)
    if not len(moving):
        cold = max(loop.air, FREEZING)
        return Circulation(0.0, float(np.max(pushes)), cold, cold, cold, 0.0)
    place = moving[-1]
    low, high = np.log(tried[place]), np.log(tried[min(place + 1, TRIED - 1)])
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        flow = np.exp(middle)
        more = driving(loop, flow) - friction(loop, flow) - opening > 0
        low, high = (middle, high) if more else (low, middle)
    flow = float(np.exp(low))
    reaches, leaves, returns = (float(value) for value in temperatures(loop, flow))
    watts = float(_capacity(loop, flow)) * (loop.tank - returns)
    return Circulation(flow, float(driving(loop, flow)), reaches, leaves, returns, watts)
