"""A learner's own variant of a question: the numbers that belong to a seat, and all texts and values with them
filled in.
"""

import hashlib
import re
import unicodedata
from dataclasses import dataclass
from functools import cached_property, lru_cache

from ..quantities.display import SI, SYSTEMS, US, as_given, show, symbol, unit
from ..quantities.errors import InputError, unknown_name
from ..quantities.units import Q_, unit_of
from ..storage.spelling import in_words_of
from .question import PLACE, WORDS, Call, Mistake, Question, Stated
from .solvers import solvers

LETTERS = "ABCDEFGHIJ"


@dataclass(frozen=True)
class Wrong:
    """A likely mistake in this variant. value : the wrong quantity, or None where the mistake is an option or an
    order
    """

    mistake: Mistake
    value: object
    name: str
    thinking: str
    ask: str


@dataclass(frozen=True)
class Variant:
    """One question with one seat's numbers, in one unit system. Made by `variant`."""

    question: Question
    seat: str
    system: str

    @cached_property
    def values(self) -> dict:
        """Name → quantity or text, of what varies and of the steps, in the order in which they are worked out."""
        found = {name: self._drawn(name) for name in self.question.varies}
        for name, call in self.question.steps.items():
            found[name] = self._worked_out(call, found)
        return found

    @cached_property
    def answer(self):
        """A quantity in the learner's unit, the key of an option, or the keys of items in one right order."""
        return self._found(self.question.answer)

    @cached_property
    def text(self) -> str:
        """Gives the question in words, with this seat's numbers."""
        return self.filled(self.question.text)

    @cached_property
    def choices(self) -> tuple[tuple[str, str, str], ...]:
        """(letter, key, text) of each option or item, in this seat's order; no right order ever stands there
        already.
        """
        options = self.question.options or {}
        keys = sorted(options, key=lambda key: _hashed(self.seat, self.question.id, key))
        while self.question.kind == "order" and self.question.broken(keys) is None:
            keys = keys[1:] + keys[:1]
        return tuple((letter, key, self.filled(options[key])) for letter, key in zip(LETTERS, keys))

    @property
    def is_number(self) -> bool:
        return self.question.kind in ("number", "panel")

    @property
    def asked_in(self) -> str:
        """Says how the answer's unit is written; "" where there is none."""
        return symbol(self.question.answer.kind, self.system) if self.is_number else ""

    @cached_property
    def wrongs(self) -> tuple[Wrong, ...]:
        """The likely mistakes with this variant's numbers."""
        found = []
        for mistake in self.question.mistakes:
            value = None if mistake.value is None else self._found(mistake.value)
            wrong = {} if value is None else {"wrong": self.shown_number(mistake.value, value)}
            found.append(
                Wrong(
                    mistake, value, mistake.name, self.filled(mistake.thinking, wrong), self.filled(mistake.ask, wrong)
                )
            )
        return tuple(found)

    @property
    def hint(self) -> str:
        return self.filled(self.question.hint)

    @property
    def worked(self) -> str:
        """Gives the worked solution with this seat's numbers."""
        return self.filled(self.question.worked)

    def shown_answer(self, system: str | None = None) -> str:
        """The answer as people read it: "76 %", "B: the tank's", "C, A, D, B"; of a number in the named system or in
        the own.
        """
        if self.is_number:
            return self.shown_number(self.question.answer, self.answer, system)
        if self.question.kind == "order":
            return ", ".join(self.answer_letters)
        return f"{self.answer_letters}: {self.filled(self.question.options[self.answer])}"

    def shown_number(self, asked: Call | Stated, value, system: str | None = None) -> str:
        """A right or wrong number as people read it, in the named system or in the own: what was worked out as close
        as its kind deserves, what somebody stated as it stands in the file.
        """
        system = system or self.system
        if isinstance(asked, Stated):
            return f"{as_given(asked.value, asked.kind, system)} {symbol(asked.kind, system)}".strip()
        return show(value, asked.kind, system)

    @property
    def answer_letters(self) -> str:
        """The letter of the right option, or of an order all letters run together: "B", "CADB"; "" for a number."""
        letters = {key: letter for letter, key, _ in self.choices}
        keys = self.answer if self.question.kind == "order" else () if self.is_number else (self.answer,)
        return "".join(letters[key] for key in keys)

    def filled(self, template: str, more: dict | None = None) -> str:
        """A text with this variant's numbers in its places, in the words of its units' side. {answer} is the right one,
        {wrong} that of a mistake.
        """

        def put(match) -> str:
            name = match[1]
            if name is None:
                return match[0][0]
            if more and name in more:
                return more[name]
            return self.shown_answer() if name == "answer" else self._shown(name)

        return in_words_of(PLACE.sub(put, template), self.system)

    def _shown(self, name: str) -> str:
        spec = self.question.varies.get(name) or self.question.steps[name]
        if spec.kind == WORDS:
            return str(self.values[name])
        foreign = getattr(spec, "foreign", False)
        return show(self.values[name], spec.kind, _other(self.system) if foreign else self.system)

    def _drawn(self, name: str):
        spec = self.question.varies[name]
        values = spec.values[self.system]
        leader = spec.follows or name
        value = values[int(_hashed(self.seat, self.question.id, leader) / 2**64 * len(values))]
        if spec.kind == WORDS:
            return value
        return Q_(float(value), unit_of(unit(spec.kind, _other(self.system) if spec.foreign else self.system)))

    def _found(self, asked: Call | Stated):
        """Gives a right or wrong answer in the learner's unit."""
        if isinstance(asked, Stated):
            return self._in_own_unit(asked, asked.value)
        return self._worked_out(asked, self.values)

    def _worked_out(self, call: Call, known: dict):
        given = [known[name] if name in known else float(name) for name in call.arguments]
        return self._in_own_unit(call, solvers()[call.solver](*given))

    def _in_own_unit(self, call: Call | Stated, found):
        """Gives a quantity in the learner's unit; a bare figure is in that unit already. Keys stay as they are."""
        if call.kind == WORDS:
            return found
        own = unit_of(unit(call.kind, self.system))
        return Q_(found, own) if isinstance(found, float) else found.to(own)


def variant(question: Question, seat, system: str = SI) -> Variant:
    """The variant of a question for a seat number or a name.

    The same seat has the same numbers on every machine. In the two unit systems they are neighbours, each round in its
    own units.
    Raises InputError: an empty seat, an unknown unit system.
    """
    if system not in SYSTEMS:
        raise unknown_name("unit system", system, list(SYSTEMS))
    return _variant(question, plain_seat(seat), system)


@lru_cache(maxsize=4096)  # a run that is followed through a night is worked out once, however often a cell is run
def _variant(question: Question, seat: str, system: str) -> Variant:
    return Variant(question, seat, system)


def plain_seat(seat) -> str:
    """A seat or name without the freedoms of writing: "Seat 07", " 7 " and 7 are one; case and blanks do not matter."""
    text = " ".join(unicodedata.normalize("NFKC", str(seat)).casefold().split())
    text = re.sub(r"^seat (?=.)", "", text)
    text = re.sub(r"^0+(?=[0-9]+$)", "", re.sub(r"(?<=[0-9])(\.0*)$", "", text))
    if not text:
        raise InputError("seat: nothing was given. Give a seat number or a name, so that the numbers are yours.")
    return text


def _hashed(*parts: str) -> int:
    """A whole number from 0 to 2**64 - 1 that depends on the parts only: the same on every machine and in every
    version of Python.
    """
    digest = hashlib.sha256("\x1f".join(parts).encode("utf-8", "surrogatepass")).digest()
    return int.from_bytes(digest[:8], "big")


def _other(system: str) -> str:
    return US if system == SI else SI
