"""Lesson 04: the smallest pipe that still feeds the tap."""

from .panel import pipe_size as panel
from .words import by_hand, cautions, guess

__all__ = ["by_hand", "cautions", "guess", "panel"]
