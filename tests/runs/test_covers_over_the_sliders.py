"""Losses through covers of every kind at 60 settings: too wide a bore with its air sealed in or not, jackets, stated
emissivities.

The air between pipe and cover is worked out by hand (conduction through a ring, radiation between two long
cylinders), the rest as in tests/second_path.py. 0.1 % of the loss, for the properties' tables.
"""

import numpy as np
import pytest
import second_path

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes
from lessons_lib.storage import tables

PIPES = [(family, size) for family in families() for size in sizes(family)]
JACKETS = {row["surface"]: float(row["emissivity"]) for row in tables.rows("surfaces") if row["kind"] == "jacket"}
OWN = {row["material"]: float(row["emissivity"]) for row in tables.rows("insulation")}


class Covered(second_path.Cut):
    """A cut whose insulation may be wider than its pipe; water [degC] is what the gap's air and radiation are taken
    at."""

    def __init__(self, run, water, outermost):
        super().__init__(run)
        cover = run.insulation
        self.bore_of_cover = self.D if cover.bore is None else cover.bore.to("m").magnitude
        self.outer, self.emissivity = self.bore_of_cover + 2 * cover.thickness.to("m").magnitude, outermost
        ratio = self.bore_of_cover / self.D
        if ratio > 1 and cover.gap == "sealed":
            air = second_path._AIR(water)[0]
            facing = 1 / (1 / run.pipe.emissivity + (1 / OWN[cover.material] - 1) / ratio)
            across = 2 * np.pi * air / np.log(ratio) + np.pi * self.D * facing * 4 * 5.670374e-8 * (water + 273.15) ** 3
            self.wall += min(1 / across, np.log(ratio) / (2 * np.pi * np.interp(water, *self.k_at)))

    def cover(self, mean):
        return np.log(self.outer / self.bore_of_cover) / (2 * np.pi * np.interp(mean, *self.k_at))


@pytest.mark.parametrize("seed", range(60))
def test_the_loss_through_a_cover(seed):
    """A stated emissivity counts before the jacket's, the jacket's before the material's; the bare share keeps the
    pipe's."""
    rng = np.random.default_rng(700 + seed)
    pipe, material = Pipe.nominal(*PIPES[rng.integers(len(PIPES))]), str(rng.choice(materials()))
    outside = pipe.outside_diameter.to("mm").magnitude
    jacket = str(rng.choice(list(JACKETS))) if seed % 2 else None
    stated = rng.uniform(0.05, 1) if seed % 3 == 0 else None
    bore = Q_(outside + np.exp(rng.uniform(np.log(0.5), np.log(20))), "mm") if seed % 4 else None
    cover = Insulation(
        material, Q_(rng.uniform(5, 40), "mm"), bore, ("sealed", "open")[seed % 5 == 0], jacket, None, stated
    )
    air, water, share = rng.uniform(-25, 30), rng.uniform(2, 90), rng.uniform(0, 0.5) * (seed % 7 == 0)
    wind, sky = rng.uniform(1, 9) * (seed % 2), air - rng.uniform(0, 15)
    around = Surroundings(Q_(air, "degC"), Q_(wind, "m/s"), Q_(sky, "degC"))
    run = Run(pipe, Q_(5, "m"), cover, around, bare_share=share)
    outermost = stated if stated is not None else JACKETS[jacket] if jacket else OWN[material]
    through, surface = Covered(run, water, outermost).loss(water, air, wind, sky)
    beside = second_path.Cut(run, bare=True).loss(water, air, wind, sky)[0] if share else 0.0
    expected = (1 - share) * float(through) + share * float(beside)
    assert run.heat_loss(Q_(water, "degC")).magnitude == pytest.approx(expected, rel=1e-3, abs=2e-3)
    assert run.surface_temperature(Q_(water, "degC")).magnitude == pytest.approx(float(surface), abs=0.02)


@pytest.mark.parametrize("stated", [None, 0.3])
def test_a_list_of_covers_that_begins_with_none(stated):
    """No thickness is a bare pipe of its own face, or of the stated one; the others are what they are alone."""
    pipe, around = Pipe.nominal("copper L", "3/4 in"), Surroundings(Q_(-5, "degC"))
    thick, water = np.array([0.0, 9.0, 25.0]), Q_(60.0, "degC")
    together = Run(
        pipe, Q_(5, "m"), Insulation("glass fibre", Q_(thick, "mm"), jacket="canvas", emissivity=stated), around
    )
    found = together.heat_loss(water).magnitude
    bare = Run(pipe, Q_(5, "m"), Insulation.none(stated), around)
    by_hand = second_path.Cut(bare)
    by_hand.emissivity = pipe.emissivity if stated is None else stated
    assert found[0] == pytest.approx(bare.heat_loss(water).magnitude, rel=1e-9)
    assert found[0] == pytest.approx(float(by_hand.loss(60.0, -5.0)[0]), rel=1e-3)
    for loss, one in zip(found[1:], thick[1:]):
        alone = Run(
            pipe, Q_(5, "m"), Insulation("glass fibre", Q_(one, "mm"), jacket="canvas", emissivity=stated), around
        )
        assert loss == pytest.approx(alone.heat_loss(water).magnitude, rel=1e-9)


def test_a_bare_share_of_a_bare_pipe_is_the_pipe():
    """Of its own face or of a stated one."""
    pipe, around = Pipe.nominal("copper L", "3/4 in"), Surroundings(Q_(-5, "degC"))
    for stated in (None, 0.05, 0.9):
        whole, parted = (
            Run(pipe, Q_(5, "m"), Insulation.none(stated), around, bare_share=share).heat_loss(Q_(60, "degC")).magnitude
            for share in (0.0, 0.3)
        )
        assert parted == pytest.approx(whole, rel=1e-9)
