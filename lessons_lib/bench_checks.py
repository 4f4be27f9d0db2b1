"""Readings that cannot be right in the experiment that they come from: left out, each with its row and the reason."""

import numpy as np

from .errors import InputError
from .readings import Readings
from .units import quantity

SCATTERS = 5.0  # a reading that stands so many scatters off its neighbours is not one of them
LEAST_STEP = 0.5  # [K] below this nobody calls it a step: a thermometer's last digit, a draught
BEYOND = 2.0  # [K] outside what the experiment allows; thermometers are seldom further off
SUSTAINED = 3  # readings in a row that make a rise more than an odd one
TO_SCATTER = 1.4826 / np.sqrt(20.0)  # from the median size of third differences to a standard deviation


def scatter(values) -> float:
    """Standard deviation of the noise [K], from third differences: a smooth curve hardly has any. values : (n,)"""
    return float(TO_SCATTER * np.median(np.abs(np.diff(values, 3)))) if len(values) > 3 else 0.0


def limit_of(values) -> float:
    """How far a reading may stand off before it counts as odd [K]."""
    return max(SCATTERS * scatter(values), LEAST_STEP)


def within(readings: Readings, low: float, high: float, low_words: str, high_words: str) -> Readings:
    """Without the readings more than 2 K outside what the experiment allows [degC]."""
    values = readings.temperature.magnitude
    cold, hot = values < low - BEYOND, values > high + BEYOND
    if np.sum(~(cold | hot)) < len(values) / 2:
        side, words = (cold, low_words) if cold.sum() > hot.sum() else (hot, high_words)
        raise InputError(
            f"{readings.name}: {side.sum()} of {len(values)} readings are {words}, the first in row {readings.row[side][0]} "
            f"({_celsius(values[side][0])}). Check the temperatures that you gave, and the unit in the header."
        )
    return _without(readings, cold | hot, lambda place: f"{_celsius(values[place])} is {low_words if cold[place] else high_words}")


def near_neighbours(readings: Readings, order=None) -> Readings:
    """Without single readings that stand apart from the two before and the two after them.

    order : (n,) places of the readings in order along the run; None: as they are
    Held against the middle one of five; where readings only rise or only fall, each is its own. The first and the last
    have no neighbours on one side and stay.
    """
    order = np.arange(len(readings.row)) if order is None else order
    values, limit = readings.temperature.magnitude[order], limit_of(readings.temperature.magnitude[order])
    if len(values) < 5:
        return readings
    odd = np.abs(values - _middle(values)) > limit
    # Once more without the odd ones, which moved the middle of those beside them.
    off = np.empty(len(values))
    off[order] = values - _middle(np.where(odd, _middle(values), values))
    return _without(readings, np.abs(off) > limit, lambda place: f"stands {abs(off[place]):.1f} K off its neighbours")


def _middle(values):
    """The middle one of five around each value, of three for the second and the last but one. values : (n,), n at least 5"""
    middle = values.copy()
    middle[2:-2] = np.median(np.lib.stride_tricks.sliding_window_view(values, 5), axis=1)
    middle[1], middle[-2] = np.median(values[:3]), np.median(values[-3:])
    return middle


def only_falling(readings: Readings, lagging: bool, cooling: bool = True) -> Readings:
    """Without what cannot be standing water that cools (or warms): readings before the thermometer had caught up, and all
    that follows once the water was warmed (or cooled) again.

    lagging : True where the fit follows the thermometer itself; its first readings then stay
    """
    signed = readings.temperature.magnitude * (1 if cooling else -1)
    limit, rising, back = limit_of(signed), *(("rising", "warmer") if cooling else ("falling", "colder"))
    if not lagging:
        early = np.arange(len(signed)) < _caught_up(readings.time.magnitude, signed, limit)
        if np.any(early):
            readings = readings.without(early, "the thermometer had not caught up with the water: the next readings show where it stood")
            signed = signed[~early]
    smooth = signed.copy()
    smooth[1:-1] = np.median(np.lib.stride_tricks.sliding_window_view(signed, 3), axis=1)
    from_here = int(np.argmax(smooth)) if lagging else 0
    above = smooth - np.minimum.accumulate(smooth[from_here:])[np.maximum(np.arange(len(smooth)) - from_here, 0)] > limit
    above[:from_here] = False
    runs = np.flatnonzero(np.convolve(above, np.ones(SUSTAINED), "valid") == SUSTAINED) if len(above) >= SUSTAINED else []
    if len(runs):
        word = "cooling" if cooling else "warming"
        return readings.without(
            np.arange(len(signed)) >= runs[0],
            f"{rising} while {word}: from row {readings.row[runs[0]]} on the water is {back} again, so this is no longer the same {word}",
        )
    return readings


def _caught_up(times, signed, limit: float) -> int:
    """Place of the first reading that a falling curve can begin with. times [s]; signed : (n,), falling once it is right

    The highest, if the readings climb to it; and none that lies below the straight line through the next two: a curve of
    cooling bends upwards.
    """
    first = int(np.argmax(signed[: max(len(signed) // 2, 1)]))
    if signed[first] - signed[0] <= limit:
        first = 0
    while first < len(signed) // 4:
        (t0, t1, t2), (here, after, later) = times[first : first + 3], signed[first : first + 3]
        if here >= after + (after - later) * (t1 - t0) / (t2 - t1) - 1.5 * limit:
            break
        first += 1
    return first


def inside_run(readings: Readings, length: float) -> Readings:
    """Without places beyond the end of the run. length [m]"""
    places = readings.place.magnitude
    words = "{:.4g} m is beyond the end of the run, {:.4g} m"
    return _without(readings, places > length * (1 + 1e-6), lambda place: words.format(places[place], length))


def need(readings, along: bool, what: str) -> Readings:
    """The readings, if they are of the right kind for an experiment; else an InputError."""
    if not isinstance(readings, Readings):
        raise InputError(f'{what}: {str(readings)[:60]!r} was given where Readings are needed, for example Readings.from_csv("cooling.csv").')
    if readings.along != along:
        have, want = ("places", "times") if readings.along else ("times", "places")
        raise InputError(f"{readings.name}: these readings have {have}; {what} needs {want}. Choose the other experiment or another file.")
    return readings


def must_change(readings: Readings, what: str) -> None:
    """An InputError where the temperatures hardly change: nothing can be fitted to a flat line."""
    values = readings.temperature.magnitude
    change, noise = np.ptp(values), scatter(values)
    if change <= max(6 * noise, 0.2):
        raise InputError(
            f"{readings.name}: the readings are flat: they change by {change:.2g} K in all, rows {readings.row[0]} to {readings.row[-1]}, and scatter by "
            f"about {noise:.1g} K. {what}"
        )


def _without(readings: Readings, bad, reason) -> Readings:
    """Without the bad ones; `reason` says why from a place in the list."""
    return readings.without(bad, [reason(place) for place in np.flatnonzero(bad)]) if np.any(bad) else readings


def _celsius(value: float) -> str:
    both = quantity(value, "degC")
    return f"{both:.4g~P} ({both.to('degF'):.4g~P})"
