"""Topic 14: readings fitted by least squares, against measured cooling curves and certified answers.

A class's measured cup of cooling water, with the straight line through its logarithms as printed: 0.01 %, for the reader's
line has six decimals. Rumford's cannon, as measured in 1798, is fitted with the answer of a general-purpose library: 0.01 %.
NIST's certified values of an exponential: 0.001 % for the estimates and 0.1 % for their standard deviations, which come from
slopes by differences.
"""

import numpy as np
import pytest
from scipy.optimize import curve_fit

from lessons_lib import Readings
from lessons_lib.physics.fit import least_squares

CLASS = "Mat 158 class notes, Queens College CUNY (2017), cooling water in a room at 74.6 degF, least-squares line as printed, read in the page"
CUP = "time [min],temperature [°F]\n0,182.0\n10,151.7\n20,133.9\n30,122.0\n40,113.1\n50,106.2\n60,101.1\n70,96.7\n80,93.5\n90,90.9"
RUMFORD = (
    "Count Rumford (1798), cooling of a cannon in air at 60 degF from 130 degF, data in Bates and Watts, Nonlinear Regression Analysis (1988), "
    "as quoted in secondary literature; fit computed with SciPy"
)
CANNON = "time [min]\ttemp [F]\n" + "\n".join(
    f"{time}\t{value}" for time, value in zip(
        (4, 5, 7, 12, 14, 16, 20, 24, 28, 31, 34, 37.5, 41), (126, 125, 123, 120, 119, 118, 116, 115, 114, 113, 112, 111, 110)
    )
)
NIST = "NIST Statistical Reference Datasets, Misra1a, certified values, as quoted in secondary literature"
MISRA_X = np.array([77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0])
MISRA_Y = np.array([10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78])


def line(values, at):
    return values[0] + values[1] * at


@pytest.fixture(scope="module")
def cup():
    """Minutes and the logarithm of the degF above the room, as the readings of the bench read them."""
    readings = Readings.from_text(CUP)
    return readings.time.to("min").magnitude, np.log(readings.temperature.to("degF").magnitude - 74.6)


@pytest.mark.parametrize("place, printed", [(1, -0.020416), (0, 4.535718)])
def test_line_through_the_logarithms_of_a_cooling_cup(agree, cup, place, printed):
    minutes, logarithms = cup
    fit = least_squares(lambda values: line(values, minutes), logarithms, [4.0, -0.01], [1.0, 0.01], [0, -1], [9, 1])
    agree(fit.values[place], printed, CLASS, relative=1e-4)


def test_cooling_of_a_cannon(agree):
    """One unknown, as the data are fitted in the book: 60 + 70 exp(-k t)."""
    readings = Readings.from_text(CANNON)
    minutes, degrees = readings.time.to("min").magnitude, readings.temperature.to("degF").magnitude

    def model(time, rate):
        return 60 + 70 * np.exp(-rate * time)

    fit = least_squares(lambda values: model(minutes, values[0]), degrees, [0.02], [0.005], [0.0], [1.0])
    (rate,), ((variance,),) = curve_fit(model, minutes, degrees, 0.01)
    agree(fit.values[0], rate, RUMFORD, relative=1e-4)
    agree(np.sqrt(fit.covariance[0, 0]), np.sqrt(variance), RUMFORD, relative=1e-4)


@pytest.mark.parametrize("start", [(500.0, 1e-4), (250.0, 5e-4)])
def test_certified_exponential(agree, start):
    """y = b1 (1 - exp(-b2 x)) from both of NIST's starting points."""
    fit = least_squares(lambda b: b[0] * (1 - np.exp(-b[1] * MISRA_X)), MISRA_Y, start, [10.0, 1e-5], [1.0, 1e-6], [9e3, 1.0])
    for value, certified in zip(fit.values, (238.94212918, 5.5015643181e-4)):
        agree(value, certified, NIST, relative=1e-5)
    for value, certified in zip(np.sqrt(np.diag(fit.covariance)), (2.7070075241, 7.2668688436e-6)):
        agree(value, certified, NIST, relative=1e-3)
    agree(fit.residuals @ fit.residuals, 0.12455138894, NIST, relative=1e-5)
