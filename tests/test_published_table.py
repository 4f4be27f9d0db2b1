"""Every file of tests/published says what it checks and why its tolerances are what they are, and stands in that folder's README."""

import ast
import re
from pathlib import Path

import measured
import pytest
from published import test_measured_series

NUMBER = r"[+-]\d+\.?\d*(?:e[+-]?\d+)?"
AGAINST = re.compile(rf"{NUMBER} % on average, {NUMBER} to {NUMBER} %")
HERE = Path(__file__).parent
FILES = sorted((HERE / "published").glob("test_*.py"))
ROWS = [
    line
    for line in (HERE / "published" / "README.md")
    .read_text(encoding="utf-8")
    .split("<!-- published checks: begin -->")[1]
    .split("<!-- published checks: end -->")[0]
    .splitlines()
    if line.startswith("| ")
][2:]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_topic_and_reason(path):
    title, *reason = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))).split("\n\n")
    assert title.startswith("Topic") and "\n" not in title and ": " in title
    assert len(" ".join(reason).split()) >= 15
    assert any(row.startswith(f"| {title.split(': ', 1)[1].rstrip('.')} |") for row in ROWS), "write the table again"


def test_measured_series_stand_in_the_readme():
    """The words are those of the series; how far the model is off is what it is today, but for the last digit."""
    text = (HERE / "published" / "README.md").read_text(encoding="utf-8").split(measured.BEGIN + "\n")[1]
    there, now = text.split(measured.END)[0], measured.table(measured.deviations(test_measured_series))
    assert AGAINST.sub("", there) == AGAINST.sub("", now), "write the table again"
    found, today = (re.findall(NUMBER, " ".join(AGAINST.findall(table))) for table in (there, now))
    for printed, off in zip(found, today, strict=True):
        assert float(printed) == pytest.approx(float(off), rel=0.06, abs=0.002), "write the table again"
    assert there.count("\n") - 2 >= 12 and len(found) == 3 * (there.count("\n") - 2)


def test_one_row_a_file():
    assert len(ROWS) == len(FILES) and sum(int(row.split(" | ")[1]) for row in ROWS) >= 200
