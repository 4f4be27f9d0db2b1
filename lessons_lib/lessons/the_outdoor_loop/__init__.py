"""Lesson 09: the loop between heat pump and tank."""

from .frost_outside import frost_outside
from .panel import outdoor_loop as panel
from .pump_on_the_loop import pump_on_the_loop
from .tank_and_units import tank_and_units
from .words import by_hand, guess
from .words_of_water import water_by_hand

__all__ = ["by_hand", "frost_outside", "guess", "panel", "pump_on_the_loop", "tank_and_units", "water_by_hand"]
