"""The panel of lesson 03: how long the tap waits, what runs away, and how the run cools between draws."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...quantities.display import celsius, just_under, show, stopwatch
from ...quantities.results import Word
from ...quantities.units import Q_, quantity
from ...runs.assessment import scald_word
from ...runs.bacteria import time_in_growth_band
from ...runs.common_values import WARM_ENOUGH
from ...runs.first_draw import wait_word
from ...runs.scald import skin_words, time_to_burn
from .picture import WaitingPicture, WaitScene, band_words, content
from .tries import AFTER, FIRST, TRIES

OUTSIDE, THROUGH = Word("never in the band", 0), Word("through the band", 1)
STAYS = Word("stays in the band", 1)
STILL = Q_(0.0, "m/s")
PLACES = 41  # along the run, for its picture
FOLLOWED = np.exp(-np.linspace(0, 5, 61))  # shares of the distance from rest at which standing water is drawn
# Water that may be wasted before it is hot [m3]: 0.6 US gal, US EPA specification for water-efficient homes (2014), as
# quoted in secondary literature.
LITTLE = Q_(0.6, "gallon").to("m**3").magnitude


def waiting() -> Panel:
    """A run indoors, opened on Tern Bank's far sink (invented)."""
    ready = indoors()
    start = ready["Far sink, indoors"]
    return Panel(
        {
            "The run": {
                **{name: getattr(usual, name)(start[name]) for name in ("pipe", "length", "insulation", "thickness")},
                "air": Slide(
                    "Air",
                    "temperature",
                    start["air"],
                    (5, 35, 1),
                    (41, 95, 1),
                    "around the pipe, indoors, without wind",
                ),
            },
            "The water": {
                "supply": usual.supply(start["supply"], "of the water that enters the run"),
                "flow": usual.flow(start["flow"]),
                "useful": Slide(
                    "Warm enough",
                    "temperature",
                    start["useful"],
                    (30, 45, 1),
                    (86, 113, 1),
                    "the wait ends when the tap gives this",
                ),
            },
            "The draw": {
                "draw": Choice(
                    "Draw", [FIRST, AFTER], start["draw"], "the first one finds the run as cool as the air around it"
                ),
                "pause": Slide(
                    "Pause",
                    "minutes",
                    start["pause"],
                    (5, 240, 5),
                    (5, 240, 5),
                    "since the tap was shut; before that it ran hot",
                ),
            },
        },
        calculate,
        WaitingPicture,
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
    )


def indoors() -> dict:
    """Gives ready-made settings: Tern Bank's indoor runs (invented), and the far sink's second draw."""
    names = ("pipe", "length", "insulation", "thickness", "air", "supply", "flow")
    draw = {"useful": WARM_ENOUGH, "draw": FIRST, "pause": Q_(20.0, "min")}
    runs = usual.tern_bank_runs()
    found = {
        title: {**usual.some(runs[title], *names), **draw} for title in runs if "indoors" in title or "Rig" in title
    }
    return {**found, "Far sink, 20 min after a draw": {**found["Far sink, indoors"], "draw": AFTER}}


def idle_controls(state: dict) -> tuple:
    """Names the controls that do nothing: the thickness of no insulation, and the pause before a first draw."""
    return (*usual.idle_thickness(state), *(("pause",) if state["draw"] == FIRST else ()))


def calculate(state: dict) -> WaitScene:
    """Turns the controls' values into a scene. Raises InputError."""
    run = usual.run_of({**state, "wind": STILL})
    supply, flow, first = state["supply"], state["flow"], state["draw"] == FIRST
    hot, useful = supply.to("degC").magnitude, state["useful"].to("degC").magnitude
    reachable = quantity(min(useful, hot), "degC")
    if first:
        draw = run.first_draw(supply, flow, state["air"], reachable, PLACES)
    else:
        draw = run.second_draw(supply, flow, state["pause"], reachable, PLACES)
    delivered = draw.delivered
    burn, cooling = time_to_burn(delivered), run.cooling(delivered, Q_(1.0, "h"))
    room = state["air"].to("degC").magnitude
    standing = room + (delivered.magnitude - room) * FOLLOWED
    return WaitScene(
        useful=useful,
        start=draw.temperature.magnitude[0],
        pause=np.inf if first else state["pause"].to("s").magnitude,
        content=draw.pipe_volume.to("m**3").magnitude,
        flow=flow.to("m**3/s").magnitude,
        wait=float(draw.wait.magnitude) if useful <= hot else np.inf,
        time=draw.time.magnitude,
        at_tap=draw.temperature.magnitude,
        moments=draw.moments.magnitude,
        along=draw.along.magnitude,
        delivered=float(delivered.magnitude),
        burn_seconds=burn.seconds.magnitude,
        burn_bound=burn.bound,
        hours=cooling.time_to(quantity(standing, "degC")).to("h").magnitude,
        standing=standing,
        warm_for=float(cooling.time_to(state["useful"]).magnitude),
        half_life=float(cooling.half_life.magnitude),
        band_hours=float(time_in_growth_band(cooling).magnitude),
    )


def band_word(hours: float) -> Word:
    """One word for the hours that standing water is in the band where bacteria grow."""
    return OUTSIDE if hours == 0 else STAYS if np.isinf(hours) else THROUGH


def headline(scene: WaitScene, system: str) -> str:
    """Says how long the tap makes somebody wait, and what runs away meanwhile."""
    if np.isinf(scene.wait):
        return f"Never warm enough: the tap gets to {just_under(scene.delivered, scene.useful, system)}"
    if scene.wait == 0:
        return f"Warm at once: the tap opens on {show(celsius(scene.start), 'temperature', system)}"
    return f"Warm enough after {stopwatch(scene.wait)}, {content(scene.drawn, system)} wasted"


def readouts(scene: WaitScene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    wait, scald = wait_word(scene.wait), scald_word(scene.delivered)
    wasted = Word("much wasted", 1) if scene.drawn > LITTLE else Word("little wasted", 0)
    band = band_word(scene.band_hours)
    lasts = f"{stopwatch(scene.wait, scene.sweep)}; " if 0 < scene.wait < np.inf else ""
    away = f"{content(scene.drawn, system)}; " if np.isfinite(scene.drawn) else ""
    tap = just_under(scene.delivered, scene.useful, system)
    beside = scene.wait if np.isfinite(scene.wait) else 0.0
    return [
        Readout("Wait", wait, f"{lasts}volume ÷ flow: {stopwatch(scene.sweep, beside)}"),
        Readout("Down the drain", wasted, f"{away}the run holds {content(scene.content, system)}"),
        Readout("Tap in the end", scald, f"{tap}; {skin_words(scene.burn_seconds, scene.burn_bound)}"),
        Readout("Bacteria, standing", band, f"in it: {band_words(scene.band_hours)}"),
    ]
