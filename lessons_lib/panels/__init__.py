"""Live panels: controls in, picture and read-outs out. Each is one call with no arguments."""

from .first import first
from .guess import Guess, guess_temperature
from .main import main
from .pages import Answer, Legend, Told, Words
from .panel import Panel
from .start import check, units

__all__ = ["Answer", "Guess", "Legend", "Panel", "Told", "Words", "check", "first", "guess_temperature", "main", "units"]
