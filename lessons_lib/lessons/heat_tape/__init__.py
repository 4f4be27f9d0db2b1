"""Lesson 08: what a heat tape gives, what it needs, what a power cut means; and the circuit of an outdoor unit."""

from .panel import heat_tape as panel
from .unit_circuit import unit_circuit
from .unit_words import unit_cautions, unit_sums
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "panel", "unit_cautions", "unit_circuit", "unit_sums"]
