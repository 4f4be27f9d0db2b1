"""Heat transfer films: air around a pipe, water inside it."""

import numpy as np

from .properties import GRAVITY, KELVIN, Water, air

LAMINAR_END, TURBULENT_START = 2300.0, 4000.0
LEAST = 1e-300  # in place of 0, which has no logarithm
LAMINAR_NUSSELT = 3.66  # fully developed, wall at one temperature


def _power(base, exponent):
    """Gives base ** exponent for base > 0, twice as fast as numpy's own on arrays; these films are the hot loop."""
    return np.exp(exponent * np.log(base))


def churchill_chu(rayleigh, prandtl):
    """Nusselt number of a long horizontal cylinder in still fluid.

    Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049, the equation for all Rayleigh numbers to 1e12.
    """
    shape = _power(1 + _power(0.559 / prandtl, 9 / 16), -8 / 27)
    root = 0.60 + 0.387 * _power(np.maximum(rayleigh, LEAST), 1 / 6) * shape
    return root * root


def churchill_bernstein(reynolds, prandtl):
    """Nusselt number of a cylinder in cross flow.

    Churchill and Bernstein, J. Heat Transfer 99 (1977) 300, Re Pr > 0.2.
    """
    shape = _power(prandtl, 1 / 3) / np.sqrt(np.sqrt(1 + _power(0.4 / prandtl, 2 / 3)))
    return 0.3 + 0.62 * np.sqrt(reynolds) * shape * _power(
        1 + _power(np.maximum(reynolds / 282_000, LEAST), 5 / 8), 4 / 5
    )


def outside_coefficient(diameter, surface, air_temperature, wind):
    """Convection coefficient of a horizontal pipe in air [W/(m2 K)], and the share of it that still air gives.

    diameter [m], surface [degC], air_temperature [degC], wind [m/s], all broadcast.
    Properties at the film temperature. Still air and wind together: Nu = (Nu_still^4 + Nu_wind^4)^(1/4),
    Churchill's rule for assisting flows (AIChE J. 23 (1977) 10). No wind leaves the still-air equation alone.
    """
    film = 0.5 * (surface + air_temperature)
    properties = air(film)
    viscous_speed = properties.kinematic_viscosity / diameter
    buoyancy = GRAVITY * diameter * np.abs(surface - air_temperature) / (film + KELVIN)
    grashof = buoyancy / (viscous_speed * viscous_speed)
    still = churchill_chu(grashof * properties.prandtl, properties.prandtl)
    if not np.any(wind):
        return still * properties.conductivity / diameter, 1.0
    forced = churchill_bernstein(wind * diameter / properties.kinematic_viscosity, properties.prandtl)
    still_4 = np.square(np.square(still))
    both_4 = still_4 + np.where(np.asarray(wind) > 0, np.square(np.square(forced)), 0.0)
    nusselt = np.sqrt(np.sqrt(both_4))
    return nusselt * properties.conductivity / diameter, still_4 / both_4


def gnielinski(reynolds, prandtl):
    """Nusselt number of turbulent flow in a smooth tube, Re > 3000.

    Gnielinski, Int. Chem. Eng. 16 (1976) 359, with Petukhov's smooth friction factor (0.79 ln Re - 1.64)^-2.
    """
    eighth = 0.125 * (0.79 * np.log(reynolds) - 1.64) ** -2
    return eighth * (reynolds - 1000) * prandtl / (1 + 12.7 * np.sqrt(eighth) * (_power(prandtl, 2 / 3) - 1))


def reynolds_number(diameter, viscosity, mass_flow):
    """Gives the Reynolds number [-] of water in a pipe. diameter [m], viscosity [Pa s], mass_flow [kg/s]"""
    return 4 * mass_flow / (np.pi * diameter * viscosity)


def inside_resistance(diameter, properties: Water, mass_flow):
    """Resistance of the water film in flowing water, per metre of pipe [m K/W].

    diameter [m], properties of the water there, mass_flow [kg/s] > 0, all broadcast.
    Laminar Nu = 3.66 to Re 2300: forced flow alone, fully developed, which insulates best (see physics.delivery on
    buoyancy); Gnielinski from Re 4000; a straight line in Re between them
    (Gnielinski, Int. J. Heat Mass Transfer 63 (2013) 134).
    """
    reynolds = reynolds_number(diameter, properties.viscosity, mass_flow)
    turbulent = gnielinski(np.maximum(reynolds, TURBULENT_START), properties.prandtl)
    blend = np.minimum(np.maximum((reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END), 0), 1)
    nusselt = LAMINAR_NUSSELT + blend * (turbulent - LAMINAR_NUSSELT)
    return 1 / (np.pi * properties.conductivity * nusselt)


def no_film(diameter, properties: Water, mass_flow):
    """Gives the same as inside_resistance for water whose film is left out: it loses the most heat, the cautious side
    in
    frost."""
    return 0.0
