"""Pressure, speed and flow asked of a Run or of runs in series: the same answers as lessons_lib.runs.flow, and chains add up."""

import numpy as np
import pytest

from lessons_lib import Q_, InputError, Insulation, Pipe, Run, Surroundings

WATER, FLOW = Q_(55, "degC"), Q_(8, "L/min")


def run_of(size="1/2 in", length=12.0, fittings=()):
    return Run(
        Pipe.nominal("copper L", size), Q_(length, "m"), Insulation.none(), Surroundings(Q_(20, "degC")), fittings
    )


def test_fittings_cost_pressure_and_print():
    plain, bent = run_of(), run_of(fittings=[("elbow 90", 6)])
    assert bent.pressure_drop(FLOW, WATER) > plain.pressure_drop(FLOW, WATER)
    assert "6 elbow 90" in str(bent)


def test_a_chain_adds_up():
    legs = [run_of("3/4 in", 8.0, [("elbow 90", 2)]), run_of("1/2 in", 5.0, ["elbow 90"])]
    chain = Run.series(legs)
    parts = sum(leg.pressure_drop(FLOW, WATER).magnitude for leg in legs)
    assert chain.pressure_drop(FLOW, WATER).magnitude == pytest.approx(parts, rel=1e-9)
    assert chain.speed(FLOW).magnitude == pytest.approx(max(leg.speed(FLOW).magnitude for leg in legs))
    found = chain.flow_at(Q_(200, "kPa"), Q_(3, "m"), WATER)
    lost = chain.pressure_drop(found, WATER).to("kPa").magnitude
    lifted = 9.80665 * 3 * 985.7 / 1000
    assert lost + lifted == pytest.approx(200, rel=0.01)  # what is left is the water's own speed at the open end


def test_unreachable_is_zero_and_names_are_checked():
    assert run_of().flow_at(Q_(20, "kPa"), Q_(5, "m"), WATER).magnitude == 0
    with pytest.raises(InputError, match="elbow"):
        run_of(fittings=["elbo 90"])
    with pytest.raises(InputError, match="flow"):
        run_of().pressure_drop(Q_(-1, "L/min"), WATER)


def test_a_bigger_pipe_flows_more_at_a_given_pressure_and_waits_less_than_the_square():
    """At the same flow the wait grows with the square of the diameter; on a given pressure a bigger pipe also flows
    more, and the wait grows less."""
    small, large = run_of("1/2 in"), run_of("3/4 in")
    flows = [run.flow_at(Q_(150, "kPa"), Q_(2, "m"), WATER) for run in (small, large)]
    assert flows[1] > 1.5 * flows[0]
    waits = [run.first_draw(WATER, flow, Q_(20, "degC")).wait.magnitude for run, flow in zip((small, large), flows)]
    same = [run.first_draw(WATER, FLOW, Q_(20, "degC")).wait.magnitude for run in (small, large)]
    assert waits[1] / waits[0] < 0.7 * same[1] / same[0] and np.all(np.isfinite(waits))
