"""Lesson 12: what a real rig says, and what its insulation is really worth."""

from .panel import bench as panel
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel"]
