"""How long each leg is drawn, so that nothing lies on anything else: whole steps, as on a fitter's isometric paper.

An isometric of pipes need not be to scale. So many choices of lengths are tried at once, the clearest of them is
changed a little, and so on. Points on paper are complex numbers here, x + y i, in pixels with y downwards.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

MOST_STEPS = 9  # of a leg
BEGUN = ((1, 1), (1, 1), (1, 1), (1, 3))  # fewest and most steps of a leg where the search begins, each time anew
STEP = 190.0  # [px] the longest step
TOUCHING, AT_END = 9.0, 14.0  # [px] two legs lie on each other; seem to join where they cross
APART, ROOMY = (0.33, 28.0, 60.0), (0.5, 44.0, 80.0)  # two legs are clear; a leg has room for its words: see _wanted
SIGN = 26.0  # [px] that a valve adds to the room which its leg needs
BODY, NAME = 44.0, 20.0  # [px] what is clear of the middle of a tank; of a name
HIT, CROSSED, OVER_NAME, CLOSE, TIGHT, SMALL, UNTRUE = 40.0, 12.0, 5.0, 6.0, 10.0, 15.0, 0.35  # costs; see cost
CLEAR = 4.0  # cost up to which legs are drawn in proportion
BATCH, ROUNDS, PATIENCE = 24, 40, 16  # choices at once; rounds from each beginning; those without a gain that end it
BUDGET = 3e4  # pairs of lines in all rounds from one beginning


class Hung(NamedTuple):
    """Holds a line that hangs on a point and keeps its size: across a tank or heat pump, or beneath a tap's name.

    point : number of a leg whose start it hangs on, of all legs + number for the end of one, -1 for the tank's outlet
    first, last : from there [px]; name : whether it is a name; near : numbers of legs that may touch it
    """

    point: int
    first: complex
    last: complex
    name: bool
    near: tuple


class LegLengths:
    """The choices of lengths for one building.

    ways : one step of each leg on paper, (legs,); starts : how often the steps of each leg (column) count where a leg
    (row) starts; moved : added to each leg [px], (legs,); joined : pairs of legs that may touch, (legs, legs) of bool
    hung : Hung lines; same : number of the leg that each is as long as, (legs,); true : lengths [m]
    signs : how many stand along each leg, (legs,); field : width and height [px]
    """

    def __init__(self, ways, starts, moved, joined, hung, same, true, signs, field):
        self.ways, self.starts, self.moved, self.hung = ways, starts, moved, hung
        self.same, self.true, self.field = same, true, field
        self.roomy = self._wanted(ROOMY) + SIGN * signs
        count = len(ways)
        self.point = np.array([one.point for one in hung], dtype=int)
        self.offsets = np.array([(one.first, one.last) for one in hung], dtype=complex).reshape(-1, 2)
        self._measure_reach()
        name = np.array([False] * count + [one.name for one in hung], dtype=bool)
        body = ~name & (np.arange(len(name)) >= count)
        meets = np.zeros((len(name), len(name)), dtype=bool)
        meets[:count, :count] = joined
        for number, one in enumerate(hung, count):
            meets[number, list(one.near)] = meets[list(one.near), number] = True
        meets |= body & body[:, np.newaxis]
        self.one, self.two = np.nonzero(np.triu(~meets, 1))
        named, solid = (kind[self.one] | kind[self.two] for kind in (name, body))
        self.wanted = np.where(named, NAME, np.where(solid, BODY, self._wanted(APART)))
        self.hit, self.crossed = np.where(named, 0.0, HIT), np.where(named, OVER_NAME, np.where(solid, HIT, CROSSED))
        lines = np.concatenate([ways, self.offsets[:, 1] - self.offsets[:, 0]])
        self.back = np.conj(lines / np.abs(lines))  # turns a line so that it lies along x
        self._key = tuple(np.asarray(one).tobytes() for one in (ways, starts, moved, meets, self.point, self.offsets))
        self._key += same.tobytes(), true.tobytes(), signs.tobytes(), tuple(field)

    def _measure_reach(self) -> None:
        """Notes what reaches farthest on paper: ends of legs, the tank's outlet, and corners of what hangs there.

        every : the point of each, (reaching,); aside, corners : what is added to it as x and y [px], (reaching, 2, 1)
        """
        self.moved_points = np.concatenate([self.moved, self.moved, [0]])
        self.every = np.concatenate([np.arange(len(self.moved_points)), self.point, self.point])
        moved, hung = self.moved_points[self.every], np.stack([self.offsets.real, self.offsets.imag])
        self.aside = np.stack([moved.real, moved.imag], axis=1)[..., np.newaxis]
        self.corners = np.zeros_like(self.aside)
        self.corners[len(self.moved_points) :, :, 0] = np.concatenate([hung.min(axis=2), hung.max(axis=2)], axis=1).T

    def __eq__(self, other) -> bool:
        return self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)

    def _wanted(self, share_least_most) -> float:
        """Gives a length by the room that each leg has [px]. share_least_most : of the side of its room; limits [px]"""
        share, least, most = share_least_most
        return float(np.clip(share * np.sqrt(self.field[0] * self.field[1] / len(self.ways)), least, most))

    def ends(self, lengths) -> tuple:
        """Gives the first and last points of all lines, (choices, lines) each, and the step of each choice [px].

        lengths : (choices, legs) in steps
        """
        steps, count = lengths * self.ways, len(self.ways)
        first = steps @ self.starts.T
        points = np.concatenate([first, first + steps, np.zeros((len(lengths), 1))], axis=1)
        lines = np.stack([points.real.T, points.imag.T], axis=1)
        legs, side = np.ptp(lines, axis=0), np.array(self.field, dtype=float)[:, np.newaxis]
        lines, step = lines[self.every], np.full(len(lengths), STEP)
        for _ in range(3):  # what hangs on legs keeps its size, so that the first answers are only nearly right
            whole = step * lines + self.aside + self.corners
            beside = np.minimum(whole.max(axis=0) - whole.min(axis=0) - step * legs, 0.6 * side)
            step = np.minimum(((side - beside) / np.maximum(legs, 1e-9)).min(axis=0), STEP)
        whole = step[:, np.newaxis] * points + self.moved_points
        hung = whole[:, self.point][..., np.newaxis] + self.offsets
        return (
            np.concatenate([whole[:, :count], hung[..., 0]], axis=1),
            np.concatenate([whole[:, count : 2 * count], hung[..., 1]], axis=1),
            step,
        )

    def cost(self, lengths) -> np.ndarray:
        """Says how unclear each choice is, (choices,): legs on each other or joined to the eye, crossed or close, names
        crossed; legs without room for a number; a small sketch; lengths out of proportion.
        """
        first, last, step = self.ends(lengths)
        choice, pair = self._near(first, last)
        one, two = self.one[pair], self.two[pair]
        apart, crossed = apart_and_crossed(
            first[choice, one], last[choice, one], first[choice, two], last[choice, two], self.back[one], self.back[two]
        )
        pairs = np.where(crossed, self.crossed[pair], CLOSE * np.maximum(1 - apart / self.wanted[pair], 0.0) ** 2)
        pairs += self.hit[pair] * (apart < np.where(crossed, AT_END, TOUCHING))
        drawn, ratio, roomy = step[:, np.newaxis] * lengths, np.log(lengths / self.true), self.roomy
        return (
            np.bincount(choice, pairs, len(lengths))
            + TIGHT * (np.maximum(1 - drawn / roomy, 0.0) ** 2).sum(axis=1)
            + SMALL * np.maximum(1 - step / roomy.min(), 0.0)
            + UNTRUE * ((ratio - ratio.mean(axis=1, keepdims=True)) ** 2).sum(axis=1)
        )

    def _near(self, first, last) -> tuple:
        """Gives the pairs of lines that can be too close, each as numbers of its choice and of its pair."""
        middle, half = (first + last) / 2, last - first
        at, reach = np.real(middle), np.abs(np.real(half)) / 2
        choice, pair = np.nonzero(
            np.abs(at[:, self.one] - at[:, self.two]) < reach[:, self.one] + reach[:, self.two] + self.wanted
        )
        at, reach, one, two = np.imag(middle), np.abs(np.imag(half)) / 2, self.one[pair], self.two[pair]
        near = np.abs(at[choice, one] - at[choice, two]) < reach[choice, one] + reach[choice, two] + self.wanted[pair]
        return choice[near], pair[near]

    def changed(self, lengths, chance) -> np.ndarray:
        """Gives choices that differ from this one in a few legs, (BATCH, legs)."""
        size = BATCH, len(lengths)
        changed = chance.random(size) < chance.choice([0.5, 1.5, 4.0], (BATCH, 1)) / len(lengths)
        changed[np.arange(BATCH), chance.integers(len(lengths), size=BATCH)] = True
        tried = np.clip(lengths + changed * chance.choice([-2, -1, -1, 1, 1, 2], size), 1, MOST_STEPS)
        return tried[:, self.same]


@lru_cache(maxsize=64)
def clearest(choices: LegLengths) -> np.ndarray:
    """The clearest lengths that were found [steps], (legs,): in proportion where that is clear, else whole steps."""
    usual = 2 * (choices.true / np.median(choices.true))[choices.same]
    if choices.cost(usual[np.newaxis])[0] < CLEAR:
        return usual
    rounds = min(ROUNDS, int(BUDGET / max(len(choices.one), 1)))
    chance = np.random.default_rng(1)
    found = [_climbed(choices, np.clip(np.round(usual), *ends), rounds, chance) for ends in BEGUN]
    return _climbed(choices, min(found, key=lambda one: one[1])[0], 2 * rounds, chance)[0]


def _climbed(choices: LegLengths, now, rounds: int, chance) -> tuple:
    """Changes a choice of lengths as long as that makes it clearer; returns it with its cost."""
    least, idle = choices.cost(now[np.newaxis])[0], 0
    for _ in range(rounds):
        tried = choices.changed(now, chance)
        costs = choices.cost(tried)
        idle += 1
        if costs.min() < least:
            now, least, idle = tried[np.argmin(costs)], costs.min(), 0
        if idle > PATIENCE:
            break
    return now, least


def apart_and_crossed(first, last, begin, end, back, other_back) -> tuple:
    """Gives the distance between lines from first to last and from begin to end, and whether they cross.

    Of two that cross the distance is that from the nearest end to the other line. back, other_back : numbers of length
    1 that turn a line so that it lies along x
    """
    least, parted = np.inf, []
    for start, stop, turn, points in ((first, last, back, (begin, end)), (begin, end, other_back, (first, last))):
        across, long = 1.0, np.abs(stop - start)
        for point in points:
            seen = (point - start) * turn
            beyond = np.maximum(np.maximum(-seen.real, seen.real - long), 0.0)
            least = np.minimum(least, beyond * beyond + seen.imag * seen.imag)
            across = across * seen.imag
        parted.append(across < -1e-6)
    return np.sqrt(least), parted[0] & parted[1]
