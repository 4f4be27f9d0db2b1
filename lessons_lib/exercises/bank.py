"""The bank of questions in data/questions: read from TOML, checked, plain frozen data. See _template.toml there for
the fields.
"""

import re
import tomllib
from dataclasses import dataclass, fields
from functools import cache
from itertools import combinations

import numpy as np

from ..quantities.display import KINDS, SI, SYSTEMS, US
from ..quantities.errors import InputError, shown, unknown_name
from ..quantities.units import Q_, unit_of
from ..storage.files import read_bytes
from ..storage.tables import DATA
from .solvers import solvers

QUESTION_KINDS = ("number", "panel", "choice", "order")
LARGEST, MOST_VALUES = 1_000_000, 1000  # bytes of a file; values of a number that varies
FIELD_KINDS = {  # of a question; every other one is a text
    "answer": (dict, 'a call like { by = "solver name", kind = "temperature" }'),
    "numbers": (dict, "a table of the numbers that vary"),
    "steps": (dict, "a table of calls"),
    "options": (list, "a list of tables: [[question.options]]"),
    "mistakes": (list, "a list of tables: [[question.mistakes]]"),
    "own_unit": (bool, "true or false"),
    "before": (list, "a list of two keys"),
    "constraints": (list, "a list of pairs of keys"),
}
WORDS = "words"  # the kind of a varying name, for example a pipe size
PLACE = re.compile(r"\{(\w+)\}")


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
class Mistake:
    """A likely wrong answer.

    name : of the kind of mistake, the same for a whole class
    call : the wrong value, for numbers; before : (first, second): what an order puts too early, against a constraint;
        key : of a wrong option
    thinking : what leads there; ask : one question back
    """

    name: str
    thinking: str
    ask: str
    call: Call | None = None
    before: tuple = ()
    key: str = ""


@dataclass(frozen=True, eq=False)
class Question:
    """One question, with what varies in it.

    kind : "number", "panel" (a number to read off a panel), "choice" or "order"
    answer : the Call that gives a quantity, the key of an option, or the keys of items in one right order
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
    answer: Call
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

    def broken(self, keys) -> tuple | None:
        """The first of the constraints that an order of keys does not keep, or None."""
        return next((pair for pair in self.constraints if keys.index(pair[0]) > keys.index(pair[1])), None)

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


@cache
def _bank() -> tuple[dict, dict]:
    """Lesson → its questions, and lesson → InputError of each file that says something odd: a slip spoils its own
    lesson only.
    """
    found, broken, ids = {}, {}, set()
    for path in sorted((DATA / "questions").glob("[0-9]*.toml")):
        try:
            asked = read(path)
            own = [one.id for one in asked]
            doubled = next((one for one in own if own.count(one) > 1 or one in ids), None)
            if doubled:
                raise InputError(
                    f'{path.name}: "{doubled}" stands twice in data/questions. Give each question an id of its own.'
                )
        except InputError as error:
            broken[path.stem] = error
        else:
            found[path.stem] = asked
            ids.update(own)
    return found, broken


def questions() -> tuple[Question, ...]:
    """Every question of data/questions, by lesson and in file order; without those of files that cannot be read, see
    `broken`.
    """
    return tuple(one for asked in _bank()[0].values() for one in asked)


def broken() -> dict[str, InputError]:
    """Lesson → why the file of its questions cannot be read; empty where all is well."""
    return dict(_bank()[1])


def lessons() -> tuple[str, ...]:
    """The lessons that have a file of questions, in teaching order."""
    found, wrong = _bank()
    return tuple(sorted([*found, *wrong]))


def of_lesson(lesson: str) -> tuple[Question, ...]:
    """The questions of a lesson, "01" to "12". Raises InputError for another one, or for a file that says something
    odd.
    """
    found, wrong = _bank()
    if lesson in wrong:
        raise InputError(str(wrong[lesson]))
    if lesson not in found:
        raise unknown_name("lesson", lesson, list(lessons()))
    return found[lesson]


def question(identity: str) -> Question:
    """The question of that id. Raises InputError with the nearest ids."""
    found = next((one for one in questions() if one.id == identity), None)
    if found is None:
        raise unknown_name("question", identity, [one.id for one in questions()])
    return found


def read(path) -> tuple[Question, ...]:
    """The questions of one file. Raises InputError that names the file, the question and the field."""
    try:
        table = tomllib.loads(read_bytes(path, LARGEST).decode("utf-8-sig"))
    except InputError:
        raise
    # no TOML, no text, a number of thousands of digits, brackets in brackets
    except (ValueError, RecursionError) as reason:
        raise InputError(f"{path.name}: {shown(reason, 200)}. Mend the file by the template beside it.") from None
    _fields(path.name, table, {"question"})
    if not isinstance(table["question"], list):
        raise InputError(f"{path.name}: begin each question with [[question]], in two pairs of brackets.")
    return tuple(
        _question(f"{path.name}, question {place}", path.stem, entry)
        for place, entry in enumerate(table["question"], 1)
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
    found = Question(
        entry["id"],
        lesson,
        entry["kind"],
        " ".join(entry["text"].split()),
        _call(f"{where}, answer", entry["answer"]),
        " ".join(entry["hint"].split()),
        " ".join(entry["worked"].split()),
        _mistakes(where, entry),
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
    """What a number may be: a list as it stands, or "52 to 64 step 2" written out."""
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


def _within(where: str, text: str):
    """A share of the answer as a float ("3 %"), or a quantity ("1 delta_degC")."""
    number, _, unit = text.partition(" ")
    try:
        return float(number) / 100 if unit == "%" else Q_(float(number), unit_of(unit))
    except Exception as reason:
        raise InputError(f'{where}, within: "{text}" was given; write "3 %" or "1 delta_degC" ({reason}).') from None


def _mistakes(where: str, entry: dict) -> tuple[Mistake, ...]:
    """Likely mistakes: those listed, and those of the wrong options."""
    found = []
    for spec in entry.get("mistakes", ()):
        _fields(f"{where}, mistake", spec, {"name", "thinking", "ask"}, {"by", "before"})
        call = _call(where, {"by": spec["by"], "kind": entry["answer"].get("kind", WORDS)}) if "by" in spec else None
        found.append(Mistake(spec["name"], spec["thinking"], spec["ask"], call, tuple(spec.get("before", ()))))
    for spec in entry.get("options", ()):
        if "thinking" in spec:
            found.append(Mistake(spec.get("name", spec["key"]), spec["thinking"], spec["ask"], key=spec["key"]))
    return tuple(found)


def _consistent(where: str, question: Question) -> None:
    """Every name that a call or a text uses is there, steps only those before them."""
    names = set(question.varies)
    for follower in question.varies.values():
        if follower.follows and follower.follows not in names:
            raise unknown_name(f"{where}, follows", follower.follows, sorted(names))
    for name, call in question.steps.items():
        _arguments(where, call, names)
        names.add(name)
    for call in [question.answer, *(mistake.call for mistake in question.mistakes if mistake.call)]:
        _arguments(where, call, names)
    texts = [getattr(question, field.name) for field in fields(question) if field.name in ("text", "hint", "worked")]
    texts += [
        *(question.options or {}).values(),
        *(part for one in question.mistakes for part in (one.thinking, one.ask)),
    ]
    for name in (name for text in texts for name in PLACE.findall(text)):
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
    for mistake in (mistake for mistake in question.mistakes if mistake.before):
        if mistake.before[::-1] not in bound:
            pair = " before ".join(f'"{name}"' for name in mistake.before)
            raise InputError(
                f'{where}, mistake "{mistake.name}": {pair} is right by the constraints. Add the pair the other way'
                " round."
            )


def _arguments(where: str, call: Call, names: set) -> None:
    for argument in call.arguments:
        if argument not in names and not re.fullmatch(r"-?[\d.]+", argument):
            raise unknown_name(f'{where}, argument of "{call.solver}"', argument, sorted(names))
