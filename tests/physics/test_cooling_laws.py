"""Standing water whose loss follows a power of its distance from rest has a curve in closed form.

C dT/dt = -a D^(1+n), D the distance from rest: D = (D_0^-n + n a t/C)^(-1/n), for n = 1/4 the five-fourths power
law of still air (Lorenz 1881, from memory; checked by differentiation). Held to 0.05 % of the first distance: the
curve's 128 straight pieces of time over the logarithm of D leave 0.01 to 0.03 %, pieces weighed by one of their
ends some 0.5 %.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from lessons_lib.physics import cooling


@dataclass(frozen=True)
class PowerLaw:
    """Stands in for a line and what it holds: rest [degC], a/C [1/(s K^n)] and n."""

    at: float
    pace: float
    power: float
    shape: tuple = ()

    @property
    def line(self):
        return self

    def rest(self):
        return self.at

    def seconds_per_unit(self, temperature, rest):
        return 1 / (self.pace * np.abs(temperature - rest) ** self.power)

    def after(self, start, seconds):
        """Temperature [degC], by the closed form."""
        off = start - self.at
        left = (np.abs(off) ** -self.power + self.power * self.pace * seconds) ** (-1 / self.power)
        return self.at + np.sign(off) * left


@pytest.mark.parametrize("power", [0.25, 0.33])
@pytest.mark.parametrize("start, rest", [(80.0, 20.0), (60.0, 5.0), (8.0, 25.0), (70.0, -15.0)])
def test_curve_and_time_are_the_closed_form(start, rest, power):
    """Cooling and warming; where rest is below 0 degC down to there, and then ice: no colder."""
    law = PowerLaw(rest, 2e-4, power)
    seconds = np.linspace(0, 40_000 / abs(start - rest) ** power, 60)
    exact = law.after(start, seconds)
    found = cooling.curve(law, start, seconds)
    assert found == pytest.approx(np.maximum(exact, 0), abs=5e-4 * abs(start - rest))
    for moment, temperature in zip(seconds[1:], exact[1:]):
        if temperature > 0:
            assert cooling.time_to(law, start, temperature) == pytest.approx(moment, rel=1e-6)
            assert cooling.time_to(law, temperature, start) == 0  # already passed
