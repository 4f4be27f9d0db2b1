"""The panel on filling: purging two legs, the expansion vessel and its gauge, and water that is shut in."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.purge import CARRIES_AIR, seconds_to_change
from ...physics.tank import ATMOSPHERE
from ...plant.closed_system import expansion, trapped_pressure_rise, vessel_pressure, vessel_reading
from ...plant.purge import FAST_ENOUGH, TOO_SLOW, purge_legs
from ...quantities.display import both, number, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from ...storage.tables import tern_bank
from .picture import PurgedLeg, PurgePicture, PurgeScene

# cold inlet; the tank at its hottest; a loop that is shut in, at first
COLD, HOTTEST, SHUT_AT = Q_(10, "degC"), Q_(65, "degC"), Q_(15, "degC")
OPEN_SIDE, ON_MAIN = "open to the air", "on the live main"
CLOSE = 0.9  # of the relief valve's setting: from here on a verdict asks for care
SAME = 0.05  # of the cold pressure, by which a pre-charge may differ from it


def fill_purge() -> Panel:
    """Purge, vessel and shut-in water, opened on Tern Bank's outdoor loop rig (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {**_purge_controls(start), **_pressure_controls(start)},
        calculate,
        PurgePicture,
        readouts,
        ready,
        lambda state: ("shut_at",) if state["warmed"].magnitude == 0 else (),
    )


def _purge_controls(start: dict) -> dict:
    """Gives the controls of the legs and of their purge."""
    return {
        "The legs": {
            "loop": usual.pipe(start["loop"], "Loop"),
            "loop_length": Slide(
                "Loop length", "length", start["loop_length"], (2, 60, 1), (6, 200, 1), "out and back together"
            ),
            "run": usual.pipe(start["run"], "Hot run"),
            "run_length": Slide(
                "Run length",
                "length",
                start["run_length"],
                (2, 60, 1),
                (6, 200, 1),
                "from the tank to the highest hot tap",
            ),
        },
        "The purge": {
            "flow": Slide(
                "Flow", "flow", start["flow"], (1, 30, 0.5), (0.3, 8, 0.1), "through the leg that is being purged"
            ),
            "changes": Slide(
                "Changes",
                "count",
                start["changes"],
                (1, 10, 1),
                (1, 10, 1),
                "how often the water of the leg is replaced",
            ),
        },
    }


def _pressure_controls(start: dict) -> dict:
    """Gives the controls of the vessel, and of the water that is shut in."""
    warming = f"{both(COLD, 'temperature')} to {both(HOTTEST, 'temperature')}"
    return {
        "The vessel": {
            "cold_pressure": _pressure(
                "Reducing valve", start["cold_pressure"], 100, 15, "pressure of the cold system"
            ),
            "precharge": _pressure(
                "Pre-charge", start["precharge"], 0, 0, "what the vessel's air really has while its water side is empty"
            ),
            "side": Choice(
                "Read with", [OPEN_SIDE, ON_MAIN], start["side"], "the vessel's water side while its air gauge is read"
            ),
            "vessel": Slide(
                "Vessel", "volume", start["vessel"], (2, 50, 1), (0.5, 13, 0.1), "volume of the whole expansion vessel"
            ),
            "tank": Slide(
                "Tank", "large volume", start["tank"], (50, 400, 10), (14, 105, 1), f"its water warms from {warming}"
            ),
            "relief": Slide(
                "Relief valve", "pressure", start["relief"], (300, 1100, 10), (44, 160, 1), "pressure at which it opens"
            ),
        },
        "Shut between two valves": {
            "shut_at": Slide(
                "Shut in at",
                "temperature",
                start["shut_at"],
                (1, 70, 1),
                (34, 158, 1),
                "the loop's water when both its valves are shut",
            ),
            "warmed": Slide(
                "Loop warms by",
                "temperature difference",
                start["warmed"],
                (0, 20, 1),
                (0, 36, 1),
                "with both its valves shut",
            ),
        },
    }


def _pressure(label: str, start, low: float, low_customary: float, explained: str) -> Slide:
    return Slide(label, "pressure", start, (low, 600, 10), (low_customary, 87, 1), explained)


def ready_made() -> dict:
    """Tern Bank's outdoor loop rig with the cabin's run (invented): title → settings."""
    legs = {run["ends_at"]: run for place in reversed(tern_bank()) for run in reversed(place["run"])}
    loop, run = legs["tank"], legs["tap"]
    found = {
        "loop": (loop["pipe"], loop["size"]),
        "loop_length": Q_(2 * loop["length"], "m"),
        "run": (run["pipe"], run["size"]),
        "run_length": Q_(run["length"], "m"),
        "flow": Q_(loop["flow"], "L/min"),
        "changes": Q_(3, ""),
        "cold_pressure": Q_(300, "kPa"),
        "precharge": Q_(100, "kPa"),
        "side": ON_MAIN,
        "vessel": Q_(12, "L"),
        "tank": Q_(180, "L"),
        "relief": Q_(600, "kPa"),
        "shut_at": SHUT_AT,
        "warmed": Q_(0, "delta_degC"),
    }
    return {
        "Outdoor loop rig, as found": found,
        "Outdoor loop rig, filled properly": {
            **found,
            "flow": Q_(12, "L/min"),
            "precharge": Q_(300, "kPa"),
            "side": OPEN_SIDE,
        },
    }


def calculate(state: dict) -> PurgeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    flow, changes = state["flow"], float(round(state["changes"].magnitude))
    pipes = [Pipe.nominal(*state[name]) for name in ("loop", "run")]
    legs = [_leg(pipe, state[name], flow, changes) for pipe, name in zip(pipes, ("loop_length", "run_length"))]
    cold, charged = state["cold_pressure"], state["precharge"]
    filled = max(cold, charged)  # air charged above the cold pressure lets no water in before that is passed
    expanded = expansion(state["tank"], COLD, HOTTEST)
    hot = vessel_pressure(state["vessel"], expanded, charged, filled).to("Pa").magnitude
    on_the_main = state["side"] == ON_MAIN
    rise = trapped_pressure_rise(state["shut_at"], state["warmed"], pipes[0], cold).rise.to("Pa").magnitude
    air = charged.to("Pa").magnitude + ATMOSPHERE
    start = cold.to("Pa").magnitude
    tank = state["tank"].to("m**3").magnitude
    return PurgeScene(
        loop=legs[0],
        run=legs[1],
        flow=flow.to("m**3/s").magnitude,
        need=CARRIES_AIR,
        changes=changes,
        fill_seconds=float(seconds_to_change(tank, flow.to("m**3/s").magnitude, 1.0)),
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
        material=pipes[0].material,
    )


def _leg(pipe: Pipe, length, flow, changes: float) -> PurgedLeg:
    found = purge_legs(pipe.inside_diameter, length, flow, changes)
    return PurgedLeg(
        pipe.inside_diameter.to("m").magnitude,
        found.volume.to("m**3").magnitude,
        found.speed.to("m/s").magnitude,
        found.time.to("s").magnitude,
        found.word == FAST_ENOUGH,
    )


def readouts(scene: PurgeScene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    purge = FAST_ENOUGH if scene.loop.fast and scene.run.fast else TOO_SLOW
    loop, run = number(Q_(scene.loop.speed, "m/s"), "speed", system), show(Q_(scene.run.speed, "m/s"), "speed", system)
    reading, relief, rise = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.reading, scene.relief, scene.shut_rise)
    )
    gauge, grow, shut = gauge_word(scene), growth_word(scene), shut_word(scene)
    hot = show(Q_(scene.hot_pressure, "Pa"), "pressure", system) if np.isfinite(scene.hot_pressure) else "no air left"
    return [
        Readout("Purge", purge, f"{loop} and {run}"),
        Readout("Vessel's gauge", gauge, reading),
        Readout("Heated up", grow, f"{hot}; relief {relief}"),
        Readout("Shut in", shut, f"rises by {rise}" if scene.shut_rise else "warmer water can rise"),
    ]


def gauge_word(scene: PurgeScene) -> Word:
    """Says what the vessel's gauge tells."""
    return Word("shows the main only", 1) if scene.hidden else Word("shows the pre-charge", 0)


def growth_word(scene: PurgeScene) -> Word:
    """Says whether the vessel takes up what the water grows by."""
    if scene.opens:
        return Word("relief valve opens", 2)
    return Word("close to the relief", 1) if scene.hot_pressure >= CLOSE * scene.relief else Word("room to grow", 0)


def shut_word(scene: PurgeScene) -> Word:
    """Says what shut-in water does when it warms."""
    if scene.warmed == 0:
        return Word("not warmed", 0)
    if scene.shut_in >= scene.relief:
        return Word("beyond the relief", 2)
    return Word("below the relief", 1) if scene.shut_rise > 0 else Word("no rise from here", 1)


def vessel_not_yet(scene: PurgeScene) -> str:
    """Why the vessel's step is not done; "": it is."""
    if scene.on_the_main:
        return "its gauge is read on the live main, which says nothing about the vessel."
    if abs(scene.precharge - scene.cold_pressure) > SAME * scene.cold_pressure:
        return "the pre-charge is not the reducing valve's pressure."
    return ""


def purge_not_yet(scene: PurgeScene) -> str:
    """Why the purge is not done; "": it is."""
    slow = [name for name, leg in (("the loop", scene.loop), ("the hot run", scene.run)) if not leg.fast]
    return f"the water in {' and in '.join(slow)} is too slow to carry air." if slow else ""


def heat_not_yet(scene: PurgeScene) -> str:
    """Why the first heat can't end well; "": it can."""
    return "the relief valve opens before the tank is hot." if scene.opens else ""
