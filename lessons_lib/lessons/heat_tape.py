"""The words of lesson 08 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ..circuit import continuous_factor
from ..display import SI, both, celsius, show
from ..nights import season_energy
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.heat_tape import CIRCUITS, HOLD, TIES, calculate, cabin, region_of, runs_of, tape_of
from ..panels.pages import Told
from ..units import Q_
from ..weather import Weather

GAP = Q_(0.3, "m")
SHOWN = {"length": "length", "air": "temperature", "wind": "wind", "thickness": "thickness"}
EVENING, SPRING = Q_(0.0, "degC"), Q_(10.0, "degC")


def _scene(**changes):
    """What the panel shows of the run that it opens on, with some settings changed."""
    return calculate({**cabin(), **changes})


def guess() -> Guess:
    """How much covered pipe needs as much heat as a bare piece?"""
    run = cabin()

    def question(system: str) -> str:
        shown = {name: show(run[name], kind, system) for name, kind in SHOWN.items()}
        return (
            f"At Tern Bank (invented) {shown['length']} of {' '.join(reversed(run['pipe']))} lie outdoors under {shown['thickness']} of "
            f"foam, at {shown['air']} in wind of {shown['wind']}. Tape holds it at {show(HOLD, 'temperature', system)}; at one valve "
            f"{show(GAP, 'length', system)} stayed bare. How much covered pipe needs as many watts as that piece?"
        )

    slide = Slide("My guess", "length", Q_(0.5, "m"), (0, 15, 0.1), (0, 50, 0.5), "length of covered pipe")
    return Guess("08", question, slide, lambda: Q_(_scene(gap=GAP).worth, "m"))


def _rated(amps: float, factor: float) -> str:
    """What cable and breaker are rated for at least, in words. amps : of the tape [A]; factor : of the region's rule"""
    return f"{factor:g} × {amps:.2f} = {factor * amps:.2f} A" if factor > 1 else "a rating of at least as much"


def by_hand() -> Told:
    """The cabin's tape on paper, in both sets of units, held against the panel."""
    settings, scene = cabin(), _scene()
    run, _ = runs_of(settings)
    section = run.line.parts[0][1]
    hold, air = HOLD.magnitude, settings["air"].magnitude
    k = Q_(float(section.conductivity(0.5 * (hold + air))), "W/(m*K)")
    pipe, bore, outer = (1000 * value for value in (section.outside_diameter, section.insulation_bore, section.outside_of_insulation))
    log = round(float(np.log(outer / bore)), 3)
    difference, length = hold - air, settings["length"]
    loss = round(2 * np.pi * k.magnitude * difference / log, 2)
    tape = tape_of(settings["tape"])
    gives = round(float(tape.available(hold)), 1)
    volts, _ = CIRCUITS[settings["circuit"]]
    amps, factor = gives * length.magnitude / volts.magnitude, continuous_factor(region_of(volts))
    inches = round(k.to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    feet, fahrenheit = round(length.to("ft").magnitude), round(1.8 * difference)
    per_foot = round(2 * np.pi * inches * fahrenheit / (12 * log * 3.412), 2)
    gives_us = round(Q_(gives, "W/m").to("W/ft").magnitude, 2)
    millimetres = {"pipe": pipe, "tape": 1000 * scene.tape_thickness, "bore": bore, "outer": outer}
    inch = {name: value / 25.4 for name, value in millimetres.items()}
    model = Q_(scene.needed, "W/m")
    night = season_energy(run, Weather.day_and_night(settings["air"], EVENING, wind=settings["wind"]), Q_(5.0, "degC"))
    return Told(
        f"**Metric.**\n\n* Bore: {pipe:.1f} (pipe) + {1000 * scene.tape_thickness:.0f} (tape) + 2 × {TIES.magnitude:.0f} (ties) = "
        f"**{bore:.1f} mm**; the panel says {1000 * scene.insulation_bore:.1f} mm. Foam of {settings['thickness'].magnitude:.0f} mm over "
        f"it: {outer:.1f} mm across, ln({outer:.1f} ÷ {bore:.1f}) = {log:.3f}.\n"
        f"* To hold {hold:.0f} °C at {show(settings['air'], 'temperature', SI)} with k = {k.magnitude:.4f} W/(m K): 2π × {k.magnitude:.4f} "
        f"× {difference:.0f} ÷ {log:.3f} = {loss:.2f} W/m; with 15 % to spare **{1.15 * loss:.2f} W/m**; the panel says "
        f"{model.magnitude:.1f} W/m.\n"
        f"* Current at {gives:.1f} W/m: {gives:.1f} × {length.magnitude:g} ÷ {volts.magnitude:g} = **{amps:.2f} A**, for cable and breaker "
        f"{_rated(amps, factor)}; the panel says {scene.load:.1f} A.\n\n"
        f"**US customary.**\n\n* Bore: {inch['pipe']:.3f} + {inch['tape']:.3f} + 2 × 0.039 = **{inch['bore']:.2f} in**; foam to {inch['outer']:.2f} "
        "in, the same logarithm.\n"
        f"* k = {inches:.3f} Btu in/(h ft² °F), difference {fahrenheit} °F: 2π × {inches:.3f} × {fahrenheit} ÷ (12 × {log:.3f}) Btu/h for "
        f"each foot, ÷ 3.412 = {per_foot:.2f} W/ft; with 15 % to spare **{1.15 * per_foot:.2f} W/ft**; the panel says "
        f"{model.to('W/ft').magnitude:.1f} W/ft.\n"
        f"* Current at {gives_us:.2f} W/ft: {gives_us:.2f} × {feet} ÷ {volts.magnitude:g} = **{gives_us * feet / volts.magnitude:.2f} "
        "A**.\n\n"
        f"By hand the heat comes out {100 * (1.15 * loss / model.magnitude - 1):.0f} % high: paper counts the foam only, the panel also the "
        "film of air outside.\n\n"
        f"**A night.** From {both(EVENING, 'temperature')} in the evening down to {both(settings['air'], 'temperature')}, 14 h, with a "
        f"thermostat at {both(celsius(5.0), 'temperature')}, the run takes at least {night.magnitude:.2f} kWh; a hundred such nights "
        f"{100 * night.magnitude:.0f} kWh, times your price. Without thermostat it takes {scene.always_on:.1f} kWh in 24 h at "
        f"{both(settings['air'], 'temperature')}, and in spring, at {both(SPRING, 'temperature')}, still {_scene(air=SPRING).always_on:.1f} "
        "kWh."
    )
