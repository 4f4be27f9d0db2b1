"""Opens the room and keeps it open: `python -m room`, run in the workbook's environment by
`python3 workbooks --room ADDRESS`.
"""

import argparse
import os
import sys
from pathlib import Path

from environment import SetupProblem

# The grammar of international web addresses, which nothing here checks, would take seconds to build at each start.
sys.modules["rfc3987_syntax"] = None

from lessons_lib.storage import own_material  # noqa: E402

from .server import open_room  # noqa: E402


def main() -> int:
    """Read what the command of the room was given, serve until Ctrl-C, and return the exit code."""
    parser = argparse.ArgumentParser(prog="python -m room", allow_abbrev=False)
    parser.add_argument("--state", type=Path, required=True)
    parser.add_argument("--address", required=True)
    parser.add_argument("--port", type=int)
    parser.add_argument("--code")
    parser.add_argument("--seats", action="store_true")
    parser.add_argument("--certificate", type=Path)
    parser.add_argument("--key", type=Path)
    options, extra = parser.parse_known_args()
    # Each learner has a folder of their own; the school's material is the same for all.
    os.environ[own_material.MATERIAL_VARIABLE] = str(own_material.folder().resolve())
    try:
        open_room(options, extra)
    except SetupProblem as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130
    return 0


if __name__ == "__main__":
    sys.exit(main())
