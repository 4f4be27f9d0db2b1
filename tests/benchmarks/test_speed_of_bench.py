"""How fast a logger's file of 200,000 rows is read, fitted and thinned for drawing; plain checks in the default run."""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Readings, Run, Surroundings, fit_along, fit_cooling, fit_first_draw
from lessons_lib.physics import bench as physics

ROOM, COPPER, ROWS = Surroundings(Q_(20, "degC")), Pipe.nominal("copper L", "1/2 in"), 200_000
BARE = Run(COPPER, Q_(10, "m"), Insulation.none(), ROOM)
COVERED = Run(COPPER, Q_(10, "m"), Insulation("elastomeric foam", Q_(19, "mm")), ROOM)


def noise(count: int):
    return 0.2 * np.random.default_rng(1).standard_normal(count)


@pytest.fixture(scope="module")
def logger_file(tmp_path_factory):
    """Readings every 50 ms for nearly three hours, to a hundredth of a degree, with a date and clock time in every row, some rows spoiled."""
    seconds = np.arange(ROWS) * 0.05
    values = physics.standing_water(COVERED.standing(), 58.0, seconds, 1.4) + noise(ROWS)
    rows = [f"{second:.2f},{value:.2f}" for second, value in zip(seconds, values)]
    rows[1000], rows[5000], rows[9000] = "50.00,err", "250.00,-127", "1.00,50"
    file = tmp_path_factory.mktemp("logger") / "logger.csv"
    file.write_text("\n".join(["time [s],temperature [°C]", *rows]), encoding="utf-8")
    return file


def read_and_fit(file):
    fit = fit_cooling(COVERED, Readings.from_csv(file), "UA")
    return fit, fit.readings.thinned()


def test_logger_file_read_fitted_and_thinned(benchmark, logger_file):
    before = logger_file.read_bytes()
    fit, thin = benchmark.pedantic(read_and_fit, (logger_file,), rounds=3)
    assert fit.low.magnitude < 1.4 * fit.label.magnitude < fit.high.magnitude and fit.scatter < 0.02
    rows = {
        row for row, _ in fit.left_out
    }  # of 200,000 readings one or two stand five scatters off their neighbours by chance
    assert {1002, 5002, 9002} <= rows and len(rows) <= 6 and len(thin.row) <= 2000
    assert logger_file.read_bytes() == before


def test_fit_of_a_cooling(benchmark):
    seconds = np.arange(0, 7200, 240.0)
    readings = Readings(
        Q_(physics.standing_water(COVERED.standing(), 58.0, seconds) + noise(30), "degC"), Q_(seconds, "s")
    )
    assert benchmark(fit_cooling, COVERED, readings).word == "like the label"


def test_fit_along_a_run(benchmark):
    places = np.linspace(0, 10, 13)
    values = physics.flowing_water(BARE.line, 58.0, 1e-5, 10.0, places) + noise(13)
    fit = benchmark(fit_along, BARE, Readings(Q_(values, "degC"), place=Q_(places, "m")), Q_(0.6, "L/min"))
    assert fit.word == "as the model says"


def test_fit_of_a_first_draw(benchmark):
    draw, seconds = BARE.first_draw(Q_(60, "degC"), Q_(5, "L/min"), Q_(20, "degC")), np.arange(0, 90, 3.0)
    values = physics.lagging(draw.time.magnitude, draw.temperature.magnitude, 4.0, 20.0, seconds) + noise(30)
    readings = Readings(Q_(values, "degC"), Q_(seconds, "s"))
    fit = benchmark(fit_first_draw, BARE, readings, Q_(60, "degC"), Q_(20, "degC"))
    assert fit.low.magnitude < 5 < fit.high.magnitude
