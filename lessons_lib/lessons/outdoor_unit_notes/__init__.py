"""The instructor's notes on the outdoor unit: bracket and circuit."""

from .panel import outdoor_unit as panel
from .words import cautions, sums

__all__ = ["cautions", "panel", "sums"]
