"""What a reader tries in lesson 02, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import ice_after, show
from ...quantities.units import Q_
from ...runs.insulation import NONE

NO_WIND, WIND = Q_(0, "m/s"), Q_(5, "m/s")
FOAM, DOUBLE = Q_(19, "mm"), Q_(38, "mm")


def _wind(scenes, system: str) -> str:
    foam, foam_still, bare_still, bare = (scene.loss for scene in scenes)
    return (
        f"Wind makes the bare pipe lose **{bare / bare_still:.1f} times** as much. The covered pipe loses only"
        f" **{foam / foam_still:.1f} times** as much. Foam keeps the wind off."
    )


def _trickle(scenes, system: str) -> str:
    full, bare, slow = (
        show(Q_(scene.supply - scene.delivered, "delta_degC"), "temperature drop", system) for scene in scenes
    )
    return (
        f"With foam and full flow the water cools by {full}. Without foam it cools by {bare}. Without foam and at a"
        f" trickle it cools by **{slow}**, because slow water has more time to lose its heat."
    )


def _ice(scenes, system: str) -> str:
    first, _, double, larger = (scene.hours_to_zero for scene in scenes)
    return (
        f"At first ice can form after {ice_after(first)}. Twice the foam gives {ice_after(double)}, the"
        f" larger pipe gives {ice_after(larger)}. **Neither doubles the time.** Foam only slows the cooling."
    )


TRIES = (
    Try(
        "Foam and wind",
        (
            Step("Look at the card *Tap* and note the loss. Set {wind}. Note the loss again.", {"wind": NO_WIND}),
            Step("Take the foam off: set {insulation}. Note the loss.", {"insulation": NONE}),
            Step("Set {wind}. How many times does wind multiply the loss, with foam and without?", {"wind": WIND}),
        ),
        _wind,
    ),
    Try(
        "The trickle",
        (
            Step("Set {insulation}. Read the large line: how warm is the water now?", {"insulation": NONE}),
            Step("Nearly shut the tap: set {flow}. How warm is it now?", {"flow": Q_(1, "L/min")}),
        ),
        _trickle,
    ),
    Try(
        "A night without a draw",
        (
            Step("Look at the card *Frost*. Note when ice can form."),
            Step(
                "Double the foam: set {thickness}. Note the time again.",
                {"thickness": DOUBLE},
                {"thickness": Q_(1.5, "in")},
            ),
            Step(
                "Set {thickness}. Take a larger pipe: set {pipe}. Did either of them double the time?",
                {"thickness": FOAM, "pipe": ("copper L", "1 in")},
            ),
        ),
        _ice,
    ),
)
