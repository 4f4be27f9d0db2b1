"""What a reader tries in lesson 03, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import stopwatch
from ...runs.insulation import NONE
from .picture import content

FOAM = "elastomeric foam"
FIRST, AFTER = "first of the day", "after a pause"


def _foam(scenes, system: str) -> str:
    first, bare, later, covered = (stopwatch(scene.wait) for scene in scenes)
    return (
        f"At the first draw the wait is {first} with foam and {bare} without. Twenty minutes later it is **{covered}**"
        f" with foam and {later} without. Foam helps the next draw, not the first."
    )


def _size(scenes, system: str) -> str:
    small, big = scenes
    return (
        f"The wait grows from {stopwatch(small.wait)} to {stopwatch(big.wait)}: **{big.wait / small.wait:.2g} times**"
        f" as long. Now {content(big.drawn, system)} run away instead of {content(small.drawn, system)}. The"
        " area of the"
        " bore grows faster than its width."
    )


TRIES = (
    Try(
        "Foam",
        (
            Step(
                "Read the wait in the large line. Take the foam off: set {insulation}. Does the wait change?",
                {"insulation": NONE},
            ),
            Step("Hot water ran 20 minutes ago: set {draw}. Read the wait.", {"draw": AFTER}),
            Step("Put the foam back: set {insulation}. Read again.", {"insulation": FOAM}),
        ),
        _foam,
    ),
    Try(
        "One size up",
        (
            Step(
                "Read the wait. Set {pipe}. How many times as long is it?",
                {"pipe": ("PEX CTS", "3/4 in")},
            ),
        ),
        _size,
    ),
)
