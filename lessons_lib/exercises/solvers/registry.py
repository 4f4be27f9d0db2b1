"""The list of solvers by name."""

from ...errors import unknown_name

_SOLVERS = {}


def solves(function):
    """Decorator: the function answers to its own name in the questions."""
    _SOLVERS[function.__name__] = function
    return function


def solver(name: str):
    """The solver of that name. Raises InputError with the nearest names."""
    if name not in _SOLVERS:
        raise unknown_name("solver", name, sorted(_SOLVERS))
    return _SOLVERS[name]


def solvers() -> dict:
    """Every solver by name."""
    return dict(_SOLVERS)
