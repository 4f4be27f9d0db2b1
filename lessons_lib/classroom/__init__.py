"""An instructor's session: plan, board, key and prints."""

from .answer_key_panel import answer_key, key_prints
from .class_board_panel import class_board, class_lists
from .class_prints import session_prints
from .own.handed_out_panel import lessons_handed_out
from .own.minutes_and_kit import minutes_and_kit
from .own.opening_building import opening_building
from .own.package_panel import material_package
from .own.question_list import own_questions
from .own.question_maker import question_maker
from .own.rack_pipes import rack_pipes
from .session_panel import session_lists, session_planner
from .session_timer import session_timer

__all__ = [
    "answer_key",
    "class_board",
    "class_lists",
    "key_prints",
    "lessons_handed_out",
    "material_package",
    "minutes_and_kit",
    "opening_building",
    "rack_pipes",
    "own_questions",
    "question_maker",
    "session_lists",
    "session_planner",
    "session_prints",
    "session_timer",
]
