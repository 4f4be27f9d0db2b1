"""A draft as an entry of a question file, and a question of a school's own as a draft again."""

from ...exercises.bank import OWN, of_lesson, of_school, question
from ...exercises.marking import mark, within
from ...exercises.own_file import free_id, made_of
from ...exercises.question import PLACE, Question, Stated, implied
from ...exercises.variants import Variant, variant
from ...quantities.display import SYSTEMS
from ...quantities.errors import InputError
from ...quantities.unit_words import SYMBOLS
from ...quantities.units import unit_of, ureg
from . import varying
from .checks import MEASURES, allowed, holding, read, tidy, told_numbers
from .draft import AMOUNT, KINDS, SHARE, Draft, Told, Wait
from .step_checks import all_of

NAME = 48  # characters of a mistake's name, which the class board shows
KEYS = "abcdefgh"
ASK_BACK = "Why does one of these two have to wait for the other?"


def identity_of(draft: Draft) -> str:
    """The id of the question: the one that it has, in the lesson that it is asked in, or a free one."""
    same = draft.changes.startswith(f"{OWN}{draft.lesson}-")
    return draft.changes if same else free_id(draft.lesson)


def name_of(draft: Draft) -> str:
    """Names the question as page and prints do once it is saved: "02 · 4"."""
    there = [one.id for one in of_lesson(draft.lesson)]
    identity = identity_of(draft)
    return f"{draft.lesson} · {there.index(identity) + 1 if identity in there else len(there) + 1}"


def entry(draft: Draft) -> dict:
    """The entry of a question file. Raises InputError: the first thing that is missing or cannot be."""
    all_of(draft)
    made = {
        "id": identity_of(draft),
        "kind": draft.kind,
        "text": escaped(draft.text),
        "hint": escaped(draft.hint),
        "worked": escaped(draft.worked),
        **{"choice": _choice, "number": _number, "order": _order}[draft.kind](draft),
    }
    _told_apart(made_of(made))
    return made


def _choice(draft: Draft) -> dict:
    wrong = [
        {"key": key, "text": escaped(one.what), "name": _short(one.what), **_mistake(one)}
        for key, one in zip(KEYS[1:], draft.wrong)
    ]
    return {"answer": KEYS[0], "options": [{"key": KEYS[0], "text": escaped(draft.right)}, *wrong]}


def _number(draft: Draft) -> dict:
    if draft.varies:
        return _varying(draft)
    wrong = [
        {"name": f"answered {_short(one.what)}", "value": _value(one.what, draft.measure), **_mistake(one)}
        for _, one in told_numbers(draft)
    ]
    return {
        "answer": {"kind": draft.measure, "value": _value(draft.number, draft.measure)},
        "within": allowed(draft),
        "why_within": tidy(draft.why_within),
        "mistakes": wrong,
    }


def _varying(draft: Draft) -> dict:
    wrong = [
        {
            "name": f"answered {one.what}",
            "by": varying.by(draft, one.what),
            "thinking": _placed(one.thinking),
            "ask": _placed(one.ask),
        }
        for _, one in told_numbers(draft)
    ]
    allowed_off = {"within": allowed(draft), "why_within": tidy(draft.why_within), "mistakes": wrong}
    helped = {name: _placed(getattr(draft, name)) for name in ("text", "hint", "worked")}
    return {**helped, **varying.parts_of(draft), **allowed_off}


def _placed(text: str) -> str:
    """A text as a question file holds it, with the places of numbers that differ from seat to seat."""
    return varying.placed(escaped(text))


def _order(draft: Draft) -> dict:
    keys, waits = KEYS[: len(draft.steps)], holding(draft)
    mistakes = [
        {
            "name": f"{_short(draft.steps[one.second], NAME // 2)} before {_short(draft.steps[one.first], NAME // 2)}",
            "before": [keys[one.second], keys[one.first]],
            "thinking": escaped(one.why),
            "ask": escaped(one.ask) or ASK_BACK,
        }
        for one in waits
    ]
    return {
        "answer": list(keys),
        "constraints": [[keys[one.first], keys[one.second]] for one in waits],
        "options": [{"key": key, "text": escaped(text)} for key, text in zip(keys, draft.steps)],
        "mistakes": mistakes,
    }


def _mistake(one: Told) -> dict:
    return {"thinking": escaped(one.thinking), "ask": escaped(one.ask)}


def _value(typed: str, measure: str) -> str:
    found = read(typed, measure, "The number")
    return f"{found.number:.12g} {found.unit}"


def _short(text: str, most: int = NAME) -> str:
    line = tidy(text)
    return line if len(line) <= most else f"{line[: most - 1].rstrip()}…"


def escaped(text: str) -> str:
    """A text as a question file holds it: a brace that is to be read stands twice."""
    return tidy(text).replace("{", "{{").replace("}", "}}")


def read_back(text: str) -> str:
    """Gives such a text as it was typed."""
    return PLACE.sub(lambda match: varying.unplaced(match[0]) if match[1] else match[0][0], text)


def _told_apart(made: Question) -> None:
    """Raises InputError where a likely wrong number is so near the right one that it would be marked right."""
    for one in (variant(made, str(seat), system) for seat in range(1, varying.SEATS + 1) for system in SYSTEMS):
        _near(one)
        if not made.varies:
            return


def _near(one: Variant) -> None:
    """Raises InputError where something wrong would be marked right with these numbers, or what is shown as right
    would be marked wrong.
    """
    if one.is_number and not mark(one, one.shown_answer()).right:
        raise InputError(
            f"With some numbers the right one is shown as {one.shown_answer()}, and that would be marked wrong. Allow"
            " more beside the right number, or choose other values."
        )
    for wrong in one.wrongs:
        if wrong.value is not None and within(one, wrong.value, one.answer):
            near = one.shown_number(wrong.mistake.value, wrong.value)
            raise InputError(
                f"The wrong number {near} is so near the right one that it would be marked right. Change it, or allow"
                " less beside the right number."
            )


def draft_of(identity: str) -> Draft:
    """A question of a school's own, to be changed. Raises InputError: it uses what only a file can say."""
    asked = question(identity)
    if not of_school(identity) or not _fits(asked):
        raise InputError(
            "This question was written by hand in its file and uses more than this form knows, for example numbers that"
            " differ from seat to seat. Change it in its file."
        )
    draft = Draft(
        changes=identity,
        step=2,
        lesson=asked.lesson,
        kind=asked.kind,
        text=read_back(asked.text),
        hint=read_back(asked.hint),
        worked=read_back(asked.worked),
    )
    {"choice": _as_choice, "number": _as_number, "order": _as_order}[asked.kind](draft, asked)
    return draft


def _fits(asked: Question) -> bool:
    """Says whether the form can hold a question."""
    texts = asked.text, asked.hint, asked.worked, *(asked.options or {}).values()
    texts += tuple(part for one in asked.mistakes for part in (one.thinking, one.ask))
    plain = asked.kind in KINDS and not (asked.steps or asked.repeats or asked.own_unit)
    places = {name for text in texts for name in PLACE.findall(text) if name}
    if asked.varies:
        return plain and asked.kind == "number" and places <= {"A", "B", "answer"} and varying.fits(asked)
    plain = plain and isinstance(asked.answer, Stated) and not places
    if asked.kind == "number":
        return plain and asked.answer.kind in MEASURES and all(isinstance(one.value, Stated) for one in asked.mistakes)
    if asked.kind == "choice":
        wrong = [key for key in asked.options or {} if key != asked.answer.value]
        return plain and sorted(one.key for one in asked.mistakes) == sorted(wrong)
    pairs = {one.before[::-1] for one in asked.mistakes}
    return plain and len(asked.options) <= len(KEYS) and pairs == set(asked.constraints)


def _as_choice(draft: Draft, asked: Question) -> None:
    draft.right = read_back(asked.options[asked.answer.value])
    draft.wrong = [
        Told(read_back(asked.options[one.key]), read_back(one.thinking), read_back(one.ask)) for one in asked.mistakes
    ]


def _as_number(draft: Draft, asked: Question) -> None:
    draft.measure = asked.answer.kind
    if asked.varies:
        first, second = asked.varies["A"], asked.varies["B"]
        draft.a_measure, draft.a_values = first.kind, varying.typed_values(first)
        draft.b_measure, draft.b_values = second.kind, varying.typed_values(second)
        draft.calculation = varying.words_of(asked.answer)
        wrong = [varying.words_of(one.value) for one in asked.mistakes]
    else:
        draft.number = _typed(asked.answer.value)
        wrong = [_typed(one.value.value) for one in asked.mistakes]
    amount = isinstance(asked.within, ureg.Quantity)
    draft.way = AMOUNT if amount else SHARE
    draft.within = _typed(asked.within) if amount else f"{100 * asked.within:.12g} %"
    draft.why_within = asked.why_within
    told = [Told(what, read_back(one.thinking), read_back(one.ask)) for what, one in zip(wrong, asked.mistakes)]
    draft.wrong_numbers = told or [Told()]


def _as_order(draft: Draft, asked: Question) -> None:
    keys = asked.answer.value
    draft.steps = [read_back(asked.options[key]) for key in keys]
    said, bound = {one.before[::-1]: one for one in asked.mistakes}, implied(asked.constraints)
    for place, first in enumerate(keys):
        for later, second in enumerate(keys[place + 1 :], place + 1):
            one = said.get((first, second))
            ask = "" if one is None or one.ask == ASK_BACK else read_back(one.ask)
            why = "" if one is None else read_back(one.thinking)
            draft.waits.append(Wait(place, later, (first, second) in bound, why, ask))


def _typed(value) -> str:
    """A quantity as somebody would type it, in its own unit."""
    written = next((sign for name, sign in SYMBOLS.items() if _alike(name, value.units)), f"{value.units:~P}")
    return f"{value.magnitude:.12g} {'' if value.dimensionless and written != '%' else written}".strip()


def _alike(name: str, units) -> bool:
    delta = f"delta_{name}" if name in ("degC", "degF") else name
    return units in (unit_of(name), unit_of(delta))
