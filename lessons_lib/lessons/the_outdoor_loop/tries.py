"""What a reader tries in lesson 09, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import celsius, ice_after, show
from ...quantities.units import Q_

THIN, WIDE = ("PEX CTS", "3/8 in"), ("PEX CTS", "1 in")
COOL, HOT, FULL = celsius(50.0), celsius(70.0), celsius(35.0)


def _size(scenes, system: str) -> str:
    _, thin, wide = scenes
    flows = [show(Q_(scene.flow, "m**3/s"), "flow", system) for scene in (thin, wide)]
    takes, gives = (show(Q_(value, "Pa"), "loop pressure", system) for value in (thin.pressure, thin.available))
    speed, needed = (show(Q_(value, "m/s"), "speed", system) for value in (thin.speed, thin.carries_air))
    return (
        f"**{THIN[1]}** takes {takes} of the {gives} that the pump gives. Bends and the heat pump itself take more,"
        f" so a maker may ask for one size up. The flow is {flows[0]} in the thin pipe and {flows[1]} in the wide one."
        f" Even in the thin pipe the water moves at only {speed}. To carry air it needs {needed}."
    )


def _store(scenes, system: str) -> str:
    _, cool, hot = scenes
    return (
        f"The COP is {cool.cop:.1f} for the cooler store and **{hot.cop:.1f}** for the hotter one. The electricity"
        f" is {cool.electricity:.0f} W and {hot.electricity:.0f} W, for the same heat. Bacteria grow in a cool tank, so"
        " save elsewhere."
    )


def _full(scenes, system: str) -> str:
    empty, full = scenes
    flows = [show(Q_(scene.flow, "m**3/s"), "flow", system) for scene in (empty, full)]
    return (
        f"The flow grows from {flows[0]} to **{flows[1]}**, because each litre takes up less heat. The cold line now"
        f" loses {full.cold_loss:.0f} W instead of {empty.cold_loss:.0f} W. In a power cut ice can form there after"
        f" {ice_after(full.cold_hours)}, and in the hot line after {ice_after(full.hot_hours)}."
    )


TRIES = (
    Try(
        "A thin pipe and a wide one",
        (
            Step("Set {pipe}. Compare the two bars *Pressure*. Can the pump push the water?", {"pipe": THIN}),
            Step("Set {pipe}. Which changes: the flow, the speed, or both?", {"pipe": WIDE}),
        ),
        _size,
    ),
    Try(
        "A hotter store",
        (
            Step("Set {store}. Note the COP and the electricity.", {"store": COOL}),
            Step("Set {store}. Note both again.", {"store": HOT}),
        ),
        _store,
    ),
    Try(
        "A nearly full store",
        (
            Step(
                "Note what the cold line loses. Set {bottom}. How do this loss and the flow change?",
                {"bottom": FULL},
            ),
        ),
        _full,
    ),
)
