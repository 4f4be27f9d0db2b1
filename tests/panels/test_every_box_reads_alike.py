"""Every box of the workbook reads a number in the same everyday notation: sliders, answers, building files, lesson 11, the bench."""

import math

import pytest

from lessons_lib import InputError, LayoutDocument, Pipe
from lessons_lib.exercises.reading import read_amount
from lessons_lib.lessons import your_own_run
from lessons_lib.lessons.your_own_run.panel import TABLES
from lessons_lib.panels.controls import Slide
from lessons_lib.quantities.display import SI, unit
from lessons_lib.quantities.units import Q_, unit_of
from lessons_lib.storage.reading_table import heading, number
from lessons_lib.storage.tables import DATA

# Kind → what is typed → the value in the kind's metric unit; None where it is refused.
NOTATIONS = {
    "hours": {
        "1 h 30 min": 1.5,
        "1:30": 1.5,
        "an hour and a half": 1.5,
        "half an hour": 0.5,
        "three quarters of an hour": 0.75,
        "about 90 minutes": 1.5,
        "1 h 30": 1.5,
        "1½ h": 1.5,
    },
    "pressure": {"3 bar": 300.0, "43.5 psi": 299.922, "2,5 bars": 250.0, "3 m": None, "40 pounds": None},
    "length": {
        "3' 6\"": 1.0668,
        "3 ft 6 1/2 in": 1.0795,
        "3'6": 1.0668,
        "1 m 20 cm": 1.2,
        "42 inches": 1.0668,
        "half a metre": 0.5,
        "1:20": None,
        "3 bar": None,
    },
    "flow": {"6 litres per minute": 6.0, "1.5 gpm": 5.67812, "0,1 L/s": 6.0, "5 ft": None},
    "temperature": {"140F": 60.0, "60 degrees Celsius": 60.0, "60°C": 60.0, "9 L": None},
}
CASES = [(kind, text, value) for kind, texts in NOTATIONS.items() for text, value in texts.items()]
LIMITS = {"hours": (0, 10), "pressure": (50, 550), "length": (0.1, 20), "flow": (1, 20), "temperature": (0, 90)}
# Kind → the table and word of a building file that hold a value of it, and the value in the layout.
PLACES = {
    "hours": ("night", "hours_without_power", lambda layout: layout.night.without_power),
    "pressure": ("water", "pressure", lambda layout: layout.pressure),
    "length": ("leg", "length", lambda layout: layout.legs[0].length),
    "flow": ("tap", "flow", lambda layout: layout.taps[0].flow),
    "temperature": ("tank", "set_temperature", lambda layout: layout.set_temperature),
}


def in_metric(quantity, kind: str) -> float:
    return quantity.to(unit_of(unit(kind, SI))).magnitude


@pytest.mark.parametrize("kind, text, value", CASES)
def test_a_slider_and_an_answer_read_it(kind, text, value):
    low, high = LIMITS[kind]
    slide = Slide("Box", kind, Q_(low, unit(kind, SI)), (low, high, 0.1), (low, high, 0.1), "a box")
    slide.box.value = text
    if value is None:
        assert "Write it like" in slide.told.value and "Kept" in slide.told.value
        with pytest.raises(InputError, match="Write it like"):
            read_amount(text, kind, SI)
    else:
        assert slide.told.value == "" and in_metric(slide.value, kind) == pytest.approx(value, rel=1e-5)
        assert in_metric(read_amount(text, kind, SI).quantity, kind) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize("kind, text, value", CASES)
def test_a_building_file_reads_it(kind, text, value):
    table, word, found = PLACES[kind]
    document = LayoutDocument.open(DATA / "layouts" / "template.toml")
    document.change(table, 0, word, text) if table in ("leg", "tap") else document.set(table, word, text)
    if value is None:
        with pytest.raises(InputError, match=r"line \d+.*Write it like"):
            document.layout()
    else:
        assert in_metric(found(document.layout()), kind) == pytest.approx(value, rel=1e-5)


def test_the_boxes_of_lesson_11_read_it():
    panel = your_own_run.panel()
    panel._which.value = next(title for title, kind in TABLES.items() if kind == "settings")
    night, water = panel.table.rows["night"], panel.table.rows["water"]
    for text, hours in {"10:30": 10.5, "8 h 20": 25 / 3, "half a day": 12.0, "an hour and a half": 1.5}.items():
        night.boxes["hours_without_power"].value = "half an hour"
        night.boxes["hours"].value = text
        layout = panel.document.layout()
        assert night.told.value == "" and layout.night.hours.to("hour").magnitude == pytest.approx(hours)
        assert layout.night.without_power.to("hour").magnitude == pytest.approx(0.5)
    water.boxes["pressure"].value = "3 bar"
    assert panel.document.layout().pressure.to("kPa").magnitude == pytest.approx(300)
    water.boxes["pressure"].value = "40 pounds"
    assert "psi" in water.told.value


@pytest.mark.parametrize("size", ["3/4 in", '3/4"', "¾ in", "¾″", "3/4 inch"])
def test_the_size_of_a_pipe_is_read_however_the_inch_is_written(size):
    assert Pipe.nominal("copper L", size).name == "copper L 3/4 in"


@pytest.mark.parametrize(
    "words, kind, one",
    [
        ("flow [litres per minute]", "flow", "L/min"),
        ("flow (gal / min)", "flow", "gpm"),
        ("surface [degrees C]", "temperature", "degC"),
        ("temperature [deg. F]", "temperature", "degF"),
    ],
)
def test_over_a_column_of_the_bench_a_unit_is_read_as_in_a_box(words, kind, one):
    found = heading(words)
    assert (found.kind, found.unit) == (kind, one)


def test_a_reading_of_the_bench_stays_a_bare_number():
    """A column has one unit, over it. A cell with words is no reading, and is told."""
    assert number("41,5") == number("41.5") == 41.5
    assert all(math.isnan(number(cell)) for cell in ("41.5 °C", "1:20", "half", "3/4", "1 500"))
