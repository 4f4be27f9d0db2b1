"""Reads one file of data/questions and checks it; _template.toml there explains the fields."""

import re
import tomllib
from dataclasses import fields

import numpy as np

from ..quantities.display import KINDS, SI, SYSTEMS, US, unit
from ..quantities.errors import InputError, shown, unknown_name
from ..quantities.units import Q_, unit_of
from ..storage.files import read_bytes
from .question import PLACE, WORDS, Call, Mistake, Question, Stated, Varies, implied
from .solvers import solvers

QUESTION_KINDS = ("number", "panel", "choice", "order")
LARGEST, MOST_VALUES = 1_000_000, 1000  # bytes of a file; values of a number that varies
FIELD_KINDS = {  # of a question; every other one is a text
    "answer": (
        (dict, str, list),
        'a call like { by = "solver name", kind = "temperature" }, the key of an option, or a list of keys',
    ),
    "numbers": (dict, "a table of the numbers that vary"),
    "steps": (dict, "a table of calls"),
    "options": (list, "a list of tables: [[question.options]]"),
    "mistakes": (list, "a list of tables: [[question.mistakes]]"),
    "own_unit": (bool, "true or false"),
    "before": (list, "a list of two keys"),
    "constraints": (list, "a list of pairs of keys"),
}
STATED_NUMBER = dict, 'a table like { kind = "temperature", value = "49 degC" }'
STATED = {  # how an answer that needs no solver is written, by the kind of question
    "number": STATED_NUMBER,
    "panel": STATED_NUMBER,
    "choice": (str, "the key of an option"),
    "order": (list, "the keys of all options in a right order"),
}


def read(path, lesson: str = "") -> tuple[Question, ...]:
    """Gives the questions of one file. Raises InputError that names the file, the question and the field.

    lesson : whose questions they are; "": the file's name says it
    """
    try:
        table = tomllib.loads(read_bytes(path, LARGEST).decode("utf-8-sig"))
    except InputError:
        raise
    # no TOML, no text, a number of thousands of digits, brackets in brackets
    except (ValueError, RecursionError) as reason:
        raise InputError(f"{path.name}: {shown(reason, 200)}. Mend the file by the template beside it.") from None
    return of_table(path.name, table, lesson or path.stem)


def of_table(where: str, table: dict, lesson: str) -> tuple[Question, ...]:
    """Gives the questions of a lesson from a table as a file holds it. Raises InputError, which begins with `where`."""
    _fields(where, table, {"question"})
    if not isinstance(table["question"], list):
        raise InputError(f"{where}: begin each question with [[question]], in two pairs of brackets.")
    return tuple(
        _question(f"{where}, question {place}", lesson, entry) for place, entry in enumerate(table["question"], 1)
    )


def _question(where: str, lesson: str, entry: dict) -> Question:
    _table(where, entry)
    where = f"{where} ({shown(entry.get('id', 'without id'))})"
    _fields(
        where,
        entry,
        {"id", "kind", "text", "answer", "hint", "worked"},
        {
            "numbers",
            "steps",
            "mistakes",
            "options",
            "within",
            "why_within",
            "panel",
            "repeats",
            "own_unit",
            "constraints",
        },
    )
    if entry["kind"] not in QUESTION_KINDS:
        raise unknown_name(f"{where}, kind", entry["kind"], list(QUESTION_KINDS))
    _kinds(where, entry)
    for option in entry.get("options", ()):
        _fields(
            f"{where}, option",
            option,
            {"key", "text"} | ({"thinking", "ask"} if "thinking" in option else set()),
            {"name"},
        )
    varies = {name: _varies(f"{where}, {name}", spec) for name, spec in entry.get("numbers", {}).items()}
    steps = {name: _call(f"{where}, step {name}", spec) for name, spec in entry.get("steps", {}).items()}
    options = {option["key"]: option["text"] for option in entry.get("options", ())} or None
    answer = _answer(f"{where}, answer", entry, options or {})
    found = Question(
        entry["id"],
        lesson,
        entry["kind"],
        " ".join(entry["text"].split()),
        answer,
        " ".join(entry["hint"].split()),
        " ".join(entry["worked"].split()),
        _mistakes(where, entry, answer.kind),
        varies,
        steps,
        _within(where, entry.get("within", "0 %")),
        entry.get("why_within", ""),
        options,
        entry.get("panel", ""),
        entry.get("repeats", ""),
        entry.get("own_unit", False),
        tuple(tuple(pair) for pair in entry.get("constraints", ())),
    )
    _consistent(where, found)
    _ordered(where, found)
    return found


def _fields(where: str, entry: dict, needed: set, other: set = frozenset()) -> None:
    """An InputError for a field that is missing, or one that nobody reads: most likely a slip of the pen."""
    _table(where, entry)
    for name in entry:
        if name not in needed | other:
            raise unknown_name(f"{where}, field", name, sorted(needed | other))
    missing = sorted(needed - set(entry))
    if missing:
        raise InputError(
            f"{where}: {', '.join(missing)} is missing. The template beside the file says what belongs there."
        )


def _table(where: str, entry) -> None:
    if not isinstance(entry, dict):
        raise InputError(
            f'{where}: {shown(repr(entry))} was given where a table is needed, like {{ by = "solver name", kind ='
            ' "temperature" }.'
        )


def _kinds(where: str, entry: dict) -> None:
    """An InputError for a field of a question, or of a list or table in it, that holds another kind of value than
    its own.
    """
    for name, value in entry.items():
        kind, words = FIELD_KINDS.get(name, (str, "a text in quotation marks"))
        if not isinstance(value, kind):
            raise InputError(
                f"{where}, {name}: {shown(repr(value))} was given; it must be {words}. The template beside the file"
                " shows it."
            )
        for inside in value if kind is list else ():
            if name in ("options", "mistakes"):
                _table(f"{where}, {name}", inside)
                _kinds(f"{where}, {name}", inside)
            elif not (
                isinstance(inside, list) and all(isinstance(key, str) for key in inside)
                if name == "constraints"
                else isinstance(inside, str)
            ):
                words = "a pair of keys" if name == "constraints" else "a text"
                raise InputError(
                    f"{where}, {name}: {shown(repr(inside))} was given; it must be {words}. The template beside the"
                    " file shows it."
                )


def _varies(where: str, spec: dict) -> Varies:
    _fields(where, spec, set(), {"kind", "metric", "us", "both", "foreign", "follows"})
    kind = _kind(where, spec)
    given = {SI: spec.get("metric", spec.get("both")), US: spec.get("us", spec.get("both"))}
    if None in given.values():
        raise InputError(f'{where}: give "metric" and "us", or "both".')
    values = {system: _listed(where, given[system]) for system in SYSTEMS}
    for name, wanted in (("foreign", bool), ("follows", str)):
        if not isinstance(spec.get(name, wanted()), wanted):
            raise InputError(
                f"{where}, {name}: {shown(repr(spec[name]))} was given. The template beside the file shows what belongs"
                " there."
            )
    return Varies(kind, values, spec.get("foreign", False), spec.get("follows", ""))


def _kind(where: str, spec: dict) -> str:
    kind = spec.get("kind", WORDS)
    if not isinstance(kind, str) or kind != WORDS and kind not in KINDS:
        raise unknown_name(f"{where}, kind", kind, [WORDS, *KINDS])
    return kind


def _listed(where: str, given) -> tuple:
    """Gives what a number may be: a list as it stands, or "52 to 64 step 2" written out."""
    if isinstance(given, list) and given:
        return tuple(given)
    match = re.fullmatch(r"(-?[\d.]+) to (-?[\d.]+) step ([\d.]+)", str(given))
    if match is None:
        raise InputError(f'{where}: {given!r} was given; possible is a list, or a span like "52 to 64 step 2".')
    try:
        low, high, step = (float(part) for part in match.groups())
        count = int((high - low) / step + 1e-9) + 1
    except (ValueError, ZeroDivisionError, OverflowError):
        count = 0
    if not 1 <= count <= MOST_VALUES:
        raise InputError(
            f'{where}: "{shown(given)}" was given; possible is a span of up to {MOST_VALUES} values like "52 to 64'
            ' step 2".'
        )
    return tuple(round(float(value), 9) for value in low + step * np.arange(count))


def _call(where: str, spec: dict) -> Call:
    _fields(where, spec, {"by"}, {"kind"})
    if not isinstance(spec["by"], str) or not spec["by"].strip():
        raise InputError(
            f"{where}, by: {shown(repr(spec['by']))} was given; write the solver's name and the names it is given, in"
            " quotation marks."
        )
    name, *arguments = spec["by"].split()
    if name not in solvers():  # refused here and not before a learner
        raise unknown_name(f"{where}, solver", name, sorted(solvers()))
    return Call(_kind(where, spec), name, tuple(arguments))


def _answer(where: str, entry: dict, options: dict) -> Call | Stated:
    """Reads the answer: a call, or stated as it is: a number with its unit, the key of an option, keys in order."""
    spec, asked = entry["answer"], entry["kind"]
    if isinstance(spec, dict) and "value" not in spec:
        found = _call(where, spec)
    else:
        wanted, words = STATED[asked]
        if not isinstance(spec, wanted):
            raise InputError(
                f"{where}: {shown(repr(spec))} was given; of the kind {asked} it must be {words}, or a call like"
                ' { by = "solver name" }.'
            )
        found = _stated_number(where, spec) if wanted is dict else _stated_keys(where, spec, options)
    if (asked in ("number", "panel")) == (found.kind == WORDS):
        raise InputError(f'{where}, kind: a number needs one, like "temperature"; a choice and an order have none.')
    return found


def _stated_number(where: str, spec: dict) -> Stated:
    _fields(where, spec, {"kind", "value"})
    kind = _kind(where, spec)
    return Stated(kind, _stated_quantity(where, kind, spec["value"]))


def _stated_quantity(where: str, kind: str, text):
    """Reads the quantity of a right or wrong number, in the unit that it is written in."""
    try:
        found = _quantity(text)
        found.to(unit_of(unit(kind, SI)))
    except Exception as reason:
        raise InputError(
            f"{where}, value: {shown(repr(text))} was given; write a {kind} with its unit in quotation marks,"
            f' like "2 {unit(kind, SI)}" ({reason}).'
        ) from None
    return found


def _stated_keys(where: str, spec: str | list, options: dict) -> Stated:
    """Takes the key of a choice, or the keys of an order; an InputError for one that no option has."""
    for key in [spec] if isinstance(spec, str) else spec:
        if not isinstance(key, str) or key not in options:
            raise unknown_name(where, key, list(options))
    return Stated(WORDS, spec if isinstance(spec, str) else tuple(spec))


def _quantity(text: str):
    """Reads "1 delta_degC" as a quantity."""
    number, _, unit_name = text.partition(" ")
    return Q_(float(number), unit_of(unit_name))


def _within(where: str, text: str):
    """Reads a share of the answer as a float ("3 %"), or a quantity ("1 delta_degC")."""
    try:
        return float(text.removesuffix(" %")) / 100 if text.endswith(" %") else _quantity(text)
    except Exception as reason:
        raise InputError(f'{where}, within: "{text}" was given; write "3 %" or "1 delta_degC" ({reason}).') from None


def _mistakes(where: str, entry: dict, kind: str) -> tuple[Mistake, ...]:
    """Gives the likely mistakes: those listed, with values of the answer's kind, and those of the wrong options."""
    found = []
    for spec in entry.get("mistakes", ()):
        _fields(f"{where}, mistake", spec, {"name", "thinking", "ask"}, {"by", "value", "before"})
        value = _call(where, {"by": spec["by"], "kind": kind}) if "by" in spec else None
        if "value" in spec:
            value = _stated_wrong(f"{where}, mistake", spec, kind)
        found.append(Mistake(spec["name"], spec["thinking"], spec["ask"], value, tuple(spec.get("before", ()))))
    for spec in entry.get("options", ()):
        if "thinking" in spec:
            found.append(Mistake(spec.get("name", spec["key"]), spec["thinking"], spec["ask"], key=spec["key"]))
    return tuple(found)


def _stated_wrong(where: str, spec: dict, kind: str) -> Stated:
    """Reads a wrong number that stands in the file; an InputError where it belongs to no number, or where a solver is
    named beside it.
    """
    if kind == WORDS or "by" in spec:
        raise InputError(
            f'{where}, value: only a wrong number has one, and then no "by" beside it. Take one of the two away.'
        )
    return Stated(kind, _stated_quantity(where, kind, spec["value"]))


def _consistent(where: str, question: Question) -> None:
    """Every name that a call or a text uses is there, steps only those before them."""
    names = set(question.varies)
    for follower in question.varies.values():
        if follower.follows and follower.follows not in names:
            raise unknown_name(f"{where}, follows", follower.follows, sorted(names))
    for name, call in question.steps.items():
        _arguments(where, call, names)
        names.add(name)
    for call in [question.answer, *(mistake.value for mistake in question.mistakes)]:
        if isinstance(call, Call):
            _arguments(where, call, names)
    texts = [getattr(question, field.name) for field in fields(question) if field.name in ("text", "hint", "worked")]
    texts += [
        *(question.options or {}).values(),
        *(part for one in question.mistakes for part in (one.thinking, one.ask)),
    ]
    for name in filter(None, (name for text in texts for name in PLACE.findall(text))):
        if name not in names | {"answer", "wrong"}:
            raise unknown_name(f"{where}, placeholder", name, sorted(names))


def _ordered(where: str, question: Question) -> None:
    """An order, and no other kind, has constraints: pairs of its options that some order can keep. Its mistakes
    break them.
    """
    if (question.kind == "order") != bool(question.constraints):
        raise InputError(
            f"{where}, constraints: an order needs at least one pair of keys, and no other kind of question has any."
        )
    for pair in question.constraints:
        if len(pair) != 2:
            raise InputError(
                f"{where}, constraints: {list(pair)} was given; each is two keys, the one that comes first and the"
                " other."
            )
    for name in (name for pair in question.constraints for name in pair):
        if name not in (question.options or {}):
            raise unknown_name(f"{where}, constraints", name, list(question.options or {}))
    bound = implied(question.constraints)
    round_trip = next((first for first, second in bound if first == second), None)
    if round_trip:
        raise InputError(
            f'{where}, constraints: "{round_trip}" would have to come before itself. Take one pair of that ring away.'
        )
    if isinstance(question.answer, Stated) and question.kind == "order":
        _stated_order(f"{where}, answer", question)
    for mistake in (mistake for mistake in question.mistakes if mistake.before):
        if mistake.before[::-1] not in bound:
            pair = " before ".join(f'"{name}"' for name in mistake.before)
            raise InputError(
                f'{where}, mistake "{mistake.name}": {pair} is right by the constraints. Add the pair the other way'
                " round."
            )


def _stated_order(where: str, question: Question) -> None:
    """An order that is stated as the answer holds each option once and keeps the constraints."""
    keys = question.answer.value
    if sorted(keys) != sorted(question.options):
        raise InputError(
            f"{where}: {list(keys)} was given; it must hold the key of each option once: {sorted(question.options)}."
        )
    if pair := question.broken(keys):
        raise InputError(f'{where}: "{pair[1]}" comes before "{pair[0]}", against the constraints. Change places.')


def _arguments(where: str, call: Call, names: set) -> None:
    for argument in call.arguments:
        if argument not in names and not re.fullmatch(r"-?[\d.]+", argument):
            raise unknown_name(f'{where}, argument of "{call.solver}"', argument, sorted(names))
