"""Second draws of chains at 60 settings from all over the sliders, against one march of all of them side by side.

Two or three legs of different pipe in different air, a pause, a flow: the profile that the pause left, the ladders
of water and wall, the temperature at the tap, the wait, and where the heat went, by tests/second_path.py. Legs take
whole hundredths of the way, so that the module's cells end where legs do (what a cell between two legs changes is
held in tests/runs/test_first_draws_over_the_sliders.py).
"""

from functools import cache

import numpy as np
import pytest
import second_path
from scipy.integrate import cumulative_simpson
from scipy.linalg import expm

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics import first_draw as physics
from lessons_lib.runs import first_draw as draws
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

PIPES = [(family, size) for family in families() for size in sizes(family)]
SETTINGS, CELLS, SWEEPS, USEFUL = 60, 200, 2.5, 40.0
PLACES = np.linspace(0, 1, 41)  # along a leg, at which its pause is followed: several times as many as the module's


class Setting:
    """A chain, what is asked of it, and its ladders."""

    def __init__(self, seed):
        rng = np.random.default_rng(1000 + seed)
        self.supply, self.litres = rng.uniform(48, 75), np.exp(rng.uniform(0.7, 2.8))
        self.pause = np.exp(rng.uniform(np.log(300), np.log(18_000)))
        parts = rng.multinomial(60, [1 / 2, 1 / 2] if rng.random() < 0.5 else [1 / 3] * 3) + 20
        self.hundredths = np.r_[parts[:-1], 100 - parts[:-1].sum()]
        mass_flow = self.litres / 60_000 * second_path.water(self.supply)[0]
        whole, entering = rng.uniform(6, 60), self.supply
        self.runs, self.legs, self.profiles = [], [], []
        for part in self.hundredths:
            cover = Insulation(str(rng.choice(materials())), Q_(rng.uniform(6, 40), "mm"))
            around = Surroundings(
                Q_(rng.uniform(-20, 30), "degC"), wind=Q_(rng.uniform(0.5, 8) * rng.integers(2), "m/s")
            )
            pipe = Pipe.nominal(*PIPES[rng.integers(len(PIPES))])
            run = Run(pipe, Q_(1, "m"), cover if rng.random() < 0.7 else Insulation.none(), around)
            cut, air, wind = second_path.Cut(run), around.air.magnitude, around.wind.magnitude
            flow = mass_flow / second_path.water(entering)[0]
            length = whole * part / 100 * flow / cut.bore
            self.runs.append(Run(pipe, Q_(length, "m"), run.insulation, around))
            edges = cut.d / 2 + (cut.D - cut.d) / 2 * np.array([0, 1, 3, 7]) / 7
            self.legs.append(second_path.Leg(cut, length, entering, mass_flow, air, wind, edges))
            self.profiles.append(self.stood(cut, air, wind, entering, self.legs[-1].out))
            entering = self.legs[-1].out
        self.whole, self.mass_heat = whole, self.legs[0].mass_heat
        self.asked = Q_(self.supply, "degC"), Q_(self.litres, "L/min")

    def stood(self, cut, air, wind, entering, leaving):
        """Temperature after the pause at PLACES: heat over loss, summed from the hottest place on [degC]."""
        began = air + (entering - air) * np.maximum((leaving - air) / (entering - air), 0) ** PLACES
        floor = 0.0 if air < 0 else air + 0.02
        water = air + (entering - air) * ((floor - air) / (entering - air)) ** np.linspace(0, 1, 61)
        loss, surface = cut.loss(water, air, wind)
        density, heat, *_ = second_path.water(water)
        every = slice(None, None, 10)  # what a metre holds changes little along the way
        held = [
            cut.held(t, air, s, rho_c, cut.cover_heat)
            for t, s, rho_c in zip(water[every], surface[every], (density * heat)[every])
        ]
        units = np.log((entering - air) / (water - air))
        pace = np.interp(units, units[every], held) * (water - air) / loss
        clock = cumulative_simpson(pace, x=units, initial=0)
        later = np.interp(began, water[::-1], clock[::-1]) + self.pause
        return np.interp(later, clock, water)


@cache
def settings():
    return [Setting(seed) for seed in range(SETTINGS)]


def ladder(leg, step):
    """What water and shells above rest become over a step."""
    heat, links = np.r_[1.0, leg.shares], leg.links
    matrix = np.diag(links[:-1], 1) + np.diag(links[:-1], -1) - np.diag(np.r_[links[0], links[:-1] + links[1:]])
    return expm(matrix / heat[:, np.newaxis] * step)


@cache
def marched():
    """Of each setting temperature at the tap, in the middle of each step, and heat given off and stored at its end,
    these for each m cp [K s]. Water leaves its cell for the next once a step; the first exchange lasts half a step."""
    chosen = [[leg for leg, part in zip(s.legs, s.hundredths) for _ in range(part * CELLS // 100)] for s in settings()]
    step = np.array([s.whole / CELLS for s in settings()])
    known = [
        {id(leg): [ladder(leg, share * t) for share in (1, 0.5)] for leg in s.legs} for s, t in zip(settings(), step)
    ]
    full, half = (
        np.array([[of[id(leg)][which] for leg in legs] for of, legs in zip(known, chosen)]).transpose(2, 3, 0, 1).copy()
        for which in (0, 1)
    )
    column = lambda value: np.array([[value(leg) for leg in legs] for legs in chosen])  # noqa: E731
    heat = np.concatenate([np.ones((1, *full.shape[2:])), np.moveaxis(column(lambda leg: leg.shares), -1, 0)])
    rest, out = column(lambda leg: leg.air), column(lambda leg: leg.links[-1])
    shares = [np.concatenate([(np.arange(n := p * CELLS // 100) + 0.5) / n for p in s.hundredths]) for s in settings()]
    begun = [
        np.concatenate([np.interp(share[legs == number], PLACES, profile) for number, profile in enumerate(s.profiles)])
        for s, share in zip(settings(), shares)
        for legs in [np.repeat(np.arange(len(s.legs)), s.hundredths * CELLS // 100)]
    ]
    state = np.repeat((np.array(begun) - rest)[np.newaxis], len(heat), axis=0)
    total = lambda: np.einsum("nsc,nsc->s", heat, state) * step  # noqa: E731
    leaves = lambda: step * step * np.sum(out * state[-1], axis=1)  # to the surroundings in a step  # noqa: E731
    first, supply, record, given = total(), np.array([s.supply for s in settings()]), [], 0.5 * leaves()
    for number in range(int(SWEEPS * CELLS)):
        state = np.einsum("ijsc,jsc->isc", full if number else half, state)
        water, given = state[0] + rest, given + leaves()
        tap = water[:, -1]
        state[0] = np.concatenate([supply[:, np.newaxis], water[:, :-1]], axis=1) - rest
        record.append((tap, given - 0.5 * leaves(), total() - first))
    return np.array(record).transpose(2, 1, 0)


@cache
def found(seed):
    setting = settings()[seed]
    return Run.series(setting.runs).second_draw(*setting.asked, Q_(setting.pause, "s"), Q_(USEFUL, "degC"))


@pytest.mark.parametrize("seed", range(SETTINGS))
def test_the_ladders_of_a_chain(seed):
    """Links and heat capacities per rho c A, 0.1 % for the properties' tables; the last link, what is left of a whole,
    0.2 %. The way's time, which only density has a part in, 0.001 %."""
    setting = settings()[seed]
    flow = setting.litres / 60_000
    for way, leg in zip(draws._steady(setting.runs, setting.supply, flow), setting.legs):
        mine = draws.leg_of(*way, np.zeros(2), setting.mass_heat)
        assert way[-1].temperature == pytest.approx(leg.out, abs=2e-3)
        assert mine.residence == pytest.approx(leg.tau, rel=1e-5) and mine.rest == leg.air
        assert mine.links[:-1] == pytest.approx(leg.links[:-1], rel=1e-3)
        assert mine.links[-1] == pytest.approx(leg.links[-1], rel=2e-3)
        assert mine.shares == pytest.approx(leg.shares, rel=1e-3)


@pytest.mark.parametrize("seed", range(SETTINGS))
def test_the_tap_and_its_wait(seed):
    """Twice the cells. 0.15 K in the mean away from fronts; 0.5 % of the wait, or the time of one of the module's
    cells. Followed until it has settled: to a thousandth of what was furthest from the steady end, or 0.01 K."""
    setting, draw, tap = settings()[seed], found(seed), np.maximum(marched()[seed][0], 0.0)
    times = (np.arange(len(tap)) + 0.5) * setting.whole / CELLS
    ends = np.cumsum(setting.hundredths[::-1]) / 100  # where water of the next leg arrives
    away = np.min(np.abs(times[:, np.newaxis] / setting.whole - ends), axis=1) > 0.03
    away &= times < draw.time.magnitude[-1]
    off = (np.interp(times, draw.time.magnitude, draw.temperature.magnitude) - tap)[away]
    assert np.sqrt(np.mean(off**2)) < 0.15, off
    litres = sum(
        run.length.magnitude * np.pi / 4 * run.pipe.inside_diameter.to("dm").magnitude ** 2 * 10 for run in setting.runs
    )
    assert draw.pipe_volume.magnitude == pytest.approx(litres, rel=1e-9)
    steady = draw.delivered.magnitude
    furthest = np.max(np.abs(np.concatenate(setting.profiles) - steady))
    assert draw.temperature.magnitude[-1] == pytest.approx(steady, abs=max(1.1e-3 * furthest, 0.011))
    wait = draw.wait.magnitude
    if 0 < wait < times[-1]:
        place = np.argmax(tap >= USEFUL)
        reached = np.interp(USEFUL, tap[place - 1 : place + 1], times[place - 1 : place + 1])
        assert wait == pytest.approx(reached, rel=0.005, abs=0.01 * setting.whole)


@pytest.mark.parametrize("seed", range(SETTINGS))
def test_where_the_heat_went_until_the_wait_was_over(seed):
    """What ran down the drain and into the air, and what stays behind: 0.5 % of both together, and what enters in a
    quarter of a cell's time."""
    setting, draw, (tap, given, stored) = settings()[seed], found(seed), marched()[seed]
    wait, step = draw.wait.magnitude, setting.whole / CELLS
    edges, reference = (np.arange(len(tap)) + 1) * step, setting.profiles[-1][-1]
    if 0 < wait < edges[-1]:
        lost = np.interp(wait, edges, np.cumsum(tap - reference) * step + given) * setting.mass_heat / 3600
        left = np.interp(wait, edges, stored) * setting.mass_heat / 3600
        spare = 0.5 * step * (setting.supply - reference) * setting.mass_heat / 3600 + 0.005 * (abs(lost) + abs(left))
        assert draw.energy_left.magnitude == pytest.approx(left, abs=spare)
        assert draw.energy_lost.magnitude == pytest.approx(lost, abs=spare)


def test_what_stays_behind_where_it_never_gets_warm_enough():
    """The heat of the steady state, above the start, by a march of six sweeps: 1 %, for a record that ends within a
    thousandth."""
    around = Surroundings(Q_(-20, "degC"), Q_(6, "m/s"))
    run = Run(Pipe.nominal("copper EN 1057", "22 mm"), Q_(20, "m"), Insulation.none(), around)
    draw = run.first_draw(Q_(60, "degC"), Q_(6, "L/min"), Q_(10, "degC"), Q_(59, "degC"))
    assert np.isinf(draw.wait.magnitude) and np.isinf(draw.energy_lost.magnitude)
    cut, mass_flow = second_path.Cut(run), 1e-4 * second_path.water(60.0)[0]
    edges = cut.d / 2 + (cut.D - cut.d) / 2 * np.array([0, 1, 3, 7]) / 7
    leg = second_path.Leg(cut, 20.0, 60.0, mass_flow, -20.0, 6.0, edges)
    *_, stored = second_path.marched([leg], 60.0, [lambda at: 10 + 0 * at], 6.0, 100)
    assert draw.energy_left.magnitude == pytest.approx(stored[-1] * leg.mass_heat / 3600, rel=0.01)


def test_settings_wait():
    """Most of the settings have something to wait for, or the tests above say little."""
    assert sum(0 < found(seed).wait.magnitude < np.inf for seed in range(SETTINGS)) > SETTINGS / 2
    assert physics.CELLS * 2 == CELLS
