"""Filling and purging a leg: its volume, how long a flow takes to change it, whether that flow carries air along."""

import numpy as np

CARRIES_AIR = 0.6  # [m/s] moves air down a leg (common practice, no source)


def area(inside_diameter):
    """Area of the bore [m2]. inside_diameter [m]"""
    return 0.25 * np.pi * np.square(inside_diameter)


def leg_volume(inside_diameter, length):
    """Water in a leg [m3]. inside_diameter, length [m]"""
    return area(inside_diameter) * length


def seconds_to_change(volume, flow, changes):
    """Seconds for `flow` [m3/s] to replace `volume` [m3] so many times, one leg at a time."""
    return changes * np.divide(volume, flow)


def speed(flow, inside_diameter):
    """Gives the mean speed [m/s] of a flow in a bore. flow [m3/s], inside_diameter [m]"""
    return np.divide(flow, area(inside_diameter))
