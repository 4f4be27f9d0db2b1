"""What a reader tries in lesson 09, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, ice_after, show
from ...quantities.units import Q_

THIN, WIDE = ("PEX CTS", "3/8 in"), ("PEX CTS", "1 in")
FULL = celsius(35.0)


def _size(scenes, system: str) -> str:
    _, thin, wide = scenes
    flows = [show(Q_(scene.flow, "m**3/s"), "flow", system) for scene in (thin, wide)]
    takes, gives = (show(Q_(value, "Pa"), "loop pressure", system) for value in (thin.pressure, thin.available))
    slow, slower, needed = (
        show(Q_(value, "m/s"), "speed", system) for value in (thin.speed, wide.speed, thin.carries_air)
    )
    return (
        f"**The thin pipe** takes {takes} of the {gives} that the pump gives."
        f" Bends and the heat pump come on top. Its {flows[0]} move at {slow}, and the wide pipe's {flows[1]} at"
        f" {slower}. Only water at {needed} carries air."
    )


def _full(scenes, system: str) -> str:
    empty, full = scenes
    flows = [show(Q_(scene.flow, "m**3/s"), "flow", system) for scene in (empty, full)]
    return (
        f"The flow grows from {flows[0]} to **{flows[1]}**. The cold line loses {full.cold_loss:.0f} W instead of"
        f" {empty.cold_loss:.0f} W. In a power cut ice can form in it after {ice_after(full.cold_hours)}, in the hot"
        " line"
        f" after {ice_after(full.hot_hours)}."
    )


TRIES = (
    Try(
        "A thin pipe and a wide one",
        (
            Step("Set {pipe}. Compare the two bars *Pressure*.", {"pipe": THIN}),
            Step("Now set {pipe}. Do flow and speed change?", {"pipe": WIDE}),
        ),
        _size,
    ),
    Try(
        "A nearly full store",
        (
            Step(
                "Note the flow and the loss of the cold line. Fill the store: set {bottom}. Note both again.",
                {"bottom": FULL},
            ),
        ),
        _full,
    ),
)
