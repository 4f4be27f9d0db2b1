"""What a learner's processes may take of the machine, as the beginning of a command; and their end.

Standard library only: the launcher uses it as well.
"""

import os
import signal
from pathlib import Path

PROCESSES = 120  # processes and threads of one learner; three pages have about 60
LARGEST_FILE = 50_000_000  # bytes
LONGEST_TIME = 7200  # [s] of reckoning after which one page's Python is ended; an evening with a panel takes a tenth


def limited(number: int, megabytes: int) -> list:
    """The beginning of a command that runs as user `number`, without any right of the system, with limits, and no longer than the hub."""
    size = megabytes * 1_000_000
    return [
        "setpriv",
        f"--reuid={number}",
        f"--regid={number}",
        "--clear-groups",
        "--no-new-privs",
        "--bounding-set=-all",
        "--inh-caps=-all",
        "--pdeathsig=KILL",
        "prlimit",
        f"--data={size}",
        f"--nproc={PROCESSES}",
        f"--fsize={LARGEST_FILE}",
        f"--cpu={LONGEST_TIME}",
        "--core=0",
    ]


def end_all_of(numbers) -> int:
    """End every process of these users, and say how many there were. The numbers belong to learners of this class alone."""
    ended = 0
    for process in Path("/proc").iterdir():
        try:
            if process.name.isdigit() and process.stat().st_uid in numbers:
                os.kill(int(process.name), signal.SIGKILL)
                ended += 1
        except (FileNotFoundError, ProcessLookupError):
            continue  # it ended by itself
    return ended
