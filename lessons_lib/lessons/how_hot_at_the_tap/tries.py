"""What a reader tries in lesson 02, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_
from ...runs.insulation import NONE

NO_WIND, WIND = Q_(0, "m/s"), Q_(5, "m/s")


def _wind(scenes, system: str) -> str:
    foam, foam_still, bare_still, bare = (scene.loss for scene in scenes)
    return (
        f"Wind makes the bare pipe lose **{bare / bare_still:.1f} times** as much. With foam it is"
        f" {foam / foam_still:.1f} times as much, because foam keeps the wind off."
    )


def _trickle(scenes, system: str) -> str:
    _, bare, slow = (show(Q_(scene.delivered, "degC"), "temperature", system) for scene in scenes)
    return (
        f"Without foam the water arrives at {bare} at full flow, and at **{slow}** at a trickle. Slow water has more"
        " time to lose its heat."
    )


TRIES = (
    Try(
        "Foam and wind",
        (
            Step("Note the loss on the card *Tap*. Stop the wind: set {wind}. Note it again.", {"wind": NO_WIND}),
            Step("Take the foam off: set {insulation}. Note the loss.", {"insulation": NONE}),
            Step(
                "Now set {wind}. How many times as much does the bare pipe lose in wind?",
                {"wind": WIND},
            ),
        ),
        _wind,
    ),
    Try(
        "The trickle",
        (
            Step("Take the foam off: set {insulation}. Read the large line.", {"insulation": NONE}),
            Step("Nearly shut the tap: set {flow}. How warm is the water now?", {"flow": Q_(1, "L/min")}),
        ),
        _trickle,
    ),
)
