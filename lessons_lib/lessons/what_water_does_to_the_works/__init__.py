"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""

from .panel import hardness_and_scale as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
