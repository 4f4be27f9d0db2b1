"""Laws of water that goes round: by a pump whose flow is sought, and by itself."""

import numpy as np
import pytest

from lessons_lib.physics import circulation, pressure, thermosiphon
from lessons_lib.physics.heat_loss import NotConverged
from lessons_lib.physics.properties import water


@pytest.mark.parametrize("power", [0.0, 0.3, 0.8])
@pytest.mark.parametrize("first", [1e-7, 1e-5, 1e-2])
def test_flow_for_a_drop_from_any_beginning(power, first):
    """A loss that grows with a power of the flow has a flow in closed form."""
    found = circulation.flow_for_drop(lambda flow: 1e-4 * (flow / 2e-5) ** power / flow, 5.0, first)
    assert found == pytest.approx((1e-4 / 5.0 * 2e-5**-power) ** (1 / (1 - power)), rel=1e-3)


def test_no_flow_is_said():
    with pytest.raises(NotConverged, match="of what is allowed"):
        circulation.flow_for_drop(lambda flow: 2.0, 5.0, 1e-5)


@pytest.mark.parametrize("share", [0.0, 0.4, 1.0])
def test_a_pump_is_a_pressure_and_a_hole(share):
    hole, flow = circulation.pump_hole(5000.0, 1e-4, 990.0), share * 1e-4
    assert 5000.0 - 0.5 * 990.0 * hole * flow**2 == pytest.approx(5000.0 * (1 - share**2), abs=1e-6)


def loop(height=2.5, apart=1.0, tank=60.0, air=-10.0, line=0.25, unit=2.0, trap=0.0) -> thermosiphon.Loop:
    leg = pressure.FlowLeg(0.02, 1.5e-6, 8.0, 0.0)
    bend = ((trap, apart - trap), (2 * trap, apart)) if trap else ()
    hot = thermosiphon.Way(((0.0, apart), *bend, (8.0 + 2 * trap, height)), line, leg)
    return thermosiphon.Loop(hot, thermosiphon.Way(((0.0, height), (8.0, 0.0)), line, leg), unit, tank, air)


def test_push_balances_friction_and_valve():
    for opening in (0.0, 20.0, 60.0):
        found = thermosiphon.circulates(loop(), opening)
        takes = float(thermosiphon.friction(loop(), found.mass_flow)) + opening
        assert found.driving == pytest.approx(takes, rel=1e-6)


def test_heat_out_of_the_tank_is_what_lines_and_unit_lose():
    """Lines by the mean of their exponential, the unit by what it cools."""
    one = loop()
    found = thermosiphon.circulates(one)
    carries = found.mass_flow * float(water(30.0).heat_capacity)
    assert found.watts == pytest.approx(carries * (60.0 - found.returns), rel=1e-9)
    lost = 0.0
    for start, end in ((60.0, found.reaches), (found.leaves, found.returns)):
        mean = (start - end) / np.log((start + 10.0) / (end + 10.0))
        lost += 0.25 * 8.0 * mean
    left = (found.leaves + 10.0) / (found.reaches + 10.0)
    assert left == pytest.approx(np.exp(-2.0 / carries), rel=1e-6)  # the unit, by its own exponential
    lost += carries * (found.reaches - found.leaves)
    assert found.watts == pytest.approx(lost, rel=1e-6)


def test_no_difference_pushes_nothing():
    even = thermosiphon.driving(loop(air=60.0), np.geomspace(1e-4, 1.0, 9))
    assert np.max(np.abs(even)) < 1e-9
    assert thermosiphon.circulates(loop(air=60.0)).mass_flow == 0


def test_at_a_trickle_only_the_tank_between_its_ports_counts():
    """All else stands at the air's temperature, at whatever height the unit hangs."""
    expected = 9.80665 * 1.0 * float(water(10.0).density - water(60.0).density)
    for height in (-2.0, 0.5, 4.0):
        assert float(thermosiphon.driving(loop(height, air=10.0), 1e-7)) == pytest.approx(expected, rel=1e-3)


def test_higher_colder_and_wider_loops_run_faster():
    for name, values in (("height", (0.5, 1.5, 3.0, 5.0)), ("air", (10.0, 0.0, -10.0)), ("unit", (1.0, 3.0, 8.0))):
        flows = [thermosiphon.circulates(loop(**{name: value})).mass_flow for value in values]
        assert flows == sorted(flows) and flows[0] > 0, name


def test_no_water_below_freezing():
    found = thermosiphon.circulates(loop(height=-2.0, air=-25.0))
    assert found.returns == 0.0 and found.mass_flow > 0
