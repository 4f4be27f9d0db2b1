"""Lesson 07: whether a run survives the night or a power cut."""

from .panel import freeze as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
