"""Pressure along a pipe: speed, friction, fittings, height, and the flow that a pressure drives through it."""

from typing import NamedTuple

import numpy as np

from .properties import GRAVITY, Water

LEAST_REYNOLDS = 1e-9  # below it the laminar law still holds; the powers of the formula stay within a float
LARGEST_TURBULENT = 1.0  # no pipe of relative roughness up to 1 has a turbulent friction factor above this
CONVERGED = 1e-12  # [-] of the pressure, at which the flow stands
MOST_ROUNDS = 60


class FlowLeg(NamedTuple):
    """One length of one pipe with its fittings; every value a float or an array that broadcasts."""

    inside_diameter: np.ndarray  # [m]
    roughness: np.ndarray  # [m]
    length: np.ndarray  # [m] of the pipe and the equivalent length of its fittings
    holes: np.ndarray  # [1/m4] loss over 0.5 rho flow^2 of what does not go with friction: see heads, hole


def area(inside_diameter):
    """Gives the area of the bore [m2]. inside_diameter [m]"""
    return 0.25 * np.pi * inside_diameter**2


def speed(flow, inside_diameter):
    """Mean speed in the bore [m/s]. flow [m3/s], inside_diameter [m]"""
    return flow / area(inside_diameter)


def heads(number, inside_diameter):
    """`number` velocity heads in a pipe, as a hole [1/m4]. number [-], inside_diameter [m]"""
    return number / area(inside_diameter) ** 2


def hole(flow, pressure, density=1000.0):
    """A tap that passes `flow` [m3/s] of cold water at `pressure` [Pa]: loss over 0.5 rho flow^2 [1/m4]."""
    return 2 * pressure / (density * flow**2)


def friction_factor(reynolds, relative_roughness):
    """Darcy friction factor of any flow: laminar, transitional, turbulent, rough [-].

    reynolds, relative_roughness (roughness over bore) [-], broadcast; below Re 1e-9 the factor there is returned.
    Churchill, Chemical Engineering 84 (1977) 91, in Darcy's form (4 times Fanning's).
    Against Colebrook: 2 % high at Re 4000, within 1 % from Re 10 000 for pipes as smooth as data/pipe_materials.csv.
    """
    reynolds = np.maximum(reynolds, LEAST_REYNOLDS)
    turbulent = (2.457 * np.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * relative_roughness))) ** 16
    transition = (37_530 / reynolds) ** 16
    return 8 * ((8 / reynolds) ** 12 + (turbulent + transition) ** -1.5) ** (1 / 12)


def loss_per_metre(flow, inside_diameter, roughness, properties: Water):
    """Pressure lost to friction along one metre of pipe [Pa/m]: Darcy-Weisbach.

    flow [m3/s] >= 0, inside_diameter, roughness [m], properties of the water, all broadcast
    """
    moving = speed(flow, inside_diameter)
    reynolds = properties.density * moving * inside_diameter / properties.viscosity
    factor = friction_factor(reynolds, roughness / inside_diameter)
    return factor * 0.5 * properties.density * moving**2 / inside_diameter


def loss(legs, flow, properties: Water):
    """Pressure lost to friction and fittings along legs in a row, one flow through all [Pa].

    legs : sequence of FlowLeg; flow [m3/s] >= 0, properties of the water, broadcast with the legs
    """
    total = 0.0
    for leg in legs:
        friction = leg.length * loss_per_metre(flow, leg.inside_diameter, leg.roughness, properties)
        total = total + friction + 0.5 * properties.density * flow**2 * leg.holes
    return total


def height_loss(height, density):
    """Pressure that it takes to lift water [Pa]; negative where it falls. height [m], density [kg/m3]"""
    return density * GRAVITY * height


def flow_for(legs, pressure, height, properties: Water):
    """Flow that a pressure at the start drives to a height through legs in a row [m3/s]; unreachable: 0.

    legs : sequence of FlowLeg; pressure [Pa] above the air's, height of the end above the start [m],
    properties of the water, all broadcast.
    The loss rises steadily with the flow. Two quadratics bracket the root: friction is never less than laminar and
    never more than laminar plus LARGEST_TURBULENT. Between them loss and flow lie nearly on a line in their logarithms.
    """
    driving = np.asarray(pressure - height_loss(height, properties.density), dtype=float)
    reached = driving > 0
    driving = np.where(reached, driving, 1e5)
    low = np.log(_flow_between(legs, driving, properties, LARGEST_TURBULENT))
    high = np.log(_flow_between(legs, driving, properties, 0.0))
    root = _root(lambda log_flow: np.log(loss(legs, np.exp(log_flow), properties) / driving), low, high)
    return np.where(reached, np.exp(root), 0.0)


def _root(miss, low, high):
    """Finds where a rising function crosses 0 between two arrays: false position, Illinois variant, within MOST_ROUNDS.

    An end that stays twice running has its miss halved, so that the bracket closes from both sides.
    """
    below, above, last = miss(low), miss(high), 0
    for _ in range(MOST_ROUNDS):
        slope = np.where(above > below, (high - low) / np.maximum(above - below, np.finfo(float).tiny), 0.0)
        middle = np.clip(high - above * slope, low, high)
        here = miss(middle)
        if np.max(np.abs(here)) < CONVERGED:
            break
        side = np.sign(here)
        again, over = side == last, side > 0
        below = np.where(over, np.where(again, 0.5 * below, below), here)
        above = np.where(over, here, np.where(again, 0.5 * above, above))
        low, high, last = np.where(over, low, middle), np.where(over, middle, high), side
    return middle


def _flow_between(legs, driving, properties: Water, turbulent_factor):
    """Flow [m3/s] if every friction factor were 64/Re + turbulent_factor: a quadratic in the flow."""
    straight, square = 0.0, 0.0
    for leg in legs:
        straight = straight + 128 * properties.viscosity * leg.length / (np.pi * leg.inside_diameter**4)
        turbulent = turbulent_factor * leg.length / leg.inside_diameter
        square = square + 0.5 * properties.density * (heads(turbulent, leg.inside_diameter) + leg.holes)
    return 2 * driving / (straight + np.sqrt(straight**2 + 4 * square * driving))


def hazen_williams(flow, inside_diameter, coefficient):
    """Pressure lost along one metre of pipe by the trade's hand method [Pa/m].

    flow [m3/s], inside_diameter [m], coefficient C [-]
    P = 6.05e5 Q^1.85 / (C^1.85 d^4.87) bar/m with L/min and mm (NFPA 13; 4.52 psi/ft with US gal/min and in).
    It knows no temperature and no viscosity: cold water in smooth pipe is what it was fitted to.
    """
    return 6.05e10 * (6e4 * flow / coefficient) ** 1.85 / (1e3 * inside_diameter) ** 4.87
