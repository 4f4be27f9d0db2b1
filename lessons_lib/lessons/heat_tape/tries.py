"""What a reader tries in lesson 08, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import both, celsius, ice_after, show
from ...quantities.units import Q_
from ...runs.common_values import THERMOSTAT
from .picture import settled

STRONG, CONSTANT = "self-regulating, strong", "constant, medium"
SWITCHED = f"at {both(THERMOSTAT, 'temperature')}"
GAP, GAP_US = Q_(0.3, "m"), Q_(1, "ft")
WARM = celsius(20.0)


def _watts(scenes, system: str) -> str:
    _, light, strong = scenes
    return (
        f"With the light tape ice can form after {ice_after(light.hours)}. The strong tape gives"
        f" {strong.given / light.given:.1f} times the watts, and ice can form after {ice_after(strong.hours)}. It gains"
        f" **{show(Q_(strong.hours - light.hours, 'h'), 'minutes', system)}**. The thermostat holds both pipes equally"
        " warm, and tape stores no heat."
    )


def _gap(scenes, system: str) -> str:
    _, light, strong = scenes
    return (
        f"With the light tape the bare piece settles at {settled(light.bare, system)}. With the strong tape it settles"
        f" at **{settled(strong.bare, system)}**. It needs as much heat as"
        f" {show(Q_(light.worth, 'm'), 'length', system)} of covered pipe. Cover the gap: more watts do not."
    )


def _warm(scenes, system: str) -> str:
    _, frost, warm = scenes
    days = (show(Q_(scene.always_on, "kWh"), "energy", system) for scene in (frost, warm))
    return (
        f"The tape takes {' and '.join(days)} a day. It does not notice the weather. In warm air the pipe settles at"
        f" **{settled(warm.covered, system)}**. Such heat harms plastic, foam and many tapes."
    )


TRIES = (
    Try(
        "Twice the watts",
        (
            Step(
                "Set {thermostat}. Read the large line: when can ice form without power?",
                {"thermostat": SWITCHED},
            ),
            Step("Take stronger tape: set {tape}. Read the line again. What did you gain?", {"tape": STRONG}),
        ),
        _watts,
    ),
    Try(
        "The gap",
        (
            Step(
                "One piece has no foam: set {gap}. On the card *Bare piece*, note where it settles.",
                {"gap": GAP},
                {"gap": GAP_US},
            ),
            Step("Take stronger tape: set {tape}. Does it save the bare piece?", {"tape": STRONG}),
        ),
        _gap,
    ),
    Try(
        "A warm day",
        (
            Step("Set {tape}. Note the kWh of *always on* under *One day at this air*.", {"tape": CONSTANT}),
            Step("Set {air}. What changes: the kWh, or the pipe?", {"air": WARM}),
        ),
        _warm,
    ),
)
