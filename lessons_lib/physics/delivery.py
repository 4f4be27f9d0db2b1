"""Steady flow: how the water cools on its way along a run, m cp dT/dx = -q'(T), integrated over temperature.

The film of slow (laminar) water is that of forced flow alone. In a real run the water that cools at the wall sinks, and
the mixing can thin that film to a third. The truth lies between two sides, and each verdict takes its cautious one:
with
the film the water arrives hottest (scald, `deliver`), without it coldest (ice in flowing water, the least flow in
frost).

With s the logarithm of the distance from rest, dx = m cp/U' ds, and U' changes slowly along s: a few points do what
many metres would. A constant conductance gives the exponential law of ISO 12241 exactly.
"""

from typing import NamedTuple

import numpy as np

from .convection import LAMINAR_END, TURBULENT_START, inside_resistance
from .line import Line, take
from .properties import FREEZING, temperature_at_viscosity, water
from .quadrature import integral

AT_REST = 0.001  # [K] so near to rest the water is followed, and no further
# Of a stretch of s, so that every case stays below the promised 0.01 K. Where the film passes between laminar and
# turbulent it has kinks: there one stretch ends and the next begins.
INTERVALS = 16
# s is followed as far as the first loss would bring it; where that is not the end, so many times as far, and again.
MARGIN, FURTHER = 1.02, 1.5


class Delivery(NamedTuple):
    """The water at the far end of a run in steady flow."""

    temperature: np.ndarray  # [degC]
    ice_distance: np.ndarray  # [m] from the start to where the water is at 0 degC and ice can form; inf: nowhere


class Stream(NamedTuple):
    """Describes water on its way: what enters [degC], where it would settle [degC], and its mass flow [kg/s]; one of
    each a case.
    """

    supply: np.ndarray
    rest: np.ndarray
    mass_flow: np.ndarray


def deliver(line: Line, supply, volume_flow, length, film=inside_resistance) -> Delivery:
    """Temperature at the far end of a run.

    supply [degC], volume_flow [m3/s] > 0 at the supply temperature, length [m] > 0; all broadcast with the line.
    film : resistance of the water's film, a function like convection.inside_resistance; convection.no_film: the cold
        side
    Water that reaches 0 degC stays there.
    """
    mass_flow = volume_flow * water(supply).density
    rest = line.rest(film(line.inside_diameter, water(line.rest()), mass_flow))
    shape = np.broadcast_shapes(line.shape, *(np.shape(item) for item in (supply, volume_flow, length)))
    supply, rest, mass_flow, length = (np.broadcast_to(item, shape) for item in (supply, rest, mass_flow, length))
    stream = Stream(supply, rest, mass_flow)
    nearest = np.where(rest < FREEZING, np.maximum(FREEZING - rest, AT_REST), AT_REST)
    furthest = np.log(np.maximum(np.abs(supply - rest) / nearest, 1.0))  # s at 0 degC, or at rest
    kinks = _kinks(line, stream) if film is inside_resistance else np.empty((0,) + shape)
    pace, shares = _pace(line, stream, 0.0, film)
    span = np.minimum(furthest, MARGIN * length / pace)
    end, reached, ahead = np.zeros(shape), np.zeros(shape), np.ones(shape, dtype=bool)
    while ahead.any():
        bent = ((kinks > 0) & (kinks < span)).any(axis=0)
        for chosen, inner in ((ahead & bent, kinks), (ahead & ~bent, kinks[:0])):
            if chosen.any():
                case, first = (
                    Stream(*(take(item, chosen) for item in stream)),
                    [take(share, chosen) for share in shares],
                )
                places = [take(item, chosen) for item in (*inner, span)]
                end[chosen], reached[chosen] = _follow(
                    line.take(chosen), case, places, take(length, chosen), film, first
                )
        ahead = (reached < length) & (span < furthest)
        span = np.where(ahead, np.minimum(furthest, FURTHER * span), span)
    frozen = (rest < FREEZING) & (span == furthest) & (reached <= length)
    arriving = rest + (supply - rest) * np.exp(-end)
    return Delivery(np.where(frozen, FREEZING, arriving), np.where(frozen, reached, np.inf))


def flow_that_keeps(line: Line, supply, keep, length):
    """The least volume flow at the supply temperature that arrives at `keep` or warmer [m3/s]; 0 where any flow does.

    supply [degC], above keep [degC]; length [m]; all broadcast with the line. Without the water's film, the cold side:
    the loss then does not depend on the flow, and m = L / integral of cp/U' over s.
    """
    rest = line.rest()
    cools = rest < keep
    units = np.where(cools, np.log((supply - rest) / np.where(cools, keep - rest, supply - rest)), 0.0)

    def per_kilogram(s):
        temperature = rest + (supply - rest) * np.exp(-s)
        return water(temperature).heat_capacity / line.conductance(temperature, rest)[0]

    metres = integral(per_kilogram, units) * water(supply).density  # that one m3/s goes
    return np.where(cools, length / np.where(cools, metres, 1.0), 0.0)


def _kinks(line, stream):
    """Gives the values of s at which the flow stops being turbulent and becomes laminar, or the other way round,
    (2,) + S; inf: not on the way.
    """
    of_one = 4 * stream.mass_flow / (np.pi * line.inside_diameter)
    viscosities = [of_one / reynolds for reynolds in (TURBULENT_START, LAMINAR_END)]
    ratio = (temperature_at_viscosity(np.stack(viscosities)) - stream.rest) / _not_zero(stream.supply - stream.rest)
    return np.where(ratio > 0, -np.log(np.where(ratio > 0, ratio, 1.0)), np.inf)


def _pace(line, stream, s, film, shares=None):
    """Metres in which the distance from rest shrinks by the factor e, m cp/U', at s; and the surfaces' shares of it."""
    temperature = stream.rest + (stream.supply - stream.rest) * np.exp(-s)
    properties = water(temperature)
    resistance = film(line.inside_diameter, properties, stream.mass_flow)
    conductance, shares = line.conductance(temperature, stream.rest, resistance, shares)
    return stream.mass_flow * properties.heat_capacity / conductance, shares


def _follow(line, stream, places, length, film, shares):
    """Gives the value of s at the end of the run, and the metres that the water needs to the last of `places`. Values
    of shape
    (cases,).

    places : s where the film has a kink, and s as far as which the water is followed
    shares : the surfaces' shares of the distance from rest where the water enters
    The trapezoidal rule with the slopes at both ends of each interval (Euler and Maclaurin's correction): fourth order.
    """
    begin = np.zeros_like(length)
    edges = np.sort(np.minimum([begin, *np.maximum(places, 0.0)], places[-1]), axis=0)[:, np.newaxis]
    wide = np.diff(edges, axis=0) / INTERVALS  # (stretches, 1, cases)
    s = edges[:-1] + wide * np.arange(INTERVALS + 1)[:, np.newaxis]
    pace, _ = _pace(line, stream, s, film, shares)
    slope = np.gradient(pace, axis=1, edge_order=2)
    metres = wide * (0.5 * (pace[:, :-1] + pace[:, 1:]) - (slope[:, 1:] - slope[:, :-1]) / 12)
    flat = lambda values: values.reshape(-1, len(length))  # noqa: E731  stretch after stretch
    ends = np.cumsum(flat(metres), axis=0)
    last = np.minimum(np.sum(ends < length, axis=0), len(ends) - 1)
    pick = lambda values: np.take_along_axis(flat(values), last[np.newaxis], axis=0)[0]  # noqa: E731
    begins, low, high = pick(s[:, :-1]), pick(pace[:, :-1]), pick(pace[:, 1:])
    width, left = pick(np.broadcast_to(wide, metres.shape)), length - pick(ends) + pick(metres)
    rises = (high - low) / np.maximum(width, 1e-12)
    # In the interval where the run ends the pace is a straight line in s.
    beyond = 2 * left / (low + np.sqrt(np.maximum(low * low + 2 * rises * left, 0.0)))
    return np.minimum(begins + beyond, places[-1]), ends[-1]


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
    return np.where(places < distance, inside, known)


def _not_zero(value):
    return np.where(value == 0, 1e-12, value)
