"""Steady flow: how the water cools on its way along a run, m cp dT/dx = -q'(T)."""

from typing import NamedTuple

import numpy as np

from .convection import LAMINAR_END, TURBULENT_START, inside_resistance, reynolds_number
from .line import Line, take
from .properties import water

FREEZING = 0.0  # [degC]
# Pieces by transfer units U L/(m cp), so that every case stays below the promised 0.01 K. Where the flow passes between
# laminar and turbulent as it cools and thickens, the film has kinks, and the pieces are eight times shorter.
PIECES = np.array([1, 2, 4, 8, 16, 32, 64])
UNITS_PER_PIECE, KINK_FACTOR = 0.2, 8.0
KINKS_BETWEEN = (LAMINAR_END / 1.1, TURBULENT_START * 1.1)


class Delivery(NamedTuple):
    """The water at the far end of a run in steady flow."""

    temperature: np.ndarray  # [degC]
    ice_distance: np.ndarray  # [m] from the start to where the water is at 0 degC and ice can form; inf: nowhere


def deliver(line: Line, supply, volume_flow, length) -> Delivery:
    """Temperature at the far end of a run.

    supply [degC], volume_flow [m3/s] > 0 at the supply temperature, length [m] > 0; all broadcast with the line.
    Fourth-order Runge-Kutta on the logarithm of the distance from rest: a constant conductance then gives the
    exponential law of ISO 12241 exactly. 1 to 64 pieces, more where the water cools more.
    Water that reaches 0 degC stays there.
    """
    entering = water(supply)
    mass_flow = volume_flow * entering.density
    rest = line.rest(inside_resistance(line.inside_diameter, water(line.rest()), mass_flow))
    shape = np.broadcast_shapes(line.shape, *(np.shape(item) for item in (supply, volume_flow, length)))
    rate, shares = _rate(line, supply, mass_flow, rest)
    units = rate * length
    leaving = water(np.maximum(rest + (supply - rest) * np.exp(-units), FREEZING))
    ends = [reynolds_number(line.inside_diameter, there.viscosity, mass_flow) for there in (entering, leaving)]
    pieces = _pieces(units, np.minimum(*ends), np.maximum(*ends))
    end, ice = np.empty(shape), np.empty(shape)
    for number in np.unique(pieces):
        chosen = np.broadcast_to(pieces == number, shape)
        case = (take(item, chosen) for item in (supply, mass_flow, length, rest, rate, *shares))
        end[chosen], ice[chosen] = _march(line.take(chosen), int(number), *case)
    return Delivery(end, ice)


def _pieces(transfer_units, least_reynolds, most_reynolds):
    """How many steps each case needs."""
    kinks = (most_reynolds > KINKS_BETWEEN[0]) & (least_reynolds < KINKS_BETWEEN[1])
    wanted = transfer_units / UNITS_PER_PIECE * np.where(kinks, KINK_FACTOR, 1.0)
    return PIECES[np.searchsorted(PIECES[:-1], wanted)]


def _rate(line, temperature, mass_flow, rest, shares=None):
    """How fast the distance from rest shrinks along the run [1/m], and the surfaces' shares of it."""
    properties = water(temperature)
    film = inside_resistance(line.inside_diameter, properties, mass_flow)
    conductance, shares = line.conductance(temperature, rest, film, shares)
    return conductance / (mass_flow * properties.heat_capacity), shares


def _march(line, pieces, supply, mass_flow, length, rest, rate, *shares):
    """Temperature at the end and distance to ice, by `pieces` equal steps; arguments of one shape."""
    step, temperature = length / pieces, supply
    ice_distance = np.full(np.shape(supply), np.inf)
    for piece in range(pieces):
        if piece:
            rate, shares = _rate(line, temperature, mass_flow, rest, shares)
        distance = temperature - rest
        second, shares = _rate(line, rest + distance * np.exp(-0.5 * step * rate), mass_flow, rest, shares)
        third, shares = _rate(line, rest + distance * np.exp(-0.5 * step * second), mass_flow, rest, shares)
        fourth, shares = _rate(line, rest + distance * np.exp(-step * third), mass_flow, rest, shares)
        shrink = step * (rate + 2 * second + 2 * third + fourth) / 6
        unbounded = rest + distance * np.exp(-shrink)
        freezes = (unbounded < FREEZING) & np.isinf(ice_distance)
        if np.any(freezes):
            to_zero = np.log(distance[freezes] / (FREEZING - rest[freezes])) / shrink[freezes]
            ice_distance[freezes] = step[freezes] * (piece + to_zero)
        temperature = np.maximum(unbounded, FREEZING)
    return temperature, ice_distance


def along(line: Line, supply, delivery: Delivery, length, count: int = 33):
    """Water temperature at `count` equal distances from start to end [degC], shape (count,) + S.

    The exponential law between the two ends that `deliver` found (or between the start and the ice): exact for
    a constant conductance, and nowhere visibly wrong.
    """
    frozen = np.isfinite(delivery.ice_distance)
    known = np.where(frozen, FREEZING, delivery.temperature)
    distance = np.where(frozen, delivery.ice_distance, length)
    left = np.clip((known - line.rest()) / _not_zero(supply - line.rest()), 1e-12, None)
    places = np.multiply.outer(np.linspace(0, 1, count), np.broadcast_to(length, np.shape(known)))
    inside = line.rest() + (supply - line.rest()) * left ** (places / np.maximum(distance, 1e-9))
    return np.where(places < distance, inside, delivery.temperature)


def _not_zero(value):
    return np.where(value == 0, 1e-12, value)
