"""The panel on the outdoor coil in damp cold: frost and defrost, where its water goes, and the loop's frost mode."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import moist_air
from ...physics.heat_pump import EVAPORATOR_STEP
from ...physics.heat_pump import cop as cop_of
from ...physics.properties import FREEZING
from ...quantities.display import EDGE, duration, ice_parts, show
from ...quantities.results import Word
from ...quantities.units import Q_
from .frost_choices import BARE_LINE, CUT, GROUND, NOTHING, ON, PUMP_RUNS, VALVE_OPENS, WALKWAY, WARM_LINE
from .frost_picture import AIRS, DRY, FROST, WATER, FrostPicture, FrostScene
from .panel import rig
from .tries_of_frost import FROST_TRIES

MELTS = 0.5  # [-] of a defrost's heat that melts ice; the rest warms metal and air (teaching value, no source)
MUCH = 0.1  # [-] share of the heat that defrosting takes, from which the verdict asks for care (likewise)
SLIPPERY, SHUT, SOAKS, MOUND, WET, TAPE_OFF = (
    Word("ice where people walk", 2),
    Word("freezes shut", 2),
    Word("drains away", 0),
    Word("ice builds up on the gravel", 1),
    Word("wet where people walk", 1),
    Word("tape is off, so it freezes", 2),
)
TAPED, NONE_COMES = Word("runs as long as there is power", 1), Word("no water to drain", 0)
PROTECTED, EMPTIED, UNPROTECTED, MILD = (
    Word("guarded while power lasts", 1),
    Word("empties, if it falls to the valve", 1),
    Word("nothing guards it", 2),
    Word("no frost at the loop", 0),
)
NO_ICE, SOME_ICE, MUCH_ICE = (
    Word("no defrost needed", 0),
    Word("defrost takes some heat", 1),
    Word("defrost takes much heat", 2),
)


def frost_outside() -> Panel:
    """Tern Bank's heat pump (invented) in damp air near freezing."""
    ready = ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {"The weather": _weather(start), "The unit": _unit(start), "The water outside": _outside(start)},
        calculate,
        FrostPicture,
        readouts,
        ready,
        headline=headline,
        tries=FROST_TRIES,
    )


def _weather(start: dict) -> dict:
    """Gives the controls of the outdoor air."""
    humid = "relative humidity; below freezing it is counted over ice"
    return {
        "air": Slide("Air", "temperature", start["air"], AIRS, (-4, 68, 1), "outdoors, at the coil"),
        "humidity": Slide("Humidity", "share", start["humidity"], (30, 100, 1), (30, 100, 1), humid),
    }


def _unit(start: dict) -> dict:
    """Gives the controls of the heat pump and of its defrost."""
    return {
        "heat": Slide("Heat output", "large power", start["heat"], (2, 16, 0.5), (2, 16, 0.5), "to the water"),
        "store": Slide(
            "Store", "temperature", start["store"], (45, 70, 1), (113, 158, 1), "temperature that the unit sends out"
        ),
        "hours": Slide("Runs a day", "hours", start["hours"], (1, 24, 1), (1, 24, 1), "hours of heating in a day"),
        "every": Slide(
            "Defrost every", "minutes", start["every"], (20, 120, 5), (20, 120, 5), "running time between two defrosts"
        ),
        "power": Slide(
            "Defrost heat",
            "large power",
            start["power"],
            (1, 12, 0.5),
            (1, 12, 0.5),
            "what the unit turns round and brings to the coil; it comes from the water",
        ),
    }


def _outside(start: dict) -> dict:
    """Gives the controls of the drain, of the loop's frost mode and of the power."""
    drains, modes = [GROUND, WALKWAY, BARE_LINE, WARM_LINE], [PUMP_RUNS, VALVE_OPENS, NOTHING]
    return {
        "drain": Choice("Coil drains to", drains, start["drain"], "where the water of the coil goes"),
        "mode": Choice("In frost", modes, start["mode"], "what guards the loop when its water is near freezing"),
        "supply": Choice("Power", [ON, CUT], start["supply"], "of the heat pump, the pump and the heat tape"),
    }


def ready_made() -> dict:
    """Tern Bank's heat pump on three days (invented): title → settings."""
    damp = {
        "air": Q_(2, "degC"),
        "humidity": Q_(90, "percent"),
        "heat": rig()["heat"],
        "store": rig()["store"],
        "hours": Q_(12, "h"),
        "every": Q_(45, "min"),
        "power": Q_(5, "kW"),
        "drain": GROUND,
        "mode": PUMP_RUNS,
        "supply": ON,
    }
    cold = {**damp, "air": Q_(-12, "degC"), "humidity": Q_(85, "percent")}
    return {
        "Damp day near freezing": damp,
        "Cold night, over the walkway": {**cold, "drain": WALKWAY},
        "Cold night, power cut": {**cold, "supply": CUT},
        "Mild day": {**damp, "air": Q_(12, "degC"), "humidity": Q_(80, "percent")},
    }


def calculate(state: dict) -> FrostScene:
    """Turns the controls' values into a scene. Raises InputError."""
    air, store = (state[name].to("degC").magnitude for name in ("air", "store"))
    humidity, hours = state["humidity"].to("").magnitude, state["hours"].to("hour").magnitude
    heat, every = state["heat"].to("W").magnitude, state["every"].to("s").magnitude
    runs = state["supply"] == ON
    taken = runs * heat * (1 - 1 / float(cop_of(store, air)))  # [W] from the air
    coil = air - EVAPORATOR_STEP
    each, latent = (float(value) for value in moist_air.condensed(air, humidity, coil))
    icy = coil < FREEZING and each * taken > 0
    melts = float(moist_air.melting_heat(each * taken * every, coil)) / MELTS if icy else 0.0
    airs = np.linspace(*AIRS[:2], 73)
    each_there, _ = moist_air.condensed(airs, humidity, airs - EVAPORATOR_STEP)
    there = runs * heat * (1 - 1 / cop_of(store, airs)) * each_there * 3600 * hours
    return FrostScene(
        air=air,
        humidity=humidity,
        coil=coil,
        heat=heat,
        taken=taken,
        latent=latent,
        kind=DRY if each * taken == 0 else FROST if icy else WATER,
        daily=each * taken * 3600 * hours,
        cycle=each * taken * every,
        every=every,
        lasts=melts / state["power"].to("W").magnitude,
        share=melts / (heat * every),
        airs=airs,
        dailies=there,
        drain=state["drain"],
        drain_word=drain_word(state["drain"], air, each > 0, runs),
        mode=state["mode"],
        powered=runs,
        loop_word=loop_word(state["mode"], air, runs),
        hours_to_ice=_hours_to_ice(air),
    )


def drain_word(drain: str, air: float, wet: bool, powered: bool) -> Word:
    """One word for where the coil's water goes; in a power cut the ice that is there already stays."""
    if not wet or (not powered and (air >= EDGE or drain == GROUND)):
        return NONE_COMES
    if drain == WALKWAY:
        return SLIPPERY if air < EDGE else WET
    if air >= EDGE or (drain == GROUND and air >= FREEZING):
        return SOAKS
    if drain == GROUND:
        return MOUND
    if drain == BARE_LINE:
        return SHUT
    return TAPED if powered else TAPE_OFF


def loop_word(mode: str, air: float, powered: bool) -> Word:
    """One word for the loop in this air; a pump needs power, a frost valve that opens by its own warmth does not."""
    if air >= EDGE:
        return MILD
    if mode == VALVE_OPENS:
        return EMPTIED
    return PROTECTED if mode == PUMP_RUNS and powered else UNPROTECTED


def _hours_to_ice(air: float) -> float:
    """Hours until ice can form in the page's own loop when its cold line stands still in this air."""
    run = usual.run_of({**rig(), "air": Q_(air, "degC")})
    return float(run.freezing(rig()["bottom"]).hours_to_zero.magnitude)


def headline(scene: FrostScene, system: str) -> str:
    """Says the gravest: ice underfoot, a loop that freezes, then how much water the coil collects."""
    if scene.drain_word.gravity == 2:
        return f"The coil's water: {scene.drain_word}"
    if scene.loop_word == UNPROTECTED:
        return "Nothing guards the loop from this frost"
    if not scene.powered:
        return "Without power the unit stands still"
    if scene.kind == DRY:
        return "The air is so dry that the coil stays dry"
    daily = show(Q_(scene.daily, "kg"), "mass", system)
    return f"The coil collects {daily} of {scene.kind} a day"


def readouts(scene: FrostScene, system: str) -> list[Readout]:
    """Gives the verdicts on defrost, drain and loop."""
    word = NO_ICE if scene.kind != FROST else SOME_ICE if scene.share < MUCH else MUCH_ICE
    taken = f"{100 * scene.share:.1f} % of the heat; {duration(scene.lasts)} each" if scene.lasts else scene.kind
    loop = ice_parts(scene.hours_to_ice, scene.air)[0] if scene.loop_word == UNPROTECTED else f"in frost: {scene.mode}"
    daily = show(Q_(scene.daily, "kg"), "mass", system)
    return [
        Readout("Defrost", word, taken),
        Readout("Drain", scene.drain_word, f"{daily} a day to a {scene.drain}"),
        Readout("Loop", scene.loop_word, loop),
    ]
