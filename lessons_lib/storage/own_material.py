"""What a school adds of its own. It lies beside the workbook and not in it, so that an update leaves it alone."""

import os
from pathlib import Path

from . import preferences

MATERIAL_VARIABLE = "HOT_WATER_RUNS_MATERIAL"  # where it lies, instead of the reader's own folder; a room sets it


def folder() -> Path:
    """Says where a school's own material lies; the folder need not be there yet."""
    named = os.environ.get(MATERIAL_VARIABLE)
    return Path(named) if named else preferences.seen_folder() / "own material"


def table(name: str) -> Path:
    """Says where a school's own rows of data/<name>.csv lie."""
    return folder() / f"{name}.csv"


def questions() -> list[Path]:
    """Gives the files of a school's own questions, one question in each, by lesson and number."""
    files = (folder() / "questions").glob("[0-9]*.toml")
    return sorted(files, key=lambda file: [int(part) if part.isdigit() else 0 for part in file.stem.split("-")])
