"""nbval runs the workbooks as a reader who has chosen nothing yet: their stored words are in metric units."""

import os
import tempfile

os.environ["HOT_WATER_RUNS_FOLDER"] = tempfile.mkdtemp(prefix="hot-water-runs-")
