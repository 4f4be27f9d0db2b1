"""Shared by all tests: comparison with published values, and a reader's own choices kept apart.

How a published value is known stands beside it, in the words of the sources' list:
"as quoted in secondary literature" (the standard itself was not opened), "from memory" (a lead, used beside a
check by computation only) or "computed with ..." (checks code, not the world).
"""

import math
from collections import defaultdict

import pytest

from lessons_lib import preferences

_compared: dict[str, list[tuple[float, float, str]]] = defaultdict(list)


@pytest.fixture
def agree(request):
    """Compare with a published value, and keep how far off it was for the table at the end of the run.

    One tolerance: relative (0.01 is 1 %), absolute (in the value's unit), or a factor between the two values.
    """

    def check(computed, published, source, relative=None, absolute=None, factor=None):
        if factor is None:
            off, allowed = abs(computed - published), absolute if relative is None else relative * abs(published)
        else:
            off, allowed = abs(math.log(computed / published)), math.log(factor)
        _compared[request.path.stem].append((off / allowed, abs(computed / published - 1), request.node.name))
        assert off <= allowed, f"{computed:.6g} against {published:.6g} ({source}): {off / allowed:.0%} of the tolerance"

    return check


def pytest_terminal_summary(terminalreporter):
    """One line per topic: how many published values were compared, and which came nearest to its tolerance."""
    if _compared:
        terminalreporter.section("published values")
    for topic, compared in sorted(_compared.items()):
        share, off, where = max(compared)
        closest = f"closest call {off:.2%} off, {share:.0%} of the tolerance, {where}"
        terminalreporter.write_line(f"{topic}: {len(compared)} values; {closest}")


@pytest.fixture(autouse=True)
def own_choices(tmp_path, monkeypatch):
    """Each test is a reader of its own, who has chosen no units yet."""
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path))
