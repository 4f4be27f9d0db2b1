"""What is refused, and how it is said: what was given, what is possible; and what only the rounding of a unit tells apart."""

import pytest

from lessons_lib import Q_
from lessons_lib.plant.closed_system import expansion, trapped_pressure_rise, vessel
from lessons_lib.plant.tank import hot_share, recovery
from lessons_lib.quantities.errors import InputError


@pytest.mark.parametrize("psi", [30.0, 43.5, 50.0, 58.0, 72.5])
def test_one_pressure_in_two_units_is_one_pressure(psi):
    """Pre-charge and cold pressure that are the same but for the rounding of a unit are allowed, either way round."""
    trade = Q_(psi, "psi")
    for name in ("kPa", "bar", "Pa"):
        here = trade.to(name)
        for charged, filled in ((trade, here), (here, trade), (here * (1 + 1e-12), here)):
            assert vessel(Q_(3, "L"), charged, Q_(900, "kPa"), cold=filled).reserve.magnitude == pytest.approx(
                0, abs=1e-6
            )
        with pytest.raises(InputError, match="highest pressure"):  # and so is a highest one that is no higher
            vessel(Q_(3, "L"), here, trade * (1 + 1e-12), cold=here)


@pytest.mark.parametrize(
    "call, given, possible",
    [
        (lambda: vessel(Q_(3, "L"), Q_(300, "kPa"), Q_(350, "kPa"), cold=Q_(400, "kPa")), "350 kPa", "400 kPa"),
        (lambda: vessel(Q_(3, "L"), Q_(450, "kPa"), Q_(600, "kPa"), cold=Q_(400, "kPa")), "450 kPa", "400 kPa"),
        (lambda: expansion(Q_(100, "L"), Q_(60, "degC"), Q_(10, "degC")), "10 °C", "60 °C"),
        (lambda: hot_share(Q_(50, "degC"), Q_(55, "degC"), Q_(52, "degC")), "55 °C", "50 °C"),
        (lambda: hot_share(Q_(60, "degC"), Q_(10, "degC"), Q_(65, "degC")), "65 °C", "from 10 °C (the cold) to 60 °C"),
        (lambda: hot_share(Q_(60, "degC"), Q_(10, "degC"), Q_(5, "degC")), "5 °C", "from 10 °C (the cold) to 60 °C"),
    ],
)
def test_a_refusal_says_what_was_given_and_what_is_possible(call, given, possible):
    with pytest.raises(InputError) as told:
        call()
    first, _, rest = str(told.value).partition(" was given")
    assert first.endswith(f": {given}") and possible in rest, told.value


def test_a_rise_to_99_degrees_and_no_further():
    """Water in a pipe that is shut, or behind a heater, may come to 99 degC."""
    assert trapped_pressure_rise(Q_(90, "degC"), Q_(9, "delta_degC")).rise.magnitude > 0
    assert recovery(Q_(3, "kW"), Q_(89, "delta_degC"), cold=Q_(10, "degC")).magnitude > 0
    for call in (
        lambda: trapped_pressure_rise(Q_(90, "degC"), Q_(9.01, "delta_degC")),
        lambda: recovery(Q_(3, "kW"), Q_(89.01, "delta_degC"), cold=Q_(10, "degC")),
    ):
        with pytest.raises(InputError, match="close to boiling"):
            call()
