"""What a reader tries in lesson 05, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_

ADDED, FORGOTTEN, SUBTRACTED, CENTRES_ONLY = (
    "both depths added",
    "depths forgotten",
    "depths subtracted",
    "middle to middle only",
)


def _length(metres: float, system: str) -> str:
    return show(Q_(metres, "m"), "cut", system)


def _short(scenes, system: str) -> str:
    right, forgotten, subtracted = scenes
    too_short, shorter = (_length(-one.off, system) for one in (forgotten, subtracted))
    depths = [-one.off / right.first.depth for one in (forgotten, subtracted)]
    return (
        f"With the depths forgotten the piece is **{too_short}** too short: {depths[0]:.0f} depths. Each end only"
        f" touches its fitting, so nothing holds it. With the depths subtracted it is {shorter} too"
        f" short: {depths[1]:.0f} depths."
    )


def _long(scenes, system: str) -> str:
    right, long = scenes
    off, each = _length(long.off, system), _length(long.first.shift, system)
    face, depth = _length(right.first.face, system), _length(right.first.depth, system)
    return (
        f"It is **{off}** too long. Inside a fitting the pipe stops"
        f" {each} before its middle: {face} to its face, less a depth of {depth}. No pipe can fill that, so"
        " each fitting"
        " is pushed off its mark."
    )


TRIES = (
    Try(
        "The forgotten depth",
        (
            Step("Forget the depths: set {way}. What holds the two ends of the pipe?", {"way": FORGOTTEN}),
            Step("Take them off: set {way}. How many depths is the piece too short?", {"way": SUBTRACTED}),
        ),
        _short,
    ),
    Try(
        "Exactly as long as the wall says",
        (
            Step(
                "Set {way}. Look at the fittings. Why can that length never fit?",
                {"way": CENTRES_ONLY},
            ),
        ),
        _long,
    ),
)
