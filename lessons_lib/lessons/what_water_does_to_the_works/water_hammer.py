"""The panel on hammer: a tap that shuts fast, and the pressure that runs back through the pipe."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import hammer as physics
from ...physics.properties import water
from ...physics.purge import area
from ...plant.hammer import HELD_BELOW, closing_word, hammer, peak_word
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .hammer_picture import LONGEST, HammerPicture, HammerScene
from .hammer_tries import HAMMER_TRIES

COLD = Q_(15, "degC")  # the water, hot or cold, is reckoned at this
NONE_FITTED, NOT_MISSED = Word("none fitted", 1), Word("none fitted, not missed", 0)
HOLDS, TOO_SMALL = Word("holds it", 0), Word("too little air", 1)
MACHINE, PLASTIC, BY_HAND = (
    "Wash-house machine, copper",
    "Wash-house machine, plastic",
    "Wash-house basin, shut by hand",
)


def water_hammer() -> Panel:
    """A tap of Tern Bank's wash-house (invented) that shuts."""
    ready = ready_made()
    start = ready[MACHINE]
    return Panel(_controls(start), calculate, HammerPicture, readouts, ready, headline=headline, tries=HAMMER_TRIES)


def _controls(start: dict) -> dict:
    """Gives the controls of the run, of its tap and of the arrestor."""
    shuts = "from open to shut: a washing machine's valve about 30 ms, a hand about 300 ms (common practice, no source)"
    air = "of an arrestor beside the tap: its air at house pressure; 0: none is fitted"
    return {
        "The run": {
            "pipe": usual.pipe(start["pipe"]),
            "length": usual.length(start["length"], "from the main, or a far wider pipe, to the tap"),
            "flow": Slide("Flow", "flow", start["flow"], (1, 20, 0.5), (0.3, 5.2, 0.1), "before the tap shuts"),
        },
        "The tap": {
            "closing": Slide("Shuts within", "milliseconds", start["closing"], (5, 400, 5), (5, 400, 5), shuts),
            "house": Slide(
                "House pressure", "pressure", start["house"], (100, 1000, 10), (15, 145, 1), "while no water flows"
            ),
            "cushion": Slide("Arrestor's air", "air cushion", start["cushion"], (0, 200, 5), (0, 12, 0.25), air),
        },
    }


def ready_made() -> dict:
    """Taps of Tern Bank's wash-house (invented): title → settings."""
    machine = {
        "pipe": ("copper EN 1057", "15 mm"),
        "length": Q_(20, "m"),
        "flow": Q_(12, "L/min"),
        "closing": Q_(30, "ms"),
        "house": Q_(400, "kPa"),
        "cushion": Q_(0, "mL"),
    }
    return {
        MACHINE: machine,
        PLASTIC: {**machine, "pipe": ("PEX ISO 15875", "16 mm")},
        BY_HAND: {**machine, "flow": Q_(6, "L/min"), "closing": Q_(300, "ms")},
    }


def calculate(state: dict) -> HammerScene:
    """Turns the controls' values into a scene. Raises InputError."""
    pipe = Pipe.nominal(*state["pipe"])
    found = hammer(pipe, state["flow"], state["length"], state["closing"], state["house"], COLD, state["cushion"])
    house, peak = state["house"].to("Pa").magnitude, found.peak.to("Pa").magnitude
    bore, length = pipe.inside_diameter.to("m").magnitude, state["length"].to("m").magnitude
    density, speed = float(water(COLD.magnitude).density), found.speed.magnitude
    air = state["cushion"].to("m**3").magnitude
    times = _times(found.there_and_back.magnitude)
    bare = house + physics.rise(density, found.wave.magnitude, speed, length, times, house)
    held = float(physics.cushioned_rise(density, area(bore), length, speed, house, air))
    return HammerScene(
        material=pipe.material,
        bore=bore,
        outside=pipe.outside_diameter.to("m").magnitude,
        colour=pipe.made_of.colour,
        length=length,
        speed=speed,
        wave=found.wave.magnitude,
        there_and_back=found.there_and_back.magnitude,
        closing=state["closing"].to("s").magnitude,
        house=house,
        bare=house + found.rise.to("Pa").magnitude,
        peak=peak,
        cushion=air,
        squeezed=float(((house + physics.ATMOSPHERE) / (peak + physics.ATMOSPHERE)) ** (1 / physics.AIR)),
        limit=HELD_BELOW.to("Pa").magnitude,
        times=times,
        bare_curve=bare,
        peak_curve=np.minimum(bare, house + held),
    )


def _times(corner: float) -> np.ndarray:
    """Closing times for the curves [s], with the one at which the wave is back."""
    return np.unique(np.clip([*np.linspace(0, LONGEST, 81), corner], 0, LONGEST))


def headline(scene: HammerScene, system: str) -> str:
    """Says how high the pressure goes."""
    peak = show(Q_(scene.peak, "Pa"), "pressure", system)
    return f"Pressure at the tap: up to {peak}, {peak_word(Q_(scene.peak, 'Pa'))}"


def readouts(scene: HammerScene, system: str) -> list[Readout]:
    """Gives the verdicts on the tap, the peak and the arrestor."""
    limit, house, rise = (
        show(Q_(value, "Pa"), "pressure", system) for value in (scene.limit, scene.house, scene.peak - scene.house)
    )
    back = show(Q_(scene.there_and_back, "s"), "milliseconds", system)
    return [
        Readout("Tap", closing_word(scene.closing, scene.there_and_back), f"wave there and back {back}"),
        Readout("Peak", peak_word(Q_(scene.peak, "Pa")), f"{rise} above the house's {house}"),
        Readout("Arrestor", arrestor_word(scene), f"to hold below {limit}"),
    ]


def arrestor_word(scene: HammerScene) -> Word:
    """Says whether the arrestor holds the pressure below what it is to, or would be of use where none is."""
    held = scene.peak <= scene.limit
    if not scene.cushion:
        return NOT_MISSED if held else NONE_FITTED
    return HOLDS if held else TOO_SMALL
