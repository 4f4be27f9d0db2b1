"""What works out answers, wrong answers and steps of the questions: pure functions by name.

A question names a solver and what it is given; nothing of a question is ever run as code. Arguments are quantities in
the unit in which the learner reads them, names (text) or plain numbers. Results are quantities, the key of an option,
keys in order, or a float: a figure in the unit of the answer, as somebody gets it who reckons with figures and forgets
their units.
"""

from . import (  # noqa: F401  each registers its functions
    arithmetic,
    cabin,
    circuits,
    circulation,
    hammer,
    handing_over,
    heat,
    pipes,
    tanks,
    water_side,
    works,
)
from .registry import solvers

__all__ = ["solvers"]
