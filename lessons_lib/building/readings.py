"""What a layout's taps give, what its legs do on the night, what tank, valve and loop say."""

from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from ..physics.convection import no_film
from ..physics.properties import water as water_properties
from ..physics.scald import time_to_burn
from ..plant.heat_pump import TEACHING, loop_loss
from ..plant.tank import VALVE_CAUTION
from ..quantities.display import celsius, show, system_of
from ..quantities.results import Printed, Verdict
from ..quantities.units import FLOW, SUPPLY, USEFUL, Quantity, quantity, to_base
from ..runs.assessment import NO_WATER, scald_word, store_word, tap_word
from ..runs.bacteria import CAUTION as STORE_CAUTION
from ..runs.bacteria import STORE_ADVICE
from ..runs.cautions import ICE, joined
from ..runs.first_draw import CAUTION as DRAW_CAUTION
from ..runs.scald import CAUTION as SCALD_CAUTION
from ..runs.scald import code_limit, skin_words
from ..runs.series import Series
from .frost import LegFrost, frost
from .heat import Heat, Way
from .kept import as_written, lately
from .steps import at_once, within
from .water import HOW

TURNED_DOWN = (
    "A tap that gets more than the flow wanted is turned down to it for temperature and wait; flows and pressures are"
    " with taps wide open."
)
LEGS_DONE = 0.3  # share of an assessment that its legs take
LIMIT_ROWS = {
    "sink": "public lavatories",
    "shower": "shower and tub-shower valve",
    "bath": "bath outlet in new dwellings",
}


@dataclass(frozen=True, repr=False, eq=False)
class TapReading(Printed):
    """Holds the reading of one tap.

    delivered, delivered_with_others : steady temperature, alone and with all taps open [degC]
    wait [s], water_drawn [L] : of the first draw, alone, until its useful temperature; inf: never
    flow, flow_with_others [L/min], pressure, pressure_with_others [kPa] : wide open, alone and with all taps open
    unmixed : what arrives where the mixing valve lets hot water through, or where there is none [degC]
    tap : Verdict on `delivered`; scald, scald_unmixed : Verdicts, value: time to a burn [s]
    limit : what codes name for such a tap [degC] (data/code_limits.csv); behind_valve : whether it gets mixed water
    night, nights : name of the worst night for it, and a TapReading for each, where the layout has several and a leg
        to a tap lies outdoors
    """

    name: str
    kind: str
    delivered: Quantity
    delivered_with_others: Quantity
    wait: Quantity
    water_drawn: Quantity
    flow: Quantity
    flow_with_others: Quantity
    pressure: Quantity
    pressure_with_others: Quantity
    unmixed: Quantity
    tap: Verdict
    scald: Verdict
    scald_unmixed: Verdict
    limit: object
    behind_valve: bool
    night: str = ""
    nights: tuple = field(default=(), repr=False)

    @property
    def hottest_night(self) -> "TapReading":
        """Gives the reading of the night on which the water is the hottest; this one where there is one night only."""
        return max((self, *self.nights), key=lambda one: np.nan_to_num(one.unmixed.magnitude, nan=-1.0))


@dataclass(frozen=True, repr=False, eq=False)
class LoopReading(Printed):
    """The loop while it runs, in the layout's night.

    arrives, comes_back : at the tank, and at the heat pump, in steady flow [degC]
    heat : that the flow carries between the two temperatures of the layout [W]; lost : by both lines [W]
    lost_share : of that heat, a plain number
    """

    arrives: Quantity
    comes_back: Quantity
    heat: Quantity
    lost: Quantity
    lost_share: float
    caution: str = TEACHING


@dataclass(frozen=True, repr=False, eq=False)
class LayoutAssessment(Printed):
    """Says what a layout is worth on its night, and on the worst of several.

    taps : tuple of TapReading; legs : tuple of LegFrost, the legs that are not in a heated room
    store : Verdict on the tank's temperature; loop : LoopReading or None
    slowest, hottest : names of taps, None where there is no tap yet; coldest : name of a leg, None where all lie in
        heated rooms
    """

    taps: tuple = field(repr=False)
    legs: tuple = field(repr=False)
    store: Verdict
    loop: LoopReading | None
    slowest: str | None
    hottest: str | None
    coldest: str | None
    caution: str = field(repr=False)

    def _rows(self):
        told = [
            (tap.name, f"{tap.delivered:.3g~P}, {tap.wait:.3g~P}, {tap.flow:.3g~P}: {tap.tap.word}, {tap.scald.word}")
            for tap in self.taps
        ]
        return (
            told
            + [(leg.leg, f"with power {leg.with_power.word}, without {leg.without_power.word}") for leg in self.legs]
            + super()._rows()
        )

    def tap(self, name: str) -> TapReading:
        """The reading of a tap by its name."""
        return next(one for one in self.taps if one.name == name)

    def leg(self, name: str) -> LegFrost:
        """The night of a leg by its name."""
        return next(one for one in self.legs if one.leg == name)


def assess(layout) -> LayoutAssessment:
    """Everything that the layout's nights, tank and main say; see Layout.assess."""
    return at_once(assessing(layout))


def assessing(layout):
    """The same in steps, see steps.py."""
    legs = frost(layout)
    yield LEGS_DONE
    nights, houses = [], _with_other_taps(layout) if layout.taps else ()
    for number, house in enumerate(houses):
        begin, end = (LEGS_DONE + (1 - LEGS_DONE) * place / len(houses) for place in (number, number + 1))
        nights.append((yield from within(begin, end, _taps(house))))
    taps = _worst(houses, nights)
    return LayoutAssessment(
        taps,
        legs,
        _store(layout),
        _loop(layout),
        *_extremes(taps, legs),
        joined(
            SCALD_CAUTION,
            STORE_CAUTION,
            VALVE_CAUTION if layout.valve else "",
            DRAW_CAUTION,
            HOW,
            TURNED_DOWN,
            ICE if legs else "",
            *(leg.caution for leg in legs),
            *(layout.runs[leg.name].caution for leg in layout.legs),
        ),
    )


def _with_other_taps(layout) -> tuple:
    """The layout on each of its nights; itself alone where no night changes what is around the legs to the taps."""
    around = [[leg.surroundings for leg in house.legs] for house in layout.on_nights]
    same = all(one is first for other in around[1:] for one, first in zip(other, around[0]))
    return (layout,) if same else layout.on_nights


def _worst(houses, nights) -> tuple:
    """The reading of each tap on the night that is worst for it; see TapReading. houses : the layout on each night;
    nights : its taps' readings there
    """
    if len(houses) < 2:
        return tuple(*nights)
    named = ([replace(tap, night=house.night.name) for tap in taps] for house, taps in zip(houses, nights))
    return tuple(replace(min(each, key=_how_bad), nights=each) for each in zip(*named))


def _how_bad(tap: TapReading) -> tuple:
    """Orders what several nights do to a tap, the worst first: how grave it is, then how long the wait, then how
    cold.
    """
    arrives = np.nan_to_num(float(tap.delivered.magnitude), nan=-np.inf)
    return -tap.tap.word.gravity, -float(tap.wait.magnitude), arrives


def _taps(layout):
    """The reading of each tap on the layout's own night, in steps; as before where all it depends on is as before."""
    valve = layout.valve and (*as_written(layout.valve.setting), layout.valve.leg, layout.valve.end)
    water = as_written(layout.pressure, layout.cold_inlet, layout.set_temperature)
    return lately((layout.legs, layout.taps, layout.tape_supply, valve, water), _taps_read(layout))


def _taps_read(layout):
    """The same, worked out."""
    heat, network, count = Heat.of(layout), layout.network, len(layout.taps)
    alone, together = network.alone(), network.solve(np.ones(count, dtype=bool))
    used = np.vstack([np.diag(np.minimum(alone, network.wanted)), np.minimum(together.tap_flow, network.wanted)])
    yield 0.2
    rows = np.vstack([used, used[:count]])
    mixed = np.arange(len(rows)) <= count  # the first rows with the valve, then each tap alone as if it had none
    steady = heat.steady(rows, mixed)
    yield 0.5
    at_tap = steady.leaving[:, layout.tap_legs]
    single = np.arange(count)
    readings = _Readings(
        alone,
        together.tap_flow,
        alone**2 * network.holes * 0.5 * network.properties.density,
        together.tap_pressure,
        at_tap[single, single],
        at_tap[count],
        at_tap[single + count + 1, single],
        _ice(layout, heat, heat.steady(rows[:count], mixed[:count], no_film)),
        _waits(layout, heat, steady, used.diagonal()),
    )
    yield 0.8
    return tuple(readings.of(layout, number, used[number, number]) for number in range(count))


def _waits(layout, heat: Heat, steady, flow) -> np.ndarray:
    """Seconds that each tap waits when it alone is open, (taps,).

    A tap behind the valve waits until enough hot water reaches the valve for its setting, and then until mixed water
    reaches
    the tap: two draws, one after the other, a little too long. Where the hot water cannot reach the setting the valve
    is
    wide open, and it is one draw.
    """
    tree, count, cold = layout.tree, len(layout.taps), heat.cold
    ways, owner = [], []
    for number, (tap, leg) in enumerate(zip(layout.taps, layout.tap_legs)):
        if flow[number] <= 0:
            continue
        path, useful, plain = tree.path(leg), max(to_base(tap.useful, USEFUL), cold), number + count + 1
        first = [one for one in path if heat.before[one]] if heat.behind[number] else path
        rest = path[len(first) :]
        hot = steady.leaving[plain, first[-1]] if first else heat.supply
        if rest and hot >= heat.setting:
            stages = [Way(first, plain, heat.supply, heat.setting)] if first else []
            stages.append(Way(rest, number, heat.setting, useful))
        else:
            stages = [Way(path, plain, heat.supply, useful)]
        ways += stages
        owner += [number] * len(stages)
    waits = np.where(flow > 0, 0.0, np.inf)
    np.add.at(waits, np.array(owner, dtype=int), heat.waits(ways, steady, cold))
    return waits


def _ice(layout, heat: Heat, steady) -> np.ndarray:
    """Distance from the tank at which water that flows to a tap alone can reach 0 degC [m], inf: nowhere; (taps,).

    steady : without the water's film, the cold side, as Run.ice_distance has it; a row for each tap alone
    """
    found = np.full(len(layout.taps), np.inf)
    for row, end in enumerate(layout.tap_legs):
        path = layout.tree.path(end)
        distances = np.cumsum([0.0, *heat.length[path[:-1]]]) + steady.ice[row, path]
        found[row] = np.fmin.reduce(distances, initial=np.inf)
    return found


@dataclass(frozen=True, eq=False)
class _Readings:
    """Arrays over the taps in SI floats, from which each tap's reading is made."""

    flow: np.ndarray
    flow_with: np.ndarray
    pressure: np.ndarray
    pressure_with: np.ndarray
    delivered: np.ndarray
    delivered_with: np.ndarray
    unmixed: np.ndarray
    ice: np.ndarray
    wait: np.ndarray

    def of(self, layout, number: int, used: float) -> TapReading:
        """used : flow that the temperature stands for [m3/s]"""
        tap, system = layout.taps[number], system_of(layout.set_temperature)
        return TapReading(
            tap.name,
            tap.kind,
            *(quantity(value[number], "degC") for value in (self.delivered, self.delivered_with)),
            quantity(self.wait[number], "s"),
            quantity(self.wait[number] * used * 1000 if used > 0 else np.inf, "L"),
            *(quantity(value[number] * 60_000, "L/min") for value in (self.flow, self.flow_with)),
            *(quantity(value[number] / 1000, "kPa") for value in (self.pressure, self.pressure_with)),
            quantity(self.unmixed[number], "degC"),
            self._tap(tap, number, system),
            _scald(self.delivered[number], "as the tank and valve are set", system),
            _scald(self.unmixed[number], "where no valve mixes it", system),
            quantity(limit_of(tap.kind), "degC"),
            bool(layout.behind_valve[number]),
        )

    def _tap(self, tap, number: int, system: str) -> Verdict:
        value = self.delivered[number]
        if np.isnan(value):
            return Verdict(quantity(np.nan, "degC"), NO_WATER, "the pressure does not lift water to this tap")
        arrives, wanted = (show(one, "temperature", system) for one in (celsius(value), tap.useful))
        reason = (
            "the water can freeze on its way"
            if np.isfinite(self.ice[number])
            else f"{arrives} arrives, {wanted} is wanted"
        )
        return Verdict(quantity(value, "degC"), tap_word(value, self.ice[number], to_base(tap.useful, USEFUL)), reason)


def limit_of(kind: str) -> float:
    """The temperature that data/code_limits.csv names for a kind of tap [degC]."""
    return code_limit(LIMIT_ROWS[kind])


def _scald(value: float, when: str, system: str) -> Verdict:
    """A verdict on water at a tap [degC]. when : under which condition it comes"""
    if np.isnan(value):
        return Verdict(quantity(np.inf, "s"), NO_WATER, "no water comes")
    seconds, bound, word = _burning(value)
    reason = f"{show(celsius(value), 'temperature', system)} {when}: {skin_words(seconds, bound)}"
    return Verdict(quantity(seconds, "s"), word, reason)


@lru_cache(maxsize=4000)
def _burning(value: float) -> tuple:
    """The shortest time to a burn [s], its bound and its word, of water [degC]: most taps are as before an edit."""
    return *(found.item() for found in time_to_burn(value)[:2]), scald_word(value)


def _store(layout) -> Verdict:
    value = to_base(layout.set_temperature, SUPPLY)
    return Verdict(
        layout.set_temperature,
        store_word(value),
        f"guidance stores at {STORE_ADVICE} or above and tempers at the outlet",
    )


def _loop(layout) -> LoopReading | None:
    loop = layout.loop
    if loop is None or layout.no_length & {leg.name for leg in loop.legs}:
        return None
    hot, back = (Series(tuple(layout.runs[leg.name] for leg in line)) for line in (loop.hot, loop.back))
    arrives, returns = (
        hot.delivery_temperature(loop.leaves_at, loop.flow),
        back.delivery_temperature(loop.comes_back_at, loop.flow),
    )
    leaving, coming = to_base(loop.leaves_at, SUPPLY), to_base(loop.comes_back_at, SUPPLY)
    properties = water_properties(leaving)
    heat = quantity(to_base(loop.flow, FLOW) * properties.density * properties.heat_capacity * (leaving - coming), "W")
    lost = loop_loss(
        [hot.heat_loss(loop.leaves_at, loop.flow), back.heat_loss(loop.comes_back_at, loop.flow)],
        [hot.length, back.length],
        heat,
    )
    return LoopReading(arrives, returns, heat, lost.power, lost.share)


def _heat(tap: TapReading) -> float:
    """Says how hot a tap is on its hottest night [degC]; below any temperature where no water comes."""
    return float(np.nan_to_num(tap.hottest_night.delivered.magnitude, nan=-1.0))


def _extremes(taps, legs) -> tuple:
    """Names of the slowest tap, the hottest tap, and the leg where ice forms first; None where there is none."""
    slowest = max(taps, key=lambda tap: tap.wait.magnitude).name if taps else None
    hottest = max(taps, key=_heat).name if taps else None
    air = [leg for leg in legs if leg.rest is not None]
    coldest = min(air, key=lambda leg: (leg.without_power.value.magnitude, leg.rest.magnitude)).leg if air else None
    return slowest, hottest, coldest
