"""What a column for the air in the readings does to the model: its mean for a run, or the air over time."""

from dataclasses import replace

import numpy as np

from ..runs.run import Run
from ..runs.surroundings import Ground
from .readings import Readings


def in_measured_air(run: Run, readings) -> Run:
    """The run in the mean of the air that was read; as it is where none was, or where it is buried."""
    air = getattr(readings, "air", None)
    if air is None or isinstance(run.surroundings, Ground):
        return run
    return replace(run, surroundings=replace(run.surroundings, air=np.mean(air), radiant=None))


def air_over_time(readings: Readings | None, rest: float):
    """Seconds since the first reading, and how much warmer than rest [degC] the air was then [K], (n,) each; None: the
    air was not read.
    """
    if readings is None or readings.air is None:
        return None
    clock = readings.time.magnitude
    return clock - clock[0], readings.air.magnitude - rest
