"""The panel of an outdoor unit's circuit: from its nameplate to numbers for an electrician; no card is ever green."""

from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.shared_controls import goods_with
from ...plant.unit_circuit import drop_limit, heat_pump_circuit, isolator_places, largest_factor
from ...quantities.results import Word
from ...quantities.units import Q_
from ...storage import tables
from .unit_picture import HAND_OVER, NOWHERE, UnitPicture, UnitScene, amps, at_least

REGIONS = ("IEC", "United States")
COPPER = Q_(75.0, "degC")  # of a loaded cable; the cautious figure
BREAKERS = (
    6,
    10,
    13,
    15,
    16,
    20,
    25,
    30,
    32,
    35,
    40,
    45,
    50,
    60,
    63,
    70,
    80,
)  # [A] standard in one region or the other
IN_SIGHT, LOCKABLE = "in sight", "lockable"
NO_DEVICE, WITH_DEVICE = "none", "with one"
METRIC_UNIT, US_UNIT = "Outdoor unit of your side", "Outdoor unit, 240 V, United States"
ITS_PLATE = "The plate states least and largest"
NOT_HERE, UNDER_LEAST, OVER_LARGEST = (
    Word("no standard size here", 2),
    Word("under the least", 2),
    Word("over the largest", 2),
)
TOO_THIN, ABOVE = Word("carries too little", 2), Word("above guidance", 2)
NO_SIZE = Word("no size suits, ask the maker", 2)
NO_ISOLATOR, NO_TRIP = Word("no isolator where it must be", 2), Word("nothing trips on leaks", 1)


def unit_circuit() -> Panel:
    """The circuit of Tern Bank's outdoor unit (invented)."""
    ready = units()
    start = next(iter(ready.values()))
    return Panel(
        {**_plate_controls(start), **_circuit_controls(start), **_unit_controls(start)},
        calculate,
        UnitPicture,
        readouts,
        ready,
        headline=headline,
        goods=goods_with(ready, {METRIC_UNIT: ready[US_UNIT]}),
    )


def _plate_controls(start: dict) -> dict:
    """Gives the controls of what stands on the nameplate."""

    def current(label: str, name: str, ends: tuple, explained: str) -> Slide:
        return Slide(label, "current", start[name], ends, ends, explained)

    return {
        "On the nameplate": {
            "compressor": current("Compressor", "compressor", (1, 60, 0.5), "its rated-load (rated) current"),
            "others": current("Other loads", "others", (0, 40, 0.5), "fan, pump and heater together"),
            "plate_least": current("Its least", "plate_least", (0, 80, 0.5), "least circuit ampacity; 0: not stated"),
            "plate_largest": current("Its largest", "plate_largest", (0, 100, 1), "largest breaker; 0: not stated"),
        }
    }


def _circuit_controls(start: dict) -> dict:
    """Gives the controls of the circuit."""
    cables = [row["cable"] for row in tables.rows("cables")]
    return {
        "The circuit": {
            "region": Choice("Region", list(REGIONS), start["region"], "whose rules, standard sizes and guidance hold"),
            "volts": Slide(
                "Voltage", "voltage", start["volts"], (100, 250, 1), (100, 250, 1), "of the supply, single-phase"
            ),
            "breaker": Choice("Breaker", [f"{one} A" for one in BREAKERS], start["breaker"], "rating of the breaker"),
            "cable": Choice("Cable", cables, start["cable"], "copper, from the board to the unit"),
            "cable_length": Slide("Cable length", "length", start["cable_length"], (1, 60, 1), (3, 200, 1), "one way"),
        }
    }


def _unit_controls(start: dict) -> dict:
    """Gives the controls of what stands between board and unit for those who work on it."""
    return {
        "For whoever works on it": {
            "isolator": Choice(
                "Local switch",
                [IN_SIGHT, LOCKABLE, NOWHERE],
                start["isolator"],
                "isolator: in sight of the unit; out of sight, but it can be locked off; or none of its own",
            ),
            "device": Choice(
                "Residual device",
                [NO_DEVICE, WITH_DEVICE],
                start["device"],
                "a residual-current device trips when current leaks to earth",
            ),
        }
    }


def units() -> dict:
    """Gives ready-made settings: title → settings. Tern Bank's outdoor unit (invented), in two countries."""
    unit = {
        "compressor": Q_(9.0, "A"),
        "others": Q_(2.0, "A"),
        "plate_least": Q_(0.0, "A"),
        "plate_largest": Q_(0.0, "A"),
        "region": "IEC",
        "volts": Q_(230.0, "V"),
        "breaker": "16 A",
        "cable": "2.5 mm2",
        "cable_length": Q_(20.0, "m"),
        "isolator": IN_SIGHT,
        "device": WITH_DEVICE,
    }
    american = {
        **unit,
        "compressor": Q_(11.0, "A"),
        "others": Q_(2.5, "A"),
        "region": "United States",
        "volts": Q_(240.0, "V"),
        "breaker": "20 A",
        "cable": "12 AWG solid",
        "cable_length": Q_(65.0, "ft"),
    }
    stated = {"plate_least": Q_(17.0, "A"), "plate_largest": Q_(25.0, "A")}
    return {METRIC_UNIT: unit, US_UNIT: american, ITS_PLATE: {**american, **stated, "breaker": "30 A"}}


def calculate(state: dict) -> UnitScene:
    """Turns the controls' values into a scene. Raises InputError."""
    stated = {name: state[name] for name in ("plate_least", "plate_largest") if state[name].magnitude > 0}
    found = heat_pump_circuit(
        state["compressor"],
        state["others"],
        state["volts"],
        region=state["region"],
        cable=state["cable"],
        cable_length=state["cable_length"],
        conductor=COPPER,
        **stated,
    )
    long, load = state["cable_length"].to("m").magnitude, found.load.magnitude
    return UnitScene(
        compressor=state["compressor"].to("A").magnitude,
        others=state["others"].to("A").magnitude,
        load=load,
        factor=found.factor,
        largest_factor=largest_factor(state["region"]),
        least=found.least_ampacity.magnitude,
        largest=found.largest_device.magnitude,
        next_device=found.next_device.magnitude,
        stated=tuple(stated),
        breaker=float(state["breaker"].split()[0]),
        region=state["region"],
        volts=state["volts"].to("V").magnitude,
        cable=state["cable"],
        carries=found.carries.magnitude,
        cable_length=long,
        copper=COPPER.magnitude,
        resistance=found.voltage_drop.magnitude / (2 * long * load),
        drop=found.voltage_drop.magnitude,
        drop_share=found.drop_share.magnitude,
        guidance=drop_limit(state["region"]),
        isolator=state["isolator"],
        trips=state["device"] == WITH_DEVICE,
        words=(found.rule, found.isolator, found.ground_fault, f"Volts lost: {found.drop_guidance}."),
    )


def breaker_word(scene: UnitScene) -> Word:
    """One word for the breaker: its region's sizes, whether any of them suits, the largest, the least."""
    if not scene.is_standard:
        return NOT_HERE
    if scene.least > scene.largest and (scene.largest_factor or "plate_largest" in scene.stated):
        return NO_SIZE  # no thicker cable helps
    if scene.breaker > scene.largest + 1e-9:
        return OVER_LARGEST
    return UNDER_LEAST if scene.breaker < scene.least - 1e-9 else HAND_OVER


def cable_word(scene: UnitScene) -> Word:
    """One word for the cable. Where the code sizes a compressor's breaker by itself the cable carries the least;
    elsewhere it carries as much as the breaker.
    """
    need = scene.least if scene.largest_factor else max(scene.least, scene.breaker)
    if scene.carries < need - 1e-9:
        return TOO_THIN
    return HAND_OVER if scene.drop_share <= scene.guidance else ABOVE


def unit_word(scene: UnitScene) -> Word:
    """One word for what those who work on the unit need."""
    if scene.isolator not in isolator_places(scene.region):
        return NO_ISOLATOR
    return HAND_OVER if scene.trips else NO_TRIP


def headline(scene: UnitScene, system: str) -> str:
    """Gives what does not fit, the gravest first; else the two numbers that an electrician asks for first."""
    breaker, cable = breaker_word(scene), cable_word(scene)
    if breaker is not HAND_OVER:
        return f"Breaker {scene.breaker:.0f} A: {breaker}"
    if cable is not HAND_OVER:
        return f"Cable {scene.thickness}: {cable}"
    return f"At least {at_least(scene.least)}, breaker at most {scene.largest:.0f} A"


def readouts(scene: UnitScene, system: str) -> list[Readout]:
    """Four cards to hand over; none of them says that a circuit is safe."""
    least = "its plate says so" if "plate_least" in scene.stated else f"by the rule, for {amps(scene.load)} running"
    return [
        Readout("Least current", HAND_OVER, f"{at_least(scene.least)}, {least}"),
        Readout("Breaker", breaker_word(scene), f"{scene.breaker:.0f} A; at most {scene.most}"),
        Readout(
            "Cable",
            cable_word(scene),
            f"carries {amps(scene.carries)}; loses {scene.drop:.1f} V, {scene.drop_share:.1f} %",
        ),
        Readout(
            "At the unit",
            unit_word(scene),
            f"isolator: {scene.isolator}; residual-current device: {'yes' if scene.trips else 'no'}",
        ),
    ]
