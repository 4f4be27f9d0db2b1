"""The panel of burn times beneath lesson 01: one slider."""

from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.tries import Step, Try
from ...quantities.display import burns_briefly, celsius, show
from ...quantities.units import Q_
from ...runs.assessment import scald_word
from ...runs.scald import skin_words, time_to_burn
from .burn_picture import BurnPicture, TapScene


def burn_times() -> Panel:
    """Gives the panel of water at a tap, and of how long skin can stand it."""
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
        BurnPicture,
        readouts,
        headline=headline,
        tries=TRIES,
    )


def calculate(state: dict) -> TapScene:
    """Turns the controls' values into a scene. Raises InputError."""
    burn = time_to_burn(state["water"])
    return TapScene(state["water"].to("degC").magnitude, burn.seconds.magnitude, burn.bound)


def headline(scene: TapScene, system: str) -> str:
    """Says how soon an adult's skin burns in this water."""
    return f"{_warm(scene, system)}: an adult's skin {burns_briefly(scene.seconds, scene.bound)}"


def _warm(scene: TapScene, system: str) -> str:
    return show(celsius(scene.temperature), "temperature", system)


def _hotter(scenes, system: str) -> str:
    cool, _, hot = scenes
    return (
        f"At {_warm(cool, system)} an adult's skin {burns_briefly(cool.seconds, cool.bound)}. At {_warm(hot, system)}"
        " it"
        f" **{burns_briefly(hot.seconds, hot.bound)}**. A few degrees turn minutes into seconds."
    )


TRIES = (
    Try(
        "A hotter tap",
        (
            Step("Read in the large line how soon skin burns."),
            Step(
                "Set {water}. Read the large line again.",
                {"water": Q_(60, "degC")},
                {"water": Q_(140, "degF")},
            ),
        ),
        _hotter,
    ),
)


def readouts(scene: TapScene, system: str) -> list[Readout]:
    """Gives the scald verdict."""
    word = scald_word(scene.temperature)
    return [Readout("Scald", word, skin_words(scene.seconds, scene.bound))]
