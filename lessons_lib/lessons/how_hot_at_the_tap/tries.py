"""What a reader tries in lesson 02, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_
from ...runs.insulation import NONE

NO_WIND, WIND = Q_(0, "m/s"), Q_(5, "m/s")


def _wind(scenes, system: str) -> str:
    foam, foam_still, bare_still, bare = (scene.loss for scene in scenes)
    return (
        f"Wind makes the bare pipe lose **{bare / bare_still:.1f} times** as much. With foam it loses"
        f" {foam / foam_still:.1f} times as much, because foam keeps the wind off."
    )


def _trickle(scenes, system: str) -> str:
    full, bare, slow = (
        show(Q_(scene.supply - scene.delivered, "delta_degC"), "temperature drop", system) for scene in scenes
    )
    return (
        f"At full flow the water cools by {full} with foam and by {bare} without. At a trickle, without foam, it"
        f" cools by **{slow}**. Slow water has more time to lose its heat."
    )


TRIES = (
    Try(
        "Foam and wind",
        (
            Step("Note the loss on the card *Tap*. Set {wind}. Note it again.", {"wind": NO_WIND}),
            Step("Take the foam off: set {insulation}. Note the loss.", {"insulation": NONE}),
            Step("Set {wind}. How much more does the bare pipe lose in wind?", {"wind": WIND}),
        ),
        _wind,
    ),
    Try(
        "The trickle",
        (
            Step("Set {insulation}. Read the large line. How warm is the water?", {"insulation": NONE}),
            Step("Nearly shut the tap: set {flow}. How warm is it now?", {"flow": Q_(1, "L/min")}),
        ),
        _trickle,
    ),
)
