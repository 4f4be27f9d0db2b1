"""The instructor's notes on the outdoor unit: its bracket. Its circuit has its panel in lesson 08."""

from .panel import outdoor_unit as panel
from .words import cautions, sums

__all__ = ["cautions", "panel", "sums"]
