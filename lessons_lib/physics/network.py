"""A tree of pipes with several taps open: one flow for each tap, so that every path's pressures add up."""

from typing import NamedTuple

import numpy as np

from . import pressure
from .properties import Water

CONVERGED = 1e-8  # [-] of the driving pressure, by which a path's pressures may miss
MOST_ROUNDS, MOST_HALVINGS = 200, 40
SLOPE = 1e-6  # [-] step of the flow at which the losses' slopes are taken


class NoFlow(ArithmeticError):
    """The flows did not settle."""


class Solved(NamedTuple):
    """Flows and pressures of one set of open taps."""

    tap_flow: np.ndarray  # [m3/s] of the open taps, (taps,)
    tap_pressure: np.ndarray  # [Pa] just before each open tap, while it flows, (taps,)
    leg_flow: np.ndarray  # [m3/s] (legs,)
    leg_loss: np.ndarray  # [Pa] (legs,)


def solve(legs: pressure.FlowLeg, through, rise, holes, supply: float, properties: Water) -> Solved:
    """Flows of a tree in which every tap of `holes` is open.

    legs : pressure.FlowLeg whose values are of shape (legs,)
    through : (taps, legs) of bool, the legs between the tank and each tap
    rise : height of each tap above the tank [m]; holes : of each tap, see pressure.hole [1/m4]; (taps,)
    supply : pressure at the tank [Pa]; properties of the water, single values

    For every tap: supply - lift = the losses of its legs, each at the flow of all taps beyond it, + what its hole
    takes.
    These are the conditions for the least of a convex function of the flows (losses only rise), which has one answer:
    Newton's
    method with no flow below 0, and no step beyond the least along its own line. Continuity holds by itself: a leg's
    flow is a
    sum of taps' flows. A tap that the pressure cannot reach, or whose pressure the others use up, gets nothing: no
    water is
    sucked in. Raises NoFlow.
    """
    through = np.asarray(through, dtype=float)
    driving = supply - pressure.height_loss(np.asarray(rise, dtype=float), properties.density)
    flow = np.sqrt(2 * np.maximum(driving, 0) / (properties.density * holes))
    wide = 0.5 * properties.density * holes
    flow = _settle(legs, through, driving, wide, flow, properties)
    total = through.T @ flow
    return Solved(flow, wide * flow**2, total, pressure.loss([legs], total, properties))


def _settle(legs, through, driving, wide, flow, properties):
    """The taps' flows [m3/s], from flows that are too large. driving [Pa], wide : of each tap, its loss over its
    flow squared
    """
    misses, losses = _miss(legs, through, driving, wide, flow, properties)
    least = np.maximum(np.abs(driving), 1.0) * CONVERGED
    for _ in range(MOST_ROUNDS):
        dry = (flow <= 0) & (misses > 0)
        if np.all(dry | (np.abs(misses) < least)):
            return flow
        total = through.T @ flow
        step = SLOPE * np.maximum(total, 1e-9)
        slopes = (pressure.loss([legs], total + step, properties) - losses) / step
        # A tap that opens from nothing: its loss grows with the square, so the slope is that of the flow it is heading
        # for.
        opening = 0.5 * np.sqrt(np.maximum(-misses, 0) / wide)
        matrix = (through * slopes) @ through.T + np.diag(2 * wide * np.maximum(flow, opening))
        change, wet = np.zeros_like(flow), ~dry
        change[wet] = -np.linalg.solve(matrix[np.ix_(wet, wet)], misses[wet])
        found = _ahead(legs, through, driving, wide, flow, change, properties)
        if found is None:  # cut off at 0 the step leads uphill: each tap by itself then
            found = _ahead(legs, through, driving, wide, flow, -misses / np.diag(matrix), properties)
        if found is None:
            break
        flow, misses, losses = found
    raise NoFlow(f"the flows still miss by {np.max(np.abs(misses)):.3g} Pa")


def _ahead(legs, through, driving, wide, flow, change, properties):
    """Flows after the step, cut off at 0 and halved until the convex function has not risen; None where it always
    would.

    It has not risen from a to b where its slope at b, along the way from a to b, is not above 0.
    """
    share = 1.0
    for _ in range(MOST_HALVINGS):
        ahead = np.maximum(flow + share * change, 0.0)
        misses, losses = _miss(legs, through, driving, wide, ahead, properties)
        if misses @ (ahead - flow) <= 0:
            return ahead, misses, losses
        share *= 0.5
    return None


def _miss(legs, through, driving, wide, flow, properties):
    """Gives by how much the pressures of each tap's path pass what drives it [Pa], and the loss of each leg [Pa]."""
    losses = pressure.loss([legs], through.T @ flow, properties)
    return through @ losses + wide * flow**2 - driving, losses
