"""Notebook hygiene: what every workbook must and must not hold. nbval runs them; this reads them."""

import ast
import builtins
import csv
import html
import json
import re
import sys
from pathlib import Path

import nbformat
import pytest

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"
sys.path.insert(0, str(WORKBOOKS / ".jupyterlab"))
import own_pages  # noqa: E402

NOTEBOOKS = sorted(path for path in WORKBOOKS.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)
LESSONS = [path for path in NOTEBOOKS if path.name[:2].isdigit()]
HEADINGS = [
    "Stop and aim",
    "Guess first",
    "Live panel",
    "Check yourself",
    "At the bench",
    "More questions",
    "By hand",
    "For the curious",
    "Cautions",
    "For the instructor",
    "Next",
]
FOLDED = HEADINGS[5:10]
MORE_TRIES = "More to try"  # a page may have it as the first of its folds
# Folds of lesson 13 in its place, each on another subject.
MORE_SUBJECTS = ("Plastic's limits", "Water hammer", "Metals together", "Anode and drain pan")
PATH_WORDS, LESSON_WORDS = 400, (900, 2000)


def named(paths):
    return pytest.mark.parametrize(
        "notebook", [nbformat.read(path, as_version=4) for path in paths], ids=[path.stem for path in paths]
    )


def cells(notebook, kind: str):
    return [cell for cell in notebook.cells if cell.cell_type == kind]


def words(text: str) -> int:
    """Counts words; the name of a question, "02 · 1", is one."""
    return len(re.findall(r"\d\d · \d+|\w[\w'’.,/-]*", text))


@named(NOTEBOOKS)
def test_kernel_and_state(notebook):
    assert notebook.metadata.kernelspec.name == "python3"
    assert "widgets" not in notebook.metadata


@named(NOTEBOOKS)
def test_no_page_asks_for_a_menu(notebook):
    """A page starts by itself; where it has stopped, its own button says so."""
    assert not any("Run All Cells" in cell.source for cell in cells(notebook, "markdown"))


def test_the_pages_that_may_run_by_themselves_are_those_that_came():
    """A page that was changed on purpose needs its mark anew: run workbooks/.jupyterlab/own_pages.py."""
    pages = {page.relative_to(WORKBOOKS).as_posix() for page in NOTEBOOKS}
    assert set(json.loads(own_pages.MARKS.read_text(encoding="utf-8"))) == pages
    assert {page.relative_to(WORKBOOKS).as_posix() for page in own_pages.unchanged(WORKBOOKS)} == pages


@named(NOTEBOOKS)
def test_code_is_short_folded_and_named(notebook):
    for cell in cells(notebook, "code"):
        lines = cell.source.splitlines()
        assert len(lines) <= 12 and lines[0].startswith("# "), cell.source
        assert cell.metadata.jupyter.source_hidden
        assert "import *" not in cell.source


@named(NOTEBOOKS)
def test_each_cell_works_alone(notebook):
    """Readers press the run button of one cell after a restart: no cell may need a name that another one makes."""
    for cell in cells(notebook, "code"):
        nodes = list(ast.walk(ast.parse(cell.source)))
        made = {name.name for node in nodes if isinstance(node, ast.ImportFrom) for name in node.names}
        made |= {node.id for node in nodes if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)}
        assert {node.id for node in nodes if isinstance(node, ast.Name)} <= made | set(dir(builtins)), cell.source


@named(NOTEBOOKS)
def test_stored_outputs(notebook):
    """Pictures with their sentence, no errors, no widget views; counts kept, as nbval wants them."""
    for cell in cells(notebook, "code"):
        if "not-stored" in cell.metadata.get("tags", []):
            assert not cell.outputs and "nbval-ignore-output" in cell.metadata.tags
            continue
        assert cell.execution_count and len(cell.outputs) == 1
        data = cell.outputs[0].data
        assert cell.outputs[0].output_type == "execute_result"
        assert not any("widget" in kind for kind in data)
        if "image/png" in data:
            assert words(data["text/plain"]) > 15, "a picture without its sentence"


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_links_lead_somewhere(path):
    for cell in cells(nbformat.read(path, as_version=4), "markdown"):
        for target in re.findall(r"\]\(([^)#]+)\)", cell.source):
            assert (path.parent / target).exists(), target


@named(LESSONS)
def test_every_trade_word_is_explained_on_its_page(notebook):
    """A home learner may open any lesson first: its fold of words holds each trade word and unit that the page uses, or
    that its panel, steps and questions say on the path.
    """
    text = " ".join(cell.source for cell in cells(notebook, "markdown"))
    end = next(number for number, cell in enumerate(notebook.cells) if "The ten minutes end here" in cell.source)
    for cell in notebook.cells[:end]:
        if not re.search(r"Words\(|Legend\(", cell.source):
            text += " ".join(output.data.get("text/plain", "") for output in cell.get("outputs", []))
    with open(WORKBOOKS.parent / "data" / "words.csv", encoding="utf-8") as file:
        known = list(csv.DictReader(line for line in file if not line.startswith("#")))
    used = {row["word"] for row in known if re.search(rf"\b({row['forms']})\b", text, re.I)}
    fold = next(cell for cell in cells(notebook, "code") if "Words(" in cell.source)
    explained = {line.split(": ")[0] for line in fold.outputs[0].data["text/plain"].splitlines()}
    assert used == explained, f"not explained: {used - explained}; not used: {explained - used}"


@named(LESSONS)
def test_headings_in_order_and_folded(notebook):
    found = [
        (cell.source.splitlines()[0][3:], cell) for cell in cells(notebook, "markdown") if cell.source.startswith("## ")
    ]
    titles = [title for title, _ in found]
    before, after = titles.index("At the bench") + 1, titles.index(FOLDED[0])
    more = titles[before:after]
    assert more in ([], [MORE_TRIES], list(MORE_SUBJECTS)), more
    assert titles[:before] + titles[after:] == HEADINGS
    for title, cell in found:
        assert bool(cell.metadata.get("jp-MarkdownHeadingCollapsed")) == (title in (*more, *FOLDED))


@named(LESSONS)
def test_a_line_shows_where_the_ten_minutes_end(notebook):
    """The path is above it, the folds are beneath it."""
    end = next(number for number, cell in enumerate(notebook.cells) if "The ten minutes end here" in cell.source)
    above = [cell.source.splitlines()[0][3:] for cell in notebook.cells[:end] if cell.source.startswith("## ")]
    assert above == HEADINGS[: HEADINGS.index(FOLDED[0])]
    assert not any("path" in cell.metadata.get("tags", []) for cell in notebook.cells[end:])


@named(LESSONS)
def test_stop_box_comes_before_anything_hands_on(notebook):
    titles = [cell.source for cell in notebook.cells]
    stop = next(number for number, text in enumerate(titles) if "**Stop.**" in text)
    bench = next(number for number, text in enumerate(titles) if text.startswith("## At the bench"))
    assert stop < 3 < bench
    assert "licensed trades" in titles[stop] and "scald" in " ".join(titles).lower()


@named(LESSONS)
def test_path_and_whole_lesson_have_their_length(notebook):
    """The path: its own words and what its cells show unfolded (questions, not their folded answers)."""
    path = sum(words(cell.source) for cell in cells(notebook, "markdown") if "path" in cell.metadata.get("tags", []))
    bench = next(number for number, cell in enumerate(notebook.cells) if cell.source.startswith("## At the bench"))
    for cell in notebook.cells[:bench]:
        if cell.cell_type == "code":
            data = cell.outputs[0].data
            shown = (
                re.sub(r"<details.*?</details>", "", data["text/html"], flags=re.S)
                if "text/html" in data
                else data["text/plain"]
            )
            path += 0 if "image/png" in data else words(html.unescape(re.sub(r"<[^>]+>", " ", shown)))
    whole = sum(words(cell.source) for cell in cells(notebook, "markdown"))
    assert path <= PATH_WORDS, f"the path has {path} words"
    assert LESSON_WORDS[0] <= whole <= LESSON_WORDS[1], f"the lesson has {whole} words"


def test_nbval_notices_a_changed_number(tmp_path):
    """The stored sentences are a regression check: prove that one fails when its number changes."""
    import subprocess
    import sys

    path = tmp_path / "changed.ipynb"
    notebook = nbformat.read(WORKBOOKS / "02-how-hot-at-the-tap.ipynb", as_version=4)
    legend, panel, _ = (cell for cell in cells(notebook, "code") if "on_page" in cell.source)  # the last: the steps
    sentence = panel.outputs[0].data["text/plain"]
    panel.outputs[0].data["text/plain"] = sentence.replace("59 °C", "58 °C")
    assert sentence != panel.outputs[0].data["text/plain"]
    notebook.cells = [legend, panel]
    nbformat.write(notebook, path)
    run = subprocess.run(
        [sys.executable, "-m", "pytest", "--nbval", "--nbval-current-env", "-q", "-p", "no:cacheprovider", str(path)],
        capture_output=True,
        text=True,
        cwd=tmp_path,
    )
    assert run.returncode == 1 and "59 °C" in run.stdout
