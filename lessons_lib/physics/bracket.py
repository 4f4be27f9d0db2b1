"""Statics of a unit on wall brackets."""

from .properties import GRAVITY

AIR_DENSITY = 1.225  # [kg/m3] at 15 degC and 101.325 kPa: the ISO standard atmosphere (ISO 2533, from memory)


def weight(mass):
    """Gives the weight [N] of a mass [kg]."""
    return GRAVITY * mass


def moment(load, arm):
    """That turns the bracket over [N m]. load [N], arm : from the wall to the centre of gravity [m]"""
    return load * arm


def bolt_tension(overturning, spacing, top_bolts):
    """Pull on each upper bolt [N], the bracket turning about its lower bolts: M/(n b).

    overturning [N m], spacing b : from lower to upper bolts [m], top_bolts n : in all brackets together
    """
    return overturning / (top_bolts * spacing)


def bolt_shear(load, bolts):
    """Share of the load across each bolt [N]. load [N], bolts : in all brackets together"""
    return load / bolts


def wind_pressure(speed):
    """Pressure of wind brought to rest [Pa]: half rho V squared. speed [m/s]"""
    return 0.5 * AIR_DENSITY * speed**2
