"""The start page: units, a check of the installation, a first panel and how far the learner has come."""

from .page import check, units
from .panel import first as panel
from .progress import progress

__all__ = ["check", "panel", "progress", "units"]
