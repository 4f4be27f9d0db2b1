"""The water side of a heat pump: rise against flow, ice on the coil, tanks in layers and mixed."""

import numpy as np

from ...physics import layers, moist_air, pump
from ...physics.properties import FREEZING
from ...physics.properties import water as water_properties
from ...quantities.units import Q_
from .heat import kelvins
from .registry import solves


@solves
def rise_across(heat, flow, back):
    """Rise of the water across a heat pump, by the properties of the water that enters it."""
    entering = water_properties(back.to("degC").magnitude)
    found = pump.rise(
        heat.to("W").magnitude, flow.to("m**3/s").magnitude, entering.density, float(entering.heat_capacity)
    )
    return Q_(float(found), "delta_degC")


@solves
def heat_to_melt(mass):
    """Heat that melts ice which is at its freezing point."""
    return Q_(float(moist_air.melting_heat(mass.to("kg").magnitude, FREEZING)), "J")


@solves
def defrost_time(mass, power, share):
    """Time in which a share of a power melts ice. share : a quantity, or a plain number"""
    return heat_to_melt(mass) / (power * share)


@solves
def layered_usable(share, tank, store, cold, mixed):
    """Water that a share of a tank gives, hot in layers over cold. share : a quantity, or a plain number"""
    part = share if isinstance(share, (int, float)) else share.to("").magnitude
    hot = layers.usable(np.array([store.to("degC").magnitude]), cold.to("degC").magnitude, mixed.to("degC").magnitude)
    return tank * (part * float(hot))


@solves
def mixed_tank(share, store, cold):
    """Temperature of a tank that has taken up a share of a full tank's heat and mixed it."""
    return Q_(cold.to("degC").magnitude + share.to("").magnitude * kelvins(store - cold), "degC").to(cold.units)


@solves
def mixed_tank_gives(share, store, cold, mixed):
    """Says whether such a tank gives water at a temperature."""
    return "yes" if mixed_tank(share, store, cold).to("degC") >= mixed.to("degC") else "no"
