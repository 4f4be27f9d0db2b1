"""What a reader tries in lesson 14, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, show
from ...quantities.units import Q_

BARE = "none"
THROTTLED = Q_(50, "percent")


def _flow(scene, system: str) -> str:
    return show(Q_(scene.flow, "m**3/s"), "measured flow", system)


def _heat(watts: float, system: str) -> str:
    return show(Q_(watts, "W"), "heat", system)


def _bare(scenes, system: str) -> str:
    covered, bare = scenes
    return (
        f"The loss grows from {_heat(covered.loss, system)} to **{_heat(bare.loss, system)}**, and the flow with it:"
        f" from {_flow(covered, system)} to {_flow(bare, system)}. The flow follows the loss, not the taps."
    )


def _hours(scenes, system: str) -> str:
    all_day, some = scenes
    return (
        f"The return takes {some.with_return:.1f} kWh a day instead of {all_day.with_return:.1f} kWh. But the water"
        f" now stands for {24 - some.hours:.0f} hours and cools through the temperatures at which bacteria grow."
    )


def _near(scenes, system: str) -> str:
    wide, throttled = scenes
    flows = [[show(Q_(value, "m**3/s"), "measured flow", system) for value in one.flows] for one in scenes]
    before, after = (show(celsius(one.returns[1]), "temperature", system) for one in scenes)
    return (
        f"Wide open, the near branch takes {flows[0][0]} and leaves {flows[0][1]} to the far one. Throttled it takes"
        f" {flows[1][0]}, and the far branch gets **{flows[1][1]}**. Its return rises from {before} to {after}."
    )


def _check(scenes, system: str) -> str:
    runs, stands = scenes
    push, opening = (show(Q_(value, "Pa"), "small pressure", system) for value in (stands.driving, stands.opening))
    return (
        f"Without it the loop takes **{_heat(runs.watts, system)}** out of the tank. The cold water pushes with no"
        f" more than {push}. A spring that needs {opening} holds it. Then the outdoor end is no longer kept warm."
    )


TRIES = (
    Try("Without foam", (Step("Note the flow. Now set {insulation}. What is the flow?", {"insulation": BARE}),), _bare),
    Try(
        "A timer",
        (Step("Set {hours}. Look at the card *Timer* and at the electricity.", {"hours": Q_(8, "h")}),),
        _hours,
    ),
)
BRANCH_TRIES = (
    Try(
        "Throttle the near branch",
        (Step("Look at both returns. Throttle the near valve: set {near_valve}.", {"near_valve": THROTTLED}),),
        _near,
    ),
)
LOOP_TRIES = (
    Try(
        "A check valve",
        (
            Step(
                "Note the heat lost. Fit a check valve: set {opening}. Look at the outdoor end.",
                {"opening": Q_(2000, "Pa")},
                {"opening": Q_(8, "inH2O")},
            ),
        ),
        _check,
    ),
)
