"""Which tests may notice a change of a module: the nearest by what they import, and what a run of them learned."""

import ast
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path

DOOR = "lessons_lib/__init__.py"
NOT_FORKED = {"browser", "benchmarks", "workbooks"}  # these tests start servers, or measure


def _named(node: ast.AST) -> list[tuple[str, str]]:
    """(module, name) pairs that an import statement reads."""
    if isinstance(node, ast.ImportFrom):
        return [(node.module or "", one.name) for one in node.names]
    return [one.name.rpartition(".")[::2] for one in node.names] if isinstance(node, ast.Import) else []


def imported(root: Path) -> dict[str, set[str]]:
    """File of the package or of its tests → files that it imports; a name of the front door leads to its module."""
    doors: dict[str, str] = {}
    paths = {path for top in ("lessons_lib", "tests") for path in (root / top).rglob("*.py")}

    def read_by(base: Path, name: str) -> Path | None:
        choices = base / f"{name}.py", base / name / "__init__.py", base.with_suffix(".py"), base / "__init__.py"
        return next((path for path in choices if path in paths), None)

    graph = defaultdict(set)
    for path in sorted(paths, key=lambda path: (str(path.relative_to(root)) != DOOR, path)):
        file = str(path.relative_to(root))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            level = getattr(node, "level", 0)
            for module, name in _named(node):
                bases = [path.parents[level - 1]] if level else [root, root / "tests"]
                found = [read_by(base.joinpath(*filter(None, module.split("."))), name) for base in bases]
                for target in (str(one.relative_to(root)) for one in found if one):
                    if file == DOOR:
                        doors[name] = target
                    graph[file].add(doors.get(name, target) if target == DOOR else target)
    return {file: targets - {DOOR} for file, targets in graph.items() if file != DOOR}


def nearest(graph: dict[str, set[str]], targets: set[str]) -> list[str]:
    """Files of tests: those in a target's room first, then by the steps of imports that lead to a target."""
    steps, line = dict.fromkeys(targets, 0), list(targets)
    for file in line:  # grows while it is read
        for user in sorted(user for user, used in graph.items() if file in used and user not in steps):
            steps[user] = steps[file] + 1
            line.append(user)
    rooms = {Path(target).parts[1] for target in targets}
    tests = [Path(file) for file in steps if Path(file).parts[0] == "tests" and Path(file).name.startswith("test_")]
    kept = [file for file in tests if file.parts[1] not in NOT_FORKED]
    return [str(file) for file in sorted(kept, key=lambda file: (file.parts[1] not in rooms, steps[str(file)], file))]


@dataclass
class Known:
    """What the run beforehand learned: who runs a line (by file and line), and each test's seconds of one core."""

    runs: dict = field(default_factory=dict)
    seconds: dict = field(default_factory=dict)
    red: set = field(default_factory=set)

    def who(self, file: str, lines: range | None) -> set[str]:
        return {one for line, those in self.runs.get(file, {}).items() if not lines or line in lines for one in those}

    def tests(self, file: str, lines: range | None, users: set[str], limit: float) -> list[str]:
        """Tests for a change: what runs its statement, then what stands beside that, then what runs its file at all."""
        hit = self.who(file, lines)
        if not hit:
            return []
        if "import" in hit:  # its value is there before any test begins
            hit = set().union(*(self.who(one, None) for one in {file, *users})) | users
        beside = {one.split("::")[0] for one in hit}
        groups = [hit, {one for one in self.seconds if one.split("::")[0] in beside}, self.who(file, None)]
        chosen, spent = {}, 0.0
        for group in groups:
            for one in sorted(group & self.seconds.keys() - self.red - chosen.keys(), key=self.seconds.__getitem__):
                spent += self.seconds[one]
                if spent <= limit or not chosen:
                    chosen[one] = None
        return list(chosen)
