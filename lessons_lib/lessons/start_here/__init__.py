"""The start page: units, a check of the installation and a first panel."""

from .page import check, units
from .panel import first as panel

__all__ = ["check", "panel", "units"]
