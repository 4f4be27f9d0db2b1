"""Every file of tests/published says what it checks and why its tolerances are what they are, and stands in that folder's README."""

import ast
from pathlib import Path

import pytest

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
    text = (HERE / "published" / "README.md").read_text(encoding="utf-8")
    rows = text.split("<!-- measured series: begin -->")[1].split("<!-- measured series: end -->")[0].splitlines()
    assert sum(line.startswith("| ") for line in rows) - 2 >= 8
    source = (HERE / "published" / "test_measured_series.py").read_text(encoding="utf-8")
    titles = [
        node.args[0].value
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Series"
    ]
    assert sorted(titles) == [line.split(" | ")[0].removeprefix("| ") for line in rows if line.startswith("| ")][2:]


def test_one_row_a_file():
    assert len(ROWS) == len(FILES) and sum(int(row.split(" | ")[1]) for row in ROWS) >= 200
