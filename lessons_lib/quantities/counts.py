"""Whole numbers: fittings, pieces, bolts."""

import math

import numpy as np

from .errors import InputError


def whole(value, name: str, least: int = 0) -> int:
    """A whole number of at least `least`, or an InputError that begins with `name`."""
    real = isinstance(value, (int, float, np.integer, np.floating)) and not isinstance(value, bool)
    if not real or not math.isfinite(value) or value != int(value) or value < least:
        raise InputError(f"{name}: {value!r} was given; possible is a whole number, {least} or more.")
    return int(value)
