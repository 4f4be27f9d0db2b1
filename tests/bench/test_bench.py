"""Fits to bench readings: the true value lies where the fit says, a general-purpose library agrees, and what cannot be fitted is said."""

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats
from scipy.signal import lfilter

from lessons_lib import (
    Q_,
    BenchFit,
    Ground,
    InputError,
    Insulation,
    Pipe,
    Readings,
    Run,
    Surroundings,
    compare,
    fit_along,
    fit_cooling,
    fit_first_draw,
)
from lessons_lib.bench import experiments as bench
from lessons_lib.bench.fit import THICKNESSES
from lessons_lib.bench.words import SAME, WORSE, difference_words, insulation_sentence
from lessons_lib.physics import bench as physics
from lessons_lib.physics.fit import independent, least_squares, student

COPPER, PEX, ROOM = Pipe.nominal("copper L", "1/2 in"), Pipe.nominal("PEX CTS", "1/2 in"), Surroundings(Q_(20, "degC"))
FOAM = Insulation("elastomeric foam", Q_(19, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
COVERED, BARE = Run(COPPER, Q_(10, "m"), FOAM, ROOM), Run(COPPER, Q_(10, "m"), Insulation.none(), ROOM)
FAR = Run(PEX, Q_(24, "m"), Insulation("elastomeric foam", Q_(9, "mm")), ROOM)
HOT, COLD, SMALL_FLOW, TAP_FLOW = Q_(60, "degC"), Q_(20, "degC"), Q_(0.35, "L/min"), 4.6


@pytest.fixture(scope="module", autouse=True)
def each_draw_is_followed_once():
    """Fits to a hundred sets ask for the draws of the same few flows."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(bench, "first_draw", cache(bench.first_draw))
        yield


def over_time(seconds, values) -> Readings:
    return Readings(Q_(values, "degC"), Q_(np.asarray(seconds, dtype=float), "s"))


def noise(seed: int, count: int, scatter: float = 0.3):
    return scatter * np.random.default_rng(seed).standard_normal(count)


COOLING_TIMES = np.arange(0, 7200, 240.0)


def cooled(run=COVERED, factor=1.5, times=COOLING_TIMES, start=58.0):
    """What a standing run reads with `factor` on its insulation's conductivity, or on its loss where it is bare."""
    standing = run.standing()
    if run is BARE:
        return physics.standing_water(standing, start, times, factor)
    return physics.standing_water(
        replace(standing, line=physics.scaled_conductivity(standing.line, factor)), start, times
    )


PLACES = np.linspace(0, 24, 13)
ALONG = physics.flowing_water(
    physics.scaled_conductivity(FAR.line, 1.4), 58.0, SMALL_FLOW.to("m**3/s").magnitude, 24.0, PLACES
)
DRAW, DRAW_TIMES, LATE, LAG = BARE.first_draw(HOT, Q_(TAP_FLOW, "L/min"), COLD), np.arange(0, 90, 3.0), 2.0, 4.0


def drawn(late=LATE):
    return physics.lagging(DRAW.time.magnitude, DRAW.temperature.magnitude, LAG, 20.0, DRAW_TIMES + late)


def along(seed: int) -> Readings:
    return Readings(Q_(ALONG + noise(seed, len(PLACES), 0.15), "degC"), place=Q_(PLACES, "m"))


def draw_readings(seed: int) -> Readings:
    """The hand on the stopwatch is as unsure as the fit takes it to be."""
    return over_time(DRAW_TIMES, drawn(LATE + float(noise(seed + 1000, 1, 0.5)[0])) + noise(seed, len(DRAW_TIMES)))


# name → a fit to the readings of a seed, and the value that it should find over the label's, or itself
EXPERIMENTS = {
    "cooling, conductivity": (
        lambda seed: fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(seed, 30))),
        1.5 * 0.04,
    ),
    "cooling, UA of a bare run": (
        lambda seed: fit_cooling(
            BARE, over_time(COOLING_TIMES / 2, cooled(BARE, 1.2, COOLING_TIMES / 2) + noise(seed, 30))
        ),
        None,
    ),
    "first draw, flow": (
        lambda seed: fit_first_draw(BARE, draw_readings(seed), HOT, COLD, late=Q_(LATE, "s"), thermometer=Q_(LAG, "s")),
        TAP_FLOW,
    ),
    "along, conductivity": (lambda seed: fit_along(FAR, along(seed), SMALL_FLOW), None),
}
FACTORS = {
    "cooling, UA of a bare run": 1.2,
    "along, conductivity": 1.4,
}  # of a label that depends a little on the readings


@pytest.mark.parametrize("name", EXPERIMENTS)
def test_the_true_value_lies_in_the_interval(name):
    """At least 93 of 100 sets, the seeds 0 to 99."""
    fit_of, true = EXPERIMENTS[name]
    held = 0
    for seed in range(100):
        fit = fit_of(seed)
        value = true or FACTORS[name] * fit.label.magnitude
        held += fit.low.magnitude <= value <= fit.high.magnitude
    assert 93 <= held <= 100


@pytest.mark.parametrize("run, flow", [(BARE, 4.6), (COVERED, 2.0), (FAR, 6.0), (FAR, 1.0), (BARE, 1.3)])
def test_draws_between_those_that_were_followed(run, flow):
    """Within 0.1 K of a draw that is followed for that very flow, the transition to laminar flow (the last) included."""
    draw, _ = bench._draws(run, draw_readings(1), 60.0, 20.0, LATE)
    for factor in np.exp(np.linspace(-0.2, 0.2, 9)):
        followed = run.first_draw(HOT, Q_(flow * factor, "L/min"), COLD)
        clock = np.linspace(0, followed.time.magnitude[-1], 997) + 0.0123
        between = np.interp(clock, *draw(flow * factor / 60_000))
        np.testing.assert_allclose(
            between, np.interp(clock, followed.time.magnitude, followed.temperature.magnitude), atol=0.1
        )


def test_a_thermometer_of_unknown_lag_is_fitted_too():
    fits = [fit_first_draw(BARE, draw_readings(seed), HOT, COLD, late=Q_(LATE, "s")) for seed in range(12)]
    assert sum(fit.low.magnitude <= TAP_FLOW <= fit.high.magnitude for fit in fits) >= 11
    assert np.mean([fit.others["time constant"].magnitude for fit in fits]) == pytest.approx(LAG, abs=0.4)


@pytest.mark.parametrize("late", [-300.0, -20.0, 6.0])
def test_a_clock_that_was_started_long_before_the_tap_opened(late):
    """The front is as far from the opening, whatever the clock said then."""
    values = physics.lagging(DRAW.time.magnitude, DRAW.temperature.magnitude, LAG, 20.0, DRAW_TIMES)
    fit = fit_first_draw(BARE, over_time(DRAW_TIMES - late, values), HOT, COLD, late=Q_(late, "s"))
    assert fit.value.magnitude == pytest.approx(TAP_FLOW, rel=2e-3)
    assert fit.others["late start"].magnitude == late


def scatters_singly(fit) -> bool:
    return independent(fit.residuals.magnitude) == len(fit.residuals)


def error_of_readings(fit) -> float:
    """The standard error that the scatter of the readings alone gives."""
    return fit.value.magnitude * fit.scatter / student(len(fit.residuals) - 2)


def test_cooling_agrees_with_a_general_purpose_library():
    """scipy.optimize.curve_fit on runs built afresh with each conductivity."""
    readings = over_time(COOLING_TIMES, cooled() + noise(2, 30))
    fit = fit_cooling(COVERED, readings)

    def model(seconds, conductivity, start):
        run = replace(COVERED, insulation=replace(FOAM, conductivity=Q_(conductivity, "W/(m*K)")))
        curve = run.cooling(Q_(start, "degC"), Q_(7200, "s"))
        return np.interp(seconds, curve.time.magnitude, curve.temperature.magnitude)

    best, covariance = optimize.curve_fit(
        model, COOLING_TIMES, readings.temperature.magnitude, (0.05, 57.0), epsfcn=1e-8
    )
    assert scatters_singly(fit)
    assert fit.value.magnitude == pytest.approx(best[0], rel=1e-3) and fit.others["start"].magnitude == pytest.approx(
        best[1], rel=1e-3
    )
    assert error_of_readings(fit) == pytest.approx(np.sqrt(covariance[0, 0]), rel=0.05)


def test_along_agrees_with_a_general_purpose_library():
    """scipy.optimize.curve_fit on the delivery temperatures of runs of every length."""
    readings = along(2)
    fit = fit_along(FAR, readings, SMALL_FLOW, unknown="flow")

    def model(places, flow, start):
        ends = replace(FAR, length=Q_(np.maximum(places, 1e-6), "m")).delivery_temperature(
            Q_(start, "degC"), Q_(flow, "L/min")
        )
        return ends.magnitude

    best, covariance = optimize.curve_fit(model, PLACES, readings.temperature.magnitude, (0.3, 58.0), epsfcn=1e-8)
    assert scatters_singly(fit)
    assert fit.value.magnitude == pytest.approx(best[0], rel=1e-3)
    assert error_of_readings(fit) == pytest.approx(np.sqrt(covariance[0, 0]), rel=0.05)


def test_first_draw_agrees_with_a_general_purpose_library(monkeypatch):
    """scipy.optimize.least_squares on the library's own draws behind a thermometer integrated by scipy's exact linear filter."""
    monkeypatch.setattr(bench, "LATE_DOUBT", 0.0)
    readings = over_time(DRAW_TIMES, drawn() + noise(3, 30))
    fit = fit_first_draw(BARE, readings, HOT, COLD, late=Q_(LATE, "s"), thermometer=Q_(LAG, "s"))

    def misses(values):
        draw = BARE.first_draw(HOT, Q_(values[0], "L/min"), COLD)
        clock = np.arange(0, 95, 0.01)
        water = np.interp(clock, draw.time.magnitude, draw.temperature.magnitude)
        read = 20 + stats_filter(water - 20, 0.01 / LAG)
        return (
            20
            + (np.interp(DRAW_TIMES + LATE, clock, read) - 20) * (values[1] - 20) / 40
            - readings.temperature.magnitude
        )

    best = optimize.least_squares(misses, (4.7, 60.0), diff_step=1e-4)
    covariance = np.linalg.inv(best.jac.T @ best.jac) * 2 * best.cost / (len(DRAW_TIMES) - 2)
    assert scatters_singly(fit)
    assert fit.value.magnitude == pytest.approx(best.x[0], rel=1e-3)
    assert fit.standard_error.magnitude == pytest.approx(np.sqrt(covariance[0, 0]), rel=0.05)


def stats_filter(values, share):
    """First-order lag by scipy.signal, with steps held half before and half after."""
    decay = np.exp(-share)
    return lfilter([0.5 * (1 - decay)] * 2, [1, -decay], values)


@pytest.mark.parametrize("degrees", [1, 1.5, 2, 3, 10, 28, 200, 2e5])
def test_students_quantile(degrees):
    assert student(degrees) == pytest.approx(stats.t.ppf(0.975, degrees), rel=1e-7)


def test_readings_that_resemble_their_neighbours_count_for_fewer():
    """Noise in which each value keeps 0.8 of the one before: the mean of n is as sure as that of n/9 single ones."""
    plain = noise(5, 4000)
    assert independent(plain) == pytest.approx(4000, rel=0.1) and independent(lfilter([1], [1, 0.5], plain)) == 4000
    assert independent(lfilter([1], [1, -0.8], plain)) == pytest.approx(4000 / 9, rel=0.15)


def test_a_bound_holds_and_has_no_error():
    fit = least_squares(
        lambda v: v[0] + v[1] * np.arange(9.0), 2 - np.arange(9.0) + noise(1, 9), [0, 1], [1, 1], [-9, 0], [9, 9]
    )
    assert (
        fit.values[1] == 0 and list(fit.at_bound) == [False, True] and fit.covariance[1, 1] == 0 < fit.covariance[0, 0]
    )


@pytest.mark.parametrize("constant, start", [(3.0, 20.0), (40.0, 80.0)])
def test_lagging_thermometer_against_fine_steps(constant, start):
    clock, values = np.array([0.0, 10.0, 10.0, 60.0, 90.0]), np.array([20.0, 20.0, 50.0, 60.0, 55.0])
    fine = np.arange(0, 120, 0.002)
    read = [start]
    for water in np.interp(fine, clock, values)[:-1]:
        read.append(read[-1] + 0.002 / constant * (water - read[-1]))
    at = np.array([0.0, 5.0, 10.0, 11.0, 30.0, 60.0, 80.0, 110.0])
    np.testing.assert_allclose(
        physics.lagging(clock, values, constant, start, at), np.interp(at, fine, read), atol=0.03
    )


@settings(max_examples=15, deadline=None)
@given(
    st.integers(0, 10_000), st.sampled_from(["degF", "kelvin"]), st.sampled_from(["min", "h"]), st.floats(-3600, 3600)
)
def test_units_and_the_clocks_start_never_change_the_fit(seed, degrees, minutes, shift):
    values, times = cooled() + noise(seed, 30), COOLING_TIMES
    first = fit_cooling(COVERED, over_time(times, values))
    other = fit_cooling(COVERED, Readings(Q_(values, "degC").to(degrees), Q_(times + shift, "s").to(minutes)))
    for name in ("value", "low", "high", "standard_error", "rms"):
        assert getattr(other, name).magnitude == pytest.approx(getattr(first, name).magnitude, rel=1e-6)
    assert other.meaning == first.meaning and other.left_out == first.left_out


@settings(max_examples=8, deadline=None)
@given(st.randoms(use_true_random=False), st.sampled_from(["ft", "inch"]))
def test_the_order_and_unit_of_places_never_change_the_fit(random, unit):
    order = list(range(len(PLACES)))
    random.shuffle(order)
    readings = along(4)
    mixed = Readings(readings.temperature[order].to("degF"), place=readings.place[order].to(unit))
    first, other = (fit_along(FAR, one, SMALL_FLOW) for one in (readings, mixed))
    assert other.value.magnitude == pytest.approx(first.value.magnitude, rel=1e-5)
    assert other.high.magnitude == pytest.approx(first.high.magnitude, rel=1e-4)


def test_conductivity_and_ua_tell_one_story():
    """Two ways to say one loss: the same UA, the same equivalent thickness."""
    readings = over_time(COOLING_TIMES, cooled())
    conductivity, ua = fit_cooling(COVERED, readings), fit_cooling(COVERED, readings, "UA")
    assert conductivity.value.magnitude == pytest.approx(0.06, rel=1e-3)
    assert conductivity.ua.magnitude == pytest.approx(ua.value.magnitude, rel=0.01)
    assert conductivity.like_thickness.magnitude == pytest.approx(ua.like_thickness.magnitude, rel=0.02)


@pytest.mark.parametrize("thickness", [0.006, 0.009, 0.013, 0.019, 0.025, 0.038, 0.080])
def test_the_like_thickness_is_the_thickness_that_loses_as_much(thickness):
    line = replace(COVERED, insulation=replace(FOAM, thickness=Q_(thickness, "m"))).line
    loss = float(line.conductance(45.0, 20.0)[0])
    assert physics.thickness_like(COVERED.line, loss, 45.0, THICKNESSES) == pytest.approx(thickness, rel=1e-3)


def test_thickness_beyond_both_ends():
    """On bright copper thin foam loses more than none; what loses still more is like no foam at all."""
    assert physics.thickness_like(COVERED.line, 5.0, 45.0, THICKNESSES) == 0
    assert physics.thickness_like(COVERED.line, 0.01, 45.0, THICKNESSES) == np.inf
    bright = replace(COVERED, pipe=replace(COPPER, emissivity=0.05)).line
    bare = float(
        replace(COVERED, pipe=replace(COPPER, emissivity=0.05), insulation=Insulation.none()).line.conductance(
            45.0, 20.0
        )[0]
    )
    assert physics.thickness_like(bright, bare, 45.0, THICKNESSES) > 0.003


@pytest.mark.parametrize("millimetres, word", [(6, WORSE), (9, WORSE), (13, WORSE), (19, SAME)])
def test_foam_that_is_thinner_than_told_is_found_out(millimetres, word):
    """The water cools a little faster still, for the foam that is not there would have held some heat."""
    really = replace(COVERED, insulation=replace(FOAM, thickness=Q_(millimetres, "mm"))).cooling(
        Q_(58, "degC"), Q_(7200, "s")
    )
    fit = fit_cooling(COVERED, over_time(really.time.magnitude, really.temperature.magnitude))
    assert 0.75 * millimetres < fit.like_thickness.to("mm").magnitude < 1.01 * millimetres and fit.word == word


@pytest.mark.parametrize(
    "factor, word, words",
    [
        (1.0, "like the label", "loses as much as its label says"),
        (1.5, "worse than the label", "look for gaps at the elbows"),
        (0.5, "better than the label", "check the air temperature"),
        (12.0, "like bare pipe", "no insulation at all"),
    ],
)
def test_words_for_an_insulation(factor, word, words):
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES, cooled(factor=factor) + noise(1, 30, 0.05)))
    assert fit.word == word and words in fit.meaning and "19 mm (3/4 in)" in fit.meaning


@pytest.mark.parametrize(
    "loss, words",
    [
        (1.004, "behaves like 29 mm (1 1/8 in) and loses as much as its label says."),
        (
            0.96,
            "behaves like 29 mm (1 1/8 in) and loses 4 % less than its label says: within a tenth, so like the label.",
        ),
        (1.25, "behaves like 29 mm (1 1/8 in) and loses 25 % more than its label says, which may be chance."),
    ],
)
def test_the_sentence_of_like_the_label_agrees_with_its_numbers(loss, words):
    said = insulation_sentence(SAME, 0.025, "elastomeric foam", 0.0286, 0.025, 0.033, loss)
    assert words in said and "what its label says" not in said


@pytest.mark.parametrize(
    "ratio, words",
    [
        (1 / 0.61, "39 % lower in the first experiment: A instead of B."),
        (0.61, "39 % lower in the second experiment: B instead of A."),
        (1.0, "The loss of each metre is the same in both experiments: A and B."),
    ],
)
def test_a_difference_is_said_as_what_was_saved(ratio, words):
    """Whichever was kept: the page asks by how much the foam lowered the loss."""
    assert words in difference_words("loss per kelvin", ratio, False, "A", "B")


def test_the_interval_is_told_in_two_parts():
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(1, 30)))
    width = 0.5 * np.log(fit.high.magnitude / fit.low.magnitude)
    assert width == pytest.approx(np.hypot(fit.scatter, fit.doubt), rel=1e-6) and min(fit.scatter, fit.doubt) > 0.01
    assert (
        f"{100 * fit.scatter:.1f} % either way come from the scatter" in fit.meaning
        and f"{100 * fit.doubt:.1f} % from the model" in fit.meaning
    )


def test_a_fit_saved_before_the_two_parts_were_told_is_read():
    data = fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(1, 30))).to_data()
    del data["scatter"], data["doubt"]
    assert BenchFit.from_data(data).doubt is None


def test_words_where_the_readings_cannot_tell():
    times = np.arange(0, 600, 120.0)
    fit = fit_cooling(
        COVERED, over_time(times, cooled(factor=1.2, times=times) + np.array([0.8, -0.9, 0.3, 0.9, -0.9]))
    )
    assert fit.word == "cannot tell" and "Read longer" in fit.meaning


@pytest.mark.parametrize(
    "factor, word", [(1.0, "as the model says"), (1.4, "more than the model says"), (0.6, "less than the model says")]
)
def test_words_for_a_bare_run(factor, word):
    fit = fit_cooling(BARE, over_time(COOLING_TIMES, cooled(BARE, factor) + noise(1, 30, 0.05)))
    assert fit.word == word and fit.unknown == "UA" and fit.like_thickness is None


@pytest.mark.parametrize(
    "given, word", [(None, "fitted"), (4.6, "as given"), (6.0, "less than given"), (3.5, "more than given")]
)
def test_words_for_a_flow(given, word):
    flow = None if given is None else Q_(given, "L/min")
    fit = fit_first_draw(
        BARE,
        over_time(DRAW_TIMES, drawn() + noise(2, 30)),
        HOT,
        COLD,
        flow,
        late=Q_(LATE, "s"),
        thermometer=Q_(LAG, "s"),
    )
    assert fit.word == word and "L/min" in fit.meaning and "gpm" in fit.meaning
    assert (fit.curve_expected is None) == (given is None)


def test_the_surface_of_the_insulation_tells_its_conductivity():
    line = physics.scaled_conductivity(FAR.line, 1.4)
    flow = SMALL_FLOW.to("m**3/s").magnitude
    water = physics.flowing_water(line, 60.0, flow, 24.0, PLACES)
    values = physics.surface(line, water, bench._film(line, water, flow)) + noise(1, 13, 0.1)
    readings = Readings(Q_(values, "degC"), place=Q_(PLACES, "m"))
    fit = fit_along(FAR, readings, SMALL_FLOW, supply=HOT, measured="surface")
    assert fit.low.magnitude < 1.4 * fit.label.magnitude < fit.high.magnitude
    for arguments in (
        {"measured": "surface"},
        {"measured": "surface", "supply": HOT, "unknown": "UA"},
        {"measured": "air", "supply": HOT},
    ):
        with pytest.raises(InputError, match="^measured"):
            fit_along(FAR, readings, SMALL_FLOW, **arguments)


def test_water_that_warms_up_is_fitted_too():
    times = np.arange(0, 7200, 240.0)
    fit = fit_cooling(COVERED, over_time(times, cooled(factor=1.5, times=times, start=4.0) + noise(1, 30, 0.1)))
    assert fit.low.magnitude < 0.06 < fit.high.magnitude


def test_a_slow_thermometer_is_left_out_or_followed():
    """Strapped on cold: its first readings rise. Left out, or followed with the time constant given, the fit holds."""
    times = np.arange(0, 3600, 10.0)
    water = cooled(times=np.arange(0, 3700, 5.0))
    values = physics.lagging(np.arange(0, 3700, 5.0), water, 30.0, 22.0, times) + noise(1, len(times), 0.1)
    without, followed = (
        fit_cooling(COVERED, over_time(times, values)),
        fit_cooling(COVERED, over_time(times, values), thermometer=Q_(30, "s")),
    )
    assert (
        without.left_out
        and all("had not caught up" in one.reason for one in without.left_out)
        and not followed.left_out
    )
    for fit in (without, followed):
        assert fit.low.magnitude < 0.06 < fit.high.magnitude


def test_rows_that_cannot_be_right_are_named():
    values = cooled() + noise(1, 30, 0.05)
    values[10] = 70.0  # a spike
    values[25:] += 8.0  # somebody drew hot water
    values[3] = -40.0
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES, values))
    reasons = dict(fit.left_out)
    assert (
        "neighbours" in reasons[11]
        and "colder than the air" in reasons[4]
        and "warmer again" in reasons[26]
        and "from row 26 on" in reasons[30]
    )
    assert set(reasons) == {4, 11, *range(26, 31)} and len(fit.residuals) == 23
    assert fit.low.magnitude < 0.06 < fit.high.magnitude


@pytest.mark.parametrize("odd", [1, 2])
def test_a_rise_at_the_very_end_is_named(odd):
    values = cooled() + noise(1, 30, 0.05)
    values[-odd:] = 70.0 + np.arange(odd)
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES, values))
    assert [row for row, _ in fit.left_out] == list(
        range(31 - odd, 31)
    ) and "warmer than the rows before" in fit.left_out[-1].reason
    assert fit.low.magnitude < 0.06 < fit.high.magnitude


def test_places_beyond_the_end_are_named():
    readings = Readings(Q_(np.append(ALONG, 50.0), "degC"), place=Q_(np.append(PLACES, 30.0), "m"))
    assert fit_along(FAR, readings, SMALL_FLOW).left_out[0] == (14, "30 m is beyond the end of the run, 24 m")


TIMES = np.arange(0, 3600, 120.0)
REFUSED = {
    "flat": (lambda: fit_cooling(COVERED, over_time(TIMES, 50 + noise(1, 30))), "^readings: the readings are flat"),
    "air above the readings": (
        lambda: fit_cooling(
            replace(COVERED, surroundings=Surroundings(Q_(40, "degC"))), over_time(TIMES, np.linspace(38, 25, 30))
        ),
        "readings fall from row 1 to row 30 although the air around the run is warmer",
    ),
    "wrong unit": (
        lambda: fit_first_draw(BARE, over_time(TIMES, np.linspace(70, 98, 30)), HOT, COLD),
        "hotter than the supply.*unit in the header",
    ),
    "rising all along": (
        lambda: fit_cooling(COVERED, over_time(TIMES, np.linspace(30, 58, 30))),
        "readings rise from row 1 to row 30",
    ),
    "buried": (
        lambda: fit_cooling(
            replace(COVERED, surroundings=Ground(Q_(8, "degC"), Q_(1, "m"))), over_time(TIMES, np.linspace(58, 40, 30))
        ),
        "buried",
    ),
    "no readings": (lambda: fit_cooling(COVERED, [1, 2, 3]), "Readings are needed"),
    "no run": (lambda: fit_cooling("pipe", over_time(TIMES, np.linspace(58, 40, 30))), "^run: one Run"),
    "many runs": (
        lambda: fit_cooling(
            replace(COVERED, length=Q_(np.array([1, 2]), "m")), over_time(TIMES, np.linspace(58, 40, 30))
        ),
        "^run: one Run",
    ),
    "places for times": (lambda: fit_cooling(COVERED, along(1)), "these readings have places; cooling needs times"),
    "times for places": (
        lambda: fit_along(FAR, over_time(TIMES, np.linspace(58, 40, 30)), SMALL_FLOW),
        "these readings have times",
    ),
    "no flow": (lambda: fit_along(FAR, along(1)), "^flow: fitting a loss needs the flow"),
    "unknown unknown": (
        lambda: fit_cooling(COVERED, over_time(TIMES, cooled(times=TIMES)), "colour"),
        '^unknown: "colour"',
    ),
    "conductivity of nothing": (
        lambda: fit_cooling(BARE, over_time(TIMES, cooled(BARE, times=TIMES)), "conductivity"),
        "^unknown: a bare run",
    ),
    "a draw without a front": (
        lambda: fit_first_draw(BARE, draw_readings(1), Q_(22, "degC"), COLD),
        "^supply temperature.*no front",
    ),
    "a draw that never warms": (
        lambda: fit_first_draw(BARE, over_time(TIMES, np.linspace(20, 30, 30)), HOT, COLD),
        "no reading is above half way",
    ),
    "negative time constant": (
        lambda: fit_cooling(COVERED, over_time(TIMES, cooled(times=TIMES)), thermometer=Q_(-1, "s")),
        "^time constant",
    ),
    "bare late": (lambda: fit_first_draw(BARE, draw_readings(1), HOT, COLD, late=2), "^late start"),
    "loses more than any foam lets": (
        lambda: fit_cooling(COVERED, over_time(TIMES, 20 + 38 * np.exp(-TIMES / 300))),
        'unknown="UA"',
    ),
    "not two fits": (lambda: compare("a", "b"), "^compare"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_fitted_is_said(name):
    call, words = REFUSED[name]
    with pytest.raises(InputError, match=words):
        call()


def test_all_unknowns_at_their_bounds_is_an_answer():
    """Nothing is left to fit: the values stay at the bounds, and say so."""
    fit = least_squares(
        lambda values: values[0] + values[1] * np.arange(5.0),
        100 + 9 * np.arange(5.0),
        [0.0, 0.0],
        [1.0, 1.0],
        [-1, -1],
        [1, 1],
    )
    assert fit.at_bound.all() and fit.values.tolist() == [1, 1] and not fit.covariance.any()


def test_two_experiments_side_by_side():
    before = fit_cooling(BARE, over_time(COOLING_TIMES, cooled(BARE, 1.0) + noise(1, 30, 0.1)))
    after = fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(2, 30, 0.1)))
    both = compare(before, after)
    assert (
        both.ratio == pytest.approx(after.ua.magnitude / before.ua.magnitude)
        and both.low < both.ratio < both.high < 0.8
    )
    assert not both.overlap and "lower" in both.meaning and "is real" in both.meaning
    again = compare(after, fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(3, 30, 0.1))))
    assert again.overlap and again.low < 1 < again.high and "is the same in both experiments" in again.meaning
    flow = fit_along(FAR, along(1), SMALL_FLOW, unknown="flow")
    with pytest.raises(InputError, match="^compare: one of these fits is of a flow"):
        compare(before, flow)
    assert compare(flow, flow).ratio == 1


@pytest.mark.parametrize("name", EXPERIMENTS)
def test_saved_and_read_again(name):
    fit = EXPERIMENTS[name][0](1)
    again = BenchFit.from_data(json.loads(json.dumps(fit.to_data())))
    assert str(again) == str(fit) and again.readings.left_out == fit.left_out
    np.testing.assert_array_equal(again.residuals.magnitude, fit.residuals.magnitude)
    np.testing.assert_array_equal(again.curve.magnitude, fit.curve.magnitude)
    for spoiled in (
        {},
        None,
        fit.to_data() | {"readings": None},
        fit.to_data() | {"value": {"value": "x", "unit": "s"}},
    ):
        with pytest.raises(InputError):
            BenchFit.from_data(spoiled)


def test_a_printed_fit_is_what_a_reader_asks_for():
    """The answer with its interval, what was fitted beside it and what was left out: no column of numbers."""
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES, cooled() + noise(1, 30)))
    told = str(fit)
    assert f"{fit.value:.4g~P}" in told and f"start {fit.others['start']:.4g~P}" in told
    names = [line[: line.index("  ")] for line in told.splitlines()]
    answer = ["experiment", "unknown", "value", "low", "high", "standard error", "label", "word", "meaning"]
    assert names == [*answer, "others", "rms", "caution", "readings", "left out"] and "shape" not in told


def test_the_curve_runs_through_the_readings():
    fit = fit_cooling(COVERED, over_time(COOLING_TIMES + 100, cooled() + noise(1, 30, 0.1)))
    there = np.interp(fit.readings.time.magnitude, fit.curve_at.magnitude, fit.curve.magnitude)
    np.testing.assert_allclose(fit.readings.temperature.magnitude - there, fit.residuals.magnitude, atol=0.01)
    assert fit.rms.magnitude == pytest.approx(np.sqrt(np.mean(fit.residuals.magnitude**2)))
    assert np.all(fit.curve_expected.magnitude[1:] > fit.curve.magnitude[1:]), "the label's foam keeps the water warmer"


def test_cautions_travel_with_the_result():
    fit = fit_cooling(BARE, over_time(TIMES, cooled(BARE, times=TIMES)))
    assert "fix the thermometer before hot water runs" in fit.caution and "Emissivity" in fit.caution
