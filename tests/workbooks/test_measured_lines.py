"""Each lesson says how far its model is from measured values, with the numbers of the table in tests/published/README.md."""

import re
from pathlib import Path

import measured
import nbformat
import pytest

ROOT = Path(__file__).resolve().parents[2]
HELD = measured.written((ROOT / "tests" / "published" / "README.md").read_text(encoding="utf-8"))
LEAD = "**How far the model is from measured values.**"
STILL, WIND, ROD = "heat given to still air", "heat given to wind", "a heated rod"
HEAT, SQUEEZED = "heat to warm water", "how far water gives"
SMOOTH, SLOW = "friction factor of a smooth tube", "water through glass tubes"
QUOTED = {  # by lesson, how the series begin that it quotes, in its order
    "01": [HEAT],
    "02": [STILL, WIND, ROD],
    "03": ["when the middle of a hot front", "when a quarter"],
    "04": ["pressure lost by water in drawn brass", SMOOTH, SLOW],
    "05": [SQUEEZED],
    "06": [STILL, WIND, ROD],
    "07": [HEAT, WIND],
    "08": [STILL],
    "09": ["COP of a CO2 rig"],
    "10": [SQUEEZED],
    "11": [],
    "12": [],
    "13": ["wave of a hammer", SQUEEZED],
    "14": [SMOOTH, SLOW, STILL],
}
LESSONS = {path.name[:2]: path for path in (ROOT / "workbooks").glob("[0-9][0-9]-*.ipynb")}


def line(path: Path) -> str:
    """The one paragraph of a lesson that compares its model with measurements; it stands in "For the curious"."""
    sources = [cell.source for cell in nbformat.read(path, as_version=4).cells if cell.cell_type == "markdown"]
    curious = sources[sources.index("## For the curious") : sources.index("## Cautions")]
    (found,) = [part for source in curious for part in source.split("\n\n") if part.startswith(LEAD)]
    return found.removeprefix(LEAD)


def test_every_lesson_is_listed():
    assert set(LESSONS) == set(QUOTED)


@pytest.mark.parametrize("lesson", QUOTED)
def test_numbers_are_those_of_the_table(lesson):
    """Each deviation and each count of values is quoted, in order, and the paragraph has no other number."""
    said = line(LESSONS[lesson])
    expected = [title for start in QUOTED[lesson] for title in HELD if title.startswith(start)]
    assert len(expected) == len(QUOTED[lesson])
    assert re.findall(r"within ([\d.]+) %[^%]*?\((\d+) values?\)", said) == [
        (off, count) for count, off in (HELD[title] for title in expected)
    ]
    others = re.sub(r"within [\d.]+ %|\(\d+ values?\)|CO2|lessons \d\d(, \d\d)* and \d\d", "", said)
    assert not re.search(r"\d", others), others


@pytest.mark.parametrize("lesson", QUOTED)
def test_what_nobody_measured_is_said(lesson):
    said = line(LESSONS[lesson])
    assert "no measured series is held" in said
    assert lesson == "12" or "*tests/published*" in said
