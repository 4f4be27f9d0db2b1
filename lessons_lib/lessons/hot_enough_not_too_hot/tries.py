"""What a reader tries in lesson 01, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import burns_briefly, celsius, show
from ...quantities.units import Q_
from .valve_strip import AT_EACH, BETWEEN, NOWHERE


def _degrees(value: float, system: str) -> str:
    return show(celsius(value), "temperature", system)


def _place(scenes, system: str) -> str:
    at_tank, between, at_each = scenes
    much, little = (show(Q_(scene.tepid_volume, "m**3"), "pipe content", system) for scene in (at_tank, at_each))
    return (
        f"The first tap gives {_degrees(between.first, system)}, and skin **{burns_briefly(*between.first_burn)}**. A"
        f" valve protects only the taps after it. At the tank it leaves {much} of pipe tepid, at each tap {little}."
    )


def _cooler(scenes, system: str) -> str:
    _, hot, cool = scenes
    saved = show(Q_(hot.electricity - cool.electricity, "kWh"), "energy", system)
    return (
        f"At {_degrees(hot.first, system)} skin {burns_briefly(*hot.first_burn)}. At {_degrees(cool.first, system)} it"
        f" **{burns_briefly(*cool.first_burn)}**. The cooler tank saves {saved} a day, but"
        " bacteria can grow in it. Store hot, and mix at the tap."
    )


TRIES = (
    Try(
        "Move the valve",
        (
            Step(
                "Move the valve: set {place}. What does the first tap give?",
                {"place": BETWEEN},
            ),
            Step("Now set {place}. Read the card *Pipe*. How much pipe stays tepid?", {"place": AT_EACH}),
        ),
        _place,
    ),
    Try(
        "Turn the tank down",
        (
            Step(
                "Take it out: set {place}. Read the card *First tap*.",
                {"place": NOWHERE},
            ),
            Step(
                "Set {supply}. What do *First tap* and *Tank* say now?",
                {"supply": Q_(49, "degC")},
                {"supply": Q_(120, "degF")},
            ),
        ),
        _cooler,
    ),
)
