"""The panel kit: what lessons and the classroom make their live panels, guesses and questions from."""

from .exercises import exercises
from .guess import Guess, guess_temperature
from .pages import Legend, Told, Words, on_page
from .panel import Panel
from .sign_in import Who

__all__ = ["Guess", "Legend", "Panel", "Told", "Who", "Words", "exercises", "guess_temperature", "on_page"]
