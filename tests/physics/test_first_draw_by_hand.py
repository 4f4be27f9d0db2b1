"""The march of a first draw against what its own ladder of water and shells gives exactly.

Before the front each parcel has only stood: a matrix exponential. The front itself has met walls as they stood: an
exponential of the units passed. Behind it the Laplace transform of tests/second_path.py, which the march nears with the
square of its cells: half steps, middles of steps and the straight line back to the front are what makes it so.
"""

import numpy as np
import pytest
import second_path
from scipy.linalg import expm

from lessons_lib.physics import first_draw as physics

SUPPLY = 60.0


class Chain:
    """Legs of hundredths of the whole way, with exchange, shells and losses as wide apart as pipes' are."""

    def __init__(self, seed, hundredths, rest=None):
        rng = np.random.default_rng(seed)
        self.start, whole = rng.uniform(5, 30), rng.uniform(5, 60)
        self.drawn, self.exact = [], []
        for part in hundredths:
            tau, units = whole * part / 100, rng.uniform(0.5, 3) * part / 100
            links = np.r_[units, units * rng.uniform(2, 6, 2), units * rng.uniform(0.02, 0.2)] / tau
            shares, around = rng.uniform(0.03, 0.3, 3), rng.uniform(-20, 20) if rest is None else self.start
            self.drawn.append(
                physics.DrawnLeg(
                    np.asarray(tau), tuple(links), tuple(shares), np.asarray(around), np.full(2, self.start)
                )
            )
            leg = second_path.Leg.__new__(second_path.Leg)
            leg.tau, leg.air, leg.links, leg.shares = tau, around, links, shares
            self.exact.append(leg)
        self.whole = whole

    def draw(self, cells, span=2.5):
        return physics.draw(self.drawn, np.asarray(SUPPLY), self.start, span, cells=cells)


def stood(leg, start, seconds):
    """Water that has stood beside its shells, all at `start` before [degC]."""
    heat, links = np.r_[1.0, leg.shares], leg.links
    matrix = np.diag(links[:-1], 1) + np.diag(links[:-1], -1)
    matrix -= np.diag(np.r_[links[0], links[:-1] + links[1:]])
    matrix /= heat[:, np.newaxis]
    return leg.air + np.array([(expm(matrix * one) @ np.full(len(heat), start - leg.air))[0] for one in seconds])


@pytest.mark.parametrize("seed", range(12))
def test_water_ahead_of_the_front_has_only_stood(seed):
    """To rounding, and at the middle of each step, for half of it passes before the first parcel leaves."""
    chain = Chain(seed, [100])
    record = chain.draw(100, 1.2)
    moments = (np.arange(100) + 0.5) * chain.whole / 100
    assert record.time[1:101] == pytest.approx(moments, rel=1e-12)
    assert record.temperature[1:101] == pytest.approx(stood(chain.exact[0], chain.start, moments), abs=1e-9)


@pytest.mark.parametrize("seed", range(12))
def test_the_front_has_met_walls_as_they_stood(seed):
    """Where these stand at rest: supply less what X units take, exp(-X). Four times the cells, a fifth of the
    deviation at the most (a sixteenth once the cells resolve the thinnest shell, a quarter without the line back to
    the front)."""
    chain = Chain(seed, [100], rest=True)
    leg = chain.exact[0]
    front = chain.start + (SUPPLY - chain.start) * np.exp(-leg.links[0] * leg.tau)
    off = []
    for cells in (100, 400):
        record = chain.draw(cells, 1.2)
        assert record.time[cells + 1 : cells + 3] == pytest.approx([chain.whole] * 2)
        assert record.temperature[cells + 1] == pytest.approx(chain.start, abs=1e-9)
        off.append(abs(record.temperature[cells + 2] - front) / (SUPPLY - chain.start))
    assert off[1] < off[0] / 5 and off[1] < 0.007, off


def test_water_leaves_as_it_lay():
    """Two legs without exchange, uneven water in each: the tap gives it from the end to the start, to rounding."""
    places, idle = np.linspace(0, 1, 5), (1e-12, 1e-12, 1e-12, 1e-12)
    starts = [np.array([50.0, 30.0, 35.0, 20.0, 25.0]), np.array([10.0, 55.0, 15.0, 40.0, 5.0])]
    taus = 6.0, 14.0
    legs = [
        physics.DrawnLeg(np.asarray(tau), idle, (0.0, 0.0, 0.0), np.asarray(20.0), start)
        for tau, start in zip(taus, starts)
    ]
    record = physics.draw(legs, np.asarray(SUPPLY), 0.0, 1.2, cells=100, places=100)
    behind = 20.0 - record.time[1:101]  # from the start of the first leg, in seconds of the way
    lay = np.where(
        behind < 6, np.interp(behind / 6, places, starts[0]), np.interp((behind - 6) / 14, places, starts[1])
    )
    assert record.temperature[1:101] == pytest.approx(lay, abs=1e-6)
    assert record.temperature[0] == pytest.approx(lay[0], abs=1e-6)
    for steps in (0, 30):  # the water along the way, moved on by as many cells, hot water behind it
        assert record.along[steps] == pytest.approx(np.r_[[SUPPLY] * steps, lay[steps:][::-1]], abs=1e-6)
    few = physics.draw(legs, np.asarray(SUPPLY), 0.0, 1.2, cells=100, places=2).along[30]
    assert few == pytest.approx([SUPPLY, lay[30]], abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_what_entered_is_drained_given_off_or_stored(seed):
    """Where the surroundings take a tenth of it and more. With four times the module's cells, 0.5 % of what they take:
    that is summed step by step."""
    rng = np.random.default_rng(seed)
    tau, start, rest, reference = 20.0, rng.uniform(5, 30), rng.uniform(-20, 20), rng.uniform(0, 30)
    links, shares = np.r_[rng.uniform(1, 6, 3), rng.uniform(0.3, 0.8)] / tau, tuple(rng.uniform(0.03, 0.3, 3))
    leg = physics.DrawnLeg(np.asarray(tau), tuple(links), shares, np.asarray(rest), np.full(2, start))
    record = physics.draw([leg], np.asarray(SUPPLY), reference, 4.0, cells=400)
    entered = (SUPPLY - reference) * record.edge
    missing = record.drained + record.given_off + record.stored - entered
    assert record.given_off[-1] > 0.05 * entered[-1]
    assert missing[400:] == pytest.approx(0, abs=0.005 * record.given_off[400])


@pytest.mark.parametrize("seed, hundredths", [(0, [100]), (1, [100]), (2, [100]), (3, [40, 60]), (4, [22, 30, 48])])
def test_behind_the_front_the_march_nears_the_exact_answer_with_the_square_of_its_cells(seed, hundredths):
    """Four times the cells, a tenth of the deviation at the most (a sixteenth, but for the start), to 0.001 K; the
    wait lies on straight lines between the parcels, to 0.02 % of the way's time."""
    chain, off = Chain(seed, hundredths), []
    times = chain.whole * np.linspace(1.15, 2.4, 40)
    exact = second_path.tap(chain.exact, SUPPLY, chain.start, times)
    for cells in (50, 200):
        record = chain.draw(cells)
        off.append(np.sqrt(np.mean((np.interp(times, record.time, record.temperature) - exact) ** 2)))
    assert off[1] < off[0] / 10 and off[1] < 0.001, off
    for place in (5, 15, 25):
        assert physics.wait(record, exact[place]) == pytest.approx(times[place], abs=2e-4 * chain.whole)
