"""The rules of the house: imports run down (the contracts stand in pyproject.toml), lint and format, and what loads what."""

import ast
import re
import shutil
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "lessons_lib"
FILES = sorted(PACKAGE.rglob("*.py"))
ROOMS = {
    "bench",
    "building",
    "classroom",
    "drawing",
    "exercises",
    "lessons",
    "panels",
    "physics",
    "plant",
    "quantities",
    "runs",
    "sheets",
    "storage",
}
LONG_LINES = 20  # at most so many lines of the library may pass 120 columns
LONGEST_FILE, LONGEST_FUNCTION = 450, 70  # lines; a long table of controls is a function too

# A docstring that begins so only completes the name of its function; it must stand alone.
HALF = ("Of", "And", "By", "In", "At", "With", "Without", "To", "On", "As", "Its", "Where", "What", "How", "Which")


def run(*command) -> subprocess.CompletedProcess:
    """A tool of the environment that runs these tests, in the project's root."""
    tool = shutil.which(command[0], path=str(Path(sys.executable).parent))
    return subprocess.run([tool, *command[1:]], cwd=ROOT, capture_output=True, text=True)


def test_imports_run_down():
    """Each room takes from the rooms below it, and from outside only what its contract allows."""
    done = run("lint-imports", "--no-cache")
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("command", [("check",), ("format", "--check")], ids="-".join)
def test_lint_and_format(command):
    done = run("ruff", *command, "--no-cache", "lessons_lib", "tests", "workbooks", "data")
    assert done.returncode == 0, done.stdout


def test_lines_that_a_window_holds():
    long = [
        f"{path}: {line}" for path in FILES for line in path.read_text(encoding="utf-8").splitlines() if len(line) > 120
    ]
    assert len(long) <= LONG_LINES, long[:LONG_LINES]


def test_a_file_and_a_function_have_one_subject():
    """Whatever grows past these lengths holds two subjects, and is parted where they meet."""
    long = []
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        long += [str(path)] if len(text.splitlines()) > LONGEST_FILE else []
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
                long += [f"{path}: {node.name}"] if node.end_lineno - node.lineno >= LONGEST_FUNCTION else []
    assert len(FILES) > 300 and not long, long


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_docstrings_stand_alone(room):
    """A sentence says what a function gives; a question, as a guess asks it, is a sentence too."""
    half = []
    for path in (PACKAGE / room).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and (told := ast.get_docstring(node)):
                if told.split()[0] in HALF and "?" not in told:
                    half.append(f"{path.name}: {node.name}: {told.splitlines()[0]}")
    assert not half, half


def test_the_rooms_are_those_of_the_guide():
    found = {path.name for path in PACKAGE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert found == ROOMS
    assert [path.name for path in PACKAGE.glob("*.py")] == ["__init__.py"]
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert all(f"lessons_lib/{room}/" in guide for room in ROOMS)
    assert len(guide) <= 14_000


def test_each_lesson_is_named_as_its_notebook():
    notebooks = {path.stem.lstrip("0123456789-").replace("-", "_") for path in (ROOT / "workbooks").glob("*.ipynb")}
    lessons = {path.name for path in (PACKAGE / "lessons").iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert lessons == notebooks | {"outdoor_unit_notes"}


def test_no_pyplot():
    """Figures are made with matplotlib.figure.Figure; pyplot keeps state that two panels would share."""
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        if "pyplot" not in text and "pylab" not in text:
            continue
        nodes = list(ast.walk(ast.parse(text)))
        names = [node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)]
        names += [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]
        assert not any(name.startswith(("matplotlib.pyplot", "pylab")) for name in names), path
        assert not any(isinstance(node, ast.Attribute) and node.attr == "pyplot" for node in nodes), path


@pytest.mark.parametrize("path", sorted((ROOT / "data").rglob("*.py")), ids=lambda path: path.name)
def test_data_scripts_stand_alone(path):
    assert "lessons_lib" not in path.read_text(encoding="utf-8")


def outside(folder: Path) -> dict[str, set]:
    """Package from outside → files of a folder that import it; by its name in a registry, in small letters."""
    known, found = packages_distributions(), {}
    for path in folder.rglob("*.py"):
        nodes = list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
        names = [node.module for node in nodes if isinstance(node, ast.ImportFrom) and not node.level]
        names += [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]
        for name in {name.partition(".")[0] for name in names} - sys.stdlib_module_names:
            for package in known.get(name, ()):  # none: a file of tests/ or workbooks/ themselves
                found.setdefault(plain(package), set()).add(str(path.relative_to(ROOT)))
    return found


def plain(requirement: str) -> str:
    return re.split(r"[\[<>=! ]", requirement)[0].lower().replace("_", "-")


@pytest.mark.parametrize("folder, extras", [("lessons_lib", False), ("workbooks", True), ("tests", True)])
def test_what_is_imported_is_declared(folder, extras):
    """The library stands on the project's own dependencies; tests and servers may need an extra."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    more = [one for extra in project["optional-dependencies"].values() for one in extra] if extras else []
    declared = {plain(one) for one in [*project["dependencies"], *more, project["name"]]}
    found = outside(ROOT / folder)
    assert found and {package: files for package, files in found.items() if package not in declared} == {}


def loaded_by(statement: str) -> set[str]:
    """Modules that a statement loads in a fresh interpreter, beyond what numpy and pint load themselves (pint opens
    scipy's front door where it is installed)."""
    code = f"import sys, numpy, pint; before = set(sys.modules); {statement}; print(*set(sys.modules) - before)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def packages(modules: set[str]) -> set[str]:
    return {name.split(".")[0] for name in modules}


def test_the_library_loads_no_drawing_and_no_widgets():
    """A script or a test that only computes starts fast."""
    loaded = packages(loaded_by("import lessons_lib"))
    assert "lessons_lib" in loaded
    assert not {"matplotlib", "ipywidgets", "IPython", "scipy", "PIL"} & loaded


def test_drawing_loads_no_widgets():
    loaded = loaded_by("import lessons_lib.drawing.canvas, lessons_lib.drawing.graph, lessons_lib.drawing.thermometer")
    assert "matplotlib.figure" in loaded and "matplotlib.pyplot" not in loaded
    assert not {"ipywidgets", "IPython", "scipy"} & packages(loaded)


def test_panels_load_no_scipy():
    loaded = loaded_by("import lessons_lib.panels")
    assert "ipywidgets" in loaded and "scipy" not in packages(loaded)
