"""What a reader tries in lesson 04, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show, stopwatch
from ...quantities.units import Q_
from .pressure_steps import shown

SMALL = ("copper L", "1/2 in")
LARGE, LARGE_US = ("copper EN 1057", "42 mm"), ("copper L", "1 1/4 in")  # the largest of its family


def _smaller(scenes, system: str) -> str:
    _, large, small = scenes
    before, after = (shown(scene.lost, system, "pressure drop") for scene in (large, small))
    left, needs = shown(small.left, system), shown(small.needs, system)
    short, long = (stopwatch(scene.waits[scene.chosen]) for scene in (small, large))
    gives = show(Q_(float(small.wide[small.chosen]), "m**3/s"), "flow", system)
    fed = "is still fed" if small.feed_levels[small.chosen] == 0 else "is no longer fed"
    return (
        f"The pipe takes {after} instead of {before}: {small.lost / large.lost:.1f} times as much. The tap"
        f" needs {needs},"
        f" and {left} are left. So the bath {fed}: its tap gives **{gives}**. Hot water comes after {short}"
        f" instead of {long}."
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
            Step("Note the number at *pipe takes*."),
            Step("Set {pipe}. How many times as much does the pipe take? Is the bath still fed?", {"pipe": SMALL}),
        ),
        _smaller,
    ),
    Try(
        "A tap high up",
        (
            Step("Raise the tap: set {height}. What is left for it?", {"height": Q_(27, "m")}),
            Step("Set {pipe}. Does the largest pipe help?", {"pipe": LARGE}, {"pipe": LARGE_US}),
        ),
        _height,
    ),
)
