"""Lesson 14: hot water that comes back through a return, two branches on one pump, and a loop that runs by itself."""

from .balancing import balancing
from .panel import recirculation as panel
from .thermosiphon import thermosiphon
from .words import by_hand, guess

__all__ = ["balancing", "by_hand", "guess", "panel", "thermosiphon"]
