"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""

from .materials_together import materials_together
from .plastic_limits import plastic_limits
from .water_hammer import water_hammer

__all__ = ["materials_together", "plastic_limits", "water_hammer"]
