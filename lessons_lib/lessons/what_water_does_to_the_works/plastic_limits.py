"""The panel on plastic's limits: how warm, under what pressure, how near the heater, in what light, with what water."""

from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.shared_controls import goods_with
from ...panels.tries import Step, Try
from ...plant.closed_system import relief_settings
from ...plant.plastic_limits import (
    BARE_OUTDOORS,
    DRINKING,
    HEATING_WITHOUT,
    IN_A_JACKET,
    INDOORS,
    METAL_FIRST,
    PLACES,
    USES,
    heater_word,
    place_word,
    plastic_limit,
    plastic_pipe,
    plastic_pipes,
    use_word,
)
from ...quantities.display import SI, US, celsius, show
from ...quantities.units import Q_
from ...runs.pipe import pipe_material
from .plastic_picture import PlasticPicture, PlasticScene, usual_metal

RELIEF_OF = {SI: "United Kingdom", US: "United States"}  # the region whose relief valve a unit system's reader sees
FOUND, COVERED, HEATING = "Outdoor loop rig, as found", "Outdoor loop rig, covered", "Heating circuit, plain pipe"
AMERICAN = {"pipe": "PEX (ASTM F876)", "metal": Q_(20, "inch")}
US_GOODS = {FOUND: {"pipe": AMERICAN["pipe"]}, COVERED: AMERICAN, HEATING: AMERICAN}


def plastic_limits() -> Panel:
    """The plastic pipe of Tern Bank's outdoor loop rig (invented) and where it stands."""
    ready = ready_made()
    return Panel(
        _controls(ready[FOUND]),
        calculate,
        PlasticPicture,
        readouts,
        ready,
        headline=headline,
        tries=PLASTIC_TRIES,
        goods=goods_with(ready, US_GOODS),
    )


def _controls(start: dict) -> dict:
    """Gives the controls of the pipe, its water and its place."""
    metal = "length of metal pipe from the heater to the plastic; 0: the plastic is joined to the heater"
    mark = "as it is marked: standard, or application class and design pressure"
    return {
        "The pipe and its water": {
            "pipe": Choice("Pipe", plastic_pipes(), start["pipe"], mark),
            "water": Slide("Water", "temperature", start["water"], (5, 110, 1), (41, 230, 1), "in the pipe, steadily"),
            "pressure": Slide(
                "Pressure",
                "pressure",
                start["pressure"],
                (100, 1500, 10),
                (15, 215, 1),
                "in the pipe, as a gauge shows",
            ),
        },
        "Where it stands": {
            "metal": Slide("Metal at heater", "cut", start["metal"], (0, 1000, 50), (0, 36, 1), metal),
            "place": Choice("Place", list(PLACES), start["place"], "sunlight ages plastic; a jacket shades it"),
            "use": Choice("Carries", list(USES), start["use"], "a barrier keeps the air's oxygen out of heating water"),
        },
    }


def ready_made() -> dict:
    """Plastic pipes of Tern Bank (invented): title → settings."""
    found = {
        "pipe": "PE-X, class 2, 10 bar",
        "water": Q_(65, "degC"),
        "pressure": Q_(400, "kPa"),
        "metal": Q_(0, "mm"),
        "place": BARE_OUTDOORS,
        "use": DRINKING,
    }
    covered = {**found, "metal": Q_(500, "mm"), "place": IN_A_JACKET}
    return {FOUND: found, COVERED: covered, HEATING: {**covered, "place": INDOORS, "use": HEATING_WITHOUT}}


def calculate(state: dict) -> PlasticScene:
    """Turns the controls' values into a scene. Raises InputError."""
    pipe = plastic_pipe(state["pipe"])
    found = plastic_limit(state["pipe"], state["water"], state["pressure"])
    relief = {system: _relief(region) for system, region in RELIEF_OF.items()}
    return PlasticScene(
        pipe=pipe.name,
        colour=pipe_material(pipe.own).colour,
        temperatures=pipe.temperatures,
        pressures=pipe.pressures,
        steady=pipe.steady,
        water=state["water"].to("degC").magnitude,
        pressure=state["pressure"].to("Pa").magnitude,
        allowed=found.allowed.to("Pa").magnitude,
        reason=found.reason,
        metal=state["metal"].to("m").magnitude,
        needed=METAL_FIRST.to("m").magnitude,
        place=state["place"],
        use=state["use"],
        relief=relief,
        relief_allowed={system: float(pipe.allowed(warm)) for system, (warm, _) in relief.items()},
    )


def _relief(region: str) -> tuple[float, float]:
    """Temperature [degC] and pressure [Pa] at which a region's temperature and pressure relief valve opens."""
    one = next(one for one in relief_settings(region) if one.device.startswith("temperature and pressure"))
    return one.highest.magnitude, one.pressure.to("Pa").magnitude


def headline(scene: PlasticScene, system: str) -> str:
    """Says what the pipe may carry at this temperature."""
    water = show(celsius(scene.water), "temperature", system)
    if not scene.allowed:
        return f"At {water} this pipe is not rated"
    return f"At {water} this pipe may carry {show(Q_(scene.allowed, 'Pa'), 'pressure', system)}"


def readouts(scene: PlasticScene, system: str) -> list[Readout]:
    """Gives the four verdicts: rating, heater, sun and oxygen."""
    allowed, pressure = (show(Q_(value, "Pa"), "pressure", system) for value in (scene.allowed, scene.pressure))
    limit = plastic_limit(scene.pipe, celsius(scene.water), Q_(scene.pressure, "Pa"))
    metal = usual_metal(scene.needed, system)
    return [
        Readout("Rating", limit.word, f"{pressure} of {allowed}" if scene.allowed else limit.reason),
        Readout("Heater", heater_word(Q_(scene.metal, "m")), f"often {metal} of metal; maker and code decide"),
        Readout("Sunlight", place_word(scene.place), scene.place),
        Readout("Oxygen", use_word(scene.use), scene.use),
    ]


def _falls(scenes, system: str) -> str:
    _, cold, hot = scenes
    first, last = (show(Q_(scene.allowed, "Pa"), "pressure", system) for scene in (cold, hot))
    water = show(celsius(hot.water), "temperature", system)
    return (
        f"Cold, this pipe may carry {first}. At {water} it may carry only **{last}**, {cold.allowed / hot.allowed:.0f}"
        " times less. So a pressure without its temperature says nothing of a plastic pipe."
    )


def _relief_try(scenes, system: str) -> str:
    before, scene = scenes
    warm, opens = scene.relief[system]
    opening = show(celsius(warm), "temperature", system), show(Q_(opens, "Pa"), "pressure", system)
    rated = scene.relief_allowed[system]
    then = (
        f"There this pipe still has {show(Q_(rated, 'Pa'), 'pressure', system)}, but only for the hours of a fault"
        if rated
        else "There this pipe has no rating at all"
    )
    usual = show(celsius(before.water), "temperature", system), show(Q_(before.allowed, "Pa"), "pressure", system)
    return (
        f"At {usual[0]} the pipe may carry {usual[1]}. A heater's relief valve opens only at {opening[0]} or"
        f" {opening[1]}. **{then}**. So the thermostat protects the pipe, not the relief valve, and the first length at"
        " the heater is metal."
    )


CPVC = "CPVC (ASTM D2846)"
PLASTIC_TRIES = (
    Try(
        "Cold and hot",
        (
            Step(
                "Set {pipe} and {water}. What may it carry?",
                {"pipe": CPVC, "water": Q_(20, "degC")},
                {"water": Q_(68, "degF")},
            ),
            Step("Now set {water}. What may it carry?", {"water": Q_(82, "degC")}, {"water": Q_(180, "degF")}),
        ),
        _falls,
    ),
    Try(
        "When the thermostat fails",
        (
            Step(
                "Set {water} and look for the star. Is it under the line?",
                {"water": Q_(95, "degC")},
                {"water": Q_(210, "degF")},
            ),
        ),
        _relief_try,
    ),
)
