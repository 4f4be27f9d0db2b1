"""Lesson 05: cut lengths, depth marks, supports and bars to buy."""

from .panel import measure_cut as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
