"""What a question is, as frozen data: what varies in it, how its answer comes about, its likely mistakes."""

import hashlib
import re
from dataclasses import dataclass
from itertools import combinations

WORDS = "words"  # the kind of a varying name, for example a pipe size
PLACE = re.compile(r"\{\{|\}\}|\{(\w+)\}")  # of a number in a text; two braces are a brace to be read


@dataclass(frozen=True)
class Varies:
    """A number, or a name, that differs from seat to seat.

    kind : in display.KINDS, or "words"
    values : unit system → what it may be, in the unit of `kind` there
    foreign : True: the reader meets it in the other system's unit
    follows : name of another one, whose place in its list this one takes too; "" : none
    """

    kind: str
    values: dict
    foreign: bool = False
    follows: str = ""


@dataclass(frozen=True)
class Call:
    """A value that a solver works out. kind : in display.KINDS, or "words"; arguments : names or plain numbers"""

    kind: str
    solver: str
    arguments: tuple


@dataclass(frozen=True)
class Stated:
    """An answer, right or wrong, that stands in the question file.

    value : a quantity in the unit it was written in, the key of an option, or keys in order
    """

    kind: str
    value: object


@dataclass(frozen=True)
class Mistake:
    """Describes a likely wrong answer.

    name : of the kind of mistake, the same for a whole class
    value : the wrong value, for numbers; before : (first, second): what an order puts too early, against a constraint;
        key : of a wrong option
    thinking : what leads there, or why the step of an order has to wait; ask : one question back
    """

    name: str
    thinking: str
    ask: str
    value: Call | Stated | None = None
    before: tuple = ()
    key: str = ""


@dataclass(frozen=True, eq=False)
class Question:
    """One question, with what varies in it.

    kind : "number", "panel" (a number to read off a panel), "choice" or "order"
    answer : a Call or Stated: a quantity, the key of an option, or the keys of items in one right order
    constraints : (first, second) keys of an order: the first has to come before the second; every order that keeps them
        is right
    within : what a number may be off by: a share of the answer, or a quantity; why_within : the reason
    options : key → text, of a choice or an order
    own_unit : True: only the reader's own unit will do, for the question states the other
    """

    id: str
    lesson: str
    kind: str
    text: str
    answer: Call | Stated
    hint: str
    worked: str
    mistakes: tuple
    varies: dict
    steps: dict
    within: object = 0.0
    why_within: str = ""
    options: dict | None = None
    panel: str = ""
    repeats: str = ""
    own_unit: bool = False
    constraints: tuple = ()

    @property
    def wording(self) -> str:
        """A short mark that is another one as soon as the question asks something else, or has another answer."""
        asked = self.text, self.kind, self.answer, self.options, self.constraints, self.within
        return hashlib.sha256(repr(asked).encode("utf-8", "surrogatepass")).hexdigest()[:12]

    def broken(self, keys) -> tuple | None:
        """The constraint that an order of keys breaks first, from its beginning on, or None."""
        wrong = (pair for pair in self.constraints if keys.index(pair[0]) > keys.index(pair[1]))
        return min(wrong, key=lambda pair: (keys.index(pair[1]), keys.index(pair[0])), default=None)

    def free(self, keys) -> tuple:
        """Pairs of keys that no constraint puts in order, each as they stand in `keys`: these two may change places."""
        bound = implied(self.constraints)
        return tuple(pair for pair in combinations(keys, 2) if pair not in bound)


def implied(pairs) -> set:
    """Every pair that pairs of (first, second) imply: a before b and b before c mean a before c."""
    found = set(pairs)
    while more := {(first, last) for first, middle in found for other, last in found if middle == other} - found:
        found |= more
    return found
