"""What a reader tries in lesson 04, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show, stopwatch
from ...quantities.units import Q_
from .pressure_steps import shown

SMALL, LARGE = ("copper L", "1/2 in"), ("copper L", "1 1/4 in")


def _smaller(scenes, system: str) -> str:
    _, large, small = scenes
    before, after = (shown(scene.lost, system, "pressure drop") for scene in (large, small))
    left, needs = shown(small.left, system), shown(small.needs, system)
    short, long = (stopwatch(scene.waits[scene.chosen]) for scene in (small, large))
    fed = "is still fed" if small.feed_levels[small.chosen] == 0 else "is no longer fed"
    return (
        f"The smaller pipe takes {after} in place of {before}, **{small.lost / large.lost:.1f} times** as much. The tap"
        f" needs {needs} and {left} are left, so the bath {fed}. Hot water comes after {short} in place of {long}."
    )


def _height(scenes, system: str) -> str:
    _, high, larger = scenes
    reach = show(Q_(high.pressure / high.lift * high.height, "m"), "length", system)
    tap = show(Q_(high.height, "m"), "length", system)
    helps = "The larger pipe helps." if larger.flows else "**No pipe size helps.**"
    return f"The main's {shown(high.pressure, system)} lift water {reach}, and the tap is {tap} up. {helps}"


TRIES = (
    Try(
        "A smaller pipe",
        (
            Step("Note what the pipe takes."),
            Step("Set {pipe}. How many times as much does the pipe take? Is the bath still fed?", {"pipe": SMALL}),
        ),
        _smaller,
    ),
    Try(
        "A tap high up",
        (
            Step("Set {height}. What is left for the tap?", {"height": Q_(27, "m")}),
            Step("Set {pipe}. Does the largest pipe help?", {"pipe": LARGE}),
        ),
        _height,
    ),
)
