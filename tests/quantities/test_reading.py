"""Quantities as people write them."""

import pytest

from lessons_lib import InputError
from lessons_lib.quantities.reading import read_number, read_quantity
from lessons_lib.quantities.units import DURATION, FLOW, LENGTH, SUPPLY, WIND


@pytest.mark.parametrize(
    "text, domain, unit, value",
    [
        ("18 ft", LENGTH, "ft", 18),
        ("1-1/2 in", LENGTH, "in", 1.5),
        ("6 ft 4 1/2 in", LENGTH, "in", 76.5),
        ("6' 4\"", LENGTH, "in", 76),
        ("30,5 cm", LENGTH, "cm", 30.5),
        ("1,000 mm", LENGTH, "m", 1),
        ("120 °F", SUPPLY, "degF", 120),
        ("49 C", SUPPLY, "degC", 49),
        ("2.2 gal/min", FLOW, "gpm", 2.2),
        ("6 L/min", FLOW, "L/min", 6),
        ("6 ft 4", LENGTH, "in", 76),
        ("1:20", DURATION, "min", 80),
        ("half an hour", DURATION, "min", 30),
        ("10 MPH", WIND, "mph", 10),
    ],
)
def test_written_quantities(text, domain, unit, value):
    assert read_quantity(text, domain).to(unit).magnitude == pytest.approx(value)


@pytest.mark.parametrize(
    "text, said",
    [
        ("", "number"),
        ("m", "number"),
        ("3", "no unit"),
        ("60 °", "no unit"),
        ("3 qqq", '"qqq" is not known here. Write'),
        ("3 foo", 'Did you mean "ft"'),
        ("3 inche", '"in"'),
        ("3 metr", '"m"'),
        ("3 kPa", "pressure, not a length"),
        ("1/0 m", "number"),
        ("-3 m", "above 0 m"),
        ("9" * 400 + " m", "number"),
        ("0 ft", "above 0 ft"),
    ],
)
def test_what_cannot_be_read_says_how_to_write_it(text, said):
    with pytest.raises(InputError, match=said) as caught:
        read_quantity(text, LENGTH)
    assert '"12 m"' in str(caught.value) and "Q_(" not in str(caught.value)


def test_an_endless_number_is_no_number():
    with pytest.raises(ValueError):
        read_number("9" * 400)
