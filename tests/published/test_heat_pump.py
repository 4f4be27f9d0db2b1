"""Topic 13: heat pump and loop against Carnot and calculations by hand.

No maker's map stands behind it: the model is a teaching approximation. Carnot's ratio and sums by hand are exact; the
trade's round constants are cold water's, 1.2 % from water at 50 degC, hence 2 %.
"""

import numpy as np
import pytest

from lessons_lib import Q_
from lessons_lib.physics import heat_pump as physics
from lessons_lib.plant.heat_pump import heat_pump_cop, loop_flow, loop_loss, loop_stored_heat, store_cost

BY_HAND = "T_cond/(T_cond - T_evap), computed by hand"
CARNOT = [  # store, outdoor [degC], ideal
    (55, 7, 333.15 / 61),
    (60, -5, 338.15 / 78),
    (49, -5, 327.15 / 67),
    (35, 7, 313.15 / 41),
    (55, -15, 333.15 / 83),
    (60, 20, 338.15 / 53),
]
every_case = pytest.mark.parametrize(
    "store, outdoor, ideal", CARNOT, ids=[f"{row[0]} from {row[1]} degC" for row in CARNOT]
)


@every_case
def test_ideal(agree, store, outdoor, ideal):
    found = heat_pump_cop(Q_(float(store), "degC"), Q_(float(outdoor), "degC"))
    agree(found.ideal, ideal, BY_HAND, relative=1e-9)


@every_case
def test_share_of_the_ideal(agree, store, outdoor, ideal):
    found = heat_pump_cop(Q_(float(store), "degC"), Q_(float(outdoor), "degC"), share_of_carnot=0.45)
    agree(found.cop, 0.45 * ideal, f"0.45 times {BY_HAND}", relative=1e-9)


@every_case
def test_the_whole_of_carnot_is_the_bound(store, outdoor, ideal):
    """Never above the ideal between store and air themselves, whatever the share."""
    found = heat_pump_cop(Q_(float(store), "degC"), Q_(float(outdoor), "degC"), share_of_carnot=1, highest=20)
    between_store_and_air = (store + 273.15) / (store - outdoor)
    assert found.cop <= found.ideal * (1 + 1e-12) < between_store_and_air


def test_hotter_store(agree):
    """49 against 60 degC at -5 degC outdoors: an eighth more electricity, whatever the share of Carnot."""
    for share in (0.3, 0.45, 0.6):
        found = store_cost(Q_(-5, "degC"), share_of_carnot=share)
        agree(found.extra_electricity, (327.15 / 67) / (338.15 / 78) - 1, BY_HAND, relative=1e-9)


TRADE = "Btu/h = 500 x gpm x degF, common practice, no source"


@pytest.mark.parametrize("kilowatts, drop", [(6.0, 5.0), (6.0, 8.0), (12.0, 5.0)])
def test_loop_flow(agree, kilowatts, drop):
    """2 %: the trade's 500 is cold water's 8.33 lb/gal; at 50 degC a gallon is 1.2 % lighter."""
    found = loop_flow(Q_(kilowatts, "kW"), Q_(drop, "delta_degC")).to("gpm").magnitude
    agree(found, Q_(kilowatts, "kW").to("Btu/hour").magnitude / (500 * 1.8 * drop), TRADE, relative=0.02)


@pytest.mark.parametrize("litres, warm, air", [(8.0, 55.0, -10.0), (20.0, 45.0, 5.0)])
def test_stored_heat(agree, litres, warm, air):
    """2 %: 1.163 Wh for each litre and kelvin is cold water's. Water stops giving at 0 degC."""
    found = loop_stored_heat(Q_(litres, "L"), Q_(warm, "degC"), Q_(air, "degC")).to("Wh").magnitude
    agree(found, 1.163 * litres * (warm - max(air, 0)), "1.163 Wh/(L K), common practice, no source", relative=0.02)


def test_loop_loss(agree):
    found = loop_loss([Q_(12, "W/m"), Q_(9, "W/m")], [Q_(15, "m"), Q_(15, "m")], Q_(6, "kW"))
    agree(found.power.to("W").magnitude, 315.0, "12 x 15 + 9 x 15, computed by hand", relative=1e-9)
    agree(found.share, 0.0525, "315/6000, computed by hand", relative=1e-9)


def test_without_a_lift_the_cap_stands():
    found = heat_pump_cop(Q_(10, "degC"), Q_(45, "degC"))
    assert found.cop == physics.HIGHEST and found.capped and np.isinf(found.ideal)
