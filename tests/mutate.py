"""Changes one thing at a time in a module's numbers and logic, and says which changes no test notices.

`python tests/mutate.py lessons_lib/physics/line.py` takes 40 changes of one module, `lessons_lib/plant --sample 60`
60 of a room, `lessons_lib/physics/line.py:88` all of one line. Needs the extra `mutation` and a system that can fork.

Each change is made in a copy of the checkout; a process forked from one that has read the large libraries, and where
that will do the tests too, runs them. A run beforehand, the nearest files of tests first (by their imports), learns
which test runs which line and how long it takes; these tests, up to `--limit` seconds of one core, are run for a change
until one fails. What the tests known of a whole room miss is tried once more with those nearest to its module.
Hypothesis draws the same examples each time. A change that makes the tests run too long or stops them counts as noticed.
"""

import argparse
import os
import pickle
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
from contextlib import suppress
from importlib import import_module
from importlib.metadata import entry_points
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # before numpy is read

import coverage  # noqa: E402
import hypothesis  # noqa: E402
import pytest  # noqa: E402
from mutation_runs import Learning, Read, put_in, run  # noqa: E402
from mutations import Mutation, mutations, statement  # noqa: E402
from nearest_tests import Known, imported, nearest  # noqa: E402

ROOT = Path(__file__).resolve().parent.parent
LARGE = "scipy.optimize", "scipy.integrate", "pint", "matplotlib.figure", "ipywidgets"
MEMORY = 6 << 30
AT_ONCE = 4  # files of tests that pytest reads before it runs them
MISSED = "MISSED", "NO TEST RUNS IT"


class Checkout:
    """A copy of the checkout, in which changes are made and tests are run by forked processes."""

    def __init__(self, root: Path, folder: Path):
        self.root, self.said, self.group = folder / "checkout", folder / "said.txt", os.getpgrp()
        self.out = os.fdopen(os.dup(1), "w")
        shutil.copytree(root, self.root, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__"))
        self.graph = imported(self.root)

    def forked(self, work, limit: float):
        """What work gives back, done in the copy by a forked process; None if it took longer or stopped dead."""
        reader, writer = os.pipe()
        child = os.fork()
        if not child:
            self._child(work, writer, limit)
        os.close(writer)
        stop = os.killpg if os.getpgrp() == self.group else os.kill  # what a fork forks is in its group
        signal.signal(signal.SIGALRM, lambda *_: stop(child, signal.SIGKILL))
        signal.alarm(int(60 + 40 * limit))  # for one that only waits; other work on the machine may slow it down
        try:
            with os.fdopen(reader, "rb") as answer:
                given = answer.read()
        finally:
            signal.alarm(0)
            with suppress(ProcessLookupError):
                stop(child, signal.SIGKILL)
            os.waitpid(child, 0)
        return pickle.loads(given) if given else None

    def _child(self, work, writer: int, limit: float):
        if os.getpgrp() == self.group:
            os.setpgid(0, 0)
        os.chdir(self.root)
        sys.path[:0] = [str(self.root), str(self.root / "tests")]
        os.environ["PYTHONPATH"] = str(self.root)
        out = os.open(self.said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(out, 1)
        os.dup2(out, 2)
        resource.setrlimit(resource.RLIMIT_CPU, (int(time.process_time() + limit) + 1,) * 2)
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY,) * 2)
        try:
            given = pickle.dumps(work())
            with os.fdopen(writer, "wb") as answer:
                answer.write(given)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(0)

    def pytest(self, files: list[str], plugin, *more: str) -> int:
        options = "-c", str(self.root / "pyproject.toml"), "-p", "no:cacheprovider", *more
        return int(pytest.main([*options, *files], plugins=[plugin]))

    def learn(self, targets: set[str], budget: float) -> Known:
        """Runs the tests, the nearest first, while it watches the targets and what imports from them."""
        users = {user for user, used in self.graph.items() if used & targets and user.startswith("lessons_lib")}
        watched = [str(self.root / file) for file in targets | users]
        order = nearest(self.graph, targets)

        def work() -> Known:
            covered = coverage.Coverage(data_file=None, include=watched, config_file=False)
            known, end = Known(), time.process_time() + budget
            covered.start()
            covered.switch_context("import")
            for file in sorted(targets | users):
                import_module(file.removesuffix(".py").removesuffix("/__init__").replace("/", "."))
            for file in order:
                if time.process_time() < end:  # a file of slow tests leaves time for the others
                    self.pytest([file], Learning(known, covered, budget / 16))
            covered.stop()
            data = covered.get_data()
            for file in data.measured_files():
                lines = data.contexts_by_lineno(file)
                known.runs[os.path.relpath(file, self.root)] = {
                    line: set(those) - {""} for line, those in lines.items()
                }
            return known

        return self.forked(work, 3 * budget + 600) or sys.exit(
            f"No tests could be run:\n{self.said.read_text()[-3000:]}"
        )

    def tests(self, one: Mutation, known: Known, limit: float) -> tuple[list[str], bool]:
        """Tests for a change, the nearest files first; whether none of it has run before the first test begins."""
        lines = statement((self.root / one.file).read_text(encoding="utf-8"), one.lines[0])
        users = {user for user, used in self.graph.items() if one.file in used}
        place = nearest(self.graph, {one.file}).index
        tests = known.tests(one.file, lines, users, limit)
        late = lines is not None and all("::" in who for who in known.who(one.file, lines))
        return sorted(tests, key=lambda test: place(test.split("::")[0])), late

    def quick(self, drawn: list[Mutation], known: Known, limit: float) -> dict[Mutation, str]:
        """How those changes fared that can be put into functions when the tests are read already."""
        files = list(dict.fromkeys(test.split("::")[0] for test in known.seconds))
        fates = {}

        def then(session):
            for one in drawn:
                tests, late = self.tests(one, known, limit)
                file, (text, _) = str(self.root / one.file), one.made()
                if tests and late:
                    spent = sum(map(known.seconds.get, tests))
                    green = self.forked(lambda: run(session, tests) if put_in(file, text) else "cannot", 15 + 2 * spent)
                    if green != "cannot":
                        fates[one] = self.tell(one, MISSED[0] if green else "noticed")

        def work() -> dict:
            self.pytest(files, Read(then), "-s")
            return fates

        return self.forked(work, 600 + 3 * limit * len(drawn)) or {}

    def fate(self, one: Mutation, known: Known, limit: float) -> str:
        """How a change fared that everything is read anew for."""
        tests, _ = self.tests(one, known, limit)
        files = list(dict.fromkeys(test.split("::")[0] for test in tests))
        parts = [files[place : place + AT_ONCE] for place in range(0, len(files), AT_ONCE)]
        file, (text, _) = self.root / one.file, one.made()

        def work() -> bool:
            sys.dont_write_bytecode = True
            return all(self.pytest(part, Read(lambda session: run(session, tests))) in (0, 5) for part in parts)

        old = file.read_text(encoding="utf-8")
        shutil.rmtree(file.parent / "__pycache__", ignore_errors=True)  # may be taken for the new text's
        file.write_text(text, encoding="utf-8")
        green = not tests or self.forked(work, 15 + 2 * sum(map(known.seconds.get, tests)))
        file.write_text(old, encoding="utf-8")
        return self.tell(one, MISSED[not tests] if green else "noticed")

    def tell(self, one: Mutation, fate: str) -> str:
        print(f"{fate:8} {one.made()[1]}", file=self.out, flush=True)
        return fate


def warm():
    """Reads the large libraries and pytest's plug-ins before any fork; Hypothesis will draw the same examples each time."""
    for name in LARGE:
        import_module(name)
    for plugin in entry_points(group="pytest11"):
        plugin.load()
    hypothesis.settings.register_profile("same", derandomize=True, database=None, deadline=None)
    hypothesis.settings.load_profile("same")


def learned(checkout: Checkout, targets: set[str], budget: float, kept: Path | None) -> Known:
    """What the run beforehand learned about the targets, or what was kept of an earlier one."""
    if kept and kept.exists():
        return pickle.loads(kept.read_bytes())
    known = checkout.learn(targets, budget)
    if kept:
        kept.write_bytes(pickle.dumps(known))
    return known


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("path", help="a module, a room, or file:line")
    parser.add_argument("--sample", type=int, default=40, help="changes to draw (of one line: all)")
    parser.add_argument("--seed", type=int, default=1, help="another seed draws other changes")
    parser.add_argument("--limit", type=float, default=20, help="seconds of tests for one change")
    parser.add_argument("--learn", type=float, default=60, help="seconds of tests beforehand")
    parser.add_argument("--kept", type=Path, help="a file for what was learned, for the next run with the same tests")
    parser.add_argument("--root", type=Path, default=ROOT, help="another checkout")
    given = parser.parse_args()
    root = given.root.resolve()
    warm()
    with tempfile.TemporaryDirectory() as folder:
        checkout = Checkout(root, Path(folder).resolve())
        every = mutations(checkout.root, given.path)
        drawn = sorted(every, key=lambda one: one.lot(given.seed))[: len(every) if ":" in given.path else given.sample]
        print(f"{given.path}: {len(drawn)} of {len(every)} changes of numbers and logic, seed {given.seed}", flush=True)
        files = {one.file for one in every}
        known = learned(checkout, files, given.learn, given.kept)
        red = sorted(known.red) or "none"
        print(f"{len(known.seconds)} tests known; left out, for they fail without a change: {red}", flush=True)
        quick = checkout.quick(drawn, known, given.limit)
        fates = {one: quick.get(one) or checkout.fate(one, known, given.limit) for one in drawn}
        for file in sorted({one.file for one, fate in fates.items() if fate in MISSED} if len(files) > 1 else ()):
            print(f"Once more, with the tests nearest to {file}:", flush=True)
            closer = learned(checkout, {file}, given.learn, None)
            fates |= {
                one: checkout.fate(one, closer, given.limit)
                for one, fate in fates.items()
                if fate in MISSED and one.file == file
            }
        survivors = sorted(one.made()[1] for one, fate in fates.items() if fate in MISSED)
    print("\nNo test noticed:", *survivors or ["-"], "", sep="\n")
    print(f"{given.path}: {len(drawn) - len(survivors)} of {len(drawn)} changes noticed")


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # the copy is removed on the way out
    main()
