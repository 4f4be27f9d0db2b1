"""The first panel, on the start page: one slider, and the water that stands between tank and tap."""

from ...panels import shared_controls as usual
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.tries import Step, Try
from ...physics.purge import leg_volume, seconds_to_change
from ...quantities.display import SYSTEMS, show, stopwatch
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.first_draw import wait_word
from ...runs.pipe import Pipe
from ..waiting_for_hot.panel import LITTLE
from .picture import FirstPicture, PipeScene, Standing

US_PIPE = ("copper L", "3/4 in")
FLOW = Q_(6.0, "L/min")  # of a tap (common practice, no source)


def first() -> Panel:
    """Gives the panel of a pipe full of standing water: its length, and how long a tap takes to empty it."""
    return Panel(
        {"The pipe": {"length": usual.length(Q_(10.0, "m"))}},
        calculate,
        FirstPicture,
        readouts,
        headline=headline,
        tries=TRIES,
    )


def calculate(state: dict) -> PipeScene:
    """Turns the length into a scene, with the pipe of each side of the ocean. Raises InputError."""
    length, flow = state["length"].to("m").magnitude, FLOW.to("m**3/s").magnitude
    stands = {}
    for system in SYSTEMS:
        pipe = usual.in_goods({"pipe": US_PIPE}, system)["pipe"]
        volume = leg_volume(Pipe.nominal(*pipe).inside_diameter.to("m").magnitude, length)
        stands[system] = Standing(f"{pipe[1]} {pipe[0]}", volume, seconds_to_change(volume, flow, 1))
    return PipeScene(length, flow, stands)


def headline(scene: PipeScene, system: str) -> str:
    """Says how long the standing water runs before hot water can come."""
    return f"Hot water cannot come before {stopwatch(scene.stands[system].wait)}"


def readouts(scene: PipeScene, system: str) -> list[Readout]:
    """Gives the verdicts on the water that stands in the pipe and on the wait for it."""
    stands = scene.stands[system]
    word = Word("much to run away", 1) if stands.volume > LITTLE else Word("little to run away", 0)
    volume, flow = scene.volume(system), show(Q_(scene.flow, "m**3/s"), "flow", system)
    return [
        Readout("In the pipe", word, f"{volume} between tank and tap"),
        Readout("Wait", wait_word(stands.wait), f"{volume} at {flow}: {stopwatch(stands.wait)}"),
    ]


def _double(scenes, system: str) -> str:
    short, _, long = (scene.stands[system] for scene in scenes)
    return (
        f"The wait grows from {stopwatch(short.wait)} to {stopwatch(long.wait)}. It is **{long.wait / short.wait:.1f}"
        " times"
        "** as long, because twice the pipe holds twice the water."
    )


TRIES = (
    Try(
        "Double the length",
        (
            Step("Read the wait in the large line."),
            Step(
                "Double the length: set {length}. Read the wait again.",
                {"length": Q_(20, "m")},
                {"length": Q_(66, "ft")},
            ),
        ),
        _double,
    ),
)
