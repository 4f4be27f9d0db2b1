"""What a school adds of its own. It lies beside the workbook and not in it, so that an update leaves it alone."""

import os
from datetime import datetime
from pathlib import Path

from ..quantities.errors import InputError
from . import preferences

MATERIAL_VARIABLE = "HOT_WATER_RUNS_MATERIAL"  # where it lies, instead of the reader's own folder; a room sets it
ASIDE = "put aside"  # folder in it: what was replaced or taken back, by the time at which that was done


def folder() -> Path:
    """Says where a school's own material lies; the folder need not be there yet."""
    named = os.environ.get(MATERIAL_VARIABLE)
    return Path(named) if named else preferences.seen_folder() / "own material"


def table(name: str) -> Path:
    """Says where a school's own rows of data/<name>.csv lie."""
    return folder() / f"{name}.csv"


def questions() -> list[Path]:
    """Gives the files of a school's own questions, one question in each, in the order of their names."""
    return sorted((folder() / "questions").glob("[0-9]*.toml"))


def opening() -> Path:
    """Says where the layout of a school's own building lies, with which lesson 11 opens; it need not be there."""
    return folder() / "opening.toml"


def lessons() -> Path:
    """Says where a school's choice of the lessons that it hands out lies; it need not be there."""
    return folder() / "lessons.json"


def put_aside(files) -> Path | None:
    """Moves files of a school's own out of the way, none of them deleted, and gives the folder where they lie then; None
    where none of them is there. Raises InputError: the folder does not allow it; then all are where they were.
    """
    there, moved = [file for file in files if file.exists()], []
    if not there:
        return None
    aside = folder() / ASIDE / datetime.now().strftime("%Y-%m-%d %H.%M.%S.%f")[:-4]
    try:
        for file in there:
            place = aside / file.relative_to(folder())
            place.parent.mkdir(parents=True, exist_ok=True)
            file.rename(place)
            moved.append((file, place))
    except OSError as reason:
        for file, place in moved:
            place.rename(file)
        raise InputError(
            f"The folder {aside.parent} can't be used ({reason.strerror}). Nothing was changed; ask who set up this"
            " machine."
        ) from None
    return aside
