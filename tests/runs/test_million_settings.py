"""Random settings over all that the public calls allow: every answer is a number within its bounds, and the laws hold.

One array of settings a pipe runs each time; a million of them when asked for (ten minutes of one core):

    .venv/bin/python -m pytest -m million
"""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

NAMES = [(family, size) for family in families() for size in sizes(family)]
EACH = 250  # settings of an array
ARRAYS = 4_000  # of the million
FEW = 40  # arrays that run each time
WITHIN = 1e-6  # [K] rounding


def settings(seed: int) -> tuple:
    """A pipe under one insulation, and arrays of everything else, wider than any slider goes."""
    dice = np.random.default_rng(seed)
    pipe = Pipe.nominal(*NAMES[seed % len(NAMES)])
    known = materials()
    thickness = dice.uniform(0, 80, EACH) * (dice.random(EACH) < 0.7)
    air = dice.uniform(-45, 45, EACH)
    around = Surroundings(
        Q_(air, "degC"),
        Q_(dice.uniform(0, 25, EACH) * (dice.random(EACH) < 0.7), "m/s"),
        Q_(air - dice.uniform(0, 20, EACH) * (dice.random(EACH) < 0.5), "degC"),
    )
    run = Run(
        pipe,
        Q_(10 ** dice.uniform(-1, 2.7, EACH), "m"),
        Insulation(known[int(dice.integers(len(known)))], Q_(thickness, "mm")),
        around,
        bare_share=float(dice.uniform(0, 0.5)) if dice.random() < 0.3 else 0.0,
    )
    return run, dice.uniform(40, 90, EACH), 10 ** dice.uniform(-1.5, 1.7, EACH), dice.uniform(0, 60, EACH), air


def check(seed: int) -> None:
    """All answers of one array of settings, and the laws between them."""
    run, supply, flow, start, air = settings(seed)
    hot, moving, begun = Q_(supply, "degC"), Q_(flow, "L/min"), Q_(start, "degC")
    found = assess(run, hot, moving, start=begun, hold=Q_(4, "degC"))
    tap, coldest = found.tap.value.to("degC").magnitude, run.surroundings.radiant.to("degC").magnitude
    assert np.all(np.isfinite(tap)) and np.all(tap <= np.maximum(supply, air) + WITHIN)
    assert np.all(tap >= np.minimum(np.minimum(air, coldest), supply) - WITHIN)
    burn = found.scald.value.to("s").magnitude
    assert np.all(burn > 0) and np.all(np.isfinite(burn))
    hottest_first = np.argsort(-tap, kind="stable")
    assert np.all(np.diff(burn[hottest_first]) >= -1e-9), "hotter water never takes longer to burn"
    assert np.all(found.hold_power.magnitude >= 0) and np.all(found.ice_distance.magnitude > 0)
    freezing = found.freezing
    zero, ice = (hours.to("h").magnitude for hours in (freezing.hours_to_zero, freezing.hours_to_share(0.1)))
    assert np.all(zero >= 0) and np.all(ice >= zero) and not np.any(np.isnan(ice))
    assert np.all(np.isinf(zero)[np.minimum(air, coldest) > 0.01]), "no frost, no ice"
    drop = run.pressure_drop(moving, Q_(50, "degC")).magnitude
    assert np.all(drop > 0) and np.all(drop < run.pressure_drop(Q_(1.05 * flow, "L/min"), Q_(50, "degC")).magnitude)
    cooled = run.cooling(hot, Q_(2, "h")).temperature.to("degC").magnitude
    assert np.all(cooled <= np.maximum(supply, air) + WITHIN) and not np.any(np.isnan(cooled))


@pytest.mark.parametrize("seed", range(FEW))
def test_answers_keep_their_bounds_and_laws(seed):
    check(seed)


@pytest.mark.million
@pytest.mark.parametrize("part", range(40))
def test_a_million_settings(part):
    for seed in range(FEW + part, FEW + ARRAYS, 40):
        check(seed)
