"""The panel on metals together: two materials, how they are joined, and the water that flows through both."""

from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...panels.tries import Step, Try
from ...plant.metals import BONDED, MARKED_BRASS, fact, metal_joint, metal_joints, metals, together
from ...quantities.display import US, celsius, show
from ...quantities.units import Q_
from .metals_picture import MetalsPicture, MetalsScene

OLD_AND_NEW, TURNED, TANK = (
    "Bunk cabin, new copper before old steel",
    "The other way round",
    "Bunk cabin, a union before plain steel",
)


def materials_together() -> Panel:
    """Old and new pipe of Tern Bank's bunk cabin (invented)."""
    ready = ready_made()
    start = ready[OLD_AND_NEW]
    return Panel(_controls(start), calculate, MetalsPicture, readouts, ready, headline=headline, tries=METALS_TRIES)


def _controls(start: dict) -> dict:
    """Gives the controls of the two pipes, of their joint and of the water."""
    return {
        "The pipes, as the water flows": {
            "first": Choice("First", metals(), start["first"], "the material that the water meets first"),
            "second": Choice("Then", metals(), start["second"], "the material that it meets next"),
        },
        "The joint and the water": {
            "joint": Choice("Joined by", metal_joints(), start["joint"], "what stands between the two"),
            "water": Slide("Water", "temperature", start["water"], (5, 90, 1), (41, 194, 1), "in both pipes"),
        },
    }


def ready_made() -> dict:
    """Pipes of Tern Bank (invented): title → settings."""
    found = {
        "first": "copper",
        "second": "galvanised steel",
        "joint": "screwed straight together",
        "water": Q_(55, "degC"),
    }
    turned = {**found, "first": "galvanised steel", "second": "copper", "joint": "dielectric union"}
    return {
        OLD_AND_NEW: found,
        TURNED: turned,
        TANK: {**found, "second": "steel", "joint": "dielectric union"},
    }


def calculate(state: dict) -> MetalsScene:
    """Turns the controls' values into a scene. Raises InputError."""
    found = together(state["first"], state["second"], state["joint"], state["water"])
    joint = metal_joint(state["joint"])
    return MetalsScene(
        first=state["first"],
        second=state["second"],
        joint=joint.name,
        brass=joint.brass,
        parts=joint.parts,
        length=joint.length,
        water=state["water"].to("degC").magnitude,
        apart=found.apart.magnitude,
        eaten=found.eaten,
        at_joint=found.joint,
        carried=found.carried,
        of_brass=found.brass,
        bonding=found.bonding,
    )


def headline(scene: MetalsScene, system: str) -> str:
    """Says what happens at the joint, and downstream of it."""
    return f"Joint: {scene.at_joint}; beyond: {scene.carried}"


def readouts(scene: MetalsScene, system: str) -> list[Readout]:
    """Gives the four verdicts: joint, water, brass and bonding."""
    apart = f"{scene.apart:.2f} V apart" if scene.apart else "no metal beside another"
    water = show(celsius(scene.water), "temperature", system)
    return [
        Readout("Joint", scene.at_joint, f"{scene.eaten} gives way" if scene.eaten else apart),
        Readout("Downstream", scene.carried, f"at {water}; warmer is faster"),
        Readout("Brass", scene.of_brass, _brass(scene, system)),
        Readout("Bonding", scene.bonding, "as it is" if scene.bonding == BONDED else "ask an electrician"),
    ]


def _brass(scene: MetalsScene, system: str) -> str:
    if scene.of_brass != MARKED_BRASS:
        return "lead-free parts only"
    lead = fact("lead in the US")["value"]
    return f"lead-free: {lead} % at most" if system == US else "CR or DZR, on the 4MS list"


def _joint_try(scenes, system: str) -> str:
    _, union, turned = scenes
    return (
        f"No current passes the union, so the joint itself is safe, {union.apart:.2f} V or not. But the water"
        f" still brings copper: **{union.carried}**. Only the order of the pipes helps. With the steel first the"
        f" read-out says: {turned.carried}."
    )


def _alike(scenes, system: str) -> str:
    _, brass, stainless = scenes
    return (
        f"Copper and brass lie {brass.apart:.2f} V apart, so there is {brass.at_joint}. Copper and stainless steel lie"
        f" **{stainless.apart:.2f} V** apart, and the copper is the one that suffers. Sizes decide too. A small"
        " stainless fitting in much copper does no harm; a small copper fitting in much stainless pipe may (common"
        " practice, no source)."
    )


METALS_TRIES = (
    Try(
        "What a union cannot stop",
        (
            Step("Set {joint}. What do *Joint* and *Downstream* say?", {"joint": "dielectric union"}),
            Step(
                "Turn the pipes round: set {first} and {second}. What happens downstream?",
                {"first": "galvanised steel", "second": "copper"},
            ),
        ),
        _joint_try,
    ),
    Try(
        "Near and far in the order",
        (
            Step("Set {second}. How far apart are the two?", {"second": "brass"}),
            Step("Set {second}. How far apart are they now?", {"second": "stainless steel"}),
        ),
        _alike,
    ),
)
