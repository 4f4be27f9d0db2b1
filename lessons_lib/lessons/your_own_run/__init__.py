"""Lesson 11: everything before for the reader's own building."""

from .panel import own_run as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
