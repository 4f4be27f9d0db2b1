"""A closed pipe under test pressure: what its gauge does when the water warms or cools, and when some of it leaks out.

Temperatures [degC], pressures [Pa] absolute, volumes as shares of what the pipe holds at the start.
"""

from math import sqrt

from .properties import KELVIN
from .tank import ATMOSPHERE, compressibility, growth_of_water

STEPS = 60  # of a course; a test compares them with ten times as many
SMALL = 1e-7  # share of the volume, for a slope
HEAT_RATIO = 1.4  # of air, heat capacity at constant pressure by that at constant volume


def closed_pressure(begin, end, pressure, leaked=0.0, air=0.0, give=0.0, growth=0.0) -> float:
    """Pressure [Pa] in a closed pipe once its water went from `begin` to `end` and a share `leaked` has gone.

    pressure : at the start; air : share of the volume that is air; give : of the pipe [1/Pa]; growth : its
    lengthening [1/K]
    What is in the pipe must fill it: (1 - a)(1 + g - k x) - l + a (T1/T0) p/(p + x) = 1 + 3 alpha dT + c x, a
    quadratic in the rise x. Water as its density and compressibility say, air as an ideal gas, the pipe free to grow.
    """
    warmer = (end + KELVIN) / (begin + KELVIN)
    yielding = (1 - air) * float(compressibility(end)) + give
    excess = (1 - air) * float(growth_of_water(begin, end)) - 3 * growth * (end - begin) - leaked - air
    half = excess - yielding * pressure
    rise = (half + sqrt(half**2 + 4 * yielding * pressure * (excess + air * warmer))) / (2 * yielding)
    return pressure + rise


def course(begin, warmed, pressure, seconds, leak, air=0.0, give=0.0, growth=0.0, steps=STEPS) -> tuple[list, list]:
    """Times [s] and pressures [Pa] through a test, at steps + 1 moments.

    warmed : change of temperature over the whole test, even in time [K]; leak : share of the volume that leaks in a
    second at the pressure of the start. A leak gives less as the pressure falls, with the square root of what the
    gauge shows, and nothing at zero. Within a step the pressure is taken to fall in step with what has leaked, which
    has a closed form: the root of the gauge falls evenly in time.
    """
    times, found, leaked = [0.0], [pressure], 0.0
    step, first = seconds / steps, pressure - ATMOSPHERE

    def at(time: float, gone: float) -> float:
        return closed_pressure(begin, begin + warmed * time / seconds, pressure, gone, air, give, growth)

    for number in range(1, steps + 1):
        time = number * step
        gauge = at(time, leaked) - ATMOSPHERE
        if leak > 0 and gauge > 0:
            steep = (at(time, leaked) - at(time, leaked + SMALL)) / SMALL
            root = max(sqrt(gauge) - 0.5 * steep * leak * step / sqrt(first), 0.0)
            leaked += (gauge - root**2) / steep  # the less is left, the less a loss takes: the gauge stays above zero
        times.append(time)
        found.append(max(at(time, leaked), 0.0))
    return times, found


def air_energy(volume, pressure):
    """Work [J] that air of a volume [m3] at a pressure [Pa] gives when a pipe lets go, without heat from outside.

    p V/(k - 1) (1 - (p0/p)^((k - 1)/k)): the isentropic expansion of any textbook; ASME PCC-2 has it with k = 1.4
    (from memory).
    """
    share = (HEAT_RATIO - 1) / HEAT_RATIO
    return pressure * volume / (HEAT_RATIO - 1) * (1 - (ATMOSPHERE / pressure) ** share)


def water_energy(volume, pressure, temperature, give):
    """Work [J] that water of a volume [m3] at a pressure [Pa] gives, with the wall that it stretches: half of pressure
    times the volume that both were squeezed and stretched by.
    """
    return 0.5 * (compressibility(temperature) + give) * (pressure - ATMOSPHERE) ** 2 * volume
