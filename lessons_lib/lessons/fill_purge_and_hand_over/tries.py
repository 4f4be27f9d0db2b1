"""What a reader tries in lesson 10, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_

OPEN_SIDE, ON_MAIN = "the water side empty", "the main on"
COPPER, PLASTIC = ("copper L", "1/2 in"), ("PEX CTS", "1/2 in")


def _pressure(value: float, system: str) -> str:
    return show(Q_(value, "Pa"), "pressure", system)


def _shut(scenes, system: str) -> str:
    _, plastic, copper = scenes
    in_plastic, in_copper = (_pressure(scene.shut_rise, system) for scene in (plastic, copper))
    times = copper.shut_in / copper.relief
    return (
        f"Plastic grows more than cold water, so the pressure rises by {in_plastic}. In copper it rises by"
        f" **{in_copper}**, to {times:.0f} times what opens a relief valve. Never shut water in where it can warm."
    )


def _gauge(scenes, system: str) -> str:
    on_main, on_main_too, empty = (_pressure(scene.reading, system) for scene in scenes)
    return (
        f"With the main on, the gauge shows {on_main}, then {on_main_too}. The main hides the air. With the water"
        f" side empty it shows **{empty}**, the pre-charge."
    )


def _slow(scenes, system: str) -> str:
    _, more, loop, both = scenes
    speed, need = (show(Q_(value, "m/s"), "speed", system) for value in (more.loop.speed, more.need))
    some, enough = (show(Q_(one.flow, "m**3/s"), "flow", system) for one in (loop, both))
    return (
        f"Ten changes take longer, but the water in the loop still moves at only {speed}. Air needs {need}. A flow of"
        f" {some} clears only the loop. It takes **{enough}** to clear both legs, for the hot run is wider."
    )


TRIES = (
    Try(
        "Two shut valves",
        (
            Step(
                "The loop is plastic. Set {warmed}. Read the large line.",
                {"warmed": Q_(10, "delta_degC")},
                {"warmed": Q_(18, "delta_degF")},
            ),
            Step("Now set {loop}. How high is the pressure?", {"loop": COPPER}),
        ),
        _shut,
    ),
    Try(
        "The gauge on a live main",
        (
            Step(
                "Pump air into the vessel: set {precharge}. Does its gauge move?",
                {"precharge": Q_(200, "kPa")},
                {"precharge": Q_(29, "psi")},
            ),
            Step("Set {side}. What does the gauge show?", {"side": OPEN_SIDE}),
        ),
        _gauge,
    ),
)
PURGE_TRIES = (
    Try(
        "Slow water",
        (
            Step(
                "Look at the flow. Change the water more often: set {changes}. Does the speed change?",
                {"changes": Q_(10, "")},
            ),
            Step(
                "Open up: set {flow}. Which leg carries its air out?",
                {"flow": Q_(8, "L/min")},
                {"flow": Q_(2.1, "gpm")},
            ),
            Step(
                "Open up further: set {flow}. Which leg carries its air out now?",
                {"flow": Q_(12, "L/min")},
                {"flow": Q_(3.2, "gpm")},
            ),
        ),
        _slow,
    ),
)
