"""Invented files as loggers and people write them: dates, preambles, columns without a name, units that are missing."""

import numpy as np
import pytest

from lessons_lib import InputError, Readings
from lessons_lib.bench.checks import must_change
from lessons_lib.bench.reading_header import COLUMNS, DEGREES, NO_AIR, ORDER, STEPS, Chosen, Unclear, offer
from lessons_lib.quantities.units import Q_
from lessons_lib.storage.reading_table import clock, day_comes_first


def table(header: str, moments, mark=";") -> str:
    return "\n".join([header, *(f"{moment}{mark}{50 - row}" for row, moment in enumerate(moments))])


def minutes(text: str, **chosen):
    return Readings.from_text(text, "leg.csv", chosen=Chosen(**chosen)).time.to("min").magnitude.tolist()


EVERY_FIVE = [0, 5, 10, 15, 20]
MOMENTS = {  # five readings, five minutes apart
    "dots": [f"05.03.2026 14:{m:02d}" for m in range(0, 25, 5)],
    "dots and seconds": [f"05.03.2026 14:{m:02d}:00" for m in range(0, 25, 5)],
    "dots and a short year": [f"5.3.26 14:{m:02d}" for m in range(0, 25, 5)],
    "slashes and pm": [f"03/05/2026 2:{m:02d} PM" for m in range(0, 25, 5)],
    "slashes, day above twelve": ["13/03/2026 23:55", *(f"14/03/2026 00:{m:02d}" for m in range(0, 20, 5))],
    "slashes, month first": ["03/13/2026 11:55 pm", *(f"03/14/2026 12:{m:02d} am" for m in range(0, 20, 5))],
    "ISO": [f"2026-03-05T14:{m:02d}:00" for m in range(0, 25, 5)],
    "ISO with a zone": ["2026-03-05T14:00:00Z", *(f"2026-03-05T15:{m:02d}:00.000+01:00" for m in range(5, 25, 5))],
    "year first": ["2026/03/05 23:55", *(f"2026/03/06 00:{m:02d}" for m in range(0, 20, 5))],
    "over the end of a month": ["28.02.2026 23:55", *(f"01.03.2026 00:{m:02d}" for m in range(0, 20, 5))],
    "over the end of a year": ["31.12.2025 23:55", *(f"01.01.2026 00:{m:02d}" for m in range(0, 20, 5))],
    "months by name": ["5 Mar 2026 23:55", *(f"6 Mar 2026 00:{m:02d}" for m in range(0, 20, 5))],
    "a clock without dates": ["23:55", *(f"0:{m:02d}" for m in range(0, 20, 5))],
}


@pytest.mark.parametrize("kind", MOMENTS)
@pytest.mark.parametrize("header", ["Timestamp;Temp [°C]", "Date/Time;Temp [°C]", "Datum;Temperatur [°C]"])
def test_dates_as_people_and_loggers_write_them(kind, header):
    assert minutes(table(header, MOMENTS[kind])) == EVERY_FIVE


def test_a_comma_in_a_date_stands_in_quotation_marks():
    assert minutes(table("Time,Temp C", [f'"Mar 5, 2026 2:{m:02d} pm"' for m in range(0, 25, 5)], ",")) == EVERY_FIVE


def test_date_and_clock_in_two_columns():
    days = ["05.03.2026;23:55", *(f"06.03.2026;00:{m:02d}" for m in range(0, 20, 5))]
    assert minutes(table("Datum;Uhrzeit;Temp [°C]", days)) == EVERY_FIVE


TWO_DAYS = ["03/05/2026 11:50 PM", "03/05/2026 11:55 PM", *(f"03/06/2026 12:0{m} AM" for m in range(3))]


def test_where_day_and_month_cannot_be_told_the_reader_is_asked():
    text = table("Time;Temp F", TWO_DAYS)
    with pytest.raises(Unclear, match="^leg.csv: 03/05/2026 may be read with the day first or with the month") as asked:
        minutes(text)
    assert asked.value.asks == ORDER
    assert minutes(text, day_first=False) == [0, 5, 10, 11, 12]
    assert minutes(text, day_first=True)[:3] == [0, 5, 30 * 24 * 60 + 10], "from the 3rd of May to the 3rd of June"


def test_what_the_dates_tell_counts_more_than_what_was_chosen():
    assert minutes(table("Time;Temp F", MOMENTS["slashes, month first"]), day_first=True) == EVERY_FIVE


@pytest.mark.parametrize(
    "dates, told",
    [
        (["05.03.2026", "06.03.2026"], True),
        (["05/03/2026", "06/03/2026"], None),
        (["05/03/2026"], True),  # all on one day: it makes no difference
        (["12-31-2026", "12-30-2026"], False),
        (["2026-03-05", "2026-03-06"], True),
        (["5 Mar 2026", "6 Mar 2026"], True),
    ],
)
def test_which_comes_first(dates, told):
    assert day_comes_first(dates) is told


def test_two_orders_in_one_file_are_refused():
    moments = ["13/03/2026 10:00", "03/14/2026 10:00", "15/03/2026 10:00", "16/03/2026 10:00", "17/03/2026 10:00"]
    with pytest.raises(InputError, match="some dates have the day first and others the month. Write all of them alike"):
        minutes(table("Time;Temp F", moments))


def test_a_date_that_is_none_is_left_out_with_its_row():
    found = Readings.from_text(table("Time;Temp C", [*MOMENTS["dots"][:2], "35.03.2026 14:07", *MOMENTS["dots"][2:]]))
    assert found.left_out == ((4, '"35.03.2026" is no date'),) and len(found.row) == 5


@pytest.mark.parametrize("text", ["Mar 2026 14:03", "2026 14:03", "Foo 5 2026 14:03", "1.2 14:03"])
def test_half_a_date_is_none(text):
    assert np.isnan(clock(text))


# --- preamble ---

PREAMBLES = {
    "words": "Invented logger T-1\nSerial number 12345\n",
    "pairs": "Serial;12345\nInterval;60;s\nRange;-40;85;°C\n",
    "a spreadsheet's mark": "sep=;\n",
    "words of a header": "Temperature logger; time zone UTC\n\n# a comment\n",
    "blank lines": "\n;;\nMade with nothing\n\n",
}


@pytest.mark.parametrize("kind", PREAMBLES)
def test_a_loggers_lines_above_the_header_are_passed_over(kind):
    for header in ("Time;Temp [°C]", "Zeit;Temperatur °C"):
        text = PREAMBLES[kind] + table(header, MOMENTS["dots"])
        found = Readings.from_text(text)
        assert found.time.to("min").magnitude.tolist() == EVERY_FIVE and found.left_out == ()
        first = PREAMBLES[kind].count("\n") + 1
        assert found.row[0] == first + 1 and offer(text, "x").header_row == first


def test_a_comment_or_a_blank_line_is_no_preamble():
    assert offer("# invented\n\n" + table("Time;Temp [°C]", MOMENTS["dots"]), "x").header_row == 0


def test_a_bad_first_row_does_not_make_a_preamble_of_the_header():
    found = Readings.from_text("time [min];Temp [°C]\nstart;-\nx;y\n0;50\n1;49\n2;48\n3;47")
    assert [one.row for one in found.left_out] == [2, 3] and len(found.row) == 4


# --- columns, and units that are missing ---

ROWS = "\n".join(f"{n};{50 - n};{20 + n}" for n in range(5))


def test_two_columns_that_cannot_be_told_apart_are_asked_for():
    text = f"time [min];T1 [C];T2 [C]\n{ROWS}"
    with pytest.raises(Unclear, match="does not say which one is the pipe's. Choose the columns") as asked:
        Readings.from_text(text)
    assert asked.value.asks == COLUMNS
    assert offer(text, "x").columns == ("time [min] (0, 1, 2)", "T1 [C] (50, 49, 48)", "T2 [C] (20, 21, 22)")
    one = Readings.from_text(text, chosen=Chosen(temperature=1, air=2))
    assert one.temperature.magnitude[0] == 50 and one.air.magnitude[0] == 20
    other = Readings.from_text(text, chosen=Chosen(air=1))
    assert other.temperature.magnitude[0] == 20 and other.air.magnitude[0] == 50, "what is left is the pipe's"
    assert Readings.from_text(text, chosen=Chosen(temperature=2)).air is None


@pytest.mark.parametrize("name", ["air [C]", "Ambient °C", "Room_C", "air temp [C]", "Luft [°C]"])
def test_the_air_is_known_by_its_header(name):
    text = f"time [min];pipe [C];{name}\n{ROWS}"
    assert Readings.from_text(text).air.magnitude.tolist() == [20, 21, 22, 23, 24]
    assert Readings.from_text(text, chosen=Chosen(air=NO_AIR)).air is None
    alone = f"time [min];{name};note\n{ROWS}"
    assert Readings.from_text(alone).temperature.magnitude[0] == 50, "the only temperature is the one that is asked for"


@pytest.mark.parametrize("name", ["Air pressure [hPa]", "Room humidity [%]", "water flow [x]"])
def test_other_things_of_air_and_water_are_passed_over(name):
    assert Readings.from_text(f"time [min];pipe [C];{name}\n{ROWS}").air is None


def test_columns_without_a_name_are_chosen():
    text = f"Channel 1;Channel 2;Channel 3\n{ROWS}"
    asks = []
    for chosen in (Chosen(), Chosen(0), Chosen(0, 1), Chosen(0, 1, degrees="degF")):
        with pytest.raises(Unclear) as asked:
            Readings.from_text(text, chosen=chosen)
        asks.append(asked.value.asks)
    assert asks == [COLUMNS, STEPS, STEPS, STEPS]
    found = Readings.from_text(text, chosen=Chosen(0, 1, 2, "degC", "hour"))
    assert found.time.magnitude[1] == 3600 and found.temperature.magnitude[0] == 50 and found.air.magnitude[0] == 20


def test_a_unit_is_asked_for_and_never_guessed():
    text = table("clock;temperature", MOMENTS["a clock without dates"])
    with pytest.raises(Unclear, match='"temperature": the unit is missing. Choose it') as asked:
        Readings.from_text(text)
    assert asked.value.asks == DEGREES
    assert Readings.from_text(text, chosen=Chosen(degrees="degF")).temperature.magnitude[0] == pytest.approx(10)
    assert Readings.from_text(text, chosen=Chosen(degrees="degC")).temperature.magnitude[0] == 50
    named = table("clock;temperature [°C]", MOMENTS["a clock without dates"])
    assert Readings.from_text(named, chosen=Chosen(degrees="degF")).temperature.magnitude[0] == 50


@pytest.mark.parametrize("place", [-3, 7])
def test_a_column_that_is_no_longer_there_is_asked_for(place):
    with pytest.raises(Unclear, match="no column for temperature"):
        Readings.from_text(f"time [min];T1 [C];T2 [C]\n{ROWS}", chosen=Chosen(temperature=place))


# --- noise ---


def flat(values) -> bool:
    try:
        must_change(Readings(Q_(values, "degC"), Q_(np.arange(len(values)), "min")), "")
    except InputError as refusal:
        assert "flat" in str(refusal)
        return True
    return False


@pytest.mark.parametrize("count", [30, 300])
def test_noisy_readings_that_fall_are_not_flat(count):
    """A fall of 15 K is seen through readings that jump by 4 K from one to the next; noise alone stays flat."""
    fall, jumps = np.linspace(50, 35, count), 2 * (-1.0) ** np.arange(count)
    assert not flat(fall + jumps) and flat(45 + jumps)
    dice = np.random.default_rng(1)
    assert sum(flat(45 + 3 * dice.standard_normal(count)) for _ in range(40)) >= 39
