"""Worksheet and key of one seat, as plain data for later printing. Both are made from the same variants, so they
agree.
"""

from dataclasses import dataclass

from ..quantities.display import SI, SYSTEMS
from ..quantities.units import ureg
from .bank import Question, name_of, questions
from .variants import Variant, variant


@dataclass(frozen=True)
class Asked:
    """One line of a worksheet. name : lesson and number, "01 · 2"; choices : (letter, text) pairs; unit : to
    answer in, "" for none
    """

    name: str
    question: str
    lesson: str
    text: str
    choices: tuple
    unit: str


@dataclass(frozen=True)
class Misconception:
    """A wrong answer and what it shows.

    answer : unit system → as people read it; an option's letter and words, or for an order what came too early
    """

    name: str
    answer: dict
    thinking: str
    ask: str


@dataclass(frozen=True)
class KeyLine:
    """One line of a key: the question as on the worksheet, its answer in both systems, how close is close enough, and
    why.

    answer : unit system → as people read it; letters : of the right options, "" for a number
    allowed : tolerance in words, or which items of an order may change places; worked : the worked solution
    """

    asked: Asked
    answer: dict
    letters: str
    allowed: str
    why_allowed: str
    hint: str
    worked: str
    misconceptions: tuple


def worksheet(seat, asked=None, system: str = SI) -> tuple[Asked, ...]:
    """The questions of a seat, without answers.

    seat : number or name; asked : Questions, for example `of_lesson("02")`; None: the whole bank
    system : unit system in which the numbers stand. Raises InputError.
    """
    return tuple(map(_asked, _variants(seat, asked, system)))


def key(seat, asked=None, system: str = SI) -> tuple[KeyLine, ...]:
    """The key to the worksheet of the same seat, questions and system. Arguments as in `worksheet`."""
    return tuple(
        KeyLine(
            _asked(one),
            {system: one.shown_answer(system) for system in SYSTEMS},
            one.answer_letters,
            _allowed(one),
            one.question.why_within,
            one.hint,
            one.worked,
            _misconceptions(one),
        )
        for one in _variants(seat, asked, system)
    )


def _variants(seat, asked, system: str) -> list[Variant]:
    chosen: tuple[Question, ...] = questions() if asked is None else tuple(asked)
    return [variant(one, seat, system) for one in chosen]


def _asked(one: Variant) -> Asked:
    question = one.question
    return Asked(
        name_of(question.id),
        question.id,
        question.lesson,
        one.text,
        tuple((letter, text) for letter, _, text in one.choices),
        one.asked_in,
    )


def _allowed(one: Variant) -> str:
    """Writes the tolerance in words; of an order, which items may change places."""
    allowed = one.question.within
    if one.question.kind == "order":
        return _free(one)
    if not one.is_number:
        return "exact"
    if isinstance(allowed, ureg.Quantity):
        return f"± {allowed:.3g~P}".replace("Δ", "")
    return f"± {100 * allowed:.3g} %"


def _free(one: Variant) -> str:
    """Says which items of an order may change places, each with those that it may come before or after."""
    letters = {key_: letter for letter, key_, _ in one.choices}
    others = {}
    for first, second in one.question.free(one.answer):
        others.setdefault(letters[first], []).append(letters[second])
    return (
        "in either order: " + "; ".join(f"{first} and {' or '.join(seconds)}" for first, seconds in others.items())
        if others
        else "exact"
    )


def _misconceptions(one: Variant) -> tuple[Misconception, ...]:
    found = []
    for wrong in one.wrongs:
        if wrong.mistake.key and wrong.mistake.key == one.answer:
            continue  # this option is the right one with this seat's numbers
        if wrong.value is not None:
            answer = {system: one.shown_number(wrong.mistake.value, wrong.value, system) for system in SYSTEMS}
        else:
            answer = dict.fromkeys(
                SYSTEMS, _option(one, wrong.mistake.key) if wrong.mistake.key else _too_early(one, wrong.mistake.before)
            )
        found.append(Misconception(wrong.name, answer, wrong.thinking, wrong.ask))
    return tuple(found)


def _option(one: Variant, key_of_option: str) -> str:
    return next(f"{letter}: {text}" for letter, key_, text in one.choices if key_ == key_of_option)


def _too_early(one: Variant, before: tuple) -> str:
    letters = {key_: letter for letter, key_, _ in one.choices}
    return f"{letters[before[0]]} before {letters[before[1]]}"
