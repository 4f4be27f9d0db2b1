"""Files of the reader: written whole or not at all, never over another one unless told."""

import os
from pathlib import Path

from .errors import InputError


def write_whole(path, content: str | bytes, replace: bool = False) -> Path:
    """Write a file in one step, text as UTF-8: to a temporary file beside it, then renamed.

    replace : True: an existing file may be written over
    Raises InputError: the file is there and `replace` is False; the folder cannot be written to.
    """
    file = Path(path)
    if file.exists() and not replace:
        raise InputError(f"{file.name} is there already and was not touched. Choose another name, or say replace=True.")
    fresh = file.with_name(f".{file.name}.{os.getpid()}.new")
    try:
        with fresh.open("wb") as stream:
            stream.write(content.encode() if isinstance(content, str) else content)
            stream.flush()
            os.fsync(stream.fileno())  # the content reaches the disk before the name does
        fresh.replace(file)
    except OSError as reason:
        fresh.unlink(missing_ok=True)
        raise InputError(f"{file.name} was not written ({reason.strerror}). Choose another folder or name.") from None
    return file


def kept_aside(path) -> Path:
    """Rename a file that could not be read, so that nothing is written over it; the new name says what it is."""
    file = Path(path)
    number = 1
    while (aside := file.with_name(f"{file.stem}-unreadable-{number}{file.suffix}")).exists():
        number += 1
    return file.rename(aside)
