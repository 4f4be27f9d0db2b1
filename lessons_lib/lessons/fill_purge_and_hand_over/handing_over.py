"""The panel on commissioning a mixing valve: its class, its two inlets, and the pressure that it takes."""

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.mixing_valve import (
    APART,
    CANNOT_PASS,
    CHECKED,
    CROSSES,
    INLETS,
    MOST_UNEQUAL,
    PLAIN,
    UNEVEN,
    commission,
    valve_classes,
)
from ...plant.tank import CANNOT_HOLD, USUAL_LEAST, mixing_valve
from ...quantities.display import SYSTEMS, number, show, unit
from ...quantities.units import Q_
from ...storage import preferences
from .handing_picture import HandingPicture, HandingScene
from .set_valve import OPEN, SHUT
from .setting_picture import RUNS_ON, TRICKLES

AT_FIXTURE, AT_TANK = "Basin valve, pressures alike", "Tank valve, cold straight from the main"


def hand_over() -> Panel:
    """A mixing valve of Tern Bank's wash-house (invented), opened on a class of the reader's side."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(_controls(start), calculate, HandingPicture, readouts, ready, headline=headline, goods=_goods)


def _controls(start: dict) -> dict:
    inlet = (10, 600, 10), (2, 87, 1)
    return {
        "The valve": {
            "kind": Choice(
                "Class", [one.name for one in valve_classes()], start["kind"], "the class that stands on the valve"
            ),
            "passes": Slide(
                "Rated flow",
                "flow",
                start["passes"],
                (5, 100, 1),
                (1.3, 26.4, 0.1),
                "flow at which the valve takes 100 kPa (14.5 psi) for itself, from its maker's sheet: Kv × 16.7 L/min"
                " or Cv × 3.8 gpm",
            ),
            "inlets": Choice("On its inlets", list(INLETS), start["inlets"], "what stands before hot and cold inlet"),
            "stop": Choice("Cold stop", [OPEN, SHUT], start["stop"], "the test: a bucket beneath, nobody near"),
        },
        "Its inlets": {
            "hot_pressure": Slide("Hot pressure", "pressure", start["hot_pressure"], *inlet, "water flowing"),
            "cold_pressure": Slide("Cold pressure", "pressure", start["cold_pressure"], *inlet, "water flowing"),
            "hot": Slide("Hot", "temperature", start["hot"], (51, 75, 1), (124, 167, 1), "of the water that enters"),
            "cold": Slide("Cold", "temperature", start["cold"], (5, 25, 1), (41, 77, 1), "of the water that enters"),
        },
        "Its outlet": {
            "mixed": Slide("Set to", "temperature", start["mixed"], (35, 50, 1), (95, 122, 1), "what it should give"),
            "flow": usual.flow(start["flow"]),
        },
    }


def ready_made() -> dict:
    """Two mixing valves of Tern Bank (invented): title → settings."""
    basin = {
        "kind": "EN 1111",
        "passes": Q_(16, "L/min"),
        "inlets": CHECKED,
        "stop": OPEN,
        "hot_pressure": Q_(250, "kPa"),
        "cold_pressure": Q_(250, "kPa"),
        "hot": Q_(62, "degC"),
        "cold": Q_(10, "degC"),
        "mixed": Q_(41, "degC"),
        "flow": Q_(8, "L/min"),
    }
    tank = {
        **basin,
        "kind": "EN 15092",
        "passes": Q_(40, "L/min"),
        "inlets": PLAIN,
        "hot_pressure": Q_(150, "kPa"),
        "cold_pressure": Q_(450, "kPa"),
        "mixed": Q_(48, "degC"),
        "flow": Q_(15, "L/min"),
    }
    return {AT_FIXTURE: basin, AT_TANK: tank}


def _goods(settings: dict, system: str) -> dict:
    """The same settings with the class of a reader's side that asks for the same."""
    classes = {one.name: one for one in valve_classes()}
    asked, region = classes[settings["kind"]], preferences.region(system)
    own = [one for one in classes.values() if one.region == region and one.shuts == asked.shuts]
    return {**settings, "kind": own[0].name if own else asked.name}


def calculate(state: dict) -> HandingScene:
    """Turns the controls' values into a scene. Raises InputError."""
    valve = next(one for one in valve_classes() if one.name == state["kind"])
    hot, cold, mixed, flow = (state[name] for name in ("hot", "cold", "mixed", "flow"))
    limits = {
        system: mixing_valve(hot.to(unit("temperature", system)), cold, mixed, flow, **USUAL_LEAST)
        for system in SYSTEMS
    }
    held = limits[SYSTEMS[0]]
    inlets = state["hot_pressure"], state["cold_pressure"]
    found = commission(valve, *inlets, held.hot_share, flow, state["passes"], state["inlets"])
    shut = state["stop"] == SHUT
    return HandingScene(
        kind=valve.name,
        where=valve.where,
        class_word=valve.word,
        shut=shut,
        outcome=(TRICKLES if valve.shuts else RUNS_ON) if shut else "",
        inlets=state["inlets"],
        hot_pressure=inlets[0].to("Pa").magnitude,
        cold_pressure=inlets[1].to("Pa").magnitude,
        outlet=found.outlet.to("Pa").magnitude,
        takes=found.takes.to("Pa").magnitude,
        hot=hot.to("degC").magnitude,
        cold=cold.to("degC").magnitude,
        mixed=mixed.to("degC").magnitude,
        flow=flow.to("m**3/s").magnitude,
        hot_share=float(held.hot_share),
        hot_port=found.hot_port,
        crossing=found.crossing.to("m**3/s").magnitude,
        ratio=found.ratio,
        pressures_word=found.pressures,
        flow_word=CANNOT_HOLD if held.word == CANNOT_HOLD and found.flow != CANNOT_PASS else found.flow,
        inlets_word=found.inlets,
        why={system: str(one.reason) for system, one in limits.items()},
    )


def headline(scene: HandingScene, system: str) -> str:
    """Says the gravest thing, or what is left for the tap."""
    if scene.outcome:
        return f"{scene.kind}, cold shut: {scene.outcome}"
    if scene.inlets_word == CROSSES:
        return "No check valves: one side pushes into the other"
    if scene.pressures_word == UNEVEN:
        return f"Inlet pressures too unequal: {scene.ratio:.1f} to 1"
    if scene.flow_word == CANNOT_PASS:
        return "The valve cannot pass this flow"
    return f"Valve takes {show(Q_(scene.takes, 'Pa'), 'pressure', system)} at this flow"


def readouts(scene: HandingScene, system: str) -> list[Readout]:
    """Gives the verdicts on pressures, flow, inlets and class."""
    left, takes = (show(Q_(value, "Pa"), "pressure", system) for value in (max(scene.outlet, 0.0), scene.takes))
    most = number(Q_(MOST_UNEQUAL, ""), "count", system)
    crossing = show(Q_(scene.crossing, "m**3/s"), "flow", system)
    beside = "both inlets" if scene.inlets_word == APART else f"up to {crossing}" if scene.crossing else scene.inlets
    why = scene.why[system] if scene.flow_word == CANNOT_HOLD else f"takes {takes}, leaves {left}"
    return [
        Readout("Inlets", scene.pressures_word, f"{scene.ratio:.1f} to 1; at most {most} to 1"),
        Readout("At the tap", scene.flow_word, why),
        Readout("Tap shut", scene.inlets_word, beside),
        Readout("Cold fails", scene.class_word, scene.kind),
    ]
