"""What outlives a notebook: the reader's unit system, in a small file of their own, and the folder where their layouts lie."""

import json
import os
from pathlib import Path

from .display import SI, SYSTEMS

FOLDER_VARIABLE = "HOT_WATER_RUNS_FOLDER"  # where all this lies, instead of the home folder


def folder() -> Path:
    """Where the reader's own files lie."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else Path.home() / ".hot-water-runs"


def folder() -> Path:
    """Where the reader's own files lie."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else Path.home() / ".hot-water-runs"


def _file() -> Path:
    return folder() / "choices.json"


def layouts_folder() -> Path:
    """Where the reader's layouts and sheets go; it need not be there yet."""
    return folder() / "my-layouts"


def unit_system() -> str:
    """The chosen unit system; metric until one is chosen.

    A file that cannot be read is set aside under a new name, never written over.
    """
    file = _file()
    try:
        chosen = json.loads(file.read_text(encoding="utf-8"))["unit system"]
    except FileNotFoundError:
        return SI
    except (ValueError, KeyError, TypeError):
        file.replace(file.with_name("choices-unreadable.json"))
        return SI
    return chosen if chosen in SYSTEMS else SI


def keep_unit_system(system: str) -> None:
    """Remember the choice: written whole to a temporary file, then renamed."""
    file = _file()
    file.parent.mkdir(parents=True, exist_ok=True)
    fresh = file.with_suffix(f".{os.getpid()}.new")
    fresh.write_text(json.dumps({"unit system": system}), encoding="utf-8")
    fresh.replace(file)
