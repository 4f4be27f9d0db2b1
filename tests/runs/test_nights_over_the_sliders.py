"""Nights at 60 settings from all over the sliders against scipy's solve_ivp: ice, tape, pump, power cuts, every stored step.

The lump's heat is followed by LSODA with losses of tests/second_path.py, and with weather that changes at each moment.
"""

from bisect import bisect
from functools import cache
from math import log1p

import numpy as np
import pytest
import second_path
from scipy.integrate import solve_ivp

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, Tape, Weather, night
from lessons_lib.runs.insulation import materials
from lessons_lib.runs.pipe import families, sizes

PIPES = [(family, size) for family in families() for size in sizes(family)]
KINDS = ("nothing", "tape", "pump", "thermostat")
HOURS = 10


class Setting:
    """A run in a night, with a tape, a pump or neither, with a power cut or without."""

    def __init__(self, seed):
        rng = np.random.default_rng(seed)
        self.kind = KINDS[seed % 4]
        cover = Insulation(str(rng.choice(materials())), Q_(rng.uniform(6, 40), "mm"))
        pipe = Pipe.nominal(*PIPES[rng.integers(len(PIPES))])
        self.run = Run(pipe, Q_(rng.uniform(5, 30), "m"), cover, Surroundings(Q_(0, "degC")))
        low = rng.uniform(-30, 0)
        self.weather = Weather.day_and_night(
            Q_(low, "degC"), Q_(low + rng.uniform(1, 20), "degC"), Q_(HOURS, "h"), Q_(rng.uniform(0.5, 8), "m/s")
        )
        self.start = rng.uniform(2, 60)
        power, warm = rng.uniform(8, 25), rng.uniform(30, 60)
        points = (Q_(0, "degC"), Q_(power, "W/m")), (Q_(warm, "degC"), Q_(0, "W/m"))
        self.most, self.warm, self.hold = power, warm, rng.uniform(3, 20) if self.kind == "thermostat" else np.inf
        thermostat = Q_(self.hold, "degC") if self.kind == "thermostat" else None
        self.taped = self.kind in ("tape", "thermostat")
        self.tape = Tape.self_regulating(*points, thermostat=thermostat) if self.taped else None
        self.pump = rng.uniform(30, 60) if self.kind == "pump" else None
        self.cut = (2.0, 6.0) if self.pump or rng.random() < 0.6 else None

    def night(self, minutes):
        off = self.cut and tuple(Q_(hour, "h") for hour in self.cut)
        pump = None if self.pump is None else Q_(self.pump, "degC")
        return night(self.run, self.weather, Q_(self.start, "degC"), self.tape, pump, off, Q_(minutes, "min"))

    def powered(self, seconds):
        return self.cut is None or not self.cut[0] * 3600 <= seconds < self.cut[1] * 3600


class Second:
    """The same lump, by its heat above water at 0 degC [J/m]."""

    def __init__(self, setting):
        self.setting, run = setting, setting.run
        rows = np.linspace(0, HOURS * 3600, 21)
        air, wind, _ = setting.weather.at(rows)
        # the weather itself, by hand: a day's sine, coldest at two thirds of the night
        low, high = setting.weather.air.magnitude.min(), setting.weather.air.magnitude.max()
        assert low - 1e-9 <= air.min() and air.max() <= high + 1e-9
        self.rows, self.air = rows, air
        cut = second_path.Cut(run, wall=not setting.taped)
        temperatures = np.array([0.0, 3, 6, 12.5, 25, 37.5, 50, 62.5, 75])
        water, outside = np.meshgrid(temperatures, air)
        off = np.where(np.abs(water - outside) < 0.02, 0.02, water - outside)
        self.temperatures = temperatures.tolist()
        self.table = cut.loss(outside + off, outside, np.broadcast_to(wind[:, None], off.shape))[0] / off
        whole = second_path.Cut(run)
        density, heat, *_ = second_path.water(5.0)
        held = lambda of_water: min(  # noqa: E731
            whole.held(5.0, one, whole.loss(5.0, one, w)[1], of_water)
            for one, w in zip(air, wind)
            if abs(one - 5) > 0.5
        )
        self.liquid, self.solid = held(density * heat), held(second_path.ICE_HEAT)
        self.latent = second_path.LATENT_OF_VOLUME * whole.bore

    def state(self, heat):
        share = np.clip(-heat / self.latent, 0, 1)
        return np.maximum(heat, 0) / self.liquid + np.minimum(heat + self.latent, 0) / self.solid, share

    def slope(self, seconds, heat):
        heat = float(heat[0])
        temperature = max(heat, 0) / self.liquid + min(heat + self.latent, 0) / self.solid
        share = min(max(-heat / self.latent, 0), 1)
        at = min(max(temperature, 0.0), 75.0)
        row = min(int(seconds / self.rows[1]), len(self.rows) - 2)
        later, column = seconds / self.rows[1] - row, min(bisect(self.temperatures, at), len(self.temperatures) - 1) - 1
        further = (at - self.temperatures[column]) / (self.temperatures[column + 1] - self.temperatures[column])
        (a, b), (c, d) = self.table[row : row + 2, column : column + 2].tolist()
        outward = (1 - later) * (a + further * (b - a)) + later * (c + further * (d - c))
        if 0 < share < 1:
            outward = 1 / (1 / outward - log1p(-min(share, 0.9999)) / (4 * np.pi * second_path.ICE_CONDUCTIVITY))
        loss = outward * (temperature - (1 - later) * self.air[row] - later * self.air[row + 1])
        gives = 0.0
        if self.setting.taped and self.setting.powered(seconds):
            can = max(self.setting.most * (1 - temperature / self.setting.warm), 0.0)
            gives = can * min(max((self.setting.hold - temperature) / 0.02 + 0.5, 0), 1)
        return [gives - loss]

    def follow(self, times):
        """Temperature and share of ice at times [s], by pieces between the moments at which power goes or comes."""
        moments = [0.0, *(3600 * hour for hour in self.setting.cut or ()), HOURS * 3600.0]
        heat, result = self.liquid * self.setting.start, np.full(len(times), np.nan)
        for begin, end in zip(moments, moments[1:]):
            inside = (times >= begin) & (times <= end)
            if self.setting.pump is not None and self.setting.powered(begin):
                heat = result[inside] = self.liquid * self.setting.pump
                continue
            piece = solve_ivp(
                lambda t, h: self.slope(min(t, end - 1e-6), h), (begin, end), [heat], "LSODA",
                times[inside], rtol=1e-5, atol=0.5, max_step=300,
            )  # fmt: skip
            result[inside], heat = piece.y[0], piece.y[0, -1]
        return self.state(result)


@cache
def compared(seed, minutes):
    """Largest deviation of temperature [K] and of ice [-] over all stored steps."""
    setting = Setting(seed)
    found = setting.night(minutes)
    temperature, share = Second(setting).follow(found.time.to("s").magnitude)
    return np.max(np.abs(temperature - found.water.magnitude)), np.max(np.abs(share - found.ice_share)), found


@pytest.mark.parametrize("seed", range(60))
def test_every_step_of_a_night(seed):
    """In steps of a minute, within what three times the step changes (the method is of first order in the step: twice what
    is left) and 0.1 K or 0.1 % of the bore for the tables read by straight lines. Worst: 0.22 K, 0.3 % of the bore."""
    temperature, share, fine = compared(seed, 1)
    coarse = compared(seed, 3)[2]
    assert temperature < 0.1 + np.max(np.abs(fine.water.magnitude[::3] - coarse.water.magnitude))
    assert share < 0.001 + np.max(np.abs(fine.ice_share[::3] - coarse.ice_share))
    assert temperature < 0.25 and share < 0.004


@pytest.mark.parametrize("seed", [11, 20, 23, 27])
def test_shorter_steps_come_nearer(seed):
    """A third of the step, a third of the deviation, where the deviation is largest."""
    coarse, fine = compared(seed, 3), compared(seed, 1)
    assert fine[0] < 0.4 * coarse[0] and fine[1] < 0.4 * coarse[1]
