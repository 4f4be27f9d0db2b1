"""A school's own building, with which lesson 11 opens: looked at before it is kept."""

from functools import lru_cache
from pathlib import Path

from ..quantities.errors import InputError, shown
from ..storage import own_material
from ..storage.files import held, read_bytes, write_whole
from .layout import Layout
from .read import read
from .source import Source

LARGEST_LAYOUT = 200_000  # bytes of a layout that is brought along; a large building's has some 60 thousand


def brought(content: bytes, name: str) -> Layout:
    """The layout in the content of a file that somebody brought along. Raises InputError that names it, the line
    and the remedy: too large, no layout, or one with something missing.
    """
    if len(content) > LARGEST_LAYOUT:
        raise InputError(
            f"{shown(name)}: {len(content) / 1000:.0f} kB are too large; at most {LARGEST_LAYOUT / 1000:.0f} kB. "
            "Make a file for each building."
        )
    return read(Source.brought(content, name))


def of_school() -> tuple[str, str]:
    """Gives the name of the school's own building, and what is wrong with its file; each "" where there is none."""
    file = own_material.opening()
    try:
        found = file.stat()
    except OSError:  # the usual case: a school has none
        return "", ""
    return _looked_at(file, found.st_mtime_ns, found.st_size, found.st_ino)


@lru_cache(maxsize=1)
def _looked_at(file: Path, *known) -> tuple[str, str]:
    """Reads the file anew only where it has changed. known : what it is known again by"""
    try:
        return brought(read_bytes(file, LARGEST_LAYOUT), file.name).name, ""
    except InputError as error:
        return "", f"{error} Until then lesson 11 opens with Tern Bank's building."


def keep(content: bytes, name: str) -> tuple[Layout, Path | None]:
    """From now on lesson 11 opens with this building; the one before is put aside. Gives its layout, and where the one
    before lies. Raises InputError as `brought` does; the folder cannot be used. Nothing is changed then.
    """
    layout, file = brought(content, name), own_material.opening()
    with held(file):
        aside = own_material.put_aside(file)
        try:
            write_whole(file, content)
        except InputError:
            if aside:
                aside.rename(file)
            raise
    return layout, aside


def take_back() -> Path | None:
    """From now on lesson 11 opens with Tern Bank's building again. Gives where the school's own lies then, None
    where it had none. Raises InputError: the folder cannot be used.
    """
    return own_material.put_aside(own_material.opening())
