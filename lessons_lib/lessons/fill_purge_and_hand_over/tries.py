"""What a reader tries in lesson 10, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_

OPEN_SIDE, ON_MAIN = "the water side empty", "the main on"
COPPER, PLASTIC = ("copper L", "1/2 in"), ("PEX CTS", "1/2 in")


def _pressure(value: float, system: str) -> str:
    return show(Q_(value, "Pa"), "pressure", system)


def _shut(scenes, system: str) -> str:
    _, plastic, copper, warm = scenes
    in_plastic, in_copper, from_warm = (_pressure(scene.shut_rise, system) for scene in (plastic, copper, warm))
    times = copper.shut_in / copper.relief
    return (
        f"In cold plastic pipe the pressure rises by {in_plastic}, for plastic grows more than water. In copper it rises"
        f" by **{in_copper}**. That makes {times:.0f} times the pressure at which a relief valve opens. Warm water in"
        f" copper rises by {from_warm}. So never shut water in between two valves where it can warm."
    )


def _gauge(scenes, system: str) -> str:
    found, more, told, full = scenes
    on_main, on_main_too, empty = (_pressure(scene.reading, system) for scene in (found, more, told))
    first, last = (_pressure(scene.hot_pressure, system) for scene in (found, full))
    return (
        f"With the main on the gauge shows {on_main}, then {on_main_too}. It shows the main and hides the air. With the"
        f" water side empty it shows **{empty}**, the pre-charge. The first pre-charge let the hot tank press to {first},"
        f" and the relief valve opened. Now the hot tank presses to only {last}."
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
                "This loop is plastic pipe, and both its valves are shut. Let the sun warm it: set {warmed}. Read the"
                " large line.",
                {"warmed": Q_(10, "delta_degC")},
                {"warmed": Q_(18, "delta_degF")},
            ),
            Step("Take a copper loop: set {loop}. How high is the pressure now?", {"loop": COPPER}),
            Step(
                "Shut warm water in: set {shut_at}. How high is it now?",
                {"shut_at": Q_(40, "degC")},
                {"shut_at": Q_(104, "degF")},
            ),
        ),
        _shut,
    ),
    Try(
        "The gauge on a live main",
        (
            Step(
                "Look at the vessel's gauge. Pump more air in: set {precharge}. Does the gauge move?",
                {"precharge": Q_(200, "kPa")},
                {"precharge": Q_(29, "psi")},
            ),
            Step("Set {side}. What does the gauge show now?", {"side": OPEN_SIDE}),
            Step(
                "Set {precharge}, as much as the reducing valve. What does the card *Tank hot* say?",
                {"precharge": Q_(300, "kPa")},
                {"precharge": Q_(44, "psi")},
            ),
        ),
        _gauge,
    ),
)
PURGE_TRIES = (
    Try(
        "Slow water",
        (
            Step("Change the water more often: set {changes}. Does the speed change?", {"changes": Q_(10, "")}),
            Step(
                "Open up: set {flow}. Which leg carries its air out?",
                {"flow": Q_(8, "L/min")},
                {"flow": Q_(2.1, "gpm")},
            ),
            Step("Set {flow}. And now?", {"flow": Q_(12, "L/min")}, {"flow": Q_(3.2, "gpm")}),
        ),
        _slow,
    ),
)
