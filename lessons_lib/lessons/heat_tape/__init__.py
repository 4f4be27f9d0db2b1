"""Lesson 08: what a heat tape gives, what it needs, and what a power cut means."""

from .panel import heat_tape as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
