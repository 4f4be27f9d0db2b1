"""The bank of questions: every file of data/questions, by lesson."""

from functools import cache

from ..quantities.errors import InputError, unknown_name
from ..storage import own_material
from ..storage.tables import DATA
from .question import Question
from .question_file import read

OWN = "own-"  # how the id of a school's own question begins, so that no update takes it


@cache
def _bank() -> tuple[dict, dict, list]:
    """Lesson → its questions, a school's own last; lesson → InputError of each file that says something odd: a slip
    spoils its own lesson only; what is wrong with a school's own questions, which spoil nothing else.
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
    slips = []
    for path in own_material.questions():
        try:
            asked = read_own(path, [*found, *broken])
        except InputError as error:
            slips.append(f"{error} Until then this question is left out.")
        else:
            found[asked.lesson] = (*found.get(asked.lesson, ()), asked)
    return found, broken, slips


def read_own(path, lessons) -> Question:
    """Reads the file of one question of a school's own: 02-own-1.toml, with the id own-02-1, asks in lesson 02.

    Raises InputError that names the file and the remedy.
    """
    lesson = path.stem[:2]
    if lesson not in lessons:
        raise unknown_name(f"{path.name}, lesson", lesson, sorted(lessons))
    asked = read(path, lesson)
    wanted = f"{OWN}{lesson}-{path.stem[7:]}"
    if len(asked) != 1 or path.stem != f"{lesson}-{OWN}{path.stem[7:]}" or asked[0].id != wanted:
        raise InputError(
            f'{path.name}: a file of your own holds one question. The file 02-own-1.toml holds "own-02-1", and so on.'
        )
    return asked[0]


def read_again() -> None:
    """Forget what was read, after a school's own questions have changed: the next who asks gets them as they are."""
    _bank.cache_clear()


def of_school(identity: str) -> bool:
    """Says whether a question is a school's own."""
    return identity.startswith(OWN)


def lesson_of(identity: str) -> str:
    """The lesson that a question's id names, whether or not the question is there."""
    return identity.removeprefix(OWN)[:2]


def own_slips() -> list[str]:
    """A sentence for each of a school's own questions that cannot be read: file, field and remedy."""
    return list(_bank()[2])


def questions() -> tuple[Question, ...]:
    """Every question of data/questions and a school's own, by lesson and in file order; without those that cannot be
    read, see `broken` and `own_slips`.
    """
    return tuple(one for lesson in sorted(_bank()[0]) for one in _bank()[0][lesson])


def broken() -> dict[str, InputError]:
    """Lesson → why the file of its questions cannot be read; empty where all is well."""
    return dict(_bank()[1])


def lessons() -> tuple[str, ...]:
    """The lessons that have a file of questions, in teaching order."""
    found, wrong, _ = _bank()
    return tuple(sorted([*found, *wrong]))


def of_lesson(lesson: str) -> tuple[Question, ...]:
    """The questions of a lesson, "01" to "14". Raises InputError for another one, or for a file that says something
    odd.
    """
    found, wrong, _ = _bank()
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


def name_of(identity: str) -> str:
    """Names a question as page, worksheet, key and board do: lesson and number on its page, "01 · 2".

    Raises InputError for an unknown one.
    """
    lesson = question(identity).lesson
    return f"{lesson} · {of_lesson(lesson).index(question(identity)) + 1}"
