"""The room's code: a few short words that people can read out, and the brake on wrong tries."""

import asyncio
import hmac
import math
import re
import secrets
import time
import unicodedata
from collections import Counter
from contextlib import asynccontextmanager

from environment import SetupProblem
from mnemonic import Mnemonic

WORDS = 4  # of 2048 each: 44 bits, so that a brake of a few tries a second keeps everybody out
LEAST_OWN = 12  # letters in a code of the instructor's own
# wrong tries without a wait; what each further one adds to it [s], up to the longest [s]
FREE, STEP, LONGEST = 5, 0.5, 5.0
FORGIVEN = 10.0  # [s] in which one wrong try is forgotten
SHARE = 0.1  # a wrong try counts this much against everybody else, so that thirty slips slow nobody down
AT_ONCE, IN_ALL = 20, 60  # tries that may wait at one address, and in the whole room


def fresh() -> str:
    """Gives a new code: words that a program drew, each as likely as any other of its list."""
    listed = Mnemonic("english").wordlist
    return " ".join(secrets.choice(listed) for _ in range(WORDS))


def bits() -> float:
    """Gives how hard a fresh code is to guess, as the logarithm to base 2 of the number of codes [bit]."""
    return WORDS * math.log2(len(set(Mnemonic("english").wordlist)))


def own(given: str) -> str:
    """Gives a code of the instructor's own, with one blank between its words.

    Raises SetupProblem: fewer than three different words, or too few letters.
    """
    words = re.split(r"[\s\-]+", unicodedata.normalize("NFKC", given).strip(" -\t"))
    if len(set(map(plain, words)) - {""}) < 3 or len(plain(given)) < LEAST_OWN:
        raise SetupProblem(
            'The code "{}" is too easy to guess. Please give at least three different words with {} letters in all, '
            'for example --code "three words nobody-expects", or leave --code out to get a new code.'.format(
                given, LEAST_OWN
            )
        )
    return " ".join(words)


def plain(typed: str) -> str:
    """Gives only the letters and digits of what was typed, in lower case: blanks, hyphens and case do not count."""
    return "".join(one for one in unicodedata.normalize("NFKC", typed).casefold() if one.isalnum())


def same(typed: str, code: str) -> bool:
    """Says whether these are the same words."""
    return hmac.compare_digest(plain(typed[:200]).encode(), plain(code).encode())


class TooMany(Exception):
    """More tries wait already than the door looks at."""


class Brake:
    """Slows tries down, the more of them were wrong. Nobody is locked out: a try waits a few seconds at most.

    wrong : how many wrong tries there were since the room was opened
    clock : gives the time [s]
    """

    def __init__(self, clock=time.monotonic):
        self.wrong, self._clock = 0, clock
        self._counts = {}  # by address, and "" for the whole room: wrong tries not yet forgotten, and when that was
        self._waiting = Counter()

    def wait(self, whose: str) -> float:
        """Gives how long the next try from this address has to wait [s]."""
        return min(max(0.0, STEP * (max(self._count(whose), self._count("")) - FREE)), LONGEST)

    @asynccontextmanager
    async def turn(self, whose: str):
        """Waits until this address may try. Raises TooMany."""
        if self._waiting[whose] >= AT_ONCE or self._waiting.total() >= IN_ALL:
            raise TooMany
        self._waiting[whose] += 1
        try:
            await asyncio.sleep(self.wait(whose))
            yield
        finally:
            self._waiting[whose] -= 1

    def was_wrong(self, whose: str) -> None:
        """Counts a wrong try. What would wait longer than the longest wait is not counted up any further."""
        self.wrong += 1
        now, most = self._clock(), FREE + LONGEST / STEP
        self._counts = {key: found for key, found in self._counts.items() if self._count(key) > 0}
        for key, weight in ((whose, 1.0), ("", SHARE)):
            self._counts[key] = min(self._count(key) + weight, most), now
        self._waiting += Counter()  # forgets those who do not wait

    def _count(self, whose: str) -> float:
        count, then = self._counts.get(whose, (0.0, 0.0))
        return max(0.0, count - (self._clock() - then) / FORGIVEN)
