"""What to change first: single changes of a layout, each tried, ranked by what they do to one score."""

from dataclasses import dataclass, field, fields, replace

import numpy as np

from ..plant.tank import VALVE_CAUTION
from ..quantities.display import SI, both, show
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import LENGTH, Q_, SUPPLY, USEFUL, to_base
from ..runs.bacteria import RECOMMENDED_STORE, STORE_ADVICE
from ..runs.cautions import joined
from ..runs.insulation import Insulation
from ..runs.pipe import sizes
from ..runs.scald import CAUTION as SCALD_CAUTION
from ..runs.tape import CAUTION as TAPE_CAUTION
from ..runs.tape import Tape
from .parts import BURIED, END, HOURS, INDOORS, PLACES, START, TANK, TAP_FLOW, Valve

# Thicknesses of pipe insulation as sold [mm] (common practice, no source); the first goes on a bare pipe.
THICKNESSES = (13.0, 19.0, 25.0, 32.0, 38.0, 50.0)
USUAL_FOAM, USUAL_TAPE, USUAL_SETTING = "elastomeric foam", Q_(10.0, "W/m"), Q_(42.0, "degC")
LEAST_GAIN = 0.1  # points; what gains less is not worth naming
LONGEST_WAIT = 300.0  # [s] more is not counted
MOST_TAPS = 6  # taps to which the valve is moved on trial
TAP_FLOW_OR_NONE = replace(TAP_FLOW, above_low=False, high=np.inf)
HOW_SCORED = (
    "Points against the layout, 0 is the best; the weights are ours, to compare changes and nothing else. For each tap:"
    " 1 for 10 s of waiting (at most 30), 1 for each kelvin below its useful temperature, 1 for each 5 % of the wanted"
    " flow that it lacks with all taps open, 2 for each kelvin above what codes name for such a tap. For the cold legs,"
    " by their length: 20 times the share of the night's hours for which the water would have to stay above freezing"
    " and does not, with power, and 20 times that without. For the tank: 1 for each kelvin below "
    f"{show(RECOMMENDED_STORE, 'temperature', SI)}. Money and work are not in it."
)


@dataclass(frozen=True, repr=False, eq=False)
class Score(Printed):
    """Points against a layout, 0 or more each; HOW_SCORED explains them."""

    wait: float
    cool: float
    flow: float
    scald: float
    ice: float
    store: float

    @property
    def total(self) -> float:
        return sum(getattr(self, one.name) for one in fields(self))


@dataclass(frozen=True, repr=False, eq=False)
class Change(Printed):
    """One change that was tried.

    words : what is changed; gain : points less; before, after : Score; layout : with the change
    """

    words: str
    gain: float
    before: Score = field(repr=False)
    after: Score = field(repr=False)
    layout: object = field(repr=False)
    caution: str = field(default=joined(HOW_SCORED, SCALD_CAUTION, VALVE_CAUTION, TAPE_CAUTION), repr=False)


def first_changes(layout, count: int = 3) -> tuple:
    """The single changes with the largest gain, the best first; fewer than `count` where fewer help."""
    before, tried = score(layout), []
    for words, changed in single_changes(layout):
        after = score(changed)
        tried.append(Change(words, before.total - after.total, before, after, changed))
    return tuple(sorted((one for one in tried if one.gain >= LEAST_GAIN), key=lambda one: -one.gain)[:count])


def score(layout) -> Score:
    """Points against a layout; see HOW_SCORED."""
    found = layout.assess()
    wait = cool = flow = scald = 0.0
    for tap, reading in zip(layout.taps, found.taps):
        wait += min(float(reading.wait.magnitude), LONGEST_WAIT) / 10
        arrives = float(np.nan_to_num(reading.delivered.magnitude, nan=to_base(layout.cold_inlet, SUPPLY)))
        cool += max(to_base(tap.useful, USEFUL) - arrives, 0.0)
        flow += 20 * max(1 - to_base(reading.flow_with_others, TAP_FLOW_OR_NONE) / to_base(tap.flow, TAP_FLOW), 0.0)
        scald += 2 * max(arrives - reading.limit.magnitude, 0.0)
    return Score(
        wait,
        cool,
        flow,
        scald,
        _ice(layout, found),
        max(RECOMMENDED_STORE.magnitude - to_base(layout.set_temperature, SUPPLY), 0.0),
    )


def _ice(layout, found) -> float:
    """20 times the share of hours missing with power, and 20 times that without, mean over the cold legs by length."""
    lengths = {leg.name: to_base(leg.length, LENGTH) for leg in layout.all_legs}
    kept = {leg.name for leg in layout.all_legs if leg.tape} | {
        leg.name for leg in (layout.loop.legs if layout.loop else ())
    }
    night, cut = (to_base(hours, HOURS) / 3600 for hours in (layout.night.hours, layout.night.without_power))
    missing = total = 0.0
    for leg in found.legs:
        if leg.place == BURIED:
            continue
        needed = cut if leg.leg in kept else night
        short = _short(leg.with_power, night) + _short(leg.without_power, needed)
        missing, total = missing + short * lengths[leg.leg], total + lengths[leg.leg]
    return 20 * missing / total if total else 0.0


def _short(verdict, needed: float) -> float:
    """Share of the needed hours that is missing. needed [h]"""
    return max(1 - verdict.value.magnitude / needed, 0.0) if needed > 0 else 0.0


def single_changes(layout):
    """Every change that can be made by itself: its words, and the layout with it. Changes without sense are left
    out.
    """
    for words, make in (
        *_sizes(layout),
        *_insulations(layout),
        *_gaps(layout),
        *_valves(layout),
        *_tapes(layout),
        *_tank(layout),
    ):
        try:
            changed = make()
            for leg in changed.all_legs:
                changed.pieces_of(leg)
            _ = changed.runs  # worked out here, so that a size without room is refused
        except InputError:  # a size or a thickness that the layout has no room for
            continue
        yield words, changed


def _with_legs(layout, which, **values):
    """The layout with other values in the legs that `which` chooses."""

    def fresh(legs):
        return tuple(replace(leg, **values) if which(leg) else leg for leg in legs)

    loop = layout.loop and replace(layout.loop, hot=fresh(layout.loop.hot), back=fresh(layout.loop.back))
    return replace(layout, legs=fresh(layout.legs), loop=loop)


def _sizes(layout):
    """All legs to the taps of one pipe a size smaller, and a size larger."""
    for family, size in dict.fromkeys((leg.family, leg.size) for leg in layout.legs):
        ladder = [one for one in sizes(family) if " x " not in one or one == size]
        place = ladder.index(size)
        names = {leg.name for leg in layout.legs if (leg.family, leg.size) == (family, size)}
        for step, word in ((-1, "smaller"), (1, "larger")):
            if 0 <= place + step < len(ladder):
                other = ladder[place + step]
                yield (
                    f"one size {word}: {family} {other} instead of {size}",
                    lambda other=other, names=names: _with_legs(layout, lambda leg: leg.name in names, size=other),
                )


def _insulations(layout):
    """The next thickness on the legs of one place that now have the same covering."""
    groups = dict.fromkeys(
        (leg.place, leg.insulation.material, round(leg.insulation.thickness.to("mm").magnitude, 2))
        for leg in layout.all_legs
    )
    for place, material, thickness in groups:
        thicker = next((one for one in THICKNESSES if one > thickness + 0.6), None)
        if thicker is None:
            continue
        bare = thickness == 0
        covering = Insulation(USUAL_FOAM if bare else material, Q_(thicker, "mm"))
        text = (
            f"{'foam' if bare else 'insulation'} of {both(Q_(thicker, 'mm'), 'thickness')} on the"
            f" {'bare ' if bare else ''}legs {_where(place)}"
        )
        now = "" if bare else f" instead of {both(Q_(thickness, 'mm'), 'thickness')}"

        def make(covering=covering, group=(place, material, thickness)):
            return _with_legs(
                layout,
                lambda leg: (
                    (leg.place, leg.insulation.material, round(leg.insulation.thickness.to("mm").magnitude, 2)) == group
                ),
                insulation=covering,
            )

        yield text + now, make


def _gaps(layout):
    """The bare places under the insulation of the legs of one place closed."""
    for place in PLACES:
        legs = [
            leg
            for leg in layout.all_legs
            if leg.place == place and leg.bare_share > 0 and leg.insulation.thickness.magnitude > 0
        ]
        if legs:
            names, most = {leg.name for leg in legs}, 100 * max(leg.bare_share for leg in legs)
            share = f"{'up to ' if len({leg.bare_share for leg in legs}) > 1 else ''}{most:.2g} %"
            yield (
                f"the bare places ({share}) of the legs {_where(place)} closed with insulation",
                lambda names=names: _with_legs(layout, lambda leg: leg.name in names, bare_share=0.0),
            )


def _where(place: str) -> str:
    return {"crawlspace": "in the crawlspace", "buried": "in the ground"}.get(place, place)


def _valves(layout):
    """The mixing valve at the tank, at a tap; set lower where codes ask for it; a valve where there is none."""
    first = [leg.name for leg in layout.legs if leg.start == TANK]
    setting = USUAL_SETTING if layout.valve is None else layout.valve.setting
    moved = "the mixing valve moved" if layout.valve else f"a mixing valve set to {both(setting, 'temperature')}"
    places = [(f"{moved} to the tank's outlet", Valve(setting, first[0], START))] if len(first) == 1 else []
    places += [(f'{moved} to the tap "{tap.name}"', Valve(setting, tap.leg, END)) for tap in layout.taps[:MOST_TAPS]]
    if layout.valve and to_base(layout.valve.setting, SUPPLY) > to_base(USUAL_SETTING, SUPPLY):
        places.append(
            (
                f"the mixing valve set to {both(USUAL_SETTING, 'temperature')}",
                replace(layout.valve, setting=USUAL_SETTING),
            )
        )
    here = layout.valve and (layout.valve.leg, layout.valve.end, to_base(layout.valve.setting, SUPPLY))
    for words, valve in places:
        if (valve.leg, valve.end, to_base(valve.setting, SUPPLY)) != here and to_base(valve.setting, SUPPLY) <= to_base(
            layout.set_temperature, SUPPLY
        ):
            yield words, lambda valve=valve: _reaching(replace(layout, valve=valve))


def _reaching(layout):
    """The layout, or an InputError where a tap wants hotter water than the valve before it gives."""
    for tap, behind in zip(layout.taps, layout.behind_valve):
        if behind and to_base(tap.useful, USEFUL) > to_base(layout.valve.setting, SUPPLY):
            raise InputError(f"{tap.name} wants hotter water than the mixing valve gives.")
    return layout


def _tapes(layout):
    """Heat tape on the cold legs of one place that have none."""
    for place in PLACES:
        names = {leg.name for leg in layout.all_legs if leg.place == place and leg.tape is None}
        if names and place not in (INDOORS, BURIED):
            yield (
                f"heat tape of {USUAL_TAPE:.3g~P} on the legs {_where(place)}",
                lambda names=names: _with_legs(layout, lambda leg: leg.name in names, tape=Tape.constant(USUAL_TAPE)),
            )


def _tank(layout):
    """The tank at what guidance asks."""
    now, store = to_base(layout.set_temperature, SUPPLY), RECOMMENDED_STORE.magnitude
    needed = max(
        [to_base(tap.useful, USEFUL) for tap in layout.taps]
        + ([to_base(layout.valve.setting, SUPPLY)] if layout.valve else [])
    )
    if abs(now - store) > 0.5 and needed <= store:
        yield f"the tank set to {STORE_ADVICE}", lambda: replace(layout, set_temperature=RECOMMENDED_STORE)
