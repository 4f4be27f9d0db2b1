"""Readings as people write them: units and spellings, what is left out and why, and files that cannot be used at all."""

import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError, Readings
from lessons_lib.storage.reading_table import clock, heading, number, span, text_of

MINUTES, CELSIUS = [0, 2, 4, 6, 8], [58.0, 55.0, 52.5, 50.0, 48.0]


def table(header: str, rows, delimiter=",") -> str:
    return "\n".join([header, *(delimiter.join(str(cell) for cell in row) for row in rows)])


PLAIN = table("time [min],temperature [°C]", zip(MINUTES, CELSIUS))


@pytest.mark.parametrize(
    "text, expected",
    [
        ("time [min]", ("time", "min")),
        ("Time (s)", ("time", "s")),
        ("time s", ("time", "s")),
        ("minutes", ("time", "min")),
        ("elapsed time / h", ("time", "hour")),
        ("time_min", ("time", "min")),
        ("clock", ("time", "clock")),
        ("Zeit [s]", ("time", "s")),
        ("stopwatch [min:s]", ("time", "min:s")),
        ("time [hh:mm:ss]", ("time", "h:min")),
        ("temperature (°F)", ("temperature", "degF")),
        ("Temp °C", ("temperature", "degC")),
        ("Temp C", ("temperature", "degC")),
        ("temp_F", ("temperature", "degF")),
        ("T/°C", ("temperature", "degC")),
        ("T [ºC]", ("temperature", "degC")),
        ("T [℉]", ("temperature", "degF")),
        ("deg F", ("temperature", "degF")),
        ("water [K]", ("temperature", "kelvin")),
        ("place [ft]", ("place", "ft")),
        ("distance in m", ("place", "m")),
        ("along [in]", ("place", "in")),
        ("flow [L/min]", ("flow", "L/min")),
        ("flow gpm", ("flow", "gpm")),
        ("Flow (l / min)", ("flow", "L/min")),
        ("time", ("time", None)),
        ("Temp", ("temperature", None)),
        ("time [m]", ("time", None)),
        ("water in", ("temperature", None)),
        ("humidity [%]", ("", None)),
        ("note", ("", None)),
    ],
)
def test_headings(text, expected):
    found = heading(text)
    assert (found.kind, found.unit) == expected


@pytest.mark.parametrize(
    "text, value",
    [
        ("12.5", 12.5),
        ("12,5", 12.5),
        (" −3 ", -3.0),
        ("1e2", 100.0),
        ("1.234,5", None),
        ("1,2,3", None),
        ("1_000", None),
        ("nan", None),
        ("inf", None),
        ("12 °C", None),
        ("", None),
    ],
)
def test_numbers(text, value):
    assert np.isnan(number(text)) if value is None else number(text) == value


@pytest.mark.parametrize(
    "text, hours",
    [
        ("14:03", 14.05),
        ("2:03 pm", 14.05),
        ("2:03PM", 14.05),
        ("2:03 p.m.", 14.05),
        ("12:03 am", 0.05),
        ("12:03 pm", 12.05),
        ("0:00", 0.0),
        ("14:03:36", 14.06),
        ("14:03:36,0", 14.06),
        ("24:00", None),
        ("14:60", None),
        ("13:00 pm", None),
        ("0:30 am", None),
        ("14.03", None),
        ("2025-13-01 14:03", None),
    ],
)
def test_clock_times(text, hours):
    assert np.isnan(clock(text)) if hours is None else clock(text) == pytest.approx(3600 * hours, abs=1e-6)


def test_clock_times_with_dates_count_days():
    assert clock("2025-11-03 00:10") - clock("2025-11-02T23:50") == 1200


@pytest.mark.parametrize(
    "text, unit, seconds",
    [
        ("12:30", "min:s", 750),
        ("1:12:30", "min:s", 4350),
        ("1:12", "h:min", 4320),
        ("0:01.5", "min:s", 1.5),
        ("12:75", "min:s", None),
        ("750", "min:s", None),
    ],
)
def test_stopwatches(text, unit, seconds):
    assert np.isnan(span(text, unit)) if seconds is None else span(text, unit) == seconds


SAME = {
    "comments and blank lines": "# by hand\n\n" + PLAIN.replace("\n4,", "\n\n# half time\n4,") + "\n\n",
    "byte order mark": "\ufeff" + PLAIN,
    "carriage returns": PLAIN.replace("\n", "\r\n"),
    "semicolons": PLAIN.replace(",", ";"),
    "decimal commas": PLAIN.replace(",", ";").replace(".", ","),
    "quoted decimal commas": table(
        "time [min],temperature [°C]", [(time, f'"{value}"'.replace(".", ",")) for time, value in zip(MINUTES, CELSIUS)]
    ),
    "tabs": PLAIN.replace(",", "\t"),
    "seconds": table("time s,Temp C", [(60 * time, value) for time, value in zip(MINUTES, CELSIUS)]),
    "hours": table("t [h],T [°C]", [(time / 60, value) for time, value in zip(MINUTES, CELSIUS)]),
    "fahrenheit": table(
        "minutes,temperature (°F)", [(time, 1.8 * value + 32) for time, value in zip(MINUTES, CELSIUS)]
    ),
    "kelvin": table("minutes,temperature (K)", [(time, value + 273.15) for time, value in zip(MINUTES, CELSIUS)]),
    "clock": table("time,temp [C]", [(f"14:{time:02d}", value) for time, value in zip(MINUTES, CELSIUS)]),
    "clock with seconds": table(
        "clock,temp [C]", [(f"14:{time:02d}:00", value) for time, value in zip(MINUTES, CELSIUS)]
    ),
    "half-day clock": table("clock,temp [C]", [(f"2:{time:02d} pm", value) for time, value in zip(MINUTES, CELSIUS)]),
    "over midnight": table("clock,temp [C]", zip(["23:57", "23:59", "0:01", "0:03", "0:05"], CELSIUS)),
    "over noon": table("clock,temp [C]", zip(["11:57 am", "11:59 am", "12:01 pm", "12:03 pm", "12:05 pm"], CELSIUS)),
    "stopwatch": table("time [min:s],temp [C]", [(f"{time}:00", value) for time, value in zip(MINUTES, CELSIUS)]),
    "columns swapped, others between": table(
        "temp [C],note,humidity [%],time [min]", [(value, "x", 40, time) for time, value in zip(MINUTES, CELSIUS)]
    ),
}


@pytest.mark.parametrize("text", SAME.values(), ids=SAME)
def test_one_table_in_many_spellings(text):
    readings = Readings.from_text(text)
    assert readings.left_out == () and len(readings.row) == 5
    np.testing.assert_allclose(readings.time.magnitude, 60.0 * np.array(MINUTES), atol=1e-9)
    np.testing.assert_allclose(readings.temperature.magnitude, CELSIUS, atol=1e-9)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings(encoding):
    assert text_of(PLAIN.encode(encoding), "a.csv").lstrip("\ufeff") == PLAIN


LEFT_OUT = [  # rows to put after the two good ones, and (row, words) of what must be left out
    (["4,", "6,50", "8,48"], [(4, "no temperature")]),
    ([",51", "6,50", "8,48"], [(4, "no time")]),
    (["4,err", "6,50", "8,48"], [(4, '"err" is not a number (temperature)')]),
    (["4,52 °C", "6,50", "8,48"], [(4, "units belong in the header")]),
    (["4;52", "6,50", "8,48"], [(4, "is not a number")]),
    (["2,54", "6,50", "8,48"], [(4, "the same time as row 3")]),
    (["1,54", "6,50", "8,48"], [(4, "earlier than row 3")]),
    (["4,53", "900,52", "6,50", "8,48", "10,47"], [(5, "later than the rows after it")]),
    (["4,-127", "6,50", "8,48"], [(4, "-127 °C is outside the possible range of a temperature, -60 °C to 100 °C")]),
    (["4,85000", "6,50", "8,48"], [(4, "outside the possible range")]),
    (
        ["4,52,1", "6,50", "8,48"],
        [(4, "3 cells where the header has 2; with decimal commas, part the columns with semicolons")],
    ),
    (["4", "6,50", "8,48"], [(4, "no temperature")]),
    (["4,nan", "6,inf", "8,48", "10,47"], [(4, "not a number"), (5, "not a number")]),
]


@pytest.mark.parametrize("rows, expected", LEFT_OUT, ids=[" ".join(rows) for rows, _ in LEFT_OUT])
def test_rows_left_out_say_why(rows, expected):
    readings = Readings.from_text("\n".join(["time [min],temperature [°C]", "0,58", "2,55", *rows]))
    assert [row for row, _ in readings.left_out] == [row for row, _ in expected]
    assert all(words in one.reason for one, (_, words) in zip(readings.left_out, expected)), readings.left_out
    assert not set(readings.row) & {row for row, _ in expected} and len(readings.row) + len(expected) == 2 + len(rows)
    assert f"row {expected[0][0]}" in str(readings)


def test_a_row_that_ends_early_lacks_what_would_have_stood_there():
    """Whatever number of cells is missing, and wherever the next row's stand."""
    rows = ["0,58,x,20", "2,55,x", "4,53", "6", "8,50,x,22"]
    readings = Readings.from_text("\n".join(["time [min],pipe [°C],note,air [°C]", *rows]))
    assert readings.left_out == ((5, "no temperature"),) and readings.row.tolist() == [2, 3, 4, 6]
    assert readings.air.magnitude == pytest.approx([20, 20 + 2 / 3, 20 + 4 / 3, 22])


def test_out_of_range_is_said_in_the_readers_unit():
    readings = Readings.from_text(table("time [s],temp [F]", [(0, 130), (1, 129), (2, 1850), (3, 128), (4, 127)]))
    assert readings.left_out[0].reason.startswith("1850 °F") and "212 °F" in readings.left_out[0].reason


UNUSABLE = {
    "nothing but comments": ("# a\n\n# b", "header: there is nothing but comments"),
    "no header": ("0,58\n2,55\n4,52\n6,50", "row 1: there is no header, the first row reads 0, 58"),
    "time without unit": (PLAIN.replace(" [min]", ""), 'row 1: column "time": the unit is missing'),
    "temperature without unit": (
        "# c\n" + PLAIN.replace(" [°C]", ""),
        'row 2: column "temperature": the unit is missing',
    ),
    "unknown unit": (PLAIN.replace("[min]", "[fortnight]"), '"fortnight" is not a unit of time'),
    "metres for minutes": (PLAIN.replace("[min]", "[m]"), '"m" is not a unit of time'),
    "no temperature": (PLAIN.replace("temperature [°C]", "humidity [%]"), "row 1: no column for temperature"),
    "no time": (PLAIN.replace("time [min]", "note"), "row 1: no column for time"),
    "two temperatures": (
        "time s,T1 [C],T2 [C]\n1,2,3",
        r'two columns for temperature, "T1 \[C\]" and "T2 \[C\]"',
    ),
    "header only": ("time [min],temperature [°C]", "no usable row of 0"),
    "one row only": ("time [min],temperature [°C]\n0,58", "1 usable row of 1; a fit"),
    "two rows only": ("time [min],temperature [°C]\n0,58\n2,55", r"2 usable rows of 2 \(rows 2 to 3\)"),
    "no usable row": (
        "time [min],temperature [°C]\n0,a\n2,b\n4,c\n6,d",
        'no usable row of 4 .*row 2: "a" is not a number',
    ),
    "decimal commas between commas": (PLAIN.replace(".", ","), "row 2: 3 cells where the header has 2"),
}


@pytest.mark.parametrize("text, words", UNUSABLE.values(), ids=UNUSABLE)
def test_tables_that_cannot_be_used(text, words):
    with pytest.raises(InputError, match=f"^bench.csv.*{words}"):
        Readings.from_text(text, "bench.csv")


@pytest.mark.parametrize(
    "raw, words",
    [
        (b"", "the file is empty"),
        (b"  \n", "the file is empty"),
        (b"PK\x03\x04\x00\x01 a workbook", "this is not text"),
        (bytes(range(256)), "this is not text"),
    ],
)
def test_files_that_are_not_tables(tmp_path, raw, words):
    file = tmp_path / "bench.csv"
    file.write_bytes(raw)
    with pytest.raises(InputError, match=f"^bench.csv.*{words}"):
        Readings.from_csv(file)


def test_files_that_are_not_there(tmp_path):
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(InputError, match="cannot be opened"):
            Readings.from_csv(path)


def test_one_of_several_temperatures_is_chosen_by_a_word():
    text = "clock,pipe [C],air [C]\n" + "\n".join(f"14:0{n},{50 - n},20" for n in range(5))
    assert Readings.from_text(text, temperature="pipe").temperature.magnitude[0] == 50
    assert Readings.from_text(text, temperature="Air").temperature.magnitude[0] == 20


def test_places_along_a_run_may_come_in_any_order():
    readings = Readings.from_text("place [ft],Temp °F,flow [gpm]\n10,130,0.5\n0,140,0.5\n20,122,0.5\n10,130,0.5")
    assert readings.along and readings.time is None and readings.left_out == ()
    np.testing.assert_allclose(readings.place.magnitude, np.array([10, 0, 20, 10]) * 0.3048)
    np.testing.assert_allclose(readings.flow.to("gpm").magnitude, 0.5)


def test_typed_rows_count_as_they_stand():
    """Cells as text or numbers; rows that were left empty do not count, but keep their number."""
    rows = [(0, "58"), (2, 55.0), ("", None), (4, "x"), ("6", "50"), (8, 48)]
    readings = Readings.typed(("time [min]", "temperature [°C]"), rows)
    assert list(readings.row) == [1, 2, 5, 6] and readings.left_out[0].row == 4
    with pytest.raises(InputError, match="^your table, header: column .time.: the unit is missing"):
        Readings.typed(("time", "temperature [°C]"), rows)


def test_the_readers_file_stays_as_it_was(tmp_path):
    file = tmp_path / "bench.csv"
    file.write_bytes(("\ufeff" + PLAIN.replace("52.5", "err")).encode())
    before, when = file.read_bytes(), file.stat().st_mtime_ns
    Readings.from_csv(file)
    assert file.read_bytes() == before and file.stat().st_mtime_ns == when and list(tmp_path.iterdir()) == [file]


def test_from_quantities_and_what_they_refuse():
    good = Q_(np.array(CELSIUS), "degC")
    assert list(Readings(good.to("degF"), Q_(np.array(MINUTES), "min")).row) == [1, 2, 3, 4, 5]
    for arguments, words in [
        ((good,), "either the times or the places"),
        ((good, Q_(np.arange(4.0), "min")), "time has 4 values for 5"),
        ((good[:3], Q_(np.arange(3.0), "min")), "3 readings; a fit needs at least 4"),
        ((good, Q_(np.array([0, 1, 1, 2, 3]), "min")), "row 3 is not later than row 2"),
        ((Q_(np.array(CELSIUS), "m"), good), "is not a time|is not a temperature"),
    ]:
        with pytest.raises(InputError, match=words):
            Readings(*arguments)


def test_saved_and_read_again():
    readings = Readings.from_text(PLAIN.replace("50.0", "err"), "bench.csv")
    again = Readings.from_data(json.loads(json.dumps(readings.to_data())))
    assert str(again) == str(readings) and again.left_out == readings.left_out and list(again.row) == list(readings.row)
    np.testing.assert_array_equal(again.temperature.magnitude, readings.temperature.magnitude)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: None,
        lambda data: [],
        lambda data: data | {"temperature": {"value": ["x"], "unit": "degC"}},
        lambda data: {"row": [1]},
        lambda data: data | {"time": {"value": [1, 2], "unit": "nonsense"}},
        lambda data: data | {"row": ["a"]},
        lambda data: data | {"left_out": 5},
    ],
)
def test_saved_data_that_were_spoiled(spoil):
    with pytest.raises(InputError):
        Readings.from_data(spoil(Readings.from_text(PLAIN).to_data()))


def test_thinned_readings_keep_every_spike():
    count = 20_011
    values = np.linspace(60, 20, count)
    values[[7, 11_111, 20_010]] = 99, 1, 5
    readings = Readings(Q_(values, "degC"), Q_(np.arange(count), "s"))
    thin = readings.thinned(500)
    assert len(thin.row) <= 500 and {8, 11_112, 20_011} <= set(thin.row) and np.all(np.diff(thin.row) > 0)
    assert readings.thinned(count) is readings


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_any_text_gives_readings_or_an_input_error(text):
    for whole in (text, "time [s],temp [C]\n" + text):
        try:
            assert len(Readings.from_text(whole).row) >= 4
        except InputError as refusal:
            assert len(str(refusal)) > 20


@settings(max_examples=40, deadline=None)
@given(st.lists(st.one_of(st.integers(-5, 60), st.none()), min_size=6, max_size=40))
def test_what_is_kept_rises_in_time_and_nothing_is_lost(times):
    text = table("time [s],temp [C]", [("" if time is None else time, 50) for time in times])
    try:
        readings = Readings.from_text(text)
    except InputError:
        return
    assert np.all(np.diff(readings.time.magnitude) > 0)
    assert sorted([*readings.row, *(one.row for one in readings.left_out)]) == list(range(2, 2 + len(times)))
