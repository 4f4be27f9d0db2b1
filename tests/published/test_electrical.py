"""Topics 10 and 13: continuous load, voltage drop, bolts of a bracket, wind.

Arithmetic of a rule is exact. Cables 1 %: resistivity and gauge against a code's table printed to three digits, and the
hand rule's round constant. Statics 0.1 %; wind pressure 0.5 % for the round density of air in codes; a printed
percentage to half its last digit; the weight of a filled pipe 3 %, its source's own.
"""

import numpy as np
import pytest

from lessons_lib import Q_, Pipe
from lessons_lib.physics import circuit
from lessons_lib.physics.properties import water
from lessons_lib.plant.bracket import bracket_loads, wind_pressure
from lessons_lib.plant.circuit import breakers, continuous_factor, ground_fault, tape_circuit
from lessons_lib.plant.unit_circuit import heat_pump_circuit
from lessons_lib.storage.tables import rows

QUOTED = "as quoted in secondary literature"
CONTINUOUS = f"NEC 210.19(A)(1), 210.20(A), a space heater's example after 424.3(B), {QUOTED}"
TAPE = "NEC 427.4 with 210.20, computed with arithmetic"
TABLE_8 = f"NEC Chapter 9 Table 8 (75 degC), {QUOTED}"
NOTHING = Q_(0, "A")
STATICS = "statics, T = m g a/(n b), computed with arithmetic"


def kilofeet(cable):
    """Resistance of a cable of data/cables.csv at 75 degC [ohm in 1000 ft]."""
    listed = next(float(row["resistance"]) for row in rows("cables") if row["cable"] == cable)
    return circuit.conductor_resistance(listed / 1000, 75.0) * 304.8


def supply(cable, feet, amps):
    """A circuit that carries so many amps through so many feet of cable (one way)."""
    return heat_pump_circuit(Q_(amps, "A"), NOTHING, Q_(120, "V"), cable=cable, cable_length=Q_(feet, "ft"))


def test_continuous_load_of_heater_and_motor(agree):
    least = circuit.least_rating(40 + 3, continuous_factor("United States"))
    agree(least, 53.75, CONTINUOUS, relative=1e-12)
    found = circuit.next_standard(least, breakers("United States"))
    agree(float(found), 60, f"next standard device, NEC 240.6, {QUOTED}", relative=1e-12)


def test_continuous_load_of_a_heat_tape(agree):
    """60 ft of 5 W/ft on 120 V: 2.5 A, and cable and breaker for 3.125 A."""
    found = tape_circuit(Q_(5, "W/ft"), Q_(60, "ft"), Q_(120, "V"), Q_(15, "A"))
    agree(found.least_rating.magnitude, 3.125, TAPE, relative=1e-12)


def test_longest_tape_on_a_breaker(agree):
    found = tape_circuit(Q_(5, "W/ft"), Q_(60, "ft"), Q_(120, "V"), Q_(15, "A"))
    agree(found.longest_tape.to("ft").magnitude, 288, f"{TAPE}; steady, without the start", relative=1e-12)


@pytest.mark.parametrize("breaker, published", [(15, 12), (20, 16)])
def test_most_that_a_breaker_carries_for_hours(agree, breaker, published):
    agree(
        circuit.continuous_limit(breaker, continuous_factor("United States")),
        published,
        "80 % rule = 1/1.25, computed with arithmetic",
        relative=1e-12,
    )


def test_pipe_heating_counts_125_percent(agree):
    agree(circuit.least_rating(100.0, continuous_factor("United States")), 125, f"NEC 427.4, {QUOTED}", relative=1e-12)


def test_ninety_metres_are_exactly_at_the_limit():
    """90 m x 16 W/m = 1440 W; 1440 W / 120 V = 12 A; 15 A / 1.25 = 12 A."""
    found = tape_circuit(Q_(16, "W/m"), Q_(90, "m"), Q_(120, "V"), Q_(15, "A"))
    assert found.load.magnitude == 12.0 and found.continuous_limit.magnitude == 12.0 and found.room.magnitude == 0.0
    assert found.longest_tape.magnitude == 90.0 and found.next_breaker.magnitude == 15.0


def test_current_of_a_fixed_heater(agree):
    agree(circuit.current(4800.0, 240.0), 20, f"Ohm's law, {QUOTED}", relative=1e-12)


CONDUCTORS = [  # cable, ohm in 1000 ft at 75 degC
    ("14 AWG solid", 3.07),
    ("12 AWG solid", 1.93),
    ("10 AWG solid", 1.21),
    ("16 AWG stranded", 4.99),
    ("6 AWG stranded", 0.491),
]


@pytest.mark.parametrize("cable, published", CONDUCTORS)
def test_resistance_of_conductors(agree, cable, published):
    """1 %: copper's resistivity and gauge against the code's table; strands add 2 % by their lay."""
    agree(kilofeet(cable), published, TABLE_8, relative=0.01)


def test_resistance_of_12_awg_stranded(agree):
    agree(
        kilofeet("12 AWG stranded"), 1.98, "NEC Chapter 9 Table 8, from memory; checked by computation", relative=0.01
    )


VOLTAGE_DROPS = [  # cable, one way [ft], current [A], volts, tolerance, source
    ("12 AWG stranded", 100, 20, 7.90199, 0.01, f"VD = 2 K I L/CM, K = 12.9 ohm cmil/ft, {QUOTED}"),
    ("8 AWG stranded", 100, 20, 3.12538, 0.01, f"VD = 2 K I L/CM, K = 12.9 ohm cmil/ft, 16 510 cmil (3.1 V), {QUOTED}"),
    ("16 AWG stranded", 100, 4, 3.992, 0.005, f"2 L R I with {TABLE_8}"),
    ("12 AWG stranded", 60, 10, 2.376, 0.01, "2 L R I with NEC Chapter 9 Table 8, from memory; checked by computation"),
]


@pytest.mark.parametrize("cable, feet, amps, published, tolerance, source", VOLTAGE_DROPS)
def test_voltage_drop(agree, cable, feet, amps, published, tolerance, source):
    agree(supply(cable, feet, amps).voltage_drop.magnitude, published, source, relative=tolerance)


def test_share_of_the_voltage_drop(agree):
    """8 AWG: 3.1 V of 120 V; 0.05 absolute, half the last printed digit."""
    agree(
        supply("8 AWG stranded", 100, 20).drop_share.to("percent").magnitude,
        2.6,
        f"worked example, {QUOTED}",
        absolute=0.05,
    )


def test_voltage_drop_guidance_travels_with_the_number():
    assert "3 % in the branch, 5 % in all" in supply("12 AWG solid", 60, 10).drop_guidance


@pytest.mark.parametrize(
    "region, first, then",
    [
        ("United States", "5 mA to protect people", "30 mA to protect equipment"),
        ("IEC", "30 mA to protect people", ""),
    ],
)
def test_ground_fault_says_the_region_and_the_stricter_first(region, first, then):
    text = ground_fault(region)
    assert text.startswith(f"{region}: {first}") and text.index(first) <= text.index(then or first)
    assert "ocal code" in text


BRACKETS = [  # mass [kg], arm [m], bolt spacing [m], tension in one of two top bolts [N], shear in one of four [N]
    (50, 0.25, 0.40, 153.229, 122.6),
    (80, 0.30, 0.45, 261.511, 196.1),
]


@pytest.mark.parametrize("mass, arm, spacing, tension, shear", BRACKETS)
def test_bolts_of_a_bracket(agree, mass, arm, spacing, tension, shear):
    found = bracket_loads(Q_(mass, "kg"), Q_(arm, "m"), Q_(spacing, "m"), safety_factor=4, top_bolts=2, bolts=4)
    agree(found.tension.magnitude, tension, STATICS, relative=0.001)
    agree(found.shear.magnitude, shear, STATICS, relative=0.001)


@pytest.mark.parametrize(
    "wind, unit, published, pressure_unit, source",
    [
        (
            100,
            "mph",
            25.6,
            "lbf/ft**2",
            "ASCE 7 velocity-pressure constant 0.00256, from memory; checked by computation",
        ),
        (9, "m/s", 49.7, "Pa", "0.613 V^2, from memory; checked by computation"),
    ],
)
def test_pressure_of_wind(agree, wind, unit, published, pressure_unit, source):
    agree(wind_pressure(Q_(wind, unit)).to(pressure_unit).magnitude, published, source, relative=0.005)


def test_weight_of_a_filled_pipe(agree):
    """What a clip carries: 3/4 in copper L with water, 3 %."""
    pipe = Pipe.nominal("copper L", "3/4 in")
    bore, outside = (np.pi / 4 * diameter**2 for diameter in (pipe.inside_diameter, pipe.outside_diameter))
    weight = (outside - bore) * pipe.density + bore * Q_(float(water(15).density), "kg/m**3")
    agree(weight.to("lb/ft").magnitude, 0.664835, f"ASTM B88 weight and water, {QUOTED}; recomputed", relative=0.03)
