"""A night whose conductance stands still has closed forms: they hold at any step, for each piece of it is an
exponential."""

import numpy as np
import pytest

from lessons_lib.physics import night
from lessons_lib.physics.freezing import ICE_CONDUCTIVITY

OUTWARD, REST = 0.25, -10.0  # [W/(m K)], [degC]
LUMP = night.Lump(np.array(1500.0), np.array(900.0), np.array(1.1e5))  # [J/(m K)], [J/(m K)], [J/m]


def followed(start, step, count, outward=OUTWARD, **more):
    """The record of `count` steps [s] from `start` [degC]."""
    rows = count + 1
    loss = night.Loss(np.full((len(night.TABLE), rows), outward), np.full(rows, REST))
    return night.march(loss, LUMP, start, step, **more)


@pytest.mark.parametrize("step", [30.0, 600.0, 3600.0])
def test_water_cools_by_the_exponential_and_ice_begins_at_its_second(step):
    """From 8 degC at 0 degC after C/U ln(18/10), though a step be longer than that; to rounding."""
    first = LUMP.liquid / OUTWARD * np.log(18 / 10)
    record = followed(8.0, step, int(7200 / step))
    assert record.first_ice == pytest.approx(first, rel=1e-9)
    seconds = np.arange(len(record.temperature)) * step
    liquid = seconds < first
    expected = REST + 18 * np.exp(-OUTWARD * seconds[liquid] / LUMP.liquid)
    assert record.temperature[liquid] == pytest.approx(expected, rel=1e-9)
    assert np.all(record.temperature[~liquid] == 0) and np.all(np.diff(record.ice_share[~liquid]) > 0)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9])
def test_ice_grows_through_its_own_ring(share):
    """Seconds to a share of the bore, bare in wind (3 W/(m K)): latent heat over 10 K, through the conductance and the
    mean of the ring's resistance up to there, (1 - s) ln(1 - s) + s over 4 pi k s (London and Seban 1943). In steps
    of 5 s, and in two long ones: slices of a twentieth, each by the resistance it begins with, are 0.5 % quick."""
    ring = ((1 - share) * np.log(1 - share) + share) / (4 * np.pi * ICE_CONDUCTIVITY)
    seconds = float(LUMP.latent * (share / 3 + ring) / -REST)
    record = followed(0.0, 5.0, int(seconds / 5) + 20, 3.0)
    found = np.interp(share, record.ice_share, 5.0 * np.arange(len(record.ice_share)))
    assert found == pytest.approx(seconds, rel=2e-3)
    assert followed(0.0, seconds / 2, 2, 3.0).ice_share[2] == pytest.approx(share, rel=7e-3)


def test_solid_ice_cools_on_and_thaws_again():
    """Past solid by ice's own heat capacity; under warmer air it comes back to 0 degC, melts, and warms, no heat lost:
    after equal and opposite distances from rest the water stands where it began."""
    through = LUMP.latent * (1 / OUTWARD + 1 / (4 * np.pi * ICE_CONDUCTIVITY)) / -REST
    record = followed(0.0, 20.0, int(through / 20) + 500)
    solid = int(np.argmax(record.temperature < 0))
    later = np.arange(300) * 20.0
    expected = REST + (record.temperature[solid] - REST) * np.exp(-OUTWARD * later / LUMP.solid)
    assert record.temperature[solid : solid + 300] == pytest.approx(expected, rel=1e-9)
    assert solid * 20 == pytest.approx(float(through), rel=0.002)
    heat = np.array([3.0, 0.0]) * LUMP.liquid
    assert LUMP.state(heat)[0] == pytest.approx([3.0, 0.0])
    temperature, share = LUMP.state(np.array([-0.25 * LUMP.latent, -LUMP.latent - 4 * LUMP.solid]))
    assert temperature == pytest.approx([0.0, -4.0]) and share == pytest.approx([0.25, 1.0])


@pytest.mark.parametrize("step", [60.0, 900.0, 3600.0])
def test_a_tape_whose_output_falls_in_a_straight_line(step):
    """12 W/m at 0 degC, nothing at 40 degC: towards the balance by the sum of both slopes; its mean power is what the
    water gained and what it lost meanwhile."""
    slope = OUTWARD + 12 / 40
    balance, pace = (OUTWARD * REST + 12) / slope, slope / LUMP.liquid
    record = followed(4.0, step, int(14_400 / step), tape=lambda celsius: np.maximum(12 - 0.3 * celsius, 0))
    seconds = np.arange(len(record.temperature)) * step
    assert record.temperature == pytest.approx(balance + (4 - balance) * np.exp(-pace * seconds), rel=1e-9)
    mean = balance + (4 - balance) * -np.diff(np.exp(-pace * seconds)) / (pace * step)
    assert record.tape_power[:-1] == pytest.approx(12 - 0.3 * mean, rel=1e-9)
    assert np.isinf(record.first_ice)


@pytest.mark.parametrize("step", [60.0, 3600.0])
def test_a_thermostat_holds_and_a_cut_lets_go(step):
    """Held at 5 degC by what is lost there; without power from the second hour on it cools by the exponential."""
    count = int(14_400 / step)
    powered = np.arange(count + 1) * step < 7200
    record = followed(5.0, step, count, tape=lambda celsius: 20 + 0 * celsius, thermostat=5.0, powered=powered)
    on = np.flatnonzero(powered)
    assert record.temperature[: on[-1] + 2] == pytest.approx(5.0, rel=1e-9)
    assert record.tape_power[on] == pytest.approx(OUTWARD * 15, rel=1e-9)
    assert np.all(record.tape_power[on[-1] + 1 :] == 0)
    after = np.arange(count + 1 - len(on)) * step
    cools = REST + 15 * np.exp(-OUTWARD * after / LUMP.liquid)
    assert record.temperature[len(on) :] == pytest.approx(np.maximum(cools, 0), abs=1e-9)
    assert record.first_ice == pytest.approx(7200 + LUMP.liquid / OUTWARD * np.log(15 / 10), rel=1e-9)


def test_a_pump_keeps_its_temperature_while_it_has_power():
    """At 30 degC for an hour and to the end of the step that power ends in; then the exponential."""
    powered = np.arange(121) * 60.0 < 3600
    record = followed(8.0, 60.0, 120, pump=30.0, powered=powered)
    assert np.all(record.temperature[:61] == pytest.approx(30.0)) and np.all(record.tape_power == 0)
    after = np.arange(60) * 60.0
    assert record.temperature[61:] == pytest.approx(REST + 40 * np.exp(-OUTWARD * (after + 60) / LUMP.liquid), rel=1e-9)
