"""At the bench: readings against the model, and the one thing that the model did not know.

Three experiments: a standing run that cools, the first draw at a tap, and temperatures along a run in steady flow. In
each, one unknown is fitted by least squares (physics/fit.py). What nobody measures well is fitted beside it:

* cooling: the water's temperature at the first reading. A curve of standing water has no other memory, so a clock that
  was started late costs nothing. A thermometer that was fixed beforehand follows a slow curve at an even distance; one
  that had to warm up first gives itself away by rising, and those rows are left out, or followed if its time constant
  is given.
* first draw: the thermometer's time constant, unless it is given, and the hot water's temperature as this thermometer
  reads it. A late start of the clock must be given: only the width of the front could tell it from a smaller flow, and
  that hangs on the water's film, which correlations know to a tenth. It counts as known to a second, and the interval
  holds that: by as much as the flow moves when the clock is taken to be half a second later or earlier.
* along the run: the water's temperature at the start, unless it is given.

A column of the readings may hold the air. Cooling water then follows that air over time. Along a run and in a first
draw the model holds the air at its mean; along a run the interval holds its spread.

The 95 % interval of a loss holds the scatter of the readings and the model's own doubt (physics/bench.py): each thing
that it is not sure of is moved by one standard deviation, and what this would do to the readings moves the fit.
"""

from dataclasses import replace
from functools import cache

import numpy as np

from ..physics import bench as physics
from ..physics.convection import inside_resistance
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError, unknown_name
from ..quantities.units import FLOW, Q_, START, SUPPLY, Domain, quantity, to_base
from ..runs.first_draw import first_draw
from ..runs.run import Run
from ..runs.surroundings import WHY_NOT_BURIED, Ground
from . import checks
from .fit import Curves, Unknown, conclude, doubt_of, loss_answer, solve, sure_of
from .measured_air import air_over_time, in_measured_air
from .readings import Readings
from .result import BenchFit
from .words import CLOCK, MODEL, flow_words, interval_sentence

CONSTANT = Domain("time constant of the thermometer", "s", 0, 600, 'Q_(8, "s")')
LATE = Domain("late start", "s", -600, 600, 'Q_(2, "s")')
CURVE = 241  # points of the curves that are drawn
LATE_DOUBT = 0.5  # [s] a stopwatch by hand is within a second, two standard deviations
QUICKEST, SLOWEST = 0.2, 120.0  # [s] time constants that a thermometer at a tap can have
NODE = 0.1  # between the logarithms of the flows whose draws are followed
FACTORS = np.linspace(-2.4, 2.4, 9)  # logarithms of what the label's value is multiplied by, for a first look
WIDEST = 4.0  # the same, as a bound
NEAR_REST = 0.05  # [K] water that starts nearer to rest has no curve
LONGER = "Begin with hotter water, or read longer."


def fit_cooling(run: Run, readings: Readings, unknown: str | None = None, thermometer=None) -> BenchFit:
    """Insulation conductivity or UA from the cooling (or warming) of a standing run.

    run : single values, in air; of a run with a bare share, the covered part
    readings : over time; the clock may start when it likes
    unknown : "conductivity" or "UA"; None: the conductivity of an insulated run, the UA of a bare one
    thermometer : its time constant; None: its first readings are left out if they rise
    The conductivity keeps its course with temperature; the UA that of the model's film. Raises InputError.
    """
    run, unknown = in_measured_air(_single(run), readings), _loss_unknown(run, unknown)
    if isinstance(run.surroundings, Ground):
        raise InputError(WHY_NOT_BURIED.format(what="the cooling"))
    constant = 0.0 if thermometer is None else _one(thermometer, CONSTANT)
    standing = run.standing()
    rest = float(standing.line.rest())
    readings, falls = _cooling_readings(readings, rest, constant > 0)
    clock, first = readings.time.magnitude, float(readings.temperature.magnitude[0])
    air = air_over_time(readings, rest)

    def model_of(standing):
        def model(values, at):
            factor, start, *shown = np.exp(values[0]), *values[1:]
            followed = constant, *(shown or [None]), air
            if unknown == "UA":
                return physics.standing_water(standing, start, at, factor, *followed)
            covered = replace(standing, line=physics.scaled_conductivity(standing.line, factor))
            return physics.standing_water(covered, start, at, 1.0, *followed)

        return model

    model = model_of(standing)
    low, high = (rest + NEAR_REST, SUPPLY.high) if falls else (SUPPLY.low, rest - NEAR_REST)
    water = float(np.max(readings.temperature.magnitude)) if falls else first
    unknowns = [_factor(unknown), Unknown("start temperature", np.clip(water, low, high), 1.0, low, high)]
    if constant > 0:
        unknowns.append(Unknown("thermometer's first reading", first, 1.0, *_WHATEVER))
    fit = solve(readings, clock - clock[0], model, unknowns, FACTORS)
    at = np.linspace(0.0, clock[-1] - clock[0], CURVE)
    curves = Curves(at + clock[0], model(fit.values, at), model(np.array([0.0, *fit.values[1:]]), at))
    water, others = float(np.mean(readings.temperature.magnitude)), physics.doubtful_standing(standing)
    bases = _bases(standing.line, [other.line for other in others], water) if unknown == "UA" else ()
    doubt = doubt_of(fit, clock - clock[0], model, [model_of(other) for other in others], bases)
    answer = loss_answer(run, standing.line, unknown, sure_of(fit, doubt), water)
    return conclude("cooling", run, readings, fit, curves, {"start": quantity(fit.values[1], "degC")}, **answer)


def fit_first_draw(
    run: Run, readings: Readings, supply, start, flow=None, late=Q_(0.0, "s"), thermometer=None
) -> BenchFit:
    """The true flow, from the first draw at a tap.

    run : single values; readings : over time, the tap opens at time 0
    supply : water that enters the run; start : water that stood in it
    flow : what the reader believes, for comparison; None: the mean of the readings' flow column, if there is one
    late : how much later than the tap the clock was started, known to within a second
    thermometer : its time constant; None: fitted
    Raises InputError.
    """
    run = in_measured_air(_single(run), readings)
    begun, entering = _one(start, START), _one(supply, SUPPLY)
    if entering - begun < 5:
        raise InputError(
            f"supply temperature: {supply} is less than 5 K above the {start} that stood in the run; such a draw shows"
            " no front."
        )
    given = _given_flow(flow, readings)
    readings = checks.need(readings, False, "a first draw")
    readings = checks.within(
        readings, begun, entering, "colder than the water that stood in the run", "hotter than the supply"
    )
    readings = checks.near_neighbours(readings)
    checks.must_change(readings, "Read from before the tap opens until the water stays hot.")
    clock = readings.time.magnitude
    behind = _one(late, LATE)
    draw, guess = _draws(run, readings, entering, begun, behind)
    unknowns = [
        Unknown("flow", np.log(guess), 0.3, np.log(guess) - 3, np.log(guess) + 3),
        Unknown("hot water at the thermometer", entering, 1.0, begun + 1, entering + 10),
    ]
    if thermometer is None:
        unknowns.append(Unknown("thermometer's time constant", np.log(3.0), 0.5, np.log(QUICKEST), np.log(SLOWEST)))
    fixed = None if thermometer is None else max(_one(thermometer, CONSTANT), QUICKEST)

    def model(values, at):
        times, temperatures = draw(np.exp(values[0]))
        seen = begun + (temperatures - begun) * (values[1] - begun) / (entering - begun)
        return physics.lagging(times, seen, fixed or np.exp(values[2]), begun, at + behind)

    fit = solve(readings, clock, model, unknowns, np.log(guess) + np.array([-0.1, 0.0, 0.1]))
    late_less_early = model(fit.values, clock + LATE_DOUBT) - model(fit.values, clock - LATE_DOUBT)
    moved = 0.5 * fit.moved_by(late_less_early)[0]
    others = {
        "hot water": quantity(fit.values[1], "degC"),
        "late start": quantity(behind, "s"),
        "time constant": quantity(fixed or np.exp(fit.values[2]), "s"),
    }
    at = np.linspace(min(clock[0], 0.0), clock[-1], CURVE)
    expected = None if given is None else model(np.array([np.log(given), *fit.values[1:]]), at)
    answer = _flow_answer(sure_of(fit, abs(moved)), given, CLOCK)
    return conclude("first draw", run, readings, fit, Curves(at, model(fit.values, at), expected), others, **answer)


def fit_along(
    run: Run, readings: Readings, flow=None, unknown: str | None = None, supply=None, measured: str = "water"
) -> BenchFit:
    """Insulation conductivity, UA or the true flow, from temperatures along a run in steady flow.

    run : single values; with a bare share, the loss of both parts together
    readings : against the place along the run
    flow : volume flow at the start; None: the mean of the readings' flow column. With unknown="flow" it is for
        comparison only
    unknown : "conductivity", "UA" or "flow"; None: the conductivity of an insulated run, the UA of a bare one
    supply : water at the start; None: fitted
    measured : "water" (also a thermometer on bare metal pipe), or "surface": the outermost surface of the covered part;
        then
        the supply must be given, and the unknown cannot be the UA. Raises InputError.
    """
    run, unknown = _single(run), unknown if unknown == "flow" else _loss_unknown(run, unknown)
    run = in_measured_air(run, readings)
    entering = None if supply is None else _one(supply, SUPPLY)
    _check_measured(measured, unknown, supply)
    line, length, rest = run.line, run.metres, float(run.line.rest())
    given = _given_flow(flow, readings)
    if given is None and unknown != "flow":
        raise InputError(
            'flow: fitting a loss needs the flow; give it, for example flow=Q_(2, "L/min"), or a column flow [L/min].'
        )
    readings = _along_readings(readings, length, rest, entering)
    place, warmest = readings.place.magnitude, float(np.max(readings.temperature.magnitude))
    guess = given if unknown != "flow" else _flow_guess(line, readings, rest)

    def model_of(line):
        def model(values, at):
            factor, begins = np.exp(values[0]), values[1] if entering is None else entering
            moving = factor * guess if unknown == "flow" else guess
            covered = physics.scaled_conductivity(line, factor) if unknown == "conductivity" else line
            inside = physics.flowing_water(covered, begins, moving, length, at, factor if unknown == "UA" else 1.0)
            return inside if measured == "water" else physics.surface(covered, inside, _film(line, inside, moving))

        return model

    spread = 0.0 if readings.air is None else float(np.std(readings.air.magnitude))
    model, doubtful = model_of(line), physics.doubtful(line, float(np.hypot(physics.AIR_DOUBT, spread)))
    if unknown == "flow":
        doubtful.append(physics.scaled_conductivity(line, 1 + physics.CONDUCTIVITY_DOUBT))
    unknowns = [_factor(unknown)]
    if entering is None:
        unknowns.append(Unknown("temperature at the start", min(warmest, SUPPLY.high), 1.0, SUPPLY.low, SUPPLY.high))
    fit = solve(readings, place, model, unknowns, FACTORS)
    others = {} if entering is not None else {"start": quantity(fit.values[1], "degC")}
    at, others_of = np.linspace(0.0, length, CURVE), fit.values[1:]
    water = float(
        np.mean(physics.flowing_water(line, others_of[0] if len(others_of) else entering, guess, length, place))
    )
    film = float(_film(line, water, guess))
    bases = _bases(line, doubtful, water, film) if unknown == "UA" else ()
    sure = sure_of(fit, doubt_of(fit, place, model, [model_of(other) for other in doubtful], bases))
    if unknown == "flow":
        answer, before = _flow_answer(sure.times(guess), given, MODEL), None if given is None else np.log(given / guess)
    else:
        answer, before = loss_answer(run, line, unknown, sure, water, film), 0.0
    expected = None if before is None else model(np.array([before, *others_of]), at)
    return conclude("along the run", run, readings, fit, Curves(at, model(fit.values, at), expected), others, **answer)


def _bases(line, others, water: float, film: float = 0.0) -> list:
    """UA of the other lines over that of the line. water [degC]; film : on the inside of the wall [m K/W]"""
    first, *rest = (float(one.conductance(water, one.rest(), film)[0]) for one in (line, *others))
    return [one / first for one in rest]


_WHATEVER = (-60.0, 100.0)  # [degC] what a thermometer can show


def _factor(unknown: str) -> Unknown:
    """The logarithm of what the label's conductivity, UA or flow is multiplied by."""
    return Unknown({"UA": "UA", "flow": "flow"}.get(unknown, "insulation conductivity"), 0.0, 0.3, -WIDEST, WIDEST)


def _single(run) -> Run:
    if not isinstance(run, Run) or run.shape:
        given = "lists in it" if isinstance(run, Run) else repr(run)[:60]
        raise InputError(f"run: one Run with single values is needed at the bench, and {given} was given.")
    return run


def _loss_unknown(run: Run, unknown: str | None) -> str:
    bare = np.all(run.insulation.thickness.magnitude == 0)
    if unknown is None:
        return "UA" if bare else "conductivity"
    if unknown not in ("conductivity", "UA"):
        raise unknown_name("unknown", unknown, ["conductivity", "UA"])
    if bare and unknown == "conductivity":
        raise InputError('unknown: a bare run has no insulation whose conductivity could be fitted. Fit unknown="UA".')
    return unknown


def _one(value, domain: Domain) -> float:
    inside = to_base(value, domain)
    if np.ndim(inside):
        raise InputError(f"{domain.name}: give one value, not a list. Write it like {domain.example}.")
    return inside


def _given_flow(flow, readings) -> float | None:
    """The flow [m3/s] that was given, as an argument or as a column of the readings; None: neither."""
    if flow is not None:
        return _one(flow, FLOW)
    measured = getattr(readings, "flow", None)
    return None if measured is None else _one(np.mean(measured), FLOW)


def _cooling_readings(readings, rest: float, lagging: bool) -> tuple[Readings, bool]:
    """The readings that can be cooling (or warming) water, and whether it cools. rest [degC]"""
    readings = checks.need(readings, False, "cooling")
    air = np.array([rest]) if readings.air is None else readings.air.magnitude
    falls = bool(np.median(readings.temperature.magnitude) > rest)
    low, high = (np.min(air), SUPPLY.high) if falls else (SUPPLY.low, np.max(air))
    words = ("colder than the air around the run", "hotter than water here can be")
    if not falls:
        words = ("colder than water can be", "warmer than the air around the run")
    if not lagging:
        readings = checks.within(readings, low, high, *words)
    readings = checks.near_neighbours(checks.end_falls(checks.only_falling(readings, falls, float(np.ptp(air))), falls))
    if not lagging:
        readings = checks.caught_up(readings, falls)
    checks.must_change(readings, LONGER)
    return readings, falls


def _along_readings(readings, length: float, rest: float, supply: float | None) -> Readings:
    readings = checks.need(readings, True, "the experiment along a run")
    readings = checks.inside_run(readings, length)
    ends = (rest, SUPPLY.high if supply is None else supply) if supply is None or supply > rest else (supply, rest)
    readings = checks.within(readings, *ends, "colder than the run can be", "hotter than the run can be")
    readings = checks.near_neighbours(readings.in_order())
    checks.must_change(readings, "Use less flow, so that the water cools more on its way.")
    return readings


def _check_measured(measured: str, unknown: str, supply) -> None:
    if measured not in ("water", "surface"):
        raise unknown_name("measured", measured, ["water", "surface"])
    if measured == "surface" and (supply is None or unknown == "UA"):
        raise InputError(
            "measured: from the surface alone neither the water nor a UA can be told. Give supply=…, and fit"
            ' "conductivity" or "flow".'
        )


def _draws(run: Run, readings: Readings, supply: float, start: float, late: float):
    """A function flow [m3/s] → times and temperatures at the tap, and a first guess of the flow.

    Against the volume that was drawn, draws of neighbouring flows hardly differ: those of a few flows, a tenth apart,
    are
    followed, and a parabola through three of them gives the others to a few hundredths of a degree.
    The guess: time scales as one over the flow, so it is right once the model passes half way when the readings do.
    """

    @cache
    def node(number: int):
        flow = np.exp(NODE * number)
        done = first_draw(
            (run,), quantity(supply, "degC"), quantity(flow, "m**3/s"), quantity(start, "degC"), quantity(start, "degC")
        )
        drawn = done.time.magnitude * flow
        # The front is a step, two entries at one volume: a trillionth apart they can be told apart.
        return drawn * (1 + 1e-12 * np.arange(len(drawn))), done.temperature.magnitude

    def draw(flow: float):
        place = np.log(flow) / NODE
        middle = round(place)
        (drawn, here), off = node(middle), place - middle
        below, above = (np.interp(drawn, *node(middle + side)) for side in (-1, 1))
        return drawn / flow, here + 0.5 * off * (above - below) + 0.5 * off**2 * (above + below - 2 * here)

    clock, values, half = readings.time.magnitude, readings.temperature.magnitude, 0.5 * (supply + start)
    if not np.any(values > half):
        raise InputError(
            f"{readings.name}: no reading is above half way between the {start:.4g} °C that stood in the run and the"
            f" supply. {LONGER}"
        )
    front = max(float(clock[np.argmax(values > half)]) + late, 1.0)  # since the tap was opened
    flow = run.metres * 0.25 * np.pi * run.line.inside_diameter**2 / front
    for _ in range(2):
        times, temperatures = draw(flow)
        passed = temperatures > half
        if not passed.any():  # so slow that it never comes warm: the fit itself looks for more
            break
        flow *= float(times[np.argmax(passed)]) / front
    return draw, flow


def _flow_answer(sure, given: float | None, doubted: str) -> dict:
    """The fields of a BenchFit for a flow. sure, given [m3/s]; doubted : what else than the readings is not sure, in
    words
    """
    value, error, low, high = (_flow(one) for one in sure[:4])
    label = None if given is None else _flow(given)
    word, meaning = flow_words(value, low, high, label)
    meaning = f"{meaning} {interval_sentence(sure.scatter, sure.doubt, doubted)}"
    return {
        "unknown": "flow",
        "value": value,
        "standard_error": error,
        "low": low,
        "high": high,
        "label": label,
        "ua": None,
        "ua_low": None,
        "ua_high": None,
        "like_thickness": None,
        "word": word,
        "meaning": meaning,
        "scatter": sure.scatter,
        "doubt": sure.doubt,
    }


def _flow(value: float):
    return quantity(value * 60_000, "L/min")


def _film(line, water, flow: float):
    """Resistance of the water's film [m K/W]. water [degC], flow [m3/s]"""
    at = water_properties(water)
    return inside_resistance(line.inside_diameter, at, flow * at.density)


def _flow_guess(line, readings: Readings, rest: float) -> float:
    """Flow [m3/s] from the straight line through the logarithms of the distance from rest: its slope is UA/(m cp)."""
    far = np.abs(readings.temperature.magnitude - rest) > 0.5
    slope = np.polyfit(readings.place.magnitude[far], np.log(np.abs(readings.temperature.magnitude[far] - rest)), 1)[0]
    if slope >= 0:
        raise InputError(
            f"{readings.name}: the water does not come nearer to the surroundings along the run. Check places and"
            " temperatures."
        )
    water = float(np.mean(readings.temperature.magnitude))
    at = water_properties(water)
    return float(line.conductance(water, rest)[0]) / (-slope * at.density * at.heat_capacity)
