"""What a reader tries on the panel of tank and units, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_

BOTTOM = "the bottom"


def _litres(value: float, system: str) -> str:
    return show(Q_(value, "m**3"), "large volume", system)


def _port(scenes, system: str) -> str:
    top, bottom = scenes
    return (
        f"The same heat gave {_litres(top.usable[1], system)} at the top port. At the bottom port it mixes the whole"
        f" tank and gives **{_litres(bottom.usable[1], system)}**. The CO2 unit also gets warmer water back, so its COP"
        f" so far falls from {top.units[2].mean:.1f} to {bottom.units[2].mean:.1f}."
    )


def _full(scenes, system: str) -> str:
    half, full = scenes
    return (
        f"With many passes the usable water jumps from {_litres(half.usable[0], system)} to"
        f" {_litres(full.usable[0], system)}: it comes late, all at once. The water unit's COP falls from"
        f" {half.units[0].cop:.1f} to **{full.units[0].cop:.1f}**, for it now sends out hot water."
    )


TANK_TRIES = (
    Try(
        "Top or bottom port",
        (Step("Note both tanks' usable water. Set {port}. Which of the two changes?", {"port": BOTTOM}),),
        _port,
    ),
    Try(
        "The second half",
        (Step("Heat on: set {filled}. What do the marks on the graph do?", {"filled": Q_(90, "percent")}),),
        _full,
    ),
)
