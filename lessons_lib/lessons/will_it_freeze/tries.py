"""What a reader tries in lesson 07, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import ice_after
from ...quantities.units import Q_
from ...runs.insulation import NONE
from .picture import CIRCULATOR, NIGHT, TAPE

TWICE, THICKEST, THICKEST_US = Q_(38, "mm"), Q_(40, "mm"), Q_(1.5, "in")


def _valve(scenes, system: str) -> str:
    covered, bare, calm = (ice_after(scene.ice_after) for scene in scenes)
    return (
        f"Under foam ice can form after {covered}. In the bare valve it can form after **{bare}**. On a calm night the"
        f" valve has {calm}. One plug of ice stops the whole run."
    )


def _time(scenes, system: str) -> str:
    once, _, twice = (scene.ice_after for scene in scenes)
    return (
        f"Twice the foam gives {ice_after(twice)} instead of {ice_after(once)}. That is **{twice / once:.1f} times** as"
        f" long. After hot water at dusk, with the first foam, ice can form after {ice_after(scenes[0].hot_ice_after)}."
        " In an empty house nobody draws hot water."
    )


def _cut(scenes, system: str) -> str:
    _, pumped, taped, thick = scenes
    return (
        f"After the power cut ice can form in {ice_after(pumped.in_hand)} with the circulator and in"
        f" **{ice_after(taped.in_hand)}** with heat tape. The thickest foam makes that {ice_after(thick.in_hand)}."
        f" Dawn is {NIGHT - thick.fails:.0f} h away. Tape and circulator stop with the power."
    )


TRIES = (
    Try(
        "One bare valve",
        (
            Step(
                "Read the large line: when can ice form? At the valve the foam is missing. Set {insulation}. Read the"
                " line again.",
                {"insulation": NONE},
            ),
            Step("Calm the night: set {wind}. Does that save the valve?", {"wind": Q_(0, "m/s")}),
        ),
        _valve,
    ),
    Try(
        "Buying time",
        (
            Step("The card *Just used* is for a pipe that carried hot water at dusk. Note its time to ice."),
            Step(
                "Double the foam: set {thickness}. Does the large line show twice the time?",
                {"thickness": TWICE},
                {"thickness": THICKEST_US},
            ),
        ),
        _time,
    ),
    Try(
        "The power fails at night",
        (
            Step("Pump hot water round: set {keeps}. Read the large line.", {"keeps": CIRCULATOR}),
            Step("Use heat tape instead: set {keeps}. Read the line again.", {"keeps": TAPE}),
            Step(
                "Set {thickness}. Does the run last until dawn?",
                {"thickness": THICKEST},
                {"thickness": THICKEST_US},
            ),
        ),
        _cut,
    ),
)
