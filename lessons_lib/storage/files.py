"""Files of the reader: looked at before they are read, written whole or not at all, never over another one unless
told.
"""

import os
import stat
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from ..quantities.errors import InputError, shown

PATIENCE = 20.0  # [s] that one program waits for another to finish writing
TURN = 0.005  # [s] between two looks whether the other has finished
NOT_IN_NAMES = '/\\:*?"<>|'
NO_NAME = "no file can have this name"  # why, where the system itself gives no reason


class NotThere(InputError):
    """No file of that name."""


class TooLarge(InputError):
    """A file larger than what it can be."""


def plain_name(typed: str) -> str:
    """A name that a reader typed, for a file of theirs, without folder and ending. Raises InputError."""
    name = typed.strip().removesuffix(".toml").strip()
    if (
        not name
        or name.startswith(".")
        or len(name) > 80
        or any(sign in NOT_IN_NAMES or not sign.isprintable() for sign in name)
    ):
        raise InputError(
            f'name: "{typed}" can\'t be the name of a file. Use letters, numbers and dashes, like "my-house"; the'
            " folder is named beside it."
        )
    return name


def read_bytes(path, most: int, cut: bool = False) -> bytes:
    """The content of a file of at most `most` bytes. Its kind and size are looked at before anything is read.

    cut : True: of a larger file the beginning, instead of an error
    Raises NotThere; TooLarge; InputError: a folder, a pipe or a device, or a file that cannot be opened.
    """
    file = Path(path)
    name = shown(file.name)
    try:
        # Not to wait: a pipe to which nobody writes would keep the reader for ever.
        opened = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
        try:
            found = os.fstat(opened)
            if not stat.S_ISREG(found.st_mode):
                kind = _kind(found.st_mode)
                raise InputError(f"{name}: this is {kind} and cannot be opened. Give the name of a file.")
            with open(opened, "rb", closefd=False) as stream:
                content = b"" if found.st_size > most and not cut else stream.read(most if cut else most + 1)
        finally:
            os.close(opened)
    except FileNotFoundError as reason:
        raise NotThere(f"{name}: the file cannot be opened ({reason.strerror}). Check its name and folder.") from None
    except (OSError, ValueError) as reason:
        if isinstance(reason, InputError):
            raise
        raise InputError(f"{name}: the file cannot be opened ({_why(reason)}). Check its name and folder.") from None
    size = max(found.st_size, len(content))
    if size > most and not cut:
        raise TooLarge(f"{name}: {size / 1e6:.3g} MB are too large; at most {most / 1e6:.3g} MB. Keep a part of it.")
    return content


def refuse_what_is_there(path, replace: bool) -> None:
    """Nothing where a file may be written; asked before long work on its content. replace : it may be written over

    Raises InputError: the file is there.
    """
    if os.path.lexists(path) and not replace:
        name = shown(Path(path).name)
        raise InputError(f"{name} is there already and was not touched. Choose another name, or say replace=True.")


def write_whole(path, content: str | bytes, replace: bool = False, private: bool = False) -> Path:
    """Write a file in one step, text as UTF-8: to a temporary file beside it, then renamed.

    replace : True: an existing file may be written over; a folder or a pipe never is
    private : True: its owner alone can read it
    Raises InputError: the file is there and `replace` is False; the folder or the name cannot be written to.
    """
    file = Path(path)
    name, fresh = shown(file.name), None
    try:
        refuse_what_is_there(file, replace)
        if os.path.lexists(file) and not stat.S_ISREG(os.stat(file).st_mode):
            raise InputError(f"{name} is {_kind(os.stat(file).st_mode)} and was not touched. Choose another name.")
        fresh = file.with_name(f".{file.name}.{os.getpid()}.new")
        how = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
        opened = os.open(fresh, how, 0o600 if private else 0o666)
        with open(opened, "wb") as stream:
            stream.write(content.encode() if isinstance(content, str) else content)
            stream.flush()
            os.fsync(stream.fileno())  # the content reaches the disk before the name does
        fresh.replace(file)
    except (OSError, ValueError) as reason:
        if isinstance(reason, InputError):
            raise
        if fresh is not None:
            _forget(fresh)
        raise InputError(f"{name} was not written ({_why(reason)}). Choose another folder or name.") from None
    return file


def kept_aside(path) -> Path:
    """Rename a file that could not be read, so that nothing is written over it; the new name says what it is.

    Raises InputError: it is a folder or a pipe, which nobody renames; its folder does not allow it.
    """
    file = Path(path)
    try:
        if not file.is_file():
            raise InputError(f"{shown(file.name)} is not a file and was not touched. Choose another name.")
        number = 1
        while (aside := file.with_name(f"{file.stem}-unreadable-{number}{file.suffix}")).exists():
            number += 1
        return file.rename(aside)
    except OSError as reason:
        raise InputError(
            f"{shown(file.name)} could not be read, nor kept under another name ({reason.strerror}). Nothing was"
            " changed: choose another name."
        ) from None


def make_private(folder: Path) -> None:
    """A folder that its owner alone can look into, also if it was there before and others could. Raises InputError."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if os.name == "posix" and folder.stat().st_uid == os.getuid() and folder.stat().st_mode & 0o077:
            folder.chmod(0o700)
    except OSError as reason:
        raise InputError(
            f"The folder {folder.name} cannot be used ({reason.strerror}). Keep this page open and ask for another"
            " folder."
        ) from None


@contextmanager
def held(file: Path):
    """Nobody else writes this file meanwhile. The lock is the operating system's: it ends with the process that held
    it.

    The folder is made where there is none, and its owner alone can look into it. Raises InputError.
    """
    try:
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with FileLock(file.with_name(f".{file.name}.lock"), timeout=PATIENCE, mode=0o600, poll_interval=TURN):
            for left in file.parent.glob(f".{file.name}.*.new"):  # of a process that ended while it wrote
                left.unlink(missing_ok=True)
            yield
    except Timeout:
        raise InputError(f"{file.name} is being written by another program. Nothing is lost: try once more.") from None
    except OSError as reason:
        raise InputError(
            f"The folder {file.parent.name} cannot be used ({reason.strerror}). Keep this page open and ask for another"
            " folder."
        ) from None


def _kind(mode: int) -> str:
    """Gives what something on the disk is, if it is no file."""
    return "a folder" if stat.S_ISDIR(mode) else "a pipe" if stat.S_ISFIFO(mode) else "a device"


def _why(reason: Exception) -> str:
    """The system's own words for an error, in a message."""
    return getattr(reason, "strerror", None) or NO_NAME


def _forget(fresh: Path) -> None:
    """Take away a file that was not finished, if it was begun at all."""
    try:
        fresh.unlink(missing_ok=True)
    except (OSError, ValueError):  # its name or folder is the very thing that cannot be used
        pass
