"""The panel of the notes on the outdoor unit: numbers to hand to whoever fixes it, never a verdict."""

from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.bracket import bracket_loads, wind_pressure
from ...quantities.display import show
from ...quantities.units import Q_
from ..heat_tape.unit_picture import HAND_OVER
from .picture import OutdoorUnitPicture, Scene

BOLTS = {"2 upper and 2 lower": (2, 4), "4 upper and 4 lower": (4, 8)}  # of two brackets together: upper, all
RIG = "Loop rig"


def outdoor_unit() -> Panel:
    """A bracket, opened on Tern Bank's outdoor loop rig (invented)."""
    ready = rigs()
    start = next(iter(ready.values()))
    return Panel(
        _bracket_controls(start),
        calculate,
        OutdoorUnitPicture,
        readouts,
        ready,
        headline=headline,
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


def rigs() -> dict:
    """Gives ready-made settings: title → settings. Tern Bank's outdoor unit (invented)."""
    return {
        RIG: {
            "mass": Q_(50.0, "kg"),
            "extra": Q_(15.0, "kg"),
            "arm": Q_(250.0, "mm"),
            "spacing": Q_(400.0, "mm"),
            "bolts": next(iter(BOLTS)),
            "factor": Q_(4.0, ""),
            "wind": Q_(30.0, "m/s"),
        }
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
    )


def headline(scene: Scene, system: str) -> str:
    """Gives the number that is asked for first."""
    return f"Each upper bolt: {show(Q_(scene.factored_tension, 'N'), 'force', system)} with the factor"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Two cards to hand over; none of them says that something holds."""
    pull, most, across, every = (
        show(Q_(value, "N"), "force", system)
        for value in (scene.tension, scene.factored_tension, scene.shear, scene.factored_shear)
    )
    return [
        Readout("Each upper bolt", HAND_OVER, f"pull {pull}; × {scene.factor:g} = {most}"),
        Readout("Each bolt", HAND_OVER, f"{across} across; × {scene.factor:g} = {every}"),
    ]
