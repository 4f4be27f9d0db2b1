"""Arithmetic of a single-phase circuit with a continuous load: amps, breaker, longest tape, voltage drop."""

import numpy as np

CONTINUOUS = 1.25  # rating over continuous load: NEC 210.19(A)(1), 210.20(A), 427.4, as quoted in secondary literature
COPPER_TEMPERATURE = 20.0  # [degC] at which cables are listed
COPPER_COEFFICIENT = 0.00393  # [1/K] of the resistance of annealed copper at 20 degC: IEC 60028 (from memory)


def current(power, voltage):
    """Of a heater, whose power factor is 1 [A]. power [W], voltage [V]"""
    return power / voltage


def continuous_limit(rating):
    """Largest continuous load of a circuit: 80 % of the breaker's rating [A]. rating [A]"""
    return rating / CONTINUOUS


def least_rating(load):
    """Rating that cable and breaker need at least for a continuous load: 125 % of it [A]. load [A]"""
    return CONTINUOUS * load


def next_standard(rating, standard):
    """The smallest standard rating that is not below `rating` [A]; inf: none is that large. standard [A], rising, (n,)"""
    ladder = np.append(standard, np.inf)
    return ladder[np.searchsorted(ladder, np.asarray(rating) * (1 - 1e-12))]


def longest_tape(power, voltage, rating):
    """Length of tape that loads a breaker to its continuous limit [m]. power [W/m], voltage [V], rating [A]"""
    return continuous_limit(rating) * voltage / power


def conductor_resistance(listed, temperature):
    """Resistance of a copper conductor when warm [ohm/m]. listed [ohm/m] at 20 degC, temperature [degC]"""
    return listed * (1 + COPPER_COEFFICIENT * (temperature - COPPER_TEMPERATURE))


def voltage_drop(resistance, length, load):
    """Lost along both conductors of a supply cable [V]. resistance of one [ohm/m], length one way [m], load [A]"""
    return 2 * resistance * length * load
