"""Circuits and brackets: hand calculations, laws, cautions that travel, what cannot be."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError
from lessons_lib.physics import bracket, circuit
from lessons_lib.plant.bracket import bracket_loads, wind_pressure
from lessons_lib.plant.circuit import ground_fault, tape_circuit
from lessons_lib.plant.unit_circuit import heat_pump_circuit

steady = settings(max_examples=100, deadline=None, derandomize=True)
POWER, LENGTH, VOLTS, BREAKER = Q_(16, "W/m"), Q_(90, "m"), Q_(120, "V"), Q_(15, "A")
PUMP = Q_(12, "A"), Q_(2.5, "A"), Q_(240, "V")
UNIT = Q_(50, "kg"), Q_(0.25, "m"), Q_(0.4, "m")


def supplied(**cable):
    """The tape of the first test behind a supply cable."""
    return tape_circuit(POWER, LENGTH, VOLTS, BREAKER, **cable)


# --- circuits -------------------------------------------------------------------------------------------------------


def test_ninety_metres_sit_exactly_at_the_limit():
    """16 x 90 = 1440 W; / 120 V = 12 A; 80 % of 15 A = 12 A: nothing to spare, though "3 A" seem to be."""
    found = tape_circuit(POWER, LENGTH, VOLTS, BREAKER)
    assert (found.load.magnitude, found.continuous_limit.magnitude, found.room.magnitude) == (12.0, 12.0, 0.0)
    assert found.least_rating.magnitude == 15.0 == found.next_breaker.magnitude


def test_one_metre_more_is_over():
    found = tape_circuit(POWER, Q_(91, "m"), VOLTS, BREAKER)
    assert found.room.magnitude == pytest.approx(-16 / 120) and found.next_breaker.magnitude == 20


def test_voltage_drop_by_hand():
    """12 AWG solid at 75 degC: 5.211 x (1 + 0.00393 x 55) = 6.3373 ohm/km; 2 x 6.3373e-3 x 20 x 12 = 3.0419 V, 2.535 % of 120 V."""
    found = supplied(cable="12 AWG solid", cable_length=Q_(20, "m"))
    assert found.voltage_drop.magnitude == pytest.approx(3.0419, rel=1e-4)
    assert found.drop_share.magnitude == pytest.approx(2.535, rel=1e-3)


def test_a_cold_cable_drops_less():
    """At 20 degC the listed figure stands: 2 x 5.211e-3 x 20 x 12 = 2.5013 V."""
    found = supplied(cable="12 AWG solid", cable_length=Q_(20, "m"), conductor=Q_(20, "degC"))
    assert found.voltage_drop.magnitude == pytest.approx(2.5013, rel=1e-4)


def test_a_metric_circuit():
    """230 V, 16 A device: 16 A for hours; 25 W/m: 147.2 m; 40 m draw 4.348 A, next 6 A; 100 m draw 10.870 A, next 13 A."""
    found = tape_circuit(Q_(25, "W/m"), Q_(40, "m"), Q_(230, "V"), Q_(16, "A"), region="IEC")
    assert found.continuous_limit.magnitude == pytest.approx(16) and found.longest_tape.magnitude == pytest.approx(
        147.2
    )
    assert found.load.magnitude == pytest.approx(4.3478, rel=1e-4) and found.next_breaker.magnitude == 6
    assert found.ground_fault.startswith("IEC: 30 mA to protect people")
    assert (
        tape_circuit(Q_(25, "W/m"), Q_(100, "m"), Q_(230, "V"), Q_(16, "A"), region="IEC").next_breaker.magnitude == 13
    )


def test_each_region_has_its_own_rule_for_a_load_of_hours():
    """NEC 427.4 with 210.20(A): 125 %. BS 7671 433.1.1: load, rating, cable, each no more than the next (as quoted in secondary literature)."""
    here, there = (tape_circuit(POWER, LENGTH, VOLTS, BREAKER, region=region) for region in ("United States", "IEC"))
    assert here.least_rating == 1.25 * here.load and here.continuous_limit == here.breaker / 1.25
    assert there.least_rating == there.load and there.continuous_limit == there.breaker
    assert (
        "427.4" in here.caution
        and "422.13" in here.caution
        and "125 %" in here.caution
        and "BS 7671" not in here.caution
    )
    assert "BS 7671 433.1.1" in there.caution and "125 %" not in there.caution and "NEC 427.4" not in there.caution
    pump = heat_pump_circuit(*PUMP)
    assert "NEC 440.32" in pump.caution and "424.3" not in pump.caution + here.caution


def test_no_device_is_called_the_stricter_one():
    """A device for people may trip by itself on a long tape, and then the pipe is without heat."""
    told = ground_fault("United States")
    assert "stricter" not in told and "code and the maker name" in told and "silent power cut" in told


def test_what_was_not_asked_is_not_there():
    found = tape_circuit(POWER, LENGTH, VOLTS, BREAKER)
    assert found.voltage_drop is None and found.drop_share is None and "voltage drop" not in str(found)


def test_numbers_and_cautions_but_no_verdict():
    tape, pump = tape_circuit(POWER, LENGTH, VOLTS, BREAKER), heat_pump_circuit(*PUMP)
    for found in (tape, pump):
        assert "do not say that it is safe" in found.caution and "electrician" in found.caution
        assert "ocal code" in found.caution and "United States: 5 mA" in found.ground_fault
        assert not hasattr(found, "word")
    assert "maker lists together" in tape.caution and "silent power cut" in tape.caution
    assert "nameplate" in pump.caution


def test_a_load_too_large_for_any_breaker():
    found = tape_circuit(Q_(100, "W/m"), Q_(200, "m"), VOLTS, BREAKER)
    assert np.isinf(found.next_breaker.magnitude) and found.room.magnitude < 0


def test_lists_equal_loops():
    lengths = np.array([[10.0, 90.0], [50.0, 120.0]])
    found = tape_circuit(POWER, Q_(lengths, "m"), VOLTS, BREAKER, cable="14 AWG solid", cable_length=Q_(10, "m"))
    for place in np.ndindex(lengths.shape):
        single = tape_circuit(
            POWER, Q_(lengths[place], "m"), VOLTS, BREAKER, cable="14 AWG solid", cable_length=Q_(10, "m")
        )
        for name in ("load", "room", "next_breaker", "voltage_drop", "drop_share"):
            assert getattr(found, name).magnitude[place] == getattr(single, name).magnitude


@steady
@given(
    st.floats(1, 60),
    st.floats(1, 200),
    st.sampled_from([120.0, 230.0, 240.0]),
    st.sampled_from([15.0, 16.0, 20.0, 30.0]),
)
def test_laws_of_a_tape_circuit(power, length, volts, rating):
    found = tape_circuit(Q_(power, "W/m"), Q_(length, "m"), Q_(volts, "V"), Q_(rating, "A"))
    longest = found.longest_tape.magnitude
    assert (length <= longest * (1 + 1e-12)) == (found.room.magnitude >= -1e-9)
    at_limit = tape_circuit(Q_(power, "W/m"), found.longest_tape, Q_(volts, "V"), Q_(rating, "A"))
    assert at_limit.room.magnitude == pytest.approx(0, abs=1e-9)
    assert found.next_breaker.magnitude >= found.least_rating.magnitude * (1 - 1e-9)


def test_next_standard_rating():
    ladder = np.array([15.0, 20.0, 25.0])
    assert circuit.next_standard(np.array([1, 15, 15 * (1 + 1e-14), 15.1, 25, 26]), ladder).tolist() == [
        15,
        15,
        15,
        20,
        25,
        np.inf,
    ]


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: tape_circuit(16, LENGTH, VOLTS, BREAKER), "tape power: 16 carries no unit"),
        (lambda: tape_circuit(Q_(16, "W"), LENGTH, VOLTS, BREAKER), "is not a tape power"),
        (lambda: tape_circuit(Q_(0, "W/m"), LENGTH, VOLTS, BREAKER), "possible is above 0"),
        (lambda: tape_circuit(POWER, Q_(0, "m"), VOLTS, BREAKER), "length: 0 m was given"),
        (lambda: tape_circuit(POWER, LENGTH, Q_(5, "V"), BREAKER), "supply voltage: 5 V was given"),
        (lambda: tape_circuit(POWER, LENGTH, VOLTS, Q_(0, "A")), "breaker: 0 A was given"),
        (lambda: tape_circuit(POWER, LENGTH, VOLTS, Q_(15, "V")), "is not a breaker"),
        (
            lambda: tape_circuit(POWER, LENGTH, VOLTS, BREAKER, region="Atlantis"),
            'is not known; choose from "United States", "IEC"',
        ),
        (lambda: supplied(cable="12 AWG solid"), "give both the cable and its length"),
        (lambda: supplied(cable_length=Q_(5, "m")), "give both the cable and its length"),
        (lambda: supplied(cable="12 AWG", cable_length=Q_(5, "m")), '"12 AWG solid"'),
        (lambda: supplied(cable="12 AWG solid", cable_length=Q_(0, "m")), "cable length: 0 m was given"),
        (
            lambda: supplied(cable="12 AWG solid", cable_length=Q_(5, "m"), conductor=Q_(200, "degC")),
            "conductor temperature",
        ),
        (lambda: tape_circuit(POWER, Q_(np.ones(2), "m"), Q_(np.full(3, 120.0), "V"), BREAKER), "do not fit together"),
        (lambda: ground_fault("Europe"), "region"),
    ],
)
def test_circuits_that_cannot_be(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)


# --- brackets -------------------------------------------------------------------------------------------------------


def test_bracket_by_hand():
    """50 kg: 490.33 N; x 0.25 m = 122.58 N m; / (2 x 0.4 m) = 153.23 N; 490.33/4 = 122.58 N; times 4: 1961.3, 612.9, 490.3 N."""
    found = bracket_loads(*UNIT, safety_factor=4)
    plain = found.load, found.moment, found.tension, found.shear
    assert [value.magnitude for value in plain] == pytest.approx([490.33, 122.58, 153.23, 122.58], rel=1e-4)
    factored = found.factored_load, found.factored_tension, found.factored_shear
    assert [value.magnitude for value in factored] == pytest.approx([1961.3, 612.9, 490.3], rel=1e-3)


def test_snow_counts_as_mass():
    with_snow = bracket_loads(*UNIT, safety_factor=2, extra=Q_(20, "kg"))
    heavier = bracket_loads(Q_(70, "kg"), *UNIT[1:], safety_factor=2)
    assert with_snow.tension == heavier.tension and with_snow.shear == heavier.shear


@steady
@given(st.floats(5, 300), st.floats(0.05, 1), st.floats(0.1, 1), st.integers(1, 6), st.floats(1.1, 10))
def test_laws_of_a_bracket(mass, arm, spacing, upper, factor):
    """The pulls hold the moment; twice the arm is twice the pull, twice the spacing half of it; shear knows neither."""
    call = dict(safety_factor=factor, top_bolts=upper, bolts=2 * upper)
    found = bracket_loads(Q_(mass, "kg"), Q_(arm, "m"), Q_(spacing, "m"), **call)
    assert found.tension.magnitude * upper * spacing == pytest.approx(found.moment.magnitude)
    assert found.shear.magnitude * 2 * upper == pytest.approx(mass * bracket.GRAVITY)
    assert found.factored_tension.magnitude == pytest.approx(factor * found.tension.magnitude)
    longer = bracket_loads(Q_(mass, "kg"), Q_(2 * arm, "m"), Q_(spacing, "m"), **call)
    taller = bracket_loads(Q_(mass, "kg"), Q_(arm, "m"), Q_(2 * spacing, "m"), **call)
    assert longer.tension.magnitude == pytest.approx(2 * found.tension.magnitude)
    assert taller.tension.magnitude == pytest.approx(0.5 * found.tension.magnitude)
    assert longer.shear.magnitude == pytest.approx(found.shear.magnitude)


def test_bracket_in_us_units_and_lists():
    found = bracket_loads(Q_(np.array([110.231, 176.37]), "lb"), UNIT[1].to("in"), UNIT[2].to("in"), safety_factor=3)
    assert found.tension.to("N").magnitude == pytest.approx([153.23, 245.17], rel=1e-4)


def test_bracket_caution_defers():
    caution = bracket_loads(*UNIT, safety_factor=4).caution
    for word in ("pull-out", "THAT wall", "wind", "snow", "vibration", "no word on whether it holds", "Local code"):
        assert word in caution


def test_wind_grows_with_the_square():
    """0.5 x 1.225 x 30^2 = 551.25 Pa."""
    assert wind_pressure(Q_(30, "m/s")).magnitude == pytest.approx(551.25)
    assert wind_pressure(Q_(60, "m/s")).magnitude == pytest.approx(4 * 551.25)
    assert wind_pressure(Q_(0, "mph")).magnitude == 0


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: bracket_loads(50, *UNIT[1:], safety_factor=4), "mass of the unit: 50 carries no unit"),
        (lambda: bracket_loads(Q_(490, "N"), *UNIT[1:], safety_factor=4), "is not a mass"),
        (lambda: bracket_loads(UNIT[0], Q_(0, "m"), UNIT[2], safety_factor=4), "arm: 0 m was given"),
        (lambda: bracket_loads(*UNIT[:2], Q_(0, "mm"), safety_factor=4), "bolt spacing: 0 mm was given"),
        (
            lambda: bracket_loads(*UNIT, safety_factor=1),
            "safety factor: 1 was given; possible is a plain number above 1",
        ),
        (lambda: bracket_loads(*UNIT, safety_factor=Q_(4, "kg")), "safety factor"),
        (lambda: bracket_loads(*UNIT, safety_factor=None), "safety factor: None was given"),
        (
            lambda: bracket_loads(*UNIT, safety_factor=4, top_bolts=0),
            "top bolts: 0 was given; possible is a whole number, 1 or more",
        ),
        (lambda: bracket_loads(*UNIT, safety_factor=4, top_bolts=2.5), "top bolts: 2.5 was given"),
        (lambda: bracket_loads(*UNIT, safety_factor=4, top_bolts=6), "6 upper bolts were given of 4 in all"),
        (lambda: bracket_loads(*UNIT, safety_factor=4, extra=Q_(-5, "kg")), "extra mass: -5 kg was given"),
        (
            lambda: bracket_loads(Q_(np.ones(2), "kg"), Q_(np.ones(3), "m"), UNIT[2], safety_factor=4),
            "do not fit together",
        ),
        (lambda: wind_pressure(Q_(-1, "m/s")), "wind: -1 m/s was given"),
        (lambda: wind_pressure(30), "wind: 30 carries no unit"),
    ],
)
def test_brackets_that_cannot_be(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)


def test_a_safety_factor_must_be_given():
    with pytest.raises(TypeError):
        bracket_loads(*UNIT)
