"""Waiting at the tap: exact limits, energy, chains, pauses, refinement, errors."""

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, Ground, InputError, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics import first_draw as physics

SUPPLY, FLOW, START = Q_(55.0, "degC"), Q_(6.0, "L/min"), Q_(20.0, "degC")


def run_of(pipe=("copper L", "1/2 in"), length=10.0, foam=13.0, air=20.0, wind=0.0):
    covering = Insulation("elastomeric foam", Q_(foam, "mm"))
    return Run(Pipe.nominal(*pipe), Q_(length, "m"), covering, Surroundings(Q_(air, "degC"), wind=Q_(wind, "m/s")))


def test_no_wall_and_no_loss_takes_exactly_one_pipe_volume():
    leg = physics.DrawnLeg(
        np.asarray(7.0), (1e-12, 1e-12, 1e-12, 1e-12), (0.0, 0.0, 0.0), np.asarray(20.0), np.full(2, 20.0)
    )
    record = physics.draw([leg], np.asarray(55.0), 20.0, 1.5)
    assert physics.wait(record, 40.0) == pytest.approx(7.0, rel=1e-9)
    assert physics.wait(record, 54.9999) == pytest.approx(7.0, rel=1e-9)


@pytest.mark.parametrize("pipe", [("copper L", "1/2 in"), ("PEX CTS", "3/4 in"), ("CPVC CTS", "1/2 in")])
@pytest.mark.parametrize("length, flow, air, wind", [(3, 2, 20, 0), (25, 6, -10, 5), (60, 1.5, 0, 2), (10, 12, 35, 0)])
def test_energy_balance(pipe, length, flow, air, wind):
    """What the tank sent equals drained + given off + stored, within 0.5 %."""
    run = run_of(pipe, length, air=air, wind=wind)
    draw = run.first_draw(SUPPLY, Q_(flow, "L/min"), START, useful=Q_(30, "degC"))
    if np.isfinite(draw.wait.magnitude):
        from lessons_lib.physics.properties import water

        entering = water(55.0)
        sent = entering.density * entering.heat_capacity * draw.water_drawn.to("m**3").magnitude * 35.0
        assert (draw.energy_lost + draw.energy_left).to("J").magnitude == pytest.approx(float(sent), rel=0.005)


def test_settles_on_the_steady_delivery():
    for run in (run_of(), run_of(("PEX CTS", "3/4 in"), 40, 5, -10, 5)):
        draw = run.first_draw(SUPPLY, FLOW, START)
        steady = run.delivery_temperature(SUPPLY, FLOW).magnitude
        assert draw.temperature.magnitude[-1] == pytest.approx(steady, abs=0.1)


@pytest.mark.parametrize("pipe", [("copper L", "1/2 in"), ("PEX CTS", "1/2 in")])
def test_finer_cells_move_the_wait_by_less_than_one_percent(pipe, monkeypatch):
    coarse = run_of(pipe).first_draw(SUPPLY, FLOW, START).wait.magnitude
    monkeypatch.setattr(physics.draw, "__defaults__", (4 * physics.CELLS,))
    monkeypatch.setattr(physics, "MOST_STEPS", 16 * physics.MOST_STEPS)
    fine = run_of(pipe).first_draw(SUPPLY, FLOW, START).wait.magnitude
    assert coarse != fine and coarse == pytest.approx(fine, rel=0.01)


def test_starts_warm_enough():
    draw = run_of().first_draw(SUPPLY, FLOW, Q_(41, "degC"))
    assert draw.wait.magnitude == 0 and draw.water_drawn.magnitude == 0 and draw.energy_lost.magnitude == 0


def test_never_warm_enough():
    draw = run_of(length=60, foam=0, air=-20, wind=10).first_draw(SUPPLY, Q_(1, "L/min"), Q_(5, "degC"))
    assert np.isinf(draw.wait.magnitude) and np.isinf(draw.water_drawn.magnitude)
    assert np.all(draw.temperature.magnitude >= 0)


def test_just_below_the_steady_temperature_still_arrives():
    run = run_of()
    steady = run.delivery_temperature(SUPPLY, FLOW).magnitude
    assert np.isfinite(run.first_draw(SUPPLY, FLOW, START, Q_(steady - 0.001, "degC")).wait.magnitude)


def test_equal_legs_are_one_run():
    whole = run_of(length=12).first_draw(SUPPLY, FLOW, START)
    for parts in (2, 3, 7):
        chain = Run.series([run_of(length=12 / parts)] * parts).first_draw(SUPPLY, FLOW, START)
        assert chain.wait.magnitude == pytest.approx(whole.wait.magnitude, rel=1e-3)
        assert chain.pipe_volume.magnitude == pytest.approx(whole.pipe_volume.magnitude)


def test_different_legs_lie_between_their_pure_kinds():
    small, large = run_of(("copper L", "1/2 in"), 6), run_of(("copper L", "3/4 in"), 6)
    chain = Run.series([large, small]).first_draw(SUPPLY, FLOW, START).wait.magnitude
    assert chain == pytest.approx(
        sum(leg.first_draw(SUPPLY, FLOW, START).wait.magnitude for leg in (small, large)), rel=0.01
    )


def test_wait_grows_with_the_square_of_the_diameter_at_the_same_flow():
    half, one = (run_of(("copper L", size), 12).first_draw(SUPPLY, FLOW, START) for size in ("1/2 in", "1 in"))
    assert (one.wait / half.wait).magnitude == pytest.approx((one.pipe_volume / half.pipe_volume).magnitude, rel=0.1)


def test_insulation_moves_the_second_draw_not_the_first():
    """A short indoor run: the first draw hardly differs, the one after 20 minutes a lot, after 2 hours both are cool."""
    bare, foam = (
        Run(Pipe.nominal("copper L", "1/2 in"), Q_(8, "m"), covering, Surroundings(Q_(20, "degC")))
        for covering in (Insulation.none(), Insulation("elastomeric foam", Q_(19, "mm")))
    )
    first = [run.first_draw(SUPPLY, FLOW, START).wait.magnitude for run in (bare, foam)]
    soon, late = (
        [run.second_draw(SUPPLY, FLOW, Q_(m, "min")).wait.magnitude for run in (bare, foam)] for m in (20, 120)
    )
    assert first[0] == pytest.approx(first[1], rel=0.01)
    assert soon[1] == 0 and soon[0] > 0.7 * first[0]
    assert min(late) > 0.85 * first[0]


def test_longer_pauses_wait_longer():
    waits = [run_of().second_draw(SUPPLY, FLOW, Q_(m, "min")).wait.magnitude for m in (1, 20, 40, 60, 120, 600)]
    assert waits == sorted(waits) and waits[0] == 0
    assert waits[-1] == pytest.approx(run_of().first_draw(SUPPLY, FLOW, START).wait.magnitude, rel=0.01)


def test_arrays_are_loops():
    flows = [2.0, 6.0, 11.0]
    together = run_of().first_draw(SUPPLY, Q_(np.array(flows), "L/min"), START)
    assert together.time.magnitude.ndim == 1 and together.temperature.magnitude.shape[1:] == (3,)
    for number, flow in enumerate(flows):
        alone = run_of().first_draw(SUPPLY, Q_(flow, "L/min"), START)
        assert together.wait.magnitude[number] == pytest.approx(alone.wait.magnitude, rel=0.01)
        assert together.energy_left.magnitude[number] == pytest.approx(alone.energy_left.magnitude, rel=0.01)


@settings(max_examples=60, deadline=None)
@example(("copper M", "1 1/4 in"), 32.0, 0.0, 1.0, 0.0, 41.0, 0.5, 1.0)
@given(
    st.sampled_from([("copper L", "3/8 in"), ("copper M", "1 1/4 in"), ("PEX CTS", "1/2 in"), ("CPVC CTS", "1 in")]),
    st.floats(0.5, 60),
    st.floats(0, 40),
    st.floats(-30, 40),
    st.floats(0, 15),
    st.floats(41, 80),
    st.floats(0.5, 20),
    st.floats(0, 40),
)
def test_whole_slider_box(pipe, length, foam, air, wind, supply, flow, start):
    """A start one rounding below the useful temperature counts as warm enough; below that the pipe must be swept once."""
    draw = run_of(pipe, length, foam, air, wind).first_draw(Q_(supply, "degC"), Q_(flow, "L/min"), Q_(start, "degC"))
    highest, lowest = max(supply, start, air), max(0.0, min(start, air, supply))
    assert np.all(np.isfinite(draw.temperature.magnitude))
    assert np.all(draw.temperature.magnitude <= highest + 0.01) and np.all(draw.temperature.magnitude >= lowest - 0.01)
    assert draw.wait.magnitude >= 0 and not np.isnan(draw.energy_lost.magnitude)
    if start < 40 - 1e-6 and np.isfinite(draw.wait.magnitude) and air < 40:
        assert (draw.water_drawn / draw.pipe_volume).magnitude >= 1 - 1e-6


@pytest.mark.parametrize(
    "arguments, words",
    [
        ((SUPPLY, FLOW, START, Q_(60, "degC")), "useful temperature"),
        ((SUPPLY, FLOW, Q_(-1, "degC")), "start temperature"),
        ((SUPPLY, Q_(0, "L/min"), START), "flow"),
        ((SUPPLY, Q_(5, "kg/min"), START), "volume flow"),
        ((55, FLOW, START), "supply temperature"),
        ((Q_(np.array([50.0, 55.0]), "degC"), Q_(np.array([1.0, 2.0, 3.0]), "L/min"), START), "do not fit together"),
        (
            (SUPPLY, Q_(np.array([4.0, 5.0]), "L/min"), START, Q_(np.array([35.0, 38.0, 40.0]), "degC")),
            r"useful \(3,\)",
        ),
    ],
)
def test_errors(arguments, words):
    with pytest.raises(InputError, match=words):
        run_of().first_draw(*arguments)


def test_buried_runs():
    """A first draw holds the soil steady and says so; a pause would need its warming, and is an error."""
    run = Run(Pipe.nominal("PEX CTS", "3/4 in"), Q_(15, "m"), Insulation.none(), Ground(Q_(8, "degC"), Q_(0.8, "m")))
    draw = run.first_draw(SUPPLY, FLOW, Q_(8, "degC"))
    assert np.isfinite(draw.wait.magnitude) and "soil" in draw.caution
    with pytest.raises(InputError, match="buried"):
        run.second_draw(SUPPLY, FLOW, Q_(20, "min"))


def test_the_record_ends_settled():
    """Within a thousandth of the step, and long before the estimate of the span: nothing is followed for its own sake."""
    run = run_of(("PEX CTS", "1/2 in"), 6)
    draw = run.first_draw(SUPPLY, FLOW, START)
    steady = run.delivery_temperature(SUPPLY, FLOW).magnitude
    assert abs(draw.temperature.magnitude[-1] - steady) <= 1.001e-3 * (steady - START.magnitude)


@pytest.mark.parametrize("air", [-12.0, -0.02, 0.0, 0.02])
def test_a_bare_run_in_wind_ends_settled_in_air_of_any_temperature(air):
    """At the freezing point too, where the rest is a zero on the scale and nothing else; the water loses half its heat."""
    run = run_of(("copper EN 1057", "22 mm"), 20, foam=0.0, air=air, wind=5.0)
    steady, draw = run.delivery_temperature(SUPPLY, Q_(2, "L/min")), run.first_draw(SUPPLY, Q_(2, "L/min"), START)
    assert draw.temperature.magnitude[-1] == pytest.approx(steady.magnitude, abs=0.05) and 20 < steady.magnitude < 40


def test_water_along_the_run_where_asked_for():
    run = run_of(length=12)
    draw = run.first_draw(SUPPLY, FLOW, START, places=25)
    moments, along = draw.moments.magnitude, draw.along.magnitude
    assert along.shape == (len(moments), 25) and along[0] == pytest.approx(START.magnitude)
    half = along[np.searchsorted(moments, 0.5 * (draw.pipe_volume / FLOW).to("s").magnitude)]
    assert np.all(np.diff(half) <= 1e-6) and half[0] > 54 and half[-1] == pytest.approx(START.magnitude, abs=0.1)
    plain = run.first_draw(SUPPLY, FLOW, START)
    assert plain.along is None and plain.wait.magnitude == draw.wait.magnitude


def test_a_second_draw_begins_on_what_the_pause_left():
    draw = run_of().second_draw(SUPPLY, FLOW, Q_(20, "min"), places=9)
    assert draw.along.magnitude[0][-1] == pytest.approx(draw.temperature.magnitude[0], abs=0.1)
