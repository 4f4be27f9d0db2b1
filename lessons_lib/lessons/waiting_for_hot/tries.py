"""What a reader tries in lesson 03, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, show, stopwatch
from ...quantities.units import Q_
from ...runs.insulation import NONE

FOAM = "elastomeric foam"
FIRST, AFTER = "first of the day", "after a pause"


def _foam(scenes, system: str) -> str:
    first, bare, later, covered = (stopwatch(scene.wait) for scene in scenes)
    return (
        f"At the first draw the wait is {first} with foam and {bare} without it. Twenty minutes after a draw it is"
        f" {later} without foam and **{covered}** with it. Foam helps the next draw, not the first one."
    )


def _size(scenes, system: str) -> str:
    small, big = scenes
    return (
        f"The wait grows from {stopwatch(small.wait)} to {stopwatch(big.wait)}, which is **{big.wait / small.wait:.1f}"
        " times** as long. The names of the sizes say only 1.5 times. But water fills the area of the bore, and the"
        " area grows faster than the width."
    )


def _tank(scenes, system: str) -> str:
    far, _, near = scenes
    cool = show(celsius(far.tap_at(far.sweep)), "temperature", system)
    return (
        f"After one pipe-full the tap still gives {cool}, because the cold pipe took the heat of the first water. With"
        f" a third of the length the wait falls from {stopwatch(far.wait)} to **{stopwatch(near.wait)}**. The place of"
        " the tank decides the wait."
    )


TRIES = (
    Try(
        "Foam",
        (
            Step(
                "Read the wait in the large line. Take the foam off: set {insulation}. Read the wait again.",
                {"insulation": NONE},
            ),
            Step("Now somebody drew hot water 20 minutes ago. Set {draw}. Read the wait.", {"draw": AFTER}),
            Step("Put the foam back: set {insulation}. Read the wait.", {"insulation": FOAM}),
        ),
        _foam,
    ),
    Try(
        "One size up",
        (
            Step(
                "Read the wait. Move *Size* one step up, so that it sets {pipe}. How many times as long is the wait now?",
                {"pipe": ("PEX CTS", "3/4 in")},
            ),
        ),
        _size,
    ),
    Try(
        "A nearer tank",
        (
            Step("In the picture, find *one pipe-full*. Note how warm the water at the tap is then."),
            Step(
                "Move the tank nearer: set {length}. Read the wait.",
                {"length": Q_(8, "m")},
                {"length": Q_(26, "ft")},
            ),
        ),
        _tank,
    ),
)
