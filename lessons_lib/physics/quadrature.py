"""Gauss-Legendre nodes shared by the methods that integrate over temperature or ice instead of stepping in time."""

from functools import cache

import numpy as np


@cache
def nodes(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Nodes and weights on 0 to 1, both of shape (count,)."""
    places, weights = np.polynomial.legendre.leggauss(count)
    return 0.5 * (places + 1), 0.5 * weights


def integral(function, upper, count: int = 16):
    """Integral of `function` from 0 to `upper`; `upper` of shape S, the function maps (count,)+S to (count,)+S."""
    places, weights = nodes(count)
    upper = np.asarray(upper, dtype=float)
    values = function(np.multiply.outer(places, upper))
    return np.tensordot(weights, values, axes=1) * upper
