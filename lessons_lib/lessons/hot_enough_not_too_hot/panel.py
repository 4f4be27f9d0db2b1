"""The panel of lesson 01: tank setting, mixing-valve setting, where the valve belongs."""

import math
from functools import cache, partial

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.tank import heat_to_warm
from ...plant.heat_pump import heat_pump_cop
from ...plant.tank import HOLDS, USUAL_LEAST, mixing_valve, standby_loss, water_at_the_tap
from ...quantities.display import celsius, show
from ...quantities.units import Q_
from ...runs.assessment import scald_word, store_word
from ...runs.bacteria import RECOMMENDED_STORE, bacteria_band
from ...runs.common_values import WARM_ENOUGH
from ...runs.pipe import Pipe
from ...runs.scald import skin_words, time_to_burn
from .picture import HotEnoughPicture, Scene
from .tries import TRIES
from .valve_strip import AT_EACH, AT_TANK, BETWEEN, NOWHERE, PLACES, is_tepid, tepid_word

COOL = Q_(49.0, "degC")  # the tank as it was found
ROOM = Q_(20.0, "degC")  # around the tank
# A teaching value (common practice, no source): the maker's figure decides.
STANDBY, STANDBY_VOLUME = Q_(1.6, "kWh/day"), Q_(150.0, "L")  # of a foamed tank of that size, 45 K above its room
END_PIPE, END_LENGTH = ("copper L", "1/2 in"), Q_(0.5, "m")  # from the valve at a tap to its spout


def hot_enough() -> Panel:
    """Tank, valve and two taps, opened on Tern Bank's workshop (invented)."""
    ready = workshop()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The tank": {
                "supply": Slide(
                    "Set temperature",
                    "temperature",
                    start["supply"],
                    (40, 75, 1),
                    (104, 167, 1),
                    "what the tank is told to hold",
                ),
                "volume": Slide(
                    "Tank volume", "large volume", start["volume"], (50, 300, 10), (15, 80, 1), "of the whole tank"
                ),
                "cold": usual.cold(
                    start["cold"], "the cold water that comes in from the main, to the tank and to the valve"
                ),
            },
            "The mixing valve": {
                "place": Choice("Where it sits", list(PLACES), start["place"], "which pipes and taps come after it"),
                "setting": Slide(
                    "Set to", "temperature", start["setting"], (35, 60, 1), (95, 140, 1), "what the valve should give"
                ),
                "flow": usual.flow(start["flow"], "through the valve; with too little flow it cannot hold its setting"),
            },
            "A heat pump warms the tank": {
                "outdoor": Slide(
                    "Outdoor air",
                    "temperature",
                    start["outdoor"],
                    (-20, 30, 1),
                    (-4, 86, 1),
                    "where the heat pump takes its heat from",
                ),
                "used": Slide(
                    "Used each day",
                    "large volume",
                    start["used"],
                    (50, 300, 10),
                    (15, 80, 1),
                    "wash water, mixed, at all taps together",
                ),
            },
        },
        calculate,
        partial(HotEnoughPicture, first=first_share()),
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
    )


def workshop() -> dict:
    """Gives ready-made settings: title → settings. Tern Bank's workshop (invented) and what one may do about it."""
    trough = usual.tern_bank_runs()["Wash trough, indoors"]
    hot = {
        "supply": trough["supply"],
        "volume": Q_(150.0, "L"),
        "cold": trough["cold"],
        "place": AT_TANK,
        "setting": Q_(45.0, "degC"),
        "flow": trough["flow"],
        "outdoor": Q_(5.0, "degC"),
        "used": Q_(180.0, "L"),
    }
    return {
        "Workshop: hot tank, valve at the tank": hot,
        "Workshop: hot tank, a valve at each tap": {**hot, "place": AT_EACH},
        "Workshop as found: cool tank, no valve": {**hot, "place": NOWHERE, "supply": COOL},
    }


def pipes() -> tuple:
    """Gives the pipes of Tern Bank's workshop: pipe and length to the wash trough, on to the far sink, and at the end
    to each tap's spout.
    """
    runs = usual.tern_bank_runs()
    trough, sink = runs["Wash trough, indoors"], runs["Far sink, indoors"]
    return (trough["pipe"], trough["length"]), (sink["pipe"], sink["length"] - trough["length"]), (END_PIPE, END_LENGTH)


@cache
def contents() -> list[float]:
    """Water in each of the pipes [m3]."""
    return [
        math.pi / 4 * (Pipe.nominal(*pipe).inside_diameter ** 2 * length).to("m**3").magnitude
        for pipe, length in pipes()
    ]


def first_share() -> float:
    """Says how far along the pipe the first tap is."""
    (_, trunk), (_, leg), _ = pipes()
    return (trunk / (trunk + leg)).to("dimensionless").magnitude


def idle_controls(state: dict) -> tuple:
    """Names the controls that do nothing: without a valve its setting and flow."""
    return ("setting", "flow") if state["place"] == NOWHERE else ()


def calculate(state: dict) -> Scene:
    """Turns the controls' values into a scene. Raises InputError."""
    supply, cold, place = state["supply"], state["cold"], state["place"]
    tank = supply.to("degC").magnitude
    setting = state["setting"].to("degC").magnitude
    # A valve that is set above the tank can only let the tank's water through.
    valve = mixing_valve(
        supply,
        cold,
        celsius(min(setting, tank)),
        state["flow"],
        **USUAL_LEAST,
    )
    out = tank if place == NOWHERE else valve.hottest.magnitude
    trunk, leg = out if place == AT_TANK else tank, out if place in (AT_TANK, BETWEEN) else tank
    first, last = out if place == AT_EACH else trunk, out if place == AT_EACH else leg
    tepid = tepid_pipes(trunk, leg, first, last)
    burn = [time_to_burn(celsius(value)) for value in (first, last)]
    mixed = water_at_the_tap(state["volume"], supply, cold, WARM_ENOUGH).to("m**3").magnitude
    cop = heat_pump_cop(supply, state["outdoor"]).cop
    warmed = heat_to_warm(state["used"].to("m**3").magnitude, cold.to("degC").magnitude, WARM_ENOUGH.magnitude)
    heat = Q_(float(warmed), "J").to("kWh").magnitude
    surface = (state["volume"] / STANDBY_VOLUME).to("dimensionless").magnitude ** (2 / 3)
    standby = (standby_loss(supply, ROOM, surface * STANDBY) * Q_(1, "day")).to("kWh").magnitude
    return Scene(
        tank=tank,
        cold=cold.to("degC").magnitude,
        place=place,
        setting=setting,
        flow=state["flow"].to("m**3/s").magnitude,
        holds=valve.word == HOLDS,
        gap=tank - setting,
        enough_gap=tank - setting >= USUAL_LEAST["least_difference"].magnitude,
        enough_flow=state["flow"] >= USUAL_LEAST["least_flow"],
        out=out,
        trunk=trunk,
        leg=leg,
        first=first,
        last=last,
        first_burn=(burn[0].seconds.magnitude, burn[0].bound),
        last_burn=(burn[1].seconds.magnitude, burn[1].bound),
        tepid_volume=sum(volume for _, volume in tepid),
        tepid_most=max((value for value, _ in tepid), default=tank),
        store_band=bacteria_band(supply).word,
        volume=state["volume"].to("m**3").magnitude,
        mixed=mixed,
        wash=WARM_ENOUGH.magnitude,
        outdoor=state["outdoor"].to("degC").magnitude,
        cop=cop,
        heat=heat,
        standby=standby,
        electricity=(heat + standby) / cop,
    )


def tepid_pipes(trunk: float, leg: float, first: float, last: float) -> list[tuple[float, float]]:
    """The pipes that never get hot: what runs through each [degC] and its content [m3]. trunk, leg, first, last
    [degC]
    """
    to_first, on_to_last, end = contents()
    parts = ((trunk, to_first), (leg, on_to_last), (first, end), (last, end))
    return [(value, volume) for value, volume in parts if is_tepid(value)]


def headline(scene: Scene, system: str) -> str:
    """Says what the hotter tap gives, and whether it scalds."""
    tap = "both taps" if scene.first == scene.last else "the first tap" if scene.first > scene.last else "the last tap"
    hottest = max(scene.first, scene.last)
    return f"At {tap}: {show(celsius(hottest), 'temperature', system)}, {scald_word(hottest)}"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    store, pipe = store_word(scene.tank), tepid_word(scene.tank, scene.tepid_volume)
    tank, advice = (show(celsius(value), "temperature", system) for value in (scene.tank, RECOMMENDED_STORE.magnitude))
    electricity = show(Q_(scene.electricity, "kWh"), "energy", system)
    never = (
        f"{show(Q_(scene.tepid_volume, 'm**3'), 'pipe content', system)} never above"
        f" {show(celsius(scene.tepid_most), 'temperature', system)}"
    )
    taps = [
        Readout(title, word, f"{show(celsius(value), 'temperature', system)}; {skin_words(*burn)}")
        for title, value, burn in (
            ("First tap", scene.first, scene.first_burn),
            ("Last tap", scene.last, scene.last_burn),
        )
        for word in (scald_word(value),)
    ]
    return [
        Readout("Tank", store, f"{tank}, advice {advice} up; {electricity} a day"),
        *taps,
        Readout("Pipe", pipe, never if scene.tepid_volume else "hot right up to the taps"),
    ]
