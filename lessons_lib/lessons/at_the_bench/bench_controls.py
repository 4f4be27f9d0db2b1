"""The bench panel's controls and ready-made settings: the experiment, its readings and the rig."""

from ...bench.files import OWN_FOLDER
from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...quantities.units import Q_
from .bench_scene import ALONG, COOLING, DRAW, EXPERIMENTS

TYPED, AS_SAVED = "a table that you type", "as they were saved"
DEMOS = {  # Tern Bank's readings, invented
    "Tern Bank: in foam": "cooling-after.csv",
    "Tern Bank: bare": "cooling-before.csv",
    "Tern Bank: first draw": "first-draw.csv",
    "Tern Bank: far sink": "along-the-run.csv",
}


def ready_made() -> dict:
    """Tern Bank's four experiments (invented): title → settings."""
    rig = {
        "pipe": ("copper L", "1/2 in"),
        "length": Q_(10, "m"),
        "insulation": "none",
        "thickness": Q_(19, "mm"),
        "air": Q_(20, "degC"),
        "supply": Q_(60, "degC"),
        "stood": Q_(20, "degC"),
        "flow": Q_(5, "L/min"),
        "late": Q_(0, "s"),
        "thermometer": Q_(0, "s"),
    }
    foam = {**rig, "insulation": "elastomeric foam"}
    sink = {
        **foam,
        "pipe": ("PEX CTS", "1/2 in"),
        "length": Q_(24, "m"),
        "thickness": Q_(9, "mm"),
        "flow": Q_(0.6, "L/min"),
    }
    leg, bare, draw, far = DEMOS
    return {
        "After: the leg in foam cools": {"experiment": COOLING, "readings": leg, **foam},
        "Before: the bare leg cools": {"experiment": COOLING, "readings": bare, **rig},
        "First draw at the bare leg": {
            "experiment": DRAW,
            "readings": draw,
            **rig,
            "late": Q_(2, "s"),
            "thermometer": Q_(4, "s"),
        },
        "Steady flow to the far sink": {"experiment": ALONG, "readings": far, **sink},
    }


def groups(start: dict) -> dict:
    """Gives the panel's controls at these settings: group's title → name → Control."""
    return {
        "Experiment": {
            "experiment": Choice(
                "Experiment",
                list(EXPERIMENTS),
                start["experiment"],
                "what was read: a first draw, a standing leg that cools, water or skin along a run; and what is"
                " asked of it",
            ),
            "readings": Choice(
                "Readings",
                [*DEMOS, TYPED],
                start["readings"],
                f"Tern Bank's are invented; your files lie in the folder {OWN_FOLDER}",
            ),
        },
        "Rig": {
            **{name: getattr(usual, name)(start[name]) for name in ("pipe", "length", "insulation", "thickness")},
            "air": usual.air(
                start["air"],
                "around the rig, by a thermometer in the shade; there is no wind; a column of air in the readings counts"
                " instead",
            ),
            "supply": usual.supply(start["supply"], "of the water that enters the run"),
            "stood": Slide(
                "Stood at",
                "temperature",
                start["stood"],
                (1, 40, 1),
                (34, 104, 1),
                "the water in the run before the tap opened",
            ),
            "flow": Slide(
                "Flow by bucket",
                "measured flow",
                start["flow"],
                (0.1, 20, 0.1),
                (0.05, 5, 0.05),
                "a column of flow in the readings counts instead",
            ),
            "late": Slide(
                "Clock late by",
                "seconds",
                start["late"],
                (0, 30, 1),
                (0, 30, 1),
                "how long after the tap (or the shut-off) the clock was started",
            ),
            "thermometer": Slide(
                "Thermometer",
                "seconds",
                start["thermometer"],
                (0, 60, 1),
                (0, 60, 1),
                "time in which it takes up two thirds of a change; 0: not known",
            ),
        },
    }
