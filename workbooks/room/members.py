"""The learners of a room: a name, a seat, and a short word of their own that only a well-kept library hashes."""

import dataclasses
import json
import shutil
import time
import unicodedata
from pathlib import Path

import argon2
from filelock import FileLock

from lessons_lib.exercises import names
from lessons_lib.exercises.learner import learner
from lessons_lib.quantities.errors import InputError
from lessons_lib.storage.files import write_whole

from .state import private

SHORTEST_WORD, LONGEST_WORD = 4, 200  # characters
ALPHABETS = ("LATIN", "CYRILLIC", "GREEK")  # their letters look alike
HASHER = argon2.PasswordHasher()


class Refused(Exception):
    """Somebody or something that the room cannot take; the message says why and what to do."""


class WrongWord(Refused):
    """A name that is taken, without its own word."""


@dataclasses.dataclass(frozen=True)
class Member:
    """A learner of the room.

    name, seat : as they are shown; word : the own word's hash, or "" where a new one is to be chosen
    since, seen : times of the first sign-in and of the last opened page [s]; page : that page
    """

    name: str
    seat: str
    word: str
    since: float
    seen: float
    page: str = ""


class Members:
    """The learners of the room in `folder`, each with a folder of their own in `folder`/members.

    Each change is made by one program at a time and written whole. Raises Refused where a change cannot be written;
    nothing is changed then.
    """

    def __init__(self, folder: Path):
        self._file = folder / "members.json"
        self._folders = private(folder / "members")
        self._lock = FileLock(str(folder / "members.lock"), mode=0o600)

    def all(self) -> dict[str, Member]:
        """Gives the members by their accounts, in the order in which they came. Raises Refused: the list is damaged."""
        try:
            found = json.loads(self._file.read_text(encoding="utf-8"))
            return {account: Member(**member) for account, member in found.items()}
        except FileNotFoundError:
            return {}
        except (OSError, ValueError, TypeError, AttributeError, RecursionError):
            raise Refused(
                f"The list of this room's learners, {self._file.name}, cannot be read. Nothing in it was touched. "
                "Your instructor can put back a copy of it, or move it away to begin a new list."
            ) from None

    def get(self, account: str) -> Member | None:
        """Gives the member of an account; None: there is none."""
        return self.all().get(account)

    def folder(self, account: str) -> Path:
        """Gives the member's own folder. Raises Refused: it cannot be made."""
        try:
            return private(self._folders / account)
        except OSError as reason:
            raise Refused(f"Your folder cannot be made ({reason.strerror}). Please tell your instructor.") from None

    def admit(self, name: str, seat: str, word: str) -> str:
        """Lets a learner in and gives the account: a new one, or the one of this name if the own word is right.

        Raises Refused: a name or word that cannot be taken; WrongWord: the name is somebody's who has another word.
        """
        name, seat = _checked(name), names.seat(seat)
        if not SHORTEST_WORD <= len(word) <= LONGEST_WORD:
            raise Refused(f"Your own word has {len(word)} characters. Please take one of {SHORTEST_WORD} or more.")
        account, member = self.named(name)
        if member is not None and member.word:
            return self._known(account, member, word)
        hashed = HASHER.hash(word)  # takes a while: nobody waits for it
        with self._lock:
            account, member = self.named(name)
            if member is None:
                now = time.time()
                account, member = self._free_account(name), Member(name, seat, hashed, now, now)
            elif member.word:  # somebody was quicker
                return self._known(account, member, word)
            self._keep({**self.all(), account: dataclasses.replace(member, word=hashed)})
        return account

    def named(self, name: str) -> tuple[str, Member] | tuple[None, None]:
        """Gives account and member of a name, whatever its case; None twice: nobody has this name."""
        same = names.clean(name).casefold()
        return next((found for found in self.all().items() if found[1].name.casefold() == same), (None, None))

    def at_seat(self, seat: str, besides: str) -> list[str]:
        """Gives the names of the members at a seat, without the one of an account."""
        others = (member for account, member in self.all().items() if account != besides)
        return [member.name for member in others if seat and member.seat == seat]

    def seen(self, account: str, page: str) -> None:
        """Notes that a member opened a page just now."""
        self._change(account, seen=time.time(), page=page)

    def rename(self, account: str, name: str) -> None:
        """Gives a member another name; answers move along and keep their numbers.

        The member's pages have to be ended first. Raises Refused: the name is taken or cannot be taken.
        """
        with self._lock:
            name = _checked(name)
            holder, _ = self.named(name)
            if holder not in (None, account):
                raise Refused(f"Somebody called {name} is in this room already. Please choose another name.")
            self._move(account, name=name)

    def reseat(self, account: str, seat: str) -> None:
        """Gives a member another seat; answers move along and keep their numbers. The pages have to be ended first."""
        with self._lock:
            self._move(account, seat=names.seat(seat))

    def free_word(self, account: str) -> None:
        """Lets the member choose a new word at the next sign-in; until then whoever has the code can take the name."""
        self._change(account, word="")

    def remove(self, account: str) -> None:
        """Removes a member and everything in the member's folder. Raises Refused: a file cannot be removed."""
        with self._lock:
            self._keep({other: member for other, member in self.all().items() if other != account})
            try:
                shutil.rmtree(self._folders / account)
            except FileNotFoundError:
                pass  # never opened a page
            except OSError as reason:
                raise Refused(
                    f"The learner is off the list, but the folder {self._folders / account} could not be removed "
                    f"({reason.strerror}). Please remove it by hand."
                ) from None

    def remove_all(self) -> None:
        """Removes every member and everything they left."""
        for account in self.all():
            self.remove(account)

    def _known(self, account: str, member: Member, word: str) -> str:
        try:
            HASHER.verify(member.word, word)
        except argon2.exceptions.VerifyMismatchError:
            raise WrongWord(
                f"Somebody called {member.name} is in this room already, with another word. If that is you, type the "
                "word that you chose the first time, or ask your instructor to free it. If it is not you, choose "
                "another name: add a letter, for example."
            ) from None
        return account

    def _free_account(self, name: str) -> str:
        """A folder's name that says whose it is and that nobody has: what a removed learner left is never handed on."""
        plain = names.file_name(name).removesuffix(names.SUFFIX)
        taken = self.all()
        tried = [plain, *(f"{plain}-{place}" for place in range(2, len(taken) + 1000))]
        return next(one for one in tried if one not in taken and not (self._folders / one).exists())

    def _move(self, account: str, **changes) -> None:
        """Change name or seat, with the file of answers that is called by both."""
        before = self.get(account)
        if before is None:
            return
        after, answers = dataclasses.replace(before, **changes), self.folder(account) / "answers"
        old = answers / names.file_name(before.name, before.seat)
        new = answers / names.file_name(after.name, after.seat)
        try:
            if old.is_file() and old != new:
                learner(after.name, after.seat, answers).take_over(learner(before.name, before.seat, answers))
            self._change(account, **changes)
        except InputError as problem:
            raise Refused(str(problem)) from None
        if old != new:
            old.unlink(missing_ok=True)

    def _change(self, account: str, **changes) -> None:
        with self._lock:
            members = self.all()
            if account in members:
                self._keep({**members, account: dataclasses.replace(members[account], **changes)})

    def _keep(self, members: dict[str, Member]) -> None:
        content = {account: dataclasses.asdict(member) for account, member in members.items()}
        try:
            write_whole(self._file, json.dumps(content, ensure_ascii=False), replace=True, private=True)
        except InputError as problem:
            raise Refused(f"The room cannot write this down, and nothing was changed. {problem}") from None


def _checked(given: str) -> str:
    """A name as it is kept. Raises Refused: there is nothing to see in it, or it mixes letters that look alike."""
    name = names.clean(given)
    if not any(unicodedata.category(one)[0] in "LNS" for one in name):
        raise Refused("No name was given, or none with a letter in it. Please type your name.")
    for word in name.split():
        mixed = {alphabet for one in word for alphabet in ALPHABETS if unicodedata.name(one, "").startswith(alphabet)}
        if len(mixed) > 1:
            raise Refused(
                f"The name {name} mixes letters of two alphabets that look alike. Please type it in one alphabet."
            )
    return name
