"""What a reader tries in lesson 11 on Tern Bank's cabin (invented), and what the model answers."""

from ...building.words import burn_words
from ...panels.tries import Step, Try
from ...quantities.display import show, stopwatch
from .words import LONG, SLOW, SMALLER, cabin

SHOWER_LEG = "up to the shower"
VALVE_ON = ("set", "valve", "leg", SHOWER_LEG)


def _smaller(scenes, system: str) -> str:
    before, after = (cabin(system, *edits)[1].tap(SLOW) for edits in ((), (SMALLER[system],)))
    flows = [show(tap.flow_with_others, "flow", system) for tap in (before, after)]
    waits = [stopwatch(float(tap.wait.magnitude)) for tap in (before, after)]
    return (
        f"The wait at the {SLOW} falls from {waits[0]} to **{waits[1]}**."
        f" With all taps open its flow goes from {flows[0]} to {flows[1]}."
    )


def _valve(scenes, system: str) -> str:
    before, after = (cabin(system, *edits)[1].tap(SLOW) for edits in ((), (VALVE_ON,)))
    sooner = float((before.wait - after.wait).magnitude)
    arrives = show(after.delivered, "temperature", system)
    return (
        f"The {SLOW} is warm only {stopwatch(sooner)} sooner. But it now lies before the valve and gets {arrives}:"
        f" **{burn_words(after.delivered)}**. A mixing valve protects the taps after it and no others."
    )


TRIES = (
    Try(
        "One size down",
        (
            Step(f"Note the wait at the {SLOW}. Find the row *{LONG}* in the table."),
            Step(
                "Set its *size* to **15 mm**. Read the card *Slowest tap* again.",
                us_words="Set its *size* to **1/2 in**. Read the card *Slowest tap* again.",
            ),
        ),
        _smaller,
    ),
    Try(
        "Move the mixing valve",
        (
            Step("Press *Tank, valve, night* above the table."),
            Step(f"Under *valve*, set *leg* to **{SHOWER_LEG}**. How much sooner are the basins warm, and how hot?"),
        ),
        _valve,
    ),
)
