"""Hammer: the pressure that runs through a pipe when its flowing water is stopped, and the air cushion that softens it.

Without friction, for a pipe that is clipped so that it can't lengthen. All arguments broadcast. SI, pressures [Pa].
"""

import numpy as np

from .tank import ATMOSPHERE

HALVINGS = 60  # of the interval in which the squeezed air lies
SQUEEZED_MOST = 1e6  # times: the end of that interval
AIR = 1.4  # [-] ratio of air's heat capacities: a shock is too quick for its air to give off heat


def give_of_bore(inside, outside, elastic_modulus, poisson):
    """Gives by how much of itself a bore's area grows for each pascal inside, in a pipe that can't lengthen [1/Pa].

    inside, outside [m], elastic_modulus [Pa], poisson [-]
    Lame's thick wall in plane strain: with k = outside/inside, 2 (1 + nu)/E (k^2 + 1 - 2 nu)/(k^2 - 1). It is D/(E e)
    times c1 = 2 e (1 + nu)/D + D (1 - nu^2)/(D + e) for thick walls (Wylie and Streeter, Fluid Transients in Systems,
    from memory). Thin wall: D/(E e) (1 - nu^2).
    """
    square = np.square(np.divide(outside, inside))
    return 2 * (1 + poisson) / elastic_modulus * (square + 1 - 2 * poisson) / (square - 1)


def wave_speed(density, compressibility, give):
    """Speed of a pressure wave in the water of a pipe [m/s]: 1/sqrt(density (compressibility + give)); Korteweg 1878.

    density [kg/m3], compressibility of water [1/Pa], give of the bore [1/Pa], 0 in a rigid pipe
    """
    return 1 / np.sqrt(density * np.add(compressibility, give))


def sudden_rise(density, wave, speed):
    """Gives the rise of pressure where water is stopped at once [Pa]: density times wave times speed; Joukowsky 1898.

    wave : speed of the pressure wave [m/s]; speed : of the water before [m/s]
    """
    return density * np.multiply(wave, speed)


def there_and_back(length, wave):
    """Seconds in which the wave runs to the main and back, 2 L/a; what shuts faster than that shuts at once."""
    return 2 * np.divide(length, wave)


def rise(density, wave, speed, length, seconds, pressure):
    """Gives the rise of pressure at a tap that shuts evenly in so many seconds [Pa].

    length : of the pipe from the main to the tap [m]; pressure : behind the shut tap, above the air's [Pa]
    Shut within 2 L/a: Joukowsky. Slower: the larger of two rules, and never more than Joukowsky. Michaud's 2 density L
    v/t has the water slowing down evenly. Allievi's has the opening shrinking evenly, p (n^2/2 + n sqrt(1 + n^2/4))
    with n = density L v/(p t): where little pressure drives the water it keeps its speed to the last (Michaud 1878,
    Allievi 1902, from memory).
    """
    most = sudden_rise(density, wave, speed)
    slow = np.maximum(seconds, 1e-9)
    even = density * np.multiply(length, speed) / slow
    share = even / pressure
    opening = pressure * (share**2 / 2 + share * np.sqrt(1 + share**2 / 4))
    gradual = np.minimum(np.maximum(2 * even, opening), most)
    return np.where(np.asarray(seconds) <= there_and_back(length, wave), most, gradual)


def cushioned_rise(density, area, length, speed, pressure, air):
    """Gives the rise of pressure where an air cushion at the tap stops the water [Pa]; inf without air.

    area : of the bore [m2]; pressure : of main and cushion at rest, above the air's [Pa]; air : its volume at rest [m3]
    The water's energy and the main's push go into squeezing the air: with p the absolute pressure, V its volume,
    x = V/V_squeezed and g = 1.4, density area L v^2/2 = p V ((x^(g - 1) - 1)/(g - 1) - 1 + 1/x); then the pressure
    is p x^g. The water moves as one piece, so it holds where the rise is far below Joukowsky's.
    """
    start = np.add(pressure, ATMOSPHERE)
    energy = 0.5 * density * np.multiply(area, length) * np.square(speed)
    held = np.asarray(air) > 0
    share = energy / (start * np.where(held, air, 1.0))
    low, high = np.zeros_like(share), np.full_like(share, np.log(SQUEEZED_MOST))
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        short = np.expm1((AIR - 1) * middle) / (AIR - 1) + np.expm1(-middle) < share
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.where(held, start * np.expm1(AIR * high), np.inf)
