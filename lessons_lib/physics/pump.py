"""Where a pump's curve meets what a loop takes: friction, the heat pump's own exchanger, a strainer."""

import numpy as np

EXCHANGER_POWER = 1.75  # [-] loss of an exchanger goes with flow to this: smooth turbulent channels (Blasius 1913)
STRAINER_LOSS, STRAINER_FLOW = 2000.0, 10 / 60_000  # [Pa] at [m3/s] of a clean one (teaching value, no source)
ROUNDS = 48  # of halving: 3e-15 of the pump's largest flow


def curve(flow, shut_off, largest):
    """Pressure that a pump gives [Pa], a parabola that falls from `shut_off` at no flow to 0 at the largest flow.

    flow, largest [m3/s], shut_off [Pa], all broadcast. Negative beyond the largest flow: there the pump is a brake.
    """
    return shut_off * (1 - (flow / largest) ** 2)


def exchanger_loss(flow, rated_loss, rated_flow, power=EXCHANGER_POWER):
    """Loss of an exchanger or coil [Pa] from the one that its maker states, with flow to a power of 1.75 to 2.

    flow, rated_flow [m3/s], rated_loss [Pa], power [-], all broadcast
    """
    return rated_loss * (flow / rated_flow) ** power


def strainer_loss(flow, clogged):
    """Loss of a strainer [Pa] whose openings are `clogged` to a share: speed in what is left, squared.

    flow [m3/s], clogged [-] from 0 to below 1, broadcast
    """
    return STRAINER_LOSS * (flow / STRAINER_FLOW / (1 - clogged)) ** 2


def operating_flow(takes, shut_off, largest):
    """Flow [m3/s] at which a loop takes what its pump gives, by halving; scalars only.

    takes : flow [m3/s] → pressure [Pa] that the loop takes, rising with the flow; shut_off [Pa], largest [m3/s]
    """
    low, high = 0.0, largest
    for _ in range(ROUNDS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if takes(middle) < curve(middle, shut_off, largest) else (low, middle)
    return 0.5 * (low + high)


def rise(heat, flow, density, heat_capacity):
    """Rise of the water across a heat pump [K]: heat [W] over what the flow [m3/s] carries for each kelvin."""
    return heat / (np.asarray(density) * heat_capacity * flow)
