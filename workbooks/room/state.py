"""What a room remembers over a restart, in a folder that only this account of the computer can read."""

import dataclasses
import json
import os
import secrets
from pathlib import Path

from environment import SetupProblem

from lessons_lib.quantities.errors import InputError
from lessons_lib.storage.files import write_whole

from . import code


@dataclasses.dataclass(frozen=True)
class Kept:
    """The room's code, the secret that its cookies are signed with, the instructor's key, and the port of last time."""

    code: str
    secret: str
    instructor: str
    port: int


def kept(folder: Path, port: int, own_code: "str | None" = None) -> Kept:
    """Gives what the room remembers, made anew where nothing is there yet, and writes it down.

    own_code : a code of the instructor's own, instead of the last one
    Raises SetupProblem: the code is too easy, or the folder cannot be used.
    """
    found = {"code": code.fresh(), "secret": secrets.token_hex(32), "instructor": secrets.token_urlsafe(16)}
    try:
        private(folder)
        before = json.loads((folder / "room.json").read_text(encoding="utf-8"))
        found.update({name: before[name] for name in found if isinstance(before.get(name), str) and before[name]})
    except FileNotFoundError:
        pass  # the first start: there is nothing to remember yet
    except (OSError, ValueError, AttributeError, RecursionError) as reason:
        raise SetupProblem(
            "The room's folder {} cannot be used ({}). Please check that you may write there and that the disk is not "
            "full. If the file room.json is broken, delete it: the room then gets a new code.".format(folder, reason)
        ) from None
    if own_code is not None:
        found["code"] = code.own(own_code)
    now = Kept(port=port, **found)
    try:
        write_whole(folder / "room.json", json.dumps(dataclasses.asdict(now)), replace=True, private=True)
    except InputError as problem:
        raise SetupProblem("{} The room's folder is {}.".format(problem, folder)) from None
    return now


def private(folder: Path) -> Path:
    """Makes a folder that only its owner can enter."""
    folder.mkdir(parents=True, exist_ok=True)
    os.chmod(folder, 0o700)
    return folder
