"""The panel on joints: seven ways to hold a pipe in a fitting, what each needs, and what comes of a step left out."""

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.joints import (
    BEYOND,
    EN_SIDE,
    FORGOTTEN,
    NOTHING,
    OTHER_PIPE,
    SIDES,
    TOO_HOT,
    UNSAFE,
    US_SIDE,
    joint_kind,
    joint_kinds,
)
from ...plant.take_off import provisional_depth
from ...quantities.display import US, celsius, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe, aloud
from .joining_picture import JoiningPicture, JoiningScene


def joining() -> Panel:
    """One joint, cut open, opened on a pipe of Tern Bank's practice wall (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The joint": {
                "joint": Choice(
                    "Joint", [one.name for one in joint_kinds()], start["joint"], "how the fitting holds the pipe"
                ),
                "pipe": usual.pipe(start["pipe"]),
                "forgotten": Choice(
                    "Forgotten", list(FORGOTTEN), start["forgotten"], "what was left out when the joint was made"
                ),
            },
            "The water in it": {
                "side": Choice("Rated in", list(SIDES), start["side"], "whose standard rates the joint"),
                "hottest": Slide(
                    "Hottest water",
                    "temperature",
                    start["hottest"],
                    (5, 99, 1),
                    (41, 210, 1),
                    "that the joint will see",
                ),
                "pressure": Slide(
                    "Highest pressure", "pressure", start["pressure"], (100, 2000, 10), (15, 290, 1), "in use"
                ),
            },
        },
        calculate,
        JoiningPicture,
        readouts,
        ready,
        headline=headline,
        goods=_goods,
    )


def ready_made() -> dict:
    """Joints of Tern Bank's rigs (invented): title → settings."""
    wall = {
        "joint": "compression",
        "pipe": ("copper EN 1057", "15 mm"),
        "forgotten": NOTHING,
        "side": EN_SIDE,
        "hottest": Q_(65, "degC"),
        "pressure": Q_(600, "kPa"),
    }
    return {
        "Practice wall, copper": wall,
        "Practice wall, pressed": {**wall, "joint": "press", "forgotten": FORGOTTEN[-1]},
        "Outdoor loop in PEX": {**wall, "joint": "expansion", "pipe": ("PEX CTS", "1/2 in")},
    }


def _goods(settings: dict, system: str) -> dict:
    """The same settings with the pipe and the standards of a reader's side."""
    return {**usual.in_goods(settings, system), "side": US_SIDE if system == US else EN_SIDE}


def calculate(state: dict) -> JoiningScene:
    """Turns the controls' values into a scene. Raises InputError."""
    kind, pipe = joint_kind(state["joint"]), Pipe.nominal(*state["pipe"])
    material, side = pipe.made_of, state["side"]
    made, harm = kind.made(state["forgotten"], material.plastic)
    limit = kind.limit(state["hottest"], side)
    outside = pipe.outside_diameter.to("m").magnitude
    return JoiningScene(
        kind=kind,
        material=material.name,
        plastic=material.plastic,
        pipe=aloud(*state["pipe"]),
        outside=outside,
        bore=pipe.inside_diameter.to("m").magnitude,
        depth=provisional_depth(kind.name, outside),
        forgotten=state["forgotten"],
        harm=harm,
        standard=kind.standards[side][0],
        hottest=state["hottest"].to("degC").magnitude,
        pressure=state["pressure"].to("Pa").magnitude,
        limit=None if limit is None else limit.to("Pa").magnitude,
        suits_word=kind.suits(material.name),
        made_word=made,
        rating_word=kind.rated(state["hottest"], state["pressure"], side),
    )


def headline(scene: JoiningScene, system: str) -> str:
    """Says the gravest thing, or that the joint is right."""
    name = scene.kind.name.capitalize()
    if scene.suits_word == OTHER_PIPE:
        return f"{name} joints are not for {scene.material}"
    if scene.made_word == UNSAFE:
        return f"{name}: {scene.made_word}"
    if scene.rating_word in (BEYOND, TOO_HOT):
        return f"{name}: {scene.rating_word}"
    return f"{name}: {scene.made_word}"


def readouts(scene: JoiningScene, system: str) -> list[Readout]:
    """Gives the verdicts on the pipe, on how the joint was made, on its rating and on covering it."""
    hottest = show(celsius(scene.hottest), "temperature", system)
    limit = "no figure here" if scene.limit is None else show(Q_(scene.limit, "Pa"), "pressure", system)
    return [
        Readout("Pipe", scene.suits_word, ", ".join(scene.kind.pipes)),
        Readout("Made", scene.made_word, scene.harm),
        Readout("Rating", scene.rating_word, f"{limit} at {hottest}"),
        Readout("Covered", scene.kind.hiding, f"undo: {scene.kind.undone}"),
    ]
