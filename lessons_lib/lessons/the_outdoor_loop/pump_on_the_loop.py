"""The panel on a pump that drives a loop: its curve, what the loop takes, and the limits of a maker's sheet."""

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import pump
from ...physics.pressure import loss_per_metre
from ...physics.properties import water
from ...quantities.display import celsius, number, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .panel import rig, tern_bank_pump
from .pump_picture import PumpPicture, PumpScene
from .tries_of_water import PUMP_TRIES

SPARE = 1.2  # [-] of the least flow: below it the verdict asks for care (common practice, no source)
TOO_LITTLE, NEAR, ENOUGH = (
    Word("less than the unit asks for", 2),
    Word("little flow to spare", 1),
    Word("flow to spare", 0),
)
TOO_HOT, NOT_TOO_HOT = Word("hotter than the unit sends out", 2), Word("within the unit's range", 0)
OUTSIDE, INSIDE = Word("outside the sheet", 2), Word("within the sheet", 0)
BOILS = 99.0  # [degC] what the model's water can have


def pump_on_the_loop() -> Panel:
    """A loop between a heat pump and a tank, with a maker's sheet that the reader types in (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {"The loop": _loop(start), "The pump": _pump(start), "The unit's sheet": _sheet(start)},
        calculate,
        PumpPicture,
        readouts,
        ready,
        headline=headline,
        tries=PUMP_TRIES,
    )


def _loop(start: dict) -> dict:
    """Gives the controls of the loop itself."""
    height = "from the unit to the tank; in a full loop it takes no pressure, for what goes up comes down"
    return {
        "pipe": usual.pipe(start["pipe"]),
        "length": Slide("Length", "length", start["length"], (1, 40, 1), (3, 130, 1), "of one line; there are two"),
        "height": Slide("Height", "length", start["height"], (0, 15, 0.5), (0, 50, 1), height),
        "clogged": Slide(
            "Clogged",
            "share",
            start["clogged"],
            (0, 95, 5),
            (0, 95, 5),
            "share of the strainer's openings that is shut",
        ),
        "back": Slide(
            "Comes back at", "temperature", start["back"], (5, 55, 1), (41, 131, 1), "water that returns from the tank"
        ),
    }


def _pump(start: dict) -> dict:
    """Gives the controls of the pump's curve."""
    return {
        "shut_off": Slide(
            "With no flow",
            "pressure drop",
            start["shut_off"],
            (10, 120, 1),
            (1.5, 17.5, 0.1),
            "largest pressure, from the pump's sheet; 10 kPa is 1 m of head, 1 psi is 2.3 ft",
        ),
        "largest": Slide(
            "Largest flow", "flow", start["largest"], (5, 60, 1), (1.3, 16, 0.1), "where the pump's curve ends"
        ),
    }


def _sheet(start: dict) -> dict:
    """Gives the controls that are copied from the sheet of the heat pump."""
    length, flow = ((1, 40, 1), (3, 130, 1)), ((1, 40, 0.5), (0.3, 10.5, 0.1))
    return {
        "heat": Slide("Heat output", "large power", start["heat"], (2, 16, 0.5), (2, 16, 0.5), "to the water"),
        "loss": Slide(
            "Exchanger takes",
            "pressure drop",
            start["loss"],
            (1, 60, 1),
            (0.2, 9, 0.1),
            "pressure that the unit's own exchanger (coil) uses up",
        ),
        "rated": Slide("at a flow of", "flow", start["rated"], *flow, "the flow to which that pressure belongs"),
        "least": Slide("Least flow", "flow", start["least"], *flow, "below it the unit stops or is harmed"),
        "hottest": Slide(
            "Hottest out", "temperature", start["hottest"], (45, 90, 1), (113, 194, 1), "that the unit may send out"
        ),
        "longest": Slide("Longest line", "length", start["longest"], *length, "one way"),
        "smallest": Slide(
            "Smallest bore", "diameter", start["smallest"], (4, 40, 0.5), (0.2, 1.6, 0.05), "of the loop's pipe"
        ),
        "highest": Slide("Largest height", "length", start["highest"], (0, 15, 0.5), (0, 50, 1), "unit to tank"),
    }


def ready_made() -> dict:
    """Tern Bank's loop rig in wider pipe, with a sheet of its own (all invented): title → settings."""
    pressure, flow = tern_bank_pump()
    sheet = {
        "heat": rig()["heat"],
        "loss": Q_(15, "kPa"),
        "rated": Q_(15, "L/min"),
        "least": Q_(8, "L/min"),
        "hottest": Q_(65, "degC"),
        "longest": Q_(15, "m"),
        "smallest": Q_(12, "mm"),
        "highest": Q_(5, "m"),
    }
    loop = {
        "pipe": ("PEX CTS", "3/4 in"),
        "length": rig()["length"],
        "height": Q_(3, "m"),
        "clogged": Q_(0, "percent"),
        "back": Q_(38, "degC"),
    }
    found = {**loop, "shut_off": pressure, "largest": flow, **sheet}
    return {
        "Wide pipe, clean strainer": found,
        "A year without cleaning": {**found, "clogged": Q_(85, "percent")},
        "The unit moved to the yard": {**found, "length": Q_(30, "m")},
    }


def calculate(state: dict) -> PumpScene:
    """Turns the controls' values into a scene. Both lines' friction is the returning water's, the cautious side."""
    pipe = Pipe.nominal(*state["pipe"])
    bore, rough = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.roughness))
    length, back = state["length"].to("m").magnitude, state["back"].to("degC").magnitude
    clogged = state["clogged"].to("").magnitude
    rated, loss = state["rated"].to("m**3/s").magnitude, state["loss"].to("Pa").magnitude
    shut_off, largest = state["shut_off"].to("Pa").magnitude, state["largest"].to("m**3/s").magnitude
    heat, entering = state["heat"].to("W").magnitude, water(back)

    def parts(flow):
        return (
            2 * length * loss_per_metre(flow, bore, rough, entering),
            pump.exchanger_loss(flow, loss, rated),
            pump.strainer_loss(flow, clogged),
        )

    flow = pump.operating_flow(lambda one: sum(parts(one)), shut_off, largest)
    rise = float(pump.rise(heat, flow, entering.density, entering.heat_capacity))
    flows = PumpScene.SHARES * largest
    return PumpScene(
        flow=flow,
        pressure=float(pump.curve(flow, shut_off, largest)),
        parts=tuple(float(part) for part in parts(flow)),
        shut_off=shut_off,
        largest=largest,
        gives=pump.curve(flows, shut_off, largest),
        takes=sum(parts(flows)),
        least=state["least"].to("m**3/s").magnitude,
        back=back,
        rise=rise,
        hottest=state["hottest"].to("degC").magnitude,
        beyond=_beyond(state, bore),
    )


def _beyond(state: dict, bore: float) -> tuple:
    """Names what of the loop lies outside the maker's sheet."""
    length, longest, height, highest = (
        state[name].to("m").magnitude for name in ("length", "longest", "height", "highest")
    )
    rounding = 1e-9
    found = (
        ("length", length > longest + rounding),
        ("bore", bore < state["smallest"].to("m").magnitude - rounding),
        ("height", height > highest + rounding),
    )
    return tuple(name for name, outside in found if outside)


def enough_word(scene: PumpScene) -> Word:
    """One word for the flow beside the least that the sheet asks for."""
    if scene.flow < scene.least:
        return TOO_LITTLE
    return NEAR if scene.flow < SPARE * scene.least else ENOUGH


def headline(scene: PumpScene, system: str) -> str:
    """Says whether the unit gets its flow, the gravest first."""
    flow, least = (show(Q_(value, "m**3/s"), "flow", system) for value in (scene.flow, scene.least))
    if scene.flow < scene.least:
        return f"Only {flow} flows, and the unit needs {least}"
    if scene.leaves > scene.hottest:
        return "The water would leave too hot: the unit stops"
    if scene.beyond:
        return f"The sheet does not allow this {scene.beyond[0]}"
    return f"The unit gets {flow}, enough for its {least}"


def readouts(scene: PumpScene, system: str) -> list[Readout]:
    """Gives the verdicts on flow, rise and limits."""
    flow = show(Q_(scene.flow, "m**3/s"), "flow", system)
    least = number(Q_(scene.least, "m**3/s"), "flow", system)
    hottest = show(celsius(scene.hottest), "temperature", system)
    leaves = show(celsius(min(scene.leaves, BOILS)), "temperature", system)
    out = f"over {leaves}" if scene.leaves > BOILS else leaves
    limits = f"check the {' and the '.join(scene.beyond)}" if scene.beyond else "length, bore and height"
    return [
        Readout("Flow", enough_word(scene), f"{flow}; at least {least}"),
        Readout("Water out", TOO_HOT if scene.leaves > scene.hottest else NOT_TOO_HOT, f"{out}, at most {hottest}"),
        Readout("Limits", OUTSIDE if scene.beyond else INSIDE, limits),
    ]
