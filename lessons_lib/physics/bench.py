"""What a thermometer at the bench would read: the model's curves, and a thermometer that lags behind the water.

A factor on the loss needs no new curve. Standing water follows C' dT/dt = -q'(T) and flowing water m cp dT/dx = -q'(T),
so
twice the loss is the same curve run through in half the time, or half the length. Only
where the air changes while water stands, the curve is followed in steps of time.
"""

from dataclasses import dataclass, replace

import numpy as np

from . import cooling
from .delivery import along, deliver
from .heat_loss import Air, Soil
from .line import Line

CURVE_POINTS = 401  # of a cooling curve behind a lagging thermometer
PLACES = 65
LIQUID = 0.0, 99.0  # [degC]
# How sure the model is of itself, as standard deviations. Our own judgement, no source, but for the first.
FILM_DOUBT = 0.10  # of the convection in air: textbooks allow such correlations 10 to 20 % (from memory)
# [m K/W] of the water's film: half of what still water has that only conducts, 1/(8 pi k), and that is left out
WATER_DOUBT = 0.03
EMISSIVITY_DOUBT = 0.5  # of e (1 - e): least sure in the middle, for a metal's surface decides; 0.03 for foam
AIR_DOUBT = 0.25  # [K] a thermometer within half a degree
HEAT_DOUBT = 0.20  # of the insulation's density times heat capacity, which are typical of its kind
CONDUCTIVITY_DOUBT = 0.05  # of the label's, where it is taken for true
SOIL_DOUBT = 0.20  # of the soil's conductivity


@dataclass(frozen=True)
class OffAir(Air):
    """Air that takes up `film` times the convection that the correlation says."""

    film: float = 1.0

    def heat_from(self, surface, section):
        whole = super().heat_from(surface, section)
        convection = super().heat_from(surface, replace(section, emissivity=0.0))
        return tuple(one + (self.film - 1) * part for one, part in zip(whole, convection))


def doubtful(line: Line, air_doubt: float = AIR_DOUBT) -> list[Line]:
    """The line as it may be instead: each time one thing that the model is not sure of, off by a standard deviation.

    air_doubt : of the surroundings' temperature [K]
    """
    around = line.around
    wetted = Line(tuple((share, _thicker_film(section)) for share, section in line.parts), around)
    if isinstance(around, Soil):
        others = (
            {"temperature": around.temperature + air_doubt},
            {"conductivity": around.conductivity * (1 + SOIL_DOUBT)},
        )
        return [wetted, *(Line(line.parts, replace(around, **one)) for one in others)]
    warmer = replace(around, temperature=around.temperature + air_doubt, radiant=around.radiant + air_doubt)
    thicker = OffAir(around.temperature, around.wind, around.radiant, 1 + FILM_DOUBT)
    brighter = tuple(
        (share, replace(section, emissivity=_off_emissivity(section.emissivity))) for share, section in line.parts
    )
    return [wetted, Line(line.parts, warmer), Line(line.parts, thicker), Line(brighter, around)]


def _thicker_film(section):
    """The section with the doubt of the water's film in its wall's resistance."""
    whole = section.wall_resistance + WATER_DOUBT
    return replace(
        section, wall_conductivity=np.log(section.outside_diameter / section.inside_diameter) / (2 * np.pi * whole)
    )


def _off_emissivity(emissivity):
    return emissivity + EMISSIVITY_DOUBT * emissivity * (1 - emissivity)


def doubtful_standing(standing: cooling.Standing) -> list[cooling.Standing]:
    """Gives the same of a line of standing water, and of its insulation's own heat."""
    lines = [replace(standing, line=line) for line in doubtful(standing.line)]
    return [*lines, replace(standing, insulation_density_heat=standing.insulation_density_heat * (1 + HEAT_DOUBT))]


def scaled_conductivity(line: Line, factor: float) -> Line:
    """Gives the same line with its insulation's conductivity `factor` times as large at every temperature."""
    parts = []
    for share, section in line.parts:
        temperatures, values = section.conductivity_at
        parts.append((share, replace(section, conductivity_at=(temperatures, factor * values))))
    return Line(tuple(parts), line.around)


def standing_water(standing: cooling.Standing, start, seconds, loss_factor=1.0, constant=0.0, first=None, air=None):
    """Gives what a thermometer in standing water reads [degC], shape (n,).

    start : of the water at time 0 [degC]
    seconds : (n,), rising from 0
    loss_factor : on the model's loss
    constant : the thermometer's time constant [s]; 0 reads the water itself
    first : what the thermometer reads at time 0 [degC]; needed with a constant
    air : times [s] and how much warmer than the line's surroundings the air is then [K], (k,) each; None: it is steady
    """
    if constant <= 0 and air is None:
        return cooling.curve(standing, start, loss_factor * seconds)
    # Close together at first, where the thermometer catches up.
    clock = seconds[-1] * np.linspace(0, 1, CURVE_POINTS) ** 2
    if air is None:
        water = cooling.curve(standing, start, loss_factor * clock)
    else:
        water = _in_changing_air(standing, start, loss_factor * np.diff(clock), _means(clock, *air))
    return np.interp(seconds, clock, water) if constant <= 0 else lagging(clock, water, constant, first, seconds)


def _means(clock, times, values):
    """The means of values over each step of a clock, (m-1,); straight lines between them, and level outside."""
    every = np.unique(np.concatenate([clock, times]))
    at = np.interp(every, times, values)
    under = np.concatenate([[0.0], np.cumsum(0.5 * (at[1:] + at[:-1]) * np.diff(every))])
    return np.diff(np.interp(clock, every, under)) / np.diff(clock)


def _in_changing_air(standing: cooling.Standing, start, steps, warmer):
    """Standing water in air that changes, (m,) [degC].

    steps : (m-1,) of time [s]; warmer : (m-1,) how much warmer than the line's surroundings the air is in each [K]
    In a step the air is steady, and so is the pace at which the water comes nearer to it, as it is half way through.
    """
    line, around = standing.line, standing.line.around
    ends = np.array([np.min(warmer), np.max(warmer) + 1e-6])
    reach = np.max(np.abs(start - line.rest() - ends)) + np.ptp(ends)
    side = reach * np.linspace(0, 1, PLACES)[1:] ** 2
    away, paces = np.concatenate([-side[::-1], side]), []
    for end in ends:  # in the coldest and the warmest air; between them the pace changes evenly
        air = replace(around, temperature=around.temperature + end, radiant=around.radiant + end)
        other = replace(standing, line=Line(line.parts, air))
        paces.append(other.seconds_per_unit(np.clip(air.temperature + away, *LIQUID), air.temperature))
    water, now = [float(start)], float(start)
    for step, air in zip(steps.tolist(), warmer.tolist()):
        pace = paces[0] + (air - ends[0]) / (ends[1] - ends[0]) * (paces[1] - paces[0])
        air += float(line.rest())
        half = (now - air) * np.exp(-0.5 * step / np.interp(now - air, away, pace))
        now = air + (now - air) * float(np.exp(-step / np.interp(half, away, pace)))
        water.append(now)
    return np.array(water)


def lagging(clock, temperature, constant, first, at):
    """Gives what a thermometer of first order reads at times `at` [degC]: constant dz/dt = T - z, z = `first` at
    clock[0].

    clock, temperature : (m,) straight lines between the points, two entries at one time are a step
    constant : above 0 [s]; at : (n,) [s]; before clock[0] it reads `first`, after the end the last temperature stays
    Each straight line is followed exactly.
    """
    lengths = np.diff(clock)
    slopes = np.where(lengths > 0, np.diff(temperature) / np.where(lengths > 0, lengths, 1.0), 0.0)
    behind = slopes * constant  # a thermometer in a steady ramp stays so far behind
    decays = np.exp(-lengths / constant)
    read, now = [first], first
    for start, end, lag, decay, length in zip(
        temperature[:-1].tolist(), temperature[1:].tolist(), behind.tolist(), decays.tolist(), lengths.tolist()
    ):
        if length > 0:
            now = end - lag + (now - start + lag) * decay
        read.append(now)
    # `right`: at a step, from the last of its two entries on
    place = np.clip(np.searchsorted(clock, at, side="right") - 1, 0, len(clock) - 1)
    gone = np.maximum(at - clock[place], 0.0)
    slope, lag = np.append(slopes, 0.0)[place], np.append(behind, 0.0)[place]
    at_node = temperature[place]
    return at_node + slope * gone - lag + (np.array(read)[place] - at_node + lag) * np.exp(-gone / constant)


def flowing_water(line: Line, supply, flow, length, places, loss_factor=1.0):
    """Water temperature at places along a run in steady flow [degC], shape (n,).

    supply [degC], flow [m3/s] at the supply temperature, length [m], places (n,) [m] from the start
    """
    delivery = deliver(line, supply, flow, loss_factor * length)
    profile = along(line, supply, delivery, loss_factor * length, PLACES)
    return np.interp(places, np.linspace(0, length, PLACES), profile)


def surface(line: Line, water, film=0.0):
    """Temperature of the outermost surface of the covered part [degC]. water [degC]; film [m K/W] inside the wall"""
    return line.loss(water, film)[1][0]


def thickness_like(line: Line, conductance, water, thicknesses, film=0.0):
    """The thickness [m] of the same insulation that would lose `conductance` [W/(m K)] at `water` [degC].

    thicknesses : rising from 0 [m], shape (n,); film : on the inside of the wall [m K/W]
    Only the branch on which more insulation loses less: thin insulation on a small or shiny pipe can lose more than
    none (critical radius). 0 where even the worst thickness on it loses less; inf where the thickest loses more.
    """
    parts = []
    for share, section in line.parts:
        outer = section.insulation_bore + 2 * thicknesses
        parts.append(
            (
                share,
                (
                    section
                    if section.outside_of_insulation <= section.insulation_bore
                    else replace(section, outside_of_insulation=outer)
                ),
            )
        )
    many = Line(tuple(parts), line.around)
    losses = np.broadcast_to(many.conductance(water, many.rest(), film)[0], thicknesses.shape)
    worst = int(np.argmax(losses))
    if conductance >= losses[worst]:
        return 0.0
    if conductance < losses[-1]:
        return np.inf
    return float(np.interp(-conductance, -losses[worst:], thicknesses[worst:]))
