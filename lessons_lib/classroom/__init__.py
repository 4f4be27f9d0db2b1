"""An instructor's session: plan, board, key and prints."""

from .answer_key_panel import answer_key, key_prints
from .class_board_panel import class_board, class_lists
from .class_prints import session_prints
from .own import own_questions, question_maker
from .session_panel import session_lists, session_planner
from .session_timer import session_timer

__all__ = [
    "answer_key",
    "class_board",
    "class_lists",
    "key_prints",
    "own_questions",
    "question_maker",
    "session_lists",
    "session_planner",
    "session_prints",
    "session_timer",
]
