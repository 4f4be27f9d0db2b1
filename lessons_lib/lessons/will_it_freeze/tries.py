"""What a reader tries in lesson 07, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import ice_after
from ...quantities.units import Q_
from ...runs.insulation import NONE
from .picture import CIRCULATOR, NIGHT, TAPE

THICKEST, THICKEST_US = Q_(40, "mm"), Q_(1.5, "in")


def _valve(scenes, system: str) -> str:
    covered, bare, calm = (ice_after(scene.ice_after) for scene in scenes)
    return (
        f"Under foam ice can form after {covered}. In the bare valve it is **{bare}**, on a calm night {calm}. One plug"
        " of ice stops the whole run."
    )


def _cut(scenes, system: str) -> str:
    _, pumped, taped, thick = scenes
    rest = NIGHT - thick.fails
    return (
        f"From the power cut to the first ice it takes {ice_after(pumped.in_hand)} with the circulator and"
        f" **{ice_after(taped.in_hand)}** with heat tape. The thickest foam makes that {ice_after(thick.in_hand)}."
        f" From the cut to dawn it is {rest:.0f} h, so the run {'lasts' if thick.in_hand >= rest else 'does not last'}."
    )


TRIES = (
    Try(
        "One bare valve",
        (
            Step(
                "Read the large line. The valve has no foam: set {insulation}. Read the line again.",
                {"insulation": NONE},
            ),
            Step("Calm the night: set {wind}. Does that save the valve?", {"wind": Q_(0, "m/s")}),
        ),
        _valve,
    ),
    Try(
        "The power fails at night",
        (
            Step(
                "The power fails 4 h after dusk. Pump hot water: set {keeps}. Read the line.",
                {"keeps": CIRCULATOR},
            ),
            Step("Use tape instead: set {keeps}. Read again.", {"keeps": TAPE}),
            Step(
                "Set {thickness}. Does the run last until dawn?",
                {"thickness": THICKEST},
                {"thickness": THICKEST_US},
            ),
        ),
        _cut,
    ),
)
