"""The main panel: pipe, length, insulation and set temperature together."""

import numpy as np

from ...drawing.standing import span_for
from ...panels import shared_controls as usual
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import cooling
from ...physics.delivery import Delivery, along
from ...quantities.display import celsius, ice_parts, show
from ...quantities.units import Q_, number_in
from ...runs.assessment import assess, store_word
from ...runs.bacteria import RECOMMENDED_STORE
from ...runs.common_values import WARM_ENOUGH
from ...runs.cooling_freezing import CURVE_POINTS
from ...runs.scald import skin_words
from .picture import MainPicture, Scene
from .tries import TRIES

ICE_SHARES = np.array([0.02, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0])


def main() -> Panel:
    """The main panel, opened on Tern Bank's cabin run (invented)."""
    ready = usual.tern_bank_runs()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The run": {
                name: getattr(usual, name)(start[name]) for name in ("pipe", "length", "insulation", "thickness")
            },
            "The water": {name: getattr(usual, name)(start[name]) for name in ("supply", "flow", "cold")},
            "The weather at the pipe": {name: getattr(usual, name)(start[name]) for name in ("air", "wind")},
        },
        calculate,
        MainPicture,
        readouts,
        ready,
        usual.idle_thickness,
        headline=headline,
        tries=TRIES,
    )


def calculate(state: dict) -> Scene:
    """Turns the controls' values into a scene. Raises InputError."""
    run, supply, cold = usual.run_of(state), state["supply"], state["cold"]
    found = assess(run, supply, state["flow"], start=cold, useful=WARM_ENOUGH)
    hours_to_zero, begin, hot = found.freeze.value.magnitude, found.freezing.start, number_in(supply, "degC")
    ice_hours = found.freezing.hours_to_share(ICE_SHARES).magnitude
    span = span_for(hours_to_zero, ice_hours[-1])
    seconds = np.linspace(0.0, 3600 * span, CURVE_POINTS)
    standing = cooling.curve(found.freezing.parts[-1], np.array([begin, hot]), seconds)
    section, delivered = run.line.section, found.tap.value.magnitude
    return Scene(
        air=float(run.line.around.temperature),
        wind=float(run.line.around.wind),
        pipe_material=run.pipe.material,
        bore=section.inside_diameter,
        pipe_outside=section.outside_diameter,
        outside=section.outside_of_insulation,
        thickness=0.5 * (section.outside_of_insulation - section.outside_diameter),
        length=run.metres,
        supply=hot,
        delivered=delivered,
        along=along(run.line, hot, Delivery(delivered, found.ice_distance.magnitude), run.metres),
        ice_distance=found.ice_distance.magnitude,
        loss=run.heat_loss(supply, state["flow"]).magnitude,
        burn_seconds=found.burn.seconds.magnitude,
        burn_bound=found.burn.bound,
        cold_inlet=begin,
        hours_to_zero=hours_to_zero,
        rest=float(run.line.rest()),
        span=span,
        hours=seconds / 3600,
        standing_cold=standing[:, 0],
        standing_warm=standing[:, 1],
        ice_hours=np.concatenate([[hours_to_zero], ice_hours]),
        ice_shares=np.concatenate([[0.0], ICE_SHARES]),
        words=(found.tap.word, found.scald.word, found.freeze.word),
    )


def headline(scene: Scene, system: str) -> str:
    """Says what comes out of the tap, and whether it scalds."""
    arrives = "ice" if scene.freezes else show(celsius(scene.delivered), "temperature", system)
    return f"At the tap: {arrives}, {scene.words[1]}"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    store, (tap, scald, freeze) = store_word(scene.supply), scene.words
    arrives, stored = (show(celsius(value), "temperature", system) for value in (scene.delivered, scene.supply))
    loss = show(Q_(scene.loss, "W/m"), "heat loss", system)
    return [
        Readout("Tank", store, f"{stored}; advice: {show(RECOMMENDED_STORE, 'temperature', system)} up"),
        Readout("Tap", tap, f"{'ice' if scene.freezes else arrives}; loses {loss}"),
        Readout("Scald", scald, skin_words(scene.burn_seconds, scene.burn_bound)),
        Readout("Frost", freeze, ice_parts(scene.hours_to_zero, scene.rest)[-1]),
    ]
