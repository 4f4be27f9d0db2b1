"""The panel of lesson 04: the smallest pipe that feeds the tap, how fast its water runs, and how long the tap waits."""

from functools import lru_cache

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, PipeChoice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics.pressure import height_loss
from ...physics.properties import water
from ...quantities.display import celsius, show, stopwatch
from ...quantities.results import Word
from ...quantities.units import Q_, quantity
from ...runs.alternatives import Alternatives
from ...runs.assessment import NO_WATER, scald_word
from ...runs.common_values import WARM_ENOUGH
from ...runs.first_draw import wait_word
from ...runs.flow import pressure_drop, speed_limit
from ...runs.insulation import Insulation
from ...runs.scald import skin_words, time_to_burn
from ...runs.surroundings import Surroundings
from ...storage.tables import rows
from .picture import PipeSizePicture, SizeScene, limit_words
from .tries import TRIES

OUTLETS = ("tap", "bath tap", "US faucet", "US shower head")
ROOM = Q_(20.0, "degC")
FOAM = Insulation("elastomeric foam", Q_(13.0, "mm"))
FEEDS, SHORT, NOTHING = Word("feeds the tap", 0), Word("too little flow", 1), Word("no flow at the tap", 2)
NEAR = 0.8  # of the speed limit: from here on the word is a warning (ours)
SLOW, CLOSE, FAST = Word("under the limit", 0), Word("near the limit", 1), Word("too fast", 2)
STANDS = Word("nothing runs", 1)
NO_FLOW = 1e-6  # [m3/s] in place of none, where a wait is asked for


def pipe_size() -> Panel:
    """Gives the panel of a run from the main to one tap, opened on Tern Bank's cabin bath (invented)."""
    ready = taps()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The run": {
                "pipe": PipeChoice(start["pipe"], usual.PIPE),
                "length": usual.length(start["length"], "from the main, through the tank, to the tap"),
                "elbows": Slide(
                    "Elbows", "count", start["elbows"], (0, 20, 1), (0, 20, 1), "90 degree elbows on the way"
                ),
            },
            "The tap": {
                "outlet": Choice(
                    "Outlet", list(OUTLETS), start["outlet"], "what an open outlet passes: data/fittings.csv"
                ),
                "wanted": Slide(
                    "Flow wanted", "flow", start["wanted"], (2, 25, 0.5), (0.5, 6.6, 0.1), "what the tap should give"
                ),
                "height": Slide(
                    "Height of tap",
                    "length",
                    start["height"],
                    (-10, 30, 1),
                    (-33, 98, 1),
                    "above the gauge at the main; below it is negative",
                ),
            },
            "The main": {
                "pressure": Slide(
                    "Pressure",
                    "pressure",
                    start["pressure"],
                    (50, 550, 10),
                    (7, 80, 1),
                    "at the main while the water flows, after any reducing valve",
                ),
                "supply": Slide(
                    "Set temperature",
                    "temperature",
                    start["supply"],
                    (45, 80, 1),
                    (113, 176, 1),
                    "of the water that the tank sends to the tap",
                ),
            },
        },
        calculate,
        PipeSizePicture,
        readouts,
        ready,
        headline=headline,
        tries=TRIES,
    )


def taps() -> dict:
    """Gives ready-made settings: Tern Bank's taps (invented): title → settings."""
    units = {"length": "m", "elbows": "", "wanted": "L/min", "pressure": "kPa", "height": "m"}
    return {
        row["name"]: {
            "pipe": (row["pipe"], row["size"]),
            "outlet": row["outlet"],
            "supply": Q_(float(row["set_temperature"]), "degC"),
            **{name: Q_(float(row[name]), unit) for name, unit in units.items()},
        }
        for row in rows("tern_bank/taps")
    }


@lru_cache(maxsize=32)
def every_size(family: str, metres: float, elbows: int, outlet: str) -> Alternatives:
    """The run in all sizes of a family: foam-covered, through a heated room."""
    return Alternatives.sizes(family, Q_(metres, "m"), FOAM, Surroundings(ROOM), [("elbow 90", elbows), outlet])


def calculate(state: dict) -> SizeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    family, size = state["pipe"]
    elbows = round(state["elbows"].magnitude)
    sizes = every_size(family, state["length"].to("m").magnitude, elbows, state["outlet"])
    names = tuple(run.pipe.name.removeprefix(f"{family} ") for run in sizes.runs)
    chosen, supply = names.index(size), state["supply"]
    run = sizes.runs[chosen]
    wide = sizes.flow_at(state["pressure"], state["height"], supply).to("m**3/s").magnitude
    wanted = state["wanted"].to("m**3/s").magnitude
    drawn = np.minimum(wide, wanted)
    safe = np.maximum(drawn, NO_FLOW)
    waits = np.where(wide > 0, sizes.waits(supply, quantity(safe, "m**3/s"), ROOM, WARM_ENOUGH).magnitude, np.inf)
    speeds = sizes.speed(quantity(drawn, "m**3/s")).magnitude
    limits = [
        (float(one.low.magnitude), float(one.high.magnitude))
        for one in (speed_limit(each.pipe, supply) for each in sizes.runs)
    ]
    # Where nothing flows, reckon with the tank's own temperature: still water in the pipe says nothing of what comes
    # once it flows.
    delivered = (
        run.delivery_temperature(supply, quantity(safe[chosen], "m**3/s")) if wide[chosen] > 0 else supply.to("degC")
    )
    burn = time_to_burn(delivered)
    pressure, metres = state["pressure"].to("Pa").magnitude, state["height"].to("m").magnitude
    lift = float(height_loss(metres, water(supply.to("degC").magnitude).density))
    way, tap = _taken(run, elbows, quantity(np.array([drawn[chosen], wanted]), "m**3/s"), supply)
    return SizeScene(
        names=names,
        chosen=chosen,
        family=family,
        material=run.pipe.material,
        outsides=np.array([one.pipe.outside_diameter.to("m").magnitude for one in sizes.runs]),
        bores=sizes.line.inside_diameter,
        wide=wide,
        speeds=speeds,
        waits=waits,
        feed_levels=tuple(feed_word(gives, wanted).gravity for gives in wide),
        speed_levels=tuple(speed_word(fast, *limit).gravity for fast, limit in zip(speeds, limits)),
        supply=supply.to("degC").magnitude,
        delivered=float(delivered.magnitude),
        burn_seconds=burn.seconds.magnitude,
        burn_bound=burn.bound,
        wanted=wanted,
        height=metres,
        pressure=pressure,
        lift=lift,
        lost=float(way[0]),
        left=float(max(pressure - lift - way[0], 0.0)),
        limit=limits[chosen],
        needs=float(tap[1]),
    )


def _taken(run, elbows: int, flows, supply) -> tuple:
    """Pressure that the pipe takes at each flow, and what the outlet takes [Pa]."""
    way = pressure_drop(run.pipe, run.length, [("elbow 90", elbows)], flows, supply).to("Pa").magnitude
    return way, run.pressure_drop(flows, supply).to("Pa").magnitude - way


def feed_word(gives: float, wanted: float) -> Word:
    """One word for the flow of an open tap against what is wanted [m3/s]."""
    return NOTHING if gives == 0 else FEEDS if gives >= wanted * (1 - 1e-9) else SHORT


def speed_word(fast: float, low: float, high: float) -> Word:
    """One word for a speed against its published limit [m/s]; water that stands keeps no limit."""
    if fast == 0:
        return STANDS
    return FAST if fast > high else CLOSE if fast > NEAR * low else SLOW


def headline(scene: SizeScene, system: str) -> str:
    """Says what the open tap gives, and whether that is enough."""
    if not scene.flows:
        return "No water reaches the tap, in any pipe size"
    gives, wanted = (show(Q_(value, "m**3/s"), "flow", system) for value in (scene.wide[scene.chosen], scene.wanted))
    fed = "fed" if scene.feed_levels[scene.chosen] == 0 else "not fed"
    return f"The tap is {fed}: {gives}, wanted {wanted}"


def readouts(scene: SizeScene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    gives, wanted = (show(Q_(value, "m**3/s"), "flow", system) for value in (scene.wide[scene.chosen], scene.wanted))
    feed = feed_word(scene.wide[scene.chosen], scene.wanted)
    fast, wait = scene.speeds[scene.chosen], scene.waits[scene.chosen]
    quick, waited, scald = (
        speed_word(fast, *scene.limit),
        wait_word(wait),
        scald_word(scene.delivered) if scene.flows else NO_WATER,
    )
    limit = f"limit {limit_words(scene.limit, system)}"
    smaller = scene.waits[scene.chosen - 1] if scene.chosen else np.inf
    below = f"; one size down: {stopwatch(smaller)}" if np.isfinite(smaller) else ""
    tap = show(celsius(scene.delivered), "temperature", system)
    skin = skin_words(scene.burn_seconds, scene.burn_bound)
    end = f"{tap}; {skin}" if scene.flows else f"whatever comes later can be as hot as the tank, {tap}"
    return [
        Readout("Tap", feed, f"open {gives}, wanted {wanted}"),
        Readout("Speed", quick, f"{show(Q_(fast, 'm/s'), 'speed', system)}; {limit}"),
        Readout("Wait", waited, f"{stopwatch(wait)}{below}" if np.isfinite(wait) else "no hot water comes"),
        Readout("Tap in the end", scald, end),
    ]
