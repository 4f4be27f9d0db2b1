"""Live panels: controls in, picture and read-outs out. Each is one call with no arguments."""

from .main import main

__all__ = ["main"]
