"""Where the heat goes: how much insulation is worth fitting, and what a gap undoes."""

from dataclasses import replace

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.heat_loss import STEFAN_BOLTZMANN
from ...physics.properties import KELVIN
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.insulation import ALL_BARE, BARE_PIPE, Insulation, materials
from ...runs.pipe import Pipe, finishes
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from ...storage.tables import rows
from .picture import Bare, HeatGoesPicture, Scene, loss_words
from .tries import TRIES

NO_JACKET = "no jacket"
FACES = [row["surface"] for row in rows("surfaces") if row["kind"] == "bare"]
JACKETS = [row["surface"] for row in rows("surfaces") if row["kind"] == "jacket"]
FLOW = Q_(6.0, "L/min")  # a tap's usual flow: it makes the water's film, which hardly counts
HARDLY_WARMER = Q_(0.001, "delta_degC")
GRID = 0.04 * np.linspace(0.05, 1, 40) ** 2  # [m] thicknesses of the curve, close together where it is steep
# Words for a hand on a surface: (below so many degC, word). 43 degC for 8 h, 48 degC for 10 min: burn thresholds of
# ISO 13732-1, whatever the material (from memory).
TOUCH_WORDS = (
    (0.0, Word("below freezing", 1)),
    (43.0, Word("cool to touch", 0)),
    (48.0, Word("warm to touch", 1)),
    (np.inf, Word("burns a hand", 2)),
)


def heat_goes() -> Panel:
    """The panel of lesson 06, opened on Tern Bank's wash trough (invented)."""
    ready = settings()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The run": {name: getattr(usual, name)(start[name]) for name in ("pipe", "length")},
            "Around it": {
                "insulation": Choice(
                    "Insulation",
                    materials(),
                    start["insulation"],
                    "what is wrapped round the pipe; elastomeric is soft rubbery foam",
                ),
                "thickness": thickness(start["thickness"]),
                "jacket": Choice(
                    "Jacket",
                    [NO_JACKET, *JACKETS],
                    NO_JACKET,
                    "the skin over the insulation; a bright one radiates little",
                ),
                "bare_share": usual.bare_share(),
                "face": Choice(
                    "Bare face",
                    FACES,
                    start["face"],
                    "copper where it is bare: bright from the box, dull from handling, dark with age",
                ),
            },
            "Inside and outside": {
                "water": Slide(
                    "Water", "temperature", start["water"], (40, 80, 1), (104, 176, 1), "in the pipe, flowing"
                ),
                "air": usual.air(start["air"]),
                "wind": usual.wind(start["wind"]),
            },
        },
        calculate,
        HeatGoesPicture,
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
    )


def thickness(start) -> Slide:
    """Gives the control of the thickness, in small steps from nothing, for what the first millimetre does."""
    return Slide("Thickness", "thickness", start, (0, 40, 1), (0, 1.5, 0.0625), "of the insulation; 0 is a bare pipe")


def settings() -> dict:
    """Tern Bank's runs (invented) for this panel; the trough first, for it is the plainest."""
    runs, found = usual.tern_bank_runs(), {}
    for title in sorted(runs, key=lambda title: not title.startswith("Wash trough")):
        run = runs[title]
        covering = run["insulation"] if run["insulation"] in materials() else materials()[0]
        found[title] = {
            **usual.some(run, "pipe", "length", "thickness", "air", "wind"),
            "insulation": covering,
            "water": run["supply"],
            "jacket": NO_JACKET,
            "face": "dull copper",
            "bare_share": Q_(0, "percent"),
        }
    return found


def idle_controls(state: dict) -> tuple:
    """Names what does nothing at present: gaps of a bare pipe, a face that no one sees."""
    uncovered = state["thickness"].magnitude == 0
    seen = faces(state) and (uncovered or state["bare_share"].magnitude > 0)
    return (("bare_share",) if uncovered else ()) + (() if seen else ("face",))


def faces(state: dict) -> dict:
    """The faces that the pipe's material may show, brightest first, with their emissivities; empty: only its own."""
    return finishes(Pipe.nominal(*state["pipe"]).material)


def run_under(state: dict, millimetres, face: str | None = None) -> Run:
    """The run without its gaps, under one thickness or an array [mm]; face : None: the controls' own. Raises
    InputError.
    """
    pipe = Pipe.nominal(*state["pipe"])
    pipe = replace(pipe, emissivity=faces(state).get(face or state["face"], pipe.emissivity))
    jacket = None if state["jacket"] == NO_JACKET else state["jacket"]
    around = Surroundings(state["air"], wind=state["wind"])
    return Run(pipe, state["length"], Insulation(state["insulation"], Q_(millimetres, "mm"), jacket=jacket), around)


def bare_pipe(state: dict, face: str | None) -> Bare:
    """Gives what a bare pipe with one of its material's faces loses; where it has none, with its own."""
    run = run_under(state, 0.0, face)
    return _parted(run, *run.loss_and_surface(state["water"], FLOW))


def _parted(run: Run, loss, surface, number=()) -> Bare:
    """The loss and its radiated part [W/m]. surface [degC]; number : which of the run's thicknesses"""
    section = run.line.section
    outside, emissivity = (
        float(np.asarray(value)[number]) for value in (section.outside_of_insulation, section.emissivity)
    )
    air = run.line.around.radiant
    flux = emissivity * STEFAN_BOLTZMANN * ((surface + KELVIN) ** 4 - (air + KELVIN) ** 4)
    return Bare(float(loss), float(np.pi * outside * flux))


def calculate(state: dict) -> Scene:
    """Turns the controls' values into a scene. Raises InputError.

    Where the water is no warmer than the air nothing is lost, and shares of it have no value: their limit has.
    """
    if state["water"] <= state["air"] + HARDLY_WARMER:
        state = state | {"water": state["air"] + HARDLY_WARMER}
    now, share = state["thickness"].to("m").magnitude, state["bare_share"].to("dimensionless").magnitude
    run = run_under(state, 1000 * np.concatenate([[now, 2 * now, 0.0], GRID]))
    losses, surfaces = run.loss_and_surface(state["water"], FLOW)
    known = [*faces(state)] or [None]
    bare, mixed = losses[2], (1 - share) * losses + share * losses[2]
    section, water = run.line.section, state["water"].to("degC").magnitude
    return Scene(
        pipe_material=run.pipe.material,
        bore=section.inside_diameter,
        pipe_outside=section.outside_diameter,
        thickness=now,
        length=state["length"].to("m").magnitude,
        bare_share=share if now > 0 else 0.0,
        water=water,
        air=state["air"].to("degC").magnitude,
        wind=state["wind"].to("m/s").magnitude,
        loss=mixed[0],
        covered=_parted(run, losses[0], surfaces[0], 0),
        bare=bare,
        twice=mixed[1],
        shiny=bare_pipe(state, known[0]) if known[0] else None,
        dark=bare_pipe(state, known[-1]),
        drops=drops(run, water, losses[0], surfaces[0]),
        hottest=max(surfaces[0], surfaces[2] if share > 0 else surfaces[0]),
        thicknesses=GRID,
        losses=mixed[3:],
        gapless=losses[3:],
    )


def drops(run: Run, water: float, loss: float, surface: float) -> tuple:
    """Kelvin across the water's film, the wall, the insulation and the air outside. loss, surface : of the first
    thickness
    """
    section = run.line.section
    wall = loss * section.wall_resistance
    covering = loss * section.insulation_resistance(0.5 * (water + surface))[0]
    return tuple(map(float, (water - surface - wall - covering, wall, covering, surface - run.line.around.temperature)))


def headline(scene: Scene, system: str) -> str:
    """Says what a metre or foot of the run loses, beside bare pipe or through its gaps."""
    loss = loss_words(scene.loss, system)
    if scene.thickness == 0:
        return f"Bare pipe loses {loss}" + (" and burns a hand" if touch_word(scene.hottest).gravity == 2 else "")
    if scene.bare_share:
        return f"This run loses {loss}, {scene.gap_share:.0%} of it through gaps"
    return f"This run loses {loss}. Bare it loses {loss_words(scene.bare, system)}"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """The whole run, its insulation, its gaps, and a hand on it."""
    run, foam, gaps, touch = run_word(scene), foam_word(scene), gaps_word(scene), touch_word(scene.hottest)
    watts = scene.loss * scene.length
    kept = show(Q_(1 - scene.loss / scene.bare, "dimensionless"), "share", system)
    saves = show(Q_(scene.loss - scene.twice, "W/m"), "heat loss", system)
    return [
        Readout(
            "The run",
            run,
            f"{show(Q_(watts, 'W'), 'heat', system)}; {show(Q_(0.024 * watts, 'kWh'), 'energy', system)} a day if"
            " always hot",
        ),
        Readout(
            "Insulation",
            foam,
            f"keeps back {kept}; twice as thick saves {saves}" if scene.thickness else "nothing keeps heat back",
        ),
        Readout("Gaps", gaps, gaps_detail(scene)),
        Readout("To the hand", touch, f"hottest surface {show(celsius(scene.hottest), 'temperature', system)}"),
    ]


def run_word(scene: Scene) -> Word:
    """One word for what the run loses beside the same run all bare."""
    left = scene.loss / scene.bare
    if left < 0.25:
        return Word("most heat kept", 0)
    return Word("some heat kept", 1) if left < 0.6 else Word("most heat lost", 2)


def foam_word(scene: Scene) -> Word:
    """Against the trade's rule of thumb: insulation about as thick as the pipe (common practice, no source)."""
    if scene.thickness == 0:
        return BARE_PIPE
    thin = scene.thickness < 0.8 * scene.pipe_outside
    return Word("thin for this pipe", 1) if thin else Word("thick enough for this pipe", 0)


def gaps_word(scene: Scene) -> Word:
    """One word for the part of the loss that the gaps make."""
    if scene.thickness == 0:
        return ALL_BARE
    if scene.bare_share == 0:
        return Word("none set", 1)
    if scene.gap_share < 0.1:
        return Word("small", 0)
    return Word("they count", 1) if scene.gap_share < 0.5 else Word("most of the loss", 2)


def gaps_detail(scene: Scene) -> str:
    """Says what stands beneath the word for the gaps."""
    if scene.thickness == 0:
        return "nothing is covered"
    return f"make {scene.gap_share:.0%} of the loss" if scene.bare_share else "real runs have some: valves, brackets"


def touch_word(celsius: float) -> Word:
    """One word for a hand on the hottest surface."""
    return next(word for below, word in TOUCH_WORDS if celsius < below)
