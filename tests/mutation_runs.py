"""What pytest does for `tests/mutate.py` beside running all it is given: watch the tests, and run a few with changed code."""

import gc
import sys
import time
from functools import cache
from types import CodeType, FunctionType

import coverage
import pytest
from nearest_tests import Known

KEPT = type(cache(len))  # what functools.cache and lru_cache make


class Learning:
    """Plug-in of pytest: keeps what each test runs and how long it takes, and stops after some seconds of one core."""

    def __init__(self, known: Known, covered: coverage.Coverage, seconds: float):
        self.known, self.covered, self.seconds, self.caches, self.end = known, covered, seconds, (), 0.0

    def pytest_runtestloop(self):
        """Finds what the library keeps of a test for the next, which would not be seen to run it, and starts the clock."""
        gc.unfreeze()  # what was read of the tests, see conftest.py, is looked through here
        kept = [one for one in gc.get_objects() if type(one) is KEPT and one.__module__.startswith("lessons_lib")]
        self.caches, self.end = kept, time.process_time() + self.seconds

    @pytest.hookimpl(hookwrapper=True)
    def pytest_make_collect_report(self, collector):
        self.covered.switch_context(collector.nodeid or "import")  # all tests of a file rely on what reading it runs
        yield

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item):
        start = time.process_time()
        for one in self.caches:
            one.cache_clear()
        if kept := sys.modules.get("lessons_lib.building.kept"):  # a store of its own
            kept._found.clear()
            kept._lately.clear()
        self.covered.switch_context(item.nodeid)
        yield
        self.known.seconds[item.nodeid] = time.process_time() - start
        if time.process_time() > self.end:
            item.session.shouldstop = "enough is known"

    def pytest_runtest_logreport(self, report):
        self.known.red |= {report.nodeid} if report.failed else set()

    def pytest_collectreport(self, report):
        self.known.red |= {report.nodeid} if report.failed else set()


class Read:
    """Plug-in of pytest: once the tests are read, does something else than to run them all."""

    def __init__(self, then):
        self.then = then

    def pytest_runtestloop(self, session):
        self.then(session)
        return True


def run(session: pytest.Session, tests: list[str]) -> bool:
    """Runs some of the tests that are read, until one fails; whether all are green."""
    items = {item.nodeid: item for item in session.items}
    chosen = [items[test] for test in tests if test in items]
    for item, after in zip(chosen, [*chosen[1:], None], strict=True):
        if not session.testsfailed:
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
    return not session.testsfailed


def put_in(file: str, text: str) -> bool:
    """Gives the functions of a file that is read already the code of its new text; False where that cannot be."""
    codes = [compile(text, file, "exec")]
    for code in codes:  # grows while it is read
        codes += [one for one in code.co_consts if isinstance(one, CodeType)]
    gc.unfreeze()
    for function in gc.get_objects():
        if isinstance(function, FunctionType) and function.__code__.co_filename == file:
            old = function.__code__
            new = [
                one for one in codes if (one.co_qualname, one.co_firstlineno) == (old.co_qualname, old.co_firstlineno)
            ]
            if len(new) != 1 or new[0].co_freevars != old.co_freevars:
                return False
            function.__code__ = new[0]
    return True
