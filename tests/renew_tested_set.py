"""Renews the tested set in `.tested/`: every package that set-up installs first, with its version and its hashes, for
each extra. Needs the command `uv` (`pip install uv`). Run all tests afterwards, then commit the files with the
change that they were tested with.

`python tests/renew_tested_set.py` keeps the versions that still fit pyproject.toml; with `--upgrade` it takes the
newest that fit.
"""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "workbooks"))

from environment import EXTRAS, OLDEST_PYTHON, tested_set  # noqa: E402

COMMAND = [
    *("uv", "pip", "compile", "pyproject.toml", "--quiet"),
    *("--universal", "--python-version", ".".join(map(str, OLDEST_PYTHON))),  # one file for every system
    *("--generate-hashes", "--no-annotate", "--no-header", "--no-emit-index-url"),
]

if __name__ == "__main__":
    for name in EXTRAS:
        chosen = ("--extra", name) if name else ()
        subprocess.run([*COMMAND, *chosen, "--output-file", str(tested_set(name)), *sys.argv[1:]], cwd=ROOT, check=True)
