"""Single cases of a run: where two parts meet, limits, and numbers that the docstrings promise."""

from pathlib import Path

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess, time_to_burn
from lessons_lib.lessons.how_hot_at_the_tap import words as how_hot
from lessons_lib.panels import shared_controls as usual
from lessons_lib.physics.convection import no_film
from lessons_lib.physics.delivery import Delivery, along
from lessons_lib.quantities.units import quantity
from lessons_lib.runs.assessment import FREEZES_IN_THE_RUN
from lessons_lib.runs.insulation import NONE
from lessons_lib.runs.pipe import families, sizes

ROOT = Path(__file__).resolve().parents[2]
NAMES = [(family, size) for family in families() for size in sizes(family)]


def test_freezing_of_a_list_of_covers_with_a_bare_share():
    """The bare part is one case where the covered part is many; the part that freezes first decides in each."""
    cover, frost = Insulation("glass fibre", Q_(np.array([10, 30]), "mm")), Surroundings(Q_(-5, "degC"))
    pipe, start = Pipe.nominal("copper L", "1/2 in"), Q_(10, "degC")
    hours = Run(pipe, Q_(5, "m"), cover, frost, bare_share=0.1).freezing(start).hours_to_zero.magnitude
    bare = Run(pipe, Q_(5, "m"), Insulation.none(), frost).freezing(start).hours_to_zero.magnitude
    assert hours == pytest.approx([bare, bare])


def test_water_at_zero_in_warm_air_never_freezes():
    """It warms: no ice at any time, whatever the question."""
    standing = Run(
        Pipe.nominal("copper L", "1/2 in"), Q_(5, "m"), Insulation.none(), Surroundings(Q_(20, "degC"))
    ).freezing(Q_(0, "degC"))
    assert np.isinf(standing.hours_to_solid.magnitude)
    assert np.isinf(standing.hours_to_zero.magnitude)


def test_wall_does_not_help_a_heat_tape():
    """The tape lies on the outside of the wall: a plastic pipe needs what a metal one of the same outside needs."""
    cold, foam = Surroundings(Q_(-15, "degC"), wind=Q_(4, "m/s")), Insulation("elastomeric foam", Q_(13, "mm"))
    powers = [
        Run(Pipe.nominal(family, "3/4 in"), Q_(1, "m"), foam, cold).hold_power().magnitude
        for family in ("CPVC CTS", "copper L")
    ]
    assert powers[0] == pytest.approx(powers[1], rel=1e-6)


def test_standing_and_flowing_water_in_one_list():
    """A flow of 0 in a list stands, and the others flow."""
    run = Run(
        Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), Insulation.none(), Surroundings(Q_(0, "degC"), Q_(5, "m/s"))
    )
    hot, listed = Q_(60, "degC"), Q_(np.array([0.0, 6.0]), "L/min")
    alone = [run.heat_loss(hot).magnitude, run.heat_loss(hot, Q_(6, "L/min")).magnitude]
    assert run.heat_loss(hot, listed).magnitude == pytest.approx(alone, rel=1e-6)
    assert alone[0] > alone[1]


def icy_run(length) -> Run:
    """Bare copper in a gale at -25 degC."""
    gale = Surroundings(Q_(-25, "degC"), wind=Q_(12, "m/s"))
    return Run(Pipe.nominal("copper L", "1/2 in"), Q_(length, "m"), Insulation.none(), gale)


def test_ice_in_the_second_leg_is_measured_from_the_start():
    cold, trickle = Q_(40, "degC"), Q_(0.5, "L/min")
    whole, parts = icy_run(60), Run.series([icy_run(5), icy_run(55)])
    distance = whole.ice_distance(cold, trickle).to("m").magnitude
    assert 5 < distance < 60
    assert parts.ice_distance(cold, trickle).to("m").magnitude == pytest.approx(distance, rel=2e-3)


def test_flowing_water_that_freezes_is_called_so():
    found = assess(icy_run(60), Q_(40, "degC"), Q_(0.5, "L/min"))
    assert found.tap.word == FREEZES_IN_THE_RUN
    assert found.tap.value == Q_(0, "degC") and found.ice_distance < Q_(60, "m")


def test_slow_water_takes_the_cautious_side_of_each_verdict():
    """Where only the film of slow water keeps it from freezing the word is ice; the burn goes by the hottest that can
    arrive."""
    run, supply, flow = icy_run(12), Q_(99, "degC"), Q_(0.5, "L/min")
    found, cold = assess(run, supply, flow), run.deliver(supply, flow, no_film)
    assert found.tap.word == FREEZES_IN_THE_RUN and found.ice_distance.magnitude == cold.ice_distance < 12
    assert found.tap.value == run.delivery_temperature(supply, flow) and found.tap.value > Q_(5, "degC")
    assert found.burn.seconds == time_to_burn(found.tap.value).seconds
    assert "can reach the freezing point" in found.tap.reason and "Slow water" in found.caution
    drawn = along(run.line, 99.0, Delivery(found.tap.value.magnitude, found.ice_distance.magnitude), 12.0)
    assert np.all(np.diff(drawn) <= 0) and drawn[-1] == 0, "the picture freezes where the word says so"


def test_no_film_is_never_warmer_and_matters_only_where_it_is_slow_and_bare():
    """The numbers of the docstring and of lesson 02: bare and slow half the drop and more, under foam little."""
    pipe, around, hot = (
        Pipe.nominal("copper EN 1057", "22 mm"),
        Surroundings(Q_(-10, "degC"), wind=Q_(5, "m/s")),
        Q_(60, "degC"),
    )
    bare, covered = (
        Run(pipe, Q_(20, "m"), cover, around)
        for cover in (Insulation.none(), Insulation("elastomeric foam", Q_(19, "mm")))
    )
    slow = Q_(1, "L/min")
    assert bare.delivery_temperature(hot, slow).magnitude == pytest.approx(23.7, abs=0.05)
    assert bare.deliver(hot, slow, no_film).temperature == pytest.approx(12.9, abs=0.05)
    with_film, without = (
        60 - covered.delivery_temperature(hot, slow).magnitude,
        60 - covered.deliver(hot, slow, no_film).temperature,
    )
    assert 1.01 < without / with_film < 1.035


def test_lesson_02_says_what_slow_water_does():
    """Its page gives both sides of the bare trickle, in both units."""
    cabin = how_hot._cabin("metric", insulation=NONE, flow=how_hot.TRICKLE)
    run = usual.run_of(cabin)
    sides = (
        run.delivery_temperature(cabin["supply"], cabin["flow"]),
        quantity(run.deliver(cabin["supply"], cabin["flow"], no_film).temperature, "degC"),
    )
    page = (ROOT / "workbooks" / "02-how-hot-at-the-tap.ipynb").read_text(encoding="utf-8")
    for side in sides:
        assert f"{side.magnitude:.0f} °C ({side.to('degF').magnitude:.0f} °F)" in page


def test_cooling_follows_the_covered_part_and_freezing_the_bare_one():
    """Standing water does not mix along a run: the curve is the covered part's, the warning the part's that freezes first."""
    pipe, frost, start = Pipe.nominal("copper L", "3/4 in"), Surroundings(Q_(-5, "degC")), Q_(40, "degC")
    cover, duration = Insulation("elastomeric foam", Q_(19, "mm")), Q_(8, "h")
    covered, bare = (Run(pipe, Q_(5, "m"), one, frost) for one in (cover, Insulation.none()))
    mixed = Run(pipe, Q_(5, "m"), cover, frost, bare_share=0.1)
    assert mixed.cooling(start, duration).half_life == covered.cooling(start, duration).half_life
    assert mixed.freezing(start).hours_to_zero == bare.freezing(start).hours_to_zero
    assert bare.freezing(start).hours_to_zero < covered.freezing(start).hours_to_zero


def still_steps(pipe, millimetres, winds) -> np.ndarray:
    """How much more a run loses standing than with a flow near nothing: the laminar film that is neglected.
    Water of 60 degC in air of 0 degC, for each wind [m/s]."""
    cover = Insulation("elastomeric foam", Q_(millimetres, "mm")) if millimetres else Insulation.none()
    run = Run(pipe, Q_(1, "m"), cover, Surroundings(Q_(0, "degC"), wind=Q_(np.array(winds), "m/s")))
    standing, creeping = (run.heat_loss(Q_(60, "degC"), Q_(flow, "L/min")).magnitude for flow in (0, 1e-6))
    return standing / creeping - 1


@pytest.mark.parametrize(
    "millimetres, wind, step",
    [
        (19, 0, 0.030),
        (19, 5, 0.033),
        (9, 0, 0.045),
        (9, 5, 0.054),
        (0, 0, 0.125),
        (0, 5, 0.516),
        (0, 15, 0.924),
    ],
)
def test_step_between_standing_and_creeping_water(millimetres, wind, step):
    """Pinned for 3/4 in type L, to the last digit given."""
    assert still_steps(Pipe.nominal("copper L", "3/4 in"), millimetres, [wind]) == pytest.approx(step, abs=6e-4)


@pytest.mark.parametrize(
    "thicknesses, winds, claimed",
    [
        ((19, 25, 50), (0, 5, 15), 0.06),
        ((9, 13), (0, 5, 15), 0.10),
        ((0,), (0,), 0.25),
        ((0,), (5, 15), 1.60),
    ],
    ids=["19 mm", "9 mm", "bare in still air", "bare in wind"],
)
def test_step_is_as_small_as_the_docstring_says(thicknesses, winds, claimed):
    """Run.heat_loss promises at most 6, 10, 25 and 160 %, over every pipe of the table."""
    cases = [(name, millimetres) for name in NAMES for millimetres in thicknesses]
    steps = {case: np.max(still_steps(Pipe.nominal(*case[0]), case[1], winds)) for case in cases}
    worst = max(steps, key=steps.get)
    assert steps[worst] <= claimed, f"{worst}: {steps[worst]:.1%}"


@pytest.mark.parametrize(
    "jacket, emissivity, least, most",
    [
        (None, 0.44, 4, 6),
        ("bright aluminium", None, 0.5, 2),
    ],
    ids=["dull copper, bare", "foam in bright aluminium"],
)
def test_a_clear_night_cools_below_the_air(jacket, emissivity, least, most):
    """All that the pipe sees 20 K colder than air of 3 degC: dull copper settles 4 to 6 K below the air and can freeze."""
    cover = Insulation("glass fibre", Q_(19, "mm"), jacket=jacket) if jacket else Insulation.none(emissivity)
    night = Surroundings(Q_(3, "degC"), radiant=Q_(-17, "degC"))
    run = Run(Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), cover, night)
    settled = float(run.line.rest())
    assert least < 3 - settled < most
    assert np.isfinite(run.freezing(Q_(8, "degC")).hours_to_zero.magnitude) == (settled < 0)


def test_a_bright_jacket_does_not_shine_into_the_gap():
    """The gap sees the insulation's own inner face: jackets change the outside only."""

    def section(**cover):
        foam = Insulation("elastomeric foam", Q_(19, "mm"), bore=Q_(42, "mm"), **cover)
        return Run(Pipe.nominal("copper EN 1057", "22 mm"), Q_(1, "m"), foam, Surroundings(Q_(0, "degC"))).line.parts[
            0
        ][1]

    plain, bright = section(), section(jacket="bright aluminium")
    assert plain.gap_resistance(60.0) == bright.gap_resistance(60.0) and plain.emissivity != bright.emissivity
