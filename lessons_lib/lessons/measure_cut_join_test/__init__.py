"""Lesson 05: cut lengths, depth marks, supports and bars to buy."""

from .buying_bars import bars
from .joining import joining
from .panel import measure_cut as panel
from .testing import testing
from .words import by_hand, guess

__all__ = ["bars", "by_hand", "guess", "joining", "panel", "testing"]
