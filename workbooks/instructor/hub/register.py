"""Who is in the class: names, numbers and words of the learners' own, in one small file that only the hub reads.

Standard library only: the launcher and a cluster's hub read it as well. Words are kept as scrypt hashes.
"""

import hashlib
import json
import os
import secrets
import unicodedata
from contextlib import contextmanager
from pathlib import Path

LONGEST = 60  # characters of a name
SHORTEST_WORD, LONGEST_WORD = 6, 200
MOST = 100  # learners of one class: whoever has the code could otherwise fill the disk with folders
BETWEEN = frozenset(" -'’.")  # what may stand between the letters of a name
CODE_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that look alike on a board
# Small letters of the Greek and Cyrillic alphabets that cannot be told from Latin ones on a screen.
LOOK_ALIKE = str.maketrans("авекмнорстухіјѕԁԛԝһαβεικνορτυχγ", "abekmhopctyxijsdqwhabeiknoptuxy")


class Refused(Exception):
    """Not let in; the message says why, and what to do, in one sentence or two."""


def new_code() -> str:
    """A room's code that nobody guesses and everybody can type."""
    return "".join(secrets.choice(CODE_LETTERS) for _ in range(8))


def cleaned(name: str) -> str:
    """A name as it is kept, in one line. Raises Refused: not a name."""
    kept = " ".join(part for part in unicodedata.normalize("NFKC", name[: 10 * LONGEST]).split(" ") if part)
    alphabets = {unicodedata.name(one, "?").split()[0] for one in kept if one.isalpha()} - {"MODIFIER"}
    mixed = len(alphabets) > 1 and alphabets & {"LATIN", "GREEK", "CYRILLIC"}
    fits = all(one in BETWEEN or one.isalpha() or unicodedata.category(one) in ("Mn", "Mc", "Nd") for one in kept)
    if not kept[:1].isalpha() or not fits or mixed or ".." in kept or len(kept) > LONGEST:
        raise Refused(
            f"Type a name of up to {LONGEST} characters that begins with a letter: letters of one alphabet, digits, spaces, - ' and single dots."
        )
    return kept


def account(name: str) -> str:
    """What the hub calls a learner: a few plain letters to recognise and a hash that cannot be mistaken. Case counts for nothing."""
    who = name.casefold()
    plain = "".join(
        one for one in unicodedata.normalize("NFKD", who) if "a" <= one <= "z" or one.isdigit() and one.isascii()
    )
    return f"{plain[:20] or 'learner'}-{hashlib.sha256(who.encode()).hexdigest()[:10]}"


class Register:
    """The learners of a class, in a file.

    first, last : the operating system's user numbers that learners may get
    The file is read anew at each use, so that a word forgotten by the launcher holds at once.
    """

    def __init__(self, file, first: int, last: int):
        self.file, self.first, self.last = Path(file), first, last

    def learners(self) -> dict:
        """Account → {"name", "number", "salt", "word"}."""
        try:
            return json.loads(self.file.read_text(encoding="utf-8"))
        except FileNotFoundError:
            return {}

    def admit(self, name: str, word: str) -> str:
        """The account of a learner who gave the word; a new one where the name is new. Raises Refused, OSError."""
        name = cleaned(name)
        if not SHORTEST_WORD <= len(word) <= LONGEST_WORD:
            raise Refused(f"A word of your own has {SHORTEST_WORD} to {LONGEST_WORD} characters.")
        with self._held():
            known, who = self.learners(), account(name)
            one = known.get(who)
            if one is None:
                self._write({**known, who: {"name": name, "number": self._next(name, known), **_hashed(word)}})
            elif not one["word"]:  # the instructor took the forgotten one away
                self._write({**known, who: {**one, **_hashed(word)}})
            elif not secrets.compare_digest(_digest(word, one["salt"]), one["word"]):
                raise Refused(
                    "This name is taken, and that is not its word. If it is yours, try once more; if not, add your family name or a number."
                )
        return who

    def forget_word(self, name: str) -> bool:
        """Let the learner choose a new word at the next sign-in; whether there is such a learner."""
        with self._held():
            known, who = self.learners(), account(cleaned(name))
            if who in known:
                self._write({**known, who: {**known[who], "salt": "", "word": ""}})
        return who in known

    @contextmanager
    def _held(self):
        """Hub and launcher write in turn."""
        import fcntl  # not on Windows, where the launcher must get far enough to say so

        with self.file.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            yield

    def _next(self, name: str, known: dict) -> int:
        """The number of a new learner."""
        if any(_seen(one["name"]) == _seen(name) for one in known.values()):
            raise Refused(
                "A learner whose name looks just like this one is here already. Type your own, or add a number to it."
            )
        number = max((one["number"] for one in known.values()), default=self.first - 1) + 1
        if len(known) >= MOST or number > self.last:
            raise Refused(f"This class is full with {len(known)} learners. Ask your instructor.")
        return number

    def _write(self, known: dict) -> None:
        fresh = self.file.with_suffix(".new")
        try:
            with fresh.open("w", encoding="utf-8") as stream:
                json.dump(known, stream, ensure_ascii=False, indent=1)
                stream.flush()
                os.fsync(stream.fileno())
            fresh.replace(self.file)
        except OSError:
            fresh.unlink(missing_ok=True)
            raise


def _seen(name: str) -> str:
    """What a reader sees of a name."""
    return name.casefold().translate(LOOK_ALIKE)


def _hashed(word: str) -> dict:
    salt = secrets.token_hex(16)
    return {"salt": salt, "word": _digest(word, salt)}


def _digest(word: str, salt: str) -> str:
    return hashlib.scrypt(word.encode("utf-8", "replace"), salt=bytes.fromhex(salt), n=2**14, r=8, p=1).hex()
