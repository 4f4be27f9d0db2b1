"""The main panel of lesson 14: a run to the taps with a return, and what it costs and saves in a day."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import pressure as hydraulics
from ...physics.heat_pump import cop
from ...quantities.display import show, stopwatch
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.bacteria import RECOMMENDED_STORE
from ...runs.common_values import WARM_ENOUGH
from ...runs.first_draw import waits
from ...runs.flow import speed_limit
from .going_round import carried, flow_that_holds, holds
from .picture import AT_TANK, AT_TAPS, RecirculationPicture, RecirculationScene
from .returns import return_word
from .tries import TRIES

OUTDOORS = Q_(7, "degC")  # at the heat pump: a mild day, for its COP
TAP = Q_(6, "L/min")  # at the tap that waits, and what a pump on demand moves
DAY = 24.0  # [h]
NEARLY = 1.0  # [K] below the warmest that the tap ever gets, where that is not warm enough: there the wait ends
# [h] off in a day, beyond which the water stands too long: the pump runs 16 of 24 hours at least (DVGW W 551, as
# quoted in secondary literature)
LONGEST_OFF = 8.0
ROUND_THE_CLOCK, RESTS, RESTS_LONG = (
    Word("round the clock", 0),
    Word("rests part of the day", 1),
    Word("rests too long", 2),
)
WEARS, CALM = Word("fast enough to wear the pipe", 1), Word("calm enough", 0)


def recirculation() -> Panel:
    """A run with a return in Tern Bank's workshop (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        _controls(start),
        calculate,
        RecirculationPicture,
        readouts,
        ready,
        usual.idle_thickness,
        headline=headline,
        tries=TRIES,
    )


def _controls(start: dict) -> dict:
    """Gives the controls of the run, of its return and of the day."""
    away = "from the heater to the last tap; the return is as long again"
    warm = "of the water that goes round: the heater's, or the mixing valve's where that is at the tank"
    below = "by how much the water may be cooler when it is back at the heater"
    valve = "where the water is mixed: at the taps, or at the tank, so that mixed water goes round"
    return {
        "The run to the taps": {
            "pipe": usual.pipe(start["pipe"]),
            "length": Slide("Length", "length", start["length"], (5, 60, 1), (16, 200, 1), away),
            "insulation": usual.insulation(start["insulation"]),
            "thickness": usual.thickness(start["thickness"]),
        },
        "The water that goes round": {
            "back": usual.pipe(start["back"], "Return"),
            "supply": Slide("Set temperature", "temperature", start["supply"], (40, 70, 1), (104, 158, 1), warm),
            "drop": Slide("Allowed drop", "temperature difference", start["drop"], (1, 12, 1), (2, 22, 1), below),
            "valve": Choice("Mixing valve", [AT_TAPS, AT_TANK], start["valve"], valve),
        },
        "The day": {
            "hours": Slide("Pump on", "hours", start["hours"], (1, 24, 1), (1, 24, 1), "hours a day, by its timer"),
            "watts": Slide("Pump", "power", start["watts"], (3, 100, 1), (3, 100, 1), "electricity that it takes"),
            "draws": Slide(
                "Cold draws", "count", start["draws"], (0, 40, 1), (0, 40, 1), "a day, that begin on a cooled pipe"
            ),
            "air": Slide("Air", "temperature", start["air"], (5, 25, 1), (41, 77, 1), "around both pipes, indoors"),
        },
    }


def ready_made() -> dict:
    """Tern Bank's bath house (invented), as found and after changes: title → settings."""
    found = {
        "pipe": ("copper EN 1057", "22 mm"),
        "length": Q_(24, "m"),
        "insulation": "elastomeric foam",
        "thickness": Q_(13, "mm"),
        "back": ("copper EN 1057", "15 mm"),
        "supply": RECOMMENDED_STORE,
        "drop": Q_(5, "delta_degC"),
        "valve": AT_TAPS,
        "hours": Q_(24, "h"),
        "watts": Q_(25, "W"),
        "draws": Q_(12, ""),
        "air": Q_(18, "degC"),
    }
    return {
        "Bath house, as found": found,
        "Bath house, bare pipes": {**found, "insulation": "none", "thickness": Q_(0, "mm")},
        "Bath house mixed at the tank": {**found, "supply": Q_(48, "degC"), "valve": AT_TANK},
    }


def runs_of(state: dict):
    """Supply and return as runs. Raises InputError."""
    still = {**state, "wind": Q_(0, "m/s")}
    return usual.run_of(still), usual.run_of({**still, "pipe": state["back"]})


def calculate(state: dict) -> RecirculationScene:
    """Turns the controls' values into a scene. Raises InputError."""
    supply, back = runs_of(state)
    hot, air = state["supply"].to("degC").magnitude, state["air"].to("degC").magnitude
    drop = state["drop"].to("delta_degC").magnitude
    found = flow_that_holds(supply, back, hot, drop)
    useful = min(WARM_ENOUGH, Q_(float(supply.deliver(state["supply"], TAP).temperature) - NEARLY, "degC"))
    wait = float(waits(supply.runs, state["supply"], TAP, state["air"], useful).magnitude)
    litres = TAP.to("L/s").magnitude * wait
    heat = carried(hot, air, litres / 1000) * (hot - air) / 3.6e6  # [kWh] that enters the pipe until then
    hours, watts = state["hours"].to("h").magnitude, state["watts"].to("W").magnitude
    draws = state["draws"].magnitude
    store = max(hot, RECOMMENDED_STORE.magnitude) if state["valve"] == AT_TANK else hot
    gives = float(cop(store, OUTDOORS.magnitude))
    speed = float(hydraulics.speed(found.flow, back.line.inside_diameter))
    warming = _warming(supply, back, found, air, hours)
    return RecirculationScene(
        valve=state["valve"],
        length=state["length"].to("m").magnitude,
        thickness=0.5 * (supply.line.section.outside_of_insulation - supply.line.section.outside_diameter),
        hot=hot,
        store=store,
        air=air,
        drop=drop,
        flow=found.flow,
        far=found.far,
        returns=found.returns,
        out=found.out,
        home=found.home,
        loss=found.loss,
        pressure=found.pressure,
        speed=speed,
        limit=float(speed_limit(back.pipe, Q_(found.returns, "degC")).high.magnitude),
        hours=hours,
        watts=watts,
        draws=draws,
        wait=wait,
        cop=gives,
        water=draws * litres,
        without=draws * heat / gives,
        heat=(found.loss * hours / 1000 + warming) / gives,
        pump=watts * hours / 1000,
        on_demand=draws * (heat / gives + watts * wait / 3.6e6),
    )


def _warming(supply, back, found, air: float, hours: float) -> float:
    """Heat that warms both pipes again after the hours without the pump [kWh], once a day.

    They cool by the exponential law, at the loss that they have while the water goes round.
    """
    off = 3600 * (DAY - hours)
    mean = 0.25 * (found.out[0] + 2 * found.far + found.returns)
    above = mean - air
    stored = holds(supply, mean) + holds(back, mean)
    return stored * above * -np.expm1(-off * found.loss / (stored * above)) / 3.6e6


def hours_word(hours: float) -> Word:
    """One word for the hours a day that the pump runs."""
    if hours >= DAY:
        return ROUND_THE_CLOCK
    return RESTS if DAY - hours <= LONGEST_OFF else RESTS_LONG


def speed_word(scene: RecirculationScene) -> Word:
    """One word for the water's speed in the return."""
    return WEARS if scene.speed > scene.limit else CALM


def headline(scene: RecirculationScene, system: str) -> str:
    """Says which flow holds the allowed drop, and how warm the water is that comes back."""
    flow = show(Q_(scene.flow, "m**3/s"), "measured flow", system)
    return f"{flow} come back at {show(Q_(scene.returns, 'degC'), 'temperature', system)}"


def readouts(scene: RecirculationScene, system: str) -> list[Readout]:
    """Return, timer, speed, day."""
    back = show(Q_(scene.returns, "degC"), "temperature", system)
    speed, limit = (show(Q_(value, "m/s"), "speed", system) for value in (scene.speed, scene.limit))
    water = show(Q_(scene.water, "L"), "large volume", system)
    off = f"{scene.hours:.0f} h on, {DAY - scene.hours:.0f} h off"
    saved = f"saves {water} and {stopwatch(scene.wait)} a draw" if scene.draws else "no cold draw to save"
    return [
        Readout("Return", return_word(scene.returns), back),
        Readout("Timer", hours_word(scene.hours), off),
        Readout("Speed back", speed_word(scene), f"{speed}; limit {limit}"),
        Readout("A day", day_word(scene), f"{scene.with_return:.1f} kWh; {saved}"),
    ]


def day_word(scene: RecirculationScene) -> Word:
    """One word for the electricity of the return beside that of waiting."""
    return DEAR if scene.with_return > scene.without else CHEAP


DEAR, CHEAP = Word("costs more than waiting", 1), Word("costs no more than waiting", 0)
