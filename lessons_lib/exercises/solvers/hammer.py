"""Taps that shut at once."""

from ...physics import hammer as physics
from ...quantities.units import Q_
from .registry import solves

DENSITY = Q_(1000.0, "kg/m**3")  # as the questions state it


@solves
def hammer_rise(speed, wave):
    """Rise of pressure where water is stopped at once."""
    found = physics.sudden_rise(*(one.to_base_units().magnitude for one in (DENSITY, wave, speed)))
    return Q_(found, "Pa")


@solves
def pressure_of_speed(speed):
    """Half the density times the speed squared: a slip."""
    return (DENSITY * speed**2 / 2).to("Pa")


@solves
def there_and_back(length, wave):
    """Time in which a wave runs to the main and back."""
    return Q_(physics.there_and_back(length.to("m").magnitude, wave.to("m/s").magnitude), "s")
