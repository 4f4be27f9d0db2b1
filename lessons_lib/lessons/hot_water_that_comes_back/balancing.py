"""The panel of two branches on one pump: how the far one starves, and what a throttled near valve gives back to it."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import circulation as physics
from ...physics import network, pressure
from ...physics.properties import water
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_, quantity
from ...runs.bacteria import RECOMMENDED_STORE
from .balancing_picture import EVEN, BalancingPicture, BalancingScene
from .going_round import leg_of
from .returns import return_word
from .tries import BRANCH_TRIES

KV_OPEN = 2.5  # [m3/h] of a small balancing valve, wide open (common practice, no source)
PUMP_FLOW = Q_(30, "L/min")  # at which the invented pump has no pressure left
COMMON = 6.0  # [m] of each pipe between heater and the tee of the branches
BALANCED, UNEVEN = Word("balanced", 0), Word("not balanced", 1)


def balancing() -> Panel:
    """Two branches of Tern Bank's cabins (invented) on one pump."""
    ready = ready_made()
    start = next(iter(ready.values()))
    opening = "how far its balancing valve is open"
    valve = {"kind": "share", "metric": (5, 100, 1), "customary": (5, 100, 1)}
    far = "of each pipe, from the tee to the branch's last tap"
    return Panel(
        {
            "The branches": {
                "pipe": usual.pipe(start["pipe"]),
                "back": usual.pipe(start["back"], "Return"),
                "near": Slide("Near branch", "length", start["near"], (2, 40, 1), (7, 130, 1), far),
                "far": Slide("Far branch", "length", start["far"], (2, 60, 1), (7, 200, 1), far),
                "insulation": usual.insulation(start["insulation"]),
                "thickness": usual.thickness(start["thickness"]),
            },
            "Pump and valves": {
                "supply": Slide(
                    "Set temperature", "temperature", start["supply"], (45, 70, 1), (113, 158, 1), "of the heater"
                ),
                "shut_off": Slide(
                    "Pump pressure",
                    "loop pressure",
                    start["shut_off"],
                    (1, 40, 0.5),
                    (0.2, 5.8, 0.1),
                    "of the invented pump while nothing flows",
                ),
                "near_valve": Slide("Near valve", start=start["near_valve"], explained=opening, **valve),
                "far_valve": Slide("Far valve", start=start["far_valve"], explained=opening, **valve),
            },
        },
        calculate,
        BalancingPicture,
        readouts,
        ready,
        usual.idle_thickness,
        headline=headline,
        tries=BRANCH_TRIES,
    )


def ready_made() -> dict:
    """Two branches of Tern Bank's cabins (invented), not balanced and balanced: title → settings."""
    found = {
        "pipe": ("copper EN 1057", "22 mm"),
        "back": ("copper EN 1057", "15 mm"),
        "near": Q_(6, "m"),
        "far": Q_(40, "m"),
        "insulation": "elastomeric foam",
        "thickness": Q_(13, "mm"),
        "supply": RECOMMENDED_STORE,
        "shut_off": Q_(2, "kPa"),
        "near_valve": Q_(100, "percent"),
        "far_valve": Q_(100, "percent"),
    }
    return {
        "Cabins, valves wide open": found,
        "Cabins, near valve throttled": {**found, "near_valve": Q_(50, "percent")},
    }


AIR = Q_(18, "degC")  # around all pipes


def flows(state: dict, runs) -> tuple:
    """Flows of near and far branch [m3/s] and the pump's pressure at both together [Pa].

    runs : supply and return of the common way, then of both branches with lengths as a list
    The pump's curve and each valve are holes, so that physics.network solves for both branches at once.
    """
    inside = water(state["supply"].to("degC").magnitude)
    shut_off = state["shut_off"].to("Pa").magnitude
    most = PUMP_FLOW.to("m**3/s").magnitude
    common, branch = ([leg_of(run) for run in pair] for pair in runs)
    parts = [
        *common,
        *(pressure.FlowLeg(*values) for values in _each(branch, 0)),
        *(pressure.FlowLeg(*values) for values in _each(branch, 1)),
    ]
    legs = pressure.FlowLeg(*(np.array(values, dtype=float) for values in zip(*parts)))
    legs.holes[0] += physics.pump_hole(shut_off, most, inside.density)
    openings = [state[name].to("dimensionless").magnitude for name in ("near_valve", "far_valve")]
    holes = np.array([physics.valve_hole(opening, KV_OPEN) for opening in openings])
    through = [[1, 1, 1, 1, 0, 0], [1, 1, 0, 0, 1, 1]]
    solved = network.solve(legs, through, np.zeros(2), holes, shut_off, inside)
    given = shut_off * (1 - (np.sum(solved.tap_flow) / most) ** 2)
    return solved.tap_flow, float(given)


def _each(legs, place: int) -> list:
    """One branch's legs, out of legs whose lengths are lists."""
    return [(leg.inside_diameter, leg.roughness, leg.length[place], leg.holes) for leg in legs]


def runs_of(state: dict) -> tuple:
    """Supply and return of the common way, and of both branches with lengths as a list. Raises InputError."""
    lengths = np.array([state[name].to("m").magnitude for name in ("near", "far")])
    still = {**state, "wind": Q_(0, "m/s"), "air": AIR}
    pairs = []
    for length in (COMMON, lengths):
        here = {**still, "length": quantity(length, "m")}
        pairs.append((usual.run_of(here), usual.run_of({**here, "pipe": state["back"]})))
    return tuple(pairs)


def calculate(state: dict) -> BalancingScene:
    """Turns the controls' values into a scene. Raises InputError."""
    runs = runs_of(state)
    hot = state["supply"].to("degC").magnitude
    found, given = flows(state, runs)
    (out, home), (branch_out, branch_home) = runs
    mass = found * water(hot).density
    tee = float(out._deliver(hot, np.sum(found)).temperature)
    last = branch_out._deliver(tee, mass / water(tee).density).temperature
    returns = branch_home._deliver(last, mass / water(last).density).temperature
    mixed = float(np.sum(mass * returns) / np.sum(mass))
    back = float(home._deliver(mixed, np.sum(mass) / water(mixed).density).temperature)
    return BalancingScene(
        hot=hot,
        tee=tee,
        flows=tuple(float(value) for value in found),
        last=tuple(float(value) for value in last),
        returns=tuple(float(value) for value in returns),
        mixed=mixed,
        back=back,
        lengths=tuple(float(value) for value in branch_out.metres),
        openings=tuple(state[name].to("dimensionless").magnitude for name in ("near_valve", "far_valve")),
        given=given,
    )


def balance_word(scene: BalancingScene) -> Word:
    """Says whether both branches come back equally warm."""
    return BALANCED if abs(scene.returns[0] - scene.returns[1]) <= EVEN else UNEVEN


def headline(scene: BalancingScene, system: str) -> str:
    """Says how warm each branch comes back."""
    near, far = (show(celsius(value), "temperature", system) for value in scene.returns)
    return f"Near branch back at {near}, far at {far}"


def readouts(scene: BalancingScene, system: str) -> list[Readout]:
    """Gives both returns, and whether they are balanced."""
    near, far = (show(celsius(value), "temperature", system) for value in scene.returns)
    flows_shown = [show(Q_(value, "m**3/s"), "measured flow", system) for value in scene.flows]
    apart = show(Q_(abs(scene.returns[0] - scene.returns[1]), "delta_degC"), "temperature drop", system)
    return [
        Readout("Near return", return_word(scene.returns[0]), f"{near}, {flows_shown[0]}"),
        Readout("Far return", return_word(scene.returns[1]), f"{far}, {flows_shown[1]}"),
        Readout("Branches", balance_word(scene), f"{apart} apart"),
    ]
