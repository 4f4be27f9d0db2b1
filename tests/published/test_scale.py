"""Topic 15: calcite's equilibrium in water, its constants against published ones, and the conductivity of scale.

Constants to 0.006 in the logarithm: the tables print two digits, and a laboratory knows them to 0.02. The solver of this
workbook against another one of the same equations 0.2 %, far more than rounding and far less than what chemistry leaves
open. Handbooks' solubilities differ by 10 % and more. Units of hardness to their printed digits.
"""

import numpy as np
import pytest
from calcite_by_scipy import CACO3, scale, under_gas

from lessons_lib.physics import scale as physics
from lessons_lib.plant.scale import layer, one

ABSTRACT = "Plummer and Busenberg 1982, abstract: at 25 degC"
TABLE = "Standard Methods 2330, table of pK against temperature (from memory)"


@pytest.mark.parametrize(
    "name, published, absolute",
    [("calcite", -8.480, 0.001), ("bicarbonate_pair", 1.11, 0.006), ("carbonate_pair", 3.22, 0.006)],
)
def test_constants_at_25_degrees(agree, name, published, absolute):
    agree(float(np.log10(getattr(physics.equilibria(25.0), name))), published, ABSTRACT, absolute=absolute)


@pytest.mark.parametrize(
    "celsius, second, calcite, water",
    [
        (5, 10.55, 8.39, 14.73),
        (10, 10.49, 8.41, 14.53),
        (15, 10.43, 8.43, 14.34),
        (20, 10.38, 8.45, 14.17),
        (25, 10.33, 8.48, 13.99),
        (30, 10.29, 8.51, 13.83),
        (45, 10.20, 8.62, 13.40),
        (60, 10.14, 8.76, 13.02),
    ],
)
def test_constants_against_temperature(agree, celsius, second, calcite, water):
    """The table's pKw differs by up to 0.02 from edition to edition."""
    at = physics.equilibria(float(celsius))
    agree(-float(np.log10(at.second)), second, TABLE, absolute=0.006)
    agree(-float(np.log10(at.calcite)), calcite, TABLE, absolute=0.006)
    agree(-float(np.log10(at.water)), water, TABLE, absolute=0.02)


@pytest.mark.parametrize("hardness", [40, 50, 75, 100, 150, 200, 300, 450])
@pytest.mark.parametrize("cold, hot", [(10, 40), (10, 50), (10, 60), (10, 75), (5, 60), (20, 60)])
def test_against_another_solver(agree, hardness, cold, hot):
    """All unknowns at once by scipy; below 0.1 mg/L a difference of two large numbers is not asked for."""
    expected = scale(hardness, cold, hot)
    assert expected > 0.1
    agree(float(physics.comes_down(hardness, cold, hot)), expected, "computed with scipy", relative=0.002)


@pytest.mark.parametrize("hot", [40, 60, 75])
def test_very_soft_water_holds_all_it_has(hot):
    """At 30 mg/L hydroxide carries so much of the charge that hot water could take up a little more."""
    assert -1 < scale(30, 10, hot) < 0
    assert float(physics.comes_down(30, 10, hot)) == 0


def test_calcite_alone_in_water(agree):
    """14 mg/L is the handbook's solubility of calcite in water without CO2 at 25 degC."""
    at = physics.equilibria(25.0)
    high = 10.0
    low = 9.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if physics.saturated(middle, at)[1] > 0 else (low, middle)
    agree(
        CACO3 * float(physics.saturated(low, at)[0]), 14.0, "CRC Handbook: 1.4 mg in 100 g (from memory)", relative=0.15
    )
    agree(low, 9.9, "calcite in water without CO2, textbooks on water chemistry (from memory)", absolute=0.1)


def test_calcite_under_carbon_dioxide(agree):
    """The constants behind the model, in the other solver, give what textbooks have for calcite under the air's CO2."""
    source = "mmol/kg at 25 degC under 10^-3.5 atm, textbooks on water chemistry (from memory)"
    agree(under_gas(10**-3.5, 25.0), 0.50, source, relative=0.05)


@pytest.mark.parametrize("hardness, langelier", [(100, 7.90), (200, 7.35), (300, 7.03)])
def test_saturation_ph(agree, hardness, langelier):
    """pHs = pK2 - pKs + pCa + pAlk + 5 pfm at 10 degC, worked by hand with the table's constants; ion pairs add 0.02."""
    at, low, high = physics.equilibria(10.0), 6.0, 9.5
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if CACO3 * physics.saturated(middle, at)[0] > hardness else (low, middle)
    calcium = hardness / CACO3
    root = np.sqrt(3 * calcium)
    by_hand = 10.49 - 8.41 - np.log10(calcium) - np.log10(2 * calcium) + 5 * 0.498 * (root / (1 + root) - 0.9 * calcium)
    assert by_hand == pytest.approx(langelier, abs=0.02)
    agree(low, by_hand, "Langelier's index as in Standard Methods 2330 (from memory)", absolute=0.05)


@pytest.mark.parametrize(
    "unit, published", [("°dH", 17.8), ("°f", 10.0), ("°e", 14.3), ("gr/gal", 17.1), ("mmol/L", 100.1)]
)
def test_units_of_hardness(agree, unit, published):
    agree(one(unit).magnitude, published, "handbooks of water treatment (from memory)", absolute=0.06)


@pytest.mark.parametrize(
    "unit, computed",
    [
        ("°dH", 10 * 100.087 / 56.077),
        ("°e", 64.79891 / 4.54609),
        ("gr/gal", 64.79891 / 3.785411784),
    ],
)
def test_units_of_hardness_from_their_definition(agree, unit, computed):
    agree(one(unit).magnitude, computed, "computed from the definition", absolute=0.0006)


def test_conductivity_of_scale(agree):
    """Between a deposit's printed 2.19 and a crystal's 3.59 W/(m K)."""
    agree(layer().conductivity, 2.19, "calcium carbonate, handbook tables on fouling (from memory)", relative=0.01)
    agree(layer("calcite crystal").conductivity, 3.59, "Clauser and Huenges 1995 (from memory)", relative=0.01)
    agree(layer().density, 2711.0, "calcite, handbooks of minerals (from memory)", relative=0.001)


def test_step_across_a_layer(agree):
    """A textbook's plane wall: 10 kW/m2 through 1 mm of 2 W/(m K) is 5 K."""
    agree(float(physics.warmer(10_000.0, 1.0, 0.001, 2.0)), 5.0, "Fourier's law, computed by hand", relative=1e-9)
    agree(float(physics.layer(2.71, 1.0, 2710.0)), 0.001, "computed by hand", relative=1e-9)
