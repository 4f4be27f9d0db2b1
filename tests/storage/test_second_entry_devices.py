"""Cables, relief valves, discharge pipes, arrestors, ratings, metals, scale, burns: each number is said a second time.

By arithmetic where there is one (gauges, units, molar masses); else typed again from the source that the row names.
"""

import numpy as np
import pytest
from second_entry import agrees, cells

from lessons_lib.storage import tables

PSI = 6.894757  # kPa


def test_gauges_by_their_formula():
    """ASTM B258: 0.127 mm times 92^((36 - n)/39) across; 17.241 ohm mm2/km (IEC 60028); strands 2 % more."""
    for row in tables.rows("cables"):
        gauge, awg, kind = (row["cable"].split() + ["", ""])[:3]
        if awg == "AWG":
            across = 0.127 * 92 ** ((36 - int(gauge)) / 39)
            ohms = 17.241 / (np.pi / 4 * across**2) * (1.02 if kind == "stranded" else 1)
            assert row.number("resistance") == pytest.approx(ohms, rel=1e-3), row["cable"]


def test_what_cables_carry_and_resist_typed_again():
    """A: NEC Table 310.16 at 60 degC and IEC 60364-5-52 Table B.52.2, method B2 (from memory)."""
    found = cells("cables", ("cable",), ("carries",))
    american = {16: None, 14: 15, 12: 20, 10: 30, 8: 40, 6: 55}
    metric = {"1.5": 16.5, "2.5": 23, "4": 30, "6": 38, "10": 52}
    for (cable,), (carries,) in found.items():
        size, unit = cable.split()[:2]
        assert carries == (american[int(size)] if unit == "AWG" else metric[size]), cable
    resists = cells("cables", ("cable",), ("resistance",))
    for area, ohms in {"1.5": 12.1, "2.5": 7.41, "4": 4.61, "6": 3.08, "10": 1.83}.items():  # IEC 60228
        assert resists[f"{area} mm2",] == (ohms,)


def test_relief_settings_in_both_units():
    """degF of degC, psi of kPa, to the last printed digit."""
    for row in tables.rows("relief_settings"):
        for end in ("low", "high"):
            if row[f"{end}_degC"]:
                assert round(row.number(f"{end}_degC") * 1.8 + 32) == row.number(f"{end}_degF"), row["device"]
        if row["kPa"]:
            assert round(row.number("kPa") / PSI) == row.number("psi"), row["device"]


def test_relief_settings_typed_again():
    """degF, degF and psi in America; elsewhere bar: EN 1487, 1489 and 1490, and what is sold (from memory)."""
    agrees(
        "relief_settings",
        "region device",
        "low_degF high_degF psi",
        """
        United States; temperature and pressure relief valve | 210 210 150
        Chicago; energy cut-off | 200 200 -
        Europe; temperature relief valve | 194 203 -
        Europe; safety valve on the cold inlet | - - 87
        Europe; hydraulic safety group | - - 102
        Europe; safety valve on the cold inlet, store of 8 bar | - - 116
        Europe; safety valve on the cold inlet, store of 10 bar | - - 145
        Europe; temperature and pressure relief valve, 7 bar | 194 203 102
        Europe; temperature and pressure relief valve, 10 bar | 194 203 145
        United Kingdom; expansion valve on the cold inlet | - - 87
        United Kingdom; temperature and pressure relief valve | 194 203 102
        """,
    )


def test_code_limits_in_both_units_and_typed_again():
    """degF as each source prints it, in the table's order."""
    rows = tables.rows("code_limits")
    printed = (120, 110, 120, 110, 118, 111, 106, 122, 113, 140, 122, 140, 113)
    assert tuple(row.number("degF") for row in rows) == printed
    for row in rows:
        assert row.number("degC") == pytest.approx((row.number("degF") - 32) / 1.8, abs=0.25), row["where"]


@pytest.mark.parametrize(
    "column, times",
    [
        ("partial", {44: 6 * 3600, 45: 2 * 3600, 47: 20 * 60, 48: 15 * 60, 49: 8 * 60, 51: 2 * 60, 55: 17, 60: 3}),
        ("full", {45: 3 * 3600, 47: 45 * 60, 48: 20 * 60, 49: 10 * 60, 51: 4.2 * 60, 55: 30, 60: 5}),
    ],
)
def test_times_to_burn_in_hours_and_minutes(column, times):
    """Moritz and Henriques (1947), typed again as minutes and hours."""
    rows = [row for row in tables.rows("burn_times") if row["column"] == f"Moritz and Henriques 1947, {column}"]
    assert {row.number("temperature"): row.number("seconds") for row in rows} == pytest.approx(times)


def test_the_leaflets_times_in_its_own_unit():
    rows = [row for row in tables.rows("burn_times") if row["column"].startswith("US CPSC")]
    found = [(row.number("temperature") * 1.8 + 32, row.number("seconds")) for row in rows]
    expected = ((120, 5 * 60), (49 * 1.8 + 32, 5 * 60), (130, 30), (150, 2))
    assert np.allclose(found, expected, rtol=0, atol=0.001)


def test_discharge_pipes_typed_again():
    """Approved Document G3's table 3.1 goes up by 9 m a size; Germany's 2 m and 2 elbows, 4 m and 3; America's labels
    30 ft and 4 elbows (from memory)."""
    elbow = {"22 mm": 0.8, "28 mm": 1.0, "35 mm": 1.4, "42 mm": 1.7, "54 mm": 2.3}
    british = ("15 mm", "22 mm", "28 mm", "35 mm", "42 mm", "54 mm")
    american = ("1/2 in", "3/4 in", "1 in", "1 1/4 in")
    for row in tables.rows("discharge_sizes"):
        step, at = row.whole("step"), american.index(row["outlet"])
        said = tuple(row[name] and row.number(name) for name in ("longest", "elbow", "most_elbows"))
        if row["region"] == "United Kingdom":
            assert (row["first"], row["size"]) == (british[at], british[at + step])
            assert said == (9 * step, elbow[row["size"]], "")
        elif row["region"] == "Europe":
            assert row["size"] == british[at + step] and said == ((2, 0, 2), (4, 0, 3))[step]
        else:
            assert row["size"] == american[at + step] and said == (pytest.approx(30 * 0.3048), 0, 4)
    assert len(tables.rows("discharge_sizes")) == 9 + 6 + 6
    agrees(
        "discharge_rules",
        "region",
        "fall straight low low_sizes high",
        "United States | 0.001 0 - 2 152.4\nUnited Kingdom | 0.005 300 0 - 100\nEurope | 0.001 0 20 - 40",
    )


def test_arrestors_pressure_tests_and_mixing_valves_typed_again():
    """PDI-WH 201; the codes' 50 psi and 15 minutes, EN 806-4, the United Kingdom's guidance; bar of EN 1111, EN 1287,
    TMV2, TMV3 (from memory)."""
    spans = "A | 1 11\nB | 12 32\nC | 33 60\nD | 61 113\nE | 114 154\nF | 155 330"
    agrees("hammer_arrestors", "size", "least most", spans)
    found = cells("pressure_tests", ("region",), ("factor", "least_air", "metal", "plastic"))
    assert found["United States",] == (1, pytest.approx(50 * PSI, rel=1e-3), 15, 15)
    assert found["Europe",] == (1.1, None, 10, 60) and found["United Kingdom",] == (1.5, None, 60, 60)
    agrees(
        "mixing_valves",
        "class",
        "low high",
        "ASSE 1070 | - -\nASSE 1016 | - -\nASSE 1017 | - -\nEN 1111 | 0.5 5\nEN 1287 | 0.1 1\nEN 15092 | - -\n"
        "TMV2 | 0.5 5\nTMV3 | 1 5",
        in_units=100,
    )


def test_ratings_of_plastic_pipe_by_their_factors():
    """Psi. CPVC: 400 psi times the derating 1, 1, 0.91, 0.82, 0.65, 0.50, 0.40, 0.25 of pipe makers (from memory), to
    5 psi; and typed again."""
    rows = [(row["pipe"][:4], row.number("degF"), row.number("psi")) for row in tables.rows("plastic_ratings")]
    factors = {73: 1, 80: 1, 90: 0.91, 100: 0.82, 120: 0.65, 140: 0.5, 160: 0.4, 180: 0.25}
    cpvc = {degrees: psi for pipe, degrees, psi in rows if pipe == "CPVC"}
    assert cpvc == {degrees: pytest.approx(400 * factor, abs=5) for degrees, factor in factors.items()}
    assert list(cpvc.values()) == [400, 400, 360, 325, 260, 200, 160, 100]
    assert [one[1:] for one in rows if one[0] != "CPVC"] == [(73, 160), (180, 100), (200, 80)]
    assert [row["kPa"] for row in tables.rows("plastic_pipes")] == ["", "", "1000", "1000", "1000", "1000", "800"]


def test_application_classes_typed_again():
    """ISO 10508: degC, years, degC, years, degC, hours."""
    agrees(
        "application_classes",
        "class",
        "steady steady_years for_a_year years as_a_fault hours",
        "1 | 60 49 80 1 95 100\n2 | 70 49 80 1 95 100\n4 | 60 25 70 2.5 100 100\n5 | 80 10 90 1 100 100",
    )


def test_units_of_hardness_by_molar_masses():
    """CaO 40.078 + 15.999, CaCO3 40.078 + 12.011 + 3 x 15.999 g/mol (IUPAC); a grain is 64.799 mg."""
    lime, carbonate = 40.078 + 15.999, 40.078 + 12.011 + 3 * 15.999
    found = {row["unit"]: row.number("mg_per_L") for row in tables.rows("hardness")}
    expected = {"°dH": 10 * carbonate / lime, "°f": 10, "°e": 64.79891 / 4.54609, "gr/gal": 64.79891 / 3.785412}
    expected |= {"mmol/L": carbonate}
    for unit, value in expected.items():
        assert found[unit] == pytest.approx(value, rel=1e-4), unit


def test_scale_ice_skin_and_metals_typed_again():
    agrees("scale", "layer", "conductivity density", "dense scale | 2.2 2710\ncalcite crystal | 3.6 2710")
    agrees("ice", "property", "value", "conductivity | 2.22\ndensity | 917\nlatent_heat | 333430")
    agrees(
        "skin",
        "property",
        "value",
        "depth | 80e-6\nconductivity | 0.37\ndensity_heat | 3.6e6\nstart | 34\nfilm | 1000\ndamage_rate | 3.1e98\n"
        "damage_temperature | 75e3",
    )
    agrees(
        "metals",
        "material",
        "potential",
        "stainless steel | -0.08\ncopper | -0.36\nbrass | -0.4\nsteel | -0.61\naluminium | -0.79\n"
        "galvanised steel | -1.03\nplastic | -",
    )
    found = {row["fact"]: row["value"] for row in tables.rows("metals_together") if row["value"]}
    assert found == {"alike": "0.15", "copper dose": "0.1", "zinc turns": "60", "lead in the US": "0.25"}


def test_legionella_bands_typed_again():
    """degC, in the table's order: the bands join; what each source says; minutes for a tenfold."""
    rows = tables.rows("bacteria_bands")
    found = {
        kind: [tuple(row[name] and row.number(name) for name in ("low", "high")) for row in rows if row["kind"] == kind]
        for kind in ("band", "growth", "store", "return", "tap", "cold")
    }
    edges = (0, 20, 25, 45, 50, 60, 100)
    assert found["band"] == list(zip(edges, edges[1:], strict=False))
    assert found["growth"] == [(25, 45), (32, 42), (20, 43), (25, 45), (20, ""), (50, "")]
    assert found["store"] == [(60, "")] * 6 and found["cold"] == [("", 20)] * 2
    assert [low for low, _ in found["return"]] == [50, 50, 55, 55, 51, 48.9]
    assert [low for low, _ in found["tap"]] == [50, 55, 50]
    last = [tuple(row.number(name) for name in ("low", "minutes_low", "minutes_high")) for row in rows[-3:]]
    assert last == [(55, 17.6, 90), (60, 2, 8), (66, 0.15, 0.5)]


def test_classes_of_plastic_pipe_are_those_of_their_names():
    """'PE-X, class 2, 10 bar': class and pressure stand in the name too."""
    for row in tables.rows("plastic_pipes"):
        if row["kind"] == "class":
            assert row["pipe"].endswith(f"class {row['class']}, {row.number('kPa') / 100:g} bar")


def test_circuits_typed_again():
    """NEC 240.6 and IEC 60898-1's ratings [A]; NEC 210.19, 440.22, 440.32; mA and % of both sides (from memory)."""
    found = {(row["region"], row["kind"]): [] for row in tables.rows("circuits")}
    for row in tables.rows("circuits"):
        found[row["region"], row["kind"]] += row["value"].split()
    american = [*range(15, 55, 5), *range(60, 110, 10)]
    assert [int(one) for one in found["United States", "breaker"]] == american
    iec = [6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100]
    assert [int(one) for one in found["IEC", "breaker"]] == iec
    expected = {"continuous": "1.25", "compressor": "1.25", "largest device": "1.75", "voltage drop": "3"}
    assert {kind: found["United States", kind] for kind in expected} == {k: [v] for k, v in expected.items()}
    expected = {"continuous": "1", "compressor": "1", "voltage drop": "5", "ground fault": "30"}
    assert {kind: found["IEC", kind] for kind in expected} == {k: [v] for k, v in expected.items()}
    assert found["United States", "ground fault"] == ["5", "30"]
    assert found["United States", "unit ground fault"] == ["5"] and found["IEC", "unit ground fault"] == ["30"]
