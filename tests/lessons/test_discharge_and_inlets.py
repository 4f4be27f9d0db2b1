"""Lesson 10: a relief valve's discharge pipe, and a mixing valve between its inlets; the surprises that its page promises."""

import pytest

from lessons_lib import Q_, InputError
from lessons_lib.lessons import fill_purge_and_hand_over
from lessons_lib.lessons.fill_purge_and_hand_over import discharging, handing_over
from lessons_lib.lessons.fill_purge_and_hand_over.set_valve import SHUT
from lessons_lib.lessons.fill_purge_and_hand_over.setting_picture import RUNS_ON, TRICKLES
from lessons_lib.physics.mixing_valve import hot_port
from lessons_lib.plant.closed_system import relief_settings
from lessons_lib.plant.discharge import (
    BARRED,
    BEND_TOO_SOON,
    CAP,
    DRAINS,
    FITS,
    NOT_IN_TABLE,
    STANDS,
    THREAD,
    TOO_SMALL,
    TRAP,
    VALVE,
    WIDER,
    across,
    discharge,
    regions,
    sizes,
)
from lessons_lib.plant.mixing_valve import (
    APART,
    CANNOT_PASS,
    CHECKS_ONLY,
    CROSSES,
    DIRT,
    EVEN,
    OUTSIDE,
    PLAIN,
    UNEVEN,
    valve_classes,
)
from lessons_lib.quantities.display import SI, US

LONG, SHORT = discharging.ready_made().values()
BASIN, TANK = handing_over.ready_made().values()
UK = {**LONG, "region": "United Kingdom"}


def pipe(**changes):
    return discharging.calculate({**UK, **changes})


def valve(settings=BASIN, **changes):
    return handing_over.calculate({**settings, **changes})


# The discharge pipe


def test_elbows_use_up_the_length():
    """By hand: 9 m less four elbows of 0.8 m is 5.8 m, and the way is 7 m."""
    assert pipe().size_word == TOO_SMALL and pipe().needed == "28 mm" and pipe().allowed == pytest.approx(5.8)
    assert pipe(elbows=Q_(2, "")).size_word == FITS


def test_a_uk_pipe_is_never_as_narrow_as_its_outlet():
    assert pipe(size=discharging.STEPS[0], length=Q_(1, "m")).size_word == NOT_IN_TABLE


def test_a_pipe_wider_than_the_table_is_not_called_too_narrow():
    """Full size or larger is what the US codes ask for; what the table does not list is left to local code."""
    settings = {**LONG, "region": "United States", "outlet": "3/4 in", "size": discharging.STEPS[2], "end": Q_(4, "in")}
    wide = discharging.calculate(settings)
    assert wide.size_word == WIDER and "local code" in discharging.headline(wide, US)
    assert wide.low == pytest.approx(2 * 0.75 * 0.0254)  # twice the outlet's size at the least


def test_too_many_elbows_are_named_as_such():
    crooked = discharging.calculate(
        {**LONG, "region": "United States", "size": discharging.STEPS[0], "elbows": Q_(10, "")}
    )
    assert crooked.size_word == TOO_SMALL
    assert discharging.readouts(crooked, US)[0].detail == "10 elbows; at most 4"


@pytest.mark.parametrize("fault, word", [(VALVE, BARRED), (CAP, BARRED), (THREAD, BARRED), (TRAP, STANDS)])
def test_nothing_may_stand_in_its_way(fault, word):
    assert pipe(fault=fault).way_word == word and word.gravity == 2
    assert pipe().way_word == DRAINS


def test_its_fall_and_its_first_bend():
    assert pipe(fall=Q_(0.4, "percent")).way_word == STANDS and pipe(fall=Q_(0.5, "percent")).way_word == DRAINS
    assert pipe(straight=Q_(290, "mm")).way_word == BEND_TOO_SOON
    assert discharging.calculate({**LONG, "region": "United States", "straight": Q_(0, "mm")}).way_word == DRAINS


def test_each_reader_meets_their_own_region():
    panel = fill_purge_and_hand_over.discharge()
    for region in discharging.regions():
        opening = {**panel.opening(SI), "region": region}
        assert discharging.calculate(opening).size_word == FITS, "the page asks from which elbow on it is not allowed"
        assert discharging.calculate({**opening, "elbows": Q_(10, "")}).size_word != FITS
    assert panel.goods(LONG, SI)["region"] == "Europe" and panel.goods(LONG, US)["region"] == "United States"
    assert discharging.headline(discharging.calculate(panel.goods(LONG, US)), US).endswith("keeps the rule")


def test_sizes_grow_with_their_reach():
    for region in regions():
        for outlet in discharging.OUTLETS:
            known = sizes(region, outlet)
            assert [across(one.size) for one in known] == sorted(across(one.size) for one in known)
            assert [one.longest for one in known] == sorted(one.longest for one in known)


def test_unknown_names_are_told():
    rest = (0, Q_(1, "m"), 0, Q_(1, "percent"), Q_(50, "mm"), Q_(0, "mm"))
    for region, outlet in (("Atlantis", "1/2 in"), ("Europe", "2 in")):
        with pytest.raises(InputError):
            discharge(region, outlet, *rest)
    with pytest.raises(InputError):
        discharge("Europe", "1/2 in", *rest, fault="a goose")


# The mixing valve


def test_twice_the_flow_takes_four_times_the_pressure():
    assert valve(flow=Q_(16, "L/min")).takes == pytest.approx(4 * valve().takes, rel=1e-6)
    assert valve(flow=Q_(20, "L/min"), hot_pressure=Q_(100, "kPa")).flow_word == CANNOT_PASS


def test_with_equal_pressures_the_ports_share_as_the_water_does():
    assert valve().hot_port == pytest.approx(valve().hot_share, rel=1e-6)
    assert valve(TANK).hot_port > valve(TANK).hot_share, "the weak hot side needs more of the stroke"


def test_both_ports_together_are_the_valve():
    scene = valve(TANK)
    passes = TANK["passes"].to("m**3/s").magnitude
    cold = hot_port(1 - scene.hot_share, scene.flow, scene.cold_pressure, scene.outlet, passes)
    assert scene.hot_port + cold == pytest.approx(1, abs=1e-6)


def test_without_check_valves_one_side_pushes_into_the_other():
    assert valve(TANK).inlets_word == CROSSES and valve(TANK).crossing > 0
    assert valve(TANK, inlets=CHECKS_ONLY).inlets_word == DIRT and valve(TANK, inlets=CHECKS_ONLY).crossing == 0
    assert valve().inlets_word == APART
    assert valve(inlets=PLAIN).crossing == 0, "equal pressures move nothing"


def test_pressures_and_their_class():
    assert valve().pressures_word == EVEN and valve(TANK).pressures_word == UNEVEN
    assert valve(kind="EN 1287").pressures_word == OUTSIDE


def test_only_a_class_that_must_shut_is_held_to_it():
    for one in valve_classes():
        scene = valve(kind=one.name, stop=SHUT)
        assert scene.outcome == (TRICKLES if one.shuts else RUNS_ON)
    assert {one.name for one in valve_classes() if not one.shuts} == {"ASSE 1017", "EN 15092"}


def test_each_reader_meets_a_class_of_their_side():
    panel = fill_purge_and_hand_over.hand_over()
    assert panel.goods(BASIN, US)["kind"].startswith("ASSE") and panel.goods(BASIN, SI)["kind"] == "EN 1111"
    assert panel.goods(TANK, US)["kind"] == "ASSE 1017"


# The relief valve's settings


def test_european_settings_stand_beside_the_american_one():
    europe = {one.pressure.to("bar").magnitude for one in relief_settings("Europe") if one.pressure is not None}
    assert europe == {6, 7, 8, 10}
    table = str(fill_purge_and_hand_over.relief_table())
    assert "10.3 bar (150 psi)" in table and "99 °C (210 °F at most)" in table and "90 to 95 °C" in table
    assert table.count("\n") == len(relief_settings()) + 1
