"""The first panel, on the start page: one slider."""

from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...quantities.units import Q_
from ...runs.assessment import scald_word
from ...runs.scald import skin_words, time_to_burn
from .picture import FirstPicture, TapScene


def first() -> Panel:
    """Water at a tap, and how long skin can stand it."""
    return Panel(
        {
            "The water": {
                "water": Slide(
                    "At the tap",
                    "temperature",
                    Q_(49.0, "degC"),
                    (30, 75, 1),
                    (86, 167, 1),
                    "temperature of the water that comes out",
                ),
            },
        },
        calculate,
        FirstPicture,
        readouts,
    )


def calculate(state: dict) -> TapScene:
    """Turns the controls' values into a scene. Raises InputError."""
    burn = time_to_burn(state["water"])
    return TapScene(state["water"].to("degC").magnitude, burn.seconds.magnitude, burn.bound)


def readouts(scene: TapScene, system: str) -> list[Readout]:
    """Gives the scald verdict."""
    word = scald_word(scene.temperature)
    return [Readout("Scald", word, skin_words(scene.seconds, scene.bound))]
