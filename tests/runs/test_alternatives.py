"""One run in every size of a family: the same answers as one run after the other."""

import numpy as np
import pytest

from lessons_lib import Q_, InputError, Insulation, Pipe, Run, Surroundings
from lessons_lib.runs.alternatives import Alternatives
from lessons_lib.runs.flow import flow_at, flow_through_each
from lessons_lib.runs.pipe import families, sizes

HOT, ROOM, FITTINGS = Q_(60, "degC"), Q_(20, "degC"), [("elbow 90", 6), "tap"]
FOAM, AROUND, LENGTH = Insulation("elastomeric foam", Q_(13, "mm")), Surroundings(ROOM), Q_(24, "m")


def in_all(family, length=24.0):
    return Alternatives.sizes(family, Q_(length, "m"), FOAM, AROUND, FITTINGS)


@pytest.mark.parametrize("family", families())
def test_flows_and_speeds_are_those_of_single_runs(family):
    beside = in_all(family)
    together = beside.flow_at(Q_(300, "kPa"), Q_(4, "m"), HOT).magnitude
    alone = [run.flow_at(Q_(300, "kPa"), Q_(4, "m"), HOT).magnitude for run in beside.runs]
    assert together == pytest.approx(alone, rel=1e-9) and len(together) == len(sizes(family))
    speeds = beside.speed(Q_(together, "L/min")).magnitude
    assert speeds == pytest.approx([run.speed(Q_(flow, "L/min")).magnitude for run, flow in zip(beside.runs, alone)])


@pytest.mark.parametrize(
    "family, length, flow", [("copper L", 24, 4), ("PEX CTS", 3, 20), ("PEX ISO 15875", 40, 6), ("CPVC CTS", 10, 2)]
)
def test_waits_are_those_of_single_runs(family, length, flow):
    """Half the cells, and followed no further than the wait: within half a percent."""
    beside = in_all(family, length)
    flows = Q_(np.outer([1.0, 1.5], np.full(len(beside.runs), flow)), "L/min")
    together = beside.waits(HOT, flows, ROOM).magnitude
    for row, factor in zip(together, (1.0, 1.5)):
        alone = [run.first_draw(HOT, Q_(flow * factor, "L/min"), ROOM).wait.magnitude for run in beside.runs]
        assert row == pytest.approx(alone, rel=0.005)


def test_a_tap_that_never_gets_there_waits_for_ever():
    waits = (
        in_all("copper L", 60.0)
        .waits(Q_(45, "degC"), Q_(np.full(5, 0.5), "L/min"), Q_(5, "degC"), Q_(44, "degC"))
        .magnitude
    )
    assert np.all(np.isinf(waits))


def test_steady_delivery_is_that_of_single_runs():
    beside = in_all("copper M")
    alone = [run.delivery_temperature(HOT, Q_(3, "L/min")).magnitude for run in beside.runs]
    assert beside.deliver(HOT, Q_(3, "L/min")).temperature == pytest.approx(alone, abs=1e-6)


def test_each_is_not_in_a_row():
    legs = [(Pipe.nominal("copper L", size), LENGTH, FITTINGS) for size in ("1/2 in", "3/4 in")]
    each = flow_through_each(legs, Q_(200, "kPa"), Q_(0, "m"), HOT).magnitude
    assert each == pytest.approx([flow_at(*leg, Q_(200, "kPa"), Q_(0, "m"), HOT).magnitude for leg in legs])


@pytest.mark.parametrize(
    "change",
    [
        {"length": Q_(12, "m")},
        {"insulation": Insulation.none()},
        {"surroundings": Surroundings(Q_(5, "degC"))},
        {"bare_share": 0.2},
    ],
)
def test_only_the_pipe_may_differ(change):
    settings = {"length": LENGTH, "insulation": FOAM, "surroundings": AROUND}
    runs = (
        Run(Pipe.nominal("copper L", "1/2 in"), **settings),
        Run(Pipe.nominal("copper L", "3/4 in"), **{**settings, **change}),
    )
    with pytest.raises(InputError, match="share one length"):
        Alternatives(runs)


@pytest.mark.parametrize(
    "runs", [(), (Run(Pipe.nominal("copper L", "1/2 in"), LENGTH, FOAM, AROUND),), ("copper", "PEX")]
)
def test_at_least_two_runs(runs):
    with pytest.raises(InputError, match="at least two"):
        Alternatives(runs)
