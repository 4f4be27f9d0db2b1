"""The tables: each says its source, parses, repeats nothing; the demo scenario says that it is invented, and runs.
And an installed wheel carries them all."""

import csv
import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import nbformat
import numpy as np
import pytest
from nbclient import NotebookClient

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess
from lessons_lib.runs.pipe import aloud, in_full
from lessons_lib.storage import tables

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "data"
DEMO_READINGS = sorted(
    (DATA / "bench").glob("*.csv")
)  # as a bench gives them, with rows that cannot be read: tests/test_bench_demo.py
TABLES = sorted(set(DATA.rglob("*.csv")) - set(DEMO_READINGS))
PLACES = sorted((DATA / "tern_bank").glob("*.toml"))
# What makes a row one of its kind; a table that is not listed must not repeat a whole row.
KEYS = {
    "pipes": ("family", "size"),
    "insulation": ("material", "mean_temperature"),
    "surfaces": ("surface",),
    "soils": ("soil",),
    "ice": ("property",),
    "pipe_materials": ("material",),
    "burn_times": ("column", "temperature"),
    "code_limits": ("region", "where"),
    "water": ("temperature",),
    "air": ("temperature",),
}
# Columns that may be empty: what a row does not say. Everywhere else an empty cell is a mistake.
MAY_BE_EMPTY = {
    "fittings": {"bores", "bore", "feet", "heads", "flow", "pressure"},
    "relief_settings": {"low_degC", "high_degC", "low_degF", "high_degF", "kPa", "psi"},
    "bacteria_bands": {"low", "high", "minutes_low", "minutes_high"},
    "work_order": {"caution"},
    "session_minutes": {"meanwhile", "begin"},
    "kit": {"kg"},
    "discharge_rules": {"low", "low_sizes"},
    "discharge_sizes": {"first", "most_elbows"},
    "joints": {"last", "insert", "us_limits"},
    "mixing_valves": {"low", "high"},
    "pressure_tests": {"least_air"},
    "pipe_materials": {"highest_taped", "note"},
    "surfaces": {"material"},
    "burn_times": {"note"},
    "stock_lengths": {"outside_diameter"},
    "metals": {"potential"},
    "metals_together": {"value", "unit"},
    "plastic_pipes": {"class", "kPa"},
    "cables": {"carries"},
}
REFERENCE = (
    "common practice, no source",
    "IAPWS",
    "Lemmon",
    "Melinder",
    "Span and Wagner",
)  # the formulations that tables without a source column come from
every_table = pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
every_place = pytest.mark.parametrize("path", PLACES, ids=lambda path: path.stem)


def head(path: Path) -> str:
    """The comment lines that a file begins with."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return "\n".join(line for line in lines[: next(i for i, line in enumerate(lines) if not line.startswith("#"))])


def rows(path: Path) -> list[dict]:
    """The rows as they stand in the file, read here without the library."""
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@every_table
def test_head_says_what_and_in_which_units(path):
    assert head(path).startswith("# ")
    assert "Unit" in head(path) or "unit" in rows(path)[0]


@every_table
def test_source_of_every_row(path):
    table = rows(path)
    if "source" in table[0]:
        assert all(row["source"].strip() for row in table)
    else:
        assert any(word in head(path) for word in REFERENCE)


@every_table
def test_rows_are_whole_and_numbers_parse(path):
    """No missing or surplus cell; none empty but where a row may say nothing; a column that begins with a number
    holds numbers only."""
    table = rows(path)
    assert all(None not in row and None not in row.values() for row in table)
    for name in table[0]:
        filled = [row[name] for row in table if row[name].strip()]
        assert filled and (len(filled) == len(table) or name in MAY_BE_EMPTY.get(path.stem, ())), name
        try:
            float(filled[0])
        except ValueError:
            continue
        assert np.all(np.isfinite([float(cell) for cell in filled])), name


@every_table
def test_no_row_twice(path):
    table = rows(path)
    keys = KEYS.get(path.stem, tuple(table[0]))
    seen = [tuple(row[key].strip().lower() for key in keys) for row in table]
    assert len(seen) == len(set(seen))


def test_how_known_is_said_in_the_agreed_words():
    for row in tables.rows("pipes"):
        assert row["how_known"].startswith(("as quoted in secondary literature", "from memory"))


@pytest.mark.parametrize(
    "name, group, along",
    [
        ("insulation", "material", "mean_temperature"),
        ("burn_times", "column", "temperature"),
    ],
)
def test_points_of_a_curve_stand_in_rising_order(name, group, along):
    """Reading between points takes their order for granted; hotter water must burn sooner."""
    for one in {row[group] for row in tables.rows(name)}:
        points = [row for row in tables.rows(name) if row[group] == one]
        assert np.all(np.diff([float(row[along]) for row in points]) > 0)
        if name == "burn_times":
            assert np.all(np.diff([float(row["seconds"]) for row in points]) <= 0)


def test_sizes_as_the_trade_of_each_country_buys_them():
    """A plain 15 mm is the Continent's tube; the UK's is thinner and stands beside it. The control says the wall."""

    def wall(family, size):
        pipe = Pipe.nominal(family, size)
        return (pipe.outside_diameter - pipe.inside_diameter).to("mm").magnitude / 2, pipe.region

    assert wall("copper EN 1057", "15 mm") == (pytest.approx(1), "Europe")
    assert wall("copper EN 1057", "15 mm x 0.7 mm") == (pytest.approx(0.7), "United Kingdom")
    assert wall("copper EN 1057", "22 mm x 0.9 mm") == (pytest.approx(0.9), "United Kingdom")
    assert wall("PEX BS 7291", "22 mm") == (pytest.approx(2), "United Kingdom")
    assert wall("copper L", "1/2 in")[1] == "United States"
    assert (
        in_full("copper EN 1057", "15 mm") == "15 × 1 mm"
        and in_full("copper EN 1057", "22 mm x 0.9 mm") == "22 × 0.9 mm"
    )
    assert in_full("copper L", "1/2 in") == "1/2 in"
    assert aloud("copper EN 1057", "15 mm x 0.7 mm") == "15 mm copper (0.7 mm wall)"
    assert aloud("copper EN 1057", "15 mm") == "15 mm copper" and aloud("copper L", "1/2 in") == "1/2 in copper"


@pytest.mark.parametrize("name", ["pipes", "support_spacing", "speed_limits"])
def test_regions_are_those_of_the_pipes(name):
    assert {row["region"] for row in tables.rows(name)} == {"United States", "United Kingdom", "Europe"}


def test_walls_leave_a_bore():
    for row in tables.rows("pipes"):
        assert 0 < 2 * float(row["wall"]) < float(row["outside_diameter"]), row


@pytest.mark.parametrize(
    "path", [*PLACES, DATA / "tern_bank" / "README.txt", *DEMO_READINGS], ids=lambda path: path.name
)
def test_demo_files_say_that_they_are_invented(path):
    assert "INVENTED" in path.read_text(encoding="utf-8").splitlines()[0]


@every_table
def test_rows_of_the_workbook_itself_say_that_they_are_invented(path):
    for row in rows(path):
        if "this workbook" in " ".join(row.values()):
            assert "invented" in row["source"]


@every_place
def test_every_demo_run_is_assessed(path):
    place = tomllib.loads(path.read_text(encoding="utf-8"))
    assert place["name"] and place["about"] and place["run"]
    for entry in place["run"]:
        cover = (
            Insulation.none()
            if entry["insulation"] == "none"
            else Insulation(entry["insulation"], Q_(entry["thickness"], "mm"))
        )
        around = Surroundings(Q_(entry["air"], "degC"), wind=Q_(entry["wind"], "m/s"))
        run = Run(Pipe.nominal(entry["pipe"], entry["size"]), Q_(entry["length"], "m"), cover, around)
        found = assess(
            run, Q_(entry["set_temperature"], "degC"), Q_(entry["flow"], "L/min"), start=Q_(entry["cold_inlet"], "degC")
        )
        assert found.tap.word in {"hot enough", "lukewarm", "cold"}, entry["name"]
        assert 0 < found.tap.value.magnitude <= entry["set_temperature"]


def test_the_library_reads_every_place():
    names = {place["name"] for place in tables.tern_bank()}
    assert names == {tomllib.loads(path.read_text(encoding="utf-8"))["name"] for path in PLACES}
    assert len(names) == len(PLACES)


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """The wheel, unpacked outside the checkout."""
    pytest.importorskip("hatchling", reason="the build back end is needed to build a wheel without the internet")
    folder = tmp_path_factory.mktemp("wheel")
    build = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "--no-deps",
        "--no-build-isolation",
        "--quiet",
        "--wheel-dir",
        folder,
        ROOT,
    ]
    subprocess.run(build, check=True, capture_output=True, text=True)
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as wheel:
        wheel.extractall(folder / "site")
    return folder / "site"


def test_wheel_carries_every_table(installed):
    inside = installed / "lessons_lib" / "data"
    wanted = {file.relative_to(DATA) for file in DATA.rglob("*") if file.suffix in {".csv", ".toml", ".txt"}}
    assert wanted <= {file.relative_to(inside) for file in inside.rglob("*")}


def test_installed_wheel_finds_its_tables(installed, tmp_path):
    """In a fresh interpreter that sees the wheel and not the checkout."""
    code = (
        "import lessons_lib; from lessons_lib import Pipe; from lessons_lib.storage import tables;"
        "print(lessons_lib.__file__); print(tables.DATA); print(Pipe.nominal('copper L', '1/2 in').name)"
    )
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"} | {
        "PYTHONPATH": str(installed)
    }
    run = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, env=environment, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
    package, data, name = run.stdout.splitlines()
    assert Path(package).is_relative_to(installed) and Path(data).is_relative_to(installed)
    assert name == "copper L 1/2 in"


def test_a_lesson_runs_where_only_the_wheel_is_installed(installed, tmp_path):
    """As a hosted launcher does it: installed from pyproject.toml, opened in the folder of the workbooks."""
    lesson = tmp_path / "workbooks" / "02-how-hot-at-the-tap.ipynb"
    lesson.parent.mkdir()
    shutil.copy(ROOT / "workbooks" / lesson.name, lesson)
    page = nbformat.read(lesson, as_version=4)
    page.cells.append(nbformat.v4.new_code_cell("import lessons_lib; print(lessons_lib.__file__)"))
    client = NotebookClient(page, timeout=120, resources={"metadata": {"path": str(lesson.parent)}})
    client.execute(env={**os.environ, "PYTHONPATH": str(installed)})
    assert Path(page.cells[-1].outputs[0].text.strip()).is_relative_to(installed)
    assert any(
        "application/vnd.jupyter.widget-view+json" in output.get("data", {})
        for cell in page.cells
        for output in cell.get("outputs", [])
    )
