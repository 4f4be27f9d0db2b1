"""What outlives a notebook: the reader's units, goods and name, in a small file of their own, and the folder where
their files lie.
"""

import json
import os
from pathlib import Path

from ..quantities.display import SI, SYSTEMS, US
from ..quantities.errors import InputError
from .files import TooLarge, read_bytes, write_whole

FOLDER_VARIABLE = "HOT_WATER_RUNS_FOLDER"  # where all this lies, instead of the home folder
# set in a room: who answers was decided at its door, and no page can change it
ROOM_VARIABLE = "HOT_WATER_RUNS_ROOM"
# name and seat under which a learner signed in; outside a room they hold until others are given
NAME_VARIABLE, SEAT_VARIABLE = "HOT_WATER_RUNS_NAME", "HOT_WATER_RUNS_SEAT"
UNITS, GOODS, NAME, SEAT = "unit system", "goods", "name", "seat"
REGIONS = {SI: ("Europe", "United Kingdom"), US: ("United States",)}  # whose goods a reader of each system meets
LAYOUTS = "my-layouts"
LARGEST = 100_000  # [bytes] of the file


def folder() -> Path:
    """Says where the reader's own files lie."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else Path.home() / ".hot-water-runs"


def seen_folder() -> Path:
    """Says where files go that a person looks for: a folder that is seen in the reader's home."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else Path.home() / "Hot Water Runs"


def layouts_folder() -> Path:
    """Says where the reader's layouts and sheets go; it need not be there yet."""
    return folder() / LAYOUTS


def unit_system() -> str:
    """Gives the chosen unit system; metric until one is chosen.

    A file that cannot be read is set aside under a new name, never written over.
    """
    chosen = _kept().get(UNITS)
    return chosen if chosen in SYSTEMS else SI


def keep_unit_system(system: str) -> None:
    """Remember the unit system. Raises InputError: the folder cannot be written to."""
    _keep({UNITS: system})


def region(system: str) -> str:
    """Gives the region, as in data/pipes.csv, whose pipe and foam a reader of a unit system meets first."""
    chosen = _kept().get(GOODS)
    return chosen if chosen in REGIONS[system] else REGIONS[system][0]


def keep_region(chosen: str) -> None:
    """Remember whose goods a metric reader meets. Raises InputError: the folder cannot be written to."""
    _keep({GOODS: chosen})


def reader() -> tuple[str, str]:
    """Name and seat of the reader: as they were given last, or signed in with, or empty.

    In a room only the sign-in counts.
    """
    kept = {} if in_room() else _kept()
    name, seat = (os.environ.get(variable, "") for variable in (NAME_VARIABLE, SEAT_VARIABLE))
    return str(kept.get(NAME, name)), str(kept.get(SEAT, seat))


def keep_reader(name: str, seat: str) -> None:
    """Remember who reads. Raises InputError: the folder cannot be written to."""
    _keep({NAME: name, SEAT: seat})


def in_room() -> bool:
    """Says whether a room's door has decided who answers; then the folder is that learner's own."""
    return bool(os.environ.get(ROOM_VARIABLE))


def _file() -> Path:
    return folder() / "choices.json"


def _kept() -> dict:
    file = _file()
    try:
        found = json.loads(read_bytes(file, LARGEST))
    except TooLarge:
        found = None
    except InputError:  # not there yet, or not to be read: nothing was chosen
        return {}
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        file.replace(file.with_name("choices-unreadable.json"))
        return {}
    return found


def _keep(changes: dict) -> None:
    kept = _kept()
    try:
        folder().mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise InputError(
            f"The folder {folder()} cannot be made ({reason.strerror}): your choice holds for this page only."
        ) from None
    write_whole(_file(), json.dumps({**kept, **changes}, ensure_ascii=False), replace=True)
