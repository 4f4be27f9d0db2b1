"""Readings that cannot be right in the experiment that they come from: left out, each with its row and the reason."""

import numpy as np

from ..quantities.errors import InputError
from ..quantities.units import quantity
from .readings import Readings

SCATTERS = 5.0  # a reading that stands so many scatters off its neighbours is not one of them
LEAST_STEP = 0.5  # [K] below this nobody calls it a step: a thermometer's last digit, a draught
BEYOND = 2.0  # [K] outside what the experiment allows; thermometers are seldom further off
MOST_ROUNDS = 10
STRETCHES = 3  # whose means tell whether readings change at all
FLAT = 5.5  # scatters of such a mean: means of noise alone hardly ever lie so far apart
LEAST_CHANGE = 0.2  # [K] that readings must change
SUSTAINED = 3  # readings in a row that make a rise more than an odd one
TO_SCATTER = 1.4826 / np.sqrt(20.0)  # from the median size of third differences to a standard deviation


def scatter(values) -> float:
    """Standard deviation of the noise [K], from third differences: a smooth curve hardly has any. values : (n,)"""
    return float(TO_SCATTER * np.median(np.abs(np.diff(values, 3)))) if len(values) > 3 else 0.0


def limit_of(values) -> float:
    """Gives how far a reading may stand off before it counts as odd [K]."""
    return max(SCATTERS * scatter(values), LEAST_STEP)


def within(readings: Readings, low: float, high: float, low_words: str, high_words: str) -> Readings:
    """Gives the readings less those more than 2 K outside what the experiment allows [degC]."""
    values = readings.temperature.magnitude
    cold, hot = values < low - BEYOND, values > high + BEYOND
    if np.sum(~(cold | hot)) < len(values) / 2:
        side, words = (cold, low_words) if cold.sum() > hot.sum() else (hot, high_words)
        raise InputError(
            f"{readings.name}: {side.sum()} of {len(values)} readings are {words}, the first in row"
            f" {readings.row[side][0]} ({_celsius(values[side][0])}). Check the temperatures that you gave, and the"
            " unit in the header."
        )
    return _without(
        readings, cold | hot, lambda place: f"{_celsius(values[place])} is {low_words if cold[place] else high_words}"
    )


def near_neighbours(readings: Readings) -> Readings:
    """Gives the readings without single readings, or two in a row, that stand apart from those around them.

    Held against the middle one of five; where readings only rise or only fall, each is its own. The first and the last
    have no neighbours on one side and stay.
    """
    values = readings.temperature.magnitude
    limit, mended = limit_of(values), values.copy()
    for _ in range(MOST_ROUNDS):  # the furthest off first, for it moves the middle of those beside it
        off = np.abs(mended - _middle(mended))
        nearby = np.lib.stride_tricks.sliding_window_view(np.pad(off, 2), 5).max(axis=1)
        worst = (off > limit) & (off == nearby)
        if not np.any(worst):
            break
        mended[worst] = _middle(mended)[worst]
    off = np.abs(values - mended)
    return _without(readings, off > 0, lambda place: f"stands {off[place]:.1f} K off its neighbours")


def _middle(values):
    """The middle one of five around each value, of three for the second and the last but one. values : (n,)"""
    middle = values.copy()
    if len(values) < 5:
        return middle
    middle[2:-2] = np.median(np.lib.stride_tricks.sliding_window_view(values, 5), axis=1)
    middle[1], middle[-2] = np.median(values[:3]), np.median(values[-3:])
    return middle


def only_falling(readings: Readings, cooling: bool, air_swing: float = 0.0) -> Readings:
    """Gives the readings without what follows once standing water that cools (or warms) was warmed (or cooled) again.

    air_swing : between the coldest and the warmest air [K]: so much it may warm the water
    Raises InputError where the readings go the wrong way altogether.
    """
    signed = readings.temperature.magnitude * (1 if cooling else -1)
    limit, third = limit_of(signed) + air_swing, max(len(signed) // 3, 1)
    rise, air, back = ("rise", "colder", "warmer") if cooling else ("fall", "warmer", "colder")
    if np.median(signed[-third:]) > np.median(signed[:third]) + limit:
        raise InputError(
            f"{readings.name}: the readings {rise} from row {readings.row[0]} to row {readings.row[-1]} although the"
            f" air around the run is {air}. Standing water cannot do that: check the air temperature, and whether water"
            " flowed or something heated the run."
        )
    smooth = _middle(signed)
    top = int(np.argmax(smooth[: max(len(smooth) // 2, 1)]))  # a thermometer that was put on cold climbs to here
    above = smooth[top:] - np.minimum.accumulate(smooth[top:]) > limit
    runs = (
        np.flatnonzero(np.convolve(above, np.ones(SUSTAINED), "valid") == SUSTAINED) if len(above) >= SUSTAINED else []
    )
    if not len(runs):
        return readings
    first = top + runs[0]
    reason = (
        f"from row {readings.row[first]} on the water is {back} again: no longer the same"
        f" {'cooling' if cooling else 'warming'}"
    )
    return readings.without(np.arange(len(signed)) >= first, reason)


def end_falls(readings: Readings, cooling: bool) -> Readings:
    """Gives the readings without the last one or two readings where they stand above those before them: too few to be
    a new warming, too odd to count.
    """
    signed = readings.temperature.magnitude * (1 if cooling else -1)
    # before that a cold thermometer may stand lower
    limit, last, half = limit_of(signed), len(signed), len(signed) // 2
    while (
        last > len(signed) - SUSTAINED + 1
        and signed[last - 1] > np.min(_middle(signed[: last - 1])[half:], initial=np.inf) + limit
    ):
        last -= 1
    words = "warmer" if cooling else "colder"
    return _without(
        readings,
        np.arange(len(signed)) >= last,
        lambda place: f"{words} than the rows before it, which standing water cannot be",
    )


def caught_up(readings: Readings, cooling: bool) -> Readings:
    """Gives the readings without the first readings of a thermometer that had not yet caught up with the water."""
    signed = readings.temperature.magnitude * (1 if cooling else -1)
    early = np.arange(len(signed)) < _caught_up(readings.time.magnitude, signed, limit_of(signed))
    return _without(
        readings,
        early,
        lambda place: "the thermometer had not caught up with the water: the next readings show where it stood",
    )


def _caught_up(times, signed, limit: float) -> int:
    """Place of the first reading that a falling curve can begin with. times [s]; signed : (n,), falling once it is
    right

    The highest, if the readings climb to it; and none that lies below the straight line through the next two: a curve
    of
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
    """Gives the readings without places beyond the end of the run. length [m]"""
    places = readings.place.magnitude
    words = "{:.4g} m is beyond the end of the run, {:.4g} m"
    return _without(readings, places > length * (1 + 1e-6), lambda place: words.format(places[place], length))


def need(readings, along: bool, what: str) -> Readings:
    """The readings, if they are of the right kind for an experiment; else an InputError."""
    if not isinstance(readings, Readings):
        raise InputError(
            f"{what}: {str(readings)[:60]!r} was given where Readings are needed, for example"
            ' Readings.from_csv("cooling.csv").'
        )
    if readings.along != along:
        have, want = ("places", "times") if readings.along else ("times", "places")
        raise InputError(
            f"{readings.name}: these readings have {have}; {what} needs {want}. Choose the other experiment or another"
            " file."
        )
    return readings


def must_change(readings: Readings, what: str) -> None:
    """An InputError where the temperatures hardly change: nothing can be fitted to a flat line.

    Means of several readings are held against each other, so that noise does not hide a change.
    """
    values = readings.temperature.magnitude
    change, noise, size = np.ptp(values), scatter(values), max(len(values) // STRETCHES, 1)
    means = values[: len(values) // size * size].reshape(-1, size).mean(axis=1)
    if change <= LEAST_CHANGE or np.ptp(means) <= FLAT * noise / np.sqrt(size):
        raise InputError(
            f"{readings.name}: the readings are flat: they change by {change:.2g} K in all, rows {readings.row[0]} to "
            f"{readings.row[-1]}, and scatter by about {noise:.1g} K. {what}"
        )


def _without(readings: Readings, bad, reason) -> Readings:
    """Gives the readings without the bad ones; `reason` says why from a place in the list."""
    return readings.without(bad, [reason(place) for place in np.flatnonzero(bad)]) if np.any(bad) else readings


def _celsius(value: float) -> str:
    both = quantity(value, "degC")
    return f"{both:.4g~P} ({both.to('degF'):.4g~P})"
