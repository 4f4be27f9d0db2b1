"""Losses, slow steady flow, trickles and seasons at 60 settings from all over the sliders, with sky, wind and a bare
share.

Losses are those of tests/second_path.py, of both parts by their share. What a flow cools is checked by the way that
it needs: the sum of m cp/q' over its temperatures must be the run. 0.05 % of all, for the straight lines of the
properties' tables.
"""

from functools import cache

import numpy as np
import pytest
import second_path
from scipy.integrate import simpson

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, Weather, season_energy, trickle
from lessons_lib.physics.convection import no_film
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

PIPES = [(family, size) for family in families() for size in sizes(family)]
LEAST = 0.006  # [L/min] of a trickle that is named
SEEDS = range(60)


class Setting:
    """A run in moving air under a sky; two thirds of them with a bare share, some bare throughout."""

    def __init__(self, seed):
        rng = np.random.default_rng(300 + seed)
        cover = (
            Insulation(str(rng.choice(materials())), Q_(rng.uniform(6, 40), "mm")) if seed % 5 else Insulation.none()
        )
        self.air = rng.uniform(-25, 25)
        self.wind, self.sky = rng.uniform(1, 12) * (seed % 3 > 0), self.air - rng.uniform(0, 20) * (seed % 2)
        around = Surroundings(Q_(self.air, "degC"), Q_(self.wind, "m/s"), Q_(self.sky, "degC"))
        self.bare = rng.uniform(0.02, 0.4) if seed % 3 else 0.0
        pipe = Pipe.nominal(*PIPES[rng.integers(len(PIPES))])
        self.length = rng.uniform(4, 50)
        self.run = Run(pipe, Q_(self.length, "m"), cover, around, bare_share=self.bare)

    def loss(self, inside, air, wind, sky, film=0.0, wall=True):
        """Mean loss of a metre [W/m]."""
        parts = [(1 - self.bare, second_path.Cut(self.run, wall=wall))]
        if self.bare:
            parts.append((self.bare, second_path.Cut(self.run, bare=True, wall=wall)))
        return sum(share * cut.loss(inside, air, wind, sky, film)[0] for share, cut in parts)

    def here(self, inside, film=0.0):
        return self.loss(inside, self.air, self.wind, self.sky, film)

    def metres(self, supply, to, mass_flow, film):
        """The way on which the stream cools from `supply` to `to` [degC], its steps shorter where it is slow to cool
        [m]."""
        rest = min(self.air, self.sky) - 0.05
        inside = rest + (supply - rest) * ((to - rest) / (supply - rest)) ** np.linspace(0, 1, 121)
        heat = second_path.water(inside)[1]
        films = (
            second_path.water_film(self.run.pipe.inside_diameter.to("m").magnitude, inside, mass_flow) if film else 0.0
        )
        return simpson(-mass_flow * heat / self.here(inside, films), x=inside)


@cache
def settings():
    return [Setting(seed) for seed in SEEDS]


@pytest.mark.parametrize("seed", SEEDS)
def test_losses_standing_and_flowing(seed):
    one, rng = settings()[seed], np.random.default_rng(seed)
    water, litres = rng.uniform(1, 90), np.exp(rng.uniform(np.log(0.2), np.log(20)))
    mass_flow = litres / 60_000 * second_path.water(water)[0]
    film = second_path.water_film(one.run.pipe.inside_diameter.to("m").magnitude, water, mass_flow)
    for flow, inner in ((None, 0.0), (Q_(litres, "L/min"), film)):
        found = one.run.heat_loss(Q_(water, "degC"), flow).magnitude
        assert found == pytest.approx(float(one.here(water, inner)), rel=5e-4, abs=2e-3)


@pytest.mark.parametrize("seed", SEEDS)
def test_at_rest_a_run_gives_nothing(seed):
    """Within 1 mK, by what a kelvin more would give; under a sky its parts then stand at different temperatures."""
    one = settings()[seed]
    rest = float(one.run.line.rest())
    gives, warmer = one.here(np.array([rest, rest + 1.0]))
    assert abs(gives) < 1e-3 * (warmer - gives)
    assert min(one.air, one.sky) - 1e-9 <= rest <= max(one.air, one.sky) + 1e-9


@pytest.mark.parametrize("seed", SEEDS)
def test_slow_steady_flow(seed):
    """A fifth of a litre a minute to three: laminar, or turning so on the way. The metres down to where it ends are
    the run, or those to 0 degC are the distance to ice."""
    one, rng = settings()[seed], np.random.default_rng(seed)
    supply, litres = rng.uniform(max(30, one.air + 5), 80), np.exp(rng.uniform(np.log(0.2), np.log(3)))
    mass_flow = litres / 60_000 * second_path.water(supply)[0]
    for film in (True, False):
        found = one.run.deliver(Q_(supply, "degC"), Q_(litres, "L/min"), *(() if film else (no_film,)))
        end = float(found.temperature)
        if np.isfinite(found.ice_distance):
            assert end == 0 and found.ice_distance == pytest.approx(one.metres(supply, 0.0, mass_flow, film), rel=5e-4)
        elif end > max(one.air, 0) + 0.1:  # nearer to rest there is nothing left to sum over
            assert one.metres(supply, end, mass_flow, film) == pytest.approx(one.length, rel=5e-4)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_least_flow_that_keeps_the_far_end(seed):
    one, rng = settings()[seed], np.random.default_rng(seed)
    supply = rng.uniform(4, 30)
    keep = rng.uniform(1, supply - 0.5)
    found = trickle(one.run, Q_(supply, "degC"), Q_(keep, "degC")).magnitude
    if one.here(keep) <= 0:
        assert found == pytest.approx(LEAST)
    else:
        density = second_path.water(supply)[0]
        litres = one.length / one.metres(supply, keep, 1.0, False) / density * 60_000
        assert found == pytest.approx(np.inf if litres > 600 else max(float(litres), LEAST), rel=5e-4)


@pytest.mark.parametrize("seed", range(12))
def test_what_holds_a_run_through_a_season(seed):
    """Hours of a cold month that comes and goes: at each the loss with the tape on the wall, nothing where the air is
    warmer, and straight lines between."""
    one, rng = settings()[seed], np.random.default_rng(seed)
    hours = np.arange(0.0, 24 * 12, 4)
    air = -4 + 9 * np.sin(hours / 40 + seed) + 4 * np.sin(hours * 2 * np.pi / 24)
    wind, sky, hold = 3 + 2 * np.sin(hours / 17), air - 8, rng.uniform(2, 30)
    weather = Weather(Q_(hours, "h"), Q_(air, "degC"), Q_(wind, "m/s"), Q_(sky, "degC"))
    power = np.maximum(one.loss(hold, air, wind, sky, wall=False), 0)
    expected = np.trapezoid(power, hours) / 1000 * one.length
    assert season_energy(one.run, weather, Q_(hold, "degC")).magnitude == pytest.approx(expected, rel=5e-4)
    held = one.run.hold_power(Q_(hold, "degC")).magnitude
    assert held == pytest.approx(
        max(float(one.loss(hold, one.air, one.wind, one.sky, wall=False)), 0.0), rel=5e-4, abs=1e-3
    )
