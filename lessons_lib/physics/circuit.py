"""Arithmetic of a single-phase circuit with a continuous load or a compressor: amps, breaker, tape, voltage drop.

`factor` is what a region's rule multiplies a continuous load, or a compressor's, by (data/circuits.csv).
"""

import numpy as np

COPPER_TEMPERATURE = 20.0  # [degC] at which cables are listed
COPPER_COEFFICIENT = 0.00393  # [1/K] of the resistance of annealed copper at 20 degC: IEC 60028 (from memory)


def current(power, voltage):
    """Gives the current [A] of a heater, whose power factor is 1. power [W], voltage [V]"""
    return power / voltage


def continuous_limit(rating, factor):
    """Largest continuous load of a circuit, the breaker's rating over the factor [A]. rating [A]"""
    return rating / factor


def least_rating(load, factor):
    """Rating that cable and breaker need at least for a continuous load [A]. load [A]"""
    return factor * load


def next_standard(rating, standard):
    """The smallest standard rating that is not below `rating` [A]; inf: none is that large. standard [A], rising,
    (n,)
    """
    ladder = np.append(standard, np.inf)
    return ladder[np.searchsorted(ladder, np.asarray(rating) * (1 - 1e-12))]


def last_standard(rating, standard):
    """The largest standard rating that is not above `rating` [A]; 0: none is that small. standard [A], rising, (n,)"""
    ladder = np.append(0.0, standard)
    return ladder[np.searchsorted(ladder, np.asarray(rating) * (1 + 1e-12), side="right") - 1]


def of_compressor(compressor, others, factor):
    """A compressor's current times a rule's factor, and all other loads once [A]. compressor, others [A]"""
    return factor * compressor + others


def longest_tape(power, voltage, rating, factor):
    """Length of tape that loads a breaker to its continuous limit [m]. power [W/m], voltage [V], rating [A]"""
    return continuous_limit(rating, factor) * voltage / power


def conductor_resistance(listed, temperature):
    """Resistance of a copper conductor when warm [ohm/m]. listed [ohm/m] at 20 degC, temperature [degC]"""
    return listed * (1 + COPPER_COEFFICIENT * (temperature - COPPER_TEMPERATURE))


def voltage_drop(resistance, length, load):
    """Lost along both conductors of a supply cable [V]. resistance of one [ohm/m], length one way [m], load [A]"""
    return 2 * resistance * length * load
