"""The words of lesson 12 whose numbers the library works out: its guess, its calculation by hand."""

from math import log, pi

import numpy as np

from ...bench import files as bench_files
from ...bench.result import BenchFit
from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...physics.properties import water
from ...quantities.display import SI, US, duration, percent_off, show
from ...quantities.units import Q_
from . import bench_scene
from .panel import DEMOS, ready_made

AFTER = next(iter(ready_made()))  # the leg in foam


def _fit() -> BenchFit:
    """Gives the fit of Tern Bank's leg in foam (invented), as the panel makes it."""
    state = ready_made()[AFTER]
    return bench_scene.fit(state, bench_files.demo(DEMOS[state["readings"]]))


def guess() -> Guess:
    """Gives the guess: how thick a foam without gaps would lose as much."""

    def question(system: str) -> str:
        foam = show(ready_made()[AFTER]["thickness"], "thickness", system)
        return (
            f"At Tern Bank, an invented yard, a copper leg lies in {foam} of foam. The foam was fitted in a hurry, with"
            " gaps at the elbows and two bare brackets. Which thickness of foam without gaps would lose as much"
            " heat?"
        )

    slide = Slide("My guess", "thickness", Q_(15, "mm"), (0, 25, 1), (0, 1, 0.125), "what you expect")
    return Guess("12", question, slide, lambda: _fit().like_thickness)


def by_hand() -> Told:
    """The loss of the leg in foam from its half-time, held against the fit."""
    state, fit = ready_made()[AFTER], _fit()
    clock, read = fit.readings.time.magnitude, fit.readings.temperature.magnitude
    air, first = state["air"].magnitude, round(float(read[0]), 1)
    half = round(0.5 * (first + air), 1)
    seconds = 60 * round((float(np.interp(-half, -np.minimum.accumulate(read), clock)) - clock[0]) / 60)
    pipe = bench_scene.run_of(state).pipe
    bore, outside = (
        round(pipe_diameter.to("mm").magnitude, 1) for pipe_diameter in (pipe.inside_diameter, pipe.outside_diameter)
    )
    held = {name: round(area * density * heat / 1000, 3) for name, area, density, heat in _contents(bore, outside)}
    whole = round(sum(held.values()), 3)
    loss = round(log(2) * 1000 * whole / seconds, 3)
    fahrenheit, imperial = _imperial(first, half, air), _imperial_loss(whole, seconds)
    return Told(
        f"**Metric.** The first good reading is {first} °C, {first - air:.1f} °C above the air; half of that is left at"
        f" {half} °C, which the readings pass {duration(seconds)} later ({seconds:.0f} s).\n\n* 1 m holds"
        f" {held['water']} kJ/K in its water (bore {bore} mm) and {held['copper']} kJ/K in its copper (out to {outside}"
        f" mm): {whole} kJ/K.\n* Loss for each m and degree: 0.693 × {1000 * whole:.0f} ÷ {seconds:.0f} = **{loss}"
        f" W/(m K)**; the fit says {show(fit.ua, 'loss per kelvin', SI)}.\n\n**US customary.** {fahrenheit}; the same"
        f" {duration(seconds)}.\n\n* 1 ft holds {imperial[0]} Btu/°F. Loss: 0.693 × {imperial[0]} ÷ {imperial[1]}"
        f" h = **{imperial[2]} Btu/h ft °F**; the fit says {show(fit.ua, 'loss per kelvin', US)}.\n\nPaper comes out"
        f" {percent_off(loss / fit.ua.magnitude - 1)}. It left out the heat that the foam itself gives back, it used"
        " two readings where the fit uses all, and it took one loss for every temperature: hot, the leg loses a little"
        " more for each degree than cool."
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
    """Gives what a foot holds [Btu/degF], the half-time [h], and the loss [Btu/(h ft degF)]. whole [kJ/(m K)]"""
    held = round(Q_(whole, "kJ/(m*K)").to("Btu/(ft*delta_degF)").magnitude, 3)
    hours = round(seconds / 3600, 3)
    return held, hours, round(log(2) * held / hours, 3)
