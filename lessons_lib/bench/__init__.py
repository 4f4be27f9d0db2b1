"""Readings at a rig, and the model fitted to them."""
