"""Waiting at the tap: the first draw through a run or several runs, and the next one after a pause."""

from dataclasses import dataclass, field

import numpy as np

from ..physics import first_draw as physics
from ..physics.convection import inside_resistance
from ..physics.cooling import curve
from ..physics.delivery import along
from ..physics.properties import FREEZING
from ..physics.properties import water as water_properties
from ..quantities.border import reachable
from ..quantities.errors import InputError
from ..quantities.results import Printed, Word
from ..quantities.units import DURATION, FLOW, START, SUPPLY, USEFUL, Quantity, broadcast, quantity, to_base
from .cautions import joined
from .convergence import named_inputs

PROFILE = 9  # places along a leg at which a pause is followed
COMMON_TIMES = 401
SETTLED = 1e-3  # of the step at the tap: the record ends so near to the steady temperature, or within 0.01 K
# Words for a wait: (at most so many seconds, word). The edges are the American Society of Plumbing Engineers'
# (acceptable up
# to 10 s, marginal up to 30 s), as quoted in secondary literature; the words are ours.
WAIT_WORDS = (
    (0, Word("warm at once", 0)),
    (10, Word("short wait", 0)),
    (30, Word("middling wait", 1)),
    (np.inf, Word("long wait", 1)),
)
NEVER_WARM = Word("never warm enough", 2)
CAUTION = (
    "Water does not mix along the way here, and the insulation's own heat is left out: a real wait is somewhat longer."
    " The insulation alone adds 1 to 2 % at the usual flows, 4 % at a trickle, 11 % in small plastic pipe under 40 mm"
    " (1 1/2 in). Buried legs keep their soil as it is."
)


@dataclass(frozen=True, repr=False, eq=False)
class FirstDraw(Printed):
    """Says what a draw brought.

    time [s], shape (n,); temperature [degC] at the tap, (n,) + S; the hot front is a step
    wait [s], water_drawn [L] : until the tap first reaches the useful temperature; 0 if it begins there, inf if never
    energy_lost [W h] : of the heat that entered until then, what ran down the drain or into the surroundings. Heat is
    counted from the water that stands at the tap: where colder water of another leg follows it, this falls below 0
    energy_left [W h] : what stays behind in water and pipe, above the start, and cools there after the tap closes
    pipe_volume [L] : of all legs
    delivered [degC] : in steady flow, when the draw has gone on for long; see Run.delivery_temperature
    moments [s], (m,) + S, and along [degC], (m, places) + S : the water at equal distances from start to tap, where
    asked for
    """

    time: Quantity
    temperature: Quantity
    wait: Quantity
    water_drawn: Quantity
    energy_lost: Quantity
    energy_left: Quantity
    pipe_volume: Quantity
    delivered: Quantity = field(repr=False)
    caution: str = field(default=CAUTION)
    moments: object = field(default=None, repr=False)
    along: object = field(default=None, repr=False)


@named_inputs
def first_draw(runs, supply, flow, start, useful, places: int = 0) -> FirstDraw:
    """Open the tap on legs in which water stands at `start`; see Run.first_draw."""
    entering, moving, begun, wanted = _checked(runs, supply, flow, start, useful)
    ways = _steady(runs, entering, moving)
    starts = [np.stack([begun] * 2) for _ in runs]
    return _draw(ways, entering, moving, starts, wanted, begun, places)


@named_inputs
def second_draw(runs, supply, flow, pause, useful, places: int = 0) -> FirstDraw:
    """Open the tap again after hot water has stood for `pause`; see Run.second_draw."""
    entering, moving, _, wanted = _checked(runs, supply, flow, supply, useful)
    rests = to_base(pause, DURATION)
    if np.ndim(rests):
        raise InputError("pause: give one value, not a list.")
    ways, starts = _steady(runs, entering, moving), []
    for run, arriving, _, delivery in ways:
        profile = np.maximum(along(run.line, arriving, delivery, run.metres, PROFILE), FREEZING)
        starts.append(curve(run.standing(), profile, np.array([0.0, rests]))[1])
    return _draw(ways, entering, moving, starts, wanted, starts[-1][-1], places)


def wait_word(seconds: float) -> str:
    """One word for a wait [s]; inf: the tap never gets there."""
    return NEVER_WARM if np.isinf(seconds) else next(word for most, word in WAIT_WORDS if seconds <= most)


def _checked(runs, supply, flow, start, useful):
    """Supply, flow, start and useful temperature in SI, of shapes that fit together."""
    inside = to_base(supply, SUPPLY), to_base(flow, FLOW), to_base(start, START), to_base(useful, USEFUL)
    broadcast(supply=inside[0], flow=inside[1], start=inside[2], useful=inside[3], run=np.empty(_shape(runs)))
    reachable(useful, supply)
    return inside


def _shape(runs) -> tuple:
    return np.broadcast_shapes(*(run.line.shape for run in runs), *(np.shape(run.metres) for run in runs))


def _steady(runs, supply, flow) -> list:
    """Each leg with the temperature [degC] and volume flow [m3/s] that enter it in steady flow, and its Delivery."""
    mass_flow, ways = flow * water_properties(supply).density, []
    for run in runs:
        leg_flow = mass_flow / water_properties(supply).density
        delivery = run._deliver(supply, leg_flow)
        ways.append((run, supply, leg_flow, delivery))
        supply = delivery.temperature
    return ways


@named_inputs
def waits(runs, supply, flow, start, useful):
    """Only how long first draws take until they are useful [s], shape S; see Run.first_draw. Followed no further than
    that,
    and with half the cells: for many cases at once, within half a percent."""
    entering, moving, begun, wanted = _checked(runs, supply, flow, start, useful)
    starts = [np.stack([begun] * 2) for _ in runs]
    ways = _steady(runs, entering, moving)
    return quantity(_follow(ways, entering, moving, starts, wanted, begun, only_wait=True)[1], "s")


def _follow(ways, supply, flow, starts, useful, at_tap, places: int = 0, only_wait: bool = False):
    """The record of a draw, its wait [s], and m cp [W/K], all in SI; `at_tap` is what stands at the tap [degC]."""
    shape = np.broadcast_shapes(
        *(np.shape(item) for item in (supply, flow, useful)),
        _shape([way[0] for way in ways]),
        *(np.shape(item)[1:] for item in starts),
    )
    entering = water_properties(supply)
    heat_flow = flow * entering.density * entering.heat_capacity
    legs = [leg_of(*way, start, heat_flow) for way, start in zip(ways, starts)]
    delivered = ways[-1][-1].temperature
    record, wait = play(
        legs, np.broadcast_to(supply, shape), np.broadcast_to(at_tap, shape), useful, delivered, only_wait, places
    )
    return record, wait, heat_flow


def play(legs, supply, at_tap, useful, delivered, only_wait: bool, places: int = 0):
    """The record of a draw, and its wait [s] until `useful`. supply, at_tap : of the shape S of all cases

    legs : physics.DrawnLeg; temperatures [degC]; delivered : the steady one at the tap; only_wait : see `waits`
    """
    span = float(np.max(physics.settling_span(legs)))
    near = np.maximum(SETTLED * np.abs(delivered - at_tap), 0.01)
    how = {"end": delivered, "near": near, "places": places}
    # as near to the end as the useful temperature lies; where that lies beyond the end nothing is waited for
    if only_wait:
        how.update(
            near=np.where(delivered >= useful, np.maximum(near, delivered - useful), np.inf), cells=physics.CELLS // 2
        )
    record = physics.draw(legs, supply, at_tap, span, **how)
    wait = physics.wait(record, useful)
    # The last thousandth takes as long as one likes: a useful temperature just below the steady one ends with the
    # record.
    return record, np.where(np.isinf(wait) & (delivered >= useful), record.time[-1], wait)


def _draw(ways, supply, flow, starts, useful, at_tap, places: int) -> FirstDraw:
    """The draw itself, in SI; see _follow."""
    record, wait, heat_flow = _follow(ways, supply, flow, starts, useful, at_tap, places)
    runs, shape = [way[0] for way in ways], wait.shape
    drained, given, stored = physics.at_time(record, np.where(np.isfinite(wait), wait, record.edge[-1]))
    times, temperatures = _on_one_clock(record)
    volume = sum(run.metres * 0.25 * np.pi * run.line.inside_diameter**2 for run in runs)
    return FirstDraw(
        quantity(times, "s"),
        quantity(np.maximum(temperatures, FREEZING), "degC"),
        quantity(wait, "s"),
        quantity(wait * flow * 1000, "L"),
        quantity(np.where(np.isfinite(wait), heat_flow * (drained + given), np.inf) / 3600, "W*hour"),
        quantity(heat_flow * stored / 3600, "W*hour"),
        quantity(np.broadcast_to(volume, shape) * 1000 if shape else volume * 1000, "L"),
        quantity(ways[-1][-1].temperature, "degC"),
        joined(CAUTION, *(run.caution for run in runs)),
        *((quantity(record.edge, "s"), quantity(np.maximum(record.along, FREEZING), "degC")) if places else ()),
    )


def leg_of(run, arriving, flow, delivery, start, heat_flow) -> physics.DrawnLeg:
    """One leg for the physics: of a run, or of anything with its line, metres and wall_density_heat.

    arriving [degC], flow [m3/s], start [degC, (m,) + S], heat_flow m cp [W/K]
    """
    line, length, properties = run.line, run.metres, water_properties(arriving)
    section = line.section
    area = 0.25 * np.pi * section.inside_diameter**2
    per_metre = properties.density * properties.heat_capacity * area  # rho c A [J/(m K)]
    radii = physics.shell_edges(section.inside_diameter, section.outside_diameter)
    middles = [np.sqrt(0.5 * (inner**2 + outer**2)) for inner, outer in zip(radii, radii[1:])]
    film = inside_resistance(section.inside_diameter, properties, flow * properties.density)
    places = [radii[0], *middles]
    resistances = [
        np.log(outer / inner) / (2 * np.pi * section.wall_conductivity) for inner, outer in zip(places, places[1:])
    ]
    resistances[0] = resistances[0] + film
    overall, rest = _overall(line, arriving, delivery, length, heat_flow)
    # What is left of 1/overall lies outside the last shell's middle: the steady draw is then the steady delivery.
    outward = overall / np.maximum(1 - overall * sum(resistances), 1e-6)
    links = (*(1 / (resistance * per_metre) for resistance in resistances), outward / per_metre)
    shares = tuple(
        np.pi * (outer**2 - inner**2) * run.wall_density_heat / per_metre for inner, outer in zip(radii, radii[1:])
    )
    return physics.DrawnLeg(length * area / flow, links, shares, rest, start)


def _overall(line, arriving, delivery, length, heat_flow):
    """The constant loss per kelvin [W/(m K)] that brings `arriving` to the delivered temperature, and rest [degC]."""
    rest = line.rest()
    frozen = np.isfinite(delivery.ice_distance)
    end = np.where(frozen, FREEZING, delivery.temperature)
    distance = np.where(frozen, np.maximum(delivery.ice_distance, 1e-9), length)
    ratio = (end - rest) / np.where(arriving == rest, 1.0, arriving - rest)
    local, _ = line.conductance(arriving, rest)
    moved = (ratio > 0) & (np.abs(arriving - rest) > 0.05)
    return np.where(moved, -heat_flow * np.log(np.where(moved, ratio, 1.0)) / distance, local), rest


def _on_one_clock(record):
    """Times of shape (n,) and temperatures of shape (n,) + S: one case as it is, several on a common clock."""
    shape = record.time.shape[1:]
    if shape == ():
        return record.time, record.temperature
    times = np.linspace(0.0, float(record.time[-1].max()), COMMON_TIMES)
    temperatures = np.empty((COMMON_TIMES,) + shape)
    for case in np.ndindex(shape):
        temperatures[(..., *case)] = np.interp(times, record.time[(..., *case)], record.temperature[(..., *case)])
    return times, temperatures
