"""Imports run down only: workbooks, lessons, panels, front door, layout, sheets, figures, lessons_lib, physics, data (the
picture in DEVELOPERS.md).

Read from the source with `ast`, imports inside functions too, so that a new file is held to it from its first day.
"""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "lessons_lib"
FILES = sorted(PACKAGE.rglob("*.py"))
FRONT_DOOR = "lessons_lib"  # the package's own __init__: it names what others may use, a whole layout among it
LAYERS = ("physics", "library", "figures", "sheets", "layout", "front door", "panels", "lessons")  # lowest first
# What each layer may take from outside the project and the standard library.
OUTSIDE = {
    "physics": {"numpy"},
    "library": {"numpy", "pint", "filelock"},
    "figures": {"numpy", "matplotlib", "PIL"},
    "sheets": {"matplotlib", "mistune", "reportlab"},
    "layout": {"numpy", "tomlkit"},
    "front door": set(),
    "panels": {"numpy", "matplotlib", "ipywidgets", "IPython"},
    "lessons": {"numpy"},
}
# The only modules above it that physics may read: how a table is opened, and the error that a missing one raises.
BELOW_PHYSICS = {"lessons_lib.tables", "lessons_lib.errors", "lessons_lib.files", "lessons_lib.reading_table"}


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module_name(path) for path in FILES}


def layer(module: str) -> str:
    """The layer that a module of the package belongs to."""
    if module == FRONT_DOOR:
        return "front door"
    folder = module.split(".")[1]
    return folder if folder in LAYERS else "library"


def imported(path: Path) -> set[str]:
    """Full names of every module that a file imports, wherever in it."""
    here = module_name(path).split(".")
    package = here if path.name == "__init__.py" else here[:-1]
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            start = package[: len(package) - node.level + 1] if node.level else []
            base = ".".join([*start, *([node.module] if node.module else [])])
            for alias in node.names:  # `from .physics import scald` imports a module, `from .run import Run` a name
                whole = f"{base}.{alias.name}"
                found.add(whole if whole in MODULES else base)
    return found


every_file = pytest.mark.parametrize("path", FILES, ids=module_name)


def test_the_reader_of_imports_sees_them():
    """The test of the test: relative, absolute and hidden ones."""
    assert {"lessons_lib.tables", "lessons_lib.errors", "re"} <= imported(PACKAGE / "pipe.py")
    assert {"lessons_lib.physics.scald", "numpy"} <= imported(PACKAGE / "scald.py")  # from .physics import scald
    assert "lessons_lib.tables" in imported(PACKAGE / "physics" / "freezing.py")  # from ..tables import rows
    assert "lessons_lib.series" in imported(PACKAGE / "run.py")  # inside a function
    assert {layer(module) for module in MODULES} == set(LAYERS)


@every_file
def test_imports_run_down(path):
    mine = layer(module_name(path))
    for module in imported(path):
        if module.split(".")[0] == "lessons_lib" and not (mine == "physics" and module in BELOW_PHYSICS):
            assert LAYERS.index(layer(module)) <= LAYERS.index(mine), f"{module_name(path)} reaches up to {module}"


@every_file
def test_each_layer_takes_only_its_own_from_outside(path):
    for module in imported(path):
        top = module.split(".")[0]
        if top != "lessons_lib" and top not in sys.stdlib_module_names:
            assert top in OUTSIDE[layer(module_name(path))], f"{module_name(path)} imports {module}"


@pytest.mark.parametrize("module", sorted(BELOW_PHYSICS))
def test_what_physics_reads_reads_nothing_above(module):
    path = PACKAGE / f"{module.split('.')[1]}.py"
    own = {name for name in imported(path) if name.startswith("lessons_lib")}
    assert own <= BELOW_PHYSICS


@every_file
def test_no_pyplot(path):
    """Figures are made with matplotlib.figure.Figure; pyplot keeps state that two panels would share."""
    assert not any(module.startswith(("matplotlib.pyplot", "pylab")) for module in imported(path))
    nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    assert not any(isinstance(node, ast.Attribute) and node.attr == "pyplot" for node in nodes)


@pytest.mark.parametrize("path", sorted((ROOT / "data").rglob("*.py")), ids=lambda path: path.name)
def test_data_scripts_stand_alone(path):
    assert not any(module.split(".")[0] == "lessons_lib" for module in imported(path))


def loaded_by(statement: str) -> set[str]:
    """Modules that a statement loads in a fresh interpreter, beyond what numpy and pint load themselves (pint opens
    scipy's front door where it is installed)."""
    code = f"import sys, numpy, pint; before = set(sys.modules); {statement}; print(*set(sys.modules) - before)"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return set(run.stdout.split())


def packages(modules: set[str]) -> set[str]:
    return {name.split(".")[0] for name in modules}


def test_the_library_loads_no_drawing_and_no_widgets():
    """A script or a test that only computes starts fast."""
    loaded = packages(loaded_by("import lessons_lib"))
    assert "lessons_lib" in loaded
    assert not {"matplotlib", "ipywidgets", "IPython", "scipy", "PIL"} & loaded


def test_figures_load_no_widgets():
    loaded = loaded_by("import lessons_lib.figures.main_picture")
    assert "matplotlib.figure" in loaded and "matplotlib.pyplot" not in loaded
    assert not {"ipywidgets", "IPython", "scipy"} & packages(loaded)


def test_panels_load_no_scipy():
    loaded = loaded_by("import lessons_lib.panels")
    assert "ipywidgets" in loaded and "scipy" not in packages(loaded)
