"""The panel of a loop that runs by itself: a warm tank, a cold outdoor unit, and a pump that stands."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import thermosiphon as physics
from ...physics.convection import inside_resistance
from ...physics.properties import FREEZING, water
from ...quantities.display import EDGE, both, celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import FREEZES_IN_THE_RUN, SAFE_FROM_ICE
from ...runs.bacteria import RECOMMENDED_STORE
from ...runs.common_values import LONG_NIGHT
from .going_round import leg_of
from .thermosiphon_picture import ThermosiphonPicture, ThermosiphonScene
from .tries import LOOP_TRIES

TANK = Q_(200, "L")
UNIT_ABOVE = Q_(50, "delta_degC")  # its water above the air, at which the unit's loss is given
STANDS, RUNS = Word("stays at rest", 0), Word("runs by itself", 1)
NO_FROST, CAN_FREEZE = Word("no frost in this air", 0), Word("nothing keeps it warm", 2)
# [K] that the tank cools in a long night by this loop alone: from here on the word (common practice, no source)
NIGHT_WORDS = ((10.0, Word("emptied of heat", 2)), (2.0, Word("loses heat", 1)), (-np.inf, Word("keeps its heat", 0)))
LITTLE = 1e-3  # [kg/s] at which the lines' films are taken: laminar, where they do not depend on the flow


def thermosiphon() -> Panel:
    """Tern Bank's outdoor loop (invented) with its pump at rest."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The loop": {
                "pipe": usual.pipe(start["pipe"]),
                "length": Slide("Length", "length", start["length"], (2, 30, 1), (7, 98, 1), "of each line, outdoors"),
                "insulation": usual.insulation(start["insulation"]),
                "thickness": usual.thickness(start["thickness"]),
            },
            "Heights": _heights(start),
            "Tank, unit and frost": {
                "store": Slide(
                    "Tank", "temperature", start["store"], (40, 70, 1), (104, 158, 1), "its water, taken as one"
                ),
                "unit": Slide(
                    "Unit loses",
                    "heat",
                    start["unit"],
                    (0, 500, 5),
                    (0, 1700, 10),
                    f"while its water is {both(UNIT_ABOVE, 'temperature difference')} above the air",
                ),
                "air": Slide("Air", "temperature", start["air"], (-25, 20, 1), (-13, 68, 1), "at the unit and lines"),
                "opening": Slide(
                    "Check valve",
                    "small pressure",
                    start["opening"],
                    (0, 5000, 50),
                    (0, 20, 0.2),
                    "pressure at which it opens; 0: there is none",
                ),
            },
        },
        calculate,
        ThermosiphonPicture,
        readouts,
        ready,
        usual.idle_thickness,
        headline=headline,
        tries=LOOP_TRIES,
    )


def _heights(start: dict) -> dict:
    """Gives the controls of what lies above what."""
    above = "of the unit's water above the tank's lower port; below zero: under it"
    apart = "from the tank's lower port up to its upper one"
    trap = "depth of the bend that first leads the hot line down; 0: none"
    return {
        "height": Slide("Unit's height", "length", start["height"], (-3, 5, 0.1), (-10, 16, 1), above),
        "apart": Slide("Ports apart", "length", start["apart"], (0.4, 1.5, 0.1), (1, 5, 1), apart),
        "trap": Slide("Heat trap", "length", start["trap"], (0, 0.5, 0.1), (0, 2, 1), trap),
    }


def ready_made() -> dict:
    """Tern Bank's outdoor loop (invented), without and with a check valve, and hung low: title → settings."""
    found = {
        "pipe": ("copper EN 1057", "22 mm"),
        "length": Q_(8, "m"),
        "insulation": "elastomeric foam",
        "thickness": Q_(19, "mm"),
        "height": Q_(2.5, "m"),
        "apart": Q_(1, "m"),
        "trap": Q_(0, "m"),
        "store": RECOMMENDED_STORE,
        "unit": Q_(100, "W"),
        "air": Q_(-10, "degC"),
        "opening": Q_(0, "Pa"),
    }
    return {
        "Unit above the tank": found,
        "Unit above, check valve fitted": {**found, "opening": Q_(2000, "Pa")},
        "Unit below the tank": {**found, "height": Q_(-2, "m")},
    }


def loop_of(state: dict) -> physics.Loop:
    """The loop in SI floats. Raises InputError."""
    run = usual.run_of({**state, "wind": Q_(0, "m/s")})
    hot, air = (state[name].to("degC").magnitude for name in ("store", "air"))
    height, apart, trap = (state[name].to("m").magnitude for name in ("height", "apart", "trap"))
    rest, length = float(run.line.rest()), run.metres
    film = inside_resistance(run.line.inside_diameter, water(hot), LITTLE)
    conductance = float(run.line.conductance(hot, rest, film)[0])
    leg = leg_of(run)
    bend = ((trap, apart - trap), (2 * trap, apart)) if trap > 0 else ()
    hot_way = physics.Way(
        ((0.0, apart), *bend, (2 * trap + length, height)), conductance, leg._replace(length=length + 2 * trap)
    )
    cold_way = physics.Way(((0.0, height), (length, 0.0)), conductance, leg)
    return physics.Loop(hot_way, cold_way, state["unit"].to("W").magnitude / UNIT_ABOVE.magnitude, hot, air)


def calculate(state: dict) -> ThermosiphonScene:
    """Turns the controls' values into a scene. Raises InputError."""
    loop, opening = loop_of(state), state["opening"].to("Pa").magnitude
    found = physics.circulates(loop, opening)
    seconds = 3600 * LONG_NIGHT.magnitude
    inside = water(loop.tank)
    holds = TANK.to("m**3").magnitude * inside.density * inside.heat_capacity  # [J/K]
    above = loop.tank - loop.air
    cools = above * -np.expm1(-found.watts * seconds / (holds * above))
    return ThermosiphonScene(
        tank=loop.tank,
        air=loop.air,
        height=state["height"].to("m").magnitude,
        apart=state["apart"].to("m").magnitude,
        trap=state["trap"].to("m").magnitude,
        opening=opening,
        flow=found.mass_flow / float(inside.density),
        driving=found.driving,
        reaches=found.reaches,
        leaves=found.leaves,
        returns=found.returns,
        watts=found.watts,
        cools=float(cools),
        hours=LONG_NIGHT.magnitude,
    )


def flow_word(scene: ThermosiphonScene) -> Word:
    """Says whether the loop runs."""
    return RUNS if scene.flow > 0 else STANDS


def frost_word(scene: ThermosiphonScene) -> Word:
    """Says what the outdoor end has to expect."""
    if scene.air > FREEZING:
        return NO_FROST
    if not scene.flow:
        return CAN_FREEZE
    return SAFE_FROM_ICE if scene.returns >= EDGE else FREEZES_IN_THE_RUN


def night_word(scene: ThermosiphonScene) -> Word:
    """Says what a long night takes out of the tank by this way."""
    return next(word for least, word in NIGHT_WORDS if scene.cools >= least)


def headline(scene: ThermosiphonScene, system: str) -> str:
    """Says whether the loop runs by itself, and what it takes out of the tank."""
    if not scene.flow:
        return "The loop stands still"
    return f"Runs by itself, takes {show(Q_(scene.watts, 'W'), 'heat', system)} from the tank"


def readouts(scene: ThermosiphonScene, system: str) -> list[Readout]:
    """Flow, outdoor end, tank."""
    push, holds = (show(Q_(value, "Pa"), "small pressure", system) for value in (scene.driving, scene.opening))
    flow = show(Q_(scene.flow, "m**3/s"), "measured flow", system)
    back = show(celsius(scene.returns), "temperature", system)
    cools = show(Q_(scene.cools, "delta_degC"), "temperature drop", system)
    return [
        Readout("Loop", flow_word(scene), flow if scene.flow else f"push {push}, valve {holds}"),
        Readout("Outdoor end", frost_word(scene), f"comes back at {back}" if scene.flow else "pump and power off"),
        Readout("Tank", night_word(scene), f"{cools} in {scene.hours:.0f} h"),
    ]
