"""The learners of a room: a name, a seat, and a short word of their own that nobody but a well-kept library looks at."""

import dataclasses
import json
import shutil
import time
from pathlib import Path

import argon2
from filelock import FileLock

from lessons_lib.exercises import names
from lessons_lib.storage.files import write_whole

from .state import private

SHORTEST_WORD, LONGEST_WORD = 4, 200  # characters
HASHER = argon2.PasswordHasher()


class Refused(Exception):
    """Somebody who cannot come in under this name; the message says why and what to do."""


@dataclasses.dataclass(frozen=True)
class Member:
    """A learner of the room.

    name, seat : as they are shown; word : the own word's hash, or "" where a new one is to be chosen
    since, seen : times of the first sign-in and of the last touch [s]; page : the page touched last
    """

    name: str
    seat: str
    word: str
    since: float
    seen: float
    page: str = ""


class Members:
    """The learners of the room in `folder`, each with a folder of their own in `folder`/members."""

    def __init__(self, folder: Path):
        self._file = folder / "members.json"
        self._folders = private(folder / "members")
        self._lock = FileLock(str(folder / "members.lock"), mode=0o600)

    def all(self) -> dict[str, Member]:
        """Gives the members by their accounts, the one who came first at the head."""
        try:
            found = json.loads(self._file.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return {}
        return {account: Member(**member) for account, member in found.items()}

    def get(self, account: str) -> "Member | None":
        """Gives the member of an account; None: there is none."""
        return self.all().get(account)

    def folder(self, account: str) -> Path:
        """Gives the member's own folder."""
        return private(self._folders / account)

    def admit(self, name: str, seat: str, word: str) -> str:
        """Lets a learner in and gives the account: a new one, or the one of this name if the own word is right.

        Raises Refused: no name or no word, or the name is taken and the word is not its own.
        """
        name, seat = names.clean(name), names.seat(seat)
        if not name:
            raise Refused("No name was given. Please type your name.")
        with self._lock:
            members = self.all()
            account = _account_of(name, members)
            if account is None:
                account = names.file_name(name).removesuffix(names.SUFFIX)
                members[account] = Member(name, seat, HASHER.hash(word), time.time(), time.time())
                self._keep(members)
            elif not _is(word, members[account].word):
                raise Refused(f"Somebody called {name} is in this room already.")
        return account

    def seen(self, account: str, page: str) -> None:
        """Notes that a member opened a page just now."""
        self._change(account, seen=time.time(), page=page)

    def rename(self, account: str, name: str) -> None:
        """Gives a member another name. Raises Refused: it is taken, or empty."""
        self._change(account, name=names.clean(name))

    def free_word(self, account: str) -> None:
        """Lets the member choose a new word at the next sign-in."""
        self._change(account, word="")

    def remove(self, account: str) -> None:
        """Removes a member and everything in the member's folder."""
        with self._lock:
            members = self.all()
            members.pop(account, None)
            self._keep(members)
            shutil.rmtree(self._folders / account, ignore_errors=True)

    def remove_all(self) -> None:
        """Removes every member and everything they left."""
        for account in self.all():
            self.remove(account)

    def _change(self, account: str, **changes) -> None:
        with self._lock:
            members = self.all()
            if account in members:
                members[account] = dataclasses.replace(members[account], **changes)
                self._keep(members)

    def _keep(self, members: dict[str, Member]) -> None:
        content = {account: dataclasses.asdict(member) for account, member in members.items()}
        write_whole(self._file, json.dumps(content, ensure_ascii=False), replace=True, private=True)


def _account_of(name: str, members: dict[str, Member]) -> "str | None":
    return next((account for account, member in members.items() if member.name.casefold() == name.casefold()), None)


def _is(word: str, kept: str) -> bool:
    try:
        return HASHER.verify(kept, word)
    except (argon2.exceptions.VerificationError, argon2.exceptions.InvalidHashError):
        return False
