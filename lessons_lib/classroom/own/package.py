"""A school's own material as one file: written here, and looked at before it is taken in on another computer."""

import io
import os
import re
import shutil
import stat
import struct
import tempfile
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path

from ...building import of_school
from ...exercises import bank, handed_out, question_file
from ...quantities.errors import InputError, shown
from ...storage import own_material, own_rows, tables
from ...storage.files import held, read_bytes, write_whole

LARGEST_PACKAGE, MOST_UNPACKED, MOST_FILES = 5_000_000, 20_000_000, 1000  # bytes; bytes of all files in it; files
MOST_TOLD = 8  # slips in one message
QUESTIONS = "questions"
TOLD = {"session_minutes": "minutes", "kit": "kit", "pipes": "pipe"}  # table → what its rows are about
# What may lie in a package: a name, and the most bytes. No name can lead to another folder.
KINDS = (
    (re.compile(rf"{QUESTIONS}/\d\d-own-[A-Za-z0-9_-]{{1,30}}\.toml"), question_file.LARGEST),
    *((re.compile(rf"{name}\.csv"), tables.LARGEST) for name in own_rows.TABLES),
    (re.compile(r"opening\.toml"), of_school.LARGEST_LAYOUT),
    (re.compile(r"lessons\.json"), handed_out.LARGEST),
)
BROKEN = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    struct.error,
    EOFError,
    NotImplementedError,
    OverflowError,
    RuntimeError,
    ValueError,
)


@dataclass(frozen=True)
class Package:
    """A package that was looked at. files : name → content; holds : what it holds, in words"""

    files: dict
    holds: str


def files_there(folder: Path) -> dict[str, Path]:
    """Name in a package → file, of all material in a folder that a package can hold."""
    names = [f"{name}.csv" for name in own_rows.TABLES] + ["opening.toml", "lessons.json"]
    found = [*sorted((folder / QUESTIONS).glob("*.toml")), *(folder / name for name in names)]
    named = {file.relative_to(folder).as_posix(): file for file in found if file.is_file()}
    return {name: file for name, file in named.items() if _most_bytes(name)}


def written() -> bytes:
    """All own material as the content of a package. Raises InputError: there is none, a slip is in it, or it is too
    large.
    """
    files = files_there(own_material.folder())
    if not files:
        raise InputError("There is no material of your own yet. Add some on this page first.")
    for file in own_material.questions():
        if f"{QUESTIONS}/{file.name}" not in files:
            raise InputError(f"{shown(file.name)}: this name has no place in a package. Name it like 02-own-1.toml.")
    _none_wrong(own_material.folder())
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, file in files.items():
            archive.writestr(name, read_bytes(file, _most_bytes(name)))
    package = content.getvalue()
    looked_at(package, "The package")
    return package


def looked_at(content: bytes, name: str) -> Package:
    """The package in the content of a file, after everything in it was read by those who will read it. Nothing is kept.

    Raises InputError that names the package, the file in it and the remedy.
    """
    files = _unpacked(content, shown(name))
    with tempfile.TemporaryDirectory() as elsewhere:
        _lay_out(files, Path(elsewhere))
        _none_wrong(Path(elsewhere))
        return Package(files, _holds(Path(elsewhere)))


def take_in(package: Package) -> list[Path]:
    """Keeps all that is in a package in the place of the own material that was there, which is put aside. Gives where
    that lies then. Raises InputError: the folder cannot be used; then nothing is changed.
    """
    folder = own_material.folder()
    fresh, moved = folder / f".being-taken-in-{os.getpid()}", []
    with held(folder / "package"):
        try:
            _lay_out(package.files, fresh)
            for file in files_there(folder).values():
                moved.append((own_material.put_aside(file), file))
            for name in package.files:
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                (fresh / name).rename(folder / name)
                moved.append((folder / name, fresh / name))
        except (OSError, InputError) as reason:
            for now, before in reversed(moved):
                now.rename(before)
            why = (
                reason if isinstance(reason, InputError) else f"The folder {folder} can't be used ({reason.strerror})."
            )
            raise InputError(f"{why} Nothing was changed.") from None
        finally:
            shutil.rmtree(fresh, ignore_errors=True)
    return [now for now, before in moved if before.parent in (folder, folder / QUESTIONS)]


def _unpacked(content: bytes, name: str) -> dict[str, bytes]:
    """Name → content of the files in a package, each of them one that may be there. Raises InputError."""
    if len(content) > LARGEST_PACKAGE:
        raise InputError(f"{name}: {len(content) / 1e6:.3g} MB are too large; at most {LARGEST_PACKAGE / 1e6:.3g} MB.")
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            inside = [one for one in archive.infolist() if one.orig_filename != f"{QUESTIONS}/"]
            _none_strange(inside, name)
            return {one.filename: _read(archive, one, name) for one in inside}
    except InputError:
        raise
    except BROKEN:
        raise InputError(
            f"{name}: this is no package, or it is damaged. Bring a file that Write the package has made."
        ) from None


def _none_strange(inside: list, name: str) -> None:
    """Looks at the list of a package's files before any of them is unpacked. Raises InputError."""
    if not inside:
        raise InputError(f"{name}: nothing is in it. Bring a file that Write the package has made.")
    if len(inside) > MOST_FILES or sum(one.file_size for one in inside) > MOST_UNPACKED:
        raise InputError(
            f"{name}: too much is in it; at most {MOST_FILES} files and {MOST_UNPACKED / 1e6:.3g} MB."
            " Keep a part of it."
        )
    names = [one.orig_filename for one in inside]
    for one in inside:
        given, kind = one.orig_filename, stat.S_IFMT(one.external_attr >> 16)
        if not _most_bytes(given) or kind not in (0, stat.S_IFREG) or names.count(given) > 1:
            raise InputError(
                f'{name}: "{shown(given)}" has no place in a package. Nothing was read. Ask whoever gave it to you to'
                " make it with Write the package."
            )
        if one.file_size > _most_bytes(given):
            raise InputError(
                f"{name}, {given}: {one.file_size / 1e6:.3g} MB are too large;"
                f" at most {_most_bytes(given) / 1e6:.3g} MB."
            )


def _read(archive: zipfile.ZipFile, one: zipfile.ZipInfo, name: str) -> bytes:
    """The content of one file of a package, never more of it than its list says. Raises one of BROKEN."""
    if one.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise NotImplementedError("packed in another way")
    with archive.open(one) as stream:
        content = stream.read(one.file_size + 1)
    if len(content) != one.file_size:
        raise zipfile.BadZipFile("its list says another size")
    return content


def _most_bytes(name: str) -> int:
    """Says how large a file of this name may be in a package; 0 where none of this name may be there."""
    return next((most for kind, most in KINDS if kind.fullmatch(name)), 0)


def _lay_out(files: dict, folder: Path) -> None:
    """Writes files by name into a folder of their own. Raises InputError."""
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        write_whole(folder / name, content)


def _none_wrong(folder: Path) -> None:
    """Lets those who will read the material read it. Raises InputError that lists what they cannot read."""
    slips = []
    for name, file in files_there(folder).items():
        try:
            if file.suffix == ".csv":
                slips += [str(error) for error in tables.looked_at(file.stem, file)[1]]
            elif file.parent.name == QUESTIONS:
                bank.read_own(file, bank.lessons())
            elif file.suffix == ".toml":
                of_school.brought(read_bytes(file, of_school.LARGEST_LAYOUT), name)
            else:
                handed_out.chosen(read_bytes(file, handed_out.LARGEST), name)
        except InputError as error:
            slips.append(str(error))
    if slips:
        more = f"\nAnd {len(slips) - MOST_TOLD} more." if len(slips) > MOST_TOLD else ""
        raise InputError("This has to be mended first:\n" + "\n".join(slips[:MOST_TOLD]) + more)


def _holds(folder: Path) -> str:
    """Says what of a school's own lies in a folder, after it was looked at."""
    files, parts = files_there(folder), []
    asked = sum(name.startswith(QUESTIONS) for name in files)
    if asked:
        parts.append(_counted(asked, "question"))
    for name, about in TOLD.items():
        if f"{name}.csv" in files:
            parts.append(_counted(len(tables.looked_at(name, files[f"{name}.csv"])[0]), f"row of {about}"))
    if "opening.toml" in files:
        content = read_bytes(files["opening.toml"], of_school.LARGEST_LAYOUT)
        parts.append(f'the building "{of_school.brought(content, "opening.toml").name}"')
    if "lessons.json" in files:
        named = handed_out.chosen(read_bytes(files["lessons.json"], handed_out.LARGEST), "lessons.json")
        parts.append(f"the choice of {handed_out.in_words(named)}")
    return ", ".join(parts)


def _counted(count: int, what: str) -> str:
    """Says how many: "1 question", "3 rows of kit"."""
    first, _, rest = what.partition(" ")
    return f"{count} {first}{'' if count == 1 else 's'}{' ' if rest else ''}{rest}"
