"""Limits that must come out exactly, energy balances, and finer grids and steps, for what stands, flows and freezes.

The first draw's and the night's own are in test_draws.py and test_nights.py; the bare correlation in test_public_laws.py.
"""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, Weather, night
from lessons_lib.physics import cooling, delivery, freezing, quadrature
from lessons_lib.physics.line import heat_capacity
from lessons_lib.physics.properties import water

RUNS = {
    "bare copper in wind": (("copper L", "3/4 in"), 0.0, -10.0, 5.0),
    "PEX under foam": (("PEX CTS", "1/2 in"), 19.0, -12.0, 5.0),
    "copper under foam, still air": (("copper L", "1/2 in"), 9.0, -3.0, 0.0),
}
every_run = pytest.mark.parametrize("pipe, foam, air, wind", RUNS.values(), ids=RUNS)


def run_of(pipe, foam, air, wind, length=30.0):
    cover = Insulation("elastomeric foam", Q_(foam, "mm")) if foam else Insulation.none()
    return Run(Pipe.nominal(*pipe), Q_(length, "m"), cover, Surroundings(Q_(air, "degC"), wind=Q_(wind, "m/s")))


@every_run
@pytest.mark.parametrize("share", [0.1, 0.5, 1.0])
def test_without_the_ices_resistance_freezing_is_iso_12241(pipe, foam, air, wind, share, monkeypatch):
    """f rho r pi D^2/(4 q) with the loss at 0 degC; with it, later: the formula is the bound."""
    line = run_of(pipe, foam, air, wind).line
    bound = share * freezing.LATENT_HEAT_OF_VOLUME * 0.25 * np.pi * line.inside_diameter**2 / float(line.loss(0.0)[0])
    assert float(freezing.seconds_from_zero(line, share)) > bound
    monkeypatch.setattr(freezing, "ICE_CONDUCTIVITY", 1e12)
    assert float(freezing.seconds_from_zero(line, share)) == pytest.approx(bound, rel=1e-9)


@every_run
def test_an_ice_free_night_is_the_cooling_curve(pipe, foam, air, wind):
    """Air at 1 degC in place of frost: no ice, and the stepped night follows the integral. Within 0.5 % of the 11 K between
    water and air, as an energy balance: the night reads losses from a table in steps of 12.5 K (0.03 K in still air)."""
    run = run_of(pipe, foam, 1.0, wind)
    hours = np.arange(9.0)
    stepped = night(run, Weather(Q_(hours, "h"), Q_(np.ones(9), "degC"), Q_(wind, "m/s")), Q_(12, "degC"))
    assert np.all(stepped.ice_share == 0) and np.isinf(stepped.ice_after.magnitude)
    smooth = cooling.curve(cooling.Standing(run.line, run.wall_density_heat, 0.0), 12.0, stepped.time.to("s").magnitude)
    assert np.abs(stepped.water.magnitude - smooth).max() < 0.005 * 11


@every_run
def test_what_cooling_water_loses_it_held(pipe, foam, air, wind):
    """The loss over time against the heat of water and wall between two temperatures: within 0.5 % in copper. A plastic wall is
    cooler outside than its water, so that all cool a little sooner than with the wall as warm as the water: up to 1 %."""
    run = run_of(pipe, foam, air, wind)
    standing = cooling.Standing(run.line, run.wall_density_heat, 0.0)
    times = np.linspace(0.0, float(cooling.time_to(standing, 60.0, 5.0)), 2001)
    curve = cooling.curve(standing, 60.0, times)
    lost = np.trapezoid(run.line.loss(curve)[0], times)
    between = np.linspace(curve[-1], 60.0, 501)
    at = water(between)
    held = np.trapezoid(heat_capacity(run.line.section, at.density * at.heat_capacity, run.wall_density_heat), between)
    assert (0.990 if pipe[0].startswith("PEX") else 0.995) < lost / held < 1.005
    assert not pipe[0].startswith("PEX") or lost / held < 0.996


@every_run
def test_more_nodes_move_cooling_and_freezing_little(pipe, foam, air, wind, monkeypatch):
    """16 nodes of the quadrature against 64, and the curve's 129 against 1025."""
    run = run_of(pipe, foam, air, wind)
    standing = cooling.Standing(run.line, run.wall_density_heat, 0.0)
    times = np.linspace(0.0, float(cooling.time_to(standing, 60.0, 1.0)), 50)

    def answers():
        seconds = float(cooling.time_to(standing, 60.0, 1.0)), float(freezing.seconds_from_zero(run.line, 0.5))
        return np.array(seconds), cooling.curve(standing, 60.0, times)

    coarse = answers()
    monkeypatch.setattr(quadrature.integral, "__defaults__", (64,))
    monkeypatch.setattr(cooling, "CURVE_NODES", 1025)
    fine = answers()
    assert np.any(coarse[0] != fine[0]) and np.any(coarse[1] != fine[1])
    assert np.allclose(coarse[0], fine[0], rtol=1e-3) and np.abs(coarse[1] - fine[1]).max() < 0.02


@every_run
@pytest.mark.parametrize("flow", [0.8, 2.0, 8.0])
def test_more_intervals_move_the_delivery_by_less_than_promised(pipe, foam, air, wind, flow, monkeypatch):
    """A hundredth of a kelvin is promised; eight times the intervals, the same answer within it."""
    run = run_of(pipe, foam, air, wind)

    def delivered():
        return float(delivery.deliver(run.line, 60.0, flow / 60_000, 30.0).temperature)

    coarse = delivered()
    monkeypatch.setattr(delivery, "INTERVALS", 8 * delivery.INTERVALS)
    fine = delivered()
    assert coarse != fine and coarse == pytest.approx(fine, abs=0.01)
