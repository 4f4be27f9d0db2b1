"""Topic 10: the circuit of an outdoor unit, and what cables carry and lose.

Arithmetic of a rule is exact. Volts lost for each ampere and metre: half of the last printed digit, 2.5 % at worst where
two digits are printed. Conductors 2 %: a code's table to three digits, stranded by another lay.
"""

import numpy as np
import pytest

from lessons_lib import Q_
from lessons_lib.physics import circuit
from lessons_lib.plant.circuit import drop_along
from lessons_lib.plant.unit_circuit import carried, drop_limit, heat_pump_circuit
from lessons_lib.storage.tables import rows

QUOTED = "as quoted in secondary literature"
QUIZ = f"a code quiz of an electrician's magazine on NEC 440.22 and 240.6, {QUOTED}"
MAKER = f"a chiller maker's manual: 125 % of the largest motor and 100 % of all others, {QUOTED}"
BY_HAND = "1.25 × and 1.75 × the compressor and the others, computed with arithmetic"
UNITS = [  # compressor, others [A]; least, and largest standard breaker [A]; source
    (20.0, 2.5, 27.5, 35, QUIZ),
    (40.0, 0.0, 50.0, 70, QUIZ),
    (29.0, 2.5, 38.75, 50, BY_HAND),
    (26.0, 2.5, 35.0, 45, BY_HAND),
    (22.0, 2.5, 30.0, 40, BY_HAND),
    (11.0, 2.5, 16.25, 20, BY_HAND),
    (3.0, 0.5, 4.25, 15, "15 A at least, NEC 440.22(A), from memory"),
]


def unit(compressor, others, region="United States", **more):
    return heat_pump_circuit(Q_(compressor, "A"), Q_(others, "A"), Q_(240, "V"), region=region, **more)


@pytest.mark.parametrize("compressor, others, least, largest, source", UNITS)
def test_least_and_largest_of_a_unit(agree, compressor, others, least, largest, source):
    found = unit(compressor, others)
    agree(found.least_ampacity.magnitude, least, source if source == BY_HAND else MAKER, relative=1e-12)
    agree(found.largest_device.magnitude, largest, source, relative=1e-12)


@pytest.mark.parametrize("load, cable, largest", [(9 + 2, "2.5 mm2", 20), (20, "4 mm2", 25), (30, "6 mm2", 32)])
def test_load_rating_and_cable_where_nothing_is_multiplied(agree, load, cable, largest):
    found = unit(load, 0.0, "IEC", cable=cable, cable_length=Q_(10, "m"))
    source = f"Ib ≤ In ≤ Iz, BS 7671 433.1.1, {QUOTED}; In of IEC 60898-1, from memory"
    agree(found.least_ampacity.magnitude, load, source, relative=1e-12)
    agree(found.largest_device.magnitude, largest, source, relative=1e-12)


PER_AMPERE_AND_METRE = [  # cable, copper [degC], mV, tolerance, source
    ("1.5 mm2", 70, 29, 0.018, "BS 7671 Table 4D2B, from memory"),
    ("2.5 mm2", 70, 18, 0.028, "BS 7671 Table 4D2B, from memory"),
    ("4 mm2", 70, 11, 0.018, "BS 7671 Table 4D2B, from memory"),
    ("6 mm2", 70, 7.3, 0.018, "BS 7671 Table 4D2B, from memory"),
    ("10 mm2", 70, 4.4, 0.018, "BS 7671 Table 4D2B, from memory"),
]


@pytest.mark.parametrize("cable, copper, published, tolerance, source", PER_AMPERE_AND_METRE)
def test_millivolts_for_each_ampere_and_metre(agree, cable, copper, published, tolerance, source):
    """Half of the last printed digit, 0.5 of 18; 1.8 % elsewhere."""
    lost = 1000 * float(drop_along(1.0, cable, Q_(1, "m"), Q_(copper, "degC")))
    agree(lost, published, source, relative=tolerance)


FLEXIBLE = [("4 mm2", 5.09 / 4.61, 13.2), ("6 mm2", 3.39 / 3.08, 8.5), ("10 mm2", 1.95 / 1.83, 5.1)]


@pytest.mark.parametrize("cable, more, published", FLEXIBLE)
def test_flexible_cords_lose_more_by_their_class(agree, cable, more, published):
    """At 90 degC; tinned class 5 over class 2 by IEC 60228 (from memory). 3 %: print of two digits, of wires that lie apart."""
    lost = 1000 * more * float(drop_along(1.0, cable, Q_(1, "m"), Q_(90, "degC")))
    agree(lost, published, f"BS 7671 Table 4F2B at 90 degC, {QUOTED}", relative=0.03)


ANNEX_G = [("2.5 mm2", 20, 11.0), ("4 mm2", 30, 14.0), ("6 mm2", 25, 20.0), ("1.5 mm2", 15, 10.0), ("10 mm2", 40, 32.0)]


@pytest.mark.parametrize("cable, metres, amps", ANNEX_G)
def test_volts_lost_by_the_standards_own_formula(agree, cable, metres, amps):
    """u = 2 rho L I / S with 0.0225 ohm mm2/m, copper in service. 3 %: the standard rounds resistivity, cables their area."""
    area = float(cable.split()[0])
    lost = float(drop_along(amps, cable, Q_(metres, "m"), Q_(75, "degC")))
    source = "IEC 60364-5-52 annex G, 0.0225 ohm mm2/m, from memory; computed with arithmetic"
    agree(lost, 2 * 0.0225 * metres * amps / area, source, relative=0.03)


TABLE_8 = [  # cable, ohm in 1000 ft at 75 degC
    ("14 AWG stranded", 3.14),
    ("10 AWG stranded", 1.24),
    ("8 AWG stranded", 0.778),
]


@pytest.mark.parametrize("cable, published", TABLE_8)
def test_stranded_conductors_of_a_codes_table(agree, cable, published):
    listed = next(float(row["resistance"]) for row in rows("cables") if row["cable"] == cable)
    found = circuit.conductor_resistance(listed / 1000, 75.0) * 304.8
    agree(found, published, "NEC Chapter 9 Table 8 (75 degC), from memory", relative=0.02)


CLASS_2 = [("1.5 mm2", 1.5), ("2.5 mm2", 2.5), ("4 mm2", 4.0), ("6 mm2", 6.0), ("10 mm2", 10.0)]


@pytest.mark.parametrize("cable, area", CLASS_2)
def test_metric_conductors_are_copper_of_their_area(agree, cable, area):
    """IEC 60228's highest resistance leaves 5 to 8 % for lay, tolerance and purity over 17.241 ohm mm2/km (IEC 60028)."""
    listed = next(float(row["resistance"]) for row in rows("cables") if row["cable"] == cable)
    source = "IEC 60028 resistivity over the area, 6.5 % more, computed with arithmetic"
    agree(listed, 1.065 * 17.241 / area, source, relative=0.015)


def test_two_loaded_conductors_carry_more_than_three():
    """A compressor maker's manual quotes method B2 of IEC 60364-5-52 with three: 15, 20, 27, 34 and 46 A, cut down to whole amperes."""
    for cable, three in (("1.5 mm2", 15), ("2.5 mm2", 20), ("4 mm2", 27), ("6 mm2", 34), ("10 mm2", 46)):
        assert 1.08 < carried(cable) / three < 1.16


def test_what_guidance_lets_a_cable_lose(agree):
    agree(drop_limit("United States"), 3, f"NEC 210.19 note, branch circuit, {QUOTED}", relative=1e-12)
    agree(drop_limit("IEC"), 5, "IEC 60364-5-52 Table G.52.1, other than lighting, from memory", relative=1e-12)


def test_a_worked_cable(agree):
    """21.74 A through 40 m; 1.5 %: print warms its four cables by factors from 1.202 to 1.219, 75 degC is 1.216."""
    source = f"a worked example after IEC 60364-5-52, {QUOTED}"
    for cable, published in (("4 mm2", 9.77), ("6 mm2", 6.45)):
        agree(float(drop_along(21.74, cable, Q_(40, "m"), Q_(75, "degC"))), published, source, relative=0.015)


def test_lists_equal_loops():
    compressors = np.array([5.0, 12.0, 30.0])
    found = heat_pump_circuit(
        Q_(compressors, "A"), Q_(2, "A"), Q_(240, "V"), cable="8 AWG stranded", cable_length=Q_(9, "m")
    )
    for place, one in enumerate(compressors):
        single = unit(one, 2.0, cable="8 AWG stranded", cable_length=Q_(9, "m"))
        for name in ("least_ampacity", "largest_device", "next_device", "voltage_drop", "drop_share"):
            assert getattr(found, name).magnitude[place] == getattr(single, name).magnitude
