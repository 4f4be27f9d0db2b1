"""The layout's night: which legs can freeze, with power and without, and what their heat tape needs."""

from dataclasses import dataclass, field, replace

import numpy as np

from ..plant.circuit import Circuit, tape_circuit
from ..quantities.display import EDGE, celsius, ice_words, show, system_of
from ..quantities.results import Printed, Verdict, Word
from ..quantities.units import AIR, HOLD, LENGTH, Q_, START, SUPPLY, Quantity, quantity, to_base
from ..runs.assessment import ICY, NOT_ANSWERED, ON_THE_EDGE, TOO_HOT, settled_word
from ..runs.cautions import ICE, joined
from ..runs.insulation import Insulation
from ..runs.nights import night
from ..runs.run import Run
from ..runs.surroundings import WHY_NOT_BURIED
from ..runs.tape import CAUTION as TAPE_CAUTION
from ..runs.tape import TapePlan, settles_at, switched
from ..runs.weather import Weather
from .kept import kept
from .parts import BURIED, HOURS, Leg

NO_ICE, FREEZES = Word("no ice this night", 0), Word("can freeze", 2)
STEP = Q_(10.0, "min")  # of the night; against 1 min the largest ice share moves by less than 0.01
HOT_TAPE = (
    "With its tape on, {leg} settles at {hottest}: " + TOO_HOT + ". Choose a weaker tape, or a thermostat that switches"
    " it."
)
START_WORDS = "from the cold inlet's temperature, the cautious start"


@dataclass(frozen=True, repr=False, eq=False)
class LegFrost(Printed):
    """Holds what the night does to a leg that is not in a heated room.

    with_power, without_power : Verdicts, value: hours until ice can form in standing water [h], inf: never in the
        model.
        Without power they count from the moment it fails. Word: "no ice this night", "on the edge of freezing",
        "can freeze", "ice with the tape on" (0 h: the tape does not keep the leg, or its bare places), "not answered"
        (buried)
    rest : where the standing water settles without heat, at the coldest place [degC]; None: buried
    lowest_water [degC], ice_share [-] : of the night, with the power off for its last hours; None: buried
    hold_power : heat that holds the covered pipe at the layout's hold temperature [W/m]
    bare_hold_power : the same for the places that are left bare [W/m]; None where there are none. Heat does not run
        along
        a pipe: what the tape gives too much under the insulation does not help a bare place
    kept, bare_kept : where tape keeps the covered pipe and the bare places while it has power [degC]; None: no tape, no
        such place
    tape_word : how warm its hottest place settles on tape, see assessment.settled_word; "" where it has none
    night, nights : name of the worst night, and a LegFrost for each, where the layout has several
    plan, circuit : of its tape, None where it has none; tape_energy : of the night [kW h]
    """

    leg: str
    place: str
    with_power: Verdict
    without_power: Verdict
    rest: Quantity
    lowest_water: Quantity
    ice_share: np.ndarray
    hold_power: Quantity
    bare_hold_power: Quantity | None = None
    kept: object = None
    bare_kept: object = None
    tape_word: str = ""
    plan: TapePlan | None = None
    circuit: Circuit | None = None
    tape_energy: Quantity | None = None
    night: str = ""
    nights: tuple = field(default=(), repr=False)
    caution: str = field(default=ICE, repr=False)

    @property
    def coldest_kept(self):
        """Says where the coldest place of a leg settles while its tape has power [degC]; None: no tape."""
        return self.kept if self.bare_kept is None else min(self.kept, self.bare_kept)

    @property
    def hottest_kept(self):
        """Gives where the hottest place of a leg settles while its tape has power [degC]; None: no tape."""
        return self.kept if self.bare_kept is None else max(self.kept, self.bare_kept)


@dataclass(frozen=True, eq=False)
class _Standing:
    """Holds what is the same for every leg with the same cut, covering, surroundings and tape. Hours; temperatures
    [degC].

    kept : where tape keeps the covered pipe and the bare places, one value or two; empty: no tape
    from_kept : of the place where ice forms first when the power fails: its temperature then, and hours until ice
    """

    hours: float
    rest: float
    lowest: float
    share: float
    kept: tuple
    from_kept: tuple
    energy_per_metre: float  # [kW h/m] of tape


def frost(layout) -> tuple:
    """The worst night of every leg that is not in a heated room, in the order of the layout; see LegFrost."""
    nights = [on_night(house) for house in layout.on_nights]
    if not layout.also:
        return nights[0]
    return tuple(
        replace(min(each, key=_how_bad), nights=each)
        for each in zip(
            *([replace(leg, night=house.night.name) for leg in legs] for house, legs in zip(layout.on_nights, nights))
        )
    )


def _how_bad(leg: LegFrost) -> tuple:
    """Orders what several nights do to a leg, the worst first: how grave it is, then how soon, then how cold."""
    verdicts = leg.with_power, leg.without_power
    hours = (np.inf if one.value is None else float(one.value.magnitude) for one in verdicts)
    rest = np.inf if leg.rest is None else float(leg.rest.magnitude)
    return (*(-one.word.gravity for one in verdicts), *hours, rest)


def on_night(layout) -> tuple:
    """Gives what a layout's first night does to each of its legs that is not in a heated room."""
    looped = {leg.name for leg in layout.loop.legs} if layout.loop else set()
    inlet, system = to_base(layout.cold_inlet, START), system_of(layout.set_temperature)
    pump = to_base(layout.loop.comes_back_at, SUPPLY) if looped else None
    around = inlet, system, pump, layout.night, layout.tape_supply

    def of(leg: Leg) -> LegFrost:
        key = "frost", leg, layout.run_of(leg), leg.name in looped, *around
        return kept(key, lambda: _leg_frost(layout, leg, leg.name in looped, around))

    return tuple(of(leg) for leg in layout.all_legs if leg.cold)


def places_of(run: Run) -> tuple:
    """The covered pipe of a run, and the same pipe bare where a share of it is left bare: Runs of their own."""
    covered = replace(run, bare_share=0.0)
    if not run.bare_share or run.insulation.thickness.magnitude == 0:
        return (covered,)
    return covered, replace(covered, insulation=Insulation.none())


def _leg_frost(layout, leg: Leg, looped: bool, around: tuple) -> LegFrost:
    """The night of one leg. around : what else of the layout it depends on"""
    run, supply = layout.run_of(leg), layout.tape_supply
    holds = tuple(one.hold_power(supply.hold) for one in places_of(run))
    bare_holds = holds[1] if len(holds) > 1 else None
    if leg.place == BURIED:
        told = Verdict(None, NOT_ANSWERED, WHY_NOT_BURIED.format(what="the freezing"))
        return LegFrost(leg.name, leg.place, told, told, None, None, None, holds[0], bare_holds)
    same = leg.family, leg.size, leg.insulation, leg.surroundings, leg.bare_share, leg.tape and leg.tape.points
    found = kept(("standing", *same, looped, *around), lambda: _stand(layout, leg, looped))
    tape_plan = circuit = energy = None
    if leg.tape is not None:
        tape_plan = layout.tape_plan(leg)
        circuit = tape_circuit(
            tape_plan.given, tape_plan.tape_length, supply.voltage, supply.breaker, region=supply.region
        )
        energy = quantity(found.energy_per_metre * to_base(tape_plan.tape_length, LENGTH) / tape_plan.tapes, "kW*hour")
    held = (*(quantity(value, "degC") for value in found.kept), None, None)
    word = settled_word(max(found.kept), leg.pipe.material) if found.kept else ""
    hottest = show(celsius(max(found.kept)), "temperature", system_of(layout.set_temperature)) if found.kept else ""
    too_hot = HOT_TAPE.format(leg=leg.name, hottest=hottest) if word == TOO_HOT else ""
    return LegFrost(
        leg.name,
        leg.place,
        _with_power(layout, looped, found),
        _without_power(layout, leg, looped, found),
        quantity(found.rest, "degC"),
        quantity(found.lowest, "degC"),
        found.share,
        holds[0],
        bare_holds,
        *held[:2],
        word,
        tape_plan,
        circuit,
        energy,
        caution=joined(ICE, too_hot, TAPE_CAUTION if leg.tape else "", run.caution),
    )


def _stand(layout, leg: Leg, looped: bool) -> _Standing:
    """Standing water in a leg's cut, through the night and from a power cut on."""
    run, spec = layout.run_of(leg), layout.night
    inlet, around = to_base(layout.cold_inlet, START), leg.surroundings
    hours, cut = (to_base(value, HOURS) / 3600 for value in (spec.hours, spec.without_power))
    freezing, places = run.freezing(quantity(inlet, "degC")), places_of(run)
    mean, kept = (None, ()) if leg.tape is None else _kept(layout, leg, places)
    starts = tuple(inlet if looped else max(value, 0.0) for value in kept)
    falls = (
        (start, float(one.freezing(quantity(start, "degC")).hours_to_zero.magnitude))
        for one, start in zip(places, starts)
    )
    weather = Weather(Q_(np.array([0.0, hours]), "hour"), Q_(np.full(2, to_base(around.air, AIR)), "degC"), around.wind)
    off = (quantity(hours - cut, "hour"), quantity(hours + 1, "hour")) if cut > 0 else None
    pump = layout.loop.comes_back_at if looped else None
    found = night(run, weather, layout.cold_inlet, mean, pump=pump, off=off, step=STEP)
    shares = (1 - leg.bare_share, leg.bare_share) if len(places) > 1 else (1.0,)
    watts = sum(share * float(mean.available(value)) for share, value in zip(shares, kept))
    return _Standing(
        float(freezing.hours_to_zero.magnitude),
        float(freezing.rest.magnitude),
        float(found.lowest_water.magnitude),
        float(found.largest_ice_share),
        kept,
        min(falls, key=lambda one: one[1], default=()),
        watts * (hours - cut) / 1000,
    )


def _kept(layout, leg: Leg, places: tuple) -> tuple:
    """The tape's mean output, and where it keeps the covered pipe and the bare places while it has power [degC].

    A tape of which the thermostat is not known is taken as switched at the layout's hold temperature, the cautious
    side.
    """
    at = layout.tape_supply.thermostat
    if at is None:
        return leg.tape, tuple(float(settles_at(one, leg.tape).magnitude) for one in places)
    mean, _, kept = switched(places[0], places[-1], leg.tape, to_base(at, HOLD))
    return mean, kept[: len(places)]


def _with_power(layout, looped: bool, found: _Standing) -> Verdict:
    """Judges the leg while there is power: tape keeps what it can, the loop circulates, all other water stands."""
    if looped:
        return Verdict(quantity(np.inf, "hour"), NO_ICE, "while the circulator runs the loop's water does not stand")
    if not found.kept:
        return _verdict(found.hours, found.rest, layout.night.hours, START_WORDS)
    coldest = min(found.kept)
    which = "the bare places settle" if coldest < found.kept[0] else "the pipe settles"
    reason = f"with the tape on {which} at {show(celsius(coldest), 'temperature', system_of(layout.set_temperature))}"
    if coldest <= 0:
        return Verdict(quantity(0.0, "hour"), ICY, reason)
    return Verdict(quantity(np.inf, "hour"), ON_THE_EDGE if coldest < EDGE else NO_ICE, reason)


def _without_power(layout, leg: Leg, looped: bool, found: _Standing) -> Verdict:
    """Judges the leg from the moment that the power fails; a leg that power does not keep must last the whole night in
    any case.
    """
    if leg.tape is None:
        return _verdict(
            found.hours, found.rest, layout.night.without_power if looped else layout.night.hours, START_WORDS
        )
    at, hours = found.from_kept
    start = (
        START_WORDS
        if looped
        else f"from {show(celsius(at), 'temperature', system_of(layout.set_temperature))}, where the tape leaves it"
    )
    return _verdict(hours, found.rest, layout.night.without_power, start)


def _verdict(hours: float, rest: float, lasts, start: str) -> Verdict:
    """hours until ice, where the water settles [degC], how long it must last."""
    word = (
        FREEZES if hours <= to_base(lasts, HOURS) / 3600 else ON_THE_EDGE if np.isinf(hours) and rest < EDGE else NO_ICE
    )
    return Verdict(quantity(hours, "hour"), word, f"standing still {start}: {ice_words(hours, rest)}")
