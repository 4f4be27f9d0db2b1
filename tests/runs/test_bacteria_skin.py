"""Laws of bacteria bands and of the skin model: every temperature in one band, limits, monotony, cautions that travel."""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, time_to_burn
from lessons_lib.physics import skin as skin_physics
from lessons_lib.runs.bacteria import bacteria_band, tenfold_time, time_in_growth_band
from lessons_lib.runs.skin import skin_injury, skin_temperature
from lessons_lib.storage import tables


def degrees(value):
    return Q_(value, "degC")


def test_bands_cover_every_temperature_once():
    rows = [row for row in tables.rows("bacteria_bands") if row["kind"] == "band"]
    assert [row["high"] for row in rows[:-1]] == [row["low"] for row in rows[1:]]
    found = bacteria_band(degrees(np.linspace(0, 99, 1000)))
    assert found.word.shape == (1000,) and set(found.word) == {row["name"] for row in rows}
    assert np.all(found.low.magnitude <= np.linspace(0, 99, 1000)) and np.all(
        np.linspace(0, 99, 1000) < found.high.magnitude
    )


def test_storage_below_60_is_never_recommended():
    cool = bacteria_band(degrees(np.linspace(0, 59.99, 500)))
    assert all("not recommended" in text for text in cool.storage)
    assert bacteria_band(degrees(60.0)).storage == bacteria_band(Q_(140.0, "degF")).storage == "as guidance asks"
    assert "never recommended" in cool.caution and "local code" in cool.caution


@pytest.mark.parametrize(
    "fahrenheit, word", [(68.0, "may grow"), (67.9, "at rest"), (140.0, "dies in minutes"), (139.9, "dies slowly")]
)
def test_edges_in_the_other_unit(fahrenheit, word):
    assert bacteria_band(Q_(fahrenheit, "degF")).word == word


def test_tenfold_is_a_band_that_falls():
    found = tenfold_time(degrees(np.linspace(55, 66, 50)))
    assert np.all(found.shortest < found.longest)
    assert np.all(np.diff(found.shortest.magnitude) < 0) and np.all(np.diff(found.longest.magnitude) < 0)


def standing(air, millimetres=0.0):
    insulation = Insulation("elastomeric foam", Q_(millimetres, "mm")) if millimetres else Insulation.none()
    return Run(Pipe.nominal("copper L", "3/4 in"), Q_(10, "m"), insulation, Surroundings(degrees(air)))


def test_insulation_lengthens_the_time_in_the_growth_band():
    bare, covered = (time_in_growth_band(standing(10.0, mm).cooling(degrees(60.0), Q_(1, "h"))) for mm in (0, 19))
    assert 2 * bare < covered


@pytest.mark.parametrize(
    "air, start, hours",
    [(10.0, 15.0, 0), (25.0, 15.0, np.inf), (25.0, 60.0, np.inf), (55.0, 60.0, 0), (30.0, 30.0, np.inf)],
)
def test_time_in_the_growth_band_at_its_limits(air, start, hours):
    assert time_in_growth_band(standing(air).cooling(degrees(start), Q_(1, "h"))).magnitude == hours


def test_time_in_the_growth_band_is_what_the_curve_shows():
    run, minutes = standing(10.0, 19.0), 24 * 60
    curve = run.cooling(degrees(60.0), Q_(minutes, "min"))
    inside = (curve.temperature.magnitude > 20) & (curve.temperature.magnitude < 50)
    seen = np.mean(np.interp(np.arange(minutes), curve.time.to("min").magnitude, inside)) * minutes / 60
    assert time_in_growth_band(curve).to("h").magnitude == pytest.approx(seen, abs=0.2)


def test_hotter_water_injures_sooner_and_a_film_delays():
    found = skin_injury(degrees(np.linspace(44, 70, 100)))
    for times in (found.surface_held.magnitude, found.with_film.magnitude):
        assert np.all(np.isfinite(times)) and np.all(np.diff(times) < 0)
    assert np.all(found.with_film > found.surface_held)
    assert np.array_equal(found.table.magnitude, time_to_burn(degrees(np.linspace(44, 70, 100))).seconds.magnitude)


def test_a_strong_film_is_a_held_surface():
    held, filmed = (float(skin_physics.seconds_to_injury(55.0, film=film)) for film in (np.inf, 1e9))
    assert filmed == pytest.approx(held, rel=1e-4)


def test_injury_is_later_than_at_constant_temperature():
    water = np.linspace(44, 70, 50)
    assert np.all(skin_physics.seconds_to_injury(water) > skin_physics.seconds_at(water))


def test_cool_water_never_injures_within_the_model():
    assert np.isinf(float(skin_physics.seconds_to_injury(20.0)))


@pytest.mark.parametrize("film", [None, Q_(1000, "W/(m**2*K)")])
def test_skin_temperature_lies_between_skin_and_water(film):
    time = Q_(np.geomspace(0.01, 1e4, 50)[:, np.newaxis], "s")
    found = skin_temperature(degrees(55.0), Q_(np.array([0.0, 0.08, 1.0, 10.0]), "mm"), time, film).magnitude
    assert found.shape == (50, 4) and np.all((34 - 1e-9 <= found) & (found <= 55 + 1e-9))
    assert np.all(np.diff(found, axis=0) >= -1e-9) and np.all(np.diff(found, axis=1) <= 1e-9)


def test_the_model_stands_beside_the_table_and_says_so():
    found = skin_injury(degrees(55.0))
    assert "never instead of it" in found.caution and "Children" in found.caution
    assert (found.table.magnitude, found.bound) == (pytest.approx(17), "at")
