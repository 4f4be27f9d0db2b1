"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""

from .hammer_words import hammer_by_hand
from .materials_together import materials_together
from .plastic_limits import plastic_limits
from .water_hammer import water_hammer

__all__ = ["hammer_by_hand", "materials_together", "plastic_limits", "water_hammer"]
