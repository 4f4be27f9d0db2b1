"""The reader's own building: a layout file and every question that can be asked of it."""

from .document import LayoutDocument
from .layout import Layout
from .read import load_layout

__all__ = ["Layout", "LayoutDocument", "load_layout"]
