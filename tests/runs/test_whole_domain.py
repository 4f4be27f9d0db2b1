"""Every setting that a Run takes has an answer: bare shares, cold skies, kilometres and a few drops a minute, all at
once."""

import warnings

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess, trickle
from lessons_lib.physics import delivery, heat_loss
from lessons_lib.physics.convection import inside_resistance
from lessons_lib.physics.delivery import deliver
from lessons_lib.physics.properties import water
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

PIPES = [(family, size) for family in families() for size in sizes(family)]
CASES = 400
PROMISED = 0.01  # [K]
every_array = pytest.mark.parametrize("seed", range(40))


def array_of_settings(seed):
    """400 runs in one, with supply [degC], flow [m3/s] and length [m], over the whole domain."""
    rng = np.random.default_rng(seed)
    pipe = Pipe.nominal(*PIPES[rng.integers(len(PIPES))])
    air = rng.uniform(-60, 60, CASES)
    radiant = np.clip(air + rng.uniform(-25, 25, CASES) * (rng.random(CASES) < 0.7), -80, 80)
    wind = rng.uniform(0, 40, CASES) * (rng.random(CASES) < 0.7)
    length, flow = (np.exp(rng.uniform(np.log(low), np.log(high), CASES)) for low, high in ((0.5, 1000), (0.005, 60)))
    thickness = rng.uniform(0, 50, CASES) * (rng.random(CASES) < 0.7)
    cover = Insulation(str(rng.choice(materials())), Q_(thickness, "mm")) if rng.random() < 0.85 else Insulation.none()
    around = Surroundings(Q_(air, "degC"), Q_(wind, "m/s"), Q_(radiant, "degC"))
    run = Run(pipe, Q_(length, "m"), cover, around, bare_share=float(rng.choice([0.0, 0.01, 0.1, 0.3, 0.866, 0.99])))
    return run, rng.uniform(0, 99, CASES), flow / 60_000, length


@every_array
def test_every_setting_has_an_answer_between_its_bounds(seed):
    """No exception, no warning, no NaN; between the supply and what the parts of the line settle at, never below 0 degC."""
    run, supply, flow, length = array_of_settings(seed)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = deliver(run.line, supply, flow, length)
    ends = [supply, *(part.rest() for part in run.line.alone())]
    assert np.all(found.temperature >= np.maximum(np.minimum.reduce(ends), 0) - 1e-5)
    assert np.all(found.temperature <= np.maximum.reduce(ends) + 1e-5)
    freezes = np.isfinite(found.ice_distance)
    assert np.array_equal(freezes, found.temperature == 0) and np.all(found.ice_distance[freezes] <= length[freezes])


@pytest.mark.parametrize("seed", range(0, 40, 4))
def test_one_case_does_not_change_its_neighbours(seed):
    """Some of an array alone get the answers that they get in it, within what both promise."""
    run, supply, flow, length = array_of_settings(seed)
    together = deliver(run.line, supply, flow, length).temperature
    for case in range(0, CASES, 80):
        only = np.arange(CASES) == case
        alone = deliver(run.line.take(only), supply[only], flow[only], length[only]).temperature
        assert alone == pytest.approx(together[case], abs=1e-4)


@pytest.mark.parametrize("seed", range(40, 60))
def test_any_setting_against_a_strict_solver(seed):
    """The equation itself, by a general-purpose solver of stiff equations: within the promised hundredth of a kelvin."""
    run, supply, flow, length = array_of_settings(seed)
    found = deliver(run.line, supply, flow, length)
    for case in (17, 211):
        only = np.arange(CASES) == case
        line_of, mass_flow = run.line.take(only), flow[case] * float(water(supply[case]).density)

        def slope(_, temperature):
            here = water(temperature[0])
            film = inside_resistance(line_of.inside_diameter, here, mass_flow)
            return [-np.ravel(line_of.loss(temperature[0], film)[0])[0] / (mass_flow * float(here.heat_capacity))]

        def frozen(_, temperature):
            return temperature[0]

        frozen.terminal = True
        solved = solve_ivp(
            slope, (0, length[case]), [supply[case]], method="LSODA", rtol=1e-8, atol=1e-7, events=frozen
        )
        assert found.temperature[case] == pytest.approx(max(solved.y[0, -1], 0), abs=PROMISED)
        assert np.isfinite(found.ice_distance[case]) == (solved.t_events[0].size > 0)


@pytest.mark.parametrize("seed", range(0, 40, 2))
def test_six_times_the_intervals_move_no_answer_by_what_is_promised(seed, monkeypatch):
    run, supply, flow, length = array_of_settings(seed)
    coarse = deliver(run.line, supply, flow, length)
    monkeypatch.setattr(delivery, "INTERVALS", 6 * delivery.INTERVALS)
    fine = deliver(run.line, supply, flow, length)
    assert np.max(np.abs(coarse.temperature - fine.temperature)) < PROMISED
    same = np.isfinite(fine.ice_distance)
    assert np.array_equal(same, np.isfinite(coarse.ice_distance))
    assert np.allclose(coarse.ice_distance[same], fine.ice_distance[same], rtol=1e-3)


@pytest.mark.parametrize("guess", [-1e4, -300.0, 5000.0])
def test_a_wild_guess_finds_the_same_surface(guess):
    """Newton's steps stay between water and surroundings, where the properties of air are known."""
    run, supply, _, _ = array_of_settings(3)
    for _, section in run.line.parts:
        plain = heat_loss.heat_loss(section, run.line.around, supply)
        far = heat_loss.heat_loss(section, run.line.around, supply, guess=np.full(CASES, guess))
        assert np.allclose(far[1], plain[1], rtol=0, atol=2e-6) and np.allclose(far[0], plain[0], rtol=1e-4, atol=1e-3)


@every_array
def test_no_answer_takes_many_rounds(seed, monkeypatch):
    """What 400 settings cost, counted: how often the air around a surface is worked out, and on how many values."""
    sizes_of_looks, look = [], heat_loss.Air.heat_from

    def counted(self, surface, section):
        sizes_of_looks.append(np.size(surface))
        return look(self, surface, section)

    run, supply, flow, length = array_of_settings(seed)
    monkeypatch.setattr(heat_loss.Air, "heat_from", counted)
    deliver(run.line, supply, flow, length)
    assert len(sizes_of_looks) < 260 and sum(sizes_of_looks) < 460 * CASES


@pytest.mark.parametrize("length, share, air, radiant", [(500.0, 0.3, -12.0, -20.0), (18.0, 0.0, -12.0, -12.0)])
def test_a_trickle_takes_few_rounds(length, share, air, radiant, monkeypatch):
    """One took 2.5 s once; it takes a few milliseconds."""
    looks, look = [], heat_loss.Air.heat_from
    monkeypatch.setattr(heat_loss.Air, "heat_from", lambda self, *given: looks.append(1) or look(self, *given))
    around = Surroundings(Q_(air, "degC"), Q_(5, "m/s"), Q_(radiant, "degC"))
    foam = Insulation("elastomeric foam", Q_(19, "mm"))
    trickle(Run(Pipe.nominal("copper L", "3/4 in"), Q_(length, "m"), foam, around, bare_share=share), Q_(60, "degC"))
    assert 0 < len(looks) < 100


FOUND = [  # pipe, material and thickness [mm], length [m], bare share, air, wind, radiant, supply, flow [L/min]
    ("copper L", "1 in", "phenolic foam", 27.6, 826.0, 0.866, -59.13, 11.76, -67.4, 63.2, 0.0396),
    ("copper L", "3/4 in", "elastomeric foam", 19.0, 500.0, 0.3, -12.0, 5.0, -20.0, 60.0, 0.02),
]


@pytest.mark.parametrize("family, size, material, thickness, length, share, air, wind, radiant, supply, flow", FOUND)
def test_settings_that_once_crashed(family, size, material, thickness, length, share, air, wind, radiant, supply, flow):
    around = Surroundings(Q_(air, "degC"), Q_(wind, "m/s"), Q_(radiant, "degC"))
    run = Run(
        Pipe.nominal(family, size), Q_(length, "m"), Insulation(material, Q_(thickness, "mm")), around, bare_share=share
    )
    found = assess(run, Q_(supply, "degC"), Q_(flow, "L/min"))
    assert found.tap.word == "freezes in the run" and 0 < found.ice_distance.to("m").magnitude < length
    assert trickle(run, Q_(supply, "degC")).magnitude > flow


def test_a_line_at_rest_takes_no_heat_with_the_film_of_its_water():
    """Covered and bare parts settle apart under a cold sky: between them is rest, and the film of slow water moves it."""
    run, supply, flow, _ = array_of_settings(3)
    assert len(run.line.parts) == 2
    film = inside_resistance(run.line.inside_diameter, water(run.line.rest()), flow * water(supply).density)
    for resistance in (0.0, film):
        rest = run.line.rest(resistance)
        below, above = (run.line.loss(rest + step, resistance)[0] for step in (-1e-5, 1e-5))
        assert np.all(below < 0) and np.all(above > 0)
    assert np.max(np.abs(run.line.rest(film) - run.line.rest())) > 0.05
