"""Frosty nights and power cuts, seasons, and the trickle that keeps a run open."""

from dataclasses import dataclass

import numpy as np

from ..physics import night as physics
from ..physics.delivery import flow_that_keeps
from ..physics.heat_loss import Air
from ..physics.line import Line
from ..quantities.border import of_kind
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import HOLD, Q_, START, SUPPLY, TARGET, WATER, Domain, Quantity, broadcast, quantity, to_base
from .cautions import ICE, SLOW_WATER, joined
from .common_values import HELD_AT
from .run import Run
from .tape import CAUTION as TAPE_CAUTION
from .tape import Tape
from .weather import TIME, Weather

STEP = Domain("time step", "s", 1, 3600, 'Q_(1, "min")')
MOMENT = Domain("interval without power", "s", 0, 3.2e7, '(Q_(6, "h"), Q_(9, "h"))')
TRICKLE = (1e-7, 1e-2)  # [m3/s] between which a trickle is named


@dataclass(frozen=True, repr=False, eq=False)
class Night(Printed):
    """Standing water through the weather.

    time [h], (n,); water [degC] (below 0: solid ice), ice_share of the bore [-], tape_power [W/m], (n,) + S
    lowest_water [degC], largest_ice_share [-], ice_after [h] (inf: never), tape_energy [kW h] of the whole run: shape S
    """

    time: Quantity
    water: Quantity
    ice_share: np.ndarray
    tape_power: Quantity
    lowest_water: Quantity
    largest_ice_share: float | np.ndarray
    ice_after: Quantity
    tape_energy: Quantity
    caution: str = ICE


def night(run, weather: Weather, start, tape: Tape | None = None, pump=None, off=None, step=Q_(1.0, "min")) -> Night:
    """Water that stands in a run, hour by hour; it may freeze and thaw. The weather replaces the run's surroundings.

    start : temperature of the water when the weather begins; the cold inlet's is cautious
    tape : Tape, or None; checked against the run's pipe
    pump : temperature at which circulating water keeps the run while it has power; None: it stands
    off : (from, to), an interval without power: tape and pump stop together
    step : of time; the answer changes little below a few minutes
    Where a share of the run is bare, that part is followed: frost starts at the gap.
    Raises InputError: a buried run, wrong kinds, a tape that the pipe forbids.
    """
    of_kind("night", run, Run)
    if run.buried:
        raise InputError(
            "night: this run is buried (Ground); soil follows the weather by days, not by hours. Use Surroundings."
        )
    for value, kind in ((weather, Weather), (tape, Tape | None)):
        if not isinstance(value, kind):
            raise InputError(f"night: {value!r} was given where {getattr(kind, '__name__', 'Tape or None')} is needed.")
    begin, every = to_base(start, START), to_base(step, STEP)
    kept = None if pump is None else to_base(pump, WATER)
    broadcast(start=begin, pump=0.0 if kept is None else kept, run=np.empty(run.line.shape))
    if tape is not None:
        tape.check(run.pipe, float(np.max(begin if kept is None else np.maximum(begin, kept))))
    seconds, loss, lump = _losses(run, weather, every, tape is not None)
    record = physics.march(
        loss,
        lump,
        begin,
        every,
        tape=tape and tape.available,
        thermostat=np.inf if tape is None or tape.thermostat is None else to_base(tape.thermostat, HOLD),
        powered=_powered(seconds, off),
        pump=kept,
    )
    energy = record.tape_power[:-1].sum(axis=0) * every * run.metres
    return Night(
        quantity(seconds / 3600, "h"),
        quantity(record.temperature, "degC"),
        record.ice_share,
        quantity(record.tape_power, "W/m"),
        quantity(record.temperature.min(axis=0), "degC"),
        record.ice_share.max(axis=0),
        quantity((seconds[0] + record.first_ice) / 3600, "h"),
        quantity(energy / 3.6e6, "kW*hour"),
        joined(ICE, "" if tape is None else TAPE_CAUTION, run.caution),
    )


def _losses(run, weather: Weather, every: float, taped: bool):
    """Times of the steps [s], losses at them, and what a metre holds: worked out at the weather's own rows, straight
    between them.

    The heat that counts is that of the row in which the wall gives up least: the cautious side.
    """
    rows = to_base(weather.time, TIME)
    seconds = np.arange(rows[0], rows[-1] + 0.5 * every, every)
    if len(seconds) < 2:
        lasts = (rows[-1] - rows[0]) / 60
        raise InputError(
            f"time step: {every / 60:g} min was given, and the weather lasts {lasts:g} min. Give a step that is shorter"
            " than the weather."
        )
    known = rows if np.median(np.diff(rows)) >= every else seconds
    column, air = _air_at(weather, known, run)
    line = Line(run.line.alone()[-1].parts, air)
    table = physics.tabulate(Line(((1.0, run.without_wall().parts[-1][1]),), air) if taped else line)
    place = np.minimum(np.searchsorted(known, seconds, side="right") - 1, len(known) - 2)
    share = np.minimum((seconds - known[place]) / (known[place + 1] - known[place]), 1.0).reshape(column)
    low, high = (physics.Loss(table.conductance[:, place + one], table.rest[place + one]) for one in (0, 1))
    lump = physics.capacities(line, run.wall_density_heat)
    lump = lump._replace(liquid=lump.liquid.min(axis=0), solid=lump.solid.min(axis=0))
    return seconds, physics.Loss(*(a + share * (b - a) for a, b in zip(low, high))), lump


def _air_at(weather: Weather, seconds, run):
    """The shape of a column of times beside the run's own lists, and the air at those times in it."""
    column = (-1,) + (1,) * len(run.line.shape)
    return column, Air(*(value.reshape(column) for value in weather.at(seconds)))


def _powered(seconds, off):
    """Says which steps have power."""
    if off is None:
        return None
    try:
        begin, end = off
    except (TypeError, ValueError):
        raise InputError('off: give an interval, for example (Q_(6, "h"), Q_(9, "h")).') from None
    begin, end = to_base(begin, MOMENT), to_base(end, MOMENT)
    if end <= begin:
        raise InputError(f"off: the interval ends at {off[1]}, which is not after {off[0]}.")
    return (seconds < begin) | (seconds >= end)


def season_energy(run, weather: Weather, hold=HELD_AT):
    """Heat that holds a run at `hold` through a season of weather [kW h]: hour by hour, nothing where it is warmer.

    The least that a tape with a thermostat at `hold` uses; see Run.hold_power.
    """
    of_kind("season energy", run, Run)
    of_kind("season energy", weather, Weather)
    rows = to_base(weather.time, TIME)
    column, air = _air_at(weather, rows, run)
    power = np.maximum(Line(run.without_wall().parts, air).loss(to_base(hold, HOLD))[0], 0.0)
    lasts = np.gradient(rows).reshape(column)
    lasts[[0, -1]] *= 0.5
    return quantity((power * lasts).sum(axis=0) * run.metres / 3.6e6, "kW*hour")


def trickle(run, supply, keep=HELD_AT):
    """The smallest flow that keeps the far end of a run above `keep` [L/min]; inf where 600 L/min cannot.

    supply : temperature of the water that enters; it must be above `keep`
    The run's surroundings hold steadily. The film of slow water is left out, for buoyancy thins it by an amount that no
    formula here vouches for: the flow comes out large, the cautious side. The least that is named is 0.006 L/min.
    The quantity carries its `caution`. Raises InputError.
    """
    of_kind("trickle", run, Run)
    entering, wanted, length = to_base(supply, SUPPLY), to_base(keep, TARGET), run.metres
    if np.any(wanted >= entering):
        raise InputError(
            f"trickle: the water enters at {supply} and cannot keep {keep} at the far end. Lower the wish."
        )
    flow = flow_that_keeps(run.line, entering, wanted, length)
    least = quantity(np.where(flow > TRICKLE[1], np.inf, np.maximum(flow, TRICKLE[0])) * 60_000, "L/min")
    least.caution = joined(SLOW_WATER, ICE, run.caution)
    return least
