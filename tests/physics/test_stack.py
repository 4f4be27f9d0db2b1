"""Lines side by side give what each gives alone, in whatever order and however often they are asked for."""

import numpy as np
import pytest

from lessons_lib import Q_, Ground, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics.convection import no_film
from lessons_lib.physics.delivery import deliver
from lessons_lib.physics.stack import Stack
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

PIPES = [(family, size) for family in families() for size in sizes(family)]


def lines(rng, count):
    """Runs of few coverings and bare shares, so that some share a group, in air and in soil."""
    made = []
    for _ in range(count):
        pipe = Pipe.nominal(*PIPES[rng.integers(len(PIPES))])
        loose = Q_(pipe.outside_diameter.to("mm").magnitude + 3, "mm") if rng.random() < 0.4 else None
        cover = Insulation(
            str(rng.choice(materials()[:2])), Q_(rng.uniform(6, 30), "mm"), loose, rng.choice(["sealed", "open"])
        )
        air = rng.uniform(-20, 25)
        around = Surroundings(Q_(air, "degC"), Q_(rng.uniform(0, 6), "m/s"), Q_(air - rng.uniform(0, 9), "degC"))
        around = (
            Ground(Q_(rng.uniform(2, 12), "degC"), Q_(rng.uniform(0.5, 1.2), "m")) if rng.random() < 0.2 else around
        )
        share = float(rng.choice([0.0, 0.1]))
        made.append(Run(pipe, Q_(5, "m"), cover, around, bare_share=share).line)
    return made


@pytest.mark.parametrize("film", [None, no_film])
def test_many_lines_are_each_alone(film):
    """Every line at least once, some twice, shuffled: the end to 0.1 mK, for the rounds of all end together; ice
    likewise."""
    rng = np.random.default_rng(8)
    known = lines(rng, 24)
    which = rng.permutation(np.r_[np.arange(24), rng.integers(0, 24, 16)])
    supply, flow, length = (
        rng.uniform(0.5, 75, 40),
        np.exp(rng.uniform(np.log(1e-6), np.log(3e-4), 40)),
        rng.uniform(2, 60, 40),
    )
    films = () if film is None else (film,)
    together = Stack.of(known).deliver(which, supply, flow, length, *films)
    for case, line in enumerate(which):
        alone = deliver(known[line], supply[case], flow[case], length[case], *films)
        assert together.temperature[case] == pytest.approx(float(alone.temperature), abs=1e-4)
        assert together.ice_distance[case] == pytest.approx(float(alone.ice_distance), rel=1e-4)
    assert len(Stack.of(known).groups) < 20 and np.isfinite(together.ice_distance).any()
