"""What a reader tries in lesson 08, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import both, ice_after, show
from ...quantities.units import Q_
from ...runs.common_values import THERMOSTAT
from .picture import settled

STRONG = "self-regulating, strong"
SWITCHED = f"at {both(THERMOSTAT, 'temperature')}"
GAP, GAP_US = Q_(0.3, "m"), Q_(1, "ft")


def _watts(scenes, system: str) -> str:
    _, light, strong = scenes
    return (
        f"With the light tape ice can form after {ice_after(light.hours)}. With {strong.given / light.given:.1f} times"
        f" the watts it is {ice_after(strong.hours)}. That gains"
        f" **{show(Q_(strong.hours - light.hours, 'h'), 'minutes', system)}**. Both pipes are equally warm, and tape"
        " stores no heat."
    )


def _gap(scenes, system: str) -> str:
    _, light, strong = scenes
    return (
        f"The bare piece settles at {settled(light.bare, system)} with the light tape and at"
        f" **{settled(strong.bare, system)}** with the strong one, so it"
        f" {'still freezes' if strong.bare < 0 else 'is saved'}."
        f" It needs as much heat as {show(Q_(light.worth, 'm'), 'length', system)} of covered pipe. Cover the gap."
    )


TRIES = (
    Try(
        "Stronger tape",
        (
            Step(
                "Fit a thermostat: set {thermostat}. Read the large line.",
                {"thermostat": SWITCHED},
            ),
            Step("Set {tape}. Read again.", {"tape": STRONG}),
        ),
        _watts,
    ),
    Try(
        "The gap",
        (
            Step(
                "Take some foam off: set {gap}. Read the card *Bare piece*.",
                {"gap": GAP},
                {"gap": GAP_US},
            ),
            Step("Set {tape}. Does that save the bare piece?", {"tape": STRONG}),
        ),
        _gap,
    ),
)
