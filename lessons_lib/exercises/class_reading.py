"""What a room has answered: a folder of learners' files read into plain data. Nothing is drawn and nothing is
written.
"""

import statistics
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

from ..quantities.display import SYSTEMS, symbol
from ..quantities.errors import InputError
from ..storage.files import NotThere
from . import learner_file, names
from .bank import broken, lesson_of, of_school, question, questions
from .learner import Guess, folder, guess_of
from .marking import OTHER
from .reading import read_amount
from .results import LearnerResult, results_of

ANSWERS, MEMBERS = "answers", "members"  # in a learner's own folder; in a room's
LINK = "a link, which is not followed: it may lead to other people's files. Put the file itself here"  # why skipped
TOLD = 6  # answers that a line gives
STUCK = 3  # wrong answers to one question, none right, from which somebody is called stuck


@dataclass(frozen=True)
class QuestionReading:
    """One question over the class.

    tried, right, right_at_once : learners; share_right : of those who tried, 0 to 1
    mistakes : (name, labels of learners who made it, answers that they gave) triples; stuck : labels of learners
    """

    question: str
    tried: int
    right: int
    right_at_once: int
    share_right: float
    mistakes: tuple
    stuck: tuple


@dataclass(frozen=True)
class GuessReading:
    """One guess over the class. guesses : (label, Guess) pairs; model : quantity, the result that most have; median
    : quantity
    """

    key: str
    kind: str
    guesses: tuple
    model: object
    median: object


@dataclass(frozen=True)
class ClassReading:
    """Holds what a class did.

    learners : labels, names or "learner 1" where they are hidden
    questions : QuestionReading of every question that somebody tried, in teaching order
    guesses : GuessReading of every key; mistakes : see `mistakes_of`, over all questions
    stuck : (label, question ids) pairs; skipped : (file name, why) pairs
    results : LearnerResult of every learner
    Texts come from files: whoever shows them escapes them.
    """

    learners: tuple
    questions: tuple
    guesses: tuple
    mistakes: tuple
    stuck: tuple
    skipped: tuple
    results: tuple = ()


def read_class(where=None, hide_names: bool = False) -> ClassReading:
    """The class whose files lie in a folder.

    where : folder of learners' files, of learners' folders with "answers" in each, or of a room; None: the usual one.
        Other files in it are named in `skipped` and left alone.
    hide_names : True: "learner 1" ..., in an order that tells nothing
    Raises InputError: no such folder, or one that cannot be read.
    """
    place = folder() if where is None else Path(where)
    try:
        if not place.is_dir():
            raise InputError(
                f'class: there is no folder "{names.clean(place)}". Give the folder that holds the learners\' files.'
            )
        contents, skipped = _contents(place)
    except OSError as reason:
        raise InputError(
            f'class: the folder "{names.clean(place)}" can\'t be read ({reason.strerror}). Give another one.'
        ) from None
    labelled = _labelled(contents, hide_names)
    known = [one.id for one in questions()]
    tries = {label: _by_question(content) for label, content in labelled.items()}
    asked = {question for mine in tries.values() for question in mine}
    readings = tuple(_question(one, tries) for one in known if one in asked)
    skipped += [_unasked(one) for one in sorted(asked - set(known))]
    skipped += [(f"questions of lesson {lesson}", str(error)) for lesson, error in broken().items()]
    stuck = {label: tuple(one.question for one in readings if label in one.stuck) for label in labelled}
    return ClassReading(
        tuple(labelled),
        readings,
        _guesses(labelled),
        mistakes_of(readings),
        tuple((label, ids) for label, ids in stuck.items() if ids),
        tuple(skipped),
        tuple(
            LearnerResult(label, "" if hide_names else file, results_of(content))
            for (label, content), file in zip(labelled.items(), contents)  # in one order, unless names are hidden
        ),
    )


def _unasked(identity: str) -> tuple[str, str]:
    """Says of answers to a question that is not there why they are not counted."""
    if of_school(identity):
        return f"answers to a question of your own in lesson {lesson_of(identity)}", "it was taken away or has a slip"
    return f"answers to {identity}", "no question of this workbook"


def answers_told(identity: str, answers) -> str:
    """The wrong answers that were given to a question, in a line; "" for options, whose letters differ by seat."""
    if question(identity).kind != "number":
        return ""
    more = f" and {len(answers) - TOLD} more" if len(answers) > TOLD else ""
    return f"{', '.join(answers[:TOLD])}{more}"


def by_need(readings) -> tuple[QuestionReading, ...]:
    """Some questions, the one that fewest got right first; of each the most frequent mistake first."""
    found = sorted(readings, key=lambda one: (one.share_right, one.right_at_once / one.tried, -one.tried))
    return tuple(replace(one, mistakes=tuple(sorted(one.mistakes, key=lambda made: -len(made[1])))) for one in found)


def mistakes_of(readings) -> tuple[tuple[str, int], ...]:
    """(name, learners who made it) pairs over some questions, each learner once, most frequent first; those without
    a name of their own last.
    """
    made: dict[str, set] = {}
    for one in readings:
        for name, labels, _ in one.mistakes:
            made.setdefault(name, set()).update(labels)
    return tuple(
        sorted(((name, len(labels)) for name, labels in made.items()), key=lambda pair: (pair[0] == OTHER, -pair[1]))
    )


def _contents(place: Path) -> tuple[dict, list]:
    """File name → content of every learner's file, and what was skipped and why."""
    contents, skipped = {}, []
    for name, file in _files(place):
        if file.is_symlink():
            skipped.append((name, LINK))
            continue
        if file.suffix != names.SUFFIX or not file.is_file():
            skipped.append((name, "not a learner's file"))
            continue
        try:
            contents[name] = learner_file.load(file)
        except NotThere:
            skipped.append((name, "gone while the folder was read"))
        except (learner_file.Damaged, InputError) as reason:
            skipped.append((name, str(reason)))
    return contents, skipped


def _files(place: Path):
    """Gives (name, path) of what lies in a folder, and in the "answers" of each learner's folder in it. Of a link only
    the link itself: it may lead to whatever the instructor may read.
    """
    in_room = (place / MEMBERS).is_dir()
    for one in sorted((place / MEMBERS if in_room else place).iterdir()):
        if one.name.startswith("."):
            continue  # locks and half-written files of a program at work
        if one.is_symlink() or (one / ANSWERS).is_symlink():
            yield one.name, one if one.is_symlink() else one / ANSWERS
        elif (one / ANSWERS).is_dir():
            try:
                inside = sorted((one / ANSWERS).iterdir())
            except OSError:  # removed just now, or not to be looked into: named like any other thing that is no file
                inside = [one / ANSWERS]
            yield from ((f"{one.name}/{file.name}", file) for file in inside if not file.name.startswith("."))
        elif not in_room:  # there it is somebody who has not answered yet
            yield one.name, one


def _labelled(contents: dict, hide_names: bool) -> dict:
    """Gives label → content. Names that occur twice carry their seat, or a number."""
    if hide_names:
        shuffled = sorted(contents, key=lambda name: name.rpartition("-")[2])  # by the hash in the file's name
        return {f"learner {place}": contents[name] for place, name in enumerate(shuffled, 1)}
    wanted = [names.clean(content["name"]) or f"seat {names.clean(content['seat'])}" for content in contents.values()]
    labelled = {}
    for name, content in zip(wanted, contents.values()):
        label = f"{name} (seat {names.clean(content['seat'])})" if wanted.count(name) > 1 and content["seat"] else name
        place = 2
        while label in labelled:
            label, place = f"{name} ({place})", place + 1
        labelled[label] = content
    return labelled


def _by_question(content: dict) -> dict:
    """Question id → its tries, oldest first."""
    found = {}
    for entry in sorted(content["tries"], key=lambda one: (one["when"], one["id"])):
        found.setdefault(entry["question"], []).append(entry)
    return found


def _question(identity: str, tries: dict) -> QuestionReading:
    mine = {label: given[identity] for label, given in tries.items() if identity in given}
    right = [label for label, given in mine.items() if any(one["right"] for one in given)]
    made: dict[str, list] = {}
    for label, given in mine.items():
        for one in given:
            if not one["right"]:
                made.setdefault(one["mistake"], []).append((label, names.clean(_as_meant(one))))
    stuck = tuple(label for label, given in mine.items() if label not in right and len(given) >= STUCK)
    return QuestionReading(
        identity,
        len(mine),
        len(right),
        sum(given[0]["right"] for given in mine.values()),
        len(right) / len(mine),
        tuple((name, *map(_each_once, zip(*pairs))) for name, pairs in made.items()),
        stuck,
    )


def _as_meant(entry: dict) -> str:
    """An answer as it was typed; a number without a unit carries the one that stood beside its box."""
    asked, text, system = question(entry["question"]), entry["text"], entry["system"]
    if asked.kind != "number" or system not in SYSTEMS:
        return text
    try:
        typed = read_amount(text, asked.answer.kind, system)
    except InputError:  # somebody changed the file
        return text
    bare = not typed.written and typed.unit != "dimensionless"  # a share may be given as a part of one
    return f"{text} {symbol(asked.answer.kind, system)}".strip() if bare else text


def _each_once(texts) -> tuple:
    return tuple(dict.fromkeys(texts))


def _guesses(labelled: dict) -> tuple[GuessReading, ...]:
    """Guesses of one key and kind together."""
    found: dict[tuple, list[tuple[str, Guess]]] = {}
    for label, content in labelled.items():
        for key, entry in content["guesses"].items():
            found.setdefault((key, entry["kind"]), []).append((label, guess_of(entry)))
    readings = []
    for (key, kind), guesses in sorted(found.items()):
        models = Counter(guess.model for _, guess in guesses if guess.model is not None)
        own = guesses[0][1].guessed.units
        middle = statistics.median(guess.guessed.magnitude for _, guess in guesses)
        model = models.most_common(1)[0][0] if models else None
        readings.append(GuessReading(key, kind, tuple(guesses), model, type(guesses[0][1].guessed)(middle, own)))
    return tuple(readings)
