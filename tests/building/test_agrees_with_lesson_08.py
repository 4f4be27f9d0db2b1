"""One run gives one answer: lesson 08's panel and a layout of lesson 11 hold the same taped run against the same night."""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Run, Surroundings, Tape, load_layout
from lessons_lib.lessons.heat_tape.panel import CIRCUITS, FELT, THERMOSTATS, calculate, region_of
from lessons_lib.runs.assessment import ICY, settled_word
from lessons_lib.runs.common_values import HELD_AT
from lessons_lib.runs.insulation import NONE
from lessons_lib.runs.pipe import Pipe, sizes
from lessons_lib.runs.tape import switched
from lessons_lib.storage.tables import DATA, rows

SEED, RUNS = 1108, 20
FAMILIES = ("copper L", "PEX CTS", "CPVC CTS", "copper EN 1057", "PEX ISO 15875")
MATERIALS = ("elastomeric foam", "polyethylene foam", "glass fibre", NONE)


def a_state(dice) -> dict:
    """Settings of lesson 08 from the whole range of its controls; a gap in three of four runs."""
    family = dice.choice(FAMILIES)
    ladder = [
        size for size in sizes(family) if 0.01 < Pipe.nominal(family, size).outside_diameter.to("m").magnitude < 0.05
    ]
    return {
        "tape": str(dice.choice([row["tape"] for row in rows("tern_bank/heat_tapes")])),
        "thermostat": str(dice.choice(list(THERMOSTATS))),
        "circuit": str(dice.choice(list(CIRCUITS))),
        "pipe": (str(family), str(dice.choice(ladder))),
        "length": Q_(float(dice.integers(2, 80)), "m"),
        "insulation": str(dice.choice(MATERIALS, p=(0.4, 0.25, 0.25, 0.1))),
        "thickness": Q_(float(dice.integers(6, 40)), "mm"),
        "gap": Q_(float(dice.integers(0, 4)) * 0.3, "m"),
        "air": Q_(float(dice.integers(-30, 8)), "degC"),
        "wind": Q_(float(dice.integers(0, 12)), "m/s"),
    }


def as_layout(state: dict, file):
    """The same run as a file of lesson 11: one leg outdoors, and a tap. At lesson 08's panel the thermostat switches at 5 °C."""
    tape, (volts, amps) = (
        next(row for row in rows("tern_bank/heat_tapes") if row["tape"] == state["tape"]),
        CIRCUITS[state["circuit"]],
    )
    first, second = ((tape[f"{which}_power"], tape[f"{which}_temperature"]) for which in ("first", "second"))
    points = (
        f"{first[0]} W/m"
        if first[0] == second[0]
        else f"{first[0]} W/m at {first[1]} °C, {second[0]} W/m at {second[1]} °C"
    )
    thermostat = "none" if np.isinf(THERMOSTATS[state["thermostat"]]) else f"{FELT} °C"
    share = state["gap"].magnitude / state["length"].magnitude if state["insulation"] != NONE else 0.0
    file.write_text(
        f'name = "x"\n[water]\npressure = "3 bar"\ncold_inlet = "8 °C"\n[night]\nair = "{state["air"].magnitude} °C"\n'
        f'wind = "{state["wind"].magnitude} m/s"\nhours = "14 h"\nhours_without_power = "3 h"\n[tank]\nset_temperature = "60 °C"\n'
        f'[[leg]]\nname = "run"\nfrom = "tank"\ngo = "north"\nlength = "{state["length"].magnitude} m"\npipe = "{state["pipe"][0]}"\n'
        f'size = "{state["pipe"][1]}"\ninsulation = "{state["insulation"]}"\nthickness = "{state["thickness"].magnitude} mm"\n'
        f'place = "outdoors"\ntape = "{points}"\nbare_share = "{100 * share!r} %"\n[[tap]]\nname = "tap"\nleg = "run"\nkind = "sink"\n'
        f'flow = "6 L/min"\n[tape]\nhold = "{HELD_AT.magnitude} °C"\nthermostat = "{thermostat}"\nthickness = "{tape["thickness"]} mm"\n'
        f'voltage = "{volts.magnitude} V"\nbreaker = "{amps.magnitude} A"\n'
        f'region = "{region_of(volts)}"\n',
        encoding="utf-8",
    )
    return load_layout(file)


STATES = [a_state(dice) for dice in [np.random.default_rng(SEED)] for _ in range(RUNS)]


@pytest.mark.parametrize("number", range(RUNS))
def test_lesson_08_and_lesson_11_agree_on_a_run(number, tmp_path):
    """Heat to hold, tapes, where pipe and bare places settle, the word for it, current, and ice in a power cut: to rounding."""
    state = STATES[number]
    scene, house = calculate(state), as_layout(state, tmp_path / "run.toml")
    found = house.assess().legs[0]
    close = {"rel": 1e-6, "abs": 1e-6}
    assert found.plan.needed.magnitude == pytest.approx(scene.needed, **close) and found.plan.tapes == scene.tapes
    assert found.plan.given.magnitude == pytest.approx(scene.given, **close)
    assert found.hold_power.magnitude == pytest.approx(scene.needed / 1.15, **close)
    assert found.kept.magnitude == pytest.approx(scene.covered, **close)
    worth = (
        scene.gap * found.bare_hold_power.magnitude / found.hold_power.magnitude
        if scene.has_gap and scene.needed > 0
        else 0.0
    )
    assert worth == pytest.approx(scene.worth, **close) and (found.bare_hold_power is not None) == scene.has_gap
    if scene.has_gap:
        assert found.bare_kept.magnitude == pytest.approx(scene.bare, **close)
    coldest = min(scene.covered, scene.bare) if scene.has_gap else scene.covered
    assert (found.with_power.word == ICY) == (settled_word(coldest, "copper") == ICY)
    assert (found.with_power.word == "on the edge of freezing") == (0 < coldest < 4)
    hottest = max(scene.covered, scene.bare) if scene.has_gap else scene.covered
    assert found.tape_word == settled_word(hottest, scene.material)
    assert found.without_power.value.magnitude == pytest.approx(scene.hours, rel=1e-6)
    assert found.circuit.load.magnitude == pytest.approx(scene.load, **close), "of all tapes side by side"
    assert found.circuit.continuous_limit.magnitude == pytest.approx(scene.limit, **close)


def test_the_random_runs_have_every_case():
    scenes = [calculate(state) for state in STATES]
    assert (
        any(one.tapes > 1 for one in scenes)
        and any(not one.is_covered for one in scenes)
        and any(not one.has_gap for one in scenes)
    )
    assert any(one.has_gap and one.bare <= 0 < one.covered for one in scenes) and any(
        one.has_gap and one.bare > 4 for one in scenes
    )
    assert {np.isinf(one.thermostat) for one in scenes} == {True, False} and any(
        np.isfinite(one.hours) and one.hours > 0 for one in scenes
    )


def cabin(tmp_path, thermostat: str):
    text = (DATA / "layouts" / "bunk_cabin.toml").read_text(encoding="utf-8")
    (line,) = (one for one in text.splitlines() if one.startswith("thermostat"))
    file = tmp_path / "cabin.toml"
    file.write_text(text.replace(line, thermostat), encoding="utf-8")
    return load_layout(file).assess().leg("out of the workshop")


def test_a_thermostat_that_is_not_named_is_taken_the_cautious_way(tmp_path):
    """Nothing is warmer than with a tape that is always on, and the covered pipe begins a power cut at the hold temperature."""
    unknown, always = cabin(tmp_path, ""), cabin(tmp_path, 'thermostat = "none"')
    assert (
        unknown.kept.magnitude == pytest.approx(4)
        and always.kept.magnitude > 4
        and unknown.bare_kept < always.bare_kept
    )
    assert cabin(tmp_path, 'thermostat = "9 °C"').kept.magnitude == pytest.approx(9)
    assert always.with_power.reason == "with the tape on the bare places settle at −9 °C"


def test_closing_the_bare_places_is_tried_and_ends_the_ice(tmp_path):
    """On Tern Bank's taped line (invented) nothing else keeps the bare 2 % from freezing while the tape is on."""
    house = load_layout(DATA / "layouts" / "bunk_cabin.toml")
    change = next(one for one in house.first_changes(3) if "bare places" in one.words)
    assert (
        change.words == "the bare places closed with insulation on legs 1–2 outdoors, 2 % of the length"
        and change.after.ice < change.before.ice
    )
    assert {leg.word for leg in (one.with_power for one in change.layout.assess().legs if one.kept is not None)} == {
        "no ice this night"
    }


def test_a_sensor_gives_the_bare_places_the_share_that_the_covered_pipe_needs():
    """By hand: on for hold power over output at 5 °C; where that share of the tape's line meets the bare loss, the bare place settles."""
    pipe, around, tape = (
        Pipe.nominal("copper L", "3/4 in"),
        Surroundings(Q_(-3, "degC")),
        Tape.self_regulating((Q_(10, "degC"), Q_(16, "W/m")), (Q_(60, "degC"), Q_(4, "W/m"))),
    )
    covered, bare = (
        Run(pipe, Q_(5, "m"), covering, around)
        for covering in (Insulation("glass fibre", Q_(20, "mm")), Insulation.none())
    )
    _, share, (held, settled) = switched(covered, bare, tape, 5.0)
    assert share == pytest.approx(covered.hold_power(Q_(5, "degC")).magnitude / (16 + 5 * 12 / 50)) and held == 5.0
    assert bare.without_wall().loss(settled)[0] == pytest.approx(share * (16 - (settled - 10) * 12 / 50), rel=1e-3)
