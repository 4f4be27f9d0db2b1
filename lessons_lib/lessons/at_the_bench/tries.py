"""What a reader tries in lesson 12, and what the model answers: each answer asks the readings as *Fit* does."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_
from ...runs.insulation import NONE
from .bench_controls import DEMOS
from .bench_scene import like_thickness

BARE = list(DEMOS)[1]


def _thickness(metres: float, system: str) -> str:
    return show(Q_(metres, "m"), "thickness", system)


def _foam(scenes, system: str) -> str:
    foam, bare = scenes[0].ask(), scenes[-1].ask()
    label, like = _thickness(scenes[0].thickness, system), _thickness(like_thickness(foam), system)
    return (
        f"The {label} of foam behaves like only **{like}** without gaps. Bare, the leg loses"
        f" {(bare.ua / foam.ua).magnitude:.1f} times as much heat. So even this foam takes away"
        f" {1 - (foam.ua / bare.ua).magnitude:.0%} of the loss."
    )


def _air(scenes, system: str) -> str:
    right, wrong = (_thickness(like_thickness(scene.ask()), system) for scene in (scenes[0], scenes[-1]))
    rms = [show(Q_(scene.ask().rms.magnitude, "delta_degC"), "temperature drop", system) for scene in scenes]
    return (
        f"With the wrong air the foam behaves like **{wrong}** instead of {right}. The difference is {rms[-1]}"
        " instead of"
        f" {rms[0]}. The card still says *near the curve*, so it does not warn you. Read the air as carefully as the"
        " water."
    )


TRIES = (
    Try(
        "What is the foam worth?",
        (
            Step("Press *Fit*. What does the foam behave like?"),
            Step(
                "Now the same leg without foam: set {readings} and {insulation}. Press *Fit*.",
                {"readings": BARE, "insulation": NONE},
            ),
        ),
        _foam,
    ),
    Try(
        "The wrong air",
        (
            Step(
                "Somebody read the air too low: set {air}. Press *Fit*. What does the foam behave like now? Look at the"
                " card *Difference*. Does it warn you?",
                {"air": Q_(18, "degC")},
                {"air": Q_(64, "degF")},
            ),
        ),
        _air,
    ),
)
