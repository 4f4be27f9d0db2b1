"""The panel on purging: two legs, each with the air in it, and the speed of the water that is to carry it out."""

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.purge import CARRIES_AIR, seconds_to_change
from ...plant.purge import FAST_ENOUGH, TOO_SLOW, purge_legs
from ...quantities.display import duration, number, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .panel import COLD, TANK, loop_and_run
from .purge_picture import PurgedLeg, PurgePicture, PurgeScene
from .tries import PURGE_TRIES


class PurgePanel(Panel):
    """A panel whose read-outs stand beside its narrow picture."""

    beside = True


def purge() -> PurgePanel:
    """The two legs of Tern Bank's outdoor loop rig (invented), as they are purged."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return PurgePanel(_controls(start), calculate, PurgePicture, readouts, ready, headline=headline, tries=PURGE_TRIES)


def _controls(start: dict) -> dict:
    """Gives the controls of the legs and of their purge."""
    out_and_back, to_the_tap = "out and back together", "from the tank to the highest hot tap"
    lengths = (2, 60, 1), (6, 200, 1)
    through, often = "through the leg that is being purged", "how often the water of the leg is replaced"
    return {
        "The legs": {
            "loop": usual.pipe(start["loop"], "Loop"),
            "loop_length": Slide("Loop length", "length", start["loop_length"], *lengths, out_and_back),
            "run": usual.pipe(start["run"], "Hot run"),
            "run_length": Slide("Run length", "length", start["run_length"], *lengths, to_the_tap),
        },
        "The purge": {
            "flow": Slide("Flow", "flow", start["flow"], (1, 30, 0.5), (0.3, 8, 0.1), through),
            "changes": Slide("Changes", "count", start["changes"], (1, 10, 1), (1, 10, 1), often),
            "tank": Slide("Tank", "large volume", TANK, (50, 400, 10), (14, 105, 1), "to be filled at this flow"),
        },
    }


def ready_made() -> dict:
    """Tern Bank's outdoor loop rig with the cabin's run (invented): title → settings."""
    loop, run = loop_and_run()
    found = {
        "loop": (loop["pipe"], loop["size"]),
        "loop_length": Q_(2 * loop["length"], "m"),
        "run": (run["pipe"], run["size"]),
        "run_length": Q_(run["length"], "m"),
        "flow": Q_(loop["flow"], "L/min"),
        "changes": Q_(3, ""),
        "tank": TANK,
    }
    return {
        "Outdoor loop rig, as found": found,
        "Outdoor loop rig, filled properly": {**found, "flow": Q_(12, "L/min")},
    }


def calculate(state: dict) -> PurgeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    flow, changes = state["flow"], float(round(state["changes"].magnitude))
    legs = [_leg(state[name], state[f"{name}_length"], flow, changes) for name in ("loop", "run")]
    litres, pace = state["tank"].to("m**3").magnitude, flow.to("m**3/s").magnitude
    return PurgeScene(
        *legs,
        flow=pace,
        cold=COLD.magnitude,
        need=CARRIES_AIR,
        changes=changes,
        fill_seconds=float(seconds_to_change(litres, pace, 1.0)),
    )


def _leg(pipe: tuple, length, flow, changes: float) -> PurgedLeg:
    """Gives one leg as it is purged. pipe : (family, size)"""
    bore = Pipe.nominal(*pipe).inside_diameter
    found = purge_legs(bore, length, flow, changes)
    return PurgedLeg(
        bore.to("m").magnitude,
        found.volume.to("m**3").magnitude,
        found.speed.to("m/s").magnitude,
        found.time.to("s").magnitude,
        found.word == FAST_ENOUGH,
    )


def headline(scene: PurgeScene, system: str) -> str:
    """Says from which legs the flow carries the air out."""
    flow = show(Q_(scene.flow, "m**3/s"), "flow", system)
    return (
        f"{flow} leaves air in {' and '.join(scene.slow)}" if scene.slow else f"{flow} carries the air out of both legs"
    )


def readouts(scene: PurgeScene, system: str) -> list[Readout]:
    """Gives a verdict on each leg."""
    least = show(Q_(scene.need, "m/s"), "speed", system)

    def one(title: str, leg: PurgedLeg) -> Readout:
        speed = number(Q_(leg.speed, "m/s"), "speed", system)
        detail = f"{speed} of {least}; {scene.changes:.0f} changes take {duration(leg.seconds)}"
        return Readout(title, FAST_ENOUGH if leg.fast else TOO_SLOW, detail)

    return [one("Loop", scene.loop), one("Hot run", scene.run)]


def purge_not_yet(scene: PurgeScene) -> str:
    """Why the purge is not done; "": it is."""
    return f"the water in {' and in '.join(scene.slow)} is too slow to carry air." if scene.slow else ""
