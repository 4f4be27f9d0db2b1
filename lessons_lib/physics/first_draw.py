"""Waiting for hot water: plug flow past a wall that stores heat.

    rho c A (dT/dt + u dT/dx) = G (T_1 - T)        T_1, T_2, T_3: shells of the wall, thin inside and thick outside
    C_i dT_i/dt = the sum of what its two neighbours send; the outermost shell sends K (T_3 - rest) outwards

The run is cut into cells of equal residence time, so that legs of different pipe line up at one flow; each time step
the
water moves on by exactly one cell (characteristics: no numerical diffusion). The exchange between water and shells is
the
exact matrix exponential, half a step before and half after each move. Three shells follow a finely resolved wall within
about 3 % of the wait in copper, PEX and CPVC; one lumped wall misses the first heat that a cold plastic surface takes.
Axial mixing is not modelled: laboratory ratios of water drawn to pipe volume run higher (1.1-1.5) than this ideal.
"""

from dataclasses import dataclass

import numpy as np

CELLS, FEWEST_CELLS, MOST_STEPS = 100, 30, 1600
CHECK_EVERY = 8  # steps, whether the draw has settled
SHELLS = 3
SHELL_GROWTH = 2.0  # each shell is so many times as thick as the one inside it
THIN = 1e-7  # share of heat held by a wall that is there for its resistance only


@dataclass(frozen=True)
class DrawnLeg:
    """One leg at one flow; values broadcast to the shape S of cases. Everything per rho c A, the water's own.

    residence : time that water takes through the leg [s]
    links : conductances water - shell 1, shell 1 - shell 2, ..., last shell - surroundings [1/s]; n + 1 of them
    shares : heat capacities of the shells [-]; n of them
    rest : temperature at which the last shell and the surroundings exchange nothing [degC]
    start : of water and wall before the draw [degC], shape (m,) + S at equal distances along the leg, m at least 2
    """

    residence: np.ndarray
    links: tuple
    shares: tuple
    rest: np.ndarray
    start: np.ndarray

    @property
    def exchange(self):
        """Conductance of the water to the whole wall's middle, for judging how fast a draw settles [1/s]."""
        return 1 / sum(1 / link for link in self.links[:-1])


def shell_edges(inside, outside):
    """Radii between the shells of a wall, from the inside out. inside, outside : diameters [m]"""
    steps = SHELL_GROWTH ** np.arange(SHELLS)
    shares = np.r_[0.0, np.cumsum(steps) / steps.sum()]
    return [0.5 * (inside + share * (outside - inside)) for share in shares]


@dataclass(frozen=True)
class Draw:
    """Holds what came out of the tap, and where the heat went; energies per m cp [K s], relative to `reference`.

    time [s], temperature [degC] : at the tap, (n,) + S; the hot front is a step: two entries at one time
    edge [s], drained, given_off, stored : (m,) + S; carried out of the tap above `reference`, given to the
        surroundings, and in water and wall more than at the start
    along [degC] : water at equal distances from start to tap at each edge, (m, places) + S
    """

    time: np.ndarray
    temperature: np.ndarray
    edge: np.ndarray
    drained: np.ndarray
    given_off: np.ndarray
    stored: np.ndarray
    along: np.ndarray


def settling_span(legs):
    """Says how long a draw is followed at most, in residence times of the whole way: until it has surely settled
    within 0.1 %.

    legs : DrawnLeg in the order of flow. From the width of Schumann's step response (J. Franklin Inst. 208 (1929)
    405), which has settled when Z = G t / C_wall is near X + 5 sqrt(X) + 8, X = G L / (m cp): the front lags by each
    leg's wall, the legs' widths add up as squares, and the slowest wall's own decay ends it. Where X is small the wall
    takes only that share of the step, which is settled sooner by its logarithm.
    """
    lags = [sum(leg.shares) * leg.residence for leg in legs]
    units = [np.maximum(leg.exchange * leg.residence, 1e-2) for leg in legs]
    width = np.sqrt(sum(lag**2 / np.maximum(unit, 1) for lag, unit in zip(lags, units)))
    decays = [lag / unit * (8 + np.log(np.minimum(unit, 1))) for lag, unit in zip(lags, units)]
    slowest = np.maximum.reduce(np.broadcast_arrays(*decays))
    return 1.1 + (sum(lags) + 5 * width + slowest) / sum(leg.residence for leg in legs)


def exchange_over(step, links, shares):
    """Gives exp(M step) of y' = M y, y = (water, shell 1, ...) above rest: shape (n + 1, n + 1) + S.

    links, shares : as in DrawnLeg. Scaled by the roots of the capacities, M is symmetric: its eigenvectors give the
        exponential.
    """
    capacity = [np.ones_like(shares[0]), *shares]
    count = len(capacity)
    matrix = np.zeros(np.broadcast_shapes(*(np.shape(item) for item in (*links, *shares))) + (count, count))
    for number, link in enumerate(links):
        matrix[..., number, number] += link
        if number + 1 < count:
            matrix[..., number + 1, number + 1] += link
            matrix[..., number, number + 1] = matrix[..., number + 1, number] = -link
    roots = np.sqrt(np.stack(np.broadcast_arrays(*capacity, matrix[..., 0, 0])[:-1], axis=-1))
    values, vectors = np.linalg.eigh(matrix / (roots[..., :, np.newaxis] * roots[..., np.newaxis, :]))
    decay = np.exp(-values * np.asarray(step)[..., np.newaxis])
    full = np.einsum("...ik,...k,...jk->...ij", vectors, decay, vectors)
    return np.moveaxis(full * roots[..., np.newaxis, :] / roots[..., :, np.newaxis], (-2, -1), (0, 1))


def draw(legs, supply, reference, span: float, cells: int = CELLS, *, end=0.0, near=-1.0, places: int = 0) -> Draw:
    """Opens the tap: water at `supply` enters from time 0 on.

    legs : DrawnLeg in the order of flow; supply, reference [degC], shape S
    span : how long to follow it, in residence times of the whole run, see `settling_span`
    cells : in the whole run; fewer where the span is long, so that no draw takes more than 1600 steps
    end, near : steady temperature at the tap [degC] and a distance from it [K], shape S: the record stops once the run
        has been swept and every case is so near to its end; a negative distance follows the whole span
    places : along the run at which the water is recorded
    """
    cells = max(2 * len(legs), int(np.clip(MOST_STEPS / span, FEWEST_CELLS, cells)))
    plain = (value for leg in legs for value in (leg.residence, *leg.links, *leg.shares, leg.rest))
    shape = np.broadcast_shapes(
        np.shape(supply), *(np.shape(value) for value in plain), *(np.shape(leg.start)[1:] for leg in legs)
    )
    whole = np.broadcast_to(sum(leg.residence for leg in legs), shape)
    links, shares, rest, start = _in_cells(legs, whole, cells)
    flat = lambda value, rows: np.broadcast_to(value, (rows,) + shape).reshape(rows, -1)  # noqa: E731
    same = 1 if len(legs) == 1 else cells  # one leg: every cell is like the first
    links, shares = ([flat(value[:same], same) for value in values] for values in (links, shares))
    rest, start = flat(rest[:same], same), flat(start, cells)
    step, supply, reference, end, near = (
        np.broadcast_to(item, shape).ravel() for item in (whole / cells, supply, reference, end, near)
    )
    steps = int(np.ceil(span * cells))
    tap, stored, loss, along = _march(links, shares, rest, start, step, supply, steps, (end, near), places)
    record = _record(cells, step, tap, stored, loss, start[-1], reference)
    return Draw(*(item.reshape((-1,) + shape) for item in record), along.reshape(along.shape[:2] + shape))


def _march(links, shares, rest, start, step, supply, steps: int, stop, places: int):
    """Gives, step by step, the temperature of the parcel that leaves, heat stored and heat given off, (steps, cases)
    each; and the water along the run, (steps + 1, places, cases). stop : end and near, see `draw`
    """
    full, half = (exchange_over(part * step, links, shares) for part in (1.0, 0.5))
    capacity = np.stack([np.broadcast_to(step * share, start.shape) for share in (np.ones_like(shares[0]), *shares)])
    gives = np.broadcast_to(step * links[-1], start.shape)
    tap, stored, loss = (np.empty((steps, len(step))) for _ in range(3))
    picks = np.linspace(0, len(start) - 1, places).round().astype(int)
    along = np.empty((steps + 1, places, len(step)))
    along[0] = start[picks]
    state = np.stack([start - rest] * len(capacity))  # water and shells above rest, (n + 1, cells, cases)
    rests = np.broadcast_to(rest, start.shape)
    begun = np.einsum("ncm,ncm->m", capacity, state)
    end, near = stop
    for number in range(steps):
        state = np.einsum("ijcm,jcm->icm", full if number else half, state)
        water = state[0] + rest
        tap[number] = water[-1]
        state[0, 1:] = water[:-1] - rests[1:]
        state[0, 0] = supply - rests[0]
        stored[number] = np.einsum("ncm,ncm->m", capacity, state) - begun
        loss[number] = np.einsum("cm,cm->m", gives, state[-1])
        if places:
            along[number + 1] = (state[0] + rest)[picks]
        if number > len(start) and number % CHECK_EVERY == 0 and np.all(np.abs(tap[number] - end) <= near):
            break
    return tap[: number + 1], stored[: number + 1], loss[: number + 1], along[: number + 2]


def _in_cells(legs, whole, cells: int):
    """Gives links, shares, rest and start of each cell, (cells,) + S: the mean of what lies in it."""
    edges = (np.arange(cells + 1) / cells).reshape((-1,) + (1,) * whole.ndim)
    low, high = edges[:-1], edges[1:]
    count = len(legs[0].shares)
    sums, begin = [0.0] * (2 * count + 3), np.zeros(whole.shape)
    for leg in legs:
        end = begin + leg.residence / whole
        inner, outer = np.maximum(low, begin), np.minimum(high, end)
        part = np.maximum(outer - inner, 0) * cells
        start = _along(leg.start, (0.5 * (inner + outer) - begin) / (end - begin))
        values = (*leg.links, *(np.maximum(share, THIN) for share in leg.shares), leg.rest, start)
        sums = [total + part * value for total, value in zip(sums, values)]
        begin = end
    return sums[: count + 1], sums[count + 1 : -2], sums[-2], sums[-1]


def _along(values, share):
    """Values at equal distances, (n,) + S, read at `share` (0 to 1) of the way, (m,) + S, by straight lines."""
    values = np.asarray(values, dtype=float)
    place = np.clip(share, 0, 1) * (len(values) - 1)
    shape = np.broadcast_shapes(values.shape[1:], place.shape[1:])
    values, place = (
        np.broadcast_to(
            item.reshape(item.shape[:1] + (1,) * (len(shape) + 1 - item.ndim) + item.shape[1:]), item.shape[:1] + shape
        )
        for item in (values, place)
    )
    before = np.minimum(place.astype(int), len(values) - 2)
    low, high = (np.take_along_axis(values, before + one, axis=0) for one in (0, 1))
    return low + (place - before) * (high - low)


def _record(cells: int, step, tap, stored, loss, first, reference):
    """Fills the fields of Draw. Parcel number k leaves between k and k + 1 steps; the hot front after `cells` steps."""
    steps = len(tap)
    middle = np.multiply.outer(np.arange(steps) + 0.5, step)
    front = np.multiply.outer([cells, cells], step)
    # Straight back from the first two parcels to the front itself, but never past what came before it.
    ahead, first_hot = tap[cells - 1], tap[cells]
    behind = np.clip(1.5 * first_hot - 0.5 * tap[cells + 1], np.minimum(ahead, first_hot), np.maximum(ahead, first_hot))
    edge = np.multiply.outer(np.arange(steps + 1), step)
    zero = np.zeros_like(edge[:1])
    return (
        np.concatenate([zero, middle[:cells], front, middle[cells:]]),
        np.concatenate([first[np.newaxis], tap[:cells], tap[cells - 1 : cells], behind[np.newaxis], tap[cells:]]),
        edge,
        np.concatenate([zero, np.cumsum((tap - reference) * step, axis=0)]),
        np.concatenate([zero, np.cumsum(loss * step, axis=0)]),
        np.concatenate([zero, stored]),
    )


def wait(record: Draw, useful):
    """Seconds until the tap first reaches `useful` [degC], shape S; inf if it does not within the record."""
    reached = record.temperature >= useful
    after = np.argmax(reached, axis=0)
    before = np.maximum(after - 1, 0)
    (t0, t1), (low, high) = (
        [np.take_along_axis(values, place[np.newaxis], axis=0)[0] for place in (before, after)]
        for values in (record.time, record.temperature)
    )
    share = np.where(high > low, (useful - low) / np.where(high > low, high - low, 1.0), 0.0)
    return np.where(reached.any(axis=0), t0 + share * (t1 - t0), np.inf)


def at_time(record: Draw, moment):
    """Gives drained, given_off and stored at a moment [s], shape S each; straight lines between the edges."""
    step = record.edge[1] - record.edge[0]
    place = np.clip(moment / step, 0, len(record.edge) - 1)
    return tuple(
        _along(values, (place / (len(record.edge) - 1))[np.newaxis])[0]
        for values in (record.drained, record.given_off, record.stored)
    )
