"""Lesson 10: order of work, purging, vessel, setting the valve, hand-over."""

from .panel import pressures as panel
from .purging import purge
from .sequence import sequence
from .set_valve import set_valve
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel", "purge", "sequence", "set_valve"]
