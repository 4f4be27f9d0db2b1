"""What a reader tries in lesson 13, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, show
from ...quantities.units import Q_
from .picture import how_soon, per_litre, scale_mass

HALF, HOTTER, LARGE = Q_(150, "mg/L"), celsius(70.0), Q_(2.0, "m**2")


def _half(scenes, system: str) -> str:
    hard, soft = scenes
    return (
        f"Not half. {per_litre(soft.falls, system)} come down instead of {per_litre(hard.falls, system)},"
        f" **{100 * soft.falls / hard.falls:.0f} %**. Softer water holds on to more of its calcium."
    )


def _hotter(scenes, system: str) -> str:
    before, after = (scale_mass(one, system) for one in scenes)
    return f"It grows from {before} to **{after}**. But never store cooler because of scale: bacteria decide there."


def _large(scenes, system: str) -> str:
    small, large = scenes
    thick = show(Q_(small.layer, "m"), "layer", system)
    return (
        f"The same mass lies thinner: {thick} {how_soon(large.years)} instead of {how_soon(small.years)}. That layer"
        f" costs **{100 * large.dearer:.0f} %** more electricity instead of {100 * small.dearer:.0f} %."
    )


TRIES = (
    Try(
        "Water half as hard",
        (
            Step(
                "Note what comes down at most. Set {hardness}. Is it half as much?",
                {"hardness": HALF},
                {"hardness": Q_(9, "grain/gallon")},
            ),
        ),
        _half,
    ),
    Try(
        "Hotter water",
        (Step("Note the scale of a year. Set {hot}. How much more is it?", {"hot": HOTTER}),),
        _hotter,
    ),
    Try(
        "A larger exchanger",
        (
            Step(
                "Note the cards *Scale* and *Electricity*. Set {surface}. What changes?",
                {"surface": LARGE},
                {"surface": Q_(21, "ft**2")},
            ),
        ),
        _large,
    ),
)
