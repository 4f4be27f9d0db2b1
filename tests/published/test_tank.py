"""Topic 12: mixing, expansion, recovery and relief against published figures, and the water behind them.

A rule that divides temperatures is exact; what the density table adds agrees within 0.02 percentage points with the
IAPWS formulation; the trade's round constants are 1 % off by themselves. Mixing with one heat capacity is exact mixing
within the 0.3 K that is promised; properties of water 0.1 %; settings to the rounding of degF.
"""

import numpy as np
import pytest
from iapws import IAPWS95, IAPWS97

from lessons_lib import Q_, Pipe
from lessons_lib.physics import tank as physics
from lessons_lib.physics.properties import KELVIN, water
from lessons_lib.plant.closed_system import expansion, pipe_growth, relief_settings, trapped_pressure_rise, vessel
from lessons_lib.plant.tank import hot_share, recovery, water_at_the_tap
from lessons_lib.runs.bacteria import bacteria_band
from lessons_lib.storage import tables

QUOTED = "as quoted in secondary literature"
DATA_BOOK = f"plumbing technical data book (1961), (M-C)/(H-C), {QUOTED}"
FORMULA = "mixing formula (M-C)/(H-C), computed"
MIXING = [  # mixed, hot, cold [degF], share, tolerance, source
    (140, 180, 40, 0.714286, 0.001, DATA_BOOK),
    (120, 180, 40, 0.571429, 0.005, f"{FORMULA}, inputs {QUOTED}"),
    (110, 180, 50, 0.461538, 0.005, f"{FORMULA}, inputs {QUOTED}"),
    (130, 180, 40, 0.642857, 0.005, f"{FORMULA}, inputs {QUOTED}"),
    (105, 140, 50, 0.611111, 0.005, FORMULA),
    (105, 120, 50, 0.785714, 0.005, FORMULA),
    (110, 140, 40, 0.7, 0.005, FORMULA),
    (120, 150, 60, 0.666667, 0.005, FORMULA),
]
every_mixture = pytest.mark.parametrize(
    "mixed, hot, cold, published, tolerance, source",
    MIXING,
    ids=[f"{row[0]} from {row[1]} and {row[2]} degF" for row in MIXING],
)


@every_mixture
def test_hot_share(agree, mixed, hot, cold, published, tolerance, source):
    share = hot_share(*(Q_(float(value), "degF") for value in (hot, cold, mixed)))
    agree(share, published, source, absolute=tolerance)


@every_mixture
def test_exact_mixing_is_within_0_3_kelvin(agree, mixed, hot, cold, published, tolerance, source):
    """The enthalpies of the same masses, with a second library: equal heat capacity costs less than 0.3 K."""
    warm, chill = (IAPWS97(T=(value - 32) / 1.8 + KELVIN, P=0.3).h for value in (hot, cold))
    mixture = IAPWS97(P=0.3, h=published * warm + (1 - published) * chill)
    agree((mixed - 32) / 1.8, mixture.T - KELVIN, "enthalpy balance, computed with iapws", absolute=0.3)


def test_litres_at_the_tap(agree):
    """150 L at 58 degC with 8 degC cold are 234.4 L at 40 degC, if the whole tank is usable."""
    litres = water_at_the_tap(Q_(150, "L"), Q_(58, "degC"), Q_(8, "degC"), Q_(40, "degC"), usable=1)
    agree(litres.to("L").magnitude, 150 * 50 / 32, "mixing formula, computed by hand", relative=1e-9)


STEAM_TABLE = f"steam tables as printed in plumbing expansion tables, {QUOTED}"


@pytest.mark.parametrize("fahrenheit, published", [(40, 0.01602), (140, 0.01629)])
def test_specific_volume(agree, fahrenheit, published):
    volume = Q_(1 / float(water((fahrenheit - 32) / 1.8).density), "m**3/kg").to("ft**3/lb").magnitude
    agree(volume, published, STEAM_TABLE, relative=1e-3)


EXPANSION = [(40, 140, 1.70641), (50, 120, 1.12985), (60, 140, 1.60917), (40, 120, 1.15723), (90, 140, 1.19622)]


@pytest.mark.parametrize("cold, hot, percent", EXPANSION, ids=[f"{row[0]} to {row[1]} degF" for row in EXPANSION])
def test_expansion(agree, cold, hot, percent):
    grown = expansion(Q_(100, "L"), Q_(float(cold), "degF"), Q_(float(hot), "degF")).to("L").magnitude
    agree(grown, percent, "density ratio, computed with CoolProp 8.0.0", absolute=0.02)
    second = [IAPWS95(T=(value - 32) / 1.8 + KELVIN, P=0.3).rho for value in (cold, hot)]
    agree(grown, 100 * (second[0] / second[1] - 1), "density ratio, computed with iapws", absolute=0.02)


RECOVERY = [
    (4.5, 90, 20.481, "GPH = kW x 3413/(8.33 x rise), handbook arithmetic, computed"),
    (1, 100, 4.09621, "GPH = kW x 3413/(8.33 x rise), handbook arithmetic, computed"),
    (1, 100, 4.1, f"1 kW heats 4.1 gal/h by 100 degF, {QUOTED}"),
]


@pytest.mark.parametrize("kilowatts, rise, published, source", RECOVERY)
def test_recovery(agree, kilowatts, rise, published, source):
    """1 %: 8.33 lb/gal and 8.25 lb/gal are both in print."""
    found = recovery(Q_(float(kilowatts), "kW"), Q_(float(rise), "delta_degF")).to("gal/h").magnitude
    agree(found, published, source, relative=0.01)


@pytest.mark.parametrize("row", tables.rows("water_compressibility"), ids=lambda row: f"{row['temperature']} degC")
def test_compressibility_row(agree, row):
    """Computed with one library, checked with another, 0.1 %."""
    state = IAPWS95(T=float(row["temperature"]) + KELVIN, P=0.3)
    agree(float(row["compressibility"]), state.kappa * 1e-6, "IAPWS-95, computed with iapws", relative=1e-3)


BULLETIN = f"pressure rise of water heated in a closed tank, 4 to 6 psi/degF: manufacturer bulletin, {QUOTED}"


def psi_per_degree(air=0.0):
    found = trapped_pressure_rise(Q_(120.0, "degF"), Q_(1, "delta_degF"), air=air)
    return found.rise.to("psi").magnitude


@pytest.mark.parametrize("published", [4.0, 6.0])
def test_rigid_vessel_without_air_is_the_bound_of_a_real_tank(published):
    """A real tank yields and holds some air. Between 0.1 and 1 % of air is what the bulletin's figure amounts to."""
    assert psi_per_degree() > 10 * published, BULLETIN
    assert psi_per_degree(air=0.001) > published > psi_per_degree(air=0.01), BULLETIN


@pytest.mark.parametrize("start", [10.0, 15.0, 20.0, 40.0, 50.0, 70.0])
def test_ten_kelvin_open_a_relief_valve(start):
    """In copper the rise is above the 1034 kPa at which model codes let a relief valve open."""
    relief = relief_settings("United States")[0].pressure
    trapped = trapped_pressure_rise(Q_(start, "degC"), Q_(10, "delta_degC"), Pipe.nominal("copper L", "3/4 in"))
    assert trapped.rise > relief


@pytest.mark.parametrize("start", [10.0, 40.0, 70.0, 80.0])
def test_rigid_rise_is_the_thermal_pressure_coefficient(agree, start):
    """(dp/dT) at constant volume = expansion over compressibility, computed with iapws. Over 1 K, from row to
    row of the density table, with the state halfway; 1 %: densities of seven digits differ by 2e-4 at 10 degC."""
    state = IAPWS95(T=start + 0.5 + KELVIN, P=0.3)
    found = float(physics.trapped_rise(start, 1.0, 4e5))
    agree(found, state.alfav / (state.kappa * 1e-6), "IAPWS-95, computed with iapws", relative=0.01)


RELIEF = [  # region, device, printed unit, value, source
    ("United States", "temperature and pressure relief valve", "degF", 210, "model plumbing codes, from memory"),
    ("United States", "temperature and pressure relief valve", "psi", 150, "model plumbing codes, from memory"),
    ("Chicago", "energy cut-off", "degF", 200, f"Chicago plumbing code, {QUOTED}"),
    ("Europe", "temperature relief valve", "degC", 95, f"class A of the draft of EN 1490 (2025), {QUOTED}"),
    ("Europe", "safety valve on the cold inlet", "bar", 6, f"a maker's manual, {QUOTED}"),
    ("Europe", "hydraulic safety group", "bar", 7, f"EN 1487 (2014), {QUOTED}"),
    ("United Kingdom", "expansion valve on the cold inlet", "bar", 6, f"a plumbing guide, {QUOTED}"),
    ("United Kingdom", "temperature and pressure relief valve", "bar", 7, "from memory"),
    (
        "United Kingdom",
        "temperature and pressure relief valve",
        "degC",
        95,
        f"a British plumbing textbook (2019), {QUOTED}",
    ),
]


@pytest.mark.parametrize(
    "region, device, unit, published, source", RELIEF, ids=[f"{row[0]}, {row[3]} {row[2]}" for row in RELIEF]
)
def test_relief_setting(agree, region, device, unit, published, source):
    """As printed, within the rounding of the other unit beside it."""
    (found,) = [one for one in relief_settings(region) if one.device == device]
    value = found.pressure if unit in ("psi", "bar") else found.highest
    agree(value.to(unit).magnitude, published, source, absolute=0.1)


@pytest.mark.parametrize("region", ["United States", "Chicago", "Europe", "United Kingdom"])
def test_relief_acts_below_boiling_and_above_storage(region):
    """Water let out below 100 degC does not flash; a store at 60 degC never reaches the setting."""
    for found in (one for one in relief_settings(region) if one.lowest is not None):
        assert 60 < found.lowest.to("degC").magnitude <= found.highest.to("degC").magnitude < 100
        assert bacteria_band(found.lowest).word == "dies in minutes"


GROWTH = [
    ("PEX", 0.15, "from memory"),
    ("copper", 0.0168, "handbook, from memory"),
    ("CPVC", 0.063, "from memory"),
]


@pytest.mark.parametrize("material, published, source", GROWTH)
def test_growth_of_pipe(agree, material, published, source):
    """mm for 1 m and 1 K, beside the arithmetic: 10 m and 50 K are 500 times that."""
    agree(
        pipe_growth(material, Q_(10, "m"), Q_(50, "delta_degC")).to("mm").magnitude,
        500 * published,
        source,
        relative=1e-9,
    )


BOYLE = [  # expanded [L], pre-charge, cold, highest [kPa gauge], vessel [L], by hand
    (3.0, 300, 300, 600, 3.0 / (1 - 401.325 / 701.325)),
    (3.0, 250, 300, 600, 3.0 / (351.325 / 401.325 - 351.325 / 701.325)),
    (1.0, 400, 400, 900, 1.0 / (1 - 501.325 / 1001.325)),
]


@pytest.mark.parametrize("expanded, precharge, cold, highest, published", BOYLE)
def test_vessel(agree, expanded, precharge, cold, highest, published):
    found = vessel(Q_(expanded, "L"), *(Q_(float(value), "kPa") for value in (precharge, highest, cold)))
    agree(
        found.volume.to("L").magnitude, published, "Boyle's law in absolute pressure, computed by hand", relative=1e-9
    )


def test_give_of_a_thin_pipe(agree):
    """Lame's thick wall becomes d/(E t) (5/4 - nu); 1 % at a wall of 1/400 of the diameter."""
    thin = 0.02 / (1e9 * 5e-5) * (1.25 - 0.3)
    agree(
        physics.give_of_pipe(0.02, 0.0201, 1e9, 0.3), thin, "thin-walled closed tube, computed by hand", relative=0.01
    )


def test_arrays_agree_with_single_values():
    starts = np.array([10.0, 30.0, 60.0])
    together = trapped_pressure_rise(Q_(starts, "degC"), Q_(10, "delta_degC")).rise.magnitude
    single = [trapped_pressure_rise(Q_(start, "degC"), Q_(10, "delta_degC")).rise.magnitude for start in starts]
    assert np.allclose(together, single, rtol=1e-12)
