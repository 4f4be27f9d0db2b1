"""Lesson 01: the tank's setting, the mixing valve's, and where the valve belongs."""

from .burn_times import burn_times
from .panel import hot_enough as panel
from .words import advice, by_hand, guess

__all__ = ["advice", "burn_times", "by_hand", "guess", "panel"]
