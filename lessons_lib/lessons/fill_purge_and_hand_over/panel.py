"""The panel on pressures: water that is shut in and warmed, the expansion vessel and its gauge."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.tank import ATMOSPHERE
from ...plant.closed_system import expansion, trapped_pressure_rise, vessel_pressure, vessel_reading
from ...quantities.display import both, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from ...storage.tables import tern_bank
from .picture import PressurePicture, PressureScene
from .tries import ON_MAIN, OPEN_SIDE, TRIES

# cold inlet; the tank at its hottest; a loop that is shut in, at first
COLD, HOTTEST, SHUT_AT = Q_(10, "degC"), Q_(65, "degC"), Q_(15, "degC")
TANK = Q_(180, "L")
CLOSE = 0.9  # of the relief valve's setting: from here on a verdict asks for care
SAME = 0.05  # of the cold pressure, by which a pre-charge may differ from it


def pressures() -> Panel:
    """Shut-in water and the expansion vessel, opened on Tern Bank's outdoor loop rig (invented)."""
    ready = ready_made()
    return Panel(
        _controls(next(iter(ready.values()))),
        calculate,
        PressurePicture,
        readouts,
        ready,
        lambda state: ("shut_at",) if state["warmed"].magnitude == 0 else (),
        headline=headline,
        tries=TRIES,
    )


def _controls(start: dict) -> dict:
    """Gives the controls of the water that is shut in, and of the vessel."""
    warming = f"{both(COLD, 'temperature')} to {both(HOTTEST, 'temperature')}"
    air = "the pressure that the vessel's air has while its water side is empty"
    read = "what is on the other side of the vessel's air while a gauge at its air valve is read"
    whole = "volume of the whole vessel"
    return {
        "The loop, shut between two valves": {
            "loop": usual.pipe(start["loop"], "Loop"),
            "warmed": Slide(
                "Loop warms by",
                "temperature difference",
                start["warmed"],
                (0, 20, 1),
                (0, 36, 1),
                "with both its valves shut",
            ),
            "shut_at": Slide(
                "Shut in at",
                "temperature",
                start["shut_at"],
                (1, 70, 1),
                (34, 158, 1),
                "the loop's water when both its valves are shut",
            ),
        },
        "The vessel": {
            "cold_pressure": _pressure(
                "Reducing valve", start["cold_pressure"], 100, 15, "pressure of the cold system"
            ),
            "precharge": _pressure("Pre-charge", start["precharge"], 0, 0, air),
            "side": Choice("Gauge read with", [OPEN_SIDE, ON_MAIN], start["side"], read),
            "vessel": Slide("Vessel", "volume", start["vessel"], (2, 50, 1), (0.5, 13, 0.1), whole),
            "tank": Slide(
                "Tank", "large volume", start["tank"], (50, 400, 10), (14, 105, 1), f"its water warms from {warming}"
            ),
            "relief": Slide(
                "Relief valve", "pressure", start["relief"], (300, 1100, 10), (44, 160, 1), "pressure at which it opens"
            ),
        },
    }


def _pressure(label: str, start, low: float, low_customary: float, explained: str) -> Slide:
    return Slide(label, "pressure", start, (low, 600, 10), (low_customary, 87, 1), explained)


def loop_and_run() -> tuple[dict, dict]:
    """Gives two legs of Tern Bank (invented), as its file has them: the loop to the tank, and the run to a hot tap."""
    legs = {run["ends_at"]: run for place in reversed(tern_bank()) for run in reversed(place["run"])}
    return legs["tank"], legs["tap"]


def ready_made() -> dict:
    """Tern Bank's outdoor loop rig (invented): title → settings."""
    loop, _ = loop_and_run()
    found = {
        "loop": (loop["pipe"], loop["size"]),
        "warmed": Q_(0, "delta_degC"),
        "shut_at": SHUT_AT,
        "cold_pressure": Q_(300, "kPa"),
        "precharge": Q_(100, "kPa"),
        "side": ON_MAIN,
        "vessel": Q_(12, "L"),
        "tank": TANK,
        "relief": Q_(600, "kPa"),
    }
    return {
        "Outdoor loop rig, as found": found,
        "Outdoor loop rig, filled properly": {**found, "precharge": Q_(300, "kPa"), "side": OPEN_SIDE},
    }


def calculate(state: dict) -> PressureScene:
    """Turns the controls' values into a scene. Raises InputError."""
    loop, cold, charged = Pipe.nominal(*state["loop"]), state["cold_pressure"], state["precharge"]
    filled = max(cold, charged)  # air charged above the cold pressure lets no water in before that is passed
    expanded = expansion(state["tank"], COLD, HOTTEST)
    hot = vessel_pressure(state["vessel"], expanded, charged, filled).to("Pa").magnitude
    on_the_main = state["side"] == ON_MAIN
    rise = trapped_pressure_rise(state["shut_at"], state["warmed"], loop, cold).rise.to("Pa").magnitude
    air = charged.to("Pa").magnitude + ATMOSPHERE
    start = cold.to("Pa").magnitude
    return PressureScene(
        on_the_main=on_the_main,
        reading=vessel_reading(charged, cold if on_the_main else Q_(0, "kPa")).to("Pa").magnitude,
        precharge=charged.to("Pa").magnitude,
        cold_pressure=start,
        hot_pressure=float(hot),
        relief=state["relief"].to("Pa").magnitude,
        cold=COLD.magnitude,
        hottest=HOTTEST.magnitude,
        air_cold=air / (filled.to("Pa").magnitude + ATMOSPHERE),
        air_hot=air / (float(hot) + ATMOSPHERE),
        shut_at=state["shut_at"].to("degC").magnitude,
        warmed=state["warmed"].to("delta_degC").magnitude,
        shut_in=start + rise,
        shut_rise=float(rise),
        material=loop.material,
    )


def headline(scene: PressureScene, system: str) -> str:
    """Says what the loop's water does between its valves; while it is not warmed, what the hot tank does."""
    shut, hot, relief = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.shut_in, scene.hot_pressure, scene.relief)
    )
    if scene.warmed == 0:
        return (
            f"Tank hot: relief valve opens at {relief}" if scene.opens else f"Tank hot: {hot}, relief valve stays shut"
        )
    if scene.shut_rise == 0:
        return "Shut in: no rise yet, but warmer water can"
    where = "above" if scene.beyond else "below"
    return f"Shut in: {shut}, {where} the relief valve's {relief}"


def readouts(scene: PressureScene, system: str) -> list[Readout]:
    """Gives the three verdicts."""
    reading, relief, rise = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.reading, scene.relief, scene.shut_rise)
    )
    hot = show(Q_(scene.hot_pressure, "Pa"), "pressure", system) if np.isfinite(scene.hot_pressure) else "no air left"
    return [
        Readout("Shut in", shut_word(scene), f"rises by {rise}" if scene.shut_rise else "warmer water can rise"),
        Readout("Vessel's gauge", gauge_word(scene), reading),
        Readout("Tank hot", growth_word(scene), f"{hot}; relief valve {relief}"),
    ]


def gauge_word(scene: PressureScene) -> Word:
    """Says what the vessel's gauge tells."""
    return Word("shows the main only", 1) if scene.hidden else Word("shows the pre-charge", 0)


def growth_word(scene: PressureScene) -> Word:
    """Says whether the vessel takes up what the water grows by."""
    if scene.opens:
        return Word("relief valve opens", 2)
    return (
        Word("close to the relief valve", 1) if scene.hot_pressure >= CLOSE * scene.relief else Word("room to grow", 0)
    )


def shut_word(scene: PressureScene) -> Word:
    """Says what shut-in water does when it warms."""
    if scene.warmed == 0:
        return Word("not warmed", 0)
    if scene.beyond:
        return Word("above the relief valve", 2)
    return Word("below the relief valve", 1) if scene.shut_rise > 0 else Word("no rise yet", 1)


def vessel_not_yet(scene: PressureScene) -> str:
    """Why the vessel's step is not done; "": it is."""
    if scene.on_the_main:
        return "its gauge is read on the live main, which says nothing about the vessel."
    if abs(scene.precharge - scene.cold_pressure) > SAME * scene.cold_pressure:
        return "the pre-charge is not the reducing valve's pressure."
    return ""


def heat_not_yet(scene: PressureScene) -> str:
    """Why the first heat can't end well; "": it can."""
    return "the relief valve opens before the tank is hot." if scene.opens else ""
