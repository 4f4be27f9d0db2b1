"""The words of lesson 12 whose numbers the library works out: its guess, its questions, its calculation by hand."""

from math import log, pi

import numpy as np

from .. import bench_files
from ..bench_result import BenchFit, compare
from ..display import SI, US, both, duration, percent_off, show
from ..panels import bench_scene
from ..panels.bench import DEMOS, ready_made
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.pages import Answer, Told
from ..physics.properties import water
from ..units import Q_, quantity

AFTER, BEFORE, DRAW, FAR = ready_made()
WRONG_AIR = Q_(2, "delta_degC")  # what an air thermometer near the pipe is easily off by
FORGOTTEN = Q_(2, "m")  # of pipe, up and over a doorway


def fit_of(title: str, **changes) -> BenchFit:
    """The fit of one of Tern Bank's experiments (invented), with some settings changed, as the panel makes it."""
    state = {**ready_made()[title], **changes}
    return bench_scene.fit(state, bench_files.demo(DEMOS[state["readings"]]))


def guess() -> Guess:
    """How thick does the foam behave?"""

    def question(system: str) -> str:
        foam = show(ready_made()[AFTER]["thickness"], "thickness", system)
        return (
            f"At Tern Bank (an invented training yard) a copper leg lies in {foam} of foam, fitted in a hurry: gaps at the elbows, two brackets bare. "
            "Filled hot and shut, it is read as it cools. How thick a foam without gaps would lose as much?"
        )

    slide = Slide("My guess", "thickness", Q_(15, "mm"), (0, 25, 1), (0, 1, 0.125), "what you expect")
    return Guess("12", question, slide, lambda: fit_of(AFTER).like_thickness)


def forgotten_rise() -> Answer:
    """The mistake of the lesson before: the sketch's length is not the pipe's."""
    right, short = fit_of(DRAW), fit_of(DRAW, length=ready_made()[DRAW]["length"] - FORGOTTEN)
    length = both(ready_made()[DRAW]["length"], "length")
    return Answer(
        f"1. Somebody sketched the bare leg without its way up and over a doorway: {both(FORGOTTEN, 'length')} of its {length} are missing. "
        "What does the fit of the first draw then say of the flow?",
        {
            "the same: flow is flow": "You took it for a bucket. What does the fit know but when the hot water came, and how much pipe it filled first?",
            "more": "You thought that a shorter pipe flows more. The water came when it came: how much of it fits into the shorter pipe?",
        },
        f"Too little: {both(short.value, 'measured flow')} instead of {both(right.value, 'measured flow')}, and the interval knows nothing of it. "
        "A forgotten rise looks like a blocked tap.",
    )


def late_clock() -> Answer:
    """A late stopwatch spoils one experiment and not the other."""
    on_time, late = fit_of(DRAW), fit_of(DRAW, late=Q_(0, "s"))
    return Answer(
        "2. Your helper started the stopwatch late, you do not know by how much. Which experiment is spoilt: the first draw, the cooling, or both?",
        {
            "both": "You thought that every curve needs its beginning. Cooling water at one temperature: can you tell from how it goes on when it began?",
            "the cooling: it takes longer": "You weighed seconds against minutes. Is it the length of the curve that counts, or where on it you are?",
        },
        f"The first draw. Two seconds left out make {both(late.value, 'measured flow')} of {both(on_time.value, 'measured flow')}. "
        "Cooling has no other memory than its temperature: each stretch says the same.",
    )


def what_the_interval_holds() -> Answer:
    """The 95 % interval holds the scatter, not what is wrong in every reading."""
    right, wrong = fit_of(AFTER), fit_of(AFTER, air=ready_made()[AFTER]["air"] - WRONG_AIR)
    words = [both(one.like_thickness, "thickness") for one in (right, wrong)]
    width = 0.5 * float(((right.high - right.low) / right.value).to("").magnitude)
    return Answer(
        f"3. The 95 % interval of the foam's conductivity is only {width:.1%} to either side. So the conductivity is known to that?",
        {
            "yes, in 95 of 100 cases": "True of the scatter. What if one thing is wrong in every reading, say the air temperature?",
            "no, readings prove nothing": "They proved that the label does not hold here. What do they not know?",
        },
        f"Only if all else is right. Air {both(WRONG_AIR, 'temperature difference')} colder than you wrote makes the foam behave like {words[1]} instead of {words[0]}. "
        "Measure the air beside the pipe, all the time, and give the mean.",
    )


def half_again() -> Answer:
    """Halving the distance to the air takes the same time again."""
    return Answer(
        f"4. Standing water at {both(Q_(60, 'degC'), 'temperature')} in air at {both(Q_(20, 'degC'), 'temperature')} takes 30 minutes to "
        f"{both(Q_(40, 'degC'), 'temperature')}. What is it after 30 more?",
        {
            f"{both(Q_(20, 'degC'), 'temperature')}: as much again": "You drew a straight line. What drives the heat out, and is it still as large?",
            f"{both(Q_(20, 'degC'), 'temperature')}, half of 40": "You halved the number on the scale. Half of which distance is gone?",
        },
        f"About {both(Q_(30, 'degC'), 'temperature')}: half of the distance to the air goes in each half-time. A little warmer still, for a cooler pipe loses less for each degree.",
    )


def what_foam_saved() -> Answer:
    """Before and after, against the promise."""
    before, after = fit_of(BEFORE), fit_of(AFTER)
    saved = 1 - compare(before, after).ratio
    promised = 1 - float((_label_ua(after) / before.ua).to("").magnitude)
    return Answer(
        f"5. Tern Bank's foam was to save {promised:.0%} of the bare leg's loss. Fit the bare leg, keep it, fit the leg in foam. What did it save?",
        {
            f"{promised:.0%}": "You read the label. What did the readings say?",
            "nothing: it behaves like half the foam": "You took thickness for loss. Does the first half of a foam save half?",
        },
        f"{saved:.0%}. The two intervals do not touch, so the foam helps; and it keeps {saved / promised:.0%} of its promise. The rest goes where there is none.",
    )


def _label_ua(fit: BenchFit):
    """What the leg in foam would lose for each metre and degree as labelled."""
    run = bench_scene.run_of(ready_made()[AFTER])
    mean = float(np.mean(fit.readings.temperature.magnitude))
    return quantity(float(run.line.conductance(mean, run.line.rest())[0]), "W/(m*K)")


def by_hand() -> Told:
    """The loss of the leg in foam from its half-time, held against the fit."""
    state, fit = ready_made()[AFTER], fit_of(AFTER)
    clock, read = fit.readings.time.magnitude, fit.readings.temperature.magnitude
    air, first = state["air"].magnitude, round(float(read[0]), 1)
    half = round(0.5 * (first + air), 1)
    seconds = 60 * round((float(np.interp(-half, -np.minimum.accumulate(read), clock)) - clock[0]) / 60)
    pipe = bench_scene.run_of(state).pipe
    bore, outside = (round(pipe_diameter.to("mm").magnitude, 1) for pipe_diameter in (pipe.inside_diameter, pipe.outside_diameter))
    held = {name: round(area * density * heat / 1000, 3) for name, area, density, heat in _contents(bore, outside)}
    whole = round(sum(held.values()), 3)
    loss = round(log(2) * 1000 * whole / seconds, 3)
    fahrenheit, imperial = _imperial(first, half, air), _imperial_loss(whole, seconds)
    return Told(
        f"**Metric.** The first good reading is {first} °C, {first - air:.1f} °C above the air; half of that is left at {half} °C, which the readings "
        f"pass {duration(seconds)} later ({seconds:.0f} s).\n\n"
        f"* Each metre holds {held['water']} kJ/K in its water (bore {bore} mm) and {held['copper']} kJ/K in its copper (out to {outside} mm): {whole} kJ/K.\n"
        f"* Loss for each metre and degree: 0.693 × {1000 * whole:.0f} ÷ {seconds:.0f} = **{loss} W/(m K)**; the fit says {show(fit.ua, 'loss per kelvin', SI)}.\n\n"
        f"**US customary.** {fahrenheit}; the same {duration(seconds)}.\n\n"
        f"* Each foot holds {imperial[0]} Btu/°F. Loss: 0.693 × {imperial[0]} ÷ {imperial[1]} h = **{imperial[2]} Btu/h ft °F**; "
        f"the fit says {show(fit.ua, 'loss per kelvin', US)}.\n\n"
        f"Paper comes out {percent_off(loss / fit.ua.magnitude - 1)}. It left out the heat that the foam itself gives back, it used two readings where "
        "the fit uses all, and it took one loss for every temperature: hot, the leg loses a little more for each degree than cool."
    )


def _contents(bore: float, outside: float):
    """Name, area [m2], density and heat capacity [J/(kg K)] of what a metre of the leg holds. bore, outside [mm]"""
    inside = 0.25 * pi * (0.001 * bore) ** 2
    at = water(45.0)
    yield "water", inside, float(at.density), float(at.heat_capacity)
    yield "copper", 0.25 * pi * (0.001 * outside) ** 2 - inside, 8940.0, 385.0


def _imperial(first: float, half: float, air: float) -> str:
    first, half, air = (round(1.8 * celsius + 32, 1) for celsius in (first, half, air))
    return f"From {first} °F to {half} °F in air at {air:.0f} °F"


def _imperial_loss(whole: float, seconds: float) -> tuple:
    """What a foot holds [Btu/degF], the half-time [h], and the loss [Btu/(h ft degF)]. whole [kJ/(m K)]"""
    held = round(Q_(whole, "kJ/(m*K)").to("Btu/(ft*delta_degF)").magnitude, 3)
    hours = round(seconds / 3600, 3)
    return held, hours, round(log(2) * held / hours, 3)
