"""The panel of lesson 08: a run with heat tape, its circuit, its cost, and what a power cut leaves of it."""

from dataclasses import replace

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.circuit import tape_circuit
from ...quantities.display import SI, US, ice_parts, ice_words, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import TOO_HOT, freeze_word, settled_word
from ...runs.common_values import HELD_AT, THERMOSTAT
from ...runs.insulation import ALL_BARE, NONE, Insulation
from ...runs.pipe import Pipe
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from ...runs.tape import Tape, bore_over, plan, settles_at, switched
from ...storage import tables
from .balance import PIPE
from .picture import HeatTapePicture, TapeScene, settled
from .tries import SWITCHED, TRIES

TIES = Q_(1.0, "mm")
FELT = THERMOSTAT.magnitude
THERMOSTATS = {"none": np.inf, SWITCHED: FELT}
CIRCUITS = {
    f"{volts} V, {amps} A": (Q_(volts, "V"), Q_(amps, "A"))
    for volts, amps in ((120, 15), (120, 20), (240, 20), (230, 10), (230, 16))
}
REGIONS = {120: "United States", 240: "United States", 230: "IEC"}  # whose rule holds for a circuit, by its voltage
METRIC_CIRCUIT, US_CIRCUIT = "230 V, 16 A", "120 V, 15 A"
NO_GAP = Word("nothing left bare", 0)
UNDER, AT, OVER = Word("under its limit", 0), Word("at its limit", 1), Word("over its limit", 2)
STARTS_HIGH = Word("starts above its limit", 1)


def heat_tape() -> Panel:
    """A taped run, opened on Tern Bank's cabin run (invented)."""
    ready = _ready_made()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The tape": {
                "tape": Choice(
                    "Tape",
                    list(_rows()),
                    start["tape"],
                    "invented classes: light, medium and strong give 10, 16 and 26 W/m (3, "
                    "5 and 8 W/ft) at 10 °C (50 °F)",
                ),
                "thermostat": Choice(
                    "Thermostat",
                    list(THERMOSTATS),
                    start["thermostat"],
                    "switches the tape by what a sensor feels under the insulation",
                ),
                "circuit": Choice(
                    "Circuit", list(CIRCUITS), start["circuit"], "supply voltage and rating of the breaker"
                ),
            },
            "The run": {
                "pipe": usual.pipe(start["pipe"]),
                "length": Slide(
                    "Length",
                    "length",
                    start["length"],
                    (1, 120, 1),
                    (3, 390, 1),
                    "of the pipe, and of the tape along it",
                ),
                "insulation": usual.insulation(start["insulation"]),
                "thickness": usual.thickness(start["thickness"]),
                "gap": Slide(
                    "Left bare",
                    "length",
                    start["gap"],
                    (0, 1, 0.1),
                    (0, 3, 0.25),
                    "one piece without insulation: a valve, a bracket, a sleeve left off",
                ),
            },
            "The weather at the pipe": {
                "air": usual.air(start["air"], "the coldest hour to plan for; at the bench, the room"),
                "wind": usual.wind(start["wind"]),
            },
        },
        calculate,
        HeatTapePicture,
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
        goods=_goods,
    )


def idle_controls(state: dict) -> tuple:
    """Names the controls that do nothing: without insulation nothing can be left bare."""
    return ("thickness", "gap") if state["insulation"] == NONE else ()


def _rows() -> dict:
    """Tern Bank's tapes (invented) by name."""
    return {row["tape"]: row for row in tables.rows("tern_bank/heat_tapes")}


def tape_of(name: str) -> Tape:
    """One of Tern Bank's tapes (invented)."""
    row = _rows()[name]
    points = [
        (Q_(float(row[f"{which}_temperature"]), "degC"), Q_(float(row[f"{which}_power"]), "W/m"))
        for which in ("first", "second")
    ]
    return Tape.constant(points[0][1]) if points[0][1] == points[1][1] else Tape.self_regulating(*points)


def _runs_in_frost() -> dict:
    """Tern Bank's runs in frost (invented): title → settings of the run."""
    runs = {**usual.tern_bank_runs(), **usual.tern_bank_runs("tank")}
    return {title: run for title, run in runs.items() if run["air"].magnitude <= 0}


def _ready_made() -> dict:
    """These runs, each with a tape, on a metric circuit."""
    fixed = {"tape": "self-regulating, light", "thermostat": "none", "circuit": METRIC_CIRCUIT, "gap": Q_(0.0, "m")}
    names = ("length", "insulation", "thickness", "air", "wind")
    return {title: {**usual.some(run, "pipe", *names), **fixed} for title, run in _runs_in_frost().items()}


def _goods(settings: dict, system: str) -> dict:
    """Gives the same settings in the goods of a unit system's reader, on the circuit that is usual there."""
    found = usual.in_goods(settings, system)
    return found | {"circuit": US_CIRCUIT} if system == US and found.get("circuit") == METRIC_CIRCUIT else found


def cabin(system: str = SI) -> dict:
    """The settings that the panel opens on in a unit system: Tern Bank's cabin run (invented)."""
    return _goods(next(iter(_ready_made().values())), system)


def runs_of(state: dict) -> tuple[Run, Run]:
    """The covered run, with a bore that closes over the tape, and the same pipe bare. Raises InputError.

    The tape touches the insulation and warms the air beside it, so that air is given no credit: the cautious side.
    """
    pipe, around = Pipe.nominal(*state["pipe"]), Surroundings(state["air"], wind=state["wind"])
    bare = Run(pipe, state["length"], Insulation.none(), around)
    if state["insulation"] == NONE or state["thickness"].magnitude == 0:
        return bare, bare
    bore = bore_over(pipe, Q_(float(_rows()[state["tape"]]["thickness"]), "mm"), TIES)
    return (
        Run(pipe, state["length"], Insulation(state["insulation"], state["thickness"], bore=bore, gap="open"), around),
        bare,
    )


def region_of(volts) -> str:
    """The region whose rule holds for one of the panel's circuits. volts : its supply voltage"""
    return REGIONS[round(volts.to("V").magnitude)]


def side_by_side(tape: Tape, tapes: int) -> Tape:
    """Gives so many tapes along one pipe, as one."""
    return replace(tape, points=tuple((point, tapes * power) for point, power in tape.points))


def _circuit(state: dict, tape: Tape, at: float):
    """The circuit of all tapes along the run while the pipe is at a temperature, or at `HELD_AT` where that is colder.
    at [degC]
    """
    power = tape.available(min(at, HELD_AT.magnitude))
    volts, rating = CIRCUITS[state["circuit"]]
    return tape_circuit(Q_(float(power), "W/m"), state["length"], volts, rating, region=region_of(volts))


def calculate(state: dict) -> TapeScene:
    """Turns the controls' values into a scene. Raises InputError."""
    tape, (covered, bare) = tape_of(state["tape"]), runs_of(state)
    thermostat, air = THERMOSTATS[state["thermostat"]], state["air"].to("degC").magnitude
    length = state["length"].to("m").magnitude
    gap = min(state["gap"].to("m").magnitude, length) if covered is not bare else 0.0
    planned = plan(covered, tape, HELD_AT)
    together = side_by_side(tape, planned.tapes)
    free, (_, share, held) = one = _settled(covered, bare, tape)
    at_covered, at_bare = free if np.isinf(thermostat) else held
    all_free, (mean, _, all_held) = one if planned.tapes == 1 else _settled(covered, bare, together)
    holding, starting = (_circuit(state, together, at) for at in (HELD_AT.magnitude, air))
    section, row = covered.line.section, _rows()[state["tape"]]
    hold = covered.hold_power(HELD_AT).magnitude
    return TapeScene(
        tape=state["tape"],
        thermostat=thermostat,
        air=air,
        wind=state["wind"].to("m/s").magnitude,
        material=covered.pipe.material,
        bore=section.inside_diameter,
        pipe_outside=section.outside_diameter,
        insulation_bore=section.insulation_bore,
        outside=section.outside_of_insulation,
        tape_thickness=float(row["thickness"]) / 1000,
        tape_width=float(row["width"]) / 1000,
        length=length,
        gap=gap,
        output=tape.available(PIPE),
        covered_loss=covered.without_wall().loss(PIPE)[0],
        bare_loss=bare.without_wall().loss(PIPE)[0],
        on_share=1.0 if np.isinf(thermostat) else share,
        covered=at_covered,
        bare=at_bare,
        hold=HELD_AT.magnitude,
        needed=planned.needed.magnitude,
        given=planned.given.magnitude,
        tapes=planned.tapes,
        worth=gap * bare.hold_power(HELD_AT).magnitude / hold if hold > 0 else 0.0,
        load=holding.load.magnitude,
        cold_start=starting.load.magnitude,
        limit=holding.continuous_limit.magnitude,
        breaker=holding.breaker.magnitude,
        longest=holding.longest_tape.to("m").magnitude,
        always_on=_day(together, all_free, length, gap),
        with_thermostat=_day(mean, all_held, length, gap),
        covered_hours=_hours(covered, at_covered),
        bare_hours=_hours(bare, at_bare),
    )


def _settled(covered: Run, bare: Run, tape: Tape) -> tuple:
    """Gives where both places settle with a tape that is always on [degC], and what `switched` says of it."""
    free = tuple(settles_at(run, tape).magnitude for run in (covered, bare))
    return free, switched(covered, bare, tape, FELT)


def _day(tape: Tape, at, length: float, gap: float) -> float:
    """Gives what the tape takes in 24 h [kW h]. at [degC]: of the covered pipe and of the bare piece"""
    inside, outside = (float(tape.available(temperature)) for temperature in at)
    return 0.024 * (inside * (length - gap) + outside * gap)


def _hours(run: Run, start: float) -> float:
    """Until ice can form when the tape stops [h]. start [degC]"""
    return run.freezing(Q_(max(start, 0.0), "degC")).hours_to_zero.magnitude


def circuit_word(load: float, cold_start: float, limit: float) -> Word:
    """One word for the load on a circuit [A]: numbers for an electrician, not a statement that it is safe."""
    if load > limit * (1 + 1e-9):
        return OVER
    if load > limit * (1 - 1e-9):
        return AT
    return STARTS_HIGH if cold_start > limit else UNDER


def headline(scene: TapeScene, system: str) -> str:
    """Says what is frozen or too hot with the tape on; where nothing is, what is left when the power fails."""
    if scene.has_gap and scene.bare <= 0:
        return "The bare piece freezes with the tape on"
    if scene.covered <= 0:
        return "The pipe freezes with the tape on"
    word = settled_word(scene.covered, scene.material)
    if word == TOO_HOT:
        return f"{settled(scene.covered, system)}: {word}"
    return f"Without power {ice_words(scene.hours, scene.air)}"


def readouts(scene: TapeScene, system: str) -> list[Readout]:
    """Covered pipe, bare piece, circuit, power cut."""
    covered = settled_word(scene.covered, scene.material)
    bare = settled_word(scene.bare, scene.material) if scene.has_gap else NO_GAP if scene.is_covered else ALL_BARE
    circuit, fails = circuit_word(scene.load, scene.cold_start, scene.limit), freeze_word(scene.hours, scene.air)
    load, limit = (show(Q_(value, "A"), "current", system) for value in (scene.load, scene.limit))
    longest, many = (
        show(Q_(np.floor(scene.longest), "m"), "length", system),
        (f" for {scene.tapes} tapes" if scene.tapes > 1 else ""),
    )
    worth = (
        f"; needs as much as {show(Q_(scene.worth, 'm'), 'length', system)} covered"
        if scene.has_gap and scene.worth > 0
        else ""
    )
    at_bare = (
        f"settles at {settled(scene.bare, system)}{worth}"
        if scene.has_gap
        else "insulation from end to end"
        if scene.is_covered
        else "the whole run has no insulation"
    )
    return [
        Readout(
            "Pipe", covered, f"settles at {settled(scene.covered, system)}{' with one tape' if scene.tapes > 1 else ''}"
        ),
        Readout("Bare piece", bare, at_bare),
        Readout("Circuit", circuit, f"{load} of {limit}{many}; longest run on it {longest}; for an electrician"),
        Readout("Power fails", fails, ice_parts(scene.hours, scene.air)[-1]),
    ]
