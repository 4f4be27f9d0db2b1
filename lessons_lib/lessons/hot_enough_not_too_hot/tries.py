"""What a reader tries in lesson 01, and what the model answers."""

from ...panels.tries import Step, Try
from ...plant.tank import USUAL_LEAST
from ...quantities.display import burns_briefly, celsius, show
from ...quantities.units import Q_
from .valve_strip import AT_EACH, BETWEEN, NOWHERE


def _degrees(value: float, system: str) -> str:
    return show(celsius(value), "temperature", system)


def _place(scenes, system: str) -> str:
    at_tank, between, at_each = scenes
    much, little = (show(Q_(scene.tepid_volume, "m**3"), "pipe content", system) for scene in (at_tank, at_each))
    return (
        f"Between the taps, the valve does nothing for the first tap. That tap gives"
        f" {_degrees(between.first, system)}, and skin **{burns_briefly(*between.first_burn)}**. A valve at the tank"
        f" leaves {much} of pipe tepid. A valve at each tap leaves {little}."
    )


def _cooler(scenes, system: str) -> str:
    _, hot, cool = scenes
    energy, amount = (
        [show(Q_(value, unit), kind, system) for value in values]
        for values, unit, kind in (
            ((hot.electricity, cool.electricity), "kWh", "energy"),
            ((hot.mixed, cool.mixed), "m**3", "large volume"),
        )
    )
    return (
        f"At {_degrees(hot.first, system)} skin {burns_briefly(*hot.first_burn)}. At {_degrees(cool.first, system)} it"
        f" **{burns_briefly(*cool.first_burn)}**. The cooler tank takes {energy[1]} a day and not {energy[0]}. But it"
        f" gives {amount[1]} and not {amount[0]}, and bacteria can grow in it. So store hot, and mix at the tap."
    )


def _fails(scenes, system: str) -> str:
    _, slow, cool = scenes
    gap = show(USUAL_LEAST["least_difference"].to("delta_degC"), "temperature difference", system)
    return (
        f"With so little flow the valve cannot hold its setting. Then {_degrees(slow.first, system)} can come out. With"
        f" the cooler tank it can be {_degrees(cool.first, system)}. This valve needs enough flow, and **a tank at least"
        f" {gap} hotter** than its setting."
    )


TRIES = (
    Try(
        "Move the valve",
        (
            Step(
                "Find the mixing valve in the picture. Set {place}. Read what the first tap gives now.",
                {"place": BETWEEN},
            ),
            Step("Set {place}. Look at the card *Pipe*: how much pipe stays tepid now?", {"place": AT_EACH}),
        ),
        _place,
    ),
    Try(
        "Turn the tank down",
        (
            Step(
                "Take the valve out: set {place}. Look at the card *First tap*: how fast does skin burn?",
                {"place": NOWHERE},
            ),
            Step(
                "Turn {supply}. Look at all four cards. What is better now, and what is worse?",
                {"supply": Q_(49, "degC")},
                {"supply": Q_(120, "degF")},
            ),
        ),
        _cooler,
    ),
    Try(
        "Find where the valve fails",
        (
            Step(
                "Nearly shut the tap: set {flow}. Read the large line.",
                {"flow": Q_(2, "L/min")},
                {"flow": Q_(0.5, "gpm")},
            ),
            Step(
                "Set {flow} again, and turn {supply}. What can come out now?",
                {"flow": Q_(8, "L/min"), "supply": Q_(49, "degC")},
                {"flow": Q_(2.1, "gpm"), "supply": Q_(120, "degF")},
            ),
        ),
        _fails,
    ),
)
