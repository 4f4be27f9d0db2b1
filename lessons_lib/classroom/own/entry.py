"""A draft as an entry of a question file, and a question of a school's own as a draft again."""

from ...exercises.bank import OWN, of_lesson, of_school, question
from ...exercises.marking import within
from ...exercises.own_file import free_id, made_of
from ...exercises.question import PLACE, Question, Stated, implied
from ...exercises.variants import variant
from ...quantities.errors import InputError
from ...quantities.unit_words import SYMBOLS
from ...quantities.units import unit_of, ureg
from .checks import MEASURES, all_of, allowed, holding, read, tidy, told_numbers
from .draft import AMOUNT, KINDS, SHARE, Draft, Told, Wait

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


def _read(text: str) -> str:
    """Gives such a text as it was typed."""
    return PLACE.sub(lambda match: match[0][0], text)


def _told_apart(made: Question) -> None:
    """Raises InputError where a likely wrong number is so near the right one that it would be marked right."""
    one = variant(made, "1")
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
        text=_read(asked.text),
        hint=_read(asked.hint),
        worked=_read(asked.worked),
    )
    {"choice": _as_choice, "number": _as_number, "order": _as_order}[asked.kind](draft, asked)
    return draft


def _fits(asked: Question) -> bool:
    """Says whether the form can hold a question."""
    texts = asked.text, asked.hint, asked.worked, *(asked.options or {}).values()
    texts += tuple(part for one in asked.mistakes for part in (one.thinking, one.ask))
    plain = asked.kind in KINDS and isinstance(asked.answer, Stated) and not asked.varies and not asked.steps
    plain = plain and not (asked.repeats or asked.own_unit or any(filter(None, map(_place, texts))))
    if asked.kind == "number":
        return plain and asked.answer.kind in MEASURES and all(isinstance(one.value, Stated) for one in asked.mistakes)
    if asked.kind == "choice":
        wrong = [key for key in asked.options or {} if key != asked.answer.value]
        return plain and sorted(one.key for one in asked.mistakes) == sorted(wrong)
    pairs = {one.before[::-1] for one in asked.mistakes}
    return plain and len(asked.options) <= len(KEYS) and pairs == set(asked.constraints)


def _place(text: str) -> str:
    return next(filter(None, PLACE.findall(text)), "")


def _as_choice(draft: Draft, asked: Question) -> None:
    draft.right = _read(asked.options[asked.answer.value])
    draft.wrong = [Told(_read(asked.options[one.key]), _read(one.thinking), _read(one.ask)) for one in asked.mistakes]


def _as_number(draft: Draft, asked: Question) -> None:
    draft.measure, draft.number = asked.answer.kind, _typed(asked.answer.value)
    amount = isinstance(asked.within, ureg.Quantity)
    draft.way = AMOUNT if amount else SHARE
    draft.within = _typed(asked.within) if amount else f"{100 * asked.within:.12g} %"
    draft.why_within = asked.why_within
    told = [Told(_typed(one.value.value), _read(one.thinking), _read(one.ask)) for one in asked.mistakes]
    draft.wrong_numbers = told or [Told()]


def _as_order(draft: Draft, asked: Question) -> None:
    keys = asked.answer.value
    draft.steps = [_read(asked.options[key]) for key in keys]
    said, bound = {one.before[::-1]: one for one in asked.mistakes}, implied(asked.constraints)
    for place, first in enumerate(keys):
        for later, second in enumerate(keys[place + 1 :], place + 1):
            one = said.get((first, second))
            ask = "" if one is None or one.ask == ASK_BACK else _read(one.ask)
            why = "" if one is None else _read(one.thinking)
            draft.waits.append(Wait(place, later, (first, second) in bound, why, ask))


def _typed(value) -> str:
    """A quantity as somebody would type it, in its own unit."""
    written = next((sign for name, sign in SYMBOLS.items() if _alike(name, value.units)), f"{value.units:~P}")
    return f"{value.magnitude:.12g} {'' if value.dimensionless and written != '%' else written}".strip()


def _alike(name: str, units) -> bool:
    delta = f"delta_{name}" if name in ("degC", "degF") else name
    return units in (unit_of(name), unit_of(delta))
