"""A night or a power cut, step by step: standing water that cools, freezes, thaws, with or without a heat tape.

One lump of water and pipe wall per metre, followed by its heat (the enthalpy method): heat that is missing at 0 degC is
ice, and once all is ice its temperature falls on. Losses are worked out beforehand over water temperature for every row
of the weather and read by straight lines, so that a step costs a few array operations; a step follows the exact
exponential of a constant conductance, so that it is safe at an hour as at a minute.
"""

from typing import NamedTuple

import numpy as np

from .freezing import LATENT_HEAT_OF_VOLUME, ice_resistance
from .line import Line, heat_capacity
from .properties import water

SPACING = 12.5  # [K]
TABLE = SPACING * np.arange(9)  # [degC] water temperatures at which losses are worked out
ICE_HEAT = 917.0 * 2100.0  # [J/(m3 K)] of ice (2.1 kJ/(kg K) at 0 degC, Cengel, as quoted in secondary literature)
MOST_ICE = 0.9999  # share at which the last water counts as frozen: its own resistance would have no end


class Loss(NamedTuple):
    """Conductance to rest [W/(m K)] at TABLE's temperatures, (len(TABLE), n) + S, and rest [degC], (n,) + S."""

    conductance: np.ndarray
    rest: np.ndarray


class Record(NamedTuple):
    """At each time, (n,) + S: water or ice [degC], share of the bore that is ice, power of the tape [W/m],
    heat above water at 0 degC [J/m]."""

    temperature: np.ndarray
    ice_share: np.ndarray
    tape_power: np.ndarray
    heat: np.ndarray


def tabulate(line: Line) -> Loss:
    """Losses of a line whose surroundings carry the weather: arrays of shape (n,) + S."""
    rest = np.asarray(line.rest(), dtype=float)
    shape = np.broadcast_shapes(line.shape, rest.shape)
    temperatures = TABLE.reshape((-1,) + (1,) * len(shape))
    conductance, _ = line.conductance(temperatures + np.zeros(shape), rest)
    return Loss(np.broadcast_to(conductance, (len(TABLE),) + shape), np.broadcast_to(rest, shape))


def capacities(line: Line, wall_density_heat):
    """Of water and wall at 5 degC, and of ice and wall [J/(m K)]; and the latent heat of a full bore [J/m]."""
    _, section = line.parts[0]
    cold = water(5.0)
    bore = 0.25 * np.pi * section.inside_diameter**2
    liquid = heat_capacity(section, cold.density * cold.heat_capacity, wall_density_heat)
    return liquid, heat_capacity(section, ICE_HEAT, wall_density_heat), LATENT_HEAT_OF_VOLUME * bore


def march(loss: Loss, capacity, start, step: float, tape=None, thermostat=np.inf, powered=None, pump=None) -> Record:
    """Follow the lump through the weather.

    loss : from `tabulate`, one row a step; n rows give n - 1 steps
    capacity : the three of `capacities`
    start [degC], shape S; step [s]
    tape : pipe temperature [degC] → power that it can give [W/m]; None: no tape
    thermostat : the tape gives no more than brings the pipe to this temperature [degC]
    powered : (n,) of bool: tape and pump have power; None: always
    pump : temperature that circulating water keeps the run at while it has power [degC]; None: no pump
    """
    count, shape = len(loss.rest), np.broadcast_shapes(loss.rest.shape[1:], np.shape(start), np.shape(capacity[0]))
    powered = np.ones(count, dtype=bool) if powered is None else powered
    flat = lambda value: np.broadcast_to(value, shape).ravel()  # noqa: E731
    liquid, solid, latent = (flat(value) for value in capacity)
    conductance, rests = _spread(loss.conductance, 2, shape), _spread(loss.rest, 1, shape)
    heat, columns = liquid * flat(start), np.arange(liquid.size)  # heat above water at 0 degC [J/m]
    record = Record(*(np.zeros((count, liquid.size)) for _ in Record._fields))
    for number in range(count):
        if pump is not None and powered[max(number - 1, 0) : number + 1].any():  # also to the end of its last step
            heat = liquid * flat(pump)
        temperature = np.maximum(heat, 0) / liquid + np.minimum(heat + latent, 0) / solid
        share = np.minimum(np.maximum(-heat / latent, 0), 1)
        outward, rest = _read(conductance[:, number], np.maximum(temperature, 0), columns), rests[number]
        gives = 0.0
        if tape is not None and powered[number]:
            brings = outward * (thermostat - rest) + liquid * (thermostat - temperature) / step
            gives = np.maximum(np.where(share > 0, tape(temperature), np.minimum(tape(temperature), brings)), 0.0)
        for kept, value in zip(record, (temperature, share, gives, heat)):
            kept[number] = value
        heat = heat - step * _leaving(outward, temperature - rest, share, gives, liquid, solid, step)
    return Record(*(item.reshape((count,) + shape) for item in record))


def _spread(values, ahead: int, shape: tuple):
    """Values whose first axes (as many as `ahead`) stand before a run's own lists, for every case of `shape`, the cases laid flat."""
    first = values.shape[:ahead]
    return np.broadcast_to(_beside(values, ahead, shape), first + shape).reshape(first + (-1,))


def _beside(values, ahead: int, shape: tuple):
    """Values with the axes between their first ones and their last that let them broadcast with cases of `shape`."""
    first, own = values.shape[:ahead], values.shape[ahead:]
    return values.reshape(first + (1,) * (len(shape) - len(own)) + own)


def first_ice(heat, liquid, rest, seconds):
    """When the water of a record first reaches 0 degC [s], on the exponential within its step; inf where it never does.

    heat [J/m], (n,) + S; liquid : capacity [J/(m K)]; rest [degC], (n,) + what broadcasts with S; seconds, (n,)
    """
    icy = heat <= 0
    after = np.argmax(icy, axis=0)
    ahead = np.maximum(after - 1, 0)
    settles, virtual = np.broadcast_to(_beside(rest, 1, heat.shape[1:]), heat.shape), heat / liquid
    warm, cool, end = (np.take_along_axis(values, ahead[np.newaxis], axis=0)[0] for values in (virtual, np.roll(virtual, -1, axis=0), settles))
    falls = icy.any(axis=0) & (warm > 0) & (end < cool)
    from_rest, to_rest, at_zero = (np.where(falls, value, other) for value, other in ((warm - end, 2.0), (cool - end, 1.0), (-end, 2.0)))
    share = np.log(from_rest / at_zero) / np.log(from_rest / to_rest)
    return np.where(icy.any(axis=0), seconds[ahead] + share * (seconds[after] - seconds[ahead]), np.inf)


def _read(table, temperature, columns):
    """Conductance at a temperature [degC, 0 and above], straight between the rows."""
    place = temperature / SPACING
    row = np.minimum(place.astype(int), len(TABLE) - 2)
    low = table[row, columns]
    return low + (place - row) * (table[row + 1, columns] - low)


def _leaving(outward, above_rest, share, gives, liquid, solid, step):
    """Mean heat that leaves the lump over a step [W/m]."""
    if share.any():
        ice = ice_resistance(np.minimum(share, MOST_ICE))
        melting = (share > 0) & (share < 1)
        outward = np.where(melting, outward / (1 + outward * ice), outward)
        decay = outward * step / np.where(share > 0, solid, liquid)
        mean = np.where(melting, 1.0, -np.expm1(-decay) / decay)
    else:
        decay = outward * step / liquid
        mean = -np.expm1(-decay) / decay
    return (outward * above_rest - gives) * mean
