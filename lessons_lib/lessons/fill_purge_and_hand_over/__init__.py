"""Lesson 10: order of work, purging, vessel, setting the valve, hand-over."""

from .discharging import discharge
from .handing_over import hand_over
from .more_by_hand import relief_table
from .panel import pressures as panel
from .purging import purge
from .sequence import sequence
from .set_valve import set_valve
from .words import by_hand, guess

__all__ = ["by_hand", "discharge", "guess", "hand_over", "panel", "purge", "relief_table", "sequence", "set_valve"]
