"""The words of lesson 14 whose numbers the library works out: its guess, its calculations by hand."""

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics.properties import GRAVITY, water
from ...quantities.display import SI, SYSTEMS, show
from ...quantities.units import Q_
from ...storage import preferences
from .panel import calculate, ready_made, runs_of
from .thermosiphon import calculate as loop_scene
from .thermosiphon import ready_made as loops


def _found(system: str) -> dict:
    """Settings of the bath house as found (Tern Bank, invented), in the goods of a unit system's reader."""
    return in_goods(next(iter(ready_made().values())), system)


def guess() -> Guess:
    """Asks for the flow that keeps a return warm enough."""

    def question(system: str) -> str:
        found = _found(system)
        length, drop = show(found["length"], "length", system), show(found["drop"], "temperature difference", system)
        return (
            f"At Tern Bank, an invented yard, hot water goes {length} to the bath house and back, in foam. It may come"
            f" back cooler by {drop}. Nobody draws. How much water must the pump send round?"
        )

    return Guess(
        "14",
        question,
        Slide("My guess", "measured flow", Q_(8, "L/min"), (0.1, 20, 0.1), (0.05, 5, 0.05), "what goes round"),
        lambda: Q_(calculate(_found(preferences.unit_system())).flow, "m**3/s"),
    )


def by_hand() -> Told:
    """The flow and the push on paper, for the readers of both unit systems, held against the panels."""
    return Told("\n\n".join((*map(_flow_by_hand, SYSTEMS), *map(_push_by_hand, SYSTEMS), ROUNDED)))


ROUNDED = "Paper takes one loss and one density for a whole line. The panels follow the water as it cools."


def _flow_by_hand(system: str) -> str:
    state = _found(system)
    scene, (supply, back) = calculate(state), runs_of(state)
    drop = state["drop"].to("delta_degC").magnitude
    middle = scene.hot - 0.5 * drop
    losses = [run.heat_loss(Q_(middle, "degC")) for run in (supply, back)]
    length = state["length"]
    panel = Q_(scene.flow, "m**3/s")
    if system == SI:
        each = [round(loss.to("W/m").magnitude, 1) for loss in losses]
        heat, metres = sum(each) * length.to("m").magnitude, length.to("m").magnitude
        litres = heat / (69 * drop)
        return (
            f"**Flow, metric.** At {middle:.1f} °C the supply loses {each[0]:g} W/m and the return {each[1]:g} W/m."
            f" Over {metres:g} m that is {heat:.0f} W."
            f" One L/min carries 69 W for each °C. {heat:.0f} ÷ (69 × {drop:g}) ="
            f" **{litres:.2f} L/min**; the panel says {panel.to('L/min').magnitude:.2f} L/min."
        )
    each = [round(loss.to("Btu/(hour*ft)").magnitude, 1) for loss in losses]
    feet, fall = round(length.to("ft").magnitude), round(1.8 * drop)
    heat = sum(each) * feet
    return (
        f"**Flow, US customary.** The supply loses {each[0]:g} Btu/h ft and the return {each[1]:g} Btu/h ft. Over"
        f" {feet} ft that is {heat:.0f} Btu/h."
        f" {heat:.0f} ÷ (500 × {fall}) = **{heat / 500 / fall:.2f} gpm**; the panel says"
        f" {panel.to('gpm').magnitude:.2f} gpm."
    )


def _push_by_hand(system: str) -> str:
    state = in_goods(next(iter(loops().values())), system)
    scene = loop_scene(state)
    hot, reaches, back = scene.tank, scene.reaches, 0.5 * (scene.leaves + scene.returns)
    warm = 0.5 * (hot + reaches)
    tank, up, down = (round(float(water(value).density), 1) for value in (hot, warm, back))
    height, apart = round(scene.height, 2), round(scene.apart, 2)
    rises, ports = (down - up) * height, (up - tank) * apart
    pascals = GRAVITY * (rises + ports)
    if system == SI:
        return (
            f"**Push, metric.** Tank {tank:g} kg/m³, hot line {up:g}, line back {down:g}. 9.81 × (({down:g} − {up:g}) ×"
            f" {height:g} m + ({up:g} − {tank:g}) × {apart:g} m) = **{pascals:.0f} Pa**; the panel says"
            f" {scene.driving:.0f} Pa."
        )
    pounds = [round(value / 16.0185, 2) for value in (tank, up, down)]
    feet = [round(Q_(value, "m").to("ft").magnitude, 1) for value in (height, apart)]
    push = (pounds[2] - pounds[1]) * feet[0] + (pounds[1] - pounds[0]) * feet[1]
    return (
        f"**Push, US customary.** Tank {pounds[0]:.2f} lb/ft³, hot line {pounds[1]:.2f}, line back {pounds[2]:.2f}."
        f" ({pounds[2]:.2f} − {pounds[1]:.2f}) × {feet[0]:g} ft + ({pounds[1]:.2f} − {pounds[0]:.2f}) × {feet[1]:g} ft"
        " ="
        f" {push:.2f} lbf/ft². An inch of water is 5.2 lbf/ft²: **{push / 5.2:.2f} inches**; the panel says"
        f" {Q_(scene.driving, 'Pa').to('inH2O').magnitude:.2f} inches."
    )
