"""Will it freeze? A night of standing water, or a power cut in it."""

from dataclasses import replace

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...quantities.display import ICE_FREE, both, duration, ice_after, ice_words
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import freeze_word
from ...runs.common_values import THERMOSTAT
from ...runs.nights import night
from ...runs.pipe import Pipe
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from ...runs.tape import Tape
from ...runs.weather import Weather
from .picture import CIRCULATOR, NIGHT, NOTHING, TAPE, FreezePicture, Scene, no_ice
from .tries import TRIES

# What heat tape stands for here: steady output and a thermostat (common practice, no source); lesson 08 has the choice.
HEAT_TAPE = Tape.constant(Q_(15.0, "W/m"), thermostat=THERMOSTAT)
IN_WORDS = {NOTHING: "", CIRCULATOR: "circulated", TAPE: "on heat tape"}
JUST_USED = "hot water drawn at dusk: the dotted curve; also what a circulator sends round"
SWING = "from the coldest hour up to the warmest of the day; 0: steady"
SKY = "than the air. 0: cloud or a roof; 10 °C (18 °F): on a wall under clear sky; 20 °C (36 °F): sky all round"
KEPT = "nothing; hot water sent round by a circulator; heat tape of 15 W/m (4.6 W/ft) with a thermostat at "
KEPT += both(THERMOSTAT, "temperature")
STEP = Q_(5.0, "min")  # against 1 minute: tests/test_lesson_freeze.py
SOLID = 0.999


def freeze() -> Panel:
    """The panel of lesson 07, opened on Tern Bank's cabin run (invented)."""
    ready = settings()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The run": {name: getattr(usual, name)(start[name]) for name in ("pipe", "insulation", "thickness")},
            "The water at dusk": {
                "cold": usual.cold(start["cold"]),
                "supply": Slide("Just used at", "temperature", start["supply"], (40, 80, 1), (104, 176, 1), JUST_USED),
            },
            "The night": {
                "air": Slide(
                    "Coldest air",
                    "temperature",
                    start["air"],
                    (-30, 15, 1),
                    (-22, 59, 1),
                    "at the pipe, after two thirds of the night",
                ),
                "swing": Slide("Day's swing", "temperature difference", start["swing"], (0, 15, 1), (0, 27, 1), SWING),
                "wind": usual.wind(start["wind"]),
                "sky": Slide("Sky colder by", "temperature difference", start["sky"], (0, 20, 1), (0, 36, 1), SKY),
            },
            "The power": {
                "keeps": Choice("Kept warm by", list(IN_WORDS), start["keeps"], KEPT),
                "fails": Slide(
                    "Power fails after",
                    "hours",
                    start["fails"],
                    (0, NIGHT, 0.5),
                    (0, NIGHT, 0.5),
                    f"dusk; it stays off till dawn. {NIGHT:g} h: never",
                ),
            },
        },
        calculate,
        FreezePicture,
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
    )


def settings() -> dict:
    """Tern Bank's runs (invented) for this panel."""
    runs = {**usual.tern_bank_runs(), **usual.tern_bank_runs("tank")}
    night_of = {"swing": Q_(0, "delta_degC"), "sky": Q_(0, "delta_degC"), "keeps": NOTHING, "fails": Q_(4, "h")}
    names = ("pipe", "insulation", "thickness", "cold", "supply", "air", "wind")
    ready = {title: {**usual.some(run, *names), **night_of} for title, run in runs.items() if run["air"].magnitude <= 0}
    cabin, loop = ready["Cabin across the yard, frosty night"], ready["Loop, hot line to the tank"]
    clear = {"air": Q_(2, "degC"), "swing": Q_(0, "delta_degC"), "wind": Q_(0, "m/s"), "sky": Q_(10, "delta_degC")}
    return {
        **ready,
        "Loop, hot line to the tank": {**loop, "keeps": CIRCULATOR},
        "Cabin on a still, clear night": {**cabin, **clear},
    }


def idle_controls(state: dict) -> tuple:
    """Names what does nothing at present."""
    power = {NOTHING: ("fails",), CIRCULATOR: ("cold",), TAPE: ()}[state["keeps"]]
    return usual.idle_thickness(state) + power


def weather_of(state: dict) -> Weather:
    """Air through the night, and what the pipe radiates to."""
    swing, sky = (state[name].to("delta_degC").magnitude for name in ("swing", "sky"))
    coldest = state["air"].to("degC").magnitude
    weather = Weather.day_and_night(Q_(coldest, "degC"), Q_(coldest + swing, "degC"), Q_(NIGHT, "h"), state["wind"])
    return replace(weather, radiant=Q_(weather.air.magnitude - sky, "degC"))


def run_of(state: dict) -> Run:
    """One metre of the run at the coldest hour. Raises InputError."""
    sky = state["air"].to("degC").magnitude - state["sky"].to("delta_degC").magnitude
    around = Surroundings(state["air"], wind=state["wind"], radiant=Q_(sky, "degC"))
    return Run(Pipe.nominal(*state["pipe"]), Q_(1.0, "m"), usual.covering(state), around)


def follow(state: dict, run: Run, weather: Weather, step=STEP) -> tuple:
    """The night of the run as it is kept, and of the same run just used and left alone; see _part."""
    cold, hot = state["cold"].to("degC").magnitude, state["supply"].to("degC").magnitude
    if state["keeps"] == NOTHING:
        both = night(run, weather, Q_(np.array([cold, hot]), "degC"), step=step)
        return _part(both, (0,)), _part(both, (1,))
    fails = state["fails"].to("h").magnitude
    off = (state["fails"], Q_(NIGHT + 1, "h")) if fails < NIGHT else None
    kept = {"tape": HEAT_TAPE} if state["keeps"] == TAPE else {"pump": state["supply"]}
    start = state["cold"] if state["keeps"] == TAPE else state["supply"]
    alone = night(run, weather, state["supply"], step=step)
    return _part(night(run, weather, start, off=off, step=step, **kept)), _part(alone)


def _part(found, case=()) -> tuple:
    """Water [degC], ice share, and hours to the first ice, of one case."""
    return (
        found.water.magnitude[:, *case],
        found.ice_share[:, *case],
        float(np.asarray(found.ice_after.magnitude)[case]),
    )


def calculate(state: dict) -> Scene:
    """Turns the controls' values into a scene. Raises InputError."""
    run, weather = run_of(state), weather_of(state)
    (water, ice, after), (hot_water, _, hot_after) = follow(state, run, weather)
    hours = np.linspace(0.0, NIGHT, len(water))
    keeps, fails = IN_WORDS[state["keeps"]], state["fails"].to("h").magnitude
    return Scene(
        hours=hours,
        air=weather.at(3600 * hours)[0],
        wind=state["wind"].to("m/s").magnitude,
        sky=state["sky"].to("delta_degC").magnitude,
        keeps=keeps,
        fails=fails if keeps and fails < NIGHT else np.inf,
        begin=float(water[0]),
        hot=state["supply"].to("degC").magnitude,
        water=water,
        ice=ice,
        ice_after=after,
        hot_water=hot_water,
        hot_ice_after=hot_after,
        rest=float(run.line.rest()),
    )


def headline(scene: Scene, system: str) -> str:
    """Says when ice can form: from dusk, or from the power cut where something kept the run warm until then."""
    if not np.isfinite(scene.ice_after):
        words = no_ice(scene)
    elif scene.in_hand > 0:
        words = f"ice can form {ice_after(scene.in_hand)} after the power fails"
    else:
        words = ice_words(scene.ice_after)
    return words[0].upper() + words[1:]


def readouts(scene: Scene, system: str) -> list[Readout]:
    """The run as it is kept, the run just used, the power, and the pipe at dawn."""
    now, used = (night_word(hours, scene.rest) for hours in (scene.ice_after, scene.hot_ice_after))
    power, pipe = power_word(scene), pipe_word(scene)
    name = scene.keeps.capitalize() if scene.keeps else "Stood cold"
    return [
        Readout(name, now, ice_time(scene.ice_after)),
        Readout("Just used", used, ice_time(scene.hot_ice_after)),
        Readout("Without power", power, in_hand(scene)),
        Readout(
            "In the pipe", pipe, "draining is the only sure way" if scene.rest < 0 else "no frost reaches the water"
        ),
    ]


def night_word(hours: float, rest: float) -> Word:
    """One word for a run in this night. hours : to the first ice, inf: none by dawn; rest : at the coldest hour
    [degC]
    """
    return freeze_word(NIGHT if np.isinf(hours) and rest < 0 else hours, rest)


def ice_time(hours: float) -> str:
    """Hours to the first ice in words."""
    return (
        "no ice by dawn"
        if np.isinf(hours)
        else "ice at once"
        if hours <= 0
        else f"first ice {duration(3600 * hours)} after dusk"
    )


def power_word(scene: Scene) -> Word:
    """One word for what a power cut does to the run."""
    if not scene.keeps:
        return Word("nothing to fail", 1)
    if scene.in_hand <= 0:
        return Word("ice in spite of power", 2)
    if np.isinf(scene.fails):
        return Word("no cut tonight", 1)
    return Word("lasts till dawn", 1) if np.isinf(scene.in_hand) else Word("ice before dawn", 2)


def in_hand(scene: Scene) -> str:
    """Says how long the run holds without power, in words."""
    if not scene.keeps:
        return "the run has only its own heat"
    if np.isinf(scene.fails):
        return "tape and circulator stop with it"
    if np.isinf(scene.in_hand):
        return f"holds the {duration(3600 * (NIGHT - scene.fails))} that are left"
    return "it was too weak" if scene.in_hand <= 0 else f"ice {duration(3600 * scene.in_hand)} after it fails"


def pipe_word(scene: Scene) -> Word:
    """One word for the bore at its worst."""
    if scene.most_ice == 0:
        return Word(ICE_FREE, 0)
    return Word("frozen solid", 2) if scene.most_ice >= SOLID else Word("ice in the bore", 2)
