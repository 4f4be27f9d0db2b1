"""What a reader tries in lesson 06, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.units import Q_
from .picture import loss_words

WIND = Q_(5, "m/s")


def _saved(scenes, system: str) -> str:
    _, _, bare, once, twice = (scene.loss for scene in scenes)
    first, second = (loss_words(value, system) for value in (bare - once, once - twice))
    return (
        f"The first layer saves {first}. The second is as thick and saves {second}. That is only"
        f" **{(once - twice) / (bare - once):.1%}** of what the first saves. In wind the second is hardly worth"
        " fitting."
    )


def _gap(scenes, system: str) -> str:
    _, windy, gap, thicker = scenes
    before, after, double = (loss_words(scene.loss, system) for scene in (windy, gap, thicker))
    return (
        f"The bare tenth makes **{gap.gap_share:.0%} of the loss**. It raises the loss from {before} to {after}. Twice"
        f" the foam brings it to {double}. Only covering the gap mends it."
    )


TRIES = (
    Try(
        "Twice as thick",
        (
            Step("Carry the run outdoors: set {wind}. Note its loss in the large line.", {"wind": WIND}),
            Step(
                "Take the foam off: set {thickness}. Note the loss.",
                {"thickness": Q_(0, "mm")},
            ),
            Step(
                "Now set {thickness}. Note the loss.",
                {"thickness": Q_(20, "mm")},
                {"thickness": Q_(0.75, "in")},
            ),
            Step(
                "Double the foam: set {thickness}. How much did each layer save?",
                {"thickness": Q_(40, "mm")},
                {"thickness": Q_(1.5, "in")},
            ),
        ),
        _saved,
    ),
    Try(
        "The gap",
        (
            Step("Carry the run outdoors again: set {wind}.", {"wind": WIND}),
            Step(
                "Open a gap: set {bare_share}. What share of the heat leaves there?", {"bare_share": Q_(10, "percent")}
            ),
            Step(
                "Double the foam: set {thickness}. Did it mend the gap?",
                {"thickness": Q_(26, "mm")},
                {"thickness": Q_(1, "in")},
            ),
        ),
        _gap,
    ),
)
