"""What the bench panel computes: the model's curve for its settings, the fit when it is asked for, and the scene of
both.
"""

from functools import partial

import numpy as np

from ...bench.experiments import QUICKEST, fit_along, fit_cooling, fit_first_draw
from ...bench.files import Source
from ...bench.measured_air import air_over_time, in_measured_air
from ...bench.readings import Readings
from ...bench.result import BenchFit
from ...bench.words import (
    AS_GIVEN,
    BARE,
    BETTER,
    FITTED,
    LESS_FLOW,
    NOT_FITTED,
    SAME,
    THICKEST,
    UNSURE,
    WORSE,
)
from ...panels import shared_controls as usual
from ...panels.readout import Readout
from ...physics import bench as physics
from ...physics.convection import inside_resistance
from ...physics.properties import water as water_properties
from ...quantities.display import celsius, show
from ...quantities.errors import InputError
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import scald_word
from ...runs.insulation import NONE
from ...runs.scald import skin_words, time_to_burn
from .picture import CROSSES, BenchScene, value_words, worth_texts

# What the menu says → (experiment, what is asked, where the thermometer sits).
DRAW, COOLING, LOSS, ALONG, SKIN, ALONG_FLOW = (
    "First draw: flow",
    "Cooling: insulation",
    "Cooling: loss",
    "Along: insulation",
    "On its skin: insulation",
    "Along: flow",
)
EXPERIMENTS = {
    COOLING: ("cooling", "insulation", "water"),
    LOSS: ("cooling", "loss", "water"),
    DRAW: ("first draw", "flow", "water"),
    ALONG: ("along", "insulation", "water"),
    SKIN: ("along", "insulation", "surface"),
    ALONG_FLOW: ("along", "flow", "water"),
}
# The controls that do nothing in an experiment.
IDLE = {"cooling": ("supply", "stood", "flow"), "first draw": (), "along": ("stood", "late", "thermometer")}
POINTS = 241  # of a curve
# [degC], [s] where the model starts that has no readings yet, and how long standing water is then shown
ALONE, ALONE_FOR = 60.0, 7200.0
NEAR = 1.0  # [K] a fit this near is near the curve
STILL = Q_(0, "m/s")
NO_READINGS = "There are no readings yet: choose some, or type a table."
OTHER_KIND = (
    "These readings have {have}, and this experiment needs {need}: choose other readings or another experiment."
)


def run_of(state: dict):
    """The rig that the controls describe. Raises InputError."""
    return usual.run_of({**state, "wind": STILL})


def idle_controls(state: dict) -> tuple:
    """The controls that do nothing at present."""
    experiment, _, measured = EXPERIMENTS[state["experiment"]]
    idle = IDLE[experiment] + usual.idle_thickness(state)
    return idle + (("supply",) if experiment == "along" and measured == "water" else ())


def measured_at(state: dict) -> str:
    """Says where the thermometers sit: a bare pipe's skin is as warm as its water, as near as a strap-on thermometer
    tells.
    """
    _, _, measured = EXPERIMENTS[state["experiment"]]
    return "water" if state["insulation"] == NONE or state["thickness"].magnitude == 0 else measured


def why_none(state: dict, source: Source | None) -> str:
    """Why there is nothing to draw beside the model; "" where there is."""
    if source is None:
        return NO_READINGS
    kinds, along = ("times", "places"), EXPERIMENTS[state["experiment"]][0] == "along"
    if source.readings.along == along:
        return ""
    return OTHER_KIND.format(have=kinds[source.readings.along], need=kinds[along])


def flow_of(state: dict, readings: Readings | None):
    """The flow that the reader gave: a column of the readings, or the slider."""
    measured = None if readings is None else readings.flow
    return state["flow"] if measured is None else np.mean(measured)


def fit(state: dict, source: Source | None) -> BenchFit:
    """The fit that the settings ask for. Raises InputError."""
    missing = why_none(state, source)
    if missing:
        raise InputError(missing)
    experiment, asked, _ = EXPERIMENTS[state["experiment"]]
    run, readings = run_of(state), source.readings
    lag = state["thermometer"] if state["thermometer"].magnitude > 0 else None
    if experiment == "cooling":
        return fit_cooling(run, readings, "UA" if asked == "loss" else None, thermometer=lag)
    flow = flow_of(state, readings)
    if experiment == "first draw":
        return fit_first_draw(run, readings, state["supply"], state["stood"], flow, late=state["late"], thermometer=lag)
    measured = measured_at(state)
    supply = state["supply"] if measured == "surface" else None
    return fit_along(run, readings, flow, "flow" if asked == "flow" else None, supply, measured)


def expected(state: dict, readings: Readings | None):
    """Gives what the model says without a fit: times [s] or places [m], and temperatures [degC], (POINTS,) each. Raises
    InputError.

    Water that cools is taken to start at the warmest early reading, water that warms at the coldest.
    """
    experiment = EXPERIMENTS[state["experiment"]][0]
    run = in_measured_air(run_of(state), readings)
    if experiment == "cooling":
        return _cooling(run, state, readings)
    if experiment == "first draw":
        return _draw(run, state, readings)
    return _along(run, state, readings)


def _cooling(run, state: dict, readings: Readings | None):
    standing = run.standing()
    if readings is None:
        at = np.linspace(0.0, ALONE_FOR, POINTS)
        return at, physics.standing_water(standing, ALONE, at)
    clock, values = readings.time.magnitude, readings.temperature.magnitude
    early = values[: max(len(values) // 3, 1)]
    place = int(np.argmax(early) if np.median(values) > float(standing.line.rest()) else np.argmin(early))
    at = np.linspace(clock[place], clock[-1], POINTS)
    air = air_over_time(readings, float(standing.line.rest()))
    if air is not None:
        air = air[0] + clock[0] - at[0], air[1]
    return at, physics.standing_water(standing, max(float(values[place]), 0.0), at - at[0], air=air)


def _draw(run, state: dict, readings: Readings | None):
    supply, stood = state["supply"], state["stood"]
    draw = run.first_draw(supply, flow_of(state, readings), stood, stood)
    late, lag = state["late"].to("s").magnitude, max(state["thermometer"].to("s").magnitude, QUICKEST)
    times = draw.time.magnitude
    first, last = (0.0, times[-1]) if readings is None else readings.time.magnitude[[0, -1]]
    at = np.linspace(min(first, 0.0), last, POINTS)
    return at, physics.lagging(times, draw.temperature.magnitude, lag, stood.to("degC").magnitude, at + late)


def _along(run, state: dict, readings: Readings | None):
    measured, length = measured_at(state), run.length.to("m").magnitude
    flow = flow_of(state, readings).to("m**3/s").magnitude
    begins = state["supply"].to("degC").magnitude if measured == "surface" else ALONE
    if readings is not None and measured == "water":  # the reading nearest to the start
        begins = float(np.clip(readings.temperature.magnitude[np.argmin(readings.place.magnitude)], 0.0, 99.0))
    at = np.linspace(0.0, length, POINTS)
    water = physics.flowing_water(run.line, begins, flow, length, at)
    if measured == "water":
        return at, water
    properties = water_properties(water)
    return at, physics.surface(
        run.line, water, inside_resistance(run.line.inside_diameter, properties, flow * properties.density)
    )


def scene_of(state: dict, source: Source | None, found: BenchFit | None) -> BenchScene:
    """Everything that the picture shows. Raises InputError."""
    experiment, asked, _ = EXPERIMENTS[state["experiment"]]
    missing = why_none(state, source)
    raw = None if missing else source.drawn
    readings = raw if found is None else found.readings.thinned(len(raw.row))
    expected_at, curve = expected_at_curve = expected(state, raw)
    if found is not None:
        at = found.curve_at.magnitude
        expected_at_curve, fitted = (
            (at, curve if found.curve_expected is None else found.curve_expected.magnitude),
            (
                at,
                found.curve.magnitude,
            ),
        )
    else:
        fitted = expected_at, curve
    along = experiment == "along"
    at, read = ((np.empty(0),) * 2) if raw is None else _points(readings)
    crossed_at, crossed = _crossed(raw, found)
    run = run_of(state)
    section = run.line.section
    hottest = max(np.max(read, initial=-60.0), np.max(fitted[1]))
    burn = time_to_burn(celsius(float(np.clip(hottest, 0.0, 99.0))))
    flow = flow_of(state, raw).to("m**3/s").magnitude if asked == "flow" else None
    return BenchScene(
        name="" if raw is None else raw.name,
        experiment=experiment,
        along=along,
        asked=asked,
        why_none=missing,
        at=at,
        read=read,
        used=0 if raw is None else len((source.readings if found is None else found.readings).row),
        left_out=() if raw is None else (source.readings if found is None else found).left_out,
        crossed_at=crossed_at,
        crossed=crossed,
        curve_at=fitted[0],
        curve=fitted[1],
        expected_at=expected_at_curve[0],
        expected=expected_at_curve[1],
        rms=_rms(None if missing else source.readings, found, fitted),
        fit=found,
        ask=partial(fit, dict(state), source),
        shares=_shares(found),
        pipe_material=run.pipe.material,
        bore=section.inside_diameter,
        pipe_outside=section.outside_diameter,
        outside=section.outside_of_insulation,
        thickness=0.5 * (section.outside_of_insulation - section.outside_diameter),
        like_outside=None if found is None or asked == "flow" else section.outside_diameter + 2 * like_thickness(found),
        given=flow,
        found=found.value.to("m**3/s").magnitude if found is not None and asked == "flow" else None,
        hottest=hottest,
        burn_seconds=burn.seconds.magnitude,
        burn_bound=burn.bound,
    )


def _points(readings: Readings):
    return (readings.place if readings.along else readings.time).magnitude, readings.temperature.magnitude


def _rms(readings: Readings | None, found: BenchFit | None, curve) -> float:
    """Root mean square of what all readings, not only the drawn ones, lie off the curve [K]; 0 without readings."""
    if found is not None:
        return float(found.rms.magnitude)
    if readings is None:
        return 0.0
    at, read = _points(readings)
    return float(np.sqrt(np.mean((read - np.interp(at, *curve)) ** 2)))


def like_thickness(found: BenchFit) -> float:
    """Gives the thickness that the insulation behaves like [m], as far as it is drawn; 0 for a bare run."""
    return 0.0 if found.like_thickness is None else min(float(found.like_thickness.to("m").magnitude), THICKEST)


def _shares(found: BenchFit | None):
    """The interval's ends and the value between them, as shares of what was expected; None where nothing was."""
    if found is None or found.label is None:
        return None
    return tuple(float((one / found.label).to("").magnitude) for one in (found.low, found.value, found.high))


def _crossed(raw: Readings | None, found: BenchFit | None):
    """Gives the left-out rows: where, and what they read; NaN where the row gave no number, at a place guessed from its
    neighbours'.
    """
    if raw is None:
        return np.empty(0), np.empty(0)
    at, read = _points(raw)
    gone = np.zeros(len(at), dtype=bool) if found is None else np.isin(raw.row, [row for row, _ in found.left_out])
    unread = np.array([row for row, _ in raw.left_out], dtype=float)
    order = np.argsort(raw.row)
    places = np.concatenate([at[gone], np.interp(unread, raw.row[order], at[order])])
    values = np.concatenate([read[gone], np.full(len(unread), np.nan)])
    every = -(-len(places) // CROSSES) or 1
    return places[::every], values[::every]


def headline(scene: BenchScene, system: str) -> str:
    """Says in plain words what the readings say of the one unknown, and in a second line what they allow."""
    if scene.why_none:
        return "No readings yet: the model alone"
    if scene.fit is None:
        return "Not fitted yet: press Fit"
    fit, (_, _, _, given, says, *_) = scene.fit, worth_texts(scene, system)
    beneath = allowed(fit, system)
    if scene.asked == "flow":
        less, gave = ("Less" if fit.word == LESS_FLOW else "More"), f"{says} instead of {given}"
        plain = {FITTED: f"The flow is {says}", AS_GIVEN: f"The flow is as you gave it: {given}"}
        return f"{plain.get(fit.word, f'{less} water flows than you gave: {gave}')}\n{beneath}"
    if scene.thickness == 0:
        return f"The bare pipe loses {fit.word.replace('as the', 'as much as the')}\n{beneath}"
    plain = {
        SAME: "The insulation does what its label says",
        BETTER: f"{given} of insulation works like {says}: check why",
        WORSE: f"{given} of insulation works like only {says}",
        BARE: f"{given} of insulation works like none at all",
        UNSURE: "These readings cannot tell what the insulation is worth",
    }
    return f"{plain[fit.word]}\n{beneath}"


def allowed(fit: BenchFit, system: str) -> str:
    """Says in one sentence between what the unknown lies."""
    low, high = fit.like_low, fit.like_high
    if fit.word == BARE:
        return "A bare pipe would lose about as much."
    if low is None:
        value, interval = value_words(fit, system)
        unit = value.partition(" ")[2]
        return f"The readings allow {interval} {unit} (95 % interval)."
    least = "no insulation" if low.magnitude == 0 else show(low, "thickness", system)
    most = (
        f"over {show(Q_(THICKEST, 'm'), 'thickness', system)}"
        if np.isinf(high.magnitude)
        else show(high, "thickness", system)
    )
    return f"The readings allow {' to '.join(dict.fromkeys((least, most)))} (95 % interval)."


def readouts(scene: BenchScene, system: str) -> list[Readout]:
    """Rows, the fit, how near it lies, and how hot it was at the bench."""
    left = len(scene.left_out)
    rows = Word("no readings", 1) if scene.why_none else Word("rows left out", 1) if left else Word("all rows used", 0)
    detail = "the model alone" if scene.why_none else f"{scene.used} used, {left} left out"
    near = Word("near the curve", 0) if scene.rms < NEAR else Word("off the curve", 1)
    near = Word("none yet", 1) if scene.why_none else near
    fit, word = scene.fit, NOT_FITTED if scene.fit is None else scene.fit.word
    off = show(Q_(scene.rms, "delta_degC"), "temperature drop", system)
    scald = scald_word(scene.hottest)
    hottest = show(celsius(scene.hottest), "temperature", system)
    return [
        Readout("Readings", rows, detail),
        Readout("Fit", word, "press Fit" if fit is None else " ".join(value_words(fit, system)[:1])),
        Readout("Difference", near, "" if scene.why_none else f"{off} as a rule"),
        Readout("Hottest, on skin", scald, f"{hottest}; {skin_words(scene.burn_seconds, scene.burn_bound)}"),
    ]
