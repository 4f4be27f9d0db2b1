"""Shared by all tests: comparison with published values, and a reader's own choices kept apart.

How a published value is known stands beside it, in the words of the sources' list:
"as quoted in secondary literature" (the standard itself was not opened), "from memory" (a lead, used beside a
check by computation only) or "computed with ..." (checks code, not the world).
"""

import gc
import inspect
import math
import re
import shutil
from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from weakref import WeakSet

import pytest
from ipywidgets import Widget
from measured import BEGIN as MEASURED_BEGIN
from measured import END as MEASURED_END
from measured import table as measured_table

from lessons_lib import load_layout
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.exercises import bank
from lessons_lib.panels import page_state as followers
from lessons_lib.panels.panel_base import large_button
from lessons_lib.runs import pipe
from lessons_lib.storage import own_material, preferences, tables

PUBLISHED = Path(__file__).parent / "published"
TABLE = PUBLISHED / "README.md"
BEGIN, END = "<!-- published checks: begin -->", "<!-- published checks: end -->"
QUICK = ("physics", "quantities", "plant")
BOUND = 0.5  # a relative tolerance from here on, or a factor of one and a half, says on which side, not how much
READERS = count()
ROUNDING = 1e-6  # a tolerance up to here allows for rounding only


@dataclass(frozen=True, order=True)
class Compared:
    """One comparison: share of its tolerance used, deviation relative to the published value, where, tolerance and its kind."""

    share: float
    off: float
    where: str
    tolerance: float
    kind: str

    @property
    def bound(self) -> bool:
        """Too wide to count as a value compared."""
        return self.kind != "absolute" and self.tolerance - (self.kind == "factor") >= BOUND

    @property
    def allowed(self) -> str:
        if self.tolerance - (self.kind == "factor") <= ROUNDING:
            return "rounding"
        return {"relative": f"{self.tolerance * 100:.3g} %", "absolute": f"{self.tolerance:.3g} absolute"}.get(
            self.kind, f"factor {self.tolerance:.3g}"
        )


_compared: dict[str, list[Compared]] = defaultdict(list)
_reasons: dict[str, str] = {}
_measured: dict = defaultdict(list)  # model/measured - 1 of each measured.Series


@pytest.hookimpl(wrapper=True)
def pytest_collection():
    """What is read of the tests lives to their end: Python, looking for what nobody holds any more, need not go through it."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()


def pytest_collection_modifyitems(items):
    """Marks the tests of the lower rooms as quick, a law that is tried with many seeds with the first one only."""
    for item in items:
        seed = item.callspec.params.get("seed", 0) if hasattr(item, "callspec") else 0
        if item.path.parent.name in QUICK and seed == 0:
            item.add_marker("quick")


def pytest_ignore_collect(collection_path, config):
    """Opens no other folder for `pytest -m quick`, for reading all the tests takes as long as running these."""
    other = collection_path.parent == PUBLISHED.parent and collection_path.name not in QUICK
    return True if config.option.markexpr == "quick" and other else None


def pytest_addoption(parser):
    parser.addoption(
        "--write-published-table",
        action="store_true",
        help="write the table of published checks into tests/published/README.md",
    )


@pytest.fixture
def agree(request):
    """Compare with a published value, and keep how far off it was for the table at the end of the run.

    One tolerance: relative (0.01 is 1 %), absolute (in the value's unit), or a factor between the two values.
    """

    def check(computed, published, source, relative=None, absolute=None, factor=None):
        given = {"relative": relative, "absolute": absolute, "factor": factor}
        if factor is None:
            off, allowed = abs(computed - published), absolute if relative is None else relative * abs(published)
        else:
            off, allowed = abs(math.log(computed / published)), math.log(factor)
        ((kind, tolerance),) = ((name, value) for name, value in given.items() if value is not None)
        _reasons[request.path.stem] = inspect.getdoc(request.module)
        away = abs(computed / published - 1) if published else math.inf * off if off else 0.0
        _compared[request.path.stem].append(
            Compared(float(off / allowed), float(away), request.node.name, tolerance, kind)
        )
        assert off <= allowed, (
            f"{computed:.6g} against {published:.6g} ({source}): {off / allowed:.0%} of the tolerance"
        )

    return check


@pytest.fixture
def measured(agree):
    """Compare with a measured value of a `measured.Series`, and keep how far off the model was for the table of series."""

    def check(series, computed, value):
        _measured[series].append(float(computed / value - 1))
        agree(computed, value, f"{series.source}, {series.known}", relative=series.tolerance)

    return check


def _cells(topic: str) -> list[str]:
    """The table's row of one file of tests/published; see tests/published/README.md."""
    compared = _compared[topic]
    title, *reason = _reasons[topic].split("\n\n")
    worst = []
    for kind in ("relative", "absolute", "factor"):
        offs = [one.off for one in compared if one.kind == kind and not one.bound and math.isfinite(one.off)]
        if offs:
            words = {"relative": "", "absolute": " where the tolerance is absolute", "factor": " where it is a factor"}[
                kind
            ]
            worst.append(("rounding" if max(offs) <= ROUNDING else f"{max(offs) * 100:.2g} %") + words)
    tolerances = {one.allowed: (one.kind, one.tolerance) for one in sorted(compared, key=lambda one: one.tolerance)}
    allowed = ", ".join(
        sorted(tolerances, key=lambda text: (text != "rounding", tolerances[text][0] != "relative", tolerances[text]))
    )
    nearest = f"{max(compared).share * 100:.0f} %"
    return [
        re.sub(r"^Topics? [^:]*: ", "", title).rstrip("."),
        str(sum(not one.bound for one in compared)),
        str(sum(one.bound for one in compared)),
        "; ".join(worst),
        nearest,
        allowed,
        " ".join(" ".join(reason).split()),
    ]


def _table() -> str:
    """All rows, and their sum, as Markdown."""
    heads = "topic", "values compared", "bounds", "worst deviation", "nearest to its tolerance", "tolerances", "why"
    rows = [heads, ["---"] * len(heads), *(_cells(topic) for topic in sorted(_compared))]
    total = sum(not one.bound for compared in _compared.values() for one in compared)
    return (
        "\n".join("| " + " | ".join(row) + " |" for row in rows)
        + f"\n\n{total} values compared in all; bounds are not among them.\n"
    )


def pytest_terminal_summary(terminalreporter, exitstatus, config):
    """One line per topic; after a whole run of tests/published also the state of tests/published/README.md, written if asked for."""
    if not _compared:
        return
    terminalreporter.section("published values")
    for topic, compared in sorted(_compared.items()):
        closest = max(compared)
        terminalreporter.write_line(
            f"{topic}: {len(compared)} values; closest call {closest.off:.2%} off, {closest.share:.0%} of the tolerance, {closest.where}"
        )
    old = TABLE.read_text(encoding="utf-8")
    new = _between(_between(old, BEGIN, END, _table()), MEASURED_BEGIN, MEASURED_END, measured_table(_measured))
    whole = exitstatus == 0 and set(_compared) == {path.stem for path in PUBLISHED.glob("test_*.py")}
    if config.getoption("--write-published-table"):
        if not whole:
            raise pytest.UsageError("the table is written after a whole run of tests/published without a failure only")
        TABLE.write_text(new, encoding="utf-8")
    elif whole and old != new:
        terminalreporter.write_line(
            "tests/published/README.md: its table is out of date; run again with --write-published-table"
        )


def _between(text: str, begin: str, end: str, table: str) -> str:
    """The text with this table between its two marks."""
    before, rest = text.split(begin)
    return f"{before}{begin}\n{table}{end}{rest.split(end)[1]}"


@pytest.fixture(autouse=True)
def own_choices(request, tmp_path_factory, monkeypatch):
    """Each test is a reader of its own, who has chosen no units and given no name yet; what it showed does not follow the next one.

    What it keeps lies in the test's `tmp_path`, which takes pytest a while to make, or in a folder that goes if it stays empty.
    """
    if "tmp_path" in request.fixturenames:
        folder = request.getfixturevalue("tmp_path")
    else:
        folder = tmp_path_factory.getbasetemp() / f"reader{next(READERS)}"
        folder.mkdir()
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(folder))
    others = preferences.ROOM_VARIABLE, preferences.NAME_VARIABLE, preferences.SEAT_VARIABLE
    for variable in (*others, own_material.MATERIAL_VARIABLE):
        monkeypatch.delenv(variable, raising=False)
    for name, fresh in (("_units", WeakSet()), ("_learners", WeakSet()), ("_answering", None)):
        monkeypatch.setattr(followers, name, fresh)
    monkeypatch.setattr(
        Widget, "open", lambda widget: None
    )  # no browser waits for what a panel would tell it at its birth
    yield
    large_button.cache_clear()
    Widget.close_all()  # ipywidgets keeps every widget alive that was ever made
    with suppress(OSError):
        folder.rmdir()


@pytest.fixture
def no_background(monkeypatch):
    """For tests of words and numbers: what stands still in a picture, which takes most of its time, is not drawn."""
    monkeypatch.setattr(Canvas, "still", '<svg width="1"/>')


@pytest.fixture
def built(tmp_path):
    """A layout of few words: legs as (name, from, go, length, further lines), taps as (name, leg, flow)."""

    def build(legs, taps, pressure="250 kPa"):
        text = (
            f'name = "x"\n[water]\npressure = "{pressure}"\ncold_inlet = "10 °C"\n[night]\nair = "-10 °C"\nhours = "12 h"\n'
            '[tank]\nset_temperature = "60 °C"\n[places]\nindoors = "18 °C"\ncrawlspace = "2 °C"\n[usual]\npipe = "copper L"\n'
            'size = "3/4 in"\ninsulation = "polyethylene foam"\nthickness = "9 mm"\nplace = "indoors"\n'
        )
        for name, start, go, length, more in legs:
            text += f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length}"\n{more}\n'
        for name, on, flow in taps:
            text += f'[[tap]]\nname = "{name}"\nleg = "{on}"\nkind = "sink"\nflow = "{flow}"\nuseful = "40 °C"\n'
        file = tmp_path / "house.toml"
        file.write_text(text, encoding="utf-8")
        return load_layout(file)

    return build


@pytest.fixture
def data(tmp_path, monkeypatch):
    """A copy of data/ that may be changed."""
    copy = tmp_path / "data"
    shutil.copytree(tables.DATA, copy)
    monkeypatch.setattr(tables, "DATA", copy)
    monkeypatch.setattr(bank, "DATA", copy)
    tables.rows.cache_clear()
    bank._bank.cache_clear()
    yield copy
    tables.rows.cache_clear()
    bank._bank.cache_clear()


@pytest.fixture
def material():
    """A school's folder of its own material; `read_again()` is what opening the next page does."""
    folder = own_material.folder()
    (folder / "questions").mkdir(parents=True)
    _read_again()
    yield Material(folder)
    shutil.rmtree(folder)
    _read_again()


@dataclass(frozen=True)
class Material:
    """A school's own material. folder : where it lies"""

    folder: Path

    def read_again(self) -> None:
        _read_again()


def _read_again() -> None:
    tables.rows.cache_clear()
    bank.read_again()
    pipe._nominal.cache_clear()
    pipe.counterpart.cache_clear()
