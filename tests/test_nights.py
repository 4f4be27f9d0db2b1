"""Nights, power cuts, tape and trickle: limits, energy, agreement with the closed forms, refinement, errors."""

import numpy as np
import pytest

from lessons_lib import (
    Ground, InputError, Insulation, Pipe, Q_, Run, Surroundings, Tape, Weather, bore_over, night, plan, season_energy, settles_at, trickle,
)
from lessons_lib.physics import night as physics

COLD = Q_(8.0, "degC")
TAPE = Tape.self_regulating((Q_(10, "degC"), Q_(12, "W/m")), (Q_(40, "degC"), Q_(0, "W/m")), thermostat=Q_(5, "degC"))


def run_of(foam=19.0, air=-12.0, wind=5.0, pipe=("copper L", "3/4 in"), **more):
    covering = Insulation("elastomeric foam", Q_(foam, "mm"))
    return Run(Pipe.nominal(*pipe), Q_(18, "m"), covering, Surroundings(Q_(air, "degC"), wind=Q_(wind, "m/s")), **more)


def steady(air=-12.0, wind=5.0, hours=14):
    return Weather(Q_(np.arange(hours + 1.0), "h"), Q_(np.full(hours + 1, air), "degC"), Q_(wind, "m/s"))


@pytest.mark.parametrize("pipe", [("copper L", "3/4 in"), ("PEX CTS", "1/2 in")])
@pytest.mark.parametrize("foam", [5.0, 19.0])
def test_steady_frost_is_the_closed_form(pipe, foam):
    """Hours to 0 degC, to 10 %, to half: the stepped night within 1 % (or one step) of the integrals of freezing()."""
    run, step = run_of(foam, pipe=pipe), 1 / 60
    result, closed = night(run, steady(hours=20), COLD), run.freezing(COLD)
    hours = result.time.to("h").magnitude
    assert result.ice_after.magnitude == pytest.approx(closed.hours_to_zero.magnitude, rel=0.01, abs=1.5 * step)
    for share in (0.1, 0.5):
        reached = hours[np.argmax(result.ice_share >= share)]
        assert reached == pytest.approx(closed.hours_to_share(share).magnitude, rel=0.01, abs=1.5 * step)


def test_shorter_steps_change_little():
    weather = Weather.day_and_night(Q_(-12, "degC"), Q_(0, "degC"), wind=Q_(3, "m/s"))
    ice = [night(run_of(), weather, COLD, step=Q_(minutes, "min")).largest_ice_share for minutes in (10, 1, 0.25)]
    assert abs(ice[1] - ice[2]) < 0.005 * ice[2] and abs(ice[0] - ice[2]) < 0.05 * ice[2] and ice[0] != ice[2]


@pytest.mark.parametrize("foam, air", [(0.5, -30.0), (0.5, -12.0), (5.0, -12.0), (19.0, -12.0)])
def test_the_first_ice_hardly_depends_on_the_step(foam, air):
    """It is found within its step: at 10 minutes as in the closed form, within 2 %, though the first takes 3 minutes only."""
    run = run_of(foam, air)
    found = night(run, steady(air), COLD, step=Q_(10, "min")).ice_after.to("h").magnitude
    assert found == pytest.approx(run.freezing(COLD).hours_to_zero.magnitude, rel=0.02)


def test_several_starts_at_once_are_the_single_ones():
    starts = Q_(np.array([0.0, 8.0, 60.0]), "degC")
    together = night(run_of(), steady(), starts, step=Q_(5, "min"))
    assert together.water.shape == (169, 3) and together.ice_after.magnitude[0] == 0
    for number in range(3):
        alone = night(run_of(), steady(), starts[number], step=Q_(5, "min"))
        assert together.ice_after[number] == alone.ice_after
        assert np.all(together.water.magnitude[:, number] == alone.water.magnitude)


def test_heat_is_conserved():
    """Latent and sensible heat that left equal the losses worked out from the recorded states, within 0.5 %."""
    run, weather = run_of(pipe=("copper L", "1/2 in")), steady()
    result = night(run, weather, COLD)
    liquid, solid, latent = physics.capacities(run.line, run.wall_density_heat)
    temperature, share = result.water.magnitude, result.ice_share
    held = liquid * np.maximum(temperature, 0) - latent * share + solid * np.minimum(temperature, 0)
    lost = [
        float(run.line.loss(t, physics.ice_resistance(min(s, physics.MOST_ICE)) if 0 < s < 1 else 0.0)[0]) for t, s in zip(temperature[::10], share[::10])
    ]
    assert held[0] - held[-1] == pytest.approx(np.trapezoid(lost, dx=600.0), rel=0.005)


def test_freezes_and_thaws():
    hours = np.arange(49.0)
    weather = Weather(Q_(hours, "h"), Q_(np.where(hours < 14, -6.0, 6.0), "degC"), Q_(3, "m/s"))
    result = night(run_of(), weather, COLD)
    assert 0.3 < result.largest_ice_share < 1
    assert result.ice_share[-1] == 0 and result.water.magnitude[-1] > 3


def test_solid_ice_cools_on_and_a_mild_night_never_freezes():
    frozen, mild = night(run_of(3.0), steady(-20, 10), COLD), night(run_of(), steady(2.0), COLD)
    assert frozen.largest_ice_share == 1 and frozen.lowest_water.magnitude < -10
    assert mild.largest_ice_share == 0 and np.isinf(mild.ice_after.magnitude) and mild.lowest_water.magnitude > 2


def test_clear_sky_freezes_above_zero():
    """A still pipe under a sky 20 K colder settles kelvins below the air."""
    run = Run(Pipe.nominal("PEX CTS", "3/4 in"), Q_(5, "m"), Insulation.none(), Surroundings(Q_(2, "degC")))
    open_sky = Weather(Q_([0.0, 24.0], "h"), Q_([2.0, 2.0], "degC"), radiant=Q_(-18, "degC"))
    covered = Weather(Q_([0.0, 24.0], "h"), Q_([2.0, 2.0], "degC"))
    assert night(run, open_sky, COLD).largest_ice_share > 0
    assert night(run, covered, COLD).largest_ice_share == 0


def test_tape_holds_and_a_power_cut_undoes_it():
    held = night(run_of(), steady(), COLD, tape=TAPE)
    assert held.lowest_water.magnitude == pytest.approx(5.0, abs=0.1) and held.largest_ice_share == 0
    cut = night(run_of(), steady(), COLD, tape=TAPE, off=(Q_(2, "h"), Q_(12, "h")))
    during = (cut.time.to("h").magnitude >= 2) & (cut.time.to("h").magnitude < 12)
    assert np.all(cut.tape_power.magnitude[during] == 0) and cut.largest_ice_share > 0.1
    assert cut.ice_after.to("h").magnitude > 2


def test_tape_energy_is_the_heat_that_holds():
    """After the first hours the tape gives exactly what the run loses at the thermostat's temperature."""
    result = night(run_of(), steady(hours=40), Q_(5, "degC"), tape=TAPE)
    assert result.tape_power.magnitude[-1] == pytest.approx(run_of().hold_power(Q_(5, "degC")).magnitude, rel=0.01)
    expected = run_of().hold_power(Q_(5, "degC")).magnitude * 18 * 40 / 1000
    assert result.tape_energy.to("kW*hour").magnitude == pytest.approx(expected, rel=0.01)


def test_pump_and_tape_stop_together():
    result = night(run_of(), steady(), COLD, pump=Q_(45, "degC"), off=(Q_(1, "h"), Q_(14.1, "h")))
    hours = result.time.to("h").magnitude
    assert np.all(result.water.magnitude[hours < 1] == pytest.approx(45))
    assert result.water.magnitude[-1] < 1 and result.ice_after.to("h").magnitude > 3


def test_water_begins_to_cool_when_the_pump_stops():
    """Not a step earlier: the cut only shifts the closed form's time, at any step."""
    expected = 2 + run_of().freezing(Q_(45, "degC")).hours_to_zero.magnitude
    for minutes in (1, 10):
        found = night(run_of(), steady(), COLD, pump=Q_(45, "degC"), off=(Q_(2, "h"), Q_(15, "h")), step=Q_(minutes, "min"))
        assert found.ice_after.to("h").magnitude == pytest.approx(expected, rel=0.01)


def test_settling_point_is_where_output_meets_loss():
    for run in (run_of(), run_of(5.0, -20.0, 10.0)):
        at = settles_at(run, TAPE)
        assert TAPE.power(at).magnitude == pytest.approx(float(run.without_wall().loss(at.magnitude)[0]), rel=1e-3)
    warmer = [settles_at(run_of(foam), TAPE).magnitude for foam in (5.0, 10.0, 20.0, 40.0)]
    assert warmer == sorted(warmer)


def test_hold_power_is_at_least_the_heat_loss():
    for pipe in (("PEX CTS", "3/4 in"), ("copper L", "3/4 in")):
        run = run_of(pipe=pipe)
        assert run.hold_power(Q_(4, "degC")).magnitude >= run.heat_loss(Q_(4, "degC")).magnitude
    assert run_of(air=10.0).hold_power(Q_(4, "degC")).magnitude == 0


def test_a_bare_share_needs_tape_like_metres_of_foam():
    """A bare 0.3 m in frosty wind needs as many watts as metres of covered pipe."""
    covered, bare = (Run(Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), insulation, Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s"))).hold_power().magnitude
                     for insulation in (Insulation("elastomeric foam", Q_(19, "mm")), Insulation.none()))
    assert 0.3 * bare > 3 * covered


def test_plan_and_bore():
    result = plan(run_of(), TAPE, margin=0.15, brackets=4, allowance=Q_(0.25, "m"))
    assert result.needed.magnitude == pytest.approx(1.15 * run_of().hold_power().magnitude)
    assert result.tapes == 1 and result.tape_length.magnitude == pytest.approx(19.0)
    weak = Tape.constant(Q_(1.5, "W/m"))
    assert plan(run_of(), weak).tapes == int(np.ceil(1.15 * run_of().hold_power().magnitude / 1.5))
    assert "maker lists" in result.caution and "electrician" in result.caution
    assert bore_over(run_of().pipe, Q_(6, "mm"), Q_(1, "mm")).to("mm").magnitude == pytest.approx(22.225 + 8)


def test_season_energy():
    """A constant frost: power times time; a warm season: nothing."""
    expected = run_of().hold_power().magnitude * 18 * 14 / 1000
    assert season_energy(run_of(), steady()).to("kW*hour").magnitude == pytest.approx(expected, rel=1e-6)
    assert season_energy(run_of(), steady(12.0)).magnitude == 0


def test_trickle_keeps_the_far_end():
    run = run_of()
    flow = trickle(run, COLD, Q_(3, "degC"))
    assert run.delivery_temperature(COLD, flow).magnitude == pytest.approx(3.0, abs=0.01)
    assert trickle(run, COLD, Q_(6, "degC")) > flow
    with pytest.raises(InputError, match="cannot keep"):
        trickle(run, COLD, Q_(9, "degC"))


def test_many_nights_at_once_are_single_nights():
    foams = np.array([5.0, 19.0, 40.0])
    weather = Weather.day_and_night(Q_(-15, "degC"), Q_(-3, "degC"), wind=Q_(4, "m/s"))
    together = night(run_of(foams), weather, COLD, tape=TAPE, off=(Q_(5, "h"), Q_(9, "h")))
    for number, foam in enumerate(foams):
        alone = night(run_of(float(foam)), weather, COLD, tape=TAPE, off=(Q_(5, "h"), Q_(9, "h")))
        np.testing.assert_allclose(together.water.magnitude[:, number], alone.water.magnitude, atol=1e-6)
        np.testing.assert_allclose(together.ice_share[:, number], alone.ice_share, atol=1e-9)


def test_weather_tables(tmp_path):
    file = tmp_path / "frost.csv"
    file.write_text("# invented\nhour,air,wind\n0,-5,2\n1,\"-6,5\",2\n2,-8,3\n")
    assert Weather.from_csv(file).air.magnitude[1] == -6.5
    for rows, words in (
        ("0,-5,2\n2,-6,2\n1,-8,3\n", "row 3 is not later than row 2"),
        ("0,-5,2\n1,-6,2\n2,-6,2\n5,-8,3\n6,-8,3\n", "between row 3 and row 4"),
        ("0,-5,2\n1,,2\n2,-8,3\n", "row 2, column air"),
        ("0,-5,2\n1,cold,2\n", 'row 2, column air: "cold"'),
        ("0,-5,2\n1,-500,2\n", "air temperature"),
        ("", "no rows"),
    ):
        file.write_text(f"hour,air,wind\n{rows}")
        with pytest.raises(InputError, match=words):
            Weather.from_csv(file)


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: night(Run(run_of().pipe, Q_(5, "m"), Insulation.none(), Ground(Q_(5, "degC"), Q_(1, "m"))), steady(), COLD), "buried"),
        (lambda: night(run_of(), "cold", COLD), "Weather is needed"),
        (lambda: night(run_of(), steady(), COLD, tape="warm"), "Tape or None"),
        (lambda: night(run_of(), steady(), Q_(-2, "degC")), "start temperature"),
        (lambda: night(run_of(), steady(), COLD, off=(Q_(5, "h"), Q_(4, "h"))), "not after"),
        (lambda: night(run_of(), steady(), COLD, off=3), "give an interval"),
        (lambda: night(run_of(pipe=("PEX CTS", "1/2 in")), steady(), COLD, tape=Tape.constant(Q_(10, "W/m"), materials=("copper",))), "lists copper, not PEX"),
        (lambda: night(run_of(), steady(), Q_(60, "degC"), tape=Tape.constant(Q_(10, "W/m"), highest_pipe=Q_(50, "degC"))), "reaches 60"),
        (lambda: Tape.self_regulating((Q_(10, "degC"), Q_(5, "W/m")), (Q_(40, "degC"), Q_(9, "W/m"))), "must fall"),
        (lambda: Tape.constant(Q_(0, "W/m")), "tape power"),
        (lambda: plan(run_of(), Tape.self_regulating((Q_(-10, "degC"), Q_(5, "W/m")), (Q_(0, "degC"), Q_(0, "W/m")))), "gives nothing"),
        (lambda: plan(run_of(), TAPE, margin=3), "margin"),
        (lambda: Weather(Q_([0.0], "h"), Q_([1.0], "degC")), "at least two times"),
        (lambda: Weather(Q_([0.0, 1.0], "h"), Q_([1.0, 2.0, 3.0], "degC")), "3 values for 2 times"),
        (lambda: Weather.day_and_night(Q_(5, "degC"), Q_(-5, "degC")), "below the coldest"),
    ],
)
def test_errors(call, words):
    with pytest.raises(InputError, match=words):
        call()
