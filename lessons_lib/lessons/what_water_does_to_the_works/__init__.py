"""Lesson 13: hardness and scale, the limits of plastic, water hammer, and metals together."""
