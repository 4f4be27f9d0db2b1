"""The panel on three kinds of unit at one tank: what layers and ports do to usable water and to the COP."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import layers, return_cop
from ...physics.glycol import glycol
from ...physics.heat_pump import loop_flow
from ...physics.pressure import loss_per_metre
from ...physics.properties import water
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.common_values import WARM_ENOUGH
from ...runs.pipe import Pipe
from .panel import rig
from .tank_picture import CO2, GLYCOL, WATER, TankPicture, TankScene, Unit
from .tries_of_tank import TANK_TRIES

PORTS = {"the top": layers.TOP, "the middle": layers.MIDDLE, "the bottom": layers.BOTTOM}
LAYERED, BLENDED, COLD = Word("layers keep it hot", 0), Word("mixed: part is too cool", 1), Word("no hot water yet", 2)
STRONG, WEAK = Word("the return suits it", 0), Word("the return is too warm for it", 1)
SUITS = 0.8  # [-] of the COP with the coldest return, below which the verdict asks for care (teaching value, no source)
EASY, HARDER = Word("little harder to pump", 0), Word("harder to pump", 1)
HARD = 1.2  # [-] pressure of glycol over that of water from which the verdict asks for care (likewise)


def tank_and_units() -> Panel:
    """Tern Bank's tank (invented) with three kinds of unit."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {"The tank": _tank(start), "The units": _units(start), "The loop": _loop(start)},
        calculate,
        TankPicture,
        readouts,
        ready,
        headline=headline,
        tries=TANK_TRIES,
    )


def _tank(start: dict) -> dict:
    """Gives the controls of the tank."""
    return {
        "tank": Slide("Tank", "large volume", start["tank"], (50, 400, 10), (14, 105, 1), "water in it"),
        "cold": usual.cold(start["cold"], "what the tank was full of at first"),
        "store": Slide("Store", "temperature", start["store"], (50, 70, 1), (122, 158, 1), "when the tank is full"),
        "filled": Slide(
            "Heated so far", "share", start["filled"], (0, 100, 1), (0, 100, 1), "share of a full tank's heat"
        ),
        "port": Choice(
            "Hot line enters", list(PORTS), start["port"], "port of the tank; the cold line leaves at its bottom"
        ),
    }


def _units(start: dict) -> dict:
    """Gives the controls of the three units."""
    return {
        "heat": Slide("Heat output", "large power", start["heat"], (2, 16, 0.5), (2, 16, 0.5), "of each unit"),
        "rise": Slide(
            "Rise each pass",
            "temperature difference",
            start["rise"],
            (3, 15, 1),
            (5, 27, 1),
            "of the units that send the water round many times; the one-pass unit takes the whole rise at once",
        ),
        "air": Slide("Air", "temperature", start["air"], (-25, 20, 1), (-13, 68, 1), "outdoors"),
        "share": Slide("Glycol", "share", start["share"], (20, 50, 5), (20, 50, 5), "propylene glycol, by mass"),
    }


def _loop(start: dict) -> dict:
    """Gives the controls of the loop's pipe."""
    return {
        "pipe": usual.pipe(start["pipe"]),
        "length": Slide("Length", "length", start["length"], (1, 40, 1), (3, 130, 1), "of one line; there are two"),
    }


def ready_made() -> dict:
    """Tern Bank's tank, half heated (all invented): title → settings."""
    half = {
        "tank": Q_(200, "L"),
        "cold": Q_(8, "degC"),
        "store": rig()["store"],
        "filled": Q_(50, "percent"),
        "port": "the top",
        "heat": rig()["heat"],
        "rise": Q_(5, "delta_degC"),
        "air": Q_(5, "degC"),
        "share": Q_(30, "percent"),
        "pipe": ("PEX CTS", "1 in"),
        "length": rig()["length"],
    }
    return {
        "Half heated, hot line at the top": half,
        "Half heated, hot line at the bottom": {**half, "port": "the bottom"},
        "Nearly full": {**half, "filled": Q_(95, "percent")},
    }


def calculate(state: dict) -> TankScene:
    """Turns the controls' values into a scene."""
    cold, store, air = (state[name].to("degC").magnitude for name in ("cold", "store", "air"))
    rise, filled = state["rise"].to("delta_degC").magnitude, state["filled"].to("").magnitude
    volume, port = state["tank"].to("m**3").magnitude, PORTS[state["port"]]
    many, once = (layers.filling(cold, store, each, port) for each in (rise, store - cold))
    step_many, step_once = (_step(one, filled) for one in (many, once))

    def of(kind: str, back):
        """COP of one kind of unit at a temperature that comes back, and what the water warms by."""
        if kind == CO2:
            return return_cop.co2_cop(store, back, air), store - back
        out = np.minimum(np.add(back, rise), store)
        extra = return_cop.SECOND_EXCHANGER_STEP if kind == GLYCOL else 0.0
        return return_cop.condensing_cop(out, air, extra), out - back

    backs = np.linspace(cold, store - 1, 61)
    pressures = _pressures(state, 0.5 * (cold + store), rise, store - cold)
    units = [
        _unit(kind, of, filling, step, backs, pressure)
        for kind, filling, step, pressure in (
            (WATER, many, step_many, pressures[0]),
            (GLYCOL, many, step_many, pressures[1]),
            (CO2, once, step_once, pressures[2]),
        )
    ]
    tanks = many.layers[step_many], once.layers[step_once]
    wanted = WARM_ENOUGH.to("degC").magnitude
    return TankScene(
        cold=cold,
        store=store,
        filled=filled,
        port=state["port"],
        volume=volume,
        tanks=tanks,
        usable=tuple(volume * float(layers.usable(tank, cold, wanted)) for tank in tanks),
        wanted=wanted,
        backs=backs,
        units=tuple(units),
        glycol_share=state["share"].to("").magnitude,
    )


def _step(filling: layers.Filling, filled: float) -> int:
    """Gives the row at which a filling has come this far."""
    return int(min(np.searchsorted(filling.share, filled - 1e-9), len(filling.share) - 1))


def _unit(kind: str, of, filling, step: int, backs, pressure: float) -> Unit:
    """Works out one unit: COP now, over what was heated so far, and against every return."""
    back = float(filling.layers[step][-1])
    cops, warmed = of(kind, filling.back[: max(step, 1)])
    mean = float(np.sum(warmed) / np.sum(warmed / cops))
    return Unit(kind, back, float(of(kind, back)[0]), mean, of(kind, backs)[0], pressure)


def _pressures(state: dict, middle: float, rise: float, whole: float) -> tuple:
    """Pressure that both lines take [Pa] from water and from glycol in many passes, and from water in one."""
    pipe, heat = Pipe.nominal(*state["pipe"]), state["heat"].to("W").magnitude
    bore, rough = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.roughness))
    length, thick = 2 * state["length"].to("m").magnitude, glycol(state["share"].to("").magnitude, middle)
    flows = (
        float(loop_flow(heat, rise, middle + rise / 2)),
        heat / (thick.density * thick.heat_capacity * rise),
        float(loop_flow(heat, whole, middle + whole / 2)),
    )
    fluids = water(middle), thick, water(middle)
    return tuple(float(length * loss_per_metre(flow, bore, rough, fluid)) for flow, fluid in zip(flows, fluids))


def usable_word(scene: TankScene) -> Word:
    """One word for the tank of the unit that sends its water round once."""
    if scene.usable[1] <= 0:
        return COLD
    full = scene.filled * scene.volume * (scene.store - scene.cold) / (scene.wanted - scene.cold)
    return LAYERED if scene.usable[1] >= 0.95 * full else BLENDED


def suits_word(scene: TankScene) -> Word:
    """One word for the return of the one-pass CO2 unit."""
    one = scene.units[2]
    return STRONG if one.cop >= SUITS * one.cops[0] else WEAK


def headline(scene: TankScene, system: str) -> str:
    """Says what the two tanks give, with the same heat in them."""
    many, once = (show(Q_(value, "m**3"), "large volume", system) for value in scene.usable)
    return f"Usable now: {once} after one pass, {many} after many"


def readouts(scene: TankScene, system: str) -> list[Readout]:
    """Gives the verdicts on usable water, the CO2 unit's return and glycol."""
    once, many = (show(Q_(value, "m**3"), "large volume", system) for value in scene.usable[::-1])
    co2, extra = scene.units[2], scene.units[1].pressure / scene.units[0].pressure
    back = show(celsius(co2.back), "temperature", system)
    return [
        Readout("One-pass tank", usable_word(scene), f"{once} usable; many passes {many}"),
        Readout("CO2 unit", suits_word(scene), f"COP {co2.cop:.1f} with {back} coming back"),
        Readout("Glycol", HARDER if extra >= HARD else EASY, f"{100 * (extra - 1):.0f} % more pressure than water"),
    ]
