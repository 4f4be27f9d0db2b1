"""What to change first: changes of a layout, tried alone and the best in pairs, ranked by what they do to a score."""

from dataclasses import dataclass, field, fields, replace
from itertools import combinations
from typing import NamedTuple

import numpy as np

from ..plant.tank import VALVE_CAUTION
from ..quantities.display import both
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
from .frost import on_night
from .parts import BURIED, END, HOURS, INDOORS, PLACES, START, TANK, TAP_FLOW, Valve
from .words import legs_words

# Thicknesses of pipe insulation as sold [mm] (common practice, no source); the first goes on a bare pipe.
THICKNESSES = (13.0, 19.0, 25.0, 32.0, 38.0, 50.0)
USUAL_FOAM, USUAL_TAPE, USUAL_SETTING = "elastomeric foam", Q_(10.0, "W/m"), Q_(42.0, "degC")
LEAST_GAIN = 0.1  # points; what gains less is not worth naming
LONGEST_WAIT = 300.0  # [s] more is not counted
MOST_TAPS = 6  # taps to which the valve is moved on trial
CHANGES_SHOWN = 5, 3  # on panel and sheet: so many changes, so many pairs
MOST_PAIRED = 6  # changes, the best alone, of which every two are tried together
TAP_FLOW_OR_NONE = replace(TAP_FLOW, above_low=False, high=np.inf)
HOW_SCORED = (
    "How a change is scored: every fault of the building costs points, and 0 points is the best. Each tap costs 1 point"
    " for every 10 s that it waits, but at most 30. It costs 1 point for each kelvin (1.8 °F) that the water is too"
    " cool, and 2 for each that it is hotter than codes name for such a tap. It costs 1 point for every 5 % of its flow"
    " that is missing while all taps are open."
    " In the worst night the cold legs cost up to 20 points for ice while there is power and up to"
    " 20 for ice when power fails: the share of the hours for which the water should stay above freezing and does not."
    f" The tank costs 1 point for each kelvin below {STORE_ADVICE}. We chose these weights to compare the changes of"
    " one building, and for nothing else. Money and work are not in them."
)
SCORED_IN_SHORT = (
    "Points less: what a change takes off the points that the building costs for waiting, cool water, scalds, little"
    " flow, ice and a cool tank. 0 is the best. The weights are ours. Money and work are not in them."
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
    """One change that was tried, or two together.

    words : what is changed and where; gain : points less; before, after : Score; layout : with the change
    alone : () for one change; of two together, the Change that each is by itself
    """

    words: str
    gain: float
    before: Score = field(repr=False)
    after: Score = field(repr=False)
    layout: object = field(repr=False)
    alone: tuple = field(default=(), repr=False)
    caution: str = field(default=joined(HOW_SCORED, SCALD_CAUTION, VALVE_CAUTION, TAPE_CAUTION), repr=False)


class Idea(NamedTuple):
    """One kind of change, which can be made at several places.

    what : in words; spots : words of each place → function that makes the change there, layout → layout
    at_once : True: at several places at once, like foam; False: at one of them, like the only mixing valve
    subject : two ideas about the same subject exclude each other
    """

    what: str
    spots: dict
    at_once: bool
    subject: tuple


class Tried(NamedTuple):
    """Holds how far the trying is. share : of all trials, 0 to 1; best : the best Changes so far, then the pairs"""

    share: float
    best: tuple


def first_changes(layout, count: int = 3, pairs: int = 0) -> tuple:
    """The changes with the largest gain, the best first; fewer than `count` where fewer help. Then so many pairs."""
    *_, last = trying(layout, count, pairs)
    return last.best


def trying(layout, count: int = 3, pairs: int = 0):
    """Yields a Tried after each trial, so that a caller can show how far it is, and stop.

    One idea is one change: tried at each of its places and, where it helps at several, at all of these at once.
    """
    before, ideas, ranked, found = score(layout), list(all_ideas(layout)), [], []
    several = sum(1 for idea in ideas if idea.at_once and len(idea.spots) > 1)
    mates = min(len(ideas), MOST_PAIRED) if pairs else 0
    whole, done = sum(len(idea.spots) for idea in ideas) + several + mates * (mates - 1) // 2, 0

    def best() -> tuple:
        return _best((change for change, *_ in ranked), count) + _best(found, pairs)

    yield Tried(0.0, ())
    for idea in ideas:
        single = {}
        for spot, make in idea.spots.items():
            single[spot] = _tried(layout, before, make)
            done += 1
            yield Tried(done / whole, best())
        ranked += _of_idea(layout, before, idea, {spot: after for spot, after in single.items() if after})
        done += idea.at_once and len(idea.spots) > 1
    ranked.sort(key=lambda one: -one[0].gain)
    for one, two in combinations(ranked[:mates], 2):
        found += _pair(layout, before, one, two)
        done += 1
        yield Tried(done / whole, best())
    yield Tried(1.0, best())


def _best(changes, count: int) -> tuple:
    """The changes that are worth naming, the best first."""
    return tuple(sorted((one for one in changes if one.gain >= LEAST_GAIN), key=lambda one: -one.gain)[:count])


def _tried(layout, before: Score, make):
    """The Score and the layout with a change; None where the layout has no room for it."""
    try:
        changed = make(layout)
        if layout.also:
            changed = replace(changed, also=tuple(map(make, layout.also)))
        for leg in changed.all_legs:
            changed.pieces_of(leg)
        return score(changed), changed
    except InputError:
        return None


def _of_idea(layout, before: Score, idea: Idea, single: dict) -> list:
    """An idea as one Change with its function and subject: at its best place, or at all that help; [] where nothing
    could be made.

    single : words of a place → (Score, layout) with the idea there alone
    """
    if not single:
        return []
    order = sorted(single, key=lambda spot: single[spot][0].total)
    helping = [spot for spot in idea.spots if spot in single and before.total - single[spot][0].total >= LEAST_GAIN]
    chosen, tried, also = order[:1], single[order[0]], ""
    if len(helping) > 1 and idea.at_once:
        together = _tried(layout, before, lambda one: _all_made(one, idea, helping))
        if together and together[0].total < tried[0].total:
            chosen, tried = helping, together
    elif len(helping) > 1:
        also = f"; it helps less {', '.join(order[1 : len(helping)])}"
    where = chosen[0] if len(chosen) == 1 else f"in {len(chosen)} places: {'; '.join(chosen)}"
    after, changed = tried
    words = f"{idea.what} {where}".strip() + also
    made = Change(words, before.total - after.total, before, after, changed)
    return [(made, lambda one: _all_made(one, idea, chosen), idea.subject)]


def _all_made(layout, idea: Idea, spots):
    """The layout with an idea at several of its places."""
    for spot in spots:
        layout = idea.spots[spot](layout)
    return layout


def _pair(layout, before: Score, one, two) -> list:
    """Two changes together as one Change; [] where they exclude each other or do no more than one of them alone."""
    (first, make, about), (second, make_too, about_too) = one, two
    tried = None if about == about_too else _tried(layout, before, lambda house: make_too(make(house)))
    if tried is None:
        return []
    after, changed = tried
    gain = before.total - after.total
    if gain < max(first.gain, second.gain) + LEAST_GAIN:
        return []
    return [Change(f"{first.words}, and {second.words}", gain, before, after, changed, (first, second))]


def score(layout) -> Score:
    """Points against a layout; see HOW_SCORED."""
    found = layout.assess()
    wait = cool = flow = scald = 0.0
    for tap, reading in zip(layout.taps, found.taps):
        wait += min(float(reading.wait.magnitude), LONGEST_WAIT) / 10
        cold = to_base(layout.cold_inlet, SUPPLY)
        arrives, hottest = (
            float(np.nan_to_num(one.delivered.magnitude, nan=cold)) for one in (reading, reading.hottest_night)
        )
        cool += max(to_base(tap.useful, USEFUL) - arrives, 0.0)
        flow += 20 * max(1 - to_base(reading.flow_with_others, TAP_FLOW_OR_NONE) / to_base(tap.flow, TAP_FLOW), 0.0)
        scald += 2 * max(hottest - reading.limit.magnitude, 0.0)
    return Score(
        wait,
        cool,
        flow,
        scald,
        max(map(_ice, layout.on_nights)),
        max(RECOMMENDED_STORE.magnitude - to_base(layout.set_temperature, SUPPLY), 0.0),
    )


def _ice(layout) -> float:
    """Gives for one night 20 times the share of hours missing with power, and 20 times that without: the mean over the
    cold legs by length.
    """
    lengths = {leg.name: to_base(leg.length, LENGTH) for leg in layout.all_legs}
    kept = {leg.name for leg in layout.all_legs if leg.tape} | {
        leg.name for leg in (layout.loop.legs if layout.loop else ())
    }
    night, cut = (to_base(hours, HOURS) / 3600 for hours in (layout.night.hours, layout.night.without_power))
    missing = total = 0.0
    for leg in on_night(layout):
        if leg.place == BURIED:
            continue
        needed = cut if leg.leg in kept else night
        short = _short(leg.with_power, night) + _short(leg.without_power, needed)
        missing, total = missing + short * lengths[leg.leg], total + lengths[leg.leg]
    return 20 * missing / total if total else 0.0


def _short(verdict, needed: float) -> float:
    """Share of the needed hours that is missing. needed [h]"""
    return max(1 - verdict.value.magnitude / needed, 0.0) if needed > 0 else 0.0


def all_ideas(layout):
    """Every Idea that has sense in this layout."""
    numbers = {leg.name: number for number, leg in enumerate(layout.all_legs, 1)}

    def at(names, place: str = "") -> str:
        where = {"crawlspace": " in the crawlspace", BURIED: " in the ground", "": ""}.get(place, f" {place}")
        return f"on {legs_words(numbers[leg.name] for leg in layout.all_legs if leg.name in names)}{where}"

    yield from _sizes(layout, at)
    yield from _insulations(layout, at)
    yield from _gaps(layout, at)
    yield from _valves(layout)
    yield from _tapes(layout, at)
    yield from _tank(layout)


def _with_legs(names: frozenset, **values):
    """Gives the function that puts other values into the legs of these names, layout → layout."""

    def fresh(legs):
        return tuple(replace(leg, **values) if leg.name in names else leg for leg in legs)

    def make(layout):
        loop = layout.loop and replace(layout.loop, hot=fresh(layout.loop.hot), back=fresh(layout.loop.back))
        return replace(layout, legs=fresh(layout.legs), loop=loop)

    return make


def _sizes(layout, at):
    """All legs to the taps of one pipe a size smaller, and a size larger."""
    for family, size in dict.fromkeys((leg.family, leg.size) for leg in layout.legs):
        ladder = [one for one in sizes(family) if " x " not in one or one == size]
        place = ladder.index(size)
        names = frozenset(leg.name for leg in layout.legs if (leg.family, leg.size) == (family, size))
        for step, word in ((-1, "smaller"), (1, "larger")):
            if 0 <= place + step < len(ladder):
                other = ladder[place + step]
                yield Idea(
                    f"one size {word}: {family} {other} instead of {size}",
                    {at(names): _with_legs(names, size=other)},
                    True,
                    (family, size),
                )


def _insulations(layout, at):
    """The next thickness, on the legs of each place that now have the same covering."""
    groups: dict = {}
    for leg in layout.all_legs:
        covering = leg.insulation.material, round(leg.insulation.thickness.to("mm").magnitude, 2)
        groups.setdefault((leg.place, *covering), set()).add(leg.name)
    ideas: dict = {}
    for (place, material, thickness), names in groups.items():
        thicker = next((one for one in THICKNESSES if one > thickness + 0.6), None)
        if thicker is not None:
            covering = Insulation(material if thickness else USUAL_FOAM, Q_(thicker, "mm"))
            now = f"instead of {both(Q_(thickness, 'mm'), 'thickness')}" if thickness else "where the pipe is bare"
            spots = ideas.setdefault((covering.material, thicker), {})
            spots[f"{at(names, place)} {now}"] = _with_legs(frozenset(names), insulation=covering)
    for (material, thicker), spots in ideas.items():
        yield Idea(f"{material} of {both(Q_(thicker, 'mm'), 'thickness')}", spots, True, ("insulation", thicker))


def _gaps(layout, at):
    """The bare places under the insulation closed, in each place."""
    spots = {}
    for place in PLACES:
        legs = [
            leg
            for leg in layout.all_legs
            if leg.place == place and leg.bare_share > 0 and leg.insulation.thickness.magnitude > 0
        ]
        if legs:
            names, shares = frozenset(leg.name for leg in legs), sorted({100 * leg.bare_share for leg in legs})
            share = f"{'up to ' if len(shares) > 1 else ''}{shares[-1]:.2g} % of the length"
            spots[f"{at(names, place)}, {share}"] = _with_legs(names, bare_share=0.0)
    if spots:
        yield Idea("the bare places closed with insulation", spots, True, ("gaps",))


def _valves(layout):
    """The mixing valve at the tank, at a tap; set lower where codes ask for it; a valve where there is none."""
    valve, supply = layout.valve, to_base(layout.set_temperature, SUPPLY)
    setting = USUAL_SETTING if valve is None else valve.setting
    first = [leg.name for leg in layout.legs if leg.start == TANK]
    places = {"at the tank's outlet": (first[0], START)} if len(first) == 1 else {}
    places |= {f'at the tap "{tap.name}"': (tap.leg, END) for tap in layout.taps[:MOST_TAPS]}
    here = valve and (valve.leg, valve.end)
    spots = {words: _with_valve(*place, setting) for words, place in places.items() if place != here}
    if to_base(setting, SUPPLY) <= supply:
        moved = "the mixing valve moved, to sit" if valve else f"a mixing valve set to {both(setting, 'temperature')}"
        yield Idea(moved, spots, False, ("valve",))
    if valve and to_base(valve.setting, SUPPLY) > to_base(USUAL_SETTING, SUPPLY):
        lower = {"": lambda house: _reaching(replace(house, valve=replace(house.valve, setting=USUAL_SETTING)))}
        yield Idea(f"the mixing valve set to {both(USUAL_SETTING, 'temperature')}", lower, False, ("setting",))


def _with_valve(leg: str, end: str, setting):
    """Gives the function that puts the mixing valve there, layout → layout; one that is there keeps its setting."""
    return lambda layout: _reaching(
        replace(layout, valve=Valve(layout.valve.setting if layout.valve else setting, leg, end))
    )


def _reaching(layout):
    """The layout, or an InputError where a tap wants hotter water than the valve before it gives."""
    for tap, behind in zip(layout.taps, layout.behind_valve):
        if behind and to_base(tap.useful, USEFUL) > to_base(layout.valve.setting, SUPPLY):
            raise InputError(f"{tap.name} wants hotter water than the mixing valve gives.")
    return layout


def _tapes(layout, at):
    """Heat tape on the cold legs of each place that have none."""
    spots = {}
    for place in PLACES:
        names = frozenset(leg.name for leg in layout.all_legs if leg.place == place and leg.tape is None)
        if names and place not in (INDOORS, BURIED):
            spots[at(names, place)] = _with_legs(names, tape=Tape.constant(USUAL_TAPE))
    if spots:
        yield Idea(f"heat tape of {both(USUAL_TAPE, 'tape power')}", spots, True, ("tape",))


def _tank(layout):
    """The tank at what guidance asks."""
    now, store = to_base(layout.set_temperature, SUPPLY), RECOMMENDED_STORE.magnitude
    needed = max(
        [to_base(tap.useful, USEFUL) for tap in layout.taps]
        + ([to_base(layout.valve.setting, SUPPLY)] if layout.valve else [])
    )
    if abs(now - store) > 0.5 and needed <= store:
        asked = {"": lambda house: replace(house, set_temperature=RECOMMENDED_STORE)}
        yield Idea(f"the tank set to {STORE_ADVICE}", asked, False, ("tank",))
