"""The panel on setting a mixing valve by thermometer: tank, flow, patience, and the cold shut."""

from functools import lru_cache

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.tank import CANNOT_HOLD, HOLDS, USUAL_LEAST, mixing_valve
from ...quantities.display import SI, SYSTEMS, both, celsius, number, show, unit
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import scald_word
from ...runs.scald import BENCH_LIMIT, skin_words, time_to_burn
from .setting_picture import LONGEST, NOT_STEADY, RUNS_ON, STEADY, SettingPicture, SettingScene

SOUND, WORN = "A", "B"
OPEN, SHUT = "open", "shut"
TAPS = {"near": "Wash trough, indoors", "far": "Far sink, indoors"}  # of Tern Bank (invented)
NEAR_STEADY = 0.5  # [K] of the final reading
WARM = 30.0  # [degC] any temperature that the draw passes


def set_valve() -> Panel:
    """A mixing valve and two taps of Tern Bank's workshop (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The tank": {
                "tank": Slide(
                    "Tank now",
                    "temperature",
                    start["tank"],
                    (40, 75, 1),
                    (104, 167, 1),
                    "of the hot water that reaches the valve",
                ),
                "highest": Slide(
                    "Its highest",
                    "temperature",
                    start["highest"],
                    (55, 75, 1),
                    (131, 167, 1),
                    "the final and highest temperature of the tank",
                ),
                "cold": Slide(
                    "Cold inlet",
                    "temperature",
                    start["cold"],
                    (5, 25, 1),
                    (41, 77, 1),
                    "of the cold water that reaches the valve",
                ),
            },
            "The valve": {
                "valve": Choice("Valve", [SOUND, WORN], start["valve"], "two valves of one kind; one of them is worn"),
                "knob": Slide(
                    "Knob", "temperature", start["knob"], (35, 60, 1), (95, 140, 1), "what the valve is told to give"
                ),
                "stop": Choice(
                    "Cold stop", [OPEN, SHUT], start["stop"], "shut it to see whether the outlet falls to a trickle"
                ),
            },
            "The tap": {
                "tap": Choice(
                    "Tap", list(TAPS), start["tap"], "where the thermometer is: the nearest tap or the far one"
                ),
                "flow": usual.flow(start["flow"]),
                "seconds": Slide(
                    "Open for",
                    "seconds",
                    start["seconds"],
                    (2, LONGEST, 2),
                    (2, LONGEST, 2),
                    "time since the tap was opened",
                ),
            },
        },
        calculate,
        SettingPicture,
        readouts,
        ready,
        headline=headline,
    )


def ready_made() -> dict:
    """Gives ready-made settings: title → settings."""
    found = {
        "tank": Q_(50, "degC"),
        "highest": Q_(65, "degC"),
        "cold": Q_(10, "degC"),
        "valve": SOUND,
        "knob": Q_(48, "degC"),
        "stop": OPEN,
        "tap": "near",
        "flow": Q_(3, "L/min"),
        "seconds": Q_(4, "s"),
    }
    done = {**found, "tank": Q_(65, "degC"), "knob": Q_(44, "degC"), "flow": Q_(6, "L/min"), "seconds": Q_(90, "s")}
    return {"In a hurry": found, "Valve A, with patience": done, "Valve B, with patience": {**done, "valve": WORN}}


def calculate(state: dict) -> SettingScene:
    """Turns the controls' values into a scene. Raises InputError."""
    tank, cold, knob, flow = (state[name] for name in ("tank", "cold", "knob", "flow"))
    highest = max(state["highest"], tank)
    outlet, holds, why = _outlet(tank, cold, knob, flow)
    shut, worn = state["stop"] == SHUT, state["valve"] == WORN
    later = highest if shut and worn else _outlet(highest, cold, knob, flow)[0]
    times, readings = _way(state["tap"], outlet.to("degC").magnitude, flow.to("m**3/s").magnitude)
    seconds = state["seconds"].to("s").magnitude
    reading = float(np.interp(seconds, times, readings))
    shown = times <= LONGEST
    burn = time_to_burn(later)
    return SettingScene(
        tank=tank.to("degC").magnitude,
        highest=state["highest"].to("degC").magnitude,
        cold=cold.to("degC").magnitude,
        knob=knob.to("degC").magnitude,
        seconds=seconds,
        tap=state["tap"],
        holds=holds,
        why=why,
        outlet=outlet.to("degC").magnitude,
        later=later.to("degC").magnitude,
        times=np.append(times[shown], LONGEST),
        readings=np.append(readings[shown], np.interp(LONGEST, times, readings)),
        reading=reading,
        steady=abs(reading - readings[-1]) <= NEAR_STEADY,
        shut=shut,
        worn=worn,
        burn_seconds=burn.seconds.magnitude,
        burn_bound=burn.bound,
    )


@lru_cache(maxsize=100)
def _way(name: str, outlet: float, flow: float) -> tuple:
    """Times [s] and temperatures [degC] at a tap after it was opened: the first draw of its run. outlet [degC], flow
    [m3/s]
    """
    settings = usual.tern_bank_runs()[TAPS[name]]
    draw = usual.run_of(settings).first_draw(celsius(outlet), Q_(flow, "m**3/s"), settings["air"], celsius(WARM))
    return draw.time.magnitude, draw.temperature.magnitude


def _outlet(hot, cold, knob, flow) -> tuple:
    """Gives what to reckon with at the valve's outlet, whether it holds, and why not in each unit system."""
    if knob >= hot:
        return hot, False, dict.fromkeys(SYSTEMS, "the knob asks for more than the tank has")
    found = {
        system: mixing_valve(hot.to(unit("temperature", system)), cold, knob, flow, **USUAL_LEAST) for system in SYSTEMS
    }
    one = found[SI]
    return one.hottest, one.word == HOLDS, {system: valve.reason for system, valve in found.items()}


def headline(scene: SettingScene, system: str) -> str:
    """Says what the tap may give when the tank is at its hottest."""
    return f"When hottest, the tap gives {show(celsius(scene.later), 'temperature', system)}: {scald_word(scene.later)}"


def readouts(scene: SettingScene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    valve = valve_word(scene)
    reading, test, scald = (
        STEADY if scene.steady else NOT_STEADY,
        scene.test or Word("not tried", 1),
        scald_word(scene.later),
    )
    highest, thermometer, later = (
        show(celsius(value), "temperature", system) for value in (scene.highest, scene.reading, scene.later)
    )
    return [
        Readout("Valve", valve, f"tank {number(celsius(scene.tank), 'temperature', system)} of {highest}"),
        Readout("Thermometer", reading, f"{thermometer} at the {scene.tap} tap"),
        Readout("Cold shut", test, "the outlet of the valve"),
        Readout("Scald", scald, f"{later} when hottest; {skin_words(scene.burn_seconds, scene.burn_bound)}"),
    ]


def valve_word(scene: SettingScene) -> Word:
    """Says whether the valve's reading may be trusted."""
    if not scene.holds:
        return CANNOT_HOLD
    return HOLDS if scene.at_highest else Word("tank not at its highest", 1)


def setting_not_yet(scene: SettingScene, system: str) -> str:
    """Why the valve is not set; "": it is."""
    if not scene.at_highest:
        return "the tank is not at its final and highest temperature."
    if not scene.holds:
        return f"the valve can't hold: {scene.why[system]}."
    if not scene.steady:
        return "the thermometer is not steady yet."
    if scene.outlet > BENCH_LIMIT.magnitude:
        return f"the outlet is above {both(BENCH_LIMIT, 'temperature')}, the limit at learners' taps."
    if not scene.shut:
        return "nobody has shut the cold to see the outlet fall to a trickle."
    return "with the cold shut it runs on hot: this valve is worn, take the other." if scene.test == RUNS_ON else ""
