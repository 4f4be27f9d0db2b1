"""What one learner did, by lesson and in all: questions tried and right, answers given, the time between answers."""

import datetime
from dataclasses import dataclass

from .bank import lesson_of, lessons

PAUSE = 10  # [min] without a sign of the learner from which on the time is not counted


@dataclass(frozen=True)
class Result:
    """Says what a learner did in one lesson, or in all of them.

    tried, right : questions; answers : given to them, wrong ones too
    minutes : between the first sign of the learner in the lesson and the last, without pauses longer than `PAUSE`
    """

    tried: int
    right: int
    answers: int
    minutes: float


@dataclass(frozen=True)
class LearnerResult:
    """Says what one learner did. label : as in the class; file : where it stands in the folder, "" where names are
    hidden;
    lessons : lesson → Result, in teaching order
    """

    label: str
    file: str
    lessons: dict

    @property
    def in_all(self) -> Result:
        """Gives the sum over the lessons."""
        return total(self.lessons.values())


def total(results) -> Result:
    """Gives the sum of some results."""
    parts = [(one.tried, one.right, one.answers, one.minutes) for one in results]
    return Result(*map(sum, zip(*parts))) if parts else Result(0, 0, 0, 0.0)


def results_of(content: dict) -> dict[str, Result]:
    """Gives lesson → Result from the content of a learner's file, for this workbook's lessons. Guesses and half-typed
    answers
    count as signs only.
    """
    tries = content["tries"]
    signs = [
        *((lesson_of(one["question"]), one["when"]) for one in tries),
        *((lesson_of(question), draft["when"]) for question, draft in content["drafts"].items()),
        *((key[:2], guess["when"]) for key, guess in content["guesses"].items()),
    ]
    found = {}
    for lesson in (one for one in lessons() if one in {where for where, _ in signs}):
        mine = [one for one in tries if lesson_of(one["question"]) == lesson]
        found[lesson] = Result(
            len({one["question"] for one in mine}),
            len({one["question"] for one in mine if one["right"]}),
            len(mine),
            _minutes([when for where, when in signs if where == lesson]),
        )
    return found


def _minutes(stamps: list) -> float:
    """Gives the time between the first of some moments and the last [min], without long pauses."""
    moments = sorted(filter(None, map(_moment, stamps)))
    gaps = [(later - earlier).total_seconds() / 60 for earlier, later in zip(moments, moments[1:])]
    return sum(gap for gap in gaps if gap <= PAUSE)


def _moment(stamp: str) -> datetime.datetime | None:
    """Gives a moment as it stands in a file; None for text that is none."""
    try:
        return datetime.datetime.fromisoformat(stamp).astimezone(datetime.timezone.utc)
    except (ValueError, OverflowError, OSError):
        return None
