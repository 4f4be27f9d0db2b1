"""A night or a power cut, step by step: standing water that cools, freezes, thaws, with or without a heat tape.

One lump of water and pipe wall per metre, followed by its heat (the enthalpy method): heat that is missing at 0 degC is
ice, and once all is ice its temperature falls on. Losses are worked out beforehand over water temperature for every row
of the weather and read by straight lines, so that a step costs a few array operations. A step is cut where ice begins
or ends. Each piece of it follows the exact exponential of a constant conductance towards rest and never passes it, so
that a step is safe at an hour as at a minute: nothing gets colder than the coldest, or warmer than the warmest, that
the run has been at rest with.
"""

from typing import NamedTuple

import numpy as np

from .freezing import LATENT_HEAT_OF_VOLUME, ice_resistance
from .heat_loss import NotConverged
from .line import Line, heat_taken_along
from .properties import water

COLD = 5.0  # [degC] water near freezing, at which heats are taken
# [degC] water temperatures at which losses are worked out: by squares, for bare pipe's film changes fastest near rest
ROWS, WARMEST = 8, 100.0
TABLE = WARMEST * (np.arange(ROWS + 1) / ROWS) ** 2
ICE_HEAT = 917.0 * 2100.0  # [J/(m3 K)] of ice (2.1 kJ/(kg K) at 0 degC, Cengel, as quoted in secondary literature)
MOST_ICE = 0.9999  # share at which the last water counts as frozen: its own resistance would have no end
SLICE = 0.05  # share of the bore that freezes or thaws at most before the ice's resistance is worked out anew
VAST = 1e30  # [J/(m K)] water that freezes stays at 0 degC, as if its heat capacity had no end
NEVER = np.inf
MOST_PIECES = 64  # of a step: 2 crossings and 20 slices of ice are the most that one direction can need


class Loss(NamedTuple):
    """Conductance to rest [W/(m K)] at TABLE's temperatures, (len(TABLE), n) + S, and rest [degC], (n,) + S."""

    conductance: np.ndarray
    rest: np.ndarray


class Record(NamedTuple):
    """Holds at each time, (n,) + S: water or ice [degC], share of the bore that is ice, mean power of the tape over
    the step that begins there [W/m]; and the seconds from the first time until the water reaches 0 degC, S, inf:
    never."""

    temperature: np.ndarray
    ice_share: np.ndarray
    tape_power: np.ndarray
    first_ice: np.ndarray


class Lump(NamedTuple):
    """Holds what a metre of water and wall holds: heat capacity as water and as ice [J/(m K)], latent heat [J/m]."""

    liquid: np.ndarray
    solid: np.ndarray
    latent: np.ndarray

    def state(self, heat):
        """Temperature [degC] and share of ice at a heat above water at 0 degC [J/m]."""
        temperature = np.maximum(heat, 0) / self.liquid + np.minimum(heat + self.latent, 0) / self.solid
        return temperature, np.minimum(np.maximum(-heat / self.latent, 0), 1)


def tabulate(line: Line) -> Loss:
    """Losses of a line whose surroundings carry the weather: arrays of shape (n,) + S."""
    rest = np.asarray(line.rest(), dtype=float)
    shape = np.broadcast_shapes(line.shape, rest.shape)
    temperatures = TABLE.reshape((-1,) + (1,) * len(shape))
    conductance, _ = line.conductance(temperatures + np.zeros(shape), rest)
    return Loss(np.broadcast_to(conductance, (len(TABLE),) + shape), np.broadcast_to(rest, shape))


def capacities(line: Line, wall_density_heat) -> Lump:
    """Gives the heat capacity of water and wall at 5 degC, that of ice and wall, and the latent heat of a full bore.

    wall_density_heat : density times heat capacity [J/(m3 K)]
    A wall that is colder than its water gives up less than its own heat capacity says (see line.heat_taken_along). The
    insulation's heat is left out, as in every freeze verdict.
    """
    section = line.section
    rest, cold = line.rest(), water(COLD)
    _, (share,) = line.conductance(COLD, rest)
    liquid, solid = (
        heat_taken_along(section, COLD, rest, share, heat, wall_density_heat, 0.0)
        for heat in (cold.density * cold.heat_capacity, ICE_HEAT)
    )
    return Lump(liquid, solid, LATENT_HEAT_OF_VOLUME * 0.25 * np.pi * section.inside_diameter**2)


def march(loss: Loss, lump: Lump, start, step: float, tape=None, thermostat=np.inf, powered=None, pump=None) -> Record:
    """Follow the lump through the weather.

    loss : from `tabulate`, one row a step; n rows give n - 1 steps
    lump : from `capacities`
    start [degC], shape S; step [s]
    tape : pipe temperature [degC] → power that it can give [W/m]; None: no tape
    thermostat : the tape gives no more than brings the pipe to this temperature [degC]
    powered : (n,) of bool: tape and pump have power; None: always
    pump : temperature that circulating water keeps the run at while it has power [degC]; None: no pump
    """
    count, shape = len(loss.rest), np.broadcast_shapes(loss.rest.shape[1:], *map(np.shape, (start, lump.liquid, pump)))
    powered = np.ones(count, dtype=bool) if powered is None else powered
    flat = lambda value: np.broadcast_to(value, shape).ravel()  # noqa: E731
    lump = Lump(*(flat(value) for value in lump))
    conductance, rests = _spread(loss.conductance, 2, shape), _spread(loss.rest, 1, shape)
    heat = lump.liquid * flat(start)  # above water at 0 degC [J/m]
    first_ice = np.where(heat <= 0, 0.0, NEVER)
    temperatures, shares, power = (np.zeros((count, heat.size)) for _ in range(3))
    for number in range(count):
        if pump is not None and powered[max(number - 1, 0) : number + 1].any():  # also to the end of its last step
            heat = lump.liquid * flat(pump)
            first_ice = np.where(heat <= 0, np.minimum(first_ice, number * step), first_ice)
        temperatures[number], shares[number] = state = lump.state(heat)
        gives = tape if powered[number] else None
        table, rest = conductance[:, number], rests[number]
        heat, power[number], to_ice = _step(lump, heat, state, table, rest, step, gives, thermostat)
        if to_ice is not NEVER and number + 1 < count:
            first_ice = np.minimum(first_ice, number * step + to_ice)
    whole = (item.reshape((count,) + shape) for item in (temperatures, shares, power))
    return Record(*whole, first_ice.reshape(shape))


def _step(lump: Lump, heat, state, table, rest, step: float, tape, thermostat):
    """Heat after a step [J/m], mean power of the tape [W/m], and seconds until the water reaches 0 degC in it (inf:
    not).

    In pieces: each ends where ice begins, where it ends, or where a slice of it is through.
    """
    left, given, to_ice = step, 0.0, NEVER
    for _ in range(MOST_PIECES):
        heat, spent, gave, freezing = _piece(lump, heat, state, table, rest, left, tape, thermostat)
        given = given + gave
        if spent is left:  # no case ends its piece early
            return heat, given / step, to_ice
        to_ice = np.where(freezing, step - left + spent, to_ice)
        left, state = left - spent, lump.state(heat)
    raise NotConverged(f"a step of a night of {step:g} s is not through after {MOST_PIECES} pieces")


def _piece(lump: Lump, heat, state, table, rest, left, tape, thermostat):
    """Gives as much of what is `left` [s] as stays water, stays ice, or stays a mixture of both within a slice.

    Heat at its end [J/m], seconds spent, heat from the tape [J/m], and where water has just reached 0 degC.
    """
    (temperature, share), capacity = state, lump.liquid
    outward, gives, falls = _read(table, np.maximum(temperature, 0)), 0.0, 0.0
    if tape is not None:
        # What brings water to the thermostat's temperature at the end of the time that is left; ice takes all there is.
        stays = np.exp(-outward * left / capacity)
        brings = outward * (thermostat - rest + (thermostat - temperature) * stays / np.maximum(1 - stays, 1e-12))
        can = tape(temperature)
        gives = np.maximum(np.where(share > 0, can, np.minimum(can, brings)), 0.0)
        falls = np.where((gives < can) | (share > 0), 0.0, can - tape(temperature + 1.0))  # as water warms [W/(m K)]
    leaving = outward * (temperature - rest) - gives
    water, low, high = True, 0.0, np.inf
    if heat.min() <= 0:
        cools, slices = leaving > 0, SLICE * lump.latent
        water, solid = (heat > 0) | (heat == 0) & ~cools, (heat < -lump.latent) | (heat == -lump.latent) & cools
        mixed = ~(water | solid)
        capacity = np.where(mixed, VAST, np.where(solid, lump.solid, capacity))
        through = outward / (1 + outward * ice_resistance(np.minimum(share, MOST_ICE)))
        outward = np.where(mixed, through, outward)
        leaving = outward * (temperature - rest) - gives
        low = np.where(water, 0.0, np.where(mixed, np.maximum(heat - slices, -lump.latent), -np.inf))
        high = np.where(water, np.inf, np.where(mixed, np.minimum(heat + slices, 0.0), -lump.latent))
    slope = outward + falls  # of the heat that leaves, with temperature [W/(m K)]
    pace = slope / capacity  # [1/s] at which the lump nears its balance
    after = heat + leaving * np.expm1(-pace * left) / pace
    ends = np.minimum(np.maximum(after, low), high)
    early, spent = ends != after, left
    if early.any():
        evenly = np.where(early, (heat - ends) / np.where(early, leaving, 1.0), 0.0)
        spent = np.where(early, np.minimum(-np.log1p(-pace * evenly) / pace, left), left)
    given = gives if tape is None else gives * spent + falls / slope * (leaving * spent + ends - heat)
    return ends, spent, given, early & water


def _spread(values, ahead: int, shape: tuple):
    """Values whose first axes (as many as `ahead`) stand before a run's own lists, for every case of `shape`, the
    cases laid flat.
    """
    first = values.shape[:ahead]
    return np.broadcast_to(_beside(values, ahead, shape), first + shape).reshape(first + (-1,))


def _beside(values, ahead: int, shape: tuple):
    """Values with the axes between their first ones and their last that let them broadcast with cases of `shape`."""
    first, own = values.shape[:ahead], values.shape[ahead:]
    return values.reshape(first + (1,) * (len(shape) - len(own)) + own)


def _read(table, temperature):
    """Conductance at a temperature [degC, 0 and above], straight between the rows."""
    if not temperature.any():
        return table[0]
    row = np.minimum((ROWS * np.sqrt(temperature / WARMEST)).astype(int), ROWS - 1)
    columns, below = np.arange(len(temperature)), TABLE[row]
    low = table[row, columns]
    return low + (temperature - below) / (TABLE[row + 1] - below) * (table[row + 1, columns] - low)
