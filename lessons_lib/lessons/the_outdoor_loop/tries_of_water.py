"""What a reader tries on the three panels of the water side, and what the model answers."""

from ...panels.tries import Step, Try
from ...quantities.display import show
from ...quantities.units import Q_


def _flow(scene, system: str) -> str:
    return show(Q_(scene.flow, "m**3/s"), "flow", system)


def _rise(scene, system: str) -> str:
    return show(Q_(scene.rise, "delta_degC"), "temperature drop", system)


def _clogs(scenes, system: str) -> str:
    clean, half, shut = scenes
    return (
        f"Half clogged, the flow falls only from {_flow(clean, system)} to {_flow(half, system)}. Nobody notices."
        f" Then **{_flow(shut, system)}** is left and the water warms by {_rise(shut, system)}. A strainer needs a"
        " date in the calendar."
    )


def _lift(scenes, system: str) -> str:
    low, high = scenes
    return (
        f"The flow stays at **{_flow(high, system)}**, for what goes up comes down again. The sheet's limit on height"
        " has another reason: the pressure in the lower part, and the air at the top."
        if high.beyond
        else f"The flow stays at **{_flow(low, system)}**."
    )


PUMP_TRIES = (
    Try(
        "A strainer that clogs",
        (
            Step("Note the flow. Set {clogged}. Does it fall much?", {"clogged": Q_(50, "percent")}),
            Step("Set {clogged}. What do flow and rise do now?", {"clogged": Q_(90, "percent")}),
        ),
        _clogs,
    ),
    Try(
        "A tank upstairs",
        (Step("Note the flow. Lift the tank: set {height}. What happens to the flow?", {"height": Q_(9, "m")}),),
        _lift,
    ),
)
