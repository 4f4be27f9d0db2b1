"""The panel of the notes on the outdoor unit: numbers to hand to electrician and fixer, never a verdict."""

from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.shared_controls import goods_with
from ...plant.bracket import bracket_loads, wind_pressure
from ...plant.circuit import heat_pump_circuit
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...storage import tables
from .picture import GUIDANCE, OutdoorUnitPicture, Scene, at_least

BOLTS = {"2 upper and 2 lower": (2, 4), "4 upper and 4 lower": (4, 8)}  # of two brackets together: upper, all
REGIONS = ("IEC", "United States")
COPPER = Q_(75.0, "degC")  # of a loaded cable; the cautious figure
ANY_BREAKER = Q_(100.0, "A")  # the next standard rating does not depend on it
METRIC_RIG, US_RIG = "Loop rig, 230 V", "Loop rig, 240 V, United States"
HAND_OVER, ABOVE = Word("hand over", 1), Word("above guidance", 2)


def outdoor_unit() -> Panel:
    """A bracket and a circuit, opened on Tern Bank's outdoor loop rig (invented)."""
    ready = rigs()
    start = next(iter(ready.values()))
    return Panel(
        {**_bracket_controls(start), **_circuit_controls(start)},
        calculate,
        OutdoorUnitPicture,
        readouts,
        ready,
        headline=headline,
        goods=goods_with(ready, {METRIC_RIG: ready[US_RIG]}),
    )


def _bracket_controls(start: dict) -> dict:
    """Gives the controls of the bracket and its wind."""
    return {
        "The bracket and its wind": {
            "mass": Slide(
                "Unit", "mass", start["mass"], (10, 150, 1), (20, 330, 1), "mass of the unit, full, from its nameplate"
            ),
            "extra": Slide("Snow and ice", "mass", start["extra"], (0, 50, 1), (0, 110, 1), "and water in its tray"),
            "arm": Slide(
                "Arm",
                "thickness",
                start["arm"],
                (100, 500, 10),
                (4, 20, 0.5),
                "from the wall to the point where the unit's weight acts",
            ),
            "spacing": Slide(
                "Bolt spacing", "thickness", start["spacing"], (100, 700, 10), (4, 28, 0.5), "from lower to upper bolts"
            ),
            "bolts": Choice("Bolts", list(BOLTS), start["bolts"], "of all brackets together"),
            "factor": Slide(
                "Safety factor",
                "ratio",
                start["factor"],
                (1.5, 10, 0.5),
                (1.5, 10, 0.5),
                "from the code or the anchor's maker",
            ),
            "wind": Slide(
                "Wind", "wind", start["wind"], (0, 60, 1), (0, 134, 1), "the gust that the fixer is to reckon with"
            ),
        }
    }


def _circuit_controls(start: dict) -> dict:
    """Gives the controls of the circuit."""
    cables = [row["cable"] for row in tables.rows("cables")]
    return {
        "The circuit": {
            "current": Slide(
                "Runs at",
                "current",
                start["current"],
                (1, 60, 0.5),
                (1, 60, 0.5),
                "motor and heater together, from the nameplate",
            ),
            "volts": Slide(
                "Voltage", "voltage", start["volts"], (100, 250, 1), (100, 250, 1), "of the supply, single-phase"
            ),
            "cable": Choice("Cable", cables, start["cable"], "copper, from the supply to the unit"),
            "cable_length": Slide("Cable length", "length", start["cable_length"], (1, 60, 1), (3, 200, 1), "one way"),
            "region": Choice(
                "Region", list(REGIONS), start["region"], "whose list of standard sizes and ground-fault advice"
            ),
        }
    }


def rigs() -> dict:
    """Gives ready-made settings: title → settings. Tern Bank's outdoor unit (invented), in two countries."""
    unit = {
        "mass": Q_(50.0, "kg"),
        "extra": Q_(15.0, "kg"),
        "arm": Q_(250.0, "mm"),
        "spacing": Q_(400.0, "mm"),
        "bolts": next(iter(BOLTS)),
        "factor": Q_(4.0, ""),
        "wind": Q_(30.0, "m/s"),
    }
    return {
        METRIC_RIG: {
            **unit,
            "current": Q_(14.0, "A"),
            "volts": Q_(230.0, "V"),
            "cable": "4 mm2",
            "cable_length": Q_(20.0, "m"),
            "region": "IEC",
        },
        US_RIG: {
            **unit,
            "current": Q_(18.0, "A"),
            "volts": Q_(240.0, "V"),
            "cable": "10 AWG stranded",
            "cable_length": Q_(20.0, "m"),
            "region": "United States",
        },
    }


def calculate(state: dict) -> Scene:
    """Turns the controls' values into a scene. Raises InputError."""
    upper, every = BOLTS[state["bolts"]]
    factor = state["factor"].to("").magnitude
    held = bracket_loads(
        state["mass"],
        state["arm"],
        state["spacing"],
        safety_factor=factor,
        top_bolts=upper,
        bolts=every,
        extra=state["extra"],
    )
    circuit = heat_pump_circuit(
        state["current"],
        state["volts"],
        ANY_BREAKER,
        region=state["region"],
        cable=state["cable"],
        cable_length=state["cable_length"],
        conductor=COPPER,
    )
    long, amps = state["cable_length"].to("m").magnitude, state["current"].to("A").magnitude
    return Scene(
        mass=state["mass"].to("kg").magnitude,
        extra=state["extra"].to("kg").magnitude,
        arm=state["arm"].to("m").magnitude,
        spacing=state["spacing"].to("m").magnitude,
        upper_bolts=upper,
        bolts=every,
        factor=factor,
        load=held.load.magnitude,
        moment=held.moment.magnitude,
        tension=held.tension.magnitude,
        shear=held.shear.magnitude,
        factored_tension=held.factored_tension.magnitude,
        factored_shear=held.factored_shear.magnitude,
        wind=state["wind"].to("m/s").magnitude,
        pressure=wind_pressure(state["wind"]).magnitude,
        current=amps,
        volts=state["volts"].to("V").magnitude,
        least_rating=circuit.least_rating.magnitude,
        next_breaker=circuit.next_breaker.magnitude,
        region=state["region"],
        cable=state["cable"],
        cable_length=long,
        copper=COPPER.magnitude,
        resistance=circuit.voltage_drop.magnitude / (2 * long * amps),
        drop=circuit.voltage_drop.magnitude,
        drop_share=circuit.drop_share.magnitude,
        ground_fault=circuit.ground_fault,
    )


def headline(scene: Scene, system: str) -> str:
    """Gives the two numbers that others ask for first."""
    most = show(Q_(scene.factored_tension, "N"), "force", system)
    return f"Each upper bolt: {most}. Next breaker size: {scene.next_breaker:.0f} A"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Four cards to hand over; none of them says that something holds."""
    pull, most, across, every = (
        show(Q_(value, "N"), "force", system)
        for value in (scene.tension, scene.factored_tension, scene.shear, scene.factored_shear)
    )
    cable = HAND_OVER if scene.drop_share <= GUIDANCE[0] else ABOVE
    return [
        Readout("Each upper bolt", HAND_OVER, f"pull {pull}; × {scene.factor:g} = {most}"),
        Readout("Each bolt", HAND_OVER, f"{across} across; × {scene.factor:g} = {every}"),
        Readout("Circuit", HAND_OVER, f"{at_least(scene.least_rating)} up; next size {scene.next_breaker:.0f} A"),
        Readout("Cable", cable, f"loses {scene.drop:.1f} V, {scene.drop_share:.1f} %"),
    ]
