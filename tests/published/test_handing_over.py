"""Topic 21: discharge pipes, joints and mixing valves against rules and ratings as their sources print them.

Tables of rules come back as printed, to rounding; the worked example of Approved Document G3 too. A valve's flow
coefficients are held against their definitions: 0.1 % where units alone count, 0.5 % for the trade's rounded constant.
Two ports at unequal pressures are held against a root that scipy finds: a millionth.
"""

from math import sqrt

import pytest
from scipy.optimize import brentq

from lessons_lib import Q_
from lessons_lib.physics import mixing_valve as physics
from lessons_lib.plant.discharge import NO_GAP, SEEN, SPLASHES, TOO_SMALL, discharge, rule, sizes
from lessons_lib.plant.joints import EN_SIDE, US_SIDE, joint_kind

UK = "United Kingdom"
G3 = "Approved Document G3 (2010), table 3.1, from memory"
TABLE = [  # outlet, size, pipe before the tundish, longest, elbow [m]
    ("1/2 in", "22 mm", "15 mm", 9, 0.8),
    ("1/2 in", "28 mm", "15 mm", 18, 1.0),
    ("1/2 in", "35 mm", "15 mm", 27, 1.4),
    ("3/4 in", "28 mm", "22 mm", 9, 1.0),
    ("3/4 in", "35 mm", "22 mm", 18, 1.4),
    ("3/4 in", "42 mm", "22 mm", 27, 1.7),
    ("1 in", "35 mm", "28 mm", 9, 1.4),
    ("1 in", "42 mm", "28 mm", 18, 1.7),
    ("1 in", "54 mm", "28 mm", 27, 2.3),
]


@pytest.mark.parametrize("outlet, size, first, longest, elbow", TABLE, ids=[f"{row[0]} {row[1]}" for row in TABLE])
def test_table_of_g3(agree, outlet, size, first, longest, elbow):
    (found,) = [one for one in sizes(UK, outlet) if one.size == size]
    assert found.first == first
    agree(found.longest, longest, G3, relative=1e-6)
    agree(found.elbow, elbow, G3, relative=1e-6)


@pytest.mark.parametrize("step, allowed", [(1, 5.8), (2, 14.0)])
def test_worked_example_of_g3(agree, step, allowed):
    """G1/2 outlet, four elbows, 7 m from the tundish: 22 mm is not enough, 28 mm is."""
    found = discharge(UK, "1/2 in", step, Q_(7, "m"), 4, Q_(1, "percent"), Q_(50, "mm"), Q_(300, "mm"))
    agree(found.allowed.magnitude, allowed, "worked example beneath table 3.1 of G3, from memory", relative=1e-6)
    assert found.needed == "28 mm" and (found.size == TOO_SMALL) == (step == 1)


RULES = [
    (UK, "fall", 1 / 200, "Approved Document G3: at least 1 in 200, from memory"),
    (UK, "straight", 0.3, "Approved Document G3: at least 300 mm below the tundish, from memory"),
    (UK, "high", 0.1, "Approved Document G3: up to 100 mm above a surface, from memory"),
    ("United States", "high", 6 * 0.0254, "IPC 504.6: not more than 6 in, as quoted in secondary literature"),
    ("United States", "low_sizes", 2, "IPC 504.6: twice the pipe's diameter, as quoted in secondary literature"),
    ("Europe", "low", 0.02, "EN 1717: an air gap of at least 20 mm, from memory"),
    ("Europe", "high", 0.04, "DIN 1988-200: 20 to 40 mm, from memory"),
]


@pytest.mark.parametrize("region, name, published, source", RULES, ids=[f"{row[0]} {row[1]}" for row in RULES])
def test_rules_as_printed(agree, region, name, published, source):
    agree(getattr(rule(region), name), published, source, relative=1e-6)


@pytest.mark.parametrize("inches, word", [(1, NO_GAP), (1.5, SEEN), (6, SEEN), (6.25, SPLASHES)])
def test_gap_of_a_three_quarter_inch_pipe(inches, word):
    found = discharge("United States", "3/4 in", 0, Q_(2, "m"), 1, Q_(1, "percent"), Q_(inches, "in"), Q_(0, "mm"))
    assert found.end == word


RATINGS = [  # joint, side, its standard, temperature, unit, pressure, unit
    ("crimp", US_SIDE, "ASTM F876", 73, "degF", 160, "psi"),
    ("crimp", US_SIDE, "ASTM F876", 180, "degF", 100, "psi"),
    ("expansion", US_SIDE, "ASTM F876", 200, "degF", 80, "psi"),
    ("cement", US_SIDE, "ASTM D2846", 73, "degF", 400, "psi"),
    ("cement", US_SIDE, "ASTM D2846", 180, "degF", 100, "psi"),
    ("solder", US_SIDE, "tin-antimony, copper tube handbook", 100, "degF", 1090, "psi"),
    ("solder", US_SIDE, "tin-antimony, copper tube handbook", 150, "degF", 625, "psi"),
    ("solder", US_SIDE, "tin-antimony, copper tube handbook", 200, "degF", 505, "psi"),
    ("press", US_SIDE, "ASME B16.51", 180, "degF", 200, "psi"),
    ("compression", EN_SIDE, "EN 1254-2", 30, "degC", 16, "bar"),
    ("compression", EN_SIDE, "EN 1254-2", 65, "degC", 10, "bar"),
    ("press", EN_SIDE, "EN 1254-7", 95, "degC", 16, "bar"),
    ("push", EN_SIDE, "BS 7291, class S", 83, "degC", 6, "bar"),
]


@pytest.mark.parametrize("joint, side, standard, warm, degrees, pressure, unit", RATINGS)
def test_ratings(agree, joint, side, standard, warm, degrees, pressure, unit):
    found = joint_kind(joint).limit(Q_(float(warm), degrees), side).to(unit).magnitude
    agree(found, pressure, f"{standard}, from memory", relative=1e-3)


@pytest.mark.parametrize("kv", [0.6, 1.0, 2.5])
def test_kv(agree, kv):
    """Kv is the flow in m3/h at a drop of 1 bar (EN 60534-1, from memory)."""
    flow = kv / 3600
    found = 5e5 - physics.outlet_pressure(0.4, flow, 5e5, 5e5, flow)
    agree(found, 1e5, "definition of Kv, EN 60534-1, from memory", relative=1e-3)


@pytest.mark.parametrize("cv", [1.0, 3.0])
def test_cv(agree, cv):
    """Cv is the flow in US gpm at a drop of 1 psi, and Kv = 0.865 Cv."""
    passes = 0.865 * cv / 3600
    found = 5e5 - physics.outlet_pressure(0.5, cv * 3.785411784e-3 / 60, 5e5, 5e5, passes)
    agree(found, 6894.757, "definition of Cv with Kv = 0.865 Cv, makers' sheets, from memory", relative=5e-3)


@pytest.mark.parametrize("share, flow, hot, cold", [(0.6, 8, 200, 400), (0.3, 12, 450, 150), (0.5, 6, 300, 100)])
def test_two_ports_at_unequal_pressures(agree, share, flow, hot, cold):
    """Both ports' areas are the whole: h Q/sqrt(ph - p) + (1 - h) Q/sqrt(pc - p) = K, solved by scipy."""
    passes, litres = 25.0, float(flow)

    def whole(outlet: float) -> float:
        return share * litres / sqrt((hot - outlet) / 100) + (1 - share) * litres / sqrt((cold - outlet) / 100) - passes

    published = brentq(whole, min(hot, cold) - 100 * (litres / passes) ** 2 - 1, min(hot, cold) - 1e-6)
    found = physics.outlet_pressure(share, litres / 6e4, 1e3 * hot, 1e3 * cold, passes / 6e4) / 1e3
    agree(found, published, "two orifices in parallel, computed with scipy", relative=1e-6)
