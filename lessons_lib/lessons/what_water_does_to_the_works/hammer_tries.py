"""What a reader tries with hammer, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_

PLASTIC_PIPE = ("PEX ISO 15875", "16 mm")


def _pressure(value: float, system: str) -> str:
    return show(Q_(value, "Pa"), "pressure", system)


def _softer(scenes, system: str) -> str:
    _, copper, plastic = scenes
    in_copper, in_plastic = (_pressure(scene.bare - scene.house, system) for scene in (copper, plastic))
    times = (copper.bare - copper.house) / (plastic.bare - plastic.house)
    return (
        f"In copper the pressure rises by {in_copper}, in PEX by **{in_plastic}**. The plastic wall gives way, so the"
        f" wave is slower and {times:.1f} times weaker. The water in the PEX was even faster."
    )


def _slower(scenes, system: str) -> str:
    _, twice, slow = scenes
    back = show(Q_(twice.there_and_back, "s"), "milliseconds", system)
    peak = _pressure(slow.peak, system)
    return (
        f"The wave needs {back} to the main and back. As long as the tap is shut before that, it does not matter how"
        f" fast. Shut ten times more slowly than at first, the peak is only **{peak}**."
    )


def _air(scenes, system: str) -> str:
    without, little, more = scenes
    first, one, two = (_pressure(scene.peak, system) for scene in (without, little, more))
    air = show(Q_(little.cushion, "m**3"), "air cushion", system)
    return (
        f"Only {air} of air take the peak from {first} to **{one}**. Ten times as much takes it to {two}. An arrestor"
        " keeps its air behind a piston or a skin. A plain capped stub loses its air to the water, and then does"
        " nothing."
    )


HAMMER_TRIES = (
    Try(
        "Copper and plastic",
        (
            Step("The tap shuts in copper. Read the large line."),
            Step("Set {pipe}. How high is it now?", {"pipe": PLASTIC_PIPE}),
        ),
        _softer,
    ),
    Try(
        "Shut more slowly",
        (
            Step("Set {closing}. Does the peak change?", {"closing": Q_(10, "ms")}),
            Step("Now set {closing}. What is the peak?", {"closing": Q_(300, "ms")}),
        ),
        _slower,
    ),
    Try(
        "A little air",
        (
            Step("Set {cushion}. What is the peak?", {"cushion": Q_(15, "mL")}, {"cushion": Q_(1, "inch**3")}),
            Step(
                "Set {cushion}. How much more does that help?",
                {"cushion": Q_(150, "mL")},
                {"cushion": Q_(10, "inch**3")},
            ),
        ),
        _air,
    ),
)
