"""Renews the tested set in `.tested/`: every package that set-up installs first, with its version and its hashes, for
each extra and for a cluster's image. Needs the command `uv` (`pip install uv`). Run all tests afterwards, then commit the files with the
change that they were tested with.

`python tests/renew_tested_set.py` keeps the versions that still fit pyproject.toml; with `--upgrade` it takes the
newest that fit.
"""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "workbooks"))

from environment import EXTRAS, OLDEST_PYTHON, TESTED, tested_set  # noqa: E402

HUB = "workbooks/instructor/cluster/hub.txt"  # what the image holds beside the room's packages

COMMAND = [
    *("uv", "pip", "compile", "pyproject.toml", "--quiet"),
    *("--universal", "--python-version", ".".join(map(str, OLDEST_PYTHON))),  # one file for every system
    *("--generate-hashes", "--no-annotate", "--no-header", "--no-emit-index-url"),
]

if __name__ == "__main__":
    sets = {tested_set(name): ("--extra", name) if name else () for name in EXTRAS}
    sets[TESTED / "cluster.txt"] = (HUB, "--extra", "room", "--constraint", str(tested_set("test")))
    for file, chosen in sets.items():
        subprocess.run([*COMMAND, *chosen, "--output-file", str(file), *sys.argv[1:]], cwd=ROOT, check=True)
