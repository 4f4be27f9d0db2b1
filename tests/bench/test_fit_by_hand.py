"""What a fit makes of its readings, worked out by hand: intervals, doubts, odd readings, words at their edges.

Quantiles of Student's t from printed tables; linear problems whose answer is a ratio; second losses of a pipe by
second_path.Cut, good to 2 in 1000.
"""

from dataclasses import replace
from math import exp, log, sqrt

import numpy as np
import pytest
import second_path
from scipy.stats import norm

from lessons_lib import (
    Q_,
    Ground,
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
from lessons_lib.bench import checks, experiments, words
from lessons_lib.bench.fit import Unknown, doubt_of, loss_answer, solve, sure_of
from lessons_lib.bench.result import BenchFit
from lessons_lib.physics import bench as physics
from lessons_lib.physics.fit import Fit, NotDetermined, independent, least_squares
from lessons_lib.quantities.errors import InputError

COPPER, ROOM = Pipe.nominal("copper L", "1/2 in"), Surroundings(Q_(20, "degC"))
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))  # its conductivity rises with temperature
COVERED = Run(COPPER, Q_(10, "m"), FOAM, ROOM)
BARE = Run(COPPER, Q_(10, "m"), Insulation.none(), ROOM)


def over_time(values, seconds=None) -> Readings:
    return Readings(
        Q_(np.asarray(values, float), "degC"), Q_(np.arange(len(values)) * 60.0 if seconds is None else seconds, "s")
    )


# --- how sure a fit is


def fitted(residuals, bound=(False, False), variance=1e-4, value=0.7) -> Fit:
    count = len(residuals)
    return Fit(
        np.array([value, 0.0]), np.diag([variance, 1.0]), np.array(residuals), np.array(bound), np.ones((count, 2))
    )


@pytest.mark.parametrize(
    "bound, t",
    [((False, False), 2.228), ((False, True), 2.201)],  # 12 readings less 2 unknowns, less 1: Student's t of 10 and 11
)
def test_an_interval_by_printed_tables(bound, t):
    """Student's t from any textbook for the scatter, 1.960 for what is normal; both add as squares, in the logarithm."""
    sure = sure_of(fitted([1.0, -1.0] * 6, bound), doubt=0.02)
    assert sure.scatter == pytest.approx(t * 0.01, rel=3e-4) and sure.doubt == pytest.approx(1.96 * 0.02, rel=3e-4)
    width = sqrt((t * 0.01) ** 2 + (1.96 * 0.02) ** 2)
    assert (sure.value, sure.low, sure.high) == pytest.approx((exp(0.7), exp(0.7 - width), exp(0.7 + width)), rel=1e-5)
    assert sure.error == pytest.approx(exp(0.7) * sqrt(0.01**2 + 0.02**2))
    assert sure.times(3.0)[:4] == pytest.approx([3 * one for one in sure[:4]]) and sure.times(3.0)[4:] == sure[4:]


def test_readings_that_all_err_alike_say_next_to_nothing():
    """r = 11/12 between neighbours: 12 readings count for 12/23, and one degree of freedom has t = 12.706."""
    assert independent(np.ones(12)) == pytest.approx(12 / 23)
    sure = sure_of(fitted([1.0] * 12))
    assert sure.scatter == pytest.approx(12.706 * 0.01 * sqrt(23), rel=1e-4)
    assert independent(np.array([1.0, 1.0, -1.0, -1.0])) == pytest.approx(4 * (1 - 0.25) / (1 + 0.25))
    assert independent(np.array([1.0, -1.0, 1.0])) == independent(np.zeros(3)) == 3


def test_an_interval_over_a_factor_of_a_million_is_no_answer():
    """From a thousandth to a thousand times the value: 6.9078 in the logarithm, 1.96 standard deviations."""
    assert sure_of(fitted([1.0, -1.0] * 6, variance=0.0), 6.9 / 1.96).high == pytest.approx(exp(0.7 + 6.9), rel=1e-3)
    with pytest.raises(InputError, match="0.001 times and 1000 times"):
        sure_of(fitted([1.0, -1.0] * 6, variance=0.0), 6.92 / 1.96)


def test_what_moves_the_readings_moves_the_fit():
    """A straight line: readings raised by 0.3 x move its slope by 0.3, those raised evenly move it not at all."""
    at = np.arange(6.0)
    fit = least_squares(lambda v: v[0] * at + v[1], 2 * at + 1, [1.0, 0.0], [0.01, 100.0], [-9, -9], [9, 9])
    assert fit.moved_by(0.3 * at) == pytest.approx([0.3, 0.0], abs=1e-9)
    assert fit.moved_by(np.full(6, 0.5)) == pytest.approx([0.0, 0.5], abs=1e-9)
    assert fit.slopes == pytest.approx(np.column_stack([at, np.ones(6)]))
    tilted, raised = lambda v, x: v[0] * x + v[1] + 0.3 * x, lambda v, x: v[0] * x + v[1] + 0.5
    doubts = doubt_of(fit, at, lambda v, x: v[0] * x + v[1], [tilted, raised])
    assert doubts == pytest.approx(0.3)
    both = doubt_of(fit, at, lambda v, x: v[0] * x + v[1], [tilted, raised], [exp(0.1), exp(-0.4)])
    assert both == pytest.approx(sqrt((0.3 - 0.1) ** 2 + 0.4**2))


def test_an_unknown_at_its_bound_does_not_move():
    at = np.arange(6.0)
    fit = least_squares(lambda v: v[0] * at + v[1], 2 * at + 5, [1.0, 0.0], [1.0, 1.0], [-9, -1], [9, 1])
    assert fit.values[1] == 1 and fit.at_bound.tolist() == [False, True]
    # with the height held at 1 the slope is sum x (2 x + 4)/sum x^2 = 2 + 4 x 15/55
    assert fit.values[0] == pytest.approx(
        2 + 60 / 55, abs=1e-3
    )  # it stops within a thousandth of a standard error, 0.19
    assert fit.moved_by(at) == pytest.approx([1.0, 0.0])
    # residuals 4 - 60/55 x: their squares over (6 - 1) degrees of freedom, over sum x^2
    left = 4 - 60 / 55 * at
    assert fit.covariance[0, 0] == pytest.approx(left @ left / 5 / 55, rel=1e-3)


def test_which_unknown_is_not_determined():
    at = np.arange(8.0)
    with pytest.raises(NotDetermined) as told:
        least_squares(lambda v: v[0] * at + 0 * v[1] + v[2], at, [0.0] * 3, [1.0] * 3, [-9] * 3, [9] * 3)
    assert told.value.place == 1
    with pytest.raises(NotDetermined) as told:  # the second and third are one
        least_squares(lambda v: v[0] + (v[1] + v[2]) * at**2, at, [0.0] * 3, [1.0] * 3, [-9] * 3, [9] * 3)
    assert told.value.place in (1, 2)


@pytest.mark.parametrize("angle, told_apart", [(4e-7, True), (1e-7, False)])
def test_two_unknowns_that_do_nearly_the_same(angle, told_apart):
    """Columns an angle apart have singular values in the ratio tan(angle/2); below a ten-millionth they are one."""
    one, other = np.array([1.0, 0.0, 0.0]), np.array([np.cos(angle), np.sin(angle), 0.0])

    def fit():
        return least_squares(lambda v: v[0] * one + v[1] * other, np.zeros(3), [0.0, 0.0], [1.0, 1.0], [-9, -9], [9, 9])

    if told_apart:
        assert fit().values == pytest.approx([0.0, 0.0])
    else:
        with pytest.raises(NotDetermined):
            fit()


def test_the_best_of_several_beginnings_is_taken():
    """cos(6 x) has many valleys: from the nearest of five values the fit finds the right one."""
    at = np.linspace(0, 3, 40)
    readings = over_time(20 + 10 * np.cos(6 * at))
    begun = [Unknown("pace", 1.0, 0.1, 0.0, 9.0), Unknown("middle", 20.0, 1.0, 0.0, 40.0)]
    model = lambda v, x: v[1] + 10 * np.cos(v[0] * x)  # noqa: E731
    fit = solve(readings, at, model, begun, np.array([1.0, 2.0, 4.0, 6.2, 8.0]))
    assert fit.values == pytest.approx([6.0, 20.0], abs=1e-4)
    rising = over_time(20 + 5 * at)
    with pytest.raises(InputError, match="no pace between 1 and 7.39"):
        solve(rising, at, lambda v, x: v[1] + v[0] * x, [replace(begun[0], high=2.0), begun[1]], np.array([1.0]))


# --- a loss


def through(run, factor=1.0, water=45.0):
    """Loss for a kelvin [W/(m K)] by the second path, and the temperature of the outermost surface."""
    cut = second_path.Cut(run)
    degrees, values = cut.k_at
    cut.k_at = degrees, factor * np.asarray(values)
    loss, surface = cut.loss(water, 20.0)
    return float(loss) / (water - 20.0), float(surface)


def test_a_loss_in_all_its_words():
    """A factor of 1.5 on the conductivity: on the label's where the foam is, halfway between water and surface."""
    sure = sure_of(fitted([1.0, -1.0] * 6, value=log(1.5)))
    answer = loss_answer(COVERED, COVERED.line, "conductivity", sure, 45.0)
    for name, factor in (("ua", 1.5), ("ua_low", sure.low), ("ua_high", sure.high)):
        assert answer[name].magnitude == pytest.approx(through(COVERED, factor)[0], rel=2e-3)
    middle = 0.5 * (45.0 + through(COVERED, 1.5)[1])
    label = float(np.interp(middle, *second_path.Cut(COVERED).k_at))
    assert answer["label"].magnitude == pytest.approx(label, rel=1e-4)
    assert answer["value"].magnitude == pytest.approx(1.5 * label, rel=1e-4)
    assert answer["standard_error"].magnitude == pytest.approx(0.015 * label, rel=1e-4)
    assert answer["like_low"] <= answer["like_thickness"] <= answer["like_high"] < FOAM.thickness
    ua = loss_answer(COVERED, COVERED.line, "UA", sure, 45.0)
    assert ua["value"].magnitude == ua["ua"].magnitude == pytest.approx(1.5 * through(COVERED)[0], rel=2e-3)
    assert ua["label"].magnitude == pytest.approx(through(COVERED)[0], rel=2e-3)


def test_what_the_model_is_not_sure_of():
    """Each thing off by one standard deviation, by the second path: the loss of 45 degC water in a room of 20 degC."""
    line, cut = BARE.line, second_path.Cut(BARE)
    wetted, warmer, thicker, brighter = physics.doubtful(line)

    def loss(one):
        return float(one.loss(45.0)[0])

    assert loss(line) == pytest.approx(float(cut.loss(45.0, 20.0)[0]), rel=2e-3)
    # the water's film: 0.03 m K/W inside the wall
    assert loss(wetted) == pytest.approx(float(cut.loss(45.0, 20.0, inner=0.03)[0]), rel=2e-3)
    # air within half a degree, two standard deviations: 0.25 K
    assert loss(warmer) == pytest.approx(float(cut.loss(45.0, 20.25)[0]), rel=2e-3)
    assert float(warmer.rest()) == pytest.approx(20.25, abs=1e-3)
    # a tenth more convection: what goes without radiation is a tenth more
    surface = float(line.loss(45.0)[1][0])
    whole, part = float(cut.outside(surface, 20.0, 0.0, 20.0)), cut.emissivity
    cut.emissivity = 0.0
    convection = float(cut.outside(surface, 20.0, 0.0, 20.0))
    assert float(thicker.around.heat_from(surface, line.section)[0]) == pytest.approx(
        whole + 0.1 * convection, rel=2e-3
    )
    # emissivity: half of e (1 - e)
    assert brighter.section.emissivity == pytest.approx(part + 0.5 * part * (1 - part))
    # in the ground: the soil's temperature by 0.25 K, and how well it conducts by a fifth
    buried = replace(BARE, surroundings=Ground(Q_(8, "degC"), Q_(1, "m"))).line
    _, warmer, drier = physics.doubtful(buried)
    assert warmer.around.temperature == pytest.approx(8.25) and warmer.around.conductivity == buried.around.conductivity
    assert drier.around.conductivity == pytest.approx(1.2 * buried.around.conductivity)
    # the foam's own heat by a fifth
    standing = COVERED.standing()
    *_, heavier = physics.doubtful_standing(standing)
    assert heavier.insulation_density_heat == pytest.approx(1.2 * standing.insulation_density_heat)


def test_a_hand_on_a_stopwatch_moves_a_flow_by_its_share_of_the_wait():
    """A front that arrives after t moves with the flow: half a second of doubt is 0.5/t of it, 1.96 of them the interval."""
    draw = BARE.first_draw(Q_(60, "degC"), Q_(4.6, "L/min"), Q_(20, "degC"))
    clock = np.arange(0, 90, 1.0)
    seen = physics.lagging(draw.time.magnitude, draw.temperature.magnitude, 4.0, 20.0, clock)
    fit = fit_first_draw(BARE, over_time(seen, clock), Q_(60, "degC"), Q_(20, "degC"), thermometer=Q_(4, "s"))
    assert fit.value.magnitude == pytest.approx(4.6, rel=2e-3)
    front = float(draw.time.magnitude[np.argmax(draw.temperature.magnitude > 40)])
    assert fit.doubt == pytest.approx(1.96 * 0.5 / front, rel=0.05)


# --- two fits side by side


def told(value, low, high, kind="UA"):
    """As much of a fit as a comparison asks for: of a loss what it is for each kelvin, not the conductivity that was fitted."""
    one, unit = object.__new__(BenchFit), "L/min" if kind == "flow" else "W/(m*K)"
    numbers = {"value": value, "low": low, "high": high}
    for name, number in numbers.items():
        object.__setattr__(one, name, Q_(number if kind == "flow" else 7 / number, unit))
        object.__setattr__(one, {"value": "ua"}.get(name, f"ua_{name}"), None if kind == "flow" else Q_(number, unit))
    object.__setattr__(one, "unknown", kind)
    return one


def test_a_ratio_of_two_fits_by_hand():
    """0.2 within a factor of 1.1 and 0.1 within 1.2: a half, within exp(sqrt(ln 1.1^2 + ln 1.2^2)) = 1.2286."""
    found = compare(told(0.2, 0.2 / 1.1, 0.22), told(0.1, 0.1 / 1.2, 0.12))
    factor = exp(sqrt(log(1.1) ** 2 + log(1.2) ** 2))
    assert (found.ratio, found.low, found.high) == pytest.approx(
        (0.5, 0.5 / factor, 0.5 * factor)
    ) and not found.overlap
    assert compare(told(0.2, 0.1, 0.3), told(0.35, 0.3, 0.4)).overlap, "they touch"
    assert not compare(told(0.2, 0.1, 0.3), told(0.35, 0.3001, 0.4)).overlap
    assert compare(told(0.35, 0.3, 0.4), told(0.2, 0.1, 0.3)).overlap
    assert not compare(told(0.35, 0.3001, 0.4), told(0.2, 0.1, 0.3)).overlap
    assert compare(told(0.2, 0.1, 0.3), told(0.2, 0.1, 0.3)).meaning.startswith("Both fits are the same: 0.2")
    assert compare(told(5.0, 4.0, 6.0, "flow"), told(4.0, 3.0, 5.0, "flow")).ratio == pytest.approx(0.8)


# --- words at their edges: within a tenth is like the label


@pytest.mark.parametrize(
    "loss, low, high, bare, word",
    [
        (1.11, 1.01, 1.2, 9.0, words.WORSE),
        (1.09, 1.01, 1.2, 9.0, words.SAME),  # within a tenth
        (1.11, 0.99, 1.2, 9.0, words.SAME),  # its interval holds the label
        (0.89, 0.8, 0.99, 9.0, words.BETTER),
        (0.91, 0.8, 0.99, 9.0, words.SAME),
        (0.89, 0.8, 1.01, 9.0, words.SAME),
        (3.61, 3.0, 4.0, 4.0, words.BARE),  # 0.9 x 4 and more
        (3.59, 3.0, 4.0, 4.0, words.WORSE),
        (2.0, 0.99, 3.61, 4.0, words.UNSURE),  # from better than the label to bare
        (2.0, 0.99, 3.59, 4.0, words.SAME),
        (2.0, 1.01, 3.61, 4.0, words.WORSE),
    ],
)
def test_a_word_for_an_insulation_at_its_edges(loss, low, high, bare, word):
    assert words.insulation_word(loss, low, high, bare) == word


@pytest.mark.parametrize(
    "loss, low, high, word",
    [
        (1.11, 1.01, 1.2, words.MORE),
        (1.09, 1.01, 1.2, words.AGREES),
        (1.11, 0.99, 1.2, words.AGREES),
        (0.89, 0.8, 0.99, words.LESS),
        (0.91, 0.8, 0.99, words.AGREES),
        (0.89, 0.8, 1.01, words.AGREES),
    ],
)
def test_a_word_for_a_bare_run_at_its_edges(loss, low, high, word):
    assert words.bare_word(loss, low, high) == word


def test_a_flow_against_the_given_one_at_its_edges():
    rate = lambda number: Q_(number, "L/min")  # noqa: E731
    for given, word in ((4.0, words.AS_GIVEN), (6.0, words.AS_GIVEN), (3.99, words.MORE_FLOW), (6.01, words.LESS_FLOW)):
        assert words.flow_words(rate(5.0), rate(4.0), rate(6.0), rate(given))[0] == word
    assert "25 % more than" in words.flow_words(rate(5.0), rate(4.5), rate(6.0), rate(4.0))[1]
    assert [words.fine_share(one) for one in (0.0994, 0.0996, 0.0006, 0.0004)] == ["9.9", "10", "0.1", "under 0.1"]


# --- readings that cannot be right


def kept(readings) -> list:
    return readings.row.tolist()


def test_scatter_is_the_standard_deviation_of_noise():
    """Third differences of noise have 1 + 9 + 9 + 1 = 20 times its variance, and the median size is 0.6745 of a spread."""
    noise = 0.3 * np.random.default_rng(1).standard_normal(200_000)
    assert checks.scatter(noise) == pytest.approx(0.3, rel=0.01)
    assert checks.scatter(np.array([0.0, 0.0, 0.0, 1.0])) == pytest.approx(1 / norm.ppf(0.75) / sqrt(20), rel=1e-4)
    assert checks.scatter(3.0 + np.arange(9.0) + 0.5 * np.arange(9.0) ** 2) == pytest.approx(0, abs=1e-12), (
        "no parabola has any"
    )
    assert checks.scatter(np.array([1.0, 5.0, 2.0])) == 0
    assert checks.limit_of(np.zeros(9)) == 0.5
    wavy = np.tile([0.1, -0.1], 10)  # third differences of 0.8
    assert checks.limit_of(wavy) == pytest.approx(5 * 0.8 / norm.ppf(0.75) / sqrt(20), rel=1e-4)


@pytest.mark.parametrize("off, out", [(0.49, []), (0.51, [5]), (-0.51, [5])])
def test_a_step_of_half_a_kelvin_is_one(off, out):
    values = np.full(11, 40.0)
    values[4] += off
    assert [one.row for one in checks.near_neighbours(over_time(values)).left_out] == out


@pytest.mark.parametrize("place, rows", [(1, [2]), (9, [10]), (0, []), (10, [])])
def test_the_first_and_the_last_have_no_neighbours_on_one_side(place, rows):
    values = np.full(11, 40.0)
    values[place] += 3
    assert [one.row for one in checks.near_neighbours(over_time(values)).left_out] == rows


def test_where_readings_only_fall_each_is_its_own():
    """However steep: two kelvin from row to row."""
    for steep in (2.0, -2.0):
        assert checks.near_neighbours(over_time(50 - steep * np.arange(11))).left_out == ()


def test_two_kelvin_beyond_what_can_be():
    values = np.array([61.97, 50, 40, 30, 25, 22, 18.03, 62.03, 17.97])
    found = checks.within(over_time(values), 20.0, 60.0, "too cold", "too hot")
    assert [one.row for one in found.left_out] == [8, 9] and kept(found) == [1, 2, 3, 4, 5, 6, 7]
    for hot, most in ((4, True), (5, False)):  # half of eight readings must be possible
        many = np.array([70.0] * hot + [40.0] * (8 - hot))
        if most:
            assert len(checks.within(over_time(many), 20.0, 60.0, "", "").row) == 4
        else:
            with pytest.raises(InputError, match="5 of 8 readings are too hot"):
                checks.within(over_time(many), 20.0, 60.0, "too cold", "too hot")


def test_what_is_flat():
    """A fifth of a kelvin in all; or means of thirds no further apart than 5.5 of their own standard deviations."""
    for change, flat in ((0.198, True), (0.202, False)):
        values = over_time(40 - np.linspace(0, change, 12))
        if flat:
            with pytest.raises(InputError, match="flat"):
                checks.must_change(values, "")
        else:
            checks.must_change(values, "")
    spread = 0.8 / norm.ppf(0.75) / sqrt(20)  # of +-0.1 by turns
    for scatters, flat in ((5.45, True), (5.55, False)):
        step = scatters * spread / sqrt(10)
        values = over_time(np.tile([40.1, 39.9], 15) - np.repeat([0, step / 2, step], 10))
        if flat:
            with pytest.raises(InputError, match="flat"):
                checks.must_change(values, "")
        else:
            checks.must_change(values, "")


@pytest.mark.parametrize("rise, swing, cut", [(0.49, 0.0, None), (0.51, 0.0, 13), (0.89, 0.4, None), (0.91, 0.4, 13)])
@pytest.mark.parametrize("cooling", [True, False])
def test_water_that_was_warmed_again(rise, swing, cut, cooling):
    """Half a kelvin above the lowest before, and what the air's swing can do, is a new heating from its first row on."""
    values = np.r_[50 - np.arange(7.0), np.full(5, 43.0), np.full(8, 43 + rise)]
    found = checks.only_falling(over_time(values if cooling else 60 - values), cooling, swing)
    assert kept(found)[-1] == (20 if cut is None else cut - 1)


def test_readings_that_rise_all_along_are_no_cooling():
    """The middle of the last third against that of the first: half a kelvin more cannot be, less may be noise."""
    for rise in (0.49, 0.51):
        for cooling in (True, False):
            values = 40 + (1 if cooling else -1) * np.repeat([0.0, rise / 2, rise], 5)
            if rise < 0.5:
                assert checks.only_falling(over_time(values), cooling).left_out == ()
            else:
                with pytest.raises(InputError, match=f"readings {'rise' if cooling else 'fall'} from row 1 to row 15"):
                    checks.only_falling(over_time(values), cooling)


def test_two_odd_readings_are_no_new_heating():
    """Three in a row are; two at the very end are left out for themselves."""
    for odd in (1, 2, 3):
        values = np.r_[50 - np.arange(24.0), np.full(odd, 55.0)]
        found = checks.end_falls(checks.only_falling(over_time(values), True), True)
        assert kept(found)[-1] == 24 and ("no longer the same" in found.left_out[0].reason) == (odd == 3)
    for mirror in (1, -1):  # cooling, and warming
        falling = lambda *end: over_time(50 + mirror * np.r_[-np.arange(12.0), end])  # noqa: B023, E731
        assert checks.end_falls(falling(-10.51), mirror > 0).left_out == ()
        assert kept(checks.end_falls(falling(-10.49), mirror > 0))[-1] == 12
        assert kept(checks.end_falls(falling(5.0, 5.0, 5.0), mirror > 0))[-1] == 13, (
            "of three the first may be a new heating"
        )
    cold = np.r_[
        np.full(5, 20.0), 50 - np.arange(8.0)
    ]  # a thermometer that was put on cold stood lower in the first half
    assert checks.end_falls(over_time(cold), True).left_out == ()


def test_a_thermometer_that_was_put_on_cold():
    """It climbs to its highest; then a reading below the straight line through the next two, by 0.75 K, is none of the curve."""
    curve = 50 * np.exp(-np.arange(20) / 30.0)
    climbing = np.r_[20.0, 35.0, 45.0, curve]
    assert kept(checks.caught_up(over_time(climbing), True))[0] == 4
    assert kept(checks.caught_up(over_time(80 - climbing), False))[0] == 4, "in water that warms"
    line = curve[1] + (curve[1] - curve[2])
    for below, first in ((0.74, 1), (0.76, 2)):
        assert kept(checks.caught_up(over_time(np.r_[line - below, curve[1:]]), True))[0] == first
    late = np.r_[49.0, 49.0, 49.0, 50.0, curve[1:]]  # it hung back, level, before it climbed
    assert kept(checks.caught_up(over_time(late), True))[0] == 4
    assert checks.only_falling(over_time(climbing), True).left_out == (), "its climb is no new heating"
    for climb, first in ((0.49, 1), (0.51, 2)):  # half a kelvin is noise
        assert kept(checks.caught_up(over_time(np.r_[50 - climb, np.full(19, 50.0)]), True))[0] == first
    # a step of another length counts by its length: half as long, half the fall
    clock = np.r_[0.0, 30.0 + 60 * np.arange(19)]
    line = curve[1] + (curve[1] - curve[2]) / 2
    for below, first in ((0.74, 1), (0.76, 2)):
        assert kept(checks.caught_up(over_time(np.r_[line - below, curve[1:]], clock), True))[0] == first


@pytest.mark.parametrize("highest, first", [(8, 9), (13, 10)])
def test_a_thermometer_catches_up_in_the_first_half_of_its_readings(highest, first):
    """The highest of the first ten of twenty begins the curve; what is higher later is a fault of another kind."""
    up, down = 20 + 2.0 * np.arange(highest + 1), 20 + 2.0 * highest - np.arange(1.0, 20 - highest)
    assert kept(checks.caught_up(over_time(np.r_[up, down]), True))[0] == first


@pytest.mark.parametrize(
    "run, said", [("the cabin's", '"the cabin\'s" was'), (replace(COVERED, length=Q_([5, 9], "m")), "lists in it was")]
)
def test_a_run_that_is_none_or_several(run, said):
    with pytest.raises(InputError, match=f"one Run with single values is needed at the bench, and {said} given"):
        fit_cooling(run, over_time(50 - np.arange(9.0)))


def test_places_up_to_the_end_of_the_run():
    places = Readings(Q_(np.full(5, 40.0), "degC"), place=Q_([0.0, 3.0, 10.0, 10.000001, 10.1], "m"))
    assert kept(checks.inside_run(places, 10.0)) == [1, 2, 3, 4]


def test_a_supply_that_is_five_kelvin_warmer_shows_a_front():
    readings = over_time(np.linspace(20, 24.9, 30))
    with pytest.raises(InputError, match="less than 5 K above"):
        fit_first_draw(BARE, readings, Q_(24.9, "degC"), Q_(20, "degC"))
    with pytest.raises(InputError, match="no reading is above half way"):
        fit_first_draw(BARE, over_time(np.linspace(20, 22, 30)), Q_(25, "degC"), Q_(20, "degC"))


def test_the_air_that_was_read_counts_by_its_mean():
    """Air of 24 degC on average in a column, whatever the reader set: the label's UA is that of a run in such air."""
    run, places = replace(BARE, surroundings=Surroundings(Q_(24, "degC"))), np.linspace(0, 10, 11)
    values = physics.flowing_water(run.line, 58.0, 1e-5, 10.0, places)
    air = Q_(24 + np.r_[np.tile([0.1, -0.1], 5), 0.0], "degC")
    found = fit_along(BARE, Readings(Q_(values, "degC"), place=Q_(places, "m"), air=air), Q_(0.6, "L/min"))
    assert found.value.magnitude / found.label.magnitude == pytest.approx(1, abs=1e-3)


# --- curves beside the readings


@pytest.mark.parametrize("begins", [0.0, 900.0])
def test_the_curve_goes_from_the_first_reading_to_the_last(begins):
    """Whatever the clock says when the readings begin."""
    seconds = begins + np.arange(13) * 60.0
    cooled = 20 + 35 * np.exp(-(seconds - begins) / 1500)
    fit = fit_cooling(BARE, over_time(cooled, seconds), "UA")
    assert fit.curve_at[[0, -1]].magnitude == pytest.approx(seconds[[0, -1]])
    assert fit.curve[[0, -1]].magnitude == pytest.approx(cooled[[0, -1]], abs=0.5)


@pytest.mark.parametrize("share", [-0.45, -0.2, 0.1, 0.4])
def test_a_draw_between_those_that_are_followed(share):
    """The parabola through three draws a tenth apart is the draw itself to 0.002 K, from the front on."""
    seconds = np.arange(120.0)
    readings = over_time(np.where(seconds > 20, 55.0, 15.0), seconds)
    draw, _ = experiments._draws(COVERED, readings, 60.0, 15.0, 0.0)
    flow = exp(experiments.NODE * (round(log(1e-4) / experiments.NODE) + share))
    times, temperatures = draw(flow)
    one = COVERED.first_draw(Q_(60, "degC"), Q_(flow, "m**3/s"), Q_(15, "degC"), Q_(15, "degC"))
    own, at = one.time.to("s").magnitude, one.temperature.magnitude
    behind = temperatures > 15.1
    assert np.interp(times, own, at)[behind] == pytest.approx(temperatures[behind], abs=0.002)
