"""Lesson 03: where the tank stands, and which size leads to the far tap."""

from .panel import waiting as panel
from .words import by_hand, cautions, guess

__all__ = ["by_hand", "cautions", "guess", "panel"]
