"""What a fit and its readings say in words: which number is whose, what a list of the fit holds, what is kept of a long file."""

import re

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Readings, Run, Surroundings, fit_along, fit_cooling
from lessons_lib.bench.reading_header import offer
from lessons_lib.bench.store import KEPT_READINGS, Saved, Store

BARE = Run(Pipe.nominal("copper L", "1/2 in"), Q_(10, "m"), Insulation.none(), Surroundings(Q_(20, "degC")))


def cooled(quicker: float, count: int = 30) -> Readings:
    """Readings of the bare run, whose hour of cooling goes so many times quicker than the model's."""
    times, curve = np.linspace(0, 3600, count), BARE.cooling(Q_(60, "degC"), Q_(2, "h"))
    values = np.interp(quicker * times, curve.time.to("s").magnitude, curve.temperature.magnitude)
    return Readings(Q_(values, "degC"), Q_(times, "s"), name="logger")


@pytest.mark.parametrize("quicker, word", [(1.3, "more than"), (0.7, "less than"), (1.0, "the same")])
def test_a_bare_run_loses_what_was_measured_and_the_model_says_the_other(quicker, word):
    """A run that cools a third quicker loses a third more, for it holds as much heat."""
    fit = fit_cooling(BARE, cooled(quicker))
    measured, model = (float(number) for number in re.findall(r"([\d.]+) W/\(m K\)", fit.meaning))
    assert measured / model == pytest.approx(quicker, rel=0.01) and word in fit.meaning
    assert model == pytest.approx(fit.label.to("W/(m*K)").magnitude, rel=2e-3)


def test_a_fit_as_a_list_has_each_number_beside_its_name():
    rows = dict(line.split(maxsplit=1) for line in str(fit_cooling(BARE, cooled(1.0))).splitlines())
    assert rows["others"].startswith("start 60") and rows["unknown"] == "UA" and rows["readings"] == "30"


def test_of_a_long_file_so_many_readings_are_kept_and_its_name_says_so():
    for count, name in ((KEPT_READINGS, "logger"), (2 * KEPT_READINGS, f"logger ({KEPT_READINGS} of")):
        Store().save("a", Saved({}, cooled(1.0, count), None))
        again = Store().all()["a"].readings
        assert (
            len(again.row) == KEPT_READINGS
            and again.name.startswith(name)
            and (")" in again.name) == (count > KEPT_READINGS)
        )


def test_a_row_without_its_last_cell_is_no_hindrance_to_the_menu_of_columns():
    offered = offer("time [min];T1 [C];T2 [C]\n0;50;20\n1;49\n2;48;22\n", "x")
    assert offered.columns == ("time [min] (0, 1, 2)", "T1 [C] (50, 49, 48)", "T2 [C] (20, 22)")


def test_the_curve_along_a_run_goes_from_the_tank_to_its_end():
    """Also where nobody read: the readings stand between 2 m and 8 m."""
    place = np.linspace(2, 8, 7)
    readings = Readings(Q_(60 - 0.9 * place, "degC"), place=Q_(place, "m"))
    fit = fit_along(BARE, readings, Q_(0.5, "L/min"), supply=Q_(60, "degC"))
    assert fit.curve_at.to("m").magnitude[[0, -1]].tolist() == [0, 10]
    assert fit.curve.magnitude[0] == pytest.approx(60)
