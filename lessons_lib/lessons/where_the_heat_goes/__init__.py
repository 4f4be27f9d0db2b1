"""Lesson 06: how much insulation is worth fitting, and where a gap undoes it."""

from .panel import heat_goes as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
