"""Tanks, heat pumps and burns: a few values each by hand, at the ends of what is possible and between."""

import numpy as np
import pytest
import second_path

from lessons_lib.physics import heat_pump, scald, tank


@pytest.mark.parametrize(
    "store, outdoor, by_hand",
    [
        (60, 7, 0.45 * 338.15 / 66),  # condenses at 65, evaporates at -1 degC
        (55, -15, 0.45 * 333.15 / 83),
        (35, 30, 5.0),  # 0.45 x 313.15/18 would be 7.8
        (10, 40, 5.0),  # no lift: Carnot has no bound, the cap has
    ],
)
def test_share_of_carnot_and_its_cap(store, outdoor, by_hand):
    """Five kelvin above the store and eight below the air; 45 % of Carnot (1824), at most 5 (common practice, no source)."""
    assert float(heat_pump.cop(store, outdoor)) == pytest.approx(by_hand, rel=1e-6)


def test_where_the_cap_begins():
    """0.45 (s + 278.15)/(s + 13 - a) = 5 at a store of 50 degC: air at 63 - 0.09 x 328.15 = 33.4665 degC."""
    assert float(heat_pump.cop(50, 33.46)) < 5.0 == float(heat_pump.cop(50, 33.47))
    assert float(heat_pump.cop(50, 7, 0.3)) == pytest.approx(0.3 * 328.15 / 56)
    assert float(heat_pump.carnot(20.5, 20.0)) == pytest.approx(293.65 / 0.5), "half a kelvin is a lift"
    assert np.isinf(heat_pump.carnot(20.0, 20.0)) and float(heat_pump.cop(50, 40, highest=3.0)) == 3.0


def test_flow_of_a_loop_and_heat_of_a_store():
    """6 kW at 5 K: 6000/(rho c 5), density where it is measured, heat capacity half way; 200 L from 60 to 40 degC."""
    density, _, *_ = second_path.water(55.0)
    by_hand = 6000 / (density * second_path.water(52.5)[1] * 5)
    assert float(heat_pump.loop_flow(6000, 5, 55.0)) == pytest.approx(by_hand, rel=2e-4)
    wide = 6000 / (second_path.water(80.0)[0] * second_path.water(50.0)[1] * 60)
    assert float(heat_pump.loop_flow(6000, 60, 80.0)) == pytest.approx(wide, rel=2e-4)
    held = 0.2 * second_path.water(60.0)[0] * second_path.water(50.0)[1] * 20
    assert float(heat_pump.stored_heat(0.2, 60.0, 40.0)) == pytest.approx(held, rel=2e-4)


def test_a_tank_by_hand():
    """Mixing: (38 - 10)/(60 - 10) = 0.56. Heating 150 L from 10 to 60 degC; power over it; time; growth; vessel by Boyle."""
    assert tank.hot_share(60.0, 10.0, 38.0) == pytest.approx(0.56)
    cold, hot = second_path.water(10.0), second_path.water(60.0)
    heat = 0.15 * cold[0] * second_path.water(35.0)[1] * 50
    assert float(tank.heat_to_warm(0.15, 10.0, 60.0)) == pytest.approx(heat, rel=2e-4)
    assert float(tank.recovery(3000.0, 10.0, 50.0)) == pytest.approx(3000 / (heat / 0.15), rel=2e-4)
    assert float(tank.reheat_time(heat, 3000.0)) == pytest.approx(heat / 3000)
    assert float(tank.reheat_time(100.0, 0.5)) == 200.0, "half a watt heats too"
    assert float(tank.reheat_time(0.0, 0.0)) == 0.0 and np.isinf(tank.reheat_time(1.0, 0.0))
    assert float(tank.growth_of_water(10.0, 60.0)) == pytest.approx(cold[0] / hot[0] - 1, rel=1e-3)
    # 4 L between 4 and 7 bar, 3 bar before: 4/(3/4 - 3/7) = 12.444 L; and that vessel reaches 7 bar
    volume = tank.vessel_volume(4.0, 3e5, 4e5, 7e5)
    assert volume == pytest.approx(4 / (3 / 4 - 3 / 7))
    assert float(tank.vessel_pressure(volume, 4.0, 3e5, 4e5)) == pytest.approx(7e5)
    assert np.isinf(tank.vessel_pressure(4.0, 3.0, 3e5, 4e5))  # its air is 3 L: none is left


def test_a_trapped_length_by_its_own_sum():
    """Copper 19.94 x 22.225 mm, 117 GPa, 0.34 (from memory): what Lame's rings give, and the rise that squeezes away growth."""
    inside, outside, modulus, poisson = 0.01994, 0.022225, 117e9, 0.34
    k = (outside / inside) ** 2
    hoop, along = (k + 1) / (k - 1), 1 / (k - 1)  # stresses at the bore over the pressure; the radial one is -1
    strains = 2 * (hoop - poisson * (along - 1)) + (along - poisson * (hoop - 1))
    assert tank.give_of_pipe(inside, outside, modulus, poisson) == pytest.approx(strains / modulus, rel=1e-9)
    give, air, pressure = strains / modulus, 0.002, 4e5
    rise = float(tank.trapped_rise(20.0, 10.0, pressure, give, air=air))
    growth = second_path.water(20.0)[0] / second_path.water(30.0)[0] - 1
    squeezed = float(tank.compressibility(30.0) + give) * rise + air * rise / (pressure + rise)
    assert squeezed == pytest.approx(growth, rel=2e-3)


@pytest.mark.parametrize(
    "water, seconds, bound",
    [
        (40.0, 21600, scald.LONGER),  # cooler than every column
        (44.0, 21600, scald.AT),
        (47.0, 1200, scald.AT),
        (46.0, np.sqrt(7200 * 1200), scald.AT),  # half way between two rows: the geometric mean
        (53.0, np.sqrt(120 * 17), scald.AT),
        (60.0, 3, scald.AT),
        (65.5555, 2, scald.AT),
        (75.0, 2, scald.SHORTER),
    ],
)
def test_time_to_burn_at_rows_and_between(water, seconds, bound):
    """Moritz and Henriques (1947) and US CPSC publication 5098, as quoted in secondary literature: the shortest time."""
    found, told, _ = scald.time_to_burn(water)
    assert (told, float(found)) == (bound, pytest.approx(seconds, rel=1e-6))


def test_the_order_of_the_published_columns_says_nothing(monkeypatch):
    """The shortest time, its bound and where it is from are the same for columns that stand the other way round."""
    water = np.linspace(38.0, 72.0, 69)
    seconds, bound, place = scald.time_to_burn(water)
    names = [scald.published()[one][0] for one in place]
    turned = scald.published()[::-1]
    monkeypatch.setattr(scald, "published", lambda: turned)
    again, told, place = scald.time_to_burn(water)
    assert again == pytest.approx(seconds, rel=1e-12) and told.tolist() == bound.tolist()
    assert [turned[one][0] for one in place] == names
