"""The controls that many panels share, each with its usual range, and the run that they describe.

Every function takes the value to start from; a panel may say in its own words what the control does.
"""

from ..quantities.display import SI, US, unit
from ..quantities.units import Q_, unit_of
from ..runs.insulation import NONE, Insulation, materials
from ..runs.pipe import Pipe, counterpart, families
from ..runs.run import Run
from ..runs.surroundings import Surroundings
from ..storage import preferences
from ..storage.tables import tern_bank
from .controls import Choice, PipeChoice, Slide

PIPE = (
    "material and trade size. Copper K, L, M: US walls, K the thickest; CTS: copper tube size; EN, ISO and BS: metric,"
    " outside × wall. Plain 15 mm copper tube has a 1 mm wall on the Continent and 0.7 mm in the UK"
)

FOAM = {  # thicknesses in which foam is sold (common practice, no source), and none
    SI: (0, 6, 9, 13, 19, 25, 32, 40, 50),
    US: (0, 0.25, 0.375, 0.5, 0.75, 1, 1.25, 1.5, 2),
}


def pipe(start, label: str = "Pipe") -> PipeChoice:
    """Gives the control of a pipe's family and size."""
    return PipeChoice(start, PIPE, label)


def in_goods(settings: dict, system: str) -> dict:
    """The same settings with the goods that a reader of a unit system buys: pipe of their region, and foam that was
    given in the other system's unit as it is sold in theirs.
    """
    region = preferences.region(system)
    found = {name: counterpart(*value, region) if _is_pipe(value) else value for name, value in settings.items()}
    own = unit("thickness", system)
    if "thickness" in found and found["thickness"].units != unit_of(own):
        found["thickness"] = min((Q_(one, own) for one in FOAM[system]), key=lambda one: abs(one - found["thickness"]))
    return found


def _is_pipe(value) -> bool:
    """Says whether a setting is a pipe's family and size; other tuples are lists of names."""
    return isinstance(value, tuple) and len(value) == 2 and value[0] in families()


def goods_with(ready_made: dict, us_goods: dict):
    """Gives `in_goods` where a US reader's ready-made settings differ by more than a rule finds.

    ready_made, us_goods : title → settings; title → what of them a US reader meets instead
    """

    def goods(settings: dict, system: str) -> dict:
        titles = [title for title, one in ready_made.items() if one == settings] if system == US else []
        return in_goods(settings, system) | (us_goods.get(titles[0], {}) if titles else {})

    return goods


def length(start, explained: str = "from tank to tap, along the pipe") -> Slide:
    """Gives the control of a run's length."""
    return Slide("Length", "length", start, (1, 60, 0.5), (3, 200, 1), explained)


def insulation(start: str) -> Choice:
    """Gives the control of the insulation's material, or none."""
    return Choice(
        "Insulation", [NONE, *materials()], start, "what is wrapped round the pipe; elastomeric is soft rubbery foam"
    )


def thickness(start) -> Slide:
    """Gives the control of the insulation's thickness."""
    return Slide("Thickness", "thickness", start, (0, 40, 1), (0, 1.5, 0.125), "of the insulation; 0 is a bare pipe")


def supply(start, explained: str = "of the water that leaves the tank") -> Slide:
    """Set temperature of the tank."""
    return Slide("Set temperature", "temperature", start, (40, 80, 1), (104, 176, 1), explained)


def flow(start, explained: str = "at the open tap") -> Slide:
    """Gives the control of a tap's flow."""
    return Slide("Flow", "flow", start, (0.5, 20, 0.5), (0.2, 5.2, 0.1), explained)


def cold(start, explained: str = "what stands in the pipe when nobody has drawn hot water") -> Slide:
    """Gives the control of the temperature of the main's water."""
    return Slide("Cold inlet", "temperature", start, (1, 25, 1), (34, 77, 1), explained)


def air(start, explained: str = "around the pipe, indoors or out") -> Slide:
    """Gives the control of the air at the pipe."""
    return Slide("Air", "temperature", start, (-30, 40, 1), (-22, 104, 1), explained)


def wind(start) -> Slide:
    """Gives the control of the wind at the pipe."""
    return Slide("Wind", "wind", start, (0, 15, 0.5), (0, 34, 1), "across the pipe itself; 0 indoors")


def bare_share(start=Q_(0, "percent")) -> Slide:
    """Share of the run that has no insulation: gaps, brackets, valves."""
    return Slide(
        "Left bare",
        "share",
        start,
        (0, 50, 1),
        (0, 50, 1),
        "share of the length without insulation: gaps, valves, brackets",
    )


def idle_thickness(state: dict) -> tuple:
    """Names the thickness as idle where there is no insulation."""
    return ("thickness",) if state["insulation"] == NONE else ()


def covering(state: dict) -> Insulation:
    """The insulation that the controls describe."""
    return Insulation.none() if state["insulation"] == NONE else Insulation(state["insulation"], state["thickness"])


def run_of(state: dict) -> Run:
    """The run that the controls describe. Raises InputError."""
    bare = state["bare_share"].to("dimensionless").magnitude if "bare_share" in state else 0
    around = Surroundings(state["air"], wind=state["wind"])
    return Run(Pipe.nominal(*state["pipe"]), state["length"], covering(state), around, bare_share=bare)


def settings_of(run: dict) -> dict:
    """The controls' values for one run of Tern Bank's files (see data/tern_bank)."""
    return {
        "pipe": (run["pipe"], run["size"]),
        "length": Q_(run["length"], "m"),
        "insulation": run["insulation"],
        "thickness": Q_(run["thickness"], "mm"),
        "supply": Q_(run["set_temperature"], "degC"),
        "flow": Q_(run["flow"], "L/min"),
        "cold": Q_(run["cold_inlet"], "degC"),
        "air": Q_(run["air"], "degC"),
        "wind": Q_(run["wind"], "m/s"),
    }


def tern_bank_runs(ends_at: str = "tap") -> dict:
    """Tern Bank's runs (invented) that end at a tap or at the tank: title → settings."""
    return {run["name"]: settings_of(run) for place in tern_bank() for run in place["run"] if run["ends_at"] == ends_at}


def some(settings: dict, *names: str) -> dict:
    """Only those settings that a panel has controls for."""
    return {name: settings[name] for name in names}
