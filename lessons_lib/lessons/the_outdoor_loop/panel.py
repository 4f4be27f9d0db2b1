"""The panel of lesson 09: the loop between a heat pump outdoors and a tank indoors."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import heat_pump as physics
from ...physics import purge
from ...physics.convection import inside_resistance, no_film
from ...physics.delivery import Delivery, along
from ...physics.properties import water
from ...physics.pump import curve
from ...plant.heat_pump import heat_pump_cop
from ...plant.purge import FAST_ENOUGH, purge_legs
from ...quantities.display import ice_parts, show
from ...quantities.results import Word
from ...quantities.units import Q_, quantity
from ...runs.assessment import FREEZES_IN_THE_RUN, freeze_word, store_word
from ...runs.bacteria import RECOMMENDED_STORE
from ...runs.flow import speed_limit
from ...storage.tables import tern_bank
from .picture import LoopScene, OutdoorLoopPicture, lost
from .tries import TRIES

# from this share up (common practice, no source)
LOST_WORDS = (
    (0.15, Word("too much is lost", 2)),
    (0.05, Word("some is lost", 1)),
    (-np.inf, Word("little is lost", 0)),
)
TOO_MUCH, TOO_FAST = Word("too much for the pump", 2), Word("faster than its limit", 1)
SMALL = {
    TOO_MUCH: "The pump cannot push this flow through the pipe",
    TOO_FAST: "The water is too fast for this pipe",
}
NO_PURGE = Word("cannot purge itself", 1)
LENGTH = "of one line, from heat pump to tank; the loop has two"


def outdoor_loop() -> Panel:
    """Tern Bank's outdoor loop (invented)."""
    ready = ready_made()
    start = rig()
    return Panel(
        {
            "The loop": {
                "pipe": usual.pipe(start["pipe"]),
                "length": Slide("Length", "length", start["length"], (1, 40, 1), (3, 130, 1), LENGTH),
                "insulation": usual.insulation(start["insulation"]),
                "thickness": usual.thickness(start["thickness"]),
            },
            "The heat": {
                "heat": Slide(
                    "Heat output",
                    "large power",
                    start["heat"],
                    (2, 16, 0.5),
                    (2, 16, 0.5),
                    "what the heat pump gives to the water",
                ),
                "store": Slide(
                    "Store",
                    "temperature",
                    start["store"],
                    (45, 70, 1),
                    (113, 158, 1),
                    "temperature that the heat pump sends out for the store",
                ),
                "bottom": Slide(
                    "Tank bottom",
                    "temperature",
                    start["bottom"],
                    (5, 35, 1),
                    (41, 95, 1),
                    "water that the cold line takes from the tank; it warms as the store fills. The COP shown does not"
                    " count it; a one-pass CO2 unit's falls as it warms",
                ),
            },
            "The weather at the loop": {
                "air": usual.air(start["air"], "outdoors, at the heat pump and along the loop"),
                "wind": usual.wind(start["wind"]),
            },
        },
        calculate,
        OutdoorLoopPicture,
        readouts,
        ready,
        usual.idle_thickness,
        headline=headline,
        tries=TRIES,
    )


def _place() -> dict:
    """Tern Bank's loop rig (invented)."""
    return next(place for place in tern_bank() if "heat_pump" in place)


def rig() -> dict:
    """The settings that the panel opens on: Tern Bank's outdoor loop in frost."""
    run = usual.settings_of(_place()["run"][0])
    return {
        **usual.some(run, "pipe", "length", "insulation", "thickness", "air", "wind"),
        "heat": Q_(_place()["heat_pump"]["heat"], "kW"),
        "store": run["supply"],
        "bottom": run["cold"],
    }


def ready_made() -> dict:
    """The rig on three days."""
    return {
        "Loop rig, frosty night": rig(),
        "Loop rig, the store nearly full": {**rig(), "bottom": Q_(35.0, "degC")},
        "Loop rig, mild day": {**rig(), "air": Q_(10.0, "degC"), "wind": Q_(2.0, "m/s")},
    }


def tern_bank_pump() -> tuple:
    """Tern Bank's circulator (invented): its pressure with no flow, its flow with no pressure."""
    pump = _place()["heat_pump"]
    return Q_(pump["circulator_pressure"], "kPa"), Q_(pump["circulator_flow"], "L/min")


def circulator(flow: float) -> float:
    """Pressure that Tern Bank's circulator (invented) can give at a flow [Pa]; a parabola down to 0. flow [m3/s]"""
    pressure, largest = tern_bank_pump()
    return max(float(curve(flow, pressure.to("Pa").magnitude, largest.to("m**3/s").magnitude)), 0.0)


def loop_flow_of(run, heat: float, hot: float, bottom: float) -> float:
    """Flow at which the water takes up all the heat between the cold line's end and the store's temperature [m3/s].

    heat [W], hot, bottom [degC]. The cold line's end depends on the flow, by the exponential law; found by halving.
    """
    rest, straight = float(run.line.rest()), float(physics.loop_flow(heat, hot - bottom, hot))
    film = inside_resistance(run.line.inside_diameter, water(bottom), straight * water(hot).density)
    lost = float(run.line.conductance(bottom, rest, film)[0]) * run.length.to("m").magnitude  # [W/K]
    capacity = heat / (hot - bottom) / straight  # [J/(m3 K)]

    def returning(flow):
        return max(rest + (bottom - rest) * np.exp(-lost / (capacity * flow)), 0.0)

    low, high = heat / capacity / hot, heat / capacity / (hot - max(bottom, rest))
    for _ in range(40):
        middle = np.sqrt(low * high)
        low, high = (middle, high) if capacity * middle * (hot - returning(middle)) < heat else (low, middle)
    return float(np.sqrt(low * high))


def calculate(state: dict) -> LoopScene:
    """Turns the controls' values into a scene. Raises InputError."""
    run = usual.run_of(state)
    hot, bottom, air = (state[name].to("degC").magnitude for name in ("store", "bottom", "air"))
    heat, length = state["heat"].to("W").magnitude, state["length"].to("m").magnitude
    flow = loop_flow_of(run, heat, hot, bottom)
    into, moving = Q_(np.array([hot, bottom]), "degC"), quantity(flow, "m**3/s")
    # The water arrives at its hottest, and can freeze as far along as the cold side has it: see Run.ice_distance.
    delivery = Delivery(run.deliver(into, moving).temperature, run.deliver(into, moving, no_film).ice_distance)
    arrives, returns = delivery.temperature
    lines = along(run.line, into.magnitude, delivery, length)
    carried = heat / (hot - returns)  # [W/K]
    found = heat_pump_cop(state["store"], state["air"])
    legs = purge_legs(run.pipe.inside_diameter, state["length"], moving)
    pressure = 1000 * float(np.sum(run.pressure_drop(moving, into).magnitude))
    fails = run.freezing(into).hours_to_zero.magnitude
    section = run.line.section
    return LoopScene(
        air=air,
        wind=state["wind"].to("m/s").magnitude,
        length=length,
        thickness=0.5 * (section.outside_of_insulation - section.outside_diameter),
        store=hot,
        arrives=float(arrives),
        bottom=bottom,
        returns=float(returns),
        hot=lines[:, 0],
        cold=lines[:, 1],
        hot_ice=float(delivery.ice_distance[0]),
        cold_ice=float(delivery.ice_distance[1]),
        flow=flow,
        heat=heat,
        cop=found.cop,
        defrost=found.defrost,
        hot_loss=carried * (hot - float(arrives)),
        cold_loss=carried * (bottom - float(returns)),
        circulator=_place()["heat_pump"]["circulator_power"],
        speed=legs.speed.magnitude,
        carries_air=purge.CARRIES_AIR,
        least_flow=legs.least_flow.to("m**3/s").magnitude,
        # by name, the stricter: this water runs for hours
        limit=speed_limit(run.pipe.material, state["store"]).high.magnitude,
        pressure=pressure,
        available=circulator(flow),
        hot_hours=float(fails[0]),
        cold_hours=float(fails[1]),
    )


def lost_word(share: float) -> Word:
    """One word for the lines' share of the heat."""
    return next(word for least, word in LOST_WORDS if share >= least)


def flow_word(scene: LoopScene) -> Word:
    """One word for the flow, the gravest first."""
    if scene.pressure > scene.available:
        return TOO_MUCH
    if scene.speed > scene.limit:
        return TOO_FAST
    return FAST_ENOUGH if scene.speed >= scene.carries_air else NO_PURGE


def headline(scene: LoopScene, system: str) -> str:
    """Says whether this pipe suits the loop's flow; a line that freezes comes first."""
    word = flow_word(scene)
    if scene.freezes:
        return "A line freezes while its water flows"
    if word in SMALL:
        return SMALL[word]
    return f"The pump can push {show(Q_(scene.flow, 'm**3/s'), 'flow', system)} through this pipe"


def readouts(scene: LoopScene, system: str) -> list[Readout]:
    """Store, loss, flow, power cut."""
    store, share, moves = store_word(scene.store), lost_word(scene.lost), flow_word(scene)
    hours = min(scene.cold_hours, scene.hot_hours)
    frost = FREEZES_IN_THE_RUN if scene.freezes else freeze_word(hours, scene.air)
    advice = show(RECOMMENDED_STORE, "temperature", system)
    flow, speed = show(Q_(scene.flow, "m**3/s"), "flow", system), show(Q_(scene.speed, "m/s"), "speed", system)
    first = "ice while it flows" if scene.freezes else ice_parts(hours, scene.air)[-1]
    return [
        Readout("Store", store, f"COP {scene.cop:.1f}, tank bottom not counted; advice ≥ {advice}"),
        Readout("Lost on the way", share, f"the lines {lost(scene)}"),
        Readout("Flow", moves, f"{flow}, {speed}"),
        Readout("Power fails", frost, first),
    ]
