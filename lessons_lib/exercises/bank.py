"""The bank of questions: every file of data/questions, by lesson."""

from functools import cache

from ..quantities.errors import InputError, unknown_name
from ..storage.tables import DATA
from .question import Question
from .question_file import read


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
    """The questions of a lesson, "01" to "14". Raises InputError for another one, or for a file that says something
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


def name_of(identity: str) -> str:
    """Names a question as page, worksheet, key and board do: lesson and number on its page, "01 · 2".

    Raises InputError for an unknown one.
    """
    lesson = question(identity).lesson
    return f"{lesson} · {of_lesson(lesson).index(question(identity)) + 1}"
