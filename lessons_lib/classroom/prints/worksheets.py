"""Sheets for learners, each with the numbers of its seat: the worksheet with a lesson's questions, and the seat
sheet for the bench. No answers.
"""

from ...exercises.bank import of_lesson, question
from ...exercises.key import Asked, worksheet
from ...exercises.learner import SURENESS
from ...exercises.seats import title_of
from ...quantities.display import KINDS, SI, symbol, unbroken
from ...sheets import Blank, Columns, Heading, Sheet, Stop, Table, Text
from ...storage.tables import rows
from ..lesson_pages import lesson_page
from .wording import GAP, ROOM

WORKING, WORKING_AT_THE_BENCH = 4, 0  # lines
SEAT_QUESTIONS = 2  # on the seat sheet; the worksheet has them all
HOW = (
    "Answer in the unit shown or in any other: write it down. The numbers are invented, for practice only, and this"
    " seat's own."
)
NEVER_SKIN = unbroken("Thermometer, never skin. Above 45 °C (113 °F) at your tap: stop and call.")


def asked_of(lessons) -> tuple:
    """The questions of lessons ("01" to "14"), in the order given. Raises InputError for another one."""
    return tuple(one for lesson in lessons for one in of_lesson(lesson))


def worksheet_sheet(seat, lessons, system: str = SI) -> Sheet:
    """The questions of lessons with a seat's numbers, room for its answers, and no answer.

    seat : number or name; lessons : "01" to "14"; system : unit system. Raises InputError.
    """
    lines = worksheet(seat, asked_of(lessons), system)
    blocks = [
        _who(Blank(f"Right, of {len(lines)}")),
        Text(HOW),
        *(_questions(f"Lesson {lesson}", [line for line in lines if line.lesson == lesson]) for lesson in lessons),
    ]
    foot = f"{title_of(seat)} · {', '.join(lessons)} · Worksheet"
    return Sheet(f"{title_of(seat)} · Worksheet", tuple(blocks), 10.5, one_page=False, system=system, running=foot)


def seat_sheet(seat, lesson: str, system: str = SI, guess: str = "") -> Sheet:
    """One side for the bench: guess, readings, two questions.

    guess : the question to guess at, in the seat's units; "": as the lesson's page last stored it
    Raises InputError: a lesson without page or questions, an empty seat.
    """
    page = lesson_page(lesson)
    lines = worksheet(seat, of_lesson(lesson)[:SEAT_QUESTIONS], system)
    sure = GAP.join(f"☐ {one}" for one in SURENESS)
    return Sheet(
        f"{title_of(seat)} · {page.title}",
        (
            _who(),
            Stop(unbroken(f"Stop. {page.stop}")),
            Heading("Guess first"),
            Text(unbroken(guess or page.guess)),
            Columns(((Blank("My guess"),), (Blank("The model says"),))),
            Text(sure),
            Heading("At the bench"),
            Text(unbroken(page.bench)),
            _readings(lesson, system),
            Blank("Which was further off, and why?", 2),
            _questions("Two questions (on the worksheet too)", lines, WORKING_AT_THE_BENCH),
        ),
        11.0,
        foot=NEVER_SKIN,
        system=system,
        running=f"{title_of(seat)} · {lesson} · Seat sheet",
    )


def _who(*more: Blank) -> Columns:
    """Gives what every learner fills in first, and what else is wanted beside it."""
    return Columns(
        ((Blank("Name"),), (Blank("Bench"),), (Blank("Date"),), *((one,) for one in more)), (3, *[1] * (2 + len(more)))
    )


def _readings(lesson: str, system: str) -> Table:
    """Gives what is read, its unit, and room for two readings and the panel's number."""
    mine = [row for row in rows("readings") if row["lesson"] == lesson]
    return Table(
        ("reading", "unit", "first", "second", "panel"),
        tuple((unbroken(row["what"]), symbol(row.word("kind", KINDS), system), "", "", "") for row in mine),
        (5, 1.3, 1.7, 1.7, 1.7),
    )


def _questions(title: str, lines, working: int = WORKING) -> Table:
    """A table whose head goes with it over the page. working : lines under a question, to work it out on"""
    return Table(
        ("", title, "your answer", "right"),
        tuple((line.name, _text(line) + working * ROOM, _answer_in(line), "☐") for line in lines),
        (0.9, 6.4, 2.3, 0.8),
    )


def _text(line: Asked) -> str:
    """A question with its choices, each on a line of its own; whether it needs a computer."""
    needs = f"(Needs the panel of lesson {line.lesson}.) " if question(line.question).kind == "panel" else ""
    return unbroken("\n".join([needs + line.text, *(f"{letter}: {words}" for letter, words in line.choices)]))


def _answer_in(line: Asked) -> str:
    """Gives what kind of answer goes there, with room beneath."""
    if line.choices:
        words = f"{len(line.choices)} letters in order:" if question(line.question).kind == "order" else "one letter:"
    else:
        words = f"unit: {line.unit}" if line.unit else "a number:"
    return words + ROOM
