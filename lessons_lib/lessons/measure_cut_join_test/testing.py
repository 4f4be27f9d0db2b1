"""The panel on the pressure test: what the gauge does, and whether that is a leak or the water's temperature."""

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.pressure_test import AIR, WATER, pressure_test, rules
from ...quantities.display import number, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from ...storage import preferences
from .gauge_picture import (
    AIR_IN_PLASTIC,
    LONG_ENOUGH,
    METAL_AIR,
    NO_AIR_TEST,
    NOT_YET,
    WATER_TEST,
    GaugePicture,
    GaugeScene,
)

MEDIA = [WATER, AIR]
READABLE = 10e3  # [Pa] that a gauge of a hand pump can be read to (common practice, no source)
THERMOMETER = 0.5  # [K] that the water's temperature is known to (common practice, no source)
COPPER_COOLS, PEX_DRIPS = "Copper run that cools", "Outdoor loop in PEX, with a drip"
US_GOODS = {
    COPPER_COOLS: {"pipe": ("copper L", "1/2 in"), "warmed": Q_(-2, "delta_degF"), "working": Q_(80, "psi")},
    PEX_DRIPS: {"leak": Q_(0.4, "fluid_ounce/hour"), "warmed": Q_(-4, "delta_degF"), "working": Q_(80, "psi")},
}


def testing() -> Panel:
    """A new pipe under test, opened on the hot run of Tern Bank's practice wall (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        _controls(start),
        calculate,
        GaugePicture,
        readouts,
        ready,
        lambda state: ["air"] if state["medium"] == AIR else [],
        headline=headline,
        goods=_goods,
    )


def _controls(start: dict) -> dict:
    known = [rule.name for rule in rules()]
    return {
        "The test": {
            "rule": Choice("Rule", known, start["rule"], "whose rule names pressure and time; local code decides"),
            "medium": Choice("Test with", MEDIA, start["medium"], "what the pipe is filled with and pumped up"),
            "working": Slide(
                "Highest in use",
                "pressure",
                start["working"],
                (200, 1000, 10),
                (30, 145, 1),
                "the highest pressure that the pipe will see in use; the rule makes the test pressure from it",
            ),
            "minutes": Slide(
                "Watched for", "minutes", start["minutes"], (1, 120, 1), (1, 120, 1), "time since the pump stopped"
            ),
        },
        "The pipe": {
            "pipe": usual.pipe(start["pipe"]),
            "length": usual.length(start["length"], "of all pipe that is under test"),
            "leak": Slide(
                "Leak",
                "leak",
                start["leak"],
                (0, 5, 0.1),
                (0, 10, 0.1),
                "what a joint loses at the test pressure; 1 mL is about twenty drops",
            ),
        },
        "The water": {
            "start": Slide(
                "At the start",
                "temperature",
                start["start"],
                (5, 30, 1),
                (41, 86, 1),
                "of the water when the pump stops",
            ),
            "warmed": Slide(
                "Warms by",
                "temperature drop",
                start["warmed"],
                (-4, 4, 0.5),
                (-7, 7, 0.5),
                "by how much the water warms while the gauge is watched; below 0: it cools",
            ),
            "air": Slide(
                "Air left in", "drop share", start["air"], (0, 5, 0.1), (0, 5, 0.1), "share of the pipe that is air"
            ),
        },
    }


def ready_made() -> dict:
    """New pipe of Tern Bank (invented), under test: title → settings."""
    wall = {
        "rule": rules()[1].name,
        "medium": WATER,
        "working": Q_(600, "kPa"),
        "minutes": Q_(15, "min"),
        "pipe": ("copper EN 1057", "15 mm"),
        "length": Q_(20, "m"),
        "leak": Q_(0, "mL/min"),
        "start": Q_(20, "degC"),
        "warmed": Q_(-1, "delta_degC"),
        "air": Q_(0, "percent"),
    }
    return {
        COPPER_COOLS: wall,
        PEX_DRIPS: {
            **wall,
            "pipe": ("PEX CTS", "1/2 in"),
            "minutes": Q_(60, "min"),
            "leak": Q_(0.2, "mL/min"),
            "warmed": Q_(-2, "delta_degC"),
        },
    }


def _goods(settings: dict, system: str) -> dict:
    """The same settings with the pipe and the rule of a reader's side."""
    found = usual.goods_with(ready_made(), US_GOODS)(settings, system)
    region = preferences.region(system)
    return {**found, "rule": next((rule.name for rule in rules() if rule.region == region), settings["rule"])}


def calculate(state: dict) -> GaugeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    pipe = Pipe.nominal(*state["pipe"])
    rule = next(rule for rule in rules() if rule.name == state["rule"])
    plastic, with_air = pipe.made_of.plastic, state["medium"] == AIR
    asked = rule.pressure(state["working"], state["medium"])
    leak, warmed = state["leak"], state["warmed"]
    air = 1.0 if with_air else state["air"].to("").magnitude
    found = pressure_test(pipe, state["length"], asked, state["start"], warmed, state["minutes"], leak, air)
    return GaugeScene(
        rule=rule.name,
        asked_words=rule.words,
        with_air=with_air,
        air_allowed=rule.least_air is not None,
        plastic=plastic,
        material=pipe.material,
        started=asked.to("Pa").magnitude,
        least_minutes=rule.minutes[1 if plastic else 0],
        minutes=state["minutes"].to("min").magnitude,
        times=found.times.magnitude,
        gauge=1000 * found.gauge.magnitude,
        by_temperature=1000 * found.by_temperature.magnitude,
        per_degree=1000 * found.per_degree.magnitude,
        warmed=warmed.to("delta_degC").magnitude,
        leak=leak.to("m**3/s").magnitude,
        air=air,
        energy=found.energy.magnitude,
        content=found.content.to("m**3").magnitude,
        sure=READABLE + THERMOMETER * abs(1000 * found.per_degree.magnitude),
        readable=READABLE,
    )


def headline(scene: GaugeScene, system: str) -> str:
    """Says what the gauge did and what to make of it."""
    moved = show(Q_(abs(scene.moved), "Pa"), "pressure", system)
    way = "stands still" if abs(scene.moved) <= scene.readable else f"{'fell' if scene.moved < 0 else 'rose'} {moved}"
    return f"Gauge {way}: {scene.verdict}"


def readouts(scene: GaugeScene, system: str) -> list[Readout]:
    """Gives the verdicts on the gauge, on the time, and on what the pipe is filled with."""
    by_heat, rest = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.by_temperature - scene.started, scene.unexplained)
    )
    least, seen = (number(Q_(value, "min"), "minutes", system) for value in (scene.least_minutes, scene.minutes))
    time = LONG_ENOUGH if scene.minutes >= scene.least_minutes else NOT_YET
    return [
        Readout("Leak or temperature?", scene.verdict, f"temperature {by_heat}, rest {rest}"),
        Readout("Time", time, f"{seen} of {least} min"),
        Readout("Filled with", medium_word(scene), f"holds {joules(scene.energy)} J when it lets go"),
    ]


def joules(energy: float) -> str:
    """Gives an energy [J] to three digits and without a power of ten, as a person would write it."""
    if energy < 0.1:
        return "under 0.1"
    return f"{energy:.1f}" if energy < 100 else f"{float(f'{energy:.3g}'):.0f}"


def medium_word(scene: GaugeScene):
    """Says what is to be thought of what the pipe is tested with."""
    if not scene.with_air:
        return WATER_TEST
    if scene.plastic:
        return AIR_IN_PLASTIC
    return METAL_AIR if scene.air_allowed else NO_AIR_TEST
