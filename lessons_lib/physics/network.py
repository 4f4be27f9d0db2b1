"""A tree of pipes with several taps open: one flow for each tap, so that every path's pressures add up."""

from typing import NamedTuple

import numpy as np

from . import pressure
from .properties import Water

CONVERGED = 1e-9  # [-] of the driving pressure, by which a path's pressures may miss
MOST_ROUNDS = 80
SLOPE = 1e-6  # [-] step of the flow at which the losses' slopes are taken
LEAST_SHARE = 0.1  # of its flow that a tap keeps in one round
SHUT = 1e-9  # [-] of a tap's flow alone: with less, the others have taken all its pressure


class NoFlow(ArithmeticError):
    """The flows did not settle."""


class Solved(NamedTuple):
    """Flows and pressures of one set of open taps."""

    tap_flow: np.ndarray  # [m3/s] of the open taps, (taps,)
    tap_pressure: np.ndarray  # [Pa] just before each open tap, while it flows, (taps,)
    leg_flow: np.ndarray  # [m3/s] (legs,)
    leg_loss: np.ndarray  # [Pa] (legs,)


def solve(legs: pressure.Leg, through, rise, holes, supply: float, properties: Water) -> Solved:
    """Flows of a tree in which every tap of `holes` is open.

    legs : pressure.Leg whose values are of shape (legs,)
    through : (taps, legs) of bool, the legs between the tank and each tap
    rise : height of each tap above the tank [m]; holes : of each tap, see pressure.hole [1/m4]; (taps,)
    supply : pressure at the tank [Pa]; properties of the water, single values

    For every tap: supply - lift = the losses of its legs, each at the flow of all taps beyond it, + what its hole takes.
    These are the conditions for the least of a convex function of the flows, so that there is one answer; Newton's method,
    its step shortened where that does not come nearer. Continuity holds by itself: a leg's flow is a sum of taps' flows.
    A tap that the pressure cannot reach, or whose pressure the others use up, gets nothing (no water is sucked in).
    """
    through = np.asarray(through, dtype=float)
    driving = supply - pressure.height_loss(np.asarray(rise, dtype=float), properties.density)
    flow = np.sqrt(2 * np.maximum(driving, 0) / (properties.density * holes))
    alone, running = flow.copy(), driving > 0
    flow[running] = _settle(legs, through[running], driving[running], holes[running], flow[running], properties)
    flow = np.where(flow > SHUT * alone, flow, 0.0)
    total = through.T @ flow
    return Solved(flow, 0.5 * properties.density * flow**2 * holes, total, pressure.loss([legs], total, properties))


def _settle(legs, through, driving, holes, flow, properties):
    """The taps' flows, all above 0 at the start."""
    alone, wide = flow.copy(), 0.5 * properties.density * holes
    if not flow.size:
        return flow
    misses, losses = _miss(legs, through, driving, wide, flow, properties)
    for _ in range(MOST_ROUNDS):
        dry = (flow <= SHUT * alone) & (misses > 0)
        left = ~dry
        if np.max(np.abs(np.where(dry, 0.0, misses)) / driving) < CONVERGED:
            return flow
        total = through.T @ flow
        step = SLOPE * np.maximum(total, 1e-9)
        slopes = (pressure.loss([legs], total + step, properties) - losses) / step
        matrix = (through * slopes) @ through.T + np.diag(2 * wide * flow)
        change = np.zeros_like(flow)
        change[left] = -np.linalg.solve(matrix[np.ix_(left, left)], misses[left])
        flow, misses, losses = _shortened(legs, through, driving, wide, flow, change, misses, properties)
    raise NoFlow(f"the flows still miss by {np.max(np.abs(misses)):.3g} Pa")


def _shortened(legs, through, driving, wide, flow, change, misses, properties):
    """The longest of a few shares of the step that comes nearer; the last of them in any case."""
    before = np.linalg.norm(misses)
    for share in (1.0, 0.5, 0.25, 0.1):
        ahead = np.maximum(flow + share * change, LEAST_SHARE * flow)
        after, losses = _miss(legs, through, driving, wide, ahead, properties)
        if np.linalg.norm(after) < before:
            break
    return ahead, after, losses


def _miss(legs, through, driving, wide, flow, properties):
    """By how much the pressures of each tap's path pass what drives it [Pa], and the loss of each leg [Pa]."""
    losses = pressure.loss([legs], through.T @ flow, properties)
    return through @ losses + wide * flow**2 - driving, losses
