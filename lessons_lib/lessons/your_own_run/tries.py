"""What a reader tries in lesson 11 on Tern Bank's cabin (invented), and what the model answers."""

from dataclasses import replace

from ...panels.tries import Step, Try
from ...quantities.display import burns_briefly, show, stopwatch
from ...runs.scald import time_to_burn
from .own_files import cabin_title
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
    burn = time_to_burn(after.delivered)
    sooner = float((before.wait - after.wait).magnitude)
    arrives = show(after.delivered, "temperature", system)
    return (
        f"The {SLOW} is warm only {stopwatch(sooner)} sooner. But it now lies before the valve and gets {arrives}."
        f" There **an adult's skin {burns_briefly(burn.seconds.magnitude, burn.bound)}**. A mixing valve"
        " protects the taps after it and no others."
    )


TRIES = (
    Try(
        "One size down",
        (
            Step(f"Note the wait at the {SLOW}. In the table of the legs find the row *{LONG}*."),
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


def tries_where(opening: str) -> tuple[Try, ...]:
    """The tries of a panel that opens with the layout of this title. Where that is not the cabin, the first step opens
    the cabin.
    """
    if opening == cabin_title():
        return TRIES
    first, *others = TRIES
    begin, *steps = first.steps
    begin = replace(begin, words=f"Choose *{cabin_title()}* in the box *Layout*. {begin.words}")
    return replace(first, steps=(begin, *steps)), *others
