"""Lesson 09: the loop between heat pump and tank."""

from .panel import outdoor_loop as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
