"""The panel kit: what lessons and the classroom make their live panels, guesses and questions from."""

from .exercises import exercises
from .guess import Guess, guess_temperature
from .pages import Legend, Told, Words, on_page
from .panel import Panel
from .sign_in import Who
from .tries import Step, StepList, Try

__all__ = [
    "Guess",
    "Legend",
    "Panel",
    "Step",
    "StepList",
    "Told",
    "Try",
    "Who",
    "Words",
    "exercises",
    "guess_temperature",
    "on_page",
]
