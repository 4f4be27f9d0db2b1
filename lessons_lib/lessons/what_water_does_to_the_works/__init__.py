"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""

from .water_hammer import water_hammer

__all__ = ["water_hammer"]
