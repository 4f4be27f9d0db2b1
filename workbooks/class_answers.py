"""What an instructor does with a class's files: the answers of all in one folder for the class board, and a word that was forgotten.

Standard library only. Run as root; a learner's folder is the learner's, so nothing in it is trusted: no link is followed.
"""

import json
import os
import stat
from pathlib import Path

from class_hub import FIRST, LAST, STATE, check_rights
from environment import SetupProblem
from register import Refused, Register

LARGEST = 5000000  # bytes; a learner's file has some ten thousand


def collect(folder, state=STATE):
    """Copy every learner's answers into one folder, over older copies, for the account that gave the command; return how many and what was left.

    Files are named after the learner's number, so that two of one name stay apart. Raises SetupProblem: no class yet, a folder that can't be used.
    """
    check_rights()
    learners, target = state / "learners", Path(folder)
    if not learners.is_dir():
        raise SetupProblem("There is no class in {} yet.".format(state))
    owner = int(os.environ.get("SUDO_UID", os.geteuid())), int(os.environ.get("SUDO_GID", os.getegid()))
    copied, left = 0, []
    try:
        if not target.is_dir():
            target.mkdir(mode=0o700)
            os.chown(str(target), *owner)
        for home in sorted(learners.iterdir()):
            for name, content in _answers(home, left):
                fresh = target / ".{}-{}.new".format(home.name, name)
                fresh.write_bytes(content)
                os.chown(str(fresh), *owner)
                fresh.chmod(0o600)
                fresh.replace(target / "{}-{}".format(home.name, name))
                copied += 1
    except OSError as reason:
        raise SetupProblem(
            "The folder {} can't be used ({}): please name another one.".format(folder, reason.strerror)
        ) from None
    return copied, left


def _answers(home, left):
    """Name and content of a learner's files; what is no plain file is added to `left`."""
    try:
        inside = os.open(str(home / "answers"), os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    except FileNotFoundError:
        return  # has not answered yet
    except OSError:
        left.append("{}/answers".format(home.name))
        return
    try:
        for name in sorted(os.listdir(inside)):
            if name.startswith(".") or not name.endswith(".json"):
                continue
            content = _plain(name, inside)
            if content is None:
                left.append("{}/{}".format(home.name, ascii(name)))
            else:
                yield name, content
    finally:
        os.close(inside)


def _plain(name, inside):
    """The content of a plain file of usual size, None for anything else."""
    try:
        file = os.open(name, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK, dir_fd=inside)
    except OSError:
        return None
    with os.fdopen(file, "rb") as stream:
        kind = os.fstat(file)
        if not stat.S_ISREG(kind.st_mode) or kind.st_nlink != 1:
            return None
        content = stream.read(LARGEST + 1)
    return content if len(content) <= LARGEST else None


def forget_word(name, state=STATE):
    """Let a learner choose a new word at the next sign-in. Raises SetupProblem: no such learner."""
    check_rights()
    file = state / "hub" / "learners.json"
    try:
        known = file.exists() and Register(file, FIRST, LAST).forget_word(name)
    except Refused:
        known = False
    if not known:
        here = json.loads(file.read_text(encoding="utf-8")).values() if file.exists() else ()
        raise SetupProblem(
            "No learner has that name. There are: {}.".format(
                ", ".join(sorted(one["name"] for one in here)) or "none yet"
            )
        )
