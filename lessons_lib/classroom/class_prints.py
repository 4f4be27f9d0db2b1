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
from ..lessons.what_water_does_to_the_works import words as works
from ..lessons.where_the_heat_goes import words as heat_goes
from ..lessons.will_it_freeze import words as freeze
from ..lessons.your_own_run import words as own_run
from ..panels.panel import Panel
from ..sheets import Sheet, bound
from .lesson_pages import lesson_page
from .printing_panel import Printer
from .prints.bench_card import cards
from .prints.keys import overview, room_key
from .prints.on_paper import on_paper
from .prints.page_in_units import PagesInUnits
from .prints.records import commissioning_record, leave_home
from .prints.session_sheet import session_sheet
from .prints.worksheets import seat_sheet, worksheet_sheet
from .prints.writing import plain_name
from .session import Plan, used

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
    "13": works.guess,
    "14": comes_back.guess,
}


def guess_words(lesson: str, system: str) -> str:
    """The question to guess at in lesson, in a unit system; "" for a lesson whose guess is not among these (its page
    has it).
    """
    return GUESSES[lesson]().question(system) if lesson in GUESSES else ""


def session_prints(planner: Panel) -> Printer:
    """Gives what a session needs on paper, for the planner's lessons, people and units."""
    kinds = {
        "A file for each seat: seat sheets and worksheets of all lessons": lambda: _each_seat(planner),
        "One file for you: run sheet, key of the room, answers at a glance": lambda: {
            _name("instructor", planner): lambda: bound(instructors_sheets(planner))
        },
        "Bench cards, two on a sheet, as many as there are benches": lambda: {
            _name("bench-cards", planner): lambda: cards(
                _lessons(planner), benches_of_each(planner.scene.plan), planner.system
            )
        },
        "Commissioning record and leave-home sheet": lambda: {
            plain_name("commissioning record", planner.system): lambda: commissioning_record(planner.system),
            plain_name("leave home", planner.system): lambda: leave_home(planner.system),
        },
        "The lessons on paper, for when no computer runs": lambda: {
            plain_name("lesson", one, "on paper", planner.system): make for one, make in _on_paper(planner).items()
        },
    }
    return Printer("session", kinds, tuple(kinds)[:3])


def instructors_sheets(planner: Panel) -> list[Sheet]:
    """The sheets that the instructor has in hand, in the order of need."""
    asked = tuple(one for one in _lessons(planner) if one in with_questions())
    whose, system = _whose(planner), planner.system
    keys = [room_key(whose, asked, system), overview(whose, asked, system)] if asked else []
    return [run_sheet_of(planner), *keys]


def benches_of_each(made: Plan) -> dict:
    """Lesson → at how many benches it is laid out at once."""
    return {lesson: used(one, lesson) for one in made.sets for lesson in one.lessons}


def run_sheet_of(planner: Panel) -> Sheet:
    """Makes the run sheet of the planner's session."""
    scene = planner.scene
    return session_sheet(scene.plan, scene.begins, scene.people, planner.system)


def seat_file(seat, lessons: tuple, system: str) -> Sheet:
    """All sheets of a seat, lesson after lesson, bound: what lies at the bench, then its questions."""
    asked = with_questions()
    made = []
    for one in lessons:
        if one in asked:
            made += [seat_sheet(seat, one, system, guess_words(one, system)), worksheet_sheet(seat, (one,), system)]
    return bound(made)


def _lessons(planner: Panel) -> tuple:
    return planner.scene.plan.lessons


def _whose(planner: Panel) -> tuple:
    """The people by their names where those were typed, else the seats from 1."""
    scene = planner.scene
    return scene.people or tuple(str(seat) for seat in range(1, scene.plan.people + 1))


def _on_paper(planner: Panel) -> dict:
    """Lesson → what makes its page for paper, in the planner's units. One Python runs them all."""
    pages, system = PagesInUnits(planner.system), planner.system
    return {one: lambda one=one: on_paper(pages.run(lesson_page(one)), system) for one in _lessons(planner)}


def _each_seat(planner: Panel) -> dict:
    """Name of a file → what makes it, for every seat."""
    lessons, system = tuple(one for one in _lessons(planner) if one in with_questions()), planner.system
    return {
        plain_name("seat", seat, *lessons, system): lambda seat=seat: seat_file(seat, lessons, system)
        for seat in _whose(planner)
        if lessons
    }


def _name(kind: str, planner: Panel) -> str:
    made = planner.scene.plan
    benches = f"{made.benches} bench{'es' if made.benches > 1 else ''}"
    return plain_name(kind, *made.lessons, f"{made.minutes} min", f"{made.people} people", benches)
