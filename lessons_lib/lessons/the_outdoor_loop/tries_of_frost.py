"""What a reader tries on the panel of frost, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, duration, show
from ...quantities.units import Q_
from .frost_choices import CUT, VALVE_OPENS


def _cold(scenes, system: str) -> str:
    damp, cold = scenes
    more, less = (show(Q_(scene.daily, "kg"), "mass", system) for scene in (damp, cold))
    return (
        f"The coil collects less ice, **{less}** instead of {more} a day, for cold air holds little water. A defrost"
        f" takes {duration(cold.lasts)} instead of {duration(damp.lasts)}. Damp air near freezing is the hardest."
    )


def _cut(scenes, system: str) -> str:
    _, cold, _, valve = scenes
    words = "" if cold.hours_to_ice == float("inf") else f"Ice can form after {duration(3600 * cold.hours_to_ice)}. "
    return (
        f"Frost mode needs its pump, and so stops with the power. {words}A frost valve opens by itself and lets the"
        f" water out: the loop **{valve.loop_word}**, but it has to be filled and purged again."
    )


FROST_TRIES = (
    Try(
        "Colder air",
        (Step("Note the day's ice. Make it cold: set {air}. Is there more ice?", {"air": celsius(-15.0)}),),
        _cold,
    ),
    Try(
        "The power fails",
        (
            Step("Make it cold: set {air}.", {"air": celsius(-12.0)}),
            Step("Set {supply}. What guards the loop now?", {"supply": CUT}),
            Step("Set {mode}. What does a valve do?", {"mode": VALVE_OPENS}),
        ),
        _cut,
    ),
)
