"""A school's own questions: a form that makes one step by step, and the list of those that are there."""

from .question_list import own_questions
from .question_maker import question_maker

__all__ = ["own_questions", "question_maker"]
