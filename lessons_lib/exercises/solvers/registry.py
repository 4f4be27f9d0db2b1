"""The list of solvers by name."""

_SOLVERS = {}


def solves(function):
    """Marks a function as a solver: the function answers to its own name in the questions."""
    _SOLVERS[function.__name__] = function
    return function


def solvers() -> dict:
    """Gives every solver by its name."""
    return dict(_SOLVERS)
