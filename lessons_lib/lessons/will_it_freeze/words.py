"""The words of lesson 07 whose numbers the library works out: its guess, its calculation by hand."""

from dataclasses import replace

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...physics.properties import water as water_at
from ...quantities.display import celsius, percent_off, show
from ...quantities.units import Q_
from ...runs.surroundings import Surroundings
from .panel import calculate, run_of, settings
from .picture import NIGHT

CABIN, CLEAR = "Cabin across the yard, frosty night", "Cabin on a still, clear night"
STEADY = {"swing": Q_(0.0, "delta_degC")}
AS_ICE = 0.917  # share of its water that fills a bore as ice: ice takes more room


def _warmest_air():
    """The warmest steady air in which the cabin's run can have ice by dawn under a clear sky."""
    state = settings()[CLEAR]
    air = np.arange(-5.0, 12.0, 0.1)
    sky = Surroundings(Q_(air, "degC"), radiant=Q_(air - state["sky"].to("delta_degC").magnitude, "degC"))
    hours = replace(run_of(state), surroundings=sky).freezing(state["cold"]).hours_to_zero.magnitude
    return Q_(float(air[hours < NIGHT].max()), "degC")


def guess() -> Guess:
    """Gives how cold must the air be on a clear, still night?"""

    def question(system: str) -> str:
        state = settings()[CLEAR]
        sky, cold = show(state["sky"], "temperature difference", system), show(state["cold"], "temperature", system)
        return (
            "A still, clear night at Tern Bank (an invented training yard). In the cabin's foamed run water has stood"
            f" at {cold}. The pipe hangs on a wall and sees half of the sky: what it radiates to is {sky} colder than"
            " the air. How cold must the air be for ice to form by dawn?"
        )

    slide = Slide("My guess", "temperature", celsius(-4.0), (-15, 10, 1), (5, 50, 1), "what you expect")
    return Guess("07", question, slide, _warmest_air)


def by_hand() -> Told:
    """The cabin's steady night on paper, held against the panel: what must go, how fast it goes, and then the ice."""
    state = {**settings()[CABIN], **STEADY}
    scene, run = calculate(state), run_of(state)
    section, start, air = run.line.section, scene.begin, float(scene.air[0])
    cold = water_at(5.0)
    area = 0.25 * np.pi * section.inside_diameter**2
    water = round(float(area * cold.density), 3)  # [kg/m]
    copper = round(
        float(0.25 * np.pi * (section.outside_diameter**2 - section.inside_diameter**2) * run.pipe.density.magnitude), 3
    )
    inner, outer = section.insulation_bore, section.outside_of_insulation
    k, film = (
        round(float(section.conductivity(0.5 * (0.5 * start + air))), 4),
        round(8.9 * scene.wind**0.9 / outer**0.1, 1),
    )
    metric = {
        "water": water,
        "copper": copper,
        "heats": (4.19, 0.385),
        "start": start,
        "air": air,
        "zero": 0.0,
        "resistance": round(float(np.log(outer / inner) / (2 * np.pi * k) + 1 / (np.pi * outer * film)), 2),
        "fusion": 334,
        "per_hour": 3.6,
        "units": ("kg/m", "kJ/(kg °C)", "kJ/(m °C)", "m K/W", "kJ/kg", "kJ/(m h)"),
    }
    feet, pounds = 0.3048, 2.2046
    us = {
        "water": round(water * pounds * feet, 3),
        "copper": round(copper * pounds * feet, 3),
        "heats": (1.0, 0.092),
        "start": round(1.8 * start + 32, 1),
        "air": round(1.8 * air + 32, 1),
        "zero": 32.0,
        "resistance": round(metric["resistance"] * 1.7307, 2),
        "fusion": 144,
        "per_hour": 1,
        "units": ("lb/ft", "Btu/(lb °F)", "Btu/(ft °F)", "h ft °F/Btu", "Btu/lb", "Btu/(ft h)"),
    }
    solid = run.freezing(state["cold"]).hours_to_solid.magnitude - scene.ice_after
    (first, ice), lines = _hours(metric), []
    for name, given in (("Metric", metric), ("US customary", us)):
        lines.append(f"**{name}.** {_on_paper(given, scene.ice_after, solid)}")
    return Told(
        "Coldest air all night (*Day's swing* 0), water that stood cold.\n\n"
        + "\n\n".join(lines)
        + f"\n\nTo the first ice paper is {percent_off(first / scene.ice_after - 1)}. From there to solid ice it is"
        f" {percent_off(ice / solid - 1)}: paper lets the heat out through foam and film alone, but the ice that has"
        " formed holds it back too. The water that finds no room as ice is pushed on; between two plugs it cannot"
        " go, and the pressure bursts the pipe."
    )


def _hours(given: dict) -> tuple[float, float]:
    """Works out on paper the hours to freezing, and from there to solid ice."""
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
        f"Water {given['water']} and copper {given['copper']} {mass}; foam and film {given['resistance']}"
        f" {resists}.\n\n* Each degree holds {given['water']} × {given['heats'][0]:g} + {given['copper']} ×"
        f" {given['heats'][1]:g} = {holds:.3f} {holds_unit}.\n* Time to freezing = {holds:.3f} ×"
        f" {given['resistance']}{' ÷ 3.6' if given['per_hour'] != 1 else ''} × ln({given['start'] - given['air']:g} ÷"
        f" {below:g}) = **{first:.2f} h**; the panel says {panel_first:.2f} h.\n* Of its water {AS_ICE} fills the bore"
        f" as ice. Freezing heat {AS_ICE} × {given['water']} × {given['fusion']} {fuses} leaves at {below:g} ÷"
        f" {given['resistance']} = {hourly:.2f} {rate}: **{ice:.1f} h** more; the model says {panel_solid:.1f} h."
    )
