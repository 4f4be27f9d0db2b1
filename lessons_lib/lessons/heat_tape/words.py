"""The words of lesson 08 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...plant.circuit import continuous_factor
from ...quantities.display import SI, US, both, ice_after, show
from ...quantities.units import Q_
from ...runs.common_values import HELD_AT, LONG_NIGHT, TAPE_MARGIN, THERMOSTAT
from ...runs.nights import season_energy
from ...runs.weather import Weather
from .panel import CIRCUITS, TIES, cabin, calculate, region_of, runs_of, tape_of
from .tries import STRONG, SWITCHED

EVENING, SPRING = Q_(0.0, "degC"), Q_(10.0, "degC")


def _scene(**changes):
    """Gives what the panel shows of the run that it opens on, with some settings changed."""
    return calculate({**cabin(), **changes})


def _hours(tape: str, system: str = SI) -> float:
    """Gives the hours to ice after a power cut, with a tape behind a thermostat."""
    return calculate({**cabin(system), "tape": tape, "thermostat": SWITCHED}).hours


def _gained():
    """The minutes that twice the watts gain."""
    return Q_(60 * (_hours(STRONG) - _hours(cabin()["tape"])), "min")


def guess() -> Guess:
    """Asks how much time twice the watts gain after a power cut."""

    def question(system: str) -> str:
        run = cabin(system)
        return (
            f"At Tern Bank, an invented yard, a foamed pipe lies in air of"
            f" {show(run['air'], 'temperature', system)}. Heat tape with a thermostat holds it at"
            f" {show(THERMOSTAT, 'temperature', system)}. When the power fails, ice can form after"
            f" {ice_after(_hours(run['tape'], system))}. How many more minutes does tape with over twice the"
            " watts give?"
        )

    slide = Slide("My guess", "minutes", Q_(20, "min"), (0, 120, 1), (0, 120, 1), "more minutes until ice can form")
    return Guess("08", question, slide, _gained)


def by_hand() -> Told:
    """The cabin's tape on paper, each set of units with its own pipe and circuit, held against the panel."""
    return Told(
        f"**Metric.**\n\n{_metric()}\n\n**US customary.**\n\n{_customary()}\n\nBy hand the heat comes out"
        f" {100 * (_on_paper(SI)['needed'] / _scene().needed - 1):.0f} % high: paper counts the foam only, the panel"
        f" also the film of air outside.\n\n{_night()}"
    )


def _on_paper(system: str) -> dict:
    """Gives what paper takes and finds, as plain numbers: lengths in mm, k in W/(m K), heat in W/m."""
    settings = cabin(system)
    section = runs_of(settings)[0].line.section
    hold, air = HELD_AT.magnitude, settings["air"].magnitude
    pipe, bore, outer = (
        1000 * value for value in (section.outside_diameter, section.insulation_bore, section.outside_of_insulation)
    )
    k, log = float(section.conductivity(0.5 * (hold + air))), round(float(np.log(outer / bore)), 3)
    loss = 2 * np.pi * round(k, 4) * (hold - air) / log
    gives, volts = float(tape_of(settings["tape"]).available(hold)), CIRCUITS[settings["circuit"]][0].magnitude
    return {
        "pipe": pipe,
        "bore": bore,
        "outer": outer,
        "k": k,
        "log": log,
        "difference": hold - air,
        "loss": loss,
        "needed": (1 + TAPE_MARGIN) * loss,
        "gives": gives,
        "volts": volts,
        "length": settings["length"],
    }


def _for_the_breaker(amps: float, system: str) -> str:
    """Says what cable and breaker must carry for a load of so many amps, by the rule of the circuit's region."""
    factor = _factor(system)
    return (
        f", for cable and breaker {factor:g} × {amps:.2f} = {factor * amps:.2f} A"
        if factor > 1
        else ", which cable and breaker must carry"
    )


def _factor(system: str) -> float:
    """Gives the number by which the rule of the circuit's region multiplies a load that runs for hours."""
    volts, _ = CIRCUITS[cabin(system)["circuit"]]
    return continuous_factor(region_of(volts))


def _metric() -> str:
    """The sums in metric units."""
    on, scene = _on_paper(SI), _scene()
    amps = on["gives"] * on["length"].magnitude / on["volts"]
    return (
        f"* Bore: {on['pipe']:.1f} (pipe) + {1000 * scene.tape_thickness:.0f} (tape) + 2 × {TIES.magnitude:.0f} (ties)"
        f" = **{on['bore']:.1f} mm**; the panel says {1000 * scene.insulation_bore:.1f} mm. Foam of"
        f" {show(cabin()['thickness'], 'thickness', SI)} over it: {on['outer']:.1f} mm across, ln({on['outer']:.1f} ÷"
        f" {on['bore']:.1f}) = {on['log']:.3f}.\n* To hold {show(HELD_AT, 'temperature', SI)} at"
        f" {show(cabin()['air'], 'temperature', SI)} with k = {on['k']:.4f} W/(m K): 2π × {on['k']:.4f} ×"
        f" {on['difference']:.0f} ÷ {on['log']:.3f} = {on['loss']:.2f} W/m; with {100 * TAPE_MARGIN:.0f} % to spare"
        f" **{on['needed']:.2f}"
        f" W/m**; the panel says {scene.needed:.1f} W/m.\n* Current at {on['gives']:.1f} W/m: {on['gives']:.1f} ×"
        f" {on['length'].magnitude:g} ÷ {on['volts']:g} = **{amps:.2f} A**{_for_the_breaker(amps, SI)}; the panel says"
        f" {scene.load:.1f} A."
    )


def _customary() -> str:
    """The sums in US customary units."""
    on, scene = _on_paper(US), calculate(cabin(US))
    k, fahrenheit = (
        round(Q_(on["k"], "W/(m*K)").to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3),
        round(1.8 * on["difference"]),
    )
    per_foot = 2 * np.pi * k * fahrenheit / (12 * on["log"] * 3.412)
    gives, feet = round(Q_(on["gives"], "W/m").to("W/ft").magnitude, 2), round(on["length"].to("ft").magnitude)
    amps = gives * feet / on["volts"]
    return (
        f"* Bore: {on['pipe'] / 25.4:.3f} + {scene.tape_thickness / 0.0254:.3f} + 2 × 0.039 = **{on['bore'] / 25.4:.2f}"
        f" in**; foam to {on['outer'] / 25.4:.2f} in, ln({on['outer'] / 25.4:.2f} ÷ {on['bore'] / 25.4:.2f}) ="
        f" {on['log']:.3f}.\n* k = {k:.3f} Btu in/(h ft² °F), difference {fahrenheit} °F: 2π × {k:.3f} × {fahrenheit} ÷"
        f" (12 × {on['log']:.3f}) Btu/h for each foot, ÷ 3.412 = {per_foot:.2f} W/ft; with {100 * TAPE_MARGIN:.0f} %"
        " to spare"
        f" **{(1 + TAPE_MARGIN) * per_foot:.2f} W/ft**; the panel says"
        f" {Q_(scene.needed, 'W/m').to('W/ft').magnitude:.1f} W/ft.\n*"
        f" Current at {gives:.2f} W/ft: {gives:.2f} × {feet} ÷ {on['volts']:g} = **{amps:.2f}"
        f" A**{_for_the_breaker(amps, US)}; the panel says {scene.load:.1f} A."
    )


def _night() -> str:
    """Says what a frosty night takes, and what a tape that is always on takes."""
    settings, scene = cabin(), _scene()
    night = season_energy(
        runs_of(settings)[0], Weather.day_and_night(settings["air"], EVENING, wind=settings["wind"]), THERMOSTAT
    )
    return (
        f"**A night.** From {both(EVENING, 'temperature')} in the evening down to"
        f" {both(settings['air'], 'temperature')}, {LONG_NIGHT.magnitude:g} h, with a thermostat at"
        f" {both(THERMOSTAT, 'temperature')}, the"
        f" run takes at least {night.magnitude:.2f} kWh; a hundred such nights {100 * night.magnitude:.0f} kWh, times"
        f" your price. Without thermostat it takes {scene.always_on:.1f} kWh in 24 h at"
        f" {both(settings['air'], 'temperature')}, and in spring, at {both(SPRING, 'temperature')}, still"
        f" {_scene(air=SPRING).always_on:.1f} kWh."
    )
