"""Fits to readings of a pipe whose insulation is resolved (tests/resolved.py, nothing of the library in it): the conductivity
that made them is found, and the 95 % interval holds it.

`PYTHONPATH=tests python tests/bench/test_bench_resolved.py` measures how often, in 100 sets for each scatter; the tests take fewer.
"""

from functools import cache

import numpy as np
import pytest
import resolved

from lessons_lib import Q_, Insulation, Pipe, Readings, Run, Surroundings, fit_cooling
from lessons_lib.physics import bench as doubts

AIR, START, EVERY, LAST = 20.0, 58.0, 240.0, 7200.0
TIMES = np.arange(0.0, LAST + 1, EVERY)
# family, size, insulation, density times heat capacity [J/(m3 K)], thickness [mm]
RUNS = [
    ("copper EN 1057", "22 mm", "elastomeric foam", 60 * 1400.0, 19),
    ("copper L", "1/2 in", "mineral wool", 100 * 840.0, 40),
    ("copper L", "1/2 in", "elastomeric foam", 60 * 1400.0, 6),
    ("PEX CTS", "3/8 in", "elastomeric foam", 60 * 1400.0, 40),
    ("PEX CTS", "3/4 in", "elastomeric foam", 60 * 1400.0, 9),
    ("CPVC CTS", "1/2 in", "glass fibre", 64 * 840.0, 50),
]


def run_of(family, size, insulation, thickness) -> Run:
    cover = Insulation(insulation, Q_(thickness, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
    return Run(Pipe.nominal(family, size), Q_(10, "m"), cover, Surroundings(Q_(AIR, "degC")))


def rings_of(run: Run, conductivity: float, insulation_heat: float, **off) -> resolved.Rings:
    """The run's own dimensions and materials, resolved."""
    pipe, metres = run.pipe, lambda length: length.to("m").magnitude
    outside = metres(pipe.outside_diameter)
    wall = (
        pipe.wall_conductivity.to("W/(m*K)").magnitude,
        (pipe.density * pipe.heat_capacity).to("J/(m**3*K)").magnitude,
    )
    given = {"air": AIR, "emissivity": 0.93, **off}
    return resolved.Rings(
        metres(pipe.inside_diameter),
        outside,
        outside + 2 * metres(run.insulation.thickness),
        wall,
        (conductivity, insulation_heat),
        **given,
    )


def fit(run: Run, values, times=TIMES):
    return fit_cooling(run, Readings(Q_(values, "degC"), Q_(times, "s")))


@pytest.mark.parametrize("family, size, insulation, heat, thickness", RUNS)
@pytest.mark.parametrize("true", [0.036, 0.08])
def test_the_conductivity_is_found(family, size, insulation, heat, thickness, true):
    """Within 1 %, without noise: thick foam on a small plastic pipe is the hardest."""
    run = run_of(family, size, insulation, thickness)
    found = fit(run, resolved.standing(rings_of(run, true, heat), START, LAST, EVERY)[:, 0])
    assert found.value.magnitude == pytest.approx(true, rel=0.01)
    assert found.low.magnitude < true < found.high.magnitude and found.doubt > 0.02


def test_a_loggers_interval_does_not_collapse():
    """50,000 rows at 0.2 K: the readings alone know the value to a thousandth, the model does not."""
    run, true = run_of("copper EN 1057", "22 mm", "elastomeric foam", 19), 0.0360
    clock = np.arange(0.0, LAST + 1, 60.0)
    water = resolved.standing(rings_of(run, true, 60 * 1400.0, film_factor=1.1), START, LAST, 60.0)[:, 0]
    times = np.linspace(0, LAST, 50_000)
    found = fit(run, np.interp(times, clock, water) + 0.2 * np.random.default_rng(3).standard_normal(50_000), times)
    assert found.low.magnitude < true < found.high.magnitude and found.scatter < 0.002 and found.doubt > 0.02


COVERED, TRUE = run_of("copper EN 1057", "22 mm", "elastomeric foam", 19), 0.0500


@cache
def curves(sets: int, drawn: bool):
    """Readings without noise, (times, sets); drawn : each set with errors of its own in what the model takes for known."""
    dice = np.random.default_rng(1).standard_normal((4, sets)) * drawn
    off = {
        "film_factor": 1 + doubts.FILM_DOUBT * dice[0],
        "emissivity": np.minimum(0.93 + 0.03 * dice[1], 1.0),
        "air": AIR + doubts.AIR_DOUBT * dice[2],
    }
    return resolved.standing(
        rings_of(COVERED, TRUE, 60 * 1400.0 * (1 + doubts.HEAT_DOUBT * dice[3]), **off), START, LAST, EVERY, step=10.0
    )


def held(sets: int, noise: float, drawn: bool):
    """In how many sets the interval holds the truth; in how many the part that comes from the readings does; mean value over the truth."""
    count, alone, shares = 0, 0, []
    for number, curve in enumerate(np.broadcast_to(curves(sets, drawn), (len(TIMES), sets)).T):
        found = fit(COVERED, curve + noise * np.random.default_rng(1000 + number).standard_normal(len(curve)))
        shares.append(found.value.magnitude / TRUE)
        count += found.low.magnitude <= TRUE <= found.high.magnitude
        alone += abs(np.log(shares[-1])) <= found.scatter
    return count, alone, float(np.mean(shares))


SETS = 40


@pytest.mark.parametrize("noise", [0.1, 0.2, 0.5])
@pytest.mark.parametrize("drawn", [False, True], ids=["the model as it is", "the model's errors drawn"])
def test_the_interval_holds_the_truth(noise, drawn):
    """In nine of ten sets and more. With the model's own errors drawn the readings alone are not enough where they scatter little."""
    count, alone, mean = held(SETS, noise, drawn)
    assert count >= 0.9 * SETS and mean == pytest.approx(1, abs=0.01)
    assert 0.85 * SETS <= alone <= SETS if not drawn else noise == 0.5 or alone < 0.8 * SETS


if __name__ == "__main__":
    for drawn in (False, True):
        for noise in (0.1, 0.2, 0.5):
            count, alone, mean = held(100, noise, drawn)
            print(
                f"errors of the model {'drawn' if drawn else 'none'}, noise {noise} K: {count} of 100 held, by the readings alone {alone}; mean {mean:.4f}",
                flush=True,
            )
