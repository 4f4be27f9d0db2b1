"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""

from .hammer_words import hammer_by_hand
from .materials_together import materials_together
from .panel import hardness_and_scale as panel
from .plastic_limits import plastic_limits
from .water_hammer import water_hammer
from .words import by_hand, guess

__all__ = ["by_hand", "guess", "hammer_by_hand", "materials_together", "panel", "plastic_limits", "water_hammer"]
