"""Live panels: controls in, picture and read-outs out. Each is one call with no arguments."""

from .bench import bench
from .answer_key import answer_key, key_prints
from .class_board import class_board, class_lists
from .exercises import exercises
from .fill_purge import fill_purge
from .first import first
from .freeze import freeze
from .guess import Guess, guess_temperature
from .heat_goes import heat_goes
from .heat_tape import heat_tape
from .hot_enough import hot_enough
from .main import main
from .measure_cut import measure_cut
from .outdoor_loop import outdoor_loop
from .outdoor_unit import outdoor_unit
from .own_run import own_run
from .pages import Legend, Told, Words, on_page
from .panel import Panel
from .pipe_size import pipe_size
from .sequence import sequence
from .session import session_lists, session_planner
from .set_valve import set_valve
from .start import check, units
from .waiting import waiting
from .who import Who

__all__ = [
    "Guess", "Legend", "Panel", "Told", "Who", "Words", "answer_key", "bench", "check", "class_board", "class_lists", "exercises",
    "fill_purge", "first", "freeze", "guess_temperature", "heat_goes", "heat_tape", "hot_enough", "key_prints", "main", "measure_cut", "on_page", "outdoor_loop",
    "outdoor_unit", "own_run", "pipe_size", "sequence", "session_lists", "session_planner", "set_valve", "units", "waiting",
]
