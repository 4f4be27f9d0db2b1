"""Lesson 05: seven joints and the pressure test; the surprises that its page promises."""

import json
from pathlib import Path

import pytest

from lessons_lib import Q_, InputError, Pipe
from lessons_lib.lessons import measure_cut_join_test
from lessons_lib.lessons.measure_cut_join_test.gauge_picture import (
    AIR_IN_PLASTIC,
    AT_ZERO,
    HIDDEN,
    HOLDS,
    LEAKS,
    METAL_AIR,
    MOVED,
    NO_AIR_TEST,
    scale_for,
)
from lessons_lib.lessons.measure_cut_join_test.testing import calculate, joules, medium_word, readouts, ready_made
from lessons_lib.physics.pressure_test import course
from lessons_lib.plant.joints import (
    BURR,
    DEPTH,
    FORGOTTEN,
    INSERT,
    LAST,
    MAY_HIDE,
    NEVER_HIDE,
    NOT_STATED,
    SIDES,
    SOUND,
    TOO_HOT,
    UNSAFE,
    US_SIDE,
    joint_kind,
    joint_kinds,
)
from lessons_lib.plant.pressure_test import AIR, WATER, pressure_test, rules
from lessons_lib.quantities.display import SI, US
from lessons_lib.runs.pipe import materials
from lessons_lib.storage.tables import rows

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
COPPER, PEX = ready_made().values()


def gauge(settings, **changes):
    return calculate({**settings, **changes})


# The pressure test


def test_one_degree_moves_copper_and_no_joint_leaks():
    """About 250 to 280 kPa a degree at 20 °C; with the water's temperature steady the gauge stands still."""
    cooled = gauge(COPPER)
    assert cooled.verdict == MOVED and -290e3 < cooled.moved < -240e3
    assert gauge(COPPER, warmed=Q_(0, "delta_degC")).verdict == HOLDS


def test_a_gauge_at_zero_says_nothing_about_leaks():
    """Cooled until it stands at zero: whatever leaks, it cannot fall further."""
    empty = gauge(COPPER, warmed=Q_(-4, "delta_degC"))
    assert empty.now == 0 and empty.verdict == AT_ZERO and AT_ZERO.gravity == 1
    assert gauge(COPPER, warmed=Q_(-4, "delta_degC"), leak=Q_(1, "mL/min")).verdict == HIDDEN


def test_an_energy_is_written_as_people_write_it():
    assert [joules(one) for one in (0.0374, 0.266, 4.36, 1163.0)] == ["under 0.1", "0.3", "4.4", "1160"]
    assert "e+" not in readouts(gauge(COPPER, medium=AIR), SI)[2].detail


def test_plastic_goes_the_other_way():
    dry = gauge(PEX, leak=Q_(0, "mL/min"))
    assert 30e3 < dry.moved < 60e3 and dry.warmed < 0


def test_a_bubble_softens_the_gauge():
    assert abs(gauge(COPPER, air=Q_(1, "percent")).moved) < 0.2 * abs(gauge(COPPER).moved)


def test_a_drip_is_told_from_temperature_or_hides_behind_it():
    assert gauge(PEX).verdict == LEAKS
    hidden = gauge(PEX, leak=Q_(0.1, "mL/min"), air=Q_(5, "percent"), minutes=Q_(2, "min"))
    assert hidden.verdict == HIDDEN and hidden.leak > 0


def test_a_leak_lets_the_gauge_fall_to_zero_and_no_further():
    fast = gauge(COPPER, leak=Q_(5, "mL/min"), warmed=Q_(0, "delta_degC"), minutes=Q_(60, "min"))
    assert fast.now == pytest.approx(0, abs=1) and all(value >= 0 for value in fast.gauge)


@pytest.mark.parametrize("leak", [1e-8, 1e-6, 1e-4])
def test_the_steps_are_small_enough(leak):
    """Against ten times as many, at the end of a test."""
    given = (20.0, -1.0, 7e5, 900.0, leak, 0.001, 1e-10, 16.8e-6)
    assert course(*given)[1][-1] == pytest.approx(course(*given, steps=600)[1][-1], rel=3e-3)


def test_air_stores_hundreds_of_times_the_work_and_is_refused():
    air, water = gauge(COPPER, medium=AIR), gauge(COPPER, medium=WATER)
    assert air.energy > 300 * water.energy
    assert medium_word(gauge(PEX, medium=AIR)) == AIR_IN_PLASTIC
    us, europe, _ = (rule.name for rule in rules())
    assert medium_word(gauge(COPPER, medium=AIR, rule=us)) == METAL_AIR
    assert medium_word(gauge(COPPER, medium=AIR, rule=europe)) == NO_AIR_TEST
    assert all(word.gravity == 2 for word in (AIR_IN_PLASTIC, METAL_AIR, NO_AIR_TEST))


def test_each_reader_meets_their_own_rule():
    panel = measure_cut_join_test.testing()
    for system, region in ((SI, "Europe"), (US, "United States")):
        goods = panel.goods(COPPER, system)
        (rule,) = [one for one in rules() if one.name == goods["rule"]]
        assert rule.region == region and Pipe.nominal(*goods["pipe"]).region == region


def test_scales_hold_what_they_show():
    high = gauge(COPPER, warmed=Q_(4, "delta_degC"), start=Q_(30, "degC"), working=Q_(1000, "kPa"))
    (highest, *_), _ = scale_for([high])
    assert 1000 * highest >= high.gauge.max()


def test_a_test_that_freezes_is_refused():
    with pytest.raises(InputError, match="freezes or is close to boiling"):
        pressure_test(
            Pipe.nominal("copper L", "1/2 in"), Q_(10, "m"), Q_(600, "kPa"), Q_(5, "degC"), Q_(-6, "delta_degC"),
            Q_(15, "min"), Q_(0, "mL/min"),
        )  # fmt: skip


def test_the_page_says_what_the_table_of_clips_says():
    page = json.loads((WORKBOOKS / "05-measure-cut-join-test.ipynb").read_text(encoding="utf-8"))
    text = "\n".join("".join(cell["source"]) for cell in page["cells"])
    clips = text[text.index("**Clips (hangers)") : text.index("**Joints.**")]
    table = rows("support_spacing")
    assert "as quoted in secondary literature" in clips and "P2605.1" in clips
    assert all(
        "P2605.1" in row["source"]
        for row in table
        if row["region"] == "United States" and row["material"] != "any other"
    )
    memory = {(row["region"], row["material"]) for row in table if row["how_known"] == "from memory"}
    assert memory == {("Europe", "copper"), ("Europe", "multilayer"), ("United Kingdom", "copper")}


# The joints


def test_every_joint_has_its_steps_and_its_pipe():
    known = {row["material"] for row in rows("pipe_materials")}
    for kind in joint_kinds():
        assert kind.pipes and set(kind.pipes) <= known
        texts = (kind.prepare, kind.goes_in, kind.insert, kind.tool, kind.shows, kind.last, kind.wrong, kind.undone)
        assert all(len(text) <= 44 for text in texts), [text for text in texts if len(text) > 44]
        assert all(side in kind.standards and kind.standards[side][0] for side in SIDES)


def test_every_pipe_has_a_joint_of_its_own_kind():
    for material in materials():
        assert material.name in joint_kind(material.joint).pipes


def test_what_is_forgotten():
    press, push, solder = (joint_kind(name) for name in ("press", "push", "solder"))
    assert press.made(LAST, False)[0] == UNSAFE and push.made(LAST, True)[0] == SOUND
    assert push.made(INSERT, True)[0] == UNSAFE and push.made(INSERT, False)[0] == SOUND
    assert solder.made(INSERT, False)[0] == SOUND
    assert all(kind.made(slip, False)[0] == UNSAFE for kind in joint_kinds() for slip in (BURR, DEPTH))
    assert all(kind.made(FORGOTTEN[0], True)[0] == SOUND for kind in joint_kinds())


def test_ratings_fall_with_warmth_and_end():
    for kind in joint_kinds():
        for side in SIDES:
            found = [kind.limit(Q_(warm, "degC"), side) for warm in (10, 40, 70, 82, 99)]
            values = [one.magnitude for one in found if one is not None]
            assert values == sorted(values, reverse=True)
    assert joint_kind("crimp").rated(Q_(99, "degC"), Q_(100, "kPa"), US_SIDE) == TOO_HOT
    assert joint_kind("compression").rated(Q_(70, "degC"), Q_(100, "kPa"), US_SIDE) == NOT_STATED


def test_a_compression_joint_stays_within_reach():
    assert joint_kind("compression").hiding == NEVER_HIDE and joint_kind("press").hiding == MAY_HIDE


def test_a_joint_names_its_pipe_as_people_say_it():
    panel = measure_cut_join_test.joining()
    panel.set({"pipe": ("copper EN 1057", "15 mm x 0.7 mm")})
    assert panel.sentence.startswith("A compression joint on 15 mm copper (0.7 mm wall): ")


def test_an_unknown_joint_is_named():
    with pytest.raises(InputError, match="glued"):
        joint_kind("glued")
    assert measure_cut_join_test.joining().scene.kind.name == "compression"
