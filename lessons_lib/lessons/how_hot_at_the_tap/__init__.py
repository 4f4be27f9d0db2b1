"""Lesson 02: pipe, length, insulation and set temperature together."""

from .panel import main as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
