"""The prints of a session, made from the planner: here, above the lessons, because the seat sheets ask the lessons'
own guesses.
"""

from ..exercises.bank import lessons as with_questions
from ..lessons.at_the_bench import words as bench
from ..lessons.choosing_the_pipe_size import words as pipe_size
from ..lessons.fill_purge_and_hand_over import words as hand_over
from ..lessons.heat_tape import words as heat_tape
from ..lessons.hot_enough_not_too_hot import words as hot_enough
from ..lessons.hot_water_that_comes_back import words as comes_back
from ..lessons.how_hot_at_the_tap import words as how_hot
from ..lessons.measure_cut_join_test import words as measure_cut
from ..lessons.the_outdoor_loop import words as outdoor_loop
from ..lessons.waiting_for_hot import words as waiting
from ..lessons.where_the_heat_goes import words as heat_goes
from ..lessons.will_it_freeze import words as freeze
from ..lessons.your_own_run import words as own_run
from ..panels.panel import Panel
from ..sheets import Sheet, bound
from .lesson_pages import lesson_page
from .printing_panel import Printer
from .prints.bench_card import bench_card
from .prints.on_paper import on_paper
from .prints.records import commissioning_record, leave_home
from .prints.session_sheet import session_sheet
from .prints.worksheets import seat_sheet, worksheet_sheet
from .prints.writing import CARD, plain_name

GUESSES = {
    "01": hot_enough.guess,
    "02": how_hot.guess,
    "03": waiting.guess,
    "04": pipe_size.guess,
    "05": measure_cut.guess,
    "06": heat_goes.guess,
    "07": freeze.guess,
    "08": heat_tape.guess,
    "09": outdoor_loop.guess,
    "10": hand_over.guess,
    "11": own_run.guess,
    "12": bench.guess,
    "14": comes_back.guess,
}


def guess_words(lesson: str, system: str) -> str:
    """The question to guess at in lesson, in a unit system; "" for a lesson whose guess is not among these (its page
    has it).
    """
    return GUESSES[lesson]().question(system) if lesson in GUESSES else ""


def session_prints(planner: Panel) -> Printer:
    """Gives what a session needs on paper, for the planner's lessons, people and units. The seats are numbered from
    1.
    """
    kinds = {
        "Run sheet: timetable, kit, risks": lambda: {_name("run-sheet", planner): session_sheet(planner.scene.plan)},
        "Bench cards (A5), one for each lesson": lambda: {
            f"{CARD}-{one}": bench_card(one) for one in _lessons(planner)
        },
        "Seat sheets: guess, readings, two questions": lambda: _each_seat(planner, "seat-sheets", seats),
        "Worksheets: every question, with each seat's own numbers": lambda: _each_seat(
            planner, "worksheets", worksheets
        ),
        "Commissioning record": lambda: {
            plain_name("commissioning record", planner.system): commissioning_record(planner.system)
        },
        "Leave-home sheet": lambda: {"leave-home": leave_home()},
        "The lessons on paper, for when no computer runs": lambda: {
            f"lesson-{one}-on-paper": on_paper(lesson_page(one)) for one in _lessons(planner)
        },
    }
    return Printer(kinds, tuple(kinds)[:4])


def seats(lesson: str, people: int, system: str) -> Sheet:
    """The seat sheets of a lesson, seats 1 to `people`, bound."""
    words = guess_words(lesson, system)
    return bound([seat_sheet(seat, lesson, system, words) for seat in range(1, people + 1)])


def worksheets(lesson: str, people: int, system: str) -> Sheet:
    """The worksheets of a lesson, seats 1 to `people`, bound."""
    return bound([worksheet_sheet(seat, (lesson,), system) for seat in range(1, people + 1)])


def _lessons(planner: Panel) -> tuple:
    return planner.scene.plan.lessons


def _each_seat(planner: Panel, kind: str, make) -> dict:
    people = planner.scene.plan.people
    return {
        plain_name(kind, one, f"1-{people}", planner.system): make(one, people, planner.system)
        for one in _lessons(planner)
        if one in with_questions()
    }


def _name(kind: str, planner: Panel) -> str:
    made = planner.scene.plan
    return plain_name(kind, *made.lessons, f"{made.minutes} min", f"{made.people} people")
