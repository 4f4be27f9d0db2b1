"""Laws of the public calls over random single runs: known words, unit round trips, lists equal loops."""

from dataclasses import replace

import ht
import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, Ground, Insulation, Pipe, Run, Surroundings, assess, time_to_burn
from lessons_lib.physics.properties import KELVIN, air
from lessons_lib.runs.assessment import FREEZE_WORDS, FREEZES_IN_THE_RUN, ON_THE_EDGE, SAFE_FROM_ICE, SCALD_WORDS
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

# The same cases each time; a failing one is shown as found, for shrinking whole runs takes a minute and says no more.
steady = settings(max_examples=60, deadline=None, derandomize=True, phases=(Phase.generate,))
PROMISED = 0.01  # [K] accuracy of the delivery temperature
NAMES = [(family, size) for family in families() for size in sizes(family)]

pipes = st.sampled_from(NAMES).map(lambda name: Pipe.nominal(*name))
lengths = st.floats(1, 60)  # [m]
supplies = st.floats(40, 80)  # [degC]
flows = st.floats(0.5, 20)  # [L/min]
airs = st.floats(-30, 40)  # [degC]
shares = st.sampled_from([0.0, 0.1])


@st.composite
def coverings(draw):
    if draw(st.booleans()):
        return Insulation.none()
    return Insulation(draw(st.sampled_from(materials())), Q_(draw(st.floats(0, 50)), "mm"))


@st.composite
def in_air(draw, sky=20):
    temperature = draw(airs)
    radiant = temperature - draw(st.floats(0, sky))
    return Surroundings(Q_(temperature, "degC"), Q_(draw(st.floats(0, 15)), "m/s"), Q_(radiant, "degC"))


@st.composite
def runs(draw):
    return Run(draw(pipes), Q_(draw(lengths), "m"), draw(coverings()), draw(in_air()), bare_share=draw(shares))


def celsius(quantity):
    return quantity.to("degC").magnitude


@steady
@given(runs(), supplies, flows, st.floats(0, 30))
def test_every_slider_position_has_an_answer(run, supply, flow, start):
    found = assess(run, Q_(supply, "degC"), Q_(flow, "L/min"), start=Q_(start, "degC"), hold=Q_(4, "degC"))
    assert 0 <= celsius(found.tap.value) <= max(supply, 40)
    assert found.tap.word in {FREEZES_IN_THE_RUN, "hot enough", "lukewarm", "cold"}
    assert found.scald.word in {word for _, word in SCALD_WORDS}
    assert found.freeze.word in {SAFE_FROM_ICE, ON_THE_EDGE, *(word for _, word in FREEZE_WORDS)}
    assert 0 < found.scald.value.to("s").magnitude < np.inf
    assert found.freeze.value.magnitude >= 0
    assert found.hold_power.magnitude >= 0
    assert (found.tap.word == FREEZES_IN_THE_RUN) == (found.ice_distance <= run.length)
    for verdict in (found.tap, found.scald, found.freeze):
        assert verdict.reason and "nan" not in verdict.reason and "inf" not in verdict.reason
    assert str(found) and found._repr_html_().startswith("<table>")


def test_air_a_hair_below_freezing_is_an_answer_too():
    """The distance to it takes hundreds of times the time in which it falls by e; its ratio has no room in a float."""
    run = Run(Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), Insulation.none(), Surroundings(Q_(-1.1e-308, "degC")))
    near, nearer = (
        replace(run, surroundings=Surroundings(Q_(air, "degC"))).freezing(Q_(20, "degC")).hours_to_zero.magnitude
        for air in (-1e-6, -1.1e-308)
    )
    assert nearer > 10 * near and np.isfinite(nearer)


@steady
@given(pipes, lengths, st.floats(0, 50), airs, st.floats(0, 15), supplies, flows)
def test_customary_units_give_the_same(pipe, length, thickness, temperature, wind, supply, flow):
    """degF, gpm, ft, in and mph in: the same out, to rounding. (Air at 0 degC is left out: there rounding decides
    between ice in weeks and never.)"""
    assume(abs(temperature) > 1e-3)

    def answers(units):
        of_length, of_thickness, degree, of_wind, of_flow = units
        run = Run(
            pipe,
            Q_(length, "m").to(of_length),
            Insulation("mineral wool", Q_(thickness, "mm").to(of_thickness)),
            Surroundings(Q_(temperature, "degC").to(degree), wind=Q_(wind, "m/s").to(of_wind)),
        )
        hot, moving = Q_(supply, "degC").to(degree), Q_(flow, "L/min").to(of_flow)
        standing = run.freezing(hot)
        return [
            run.heat_loss(hot, moving).to("W/m").magnitude,
            celsius(run.surface_temperature(hot)),
            celsius(run.delivery_temperature(hot, moving)),
            standing.hours_to_zero.magnitude,
            standing.hours_to_share(0.1).magnitude,
            run.hold_power(Q_(5, "degC").to(degree)).magnitude,
            time_to_burn(hot).seconds.magnitude,
        ]

    metric = answers(("m", "mm", "degC", "m/s", "L/min"))
    assert answers(("ft", "in", "degF", "mph", "gpm")) == pytest.approx(metric, rel=1e-6)
    assert answers(("cm", "m", "kelvin", "knot", "m**3/h")) == pytest.approx(metric, rel=1e-6)


@settings(steady, max_examples=25)
@given(
    pipes,
    st.lists(lengths, min_size=2, max_size=2),
    st.lists(st.floats(0, 50), min_size=3, max_size=3),
    st.lists(supplies, min_size=2, max_size=2),
    in_air(),
    flows,
    shares,
)
def test_lists_equal_loops(pipe, run_lengths, thicknesses, hot, around, flow, bare_share):
    """An array of cases is answered as each alone: length x thickness x supply. Both stand to 1e-6 K in the surface."""

    def run_of(length, thickness):
        return Run(pipe, Q_(length, "m"), Insulation("glass fibre", Q_(thickness, "mm")), around, bare_share=bare_share)

    moving, long = Q_(flow, "L/min"), np.array(run_lengths)[:, None, None]
    together = run_of(long, np.array(thicknesses)[:, None])
    delivered = celsius(together.delivery_temperature(Q_(np.array(hot), "degC"), moving))
    lost = together.heat_loss(Q_(np.array(hot), "degC")).magnitude
    hours = together.freezing(Q_(np.array(hot), "degC")).hours_to_zero.magnitude
    assert delivered.shape == (len(run_lengths), len(thicknesses), len(hot))
    for i, j, k in np.ndindex(delivered.shape):
        alone, supply = run_of(run_lengths[i], thicknesses[j]), Q_(hot[k], "degC")
        assert celsius(alone.delivery_temperature(supply, moving)) == pytest.approx(delivered[i, j, k], abs=1e-5)
        assert alone.heat_loss(supply).magnitude == pytest.approx(lost[j, k], rel=1e-5, abs=1e-4)
        assert alone.freezing(supply).hours_to_zero.magnitude == pytest.approx(hours[j, k], rel=1e-5)


@steady
@given(runs(), supplies, flows, st.floats(0.1, 0.9))
def test_two_parts_of_a_run_equal_the_whole(run, supply, flow, cut):
    """... and ice is found at the same place."""
    parts = [
        Run(run.pipe, run.length * part, run.insulation, run.surroundings, bare_share=run.bare_share)
        for part in (cut, 1 - cut)
    ]
    series, given_ = Run.series(parts), (Q_(supply, "degC"), Q_(flow, "L/min"))
    assert celsius(series.delivery_temperature(*given_)) == pytest.approx(
        celsius(run.delivery_temperature(*given_)), abs=PROMISED
    )
    assert series.length.to("m").magnitude == pytest.approx(run.length.to("m").magnitude)
    assert series.heat_loss(given_[0]).magnitude == pytest.approx(
        run.heat_loss(given_[0]).magnitude, rel=1e-6, abs=1e-4
    )
    assert series.hold_power().magnitude == pytest.approx(run.hold_power().magnitude, rel=1e-6, abs=1e-6)
    assert series.freezing(given_[0]).hours_to_zero.magnitude == pytest.approx(
        run.freezing(given_[0]).hours_to_zero.magnitude
    )
    ice = run.ice_distance(*given_).to("m").magnitude
    assert series.ice_distance(*given_).to("m").magnitude == pytest.approx(ice, rel=2e-3)


@steady
@given(runs(), st.floats(1, 80), st.floats(0, 99))
def test_time_until_standing_water_passes_a_temperature(run, start, target):
    """0 if it has passed it already, inf if it never will, else the moment at which the curve is there."""
    rest = float(run.line.alone()[0].rest())
    assume(min(abs(start - rest), abs(target - rest), abs(target - start)) > 0.1)
    curve = run.cooling(Q_(start, "degC"), Q_(1, "h"))
    seconds = curve.time_to(Q_(target, "degC")).to("s").magnitude
    if (target - start) * (start - rest) > 0:
        assert seconds == 0, "it began nearer to rest than that"
    elif (target - rest) * (start - rest) < 0:
        assert seconds == np.inf, "rest lies between"
    else:
        at_that_time = run.cooling(Q_(start, "degC"), Q_(seconds, "s")).temperature[-1]
        assert celsius(at_that_time) == pytest.approx(target, abs=0.05)


@steady
@given(runs(), st.floats(0.1, 60))
def test_ice_takes_its_time(run, start):
    standing = run.freezing(Q_(start, "degC"))
    hours = [standing.hours_to_share(share).magnitude for share in (0.01, 0.1, 0.5, 0.9, 1)]
    assert standing.hours_to_solid.magnitude == hours[-1]
    if np.isinf(standing.hours_to_zero.magnitude):
        assert all(np.isinf(value) for value in hours)
    else:
        assert all(less < more for less, more in zip([standing.hours_to_zero.magnitude, *hours], hours))


@steady
@given(st.floats(0, 100), st.floats(0, 100))
def test_hotter_water_never_burns_later(one, other):
    cooler, hotter = sorted((one, other))
    assert time_to_burn(Q_(hotter, "degC")).seconds <= time_to_burn(Q_(cooler, "degC")).seconds * (1 + 1e-12)
    assert time_to_burn(Q_(one, "degC")).bound in {"at", "longer than", "shorter than"}


@steady
@given(runs(), st.floats(0, 60))
def test_hold_power_covers_the_loss(run, hold):
    """A tape sits outside the wall, so it gives at least the loss of water at that temperature; never less than none."""
    power, loss = run.hold_power(Q_(hold, "degC")).magnitude, run.heat_loss(Q_(hold, "degC")).magnitude
    assert power >= max(loss, 0) - 1e-4


@steady
@given(pipes, airs, st.floats(5, 90))
def test_bare_without_wind_and_radiation_is_churchill_chu(pipe, temperature, above):
    """The exact limit, built anew with `ht` at the surface temperature that the library found."""
    hot = min(temperature + above, 99.0)
    assume(hot > 0)
    run = Run(pipe, Q_(1, "m"), Insulation.none(emissivity=0), Surroundings(Q_(temperature, "degC")))
    surface, diameter = celsius(run.surface_temperature(Q_(hot, "degC"))), pipe.outside_diameter.to("m").magnitude
    film = 0.5 * (surface + temperature)
    at = air(film)
    grashof = (
        9.80665 * diameter**3 * abs(surface - temperature) / ((film + KELVIN) * float(at.kinematic_viscosity) ** 2)
    )
    nusselt = ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(float(at.prandtl), grashof)
    expected = np.pi * float(at.conductivity) * nusselt * (surface - temperature)
    assert run.heat_loss(Q_(hot, "degC")).magnitude == pytest.approx(expected, rel=1e-5)


@steady
@given(pipes, lengths, st.floats(-10, 25), st.floats(0.3, 3), supplies, flows)
def test_a_buried_run_answers_what_is_steady(pipe, length, temperature, depth, supply, flow):
    run = Run(
        pipe,
        Q_(length, "m"),
        Insulation("polyethylene foam", Q_(9, "mm")),
        Ground(Q_(temperature, "degC"), Q_(depth, "m")),
    )
    delivered = celsius(run.delivery_temperature(Q_(supply, "degC"), Q_(flow, "L/min")))
    assert max(temperature, 0) - 1e-9 <= delivered <= supply
    assert assess(run, Q_(supply, "degC"), Q_(flow, "L/min")).freeze.value is None


@steady
@given(runs(), st.floats(0, 99), flows)
def test_standing_water_is_the_cautious_side(run, water, flow):
    """Without the film's resistance the exchange with the surroundings is never smaller."""
    standing = run.heat_loss(Q_(water, "degC")).magnitude
    flowing = run.heat_loss(Q_(water, "degC"), Q_(flow, "L/min")).magnitude
    assert abs(standing) >= abs(flowing) - 1e-4
    assert run.heat_loss(Q_(water, "degC"), Q_(0, "L/min")).magnitude == standing
