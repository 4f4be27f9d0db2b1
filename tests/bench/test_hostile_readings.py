"""Tables of readings that no logger writes, and long ones: a sentence or the usable rows within two seconds, and not much memory."""

import subprocess
import sys
import time
from contextlib import contextmanager

import numpy as np
import pytest

from lessons_lib import InputError, Weather
from lessons_lib.bench import reading_columns
from lessons_lib.bench.readings import LARGEST, Readings
from lessons_lib.storage.reading_table import MOST_ROWS

HEAD = "time [min]; temperature [°C]"
ROWS = "".join(f"{place};{60 - place}\n" for place in range(5))


@contextmanager
def two_seconds():
    begun = time.process_time()
    yield
    assert time.process_time() - begun < 2


CELLS = {
    "400 digits": "1" * 400,
    "5000 digits": "1" * 5000,
    "a quoted cell of 200 kB": f'"{"x" * 200_000}"',
    "1e300": "1e300",
    "1e308": "1e308",
    "-1e300": "-1e300",
    "a quotation mark": '"',
    "400 digits and minutes": "1" * 400 + ":30",
    "brackets": "[" * 100_000,
    "not a number": "nan",
}


@pytest.mark.parametrize(
    "header", [HEAD, "clock; temperature [°C]", "time [min:s]; temperature [°C]", "time [h]; temperature [K]"]
)
@pytest.mark.parametrize("cell", CELLS)
def test_a_monstrous_cell_is_left_out_with_its_row(header, cell):
    kind = header.partition(";")[0]
    times = {"clock": "14:{:02d}", "time [min:s]": "{}:30"}.get(kind, "{}")
    warm = 300 if "[K]" in header else 50
    rows = "".join(f"{times.format(place)};{warm - place}\n" for place in range(5))
    for row in (f"{CELLS[cell]};{warm}\n", f"{times.format(7)};{CELLS[cell]}\n"):
        with two_seconds():
            found = Readings.from_text(f"{header}\n{rows}{row}{times.format(9)};{warm - 20}\n", "x")
        assert len(found.row) == 6 and [one.row for one in found.left_out] == [7], cell
        assert len(found.left_out[0].reason) < 200


@pytest.mark.parametrize("cell", CELLS)
@pytest.mark.parametrize("row", ["{},-5,1", "5,{},1", "5,-5,{}"], ids=["hour", "air", "wind"])
def test_a_monstrous_cell_of_weather_is_a_sentence(row, cell, tmp_path):
    file = tmp_path / "frost.csv"
    rows = "".join(f"{hour},{-hour},2\n" for hour in range(5))
    file.write_text(f"hour,air,wind\n{rows}{row.format(CELLS[cell])}\n6,-6,1\n", encoding="utf-8")
    with two_seconds(), pytest.raises(InputError, match="not a number|was given|nothing there") as caught:
        Weather.from_csv(file)
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize(
    "header, said",
    [
        ("[" * 200_000, "no column|no header"),
        ("(" * 90_000 + ";temperature [°C]", "no column for time"),
        ("time [" * 50_000, "unit"),
        (";".join(f"a{place}" for place in range(30_000)), "columns are too many"),
        (f'"{"time [min] " * 20_000}"', "temperature"),
        ("time [" + "x" * 200_000 + "]; temperature [°C]", "unit"),
    ],
)
def test_a_monstrous_header_is_a_sentence(header, said):
    with two_seconds(), pytest.raises(InputError, match=said) as caught:
        Readings.from_text(f"{header}\n{ROWS}", "x")
    assert len(str(caught.value)) < 500


def test_more_rows_than_any_bench_has():
    with two_seconds(), pytest.raises(InputError, match="rows are too many"):
        Readings.from_text(HEAD + "\n" * (MOST_ROWS + 2), "x")


def test_clocks_go_over_midnight_in_a_long_file(monkeypatch):
    """Also where the night falls between two parts of the file."""
    monkeypatch.setattr(reading_columns, "AT_ONCE", 3)
    rows = "".join(
        f"{hour:02d}:{minute:02d},50\n"
        for hour, minute in ((23, 50), (23, 55), (23, 58), (0, 5), (0, 10), (0, 20), (0, 25))
    )
    assert np.allclose(
        Readings.from_text(f"clock,temperature [°C]\n{rows}", "x").time.to("min").magnitude, [0, 5, 8, 15, 20, 30, 35]
    )


def test_a_long_file_takes_little_memory(tmp_path):
    """The process grows by at most ten times the file: 13 MB took 558 MB once. Files may be 20 MB."""
    file = tmp_path / "long.csv"
    file.write_text(
        HEAD + "\n" + "".join(f"{place * 0.05:.3f};{20 + 30 / (1 + place / 9e4):.4f}\n" for place in range(200_000)),
        encoding="utf-8",
    )
    if not sys.platform.startswith("linux"):
        pytest.skip("how much memory a process took at most is read as Linux tells it")
    code = (
        "import sys\nfrom lessons_lib.bench.readings import Readings\n"
        "def most(): return int(next(line for line in open('/proc/self/status') if line.startswith('VmHWM')).split()[1])\n"
        "Readings.from_text('time [s],temperature [°C]\\n1,2\\n2,3\\n3,4\\n4,5', 'x')\n"
        "before = most()\nfound = Readings.from_csv(sys.argv[1])\nprint(len(found.row), most() - before)"
    )
    ran = subprocess.run([sys.executable, "-c", code, str(file)], capture_output=True, text=True, check=True)
    count, grown = map(int, ran.stdout.split())
    assert count == 200_000 and grown * 1024 < 14 * file.stat().st_size, (
        f"{grown / 1024:.0f} MB for {file.stat().st_size / 1e6:.1f} MB"
    )
    assert LARGEST <= 20_000_000
