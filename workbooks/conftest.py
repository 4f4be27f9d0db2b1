"""nbval runs the workbooks as a reader who has chosen nothing yet: their stored words are in metric units."""

import os
import tempfile

os.environ["HOT_WATER_RUNS_FOLDER"] = tempfile.mkdtemp(prefix="hot-water-runs-")


def pytest_collectstart(collector):
    """Lets nbval compare words only: pictures are compared in tests/drawing, and their ids may differ."""
    if hasattr(collector, "skip_compare"):
        collector.skip_compare += ("image/svg+xml",)
