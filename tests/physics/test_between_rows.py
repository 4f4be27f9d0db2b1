"""Tables read between their rows: by straight lines, as scipy's interpolators read them, over the whole range and at
its ends."""

import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator, interp1d

from lessons_lib.physics.glycol import glycol
from lessons_lib.physics.properties import Water, air, temperature_at_viscosity, water
from lessons_lib.physics.return_cop import co2_cycle
from lessons_lib.storage.tables import columns


def straight(name, *wanted):
    """scipy's straight lines through columns of a table over its first."""
    table = columns(name)
    return interp1d(table["temperature"], np.array([table[one] for one in wanted]), assume_sorted=True)


def test_water_and_air_between_rows():
    """At 2000 places each; of air viscosity and Prandtl number are made from its columns row by row before they are
    read."""
    rng = np.random.default_rng(1)
    at = np.r_[0.0, rng.uniform(0, 100, 2000), 99.999, 100.0]
    np.testing.assert_allclose(water(at), straight("water", *Water._fields)(at), rtol=1e-12)
    at, table = np.r_[-70.0, rng.uniform(-70, 110, 2000), 110.0], columns("air")
    rows = (
        table["conductivity"],
        table["viscosity"] / table["density"],
        table["viscosity"] * table["heat_capacity"] / table["conductivity"],
    )
    np.testing.assert_allclose(air(at), interp1d(table["temperature"], np.array(rows))(at), rtol=1e-12)


def test_temperature_at_a_viscosity_undoes_the_table():
    """There and back at 2000 temperatures; thicker and thinner than the table's ends: the ends."""
    at = np.r_[0.0, np.random.default_rng(2).uniform(0, 100, 2000), 100.0]
    assert temperature_at_viscosity(water(at).viscosity) == pytest.approx(at, abs=1e-9)
    assert temperature_at_viscosity([0.01, 1e-5]) == pytest.approx([0.0, 100.0])


def test_glycol_between_rows_and_beyond():
    """By share and temperature at once, at 300 places, some beyond the table: there its nearest end."""
    table, rng = columns("glycol"), np.random.default_rng(3)
    shares, temperatures = np.unique(table["share"]) / 100, np.unique(table["temperature"])
    values = np.stack([table[name].reshape(len(shares), -1) for name in Water._fields], axis=-1)
    read = RegularGridInterpolator((shares, temperatures), values)
    for share, temperature in zip(rng.uniform(0.15, 0.55, 300), rng.uniform(-5, 95, 300)):
        inside = np.clip(share, 0.2, 0.5), np.clip(temperature, 0, 90)
        assert np.array(glycol(share, temperature)) == pytest.approx(read(inside).ravel(), rel=1e-12)


def test_carbon_dioxide_cycle_between_rows_and_beyond():
    """By store, evaporating and returning temperature at once; beyond the table its nearest end."""
    table, rng = columns("co2_cycle"), np.random.default_rng(4)
    axes = [np.unique(table[name]) for name in ("store", "evaporating", "back")]
    read = RegularGridInterpolator(axes, table["cop"].reshape([len(axis) for axis in axes]))
    for _ in range(300):
        given = [rng.uniform(axis[0] - 3, axis[-1] + 3) for axis in axes]
        inside = [np.clip(value, axis[0], axis[-1]) for value, axis in zip(given, axes)]
        assert co2_cycle(given[0], given[2], given[1]) == pytest.approx(read(inside)[0], rel=1e-12)
