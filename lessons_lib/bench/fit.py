"""The fit itself, between the experiments of bench.py and physics/fit.py: unknowns with names, and what their errors
mean.
"""

from dataclasses import dataclass
from math import exp, hypot, log, sqrt
from typing import NamedTuple

import numpy as np

from ..physics import bench as physics
from ..physics.fit import Fit, NotDetermined, independent, least_squares, student
from ..physics.line import Line
from ..quantities.errors import InputError
from ..quantities.units import quantity
from ..runs.cautions import joined
from ..runs.run import Run
from . import words
from .readings import Readings
from .result import CAUTION, BenchFit

COARSE = 400  # readings that a first look at many values takes
WIDEST = 1000  # an interval that reaches further, as a factor to either side, is no answer
NORMAL = 1.96  # standard deviations that hold 95 % of a normal spread
THICKNESSES = np.concatenate([np.linspace(0, 0.005, 51), np.linspace(0.005, words.THICKEST, 191)[1:]])  # [m]


@dataclass(frozen=True)
class Unknown:
    """Describes one number to fit: where to begin, a change that the readings would show, and its bounds. The first is
    the one asked for.
    """

    name: str
    start: float
    scale: float
    low: float
    high: float


class Sure(NamedTuple):
    """A logarithm that was fitted: the value itself, its standard error and its 95 % interval; and as shares of the
    value
    the half-width that the readings alone would give it, and the one that all else alone would."""

    value: float
    error: float
    low: float
    high: float
    scatter: float
    doubt: float

    def times(self, base: float) -> "Sure":
        """Gives the same in another unit, or of a multiple."""
        return Sure(*(base * one for one in self[:4]), self.scatter, self.doubt)


class Curves(NamedTuple):
    """Holds what a picture needs beside the readings, SI: where, the fitted curve, the label's or None, all (m,)."""

    at: np.ndarray
    fitted: np.ndarray
    expected: np.ndarray | None


def solve(readings: Readings, at, model, unknowns, tries) -> Fit:
    """Least squares over all readings, from the best of several values of the first unknown.

    model : function of (values, places or times), returns temperatures [degC]; tries : values of the first unknown
    Raises InputError where the readings do not say.
    """
    measured, every = readings.temperature.magnitude, -(-len(at) // COARSE)
    start = np.array([one.start for one in unknowns])
    misses = [np.sum((measured[::every] - model(np.array([value, *start[1:]]), at[::every])) ** 2) for value in tries]
    start[0] = tries[int(np.argmin(misses))]
    limits = ([getattr(one, name) for one in unknowns] for name in ("scale", "low", "high"))
    try:
        fit = least_squares(lambda values: model(values, at), measured, start, *map(np.array, limits))
    except NotDetermined as reason:
        raise InputError(
            f"{readings.name}: these readings do not say what the {unknowns[reason.place].name} is; another unknown"
            " explains them just as well. Read longer and more often while the temperature changes, or give one of the"
            " others yourself."
        ) from reason
    if fit.at_bound[0]:
        raise InputError(
            f"{readings.name}: no {unknowns[0].name} between {exp(unknowns[0].low):.3g} and {exp(unknowns[0].high):.3g}"
            " times what was expected fits these readings. Check the unit in the header, the air temperature and the"
            ' run; of an insulated run fit the loss of each metre (unknown="UA").'
        )
    return fit


def doubt_of(fit: Fit, at, model, others, bases=()) -> float:
    """Standard deviation of the first unknown's logarithm that comes from what the model itself is not sure of.

    others : models as they may be instead of `model`, each off by one standard deviation; each moves the fit
    bases : what the unknown multiplies in each of them, over what it multiplies in `model`; (): the same. Where it
        multiplies more, the same answer is a smaller multiple.
    """
    here, moved = model(fit.values, at), []
    for other, base in zip(others, bases or [1.0] * len(others)):
        same = np.array([fit.values[0] - log(base), *fit.values[1:]])
        moved.append(fit.moved_by(other(same, at) - here)[0])
    return hypot(*moved)


def sure_of(fit: Fit, doubt: float = 0.0) -> Sure:
    """The first unknown, which is fitted as a logarithm. Readings that resemble their neighbours count for fewer.

    doubt : a further standard deviation of the logarithm, which does not come from the readings
    Raises InputError where the interval would be so wide that it says nothing.
    """
    count = independent(fit.residuals)
    error = sqrt(fit.covariance[0, 0] * len(fit.residuals) / count)
    scatter, doubtful = student(max(count - np.sum(~fit.at_bound), 1.0)) * error, NORMAL * doubt
    value, width = exp(fit.values[0]), hypot(scatter, doubtful)
    if width > log(WIDEST):
        raise InputError(
            f"These readings do not say what is asked for: anything between {1 / WIDEST:g} times and {WIDEST} times the"
            " value that fits best is possible. Read longer and more often while the temperature changes, and check"
            " the clock."
        )
    return Sure(value, value * hypot(error, doubt), value * exp(-width), value * exp(width), scatter, doubtful)


def conclude(
    experiment: str, run: Run, readings: Readings, fit: Fit, curves: Curves, others: dict, **answer
) -> BenchFit:
    """The result, from what every experiment has in common and the fields of its own answer."""
    unit = "m" if readings.along else "s"
    return BenchFit(
        experiment=experiment,
        others=others,
        rms=_kelvin(sqrt(np.mean(fit.residuals**2))),
        residuals=_kelvin(fit.residuals),
        readings=readings,
        curve_at=quantity(curves.at, unit),
        curve=quantity(curves.fitted, "degC"),
        curve_expected=None if curves.expected is None else quantity(curves.expected, "degC"),
        caution=joined(CAUTION, run.caution),
        **answer,
    )


def loss_answer(run: Run, line: Line, unknown: str, sure: Sure, water: float, film: float = 0.0) -> dict:
    """The fields of a BenchFit for a loss: sure is a factor on the label's conductivity or on its UA.

    line : as the model has it; water : mean temperature of the readings [degC]; film : on the inside of the wall [m
        K/W]
    """

    def ua(factor: float) -> float:
        if unknown == "UA":
            return factor * ua_of(line)
        return ua_of(physics.scaled_conductivity(line, factor))

    def ua_of(a_line: Line) -> float:
        return float(a_line.conductance(water, a_line.rest(), film)[0])

    label, loss, low, high = ua(1.0), *(ua(factor) for factor in (sure.value, sure.low, sure.high))
    if unknown == "UA":
        base = label
    else:
        surface = physics.surface(physics.scaled_conductivity(line, sure.value), water, film)
        base = float(line.section.conductivity(0.5 * (water + surface)))
    value, error, least, most = (quantity(one, "W/(m*K)") for one in sure.times(base)[:4])
    word, meaning, like = _loss_meaning(run, line, water, film, label, loss, low, high)
    like, thinnest, thickest = (None if one is None else quantity(one, "m") for one in like)
    return {
        "unknown": unknown,
        "value": value,
        "standard_error": error,
        "low": least,
        "high": most,
        "label": quantity(base, "W/(m*K)"),
        "ua": quantity(loss, "W/(m*K)"),
        "ua_low": quantity(low, "W/(m*K)"),
        "ua_high": quantity(high, "W/(m*K)"),
        "like_thickness": like,
        "like_low": thinnest,
        "like_high": thickest,
        "word": word,
        "meaning": f"{meaning} {words.interval_sentence(sure.scatter, sure.doubt, words.MODEL)}",
        "scatter": sure.scatter,
        "doubt": sure.doubt,
    }


def _loss_meaning(run: Run, line: Line, water: float, film: float, label: float, loss: float, low: float, high: float):
    """One word, the sentence and the thickness that loses as much with its interval [m]; three None for a bare run."""
    shares = loss / label, low / label, high / label
    given = run.insulation.thickness.to("m").magnitude
    if given == 0:
        word = words.bare_word(*shares)
        return word, words.bare_sentence(word, quantity(loss, "W/(m*K)"), quantity(label, "W/(m*K)")), (None,) * 3
    bare = Line(tuple((share, section.bare()) for share, section in line.parts), line.around)
    word = words.insulation_word(*shares, float(bare.conductance(water, bare.rest(), film)[0]) / label)
    like, thinnest, thickest = (
        physics.thickness_like(line, one, water, THICKNESSES, film) for one in (loss, high, low)
    )
    sentence = words.insulation_sentence(word, given, run.insulation.material, like, thinnest, thickest, loss / label)
    return word, sentence, (like, thinnest, thickest)


def _kelvin(value):
    return quantity(value, "delta_degC")
