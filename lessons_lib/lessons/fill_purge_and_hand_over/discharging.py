"""The panel on a relief valve's discharge pipe: its size, its way and its end, by the reader's region."""

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.discharge import (
    BARRED,
    DRAINS,
    FAULTS,
    FREE,
    NOT_IN_TABLE,
    SEEN,
    STANDS,
    TOO_SMALL,
    WIDER,
    across,
    regions,
    rule,
    sizes,
)
from ...plant.discharge import discharge as judged
from ...quantities.display import show
from ...quantities.units import Q_
from ...storage import preferences
from .discharge_picture import DischargePicture, DischargeScene, SizeBar, end_words, fall_words

OUTLETS = ["1/2 in", "3/4 in", "1 in"]
STEPS = ["as the outlet", "one size up", "two sizes up", "three sizes up"]
SHORT, LONG = "Straight to the gully", "Round four corners"


def discharge() -> Panel:
    """The discharge pipe of Tern Bank's tank (invented), opened on the rule of the reader's region."""
    ready = ready_made()
    return Panel(
        _controls(ready[SHORT]),  # which keeps every region's rule, until elbows are added
        calculate,
        DischargePicture,
        readouts,
        ready,
        lambda state: [] if rule(state["region"]).straight else ["straight"],
        headline=headline,
        goods=_goods,
    )


def _controls(start: dict) -> dict:
    return {
        "The rule": {
            "region": Choice("Region", regions(), start["region"], "whose rule and table; local code decides"),
            "outlet": Choice("Valve's outlet", OUTLETS, start["outlet"], "thread at the relief valve's outlet"),
            "size": Choice("Pipe", STEPS, start["size"], "the discharge pipe's size beside that outlet"),
        },
        "Its way": {
            "length": usual.length(
                start["length"], "from the valve, or from the tundish where there is one, to its end"
            ),
            "elbows": Slide("Elbows", "count", start["elbows"], (0, 10, 1), (0, 10, 1), "on that way"),
            "fall": Slide(
                "Fall", "drop share", start["fall"], (0, 5, 0.1), (0, 5, 0.1), "of its length; 0.5 % is 1 in 200"
            ),
            "straight": Slide(
                "Straight down",
                "thickness",
                start["straight"],
                (0, 600, 10),
                (0, 24, 0.5),
                "pipe below the tundish before the first bend",
            ),
            "fault": Choice("In its way", list(FAULTS), start["fault"], "what stands in the pipe or at its end"),
        },
        "Its end": {
            "end": Slide(
                "End above",
                "thickness",
                start["end"],
                (0, 400, 5),
                (0, 16, 0.25),
                "how far the pipe ends above floor, ground or funnel",
            ),
        },
    }


def ready_made() -> dict:
    """Two discharge pipes at Tern Bank (invented): title → settings."""
    short = {
        "region": regions()[0],
        "outlet": OUTLETS[0],
        "size": STEPS[1],
        "length": Q_(2, "m"),
        "elbows": Q_(1, ""),
        "fall": Q_(1, "percent"),
        "straight": Q_(300, "mm"),
        "fault": FREE,
        "end": Q_(40, "mm"),
    }
    return {LONG: {**short, "length": Q_(7, "m"), "elbows": Q_(4, "")}, SHORT: short}


def _goods(settings: dict, system: str) -> dict:
    """The same settings by the rule of a reader's region; a US valve has an outlet of 3/4 in."""
    own = {**usual.in_goods(settings, system), "region": preferences.region(system)}
    if own["region"] == "United States":
        own |= {"outlet": OUTLETS[1], "size": STEPS[0], "end": Q_(4, "in")}
    return own


def calculate(state: dict) -> DischargeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    region, outlet, step = state["region"], state["outlet"], STEPS.index(state["size"])
    elbows = round(state["elbows"].magnitude)
    way = (state["length"], elbows, state["fall"], state["end"], state["straight"], state["fault"])
    found, asked = judged(region, outlet, step, *way), rule(region)
    bars = tuple(
        SizeBar(one.size, one.allowed(elbows), one.longest, one.most_elbows, one.step == step)
        for one in sizes(region, outlet)
    )
    chosen = next((one for one in bars if one.chosen), None)
    return DischargeScene(
        region=region,
        rule=asked.rule,
        outlet=outlet,
        step=state["size"],
        size=chosen.size if chosen else "",
        first=sizes(region, outlet)[0].first,
        across=across(chosen.size) if chosen else across(outlet),
        bars=bars,
        length=state["length"].to("m").magnitude,
        elbows=elbows,
        elbows_count=any(one.elbow for one in sizes(region, outlet)),
        fall=state["fall"].to("").magnitude,
        least_fall=asked.fall,
        straight=state["straight"].to("m").magnitude if asked.straight else 0.0,
        least_straight=asked.straight,
        fault=state["fault"],
        end=state["end"].to("m").magnitude,
        low=found.low.magnitude,
        high=found.high.magnitude,
        over=asked.over,
        allowed=found.allowed.magnitude,
        needed=found.needed,
        size_word=found.size,
        way_word=found.way,
        end_word=found.end,
    )


def headline(scene: DischargeScene, system: str) -> str:
    """Says the gravest thing that is wrong with the pipe, or that it is right."""
    if scene.way_word in (BARRED, STANDS):
        return f"This pipe is not safe: {scene.way_word}"
    if scene.size_word in (NOT_IN_TABLE, TOO_SMALL):
        return f"This pipe needs {scene.needed}" if scene.needed else "No size in the table does: another way"
    if scene.size_word == WIDER:
        return f"The table stops at {scene.bars[-1].size}: local code decides"
    wrong = [word for word, right in ((scene.way_word, DRAINS), (scene.end_word, SEEN)) if word != right]
    return f"This pipe is not right: {wrong[0]}" if wrong else "This discharge pipe keeps the rule"


def readouts(scene: DischargeScene, system: str) -> list[Readout]:
    """Gives the verdicts on size, way and end."""
    long, allowed = (show(Q_(value, "m"), "length", system) for value in (scene.length, scene.allowed))
    may = (
        f"{long} of {allowed} allowed" if scene.size else f"the table has {scene.bars[0].size} to {scene.bars[-1].size}"
    )
    chosen = next((bar for bar in scene.bars if bar.chosen), None)
    if chosen and chosen.most_elbows is not None and scene.elbows > chosen.most_elbows:
        may = f"{scene.elbows} elbows; at most {chosen.most_elbows}"
    way = scene.fault if scene.fault != FREE else fall_words(scene)
    return [
        Readout("Size", scene.size_word, may),
        Readout("Way", scene.way_word, way),
        Readout("End", scene.end_word, end_words(scene, system)),
    ]
