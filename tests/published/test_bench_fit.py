"""Topic 14: readings fitted by least squares, against a measured cooling curve and certified answers.

Rumford's cannon, as measured in 1798, is fitted with the answer of a general-purpose library: 0.01 %. NIST's certified values of a
straight line and of an exponential: 0.001 % for the estimates and 0.1 % for their standard deviations, which come from slopes by
differences.
"""

import numpy as np
import pytest
from scipy.optimize import curve_fit

from lessons_lib import Readings
from lessons_lib.physics.fit import least_squares

RUMFORD = (
    "Count Rumford (1798), cooling of a cannon in air at 60 degF from 130 degF, data in Bates and Watts, Nonlinear Regression Analysis (1988), "
    "as quoted in secondary literature; fit computed with SciPy"
)
CANNON = "time [min]\ttemp [F]\n" + "\n".join(
    f"{time}\t{value}"
    for time, value in zip(
        (4, 5, 7, 12, 14, 16, 20, 24, 28, 31, 34, 37.5, 41),
        (126, 125, 123, 120, 119, 118, 116, 115, 114, 113, 112, 111, 110),
    )
)
NORRIS = (
    "NIST Statistical Reference Datasets, Norris, calibration of ozone monitors: data and certified values from memory, "
    "which agree with each other to twelve digits"
)
NORRIS_X, NORRIS_Y = np.array(
    [
        (0.2, 0.1),
        (337.4, 338.8),
        (118.2, 118.1),
        (884.6, 888.0),
        (10.1, 9.2),
        (226.5, 228.1),
        (666.3, 668.5),
        (996.3, 998.5),
        (448.6, 449.1),
        (777.0, 778.9),
        (558.2, 559.2),
        (0.4, 0.3),
        (0.6, 0.1),
        (775.5, 778.1),
        (666.9, 668.8),
        (338.0, 339.3),
        (447.5, 448.9),
        (11.6, 10.8),
        (556.0, 557.7),
        (228.1, 228.3),
        (995.8, 998.0),
        (887.6, 888.8),
        (120.2, 119.6),
        (0.3, 0.3),
        (0.3, 0.6),
        (556.8, 557.6),
        (339.1, 339.3),
        (887.2, 888.0),
        (999.0, 998.5),
        (779.0, 778.9),
        (11.1, 10.2),
        (118.3, 117.6),
        (229.2, 228.9),
        (669.1, 668.4),
        (448.9, 449.2),
        (0.5, 0.2),
    ]
).T
NIST = "NIST Statistical Reference Datasets, Misra1a, certified values, as quoted in secondary literature"
MISRA_X = np.array([77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0])
MISRA_Y = np.array([10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78])


def line(values, at):
    return values[0] + values[1] * at


def test_certified_straight_line(agree):
    """Estimates, their standard deviations, and the sum of squares."""
    fit = least_squares(lambda values: line(values, NORRIS_X), NORRIS_Y, [4.0, 0.5], [1.0, 0.01], [-9, -1], [9, 9])
    for value, certified in zip(fit.values, (-0.262323073774029, 1.00211681802045)):
        agree(value, certified, NORRIS, relative=1e-5)
    for value, certified in zip(np.sqrt(np.diag(fit.covariance)), (0.232818234301152, 0.429796848199937e-3)):
        agree(value, certified, NORRIS, relative=1e-3)
    agree(fit.residuals @ fit.residuals, 26.6173985294224, NORRIS, relative=1e-5)


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
    fit = least_squares(
        lambda b: b[0] * (1 - np.exp(-b[1] * MISRA_X)), MISRA_Y, start, [10.0, 1e-5], [1.0, 1e-6], [9e3, 1.0]
    )
    for value, certified in zip(fit.values, (238.94212918, 5.5015643181e-4)):
        agree(value, certified, NIST, relative=1e-5)
    for value, certified in zip(np.sqrt(np.diag(fit.covariance)), (2.7070075241, 7.2668688436e-6)):
        agree(value, certified, NIST, relative=1e-3)
    agree(fit.residuals @ fit.residuals, 0.12455138894, NIST, relative=1e-5)
