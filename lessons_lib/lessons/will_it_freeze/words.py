"""The words of lesson 07 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics.properties import water as water_at
from ...quantities.display import SI, SYSTEMS, ice_after, percent_off, show
from ...quantities.units import Q_
from ...runs.insulation import NONE
from ...storage import preferences
from .panel import calculate, run_of, settings

CABIN = "Cabin across the yard, frosty night"
BEGINNING = "The water stood cold, and the air is at its coldest all night."
AS_ICE = 0.917  # share of its water that fills a bore as ice: ice takes more room


def _cabin(system: str) -> dict:
    """Settings of the cabin's run in the goods of a unit system's reader."""
    return in_goods(settings()[CABIN], system)


def _at_the_valve():
    """The minutes until ice can form in a bare valve of the cabin's run, rounded down as on the panel."""
    hours = calculate({**_cabin(preferences.unit_system()), "insulation": NONE}).ice_after
    return Q_(float(np.floor(60 * hours)), "min")


def guess() -> Guess:
    """Asks when ice can form in one bare valve of a run under foam."""

    def question(system: str) -> str:
        state = _cabin(system)
        covered = ice_after(calculate(state).ice_after)
        cold, air, wind = (
            show(state[name], kind, system)
            for name, kind in (("cold", "temperature"), ("air", "temperature"), ("wind", "wind"))
        )
        return (
            f"At Tern Bank, an invented yard, water of {cold} stands in a pipe under foam. The air is at {air}, with a"
            f" wind of {wind}. Ice can form after {covered}. One valve has no foam. After how many minutes can ice"
            " form in it?"
        )

    slide = Slide("My guess", "minutes", Q_(40, "min"), (0, 120, 1), (0, 120, 1), "minutes until ice can form")
    return Guess("07", question, slide, _at_the_valve)


def by_hand() -> Told:
    """The cabin's steady night on paper, held against the panel: what must go, how fast it goes, and then the ice."""
    (metric, compared), (us, _) = map(_for_readers_of, SYSTEMS)
    return Told("\n\n".join((BEGINNING, metric, us, compared)))


def _for_readers_of(system: str) -> tuple[str, str]:
    """Gives the sums of one unit system's reader, and how far they are from the panel."""
    state = _cabin(system)
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
    first, ice = _hours(metric)
    name, given = ("Metric", metric) if system == SI else ("US customary", us)
    return (
        f"**{name}.** {_on_paper(given, scene.ice_after, solid)}",
        f"Paper's time to the first ice differs from the panel's by {percent_off(first / scene.ice_after - 1)}."
        f" Its time from there to solid ice differs by {percent_off(ice / solid - 1)}. On paper only foam and film hold"
        " the heat back. In the pipe the ice that has formed holds it back too. Ice takes more room than water, so it"
        " pushes water along the pipe. Between two plugs of ice that water cannot leave, and the pressure bursts the"
        " pipe.",
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
