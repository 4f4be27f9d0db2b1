"""Hammer against waves followed step by step (method of characteristics), and an air cushion against its differential equation."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from lessons_lib.physics import hammer
from lessons_lib.physics.tank import ATMOSPHERE

DENSITY = 999.0


def highest(wave, speed, length, seconds, pressure, reaches=60):
    """The highest rise at a valve whose opening shrinks evenly: waves along a pipe without friction, from a steady main.

    Characteristics: H + rho a v is carried with the flow, H - rho a v against it (Wylie and Streeter, chapter 3).
    """
    impedance = DENSITY * wave
    step = length / reaches / wave
    head, moving = np.full(reaches + 1, pressure), np.full(reaches + 1, speed)
    most, now = 0.0, 0.0
    while now < seconds + 4 * length / wave:
        now += step
        plus, minus = head[:-1] + impedance * moving[:-1], head[1:] - impedance * moving[1:]
        new, flow = head.copy(), moving.copy()
        new[1:-1], flow[1:-1] = (plus[:-1] + minus[1:]) / 2, (plus[:-1] - minus[1:]) / (2 * impedance)
        new[0], flow[0] = pressure, (pressure - minus[0]) / impedance
        opening = max(0.0, 1 - now / seconds) * speed / np.sqrt(pressure)
        root = (-opening * impedance + np.sqrt((opening * impedance) ** 2 + 4 * max(plus[-1], 0.0))) / 2
        new[-1], flow[-1] = root**2, opening * root
        if opening == 0:
            new[-1], flow[-1] = plus[-1], 0.0
        head, moving = new, flow
        most = max(most, head[-1] - pressure)
    return most


GRID = [
    (wave, speed, length, periods * 2 * length / wave, pressure)
    for wave in (283.0, 1306.0)
    for speed in (0.3, 1.0, 3.0)
    for length in (5.0, 40.0)
    for periods in (0.5, 1.5, 4.0, 12.0)
    for pressure in (150e3, 400e3, 700e3)
]


@pytest.mark.parametrize("wave, speed, length, seconds, pressure", GRID)
def test_a_closing_tap_against_waves_followed_step_by_step(wave, speed, length, seconds, pressure):
    """Never below what the waves do, and at most twice it: Michaud's rule is the cautious one where closing is slow."""
    found = float(hammer.rise(DENSITY, wave, speed, length, seconds, pressure))
    exact = highest(wave, speed, length, seconds, pressure)
    assert exact * 0.999 <= found <= 2.0 * exact + 1.0


def squeezed(length, bore, speed, pressure, air):
    """The highest rise where a column of water runs against a cushion of air: its equation of motion, solved in small steps."""
    area, start = np.pi / 4 * bore**2, pressure + ATMOSPHERE
    mass = DENSITY * area * length

    def motion(_, state):
        volume, moving = state
        return [-area * moving, (start - start * (air / volume) ** 1.4) * area / mass]

    def stopped(_, state):
        return state[1]

    stopped.terminal = True
    found = solve_ivp(motion, (0, 60), [air, speed], events=stopped, rtol=1e-10, atol=1e-14)
    return start * (air / found.y[0, -1]) ** 1.4 - start


@pytest.mark.parametrize("speed", [0.3, 1.5, 3.0])
@pytest.mark.parametrize("air", [5e-6, 50e-6, 200e-6])
@pytest.mark.parametrize("length, bore, pressure", [(5, 0.0138, 150e3), (20, 0.013, 400e3), (60, 0.02, 800e3)])
def test_an_air_cushion_against_its_equation_of_motion(speed, air, length, bore, pressure):
    area = np.pi / 4 * bore**2
    found = float(hammer.cushioned_rise(DENSITY, area, length, speed, pressure, air))
    assert found == pytest.approx(squeezed(length, bore, speed, pressure, air), rel=1e-5)


def test_no_air_holds_nothing():
    assert hammer.cushioned_rise(DENSITY, 1e-4, 10.0, 1.0, 4e5, 0.0) == np.inf


def test_a_wave_in_copper_by_hand():
    """Bore 13, outside 15 mm, 117 GPa, 0.34: 2 * 1.34/117e9 * (1.3314 + 1 - 0.68)/0.3314 = 1.141e-10 a pascal; 1311 m/s."""
    give = hammer.give_of_bore(13.0, 15.0, 117e9, 0.34)
    assert give == pytest.approx(1.1417e-10, rel=1e-3)
    assert hammer.wave_speed(999.1, 4.678e-10, give) == pytest.approx(1311, rel=2e-3)
    assert hammer.sudden_rise(999.1, 1311, 1.507) == pytest.approx(1.974e6, rel=1e-3)
