"""What a school adds of its own. It lies beside the workbook and not in it, so that an update leaves it alone."""

import os
from datetime import datetime
from pathlib import Path

from ..quantities.errors import InputError
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


def opening() -> Path:
    """Says where the layout of a school's own building lies, with which lesson 11 opens; it need not be there."""
    return folder() / "opening.toml"


def lessons() -> Path:
    """Says where a school's choice of the lessons that it hands out lies; it need not be there."""
    return folder() / "lessons.json"


def put_aside(file: Path) -> Path | None:
    """Move a file of the material into the folder "put aside", under a name that says when; None: there is none.

    Nothing that somebody made is deleted. Raises InputError: the folder cannot be written to.
    """
    try:
        if not file.exists():
            return None
        aside = folder() / "put aside"
        aside.mkdir(parents=True, exist_ok=True)
        stem = f"{datetime.now():%Y-%m-%d %H.%M.%S} {file.stem}"
        number, there = 1, aside / f"{stem}{file.suffix}"
        while there.exists():
            number += 1
            there = aside / f"{stem} {number}{file.suffix}"
        return file.rename(there)
    except OSError as reason:
        raise InputError(
            f"{file.name} could not be put aside ({reason.strerror}). Nothing was changed: see whether another program"
            " has it open."
        ) from None
