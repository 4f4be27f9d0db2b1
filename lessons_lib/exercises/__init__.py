"""Exercises that mark themselves: a bank of questions, each seat's own numbers, marking, what learners keep, and what a
class did.

    from lessons_lib.exercises import learner, of_lesson

    ana = learner("Ana", seat=7)
    first = of_lesson("02")[0]
    print(ana.variant(first).text)
    print(ana.answer(first, "57 °C").feedback())

All results are plain data; names and answers of learners are text from outside, which whoever shows them must escape.
"""

from .bank import Question, lessons, of_lesson, question, questions
from .class_reading import ClassReading, read_class
from .key import key, worksheet
from .learner import Guess, Learner, folder, learner, nobody
from .marking import Marked, mark
from .results import LearnerResult, Result
from .variants import Variant, variant

__all__ = [
    "ClassReading",
    "Guess",
    "Learner",
    "LearnerResult",
    "Marked",
    "Question",
    "Result",
    "Variant",
    "folder",
    "key",
    "learner",
    "lessons",
    "mark",
    "nobody",
    "of_lesson",
    "question",
    "questions",
    "read_class",
    "variant",
    "worksheet",
]
