"""Drawings of results: axes in, artists out. Matplotlib only; no widget, no pyplot."""
