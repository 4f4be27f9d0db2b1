"""The list of solvers by name."""

_SOLVERS = {}


def solves(function):
    """Decorator: the function answers to its own name in the questions."""
    _SOLVERS[function.__name__] = function
    return function


def solvers() -> dict:
    """Every solver by name."""
    return dict(_SOLVERS)
