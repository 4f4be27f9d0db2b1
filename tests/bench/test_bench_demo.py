"""The demo readings: INVENTED, made by a simulation that knows nothing of the library, and found out by the fits."""

import ast
import importlib.util
from pathlib import Path

import pytest

from lessons_lib import (
    Q_,
    Insulation,
    Pipe,
    Readings,
    Run,
    Surroundings,
    compare,
    fit_along,
    fit_cooling,
    fit_first_draw,
)

HERE = Path(__file__).parents[1]
SCRIPT = HERE / "make_bench_readings.py"
BENCH = HERE.parent / "data" / "bench"
_spec = importlib.util.spec_from_file_location("make_bench_readings", SCRIPT)
made = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(made)

ROOM, COPPER = Surroundings(Q_(made.AIR, "degC")), Pipe.nominal("copper L", "1/2 in")
BARE = Run(COPPER, Q_(made.TAP_LENGTH, "m"), Insulation.none(), ROOM)
COVERED = Run(COPPER, Q_(made.TAP_LENGTH, "m"), Insulation("elastomeric foam", Q_(made.RIG_FOAM_THICKNESS, "m")), ROOM)
FAR_SINK = Run(
    Pipe.nominal("PEX CTS", "1/2 in"),
    Q_(made.FAR_SINK_LENGTH, "m"),
    Insulation("elastomeric foam", Q_(made.FAR_SINK_THICKNESS, "m")),
    ROOM,
)


def read(name: str) -> Readings:
    return Readings.from_csv(BENCH / name)


def holds(fit, value: float) -> bool:
    return fit.low.magnitude <= value <= fit.high.magnitude


def test_the_script_stands_alone():
    names = {
        alias.name
        for node in ast.walk(ast.parse(SCRIPT.read_text(encoding="utf-8")))
        if isinstance(node, ast.Import)
        for alias in node.names
    }
    froms = {
        node.module
        for node in ast.walk(ast.parse(SCRIPT.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
    }
    assert names | froms == {"numpy", "pathlib"}


@pytest.mark.parametrize("experiment", made.EXPERIMENTS, ids=lambda experiment: experiment.__name__)
def test_the_committed_file_is_what_the_script_makes(experiment):
    name, content = made.text(experiment)
    assert (BENCH / name).read_text(encoding="utf-8") == content and "INVENTED" in content.splitlines()[0]


def test_no_other_file_lies_there():
    assert {file.name for file in BENCH.iterdir()} == {
        "along-the-run.csv",
        "cooling-after.csv",
        "cooling-before.csv",
        "first-draw.csv",
    }


def test_cooling_before():
    """Of a bare pipe the loss is the film's: the simulation has its own, within a tenth. The failed sensor row is named."""
    fit = fit_cooling(BARE, read("cooling-before.csv"))
    assert fit.word == "as the model says" and fit.value.magnitude == pytest.approx(fit.label.magnitude, rel=0.1)
    assert [row for row, _ in fit.left_out] == [14] and "-127" in fit.left_out[0].reason


def test_cooling_after():
    """The conductivity that the simulation was given, and the thermometer that was put on cold."""
    readings = read("cooling-after.csv")
    for fit in (fit_cooling(COVERED, readings), fit_cooling(COVERED, readings, thermometer=Q_(25, "s"))):
        assert fit.word == "worse than the label" and fit.value.magnitude == pytest.approx(made.RIG_FOAM, rel=0.03)
    assert [row for row, _ in fit_cooling(COVERED, readings).left_out] == [5, 19]


def test_before_against_after():
    both = compare(fit_cooling(BARE, read("cooling-before.csv")), fit_cooling(COVERED, read("cooling-after.csv")))
    assert not both.overlap and 0.5 < both.ratio < 0.7


def test_first_draw():
    fit = fit_first_draw(
        BARE,
        read("first-draw.csv"),
        Q_(made.SUPPLY, "degC"),
        Q_(made.AIR, "degC"),
        Q_(5, "L/min"),
        late=Q_(2, "s"),
        thermometer=Q_(4, "s"),
    )
    assert holds(fit, made.TAP_FLOW) and not holds(fit, 5.0) and fit.word == "less than given"
    assert [row for row, _ in fit.left_out] == [25]


def test_along_the_run():
    fit = fit_along(FAR_SINK, read("along-the-run.csv"))
    assert holds(fit, made.FAR_SINK_FOAM) and fit.word == "worse than the label"
    assert [row for row, _ in fit.left_out] == [10]
