"""The words of lesson 07 whose numbers the library works out: its guess, its questions, its calculation by hand."""

from dataclasses import replace

import numpy as np

from ..display import both, celsius, duration, percent_off, show
from ..figures.freeze_picture import NIGHT
from ..insulation import NONE
from ..nights import trickle
from ..panels.controls import Slide
from ..panels.freeze import HEAT_TAPE, TAPE, calculate, run_of, settings
from ..panels.guess import Guess
from ..panels.pages import Answer, Told
from ..panels.usual import tern_bank_runs
from ..physics.properties import water as water_at
from ..surroundings import Surroundings
from ..units import Q_

CABIN, LOOP, CLEAR = "Cabin across the yard, frosty night", "Loop, hot line to the tank", "Cabin on a still, clear night"
STEADY = {"swing": Q_(0.0, "delta_degC")}
AS_ICE = 0.917  # share of its water that fills a bore as ice: ice takes more room
KEEP = Q_(4.0, "degC")  # at the far end of a trickling run (common practice, no source)


def _night(title: str, **changes):
    """Ready-made settings, with some of them changed, as the panel shows them."""
    return calculate({**settings()[title], **changes})


def _time(hours: float) -> str:
    return duration(3600 * hours)


def _warmest_air():
    """The warmest steady air in which the cabin's run can have ice by dawn under a clear sky."""
    state = settings()[CLEAR]
    air = np.arange(-5.0, 12.0, 0.1)
    sky = Surroundings(Q_(air, "degC"), radiant=Q_(air - state["sky"].to("delta_degC").magnitude, "degC"))
    hours = replace(run_of(state), surroundings=sky).freezing(state["cold"]).hours_to_zero.magnitude
    return Q_(float(air[hours < NIGHT].max()), "degC")


def guess() -> Guess:
    """How cold must the air be on a clear, still night?"""

    def question(system: str) -> str:
        state = settings()[CLEAR]
        sky, cold = show(state["sky"], "temperature difference", system), show(state["cold"], "temperature", system)
        return (
            f"A still, clear night at Tern Bank (an invented training yard). In the cabin's foamed run water has stood at {cold}. "
            f"The pipe hangs on a wall and sees half of the sky: what it radiates to is {sky} colder than the air. "
            "How cold must the air be for ice to form by dawn?"
        )

    slide = Slide("My guess", "temperature", celsius(-4.0), (-15, 10, 1), (5, 50, 1), "what you expect")
    return Guess("07", question, slide, _warmest_air)


def bare_valve() -> Answer:
    """The mistake of the lesson before: a small bare share counted as small."""
    covered, bare = _night(CABIN), _night(CABIN, insulation=NONE)
    return Answer(
        f"1. On its frosty night the cabin's run, all under foam, can have ice after {_time(covered.ice_after)}. "
        "Now one valve of its 18 m (59 ft) is left bare. When can ice close the run?",
        {
            "a little sooner": "You shared the cold among all metres. Does standing water in the bare valve get heat from water far along the pipe?",
            "at the same time, most of it is covered": "You looked at the average. How many places must freeze before nothing flows?",
        },
        f"Ice can start in the valve after {_time(bare.ice_after)}. Standing water does not mix along the run, so the bare spot freezes "
        "as if the whole run were bare, and one plug is enough.",
    )


def tape_and_power() -> Answer:
    """Tape stores no heat."""
    found = _night(LOOP, keeps=TAPE)
    return Answer(
        f"2. Heat tape with its thermostat at {both(HEAT_TAPE.thermostat, 'temperature')} keeps the loop's hot line open. "
        f"{_time(found.fails)} after dusk the power fails. How long does the pipe hold?",
        {
            "till morning": "You thought that tape fills the pipe with heat. How warm is the water when the power goes?",
            "as long as if it had just been used": "Just-used water starts hot. Where does the thermostat let this water start?",
        },
        f"{_time(found.in_hand)}. Tape stores no heat, and it has kept the water just above freezing: less head start than the cold main gives.",
    )


def double_foam() -> Answer:
    """What buys time."""
    cabin = settings()[CABIN]
    once, twice = _night(CABIN), _night(CABIN, thickness=2 * cabin["thickness"])
    bigger = _night(CABIN, pipe=(cabin["pipe"][0], "1 in"))
    return Answer(
        f"3. The cabin's run stood cold: first ice after {_time(once.ice_after)}. Foam twice as thick, or pipe one size larger: which buys more time?",
        {
            "the foam: it doubles the time": "You doubled the time with the thickness. Is the outer ring of foam as hard to cross as the inner one?",
            "the pipe buys nothing: it has more surface": "It has. But what grows faster with the bore, the surface or the water in it?",
        },
        f"About the same: {_time(twice.ice_after)} with twice the foam, {_time(bigger.ice_after)} in 1 in pipe. Neither doubles it, and neither stops ice.",
    )


def clear_and_windy() -> Answer:
    """Wind helps under a clear sky."""
    still, windy = _night(CLEAR), _night(CLEAR, wind=Q_(2, "m/s"))
    air, sky = settings()[CLEAR]["air"], settings()[CLEAR]["sky"]
    return Answer(
        f"4. Clear sky, air at {both(air, 'temperature')} all night. When is the cabin's pipe in danger: in still air, "
        f"or in a {both(Q_(2, 'm/s'), 'wind')} wind?",
        {
            "in the wind": "In frost, yes. But here the air is above freezing: does it take heat from the pipe or bring it some?",
            "never: the air is above freezing":
                f"You read the thermometer in the air. What does the pipe see that is {both(sky, 'temperature difference')} colder?",
        },
        f"In still air: ice can form after {_time(still.ice_after)}. The wind holds the pipe near the temperature of the air, and "
        f"{'no ice forms by dawn' if np.isinf(windy.ice_after) else f'ice comes only after {_time(windy.ice_after)}'}.",
    )


def open_tap() -> Answer:
    """How much must trickle."""
    cabin = tern_bank_runs()[CABIN]
    run = replace(run_of(settings()[CABIN]), length=cabin["length"])
    flow = trickle(run, cabin["cold"], KEEP)
    whole = flow * Q_(NIGHT, "h")
    return Answer(
        f"5. No power and no drain. You let cold water run through the cabin's {both(cabin['length'], 'length')} all night, in the coldest hour's air. "
        f"It enters at {both(cabin['cold'], 'temperature')}. How much must run to reach the tap at {both(KEEP, 'temperature')}?",
        {
            "a drip": "Any movement helps, people say. How much heat does a drip bring along for each metre it must pass?",
            "a full tap": "Safe, but where does it all go? Try to reckon: what the run loses, over what a litre a minute carries.",
        },
        f"{both(flow * Q_(1, 'h'), 'volume')} an hour, {both(whole, 'large volume')} in the night. "
        "It needs a main that stays up and a drain that does not freeze. Where pipes can be drained, drain them.",
    )


def by_hand() -> Told:
    """The cabin's steady night on paper, held against the panel: what must go, how fast it goes, and then the ice."""
    state = {**settings()[CABIN], **STEADY}
    scene, run = calculate(state), run_of(state)
    section, start, air = run.line.parts[0][1], scene.begin, float(scene.air[0])
    cold = water_at(5.0)
    area = 0.25 * np.pi * section.inside_diameter**2
    water = round(float(area * cold.density), 3)  # [kg/m]
    copper = round(float(0.25 * np.pi * (section.outside_diameter**2 - section.inside_diameter**2) * run.pipe.density.magnitude), 3)
    inner, outer = section.insulation_bore, section.outside_of_insulation
    k, film = round(float(section.conductivity(0.5 * (0.5 * start + air))), 4), round(8.9 * scene.wind**0.9 / outer**0.1, 1)
    metric = {
        "water": water, "copper": copper, "heats": (4.19, 0.385), "start": start, "air": air, "zero": 0.0,
        "resistance": round(float(np.log(outer / inner) / (2 * np.pi * k) + 1 / (np.pi * outer * film)), 2), "fusion": 334, "per_hour": 3.6,
        "units": ("kg/m", "kJ/(kg °C)", "kJ/(m °C)", "m K/W", "kJ/kg", "kJ/(m h)"),
    }
    feet, pounds = 0.3048, 2.2046
    us = {
        "water": round(water * pounds * feet, 3), "copper": round(copper * pounds * feet, 3), "heats": (1.0, 0.092),
        "start": round(1.8 * start + 32, 1), "air": round(1.8 * air + 32, 1), "zero": 32.0,
        "resistance": round(metric["resistance"] * 1.7307, 2), "fusion": 144, "per_hour": 1,
        "units": ("lb/ft", "Btu/(lb °F)", "Btu/(ft °F)", "h ft °F/Btu", "Btu/lb", "Btu/(ft h)"),
    }
    solid = run.freezing(state["cold"]).hours_to_solid.magnitude - scene.ice_after
    (first, ice), lines = _hours(metric), []
    for name, given in (("Metric", metric), ("US customary", us)):
        lines.append(f"**{name}.** {_on_paper(given, scene.ice_after, solid)}")
    return Told(
        "Coldest air all night (*Day's swing* 0), water that stood cold.\n\n" + "\n\n".join(lines) +
        f"\n\nTo the first ice paper is {percent_off(first / scene.ice_after - 1)}. From there to solid ice it is {percent_off(ice / solid - 1)}: paper lets "
        "the heat out through foam and film alone, but the ice that has formed holds it back too. The water that finds no room as ice is pushed on; "
        "between two plugs it cannot go, and the pressure bursts the pipe."
    )


def _hours(given: dict) -> tuple[float, float]:
    """On paper: hours to freezing, and from there to solid ice."""
    holds = given["water"] * given["heats"][0] + given["copper"] * given["heats"][1]
    below = given["zero"] - given["air"]
    first = holds * given["resistance"] / given["per_hour"] * np.log((given["start"] - given["air"]) / below)
    return first, AS_ICE * given["water"] * given["fusion"] / (given["per_hour"] * below / given["resistance"])


def _on_paper(given: dict, panel_first: float, panel_solid: float) -> str:
    mass, heat, holds_unit, resists, fuses, rate = given["units"]
    (first, ice), below = _hours(given), given["zero"] - given["air"]
    holds = given["water"] * given["heats"][0] + given["copper"] * given["heats"][1]
    hourly = given["per_hour"] * below / given["resistance"]
    return (
        f"Water {given['water']} and copper {given['copper']} {mass}; foam and film {given['resistance']} {resists}.\n\n"
        f"* Each degree holds {given['water']} × {given['heats'][0]:g} + {given['copper']} × {given['heats'][1]:g} = {holds:.3f} {holds_unit}.\n"
        f"* Time to freezing = {holds:.3f} × {given['resistance']}{' ÷ 3.6' if given['per_hour'] != 1 else ''} "
        f"× ln({given['start'] - given['air']:g} ÷ {below:g}) = **{first:.2f} h**; the panel says {panel_first:.2f} h.\n"
        f"* Of its water {AS_ICE} fills the bore as ice. Freezing heat {AS_ICE} × {given['water']} × {given['fusion']} {fuses} "
        f"leaves at {below:g} ÷ {given['resistance']} = {hourly:.2f} {rate}: "
        f"**{ice:.1f} h** more; the model says {panel_solid:.1f} h."
    )
