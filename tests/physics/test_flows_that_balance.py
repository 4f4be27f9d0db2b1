"""Flows that the library finds, put back into balances written anew: ways, trees of open taps, loops that run by
themselves.

Friction is Churchill's (1977) by the library fluids, densities are CoolProp's (tests/second_path.py), sums are
scipy's.
"""

import fluids
import numpy as np
import pytest
import second_path
from scipy.integrate import quad
from scipy.optimize import brentq

from lessons_lib.physics import circulation, network, pressure, pump, thermosiphon
from lessons_lib.physics.properties import Water

GRAVITY = 9.80665
FRICTION = np.vectorize(fluids.friction.Churchill_1977)


def lost(leg, flow, density, viscosity):
    """Darcy and Weisbach's loss of a leg and its fittings at a volume flow [Pa], arrays side by side."""
    speed = 4 * flow / (np.pi * leg.inside_diameter**2)
    reynolds = np.maximum(density * speed * leg.inside_diameter / viscosity, 1e-6)
    factor = FRICTION(reynolds, leg.roughness / leg.inside_diameter)
    friction = factor * leg.length / leg.inside_diameter * density * speed**2 / 2
    return friction + density * leg.holes * flow**2 / 2


def legs_of(rng, count):
    """Legs from all over what a reader may lay, of `count` values each; a hole is two to twenty velocity heads."""
    bore = rng.uniform(0.006, 0.06, count)
    heads = rng.uniform(0, 20, count) / (0.25 * np.pi * bore**2) ** 2
    return pressure.FlowLeg(bore, rng.choice([0, 1.5e-6, 7e-6, 4.5e-5], count), rng.uniform(0.2, 60, count), heads)


def test_the_flow_that_a_pressure_drives():
    """Two hundred ways of three legs, from a trickle to a gush: the pressures add up to a billionth; none uphill of
    them."""
    rng = np.random.default_rng(5)
    ways, celsius = [legs_of(rng, 200) for _ in range(3)], rng.uniform(1, 95, 200)
    density, _, _, viscosity = second_path.water(celsius)
    driven, height = np.exp(rng.uniform(np.log(50), np.log(1e6), 200)), rng.uniform(-10, 30, 200)
    given = driven * rng.choice([1, 1, 1, -1], 200) + density * GRAVITY * height
    found = pressure.flow_for(ways, given, height, Water(density, 4190.0, 0.6, viscosity))
    takes = sum(lost(leg, found, density, viscosity) for leg in ways)
    uphill = given <= density * GRAVITY * height
    assert 20 < uphill.sum() < 80 and np.all(found[uphill] == 0)
    assert takes[~uphill] == pytest.approx(driven[~uphill], rel=1e-9)
    reynolds = 4 * found * density / (np.pi * ways[0].inside_diameter * viscosity)
    assert np.sum(reynolds[~uphill] < 2300) > 10 and np.sum(reynolds[~uphill] > 4000) > 50


def tree_of(rng):
    """Legs, the legs to each open tap, its rise and its hole, and the supply: up to fifty of them, some taps a hair
    below what the supply can lift to, so that others decide whether they run."""
    count, reach = rng.integers(5, 50), rng.integers(1, 6)
    ways = np.eye(count, dtype=bool)
    for number in range(1, count):
        ways[number] |= ways[rng.integers(max(0, number - reach), number)]
    taps = np.arange(count) if rng.random() < 0.5 else rng.choice(count, rng.integers(2, count), replace=False)
    supply = np.exp(rng.uniform(np.log(2e3), np.log(6e5)))
    hair = rng.random() < 0.5
    lifted = 1 - 10 ** rng.uniform(-4, 0, len(taps)) if hair else rng.uniform(0, 1.05, len(taps))
    rise = lifted * supply / 9810
    holes = pressure.hole(np.exp(rng.uniform(np.log(2e-6), np.log(1e-3), len(taps))), rng.uniform(1e4, 3e5, len(taps)))
    return legs_of(rng, count), ways[taps], rise, holes, supply


@pytest.mark.parametrize("seed", range(50))
def test_the_flows_of_a_tree(seed):
    """What drives each open tap is what its legs and itself take, to a millionth; a tap that gets nothing has no
    pressure to spare. One answer has that property, for losses only rise with the flow. In every leg flow what its
    taps draw."""
    rng = np.random.default_rng(seed)
    legs, through, rise, holes, supply = tree_of(rng)
    density, _, _, viscosity = map(float, second_path.water(rng.uniform(5, 70)))
    found = network.solve(legs, through, rise, holes, supply, Water(density, 4190.0, 0.6, viscosity))
    flow = np.array([found.tap_flow[way].sum() for way in through.T])
    assert found.leg_flow == pytest.approx(flow, rel=1e-12)
    losses = lost(legs, flow, density, viscosity)
    assert found.leg_loss == pytest.approx(losses, rel=1e-6, abs=1e-6)
    driving = supply - density * GRAVITY * rise
    before = driving - through @ losses
    open_taps = found.tap_flow > 0
    assert before[open_taps] == pytest.approx(
        density * holes[open_taps] * found.tap_flow[open_taps] ** 2 / 2, abs=1e-6 * supply
    )
    assert found.tap_pressure[open_taps] == pytest.approx(before[open_taps], abs=1e-6 * supply)
    assert np.all(before[~open_taps] <= 1e-6 * supply) and np.all(found.tap_flow >= 0)


class Loop:
    """A loop that may run by itself, and its push and friction written anew."""

    def __init__(self, seed):
        rng = np.random.default_rng(seed)
        lower, upper, unit = 0.0, rng.uniform(0, 1.5), rng.uniform(-2, 5)
        trap = upper + rng.uniform(-1, 2)
        self.lines = [rng.uniform(3, 30), rng.uniform(3, 30)]
        self.bends = (
            ((0.0, upper), (0.3 * self.lines[0], trap), (self.lines[0], unit)),
            ((0.0, unit), (0.4 * self.lines[1], unit), (self.lines[1], lower)),
        )
        self.loss = rng.uniform(0.05, 1.5, 2)
        self.legs = [pressure.FlowLeg(rng.uniform(0.012, 0.03), 1.5e-6, long, 0.0) for long in self.lines]
        self.unit, self.tank, self.air = rng.uniform(0.5, 10), rng.uniform(30, 75), rng.uniform(-20, 20)
        ways = (thermosiphon.Way(*three) for three in zip(self.bends, self.loss, self.legs))
        self.given, self.apart = thermosiphon.Loop(*ways, self.unit, self.tank, self.air), upper - lower

    def cooled(self, start, units):
        return max(self.air + (start - self.air) * np.exp(-units), 0.0)

    def balance(self, mass_flow):
        """Push and friction [Pa] at a mass flow, and temperatures at the unit, after it and back."""
        carries = mass_flow * second_path.water(0.5 * (self.tank + max(self.air, 0)))[1]
        reaches = self.cooled(self.tank, self.loss[0] * self.lines[0] / carries)
        leaves = self.cooled(reaches, self.unit / carries)
        returns = self.cooled(leaves, self.loss[1] * self.lines[1] / carries)
        weight, friction = self.apart * second_path.water(self.tank)[0], 0.0
        for bends, loss, start, end, leg in zip(
            self.bends, self.loss, (self.tank, leaves), (reaches, returns), self.legs
        ):
            for (begin, low), (far, high) in zip(bends, bends[1:]):
                dense = lambda at: second_path.water(self.cooled(start, loss * at / carries))[0]  # noqa: B023, E731
                weight += (high - low) / (far - begin) * quad(dense, begin, far, epsrel=1e-7, limit=200)[0]
            density, _, _, viscosity = second_path.water(0.5 * (start + end))
            friction += float(lost(leg, mass_flow / density, density, viscosity))
        return -GRAVITY * float(weight), friction, reaches, leaves, returns


@pytest.mark.parametrize("seed", range(20))
def test_a_loop_that_runs_by_itself(seed):
    """Push and friction at a flow; the largest flow at which they balance. 0.5 % of the push, or 0.1 Pa for each
    metre: the density table's straight lines are 0.004 kg/m3 from the curve."""
    loop, rng = Loop(seed), np.random.default_rng(seed)
    for flow in np.exp(rng.uniform(np.log(1e-3), np.log(0.1), 2)):
        push, friction, *ends = loop.balance(flow)
        assert float(thermosiphon.driving(loop.given, np.array(flow))) == pytest.approx(push, rel=5e-3, abs=0.3)
        assert float(thermosiphon.friction(loop.given, flow)) == pytest.approx(friction, rel=1e-3)
        assert thermosiphon.temperatures(loop.given, flow) == pytest.approx(ends, abs=2e-3)
    found, opening = thermosiphon.circulates(loop.given), rng.uniform(5, 60)
    if found.mass_flow:
        push, friction, *ends = loop.balance(found.mass_flow)
        assert push == pytest.approx(friction, rel=0.01, abs=0.4) and found.driving == pytest.approx(
            push, rel=5e-3, abs=0.3
        )
        assert (found.reaches, found.leaves, found.returns) == pytest.approx(ends, abs=2e-3)
    for faster in max(found.mass_flow, 1e-3) * np.array([1.1, 1.5, 3.0]):
        push, friction, *_ = loop.balance(faster)
        assert push < friction + 0.4
    slower = thermosiphon.circulates(loop.given, opening)
    assert slower.mass_flow <= found.mass_flow
    if slower.mass_flow:
        push, friction, *_ = loop.balance(slower.mass_flow)
        assert push - friction == pytest.approx(opening, rel=0.01, abs=0.4)


@pytest.mark.parametrize("seed", range(10))
def test_a_pump_meets_its_loop(seed):
    """scipy's brentq on the same two curves; the same as a pressure and a hole in a way; heat over what the flow
    carries."""
    rng = np.random.default_rng(seed)
    shut_off, largest, leg = rng.uniform(5e3, 8e4), rng.uniform(5, 60) / 60_000, legs_of(rng, 1)
    leg = pressure.FlowLeg(*(float(value[0]) for value in leg))
    density, heat, _, viscosity = map(float, second_path.water(40.0))
    takes = lambda flow: float(lost(leg, flow, density, viscosity))  # noqa: E731
    root = brentq(lambda flow: takes(flow) - shut_off * (1 - flow**2 / largest**2), 0, largest, xtol=1e-15)
    assert pump.operating_flow(takes, shut_off, largest) == pytest.approx(root, rel=1e-9)
    throttled = leg._replace(holes=leg.holes + circulation.pump_hole(shut_off, largest, density))
    whole = pressure.flow_for([throttled], shut_off, 0.0, Water(density, heat, 0.6, viscosity))
    assert float(whole) == pytest.approx(root, rel=1e-9)
    assert pump.rise(5000.0, root, density, heat) == pytest.approx(5000 / (density * heat * root), rel=1e-12)
