"""The key to the worksheets: each seat's answers with the misconception behind each wrong one, and all seats at a
glance.
"""

from ...exercises.key import KeyLine, key, worksheet
from ...exercises.seats import title_of
from ...quantities.display import SI, SYSTEMS, US, unbroken
from ...sheets import Sheet, Table, Text
from ...storage.spelling import in_words_of
from .worksheets import asked_of

KEEP = "For the instructor. Keep it away from the benches."


def key_sheet(seat, lessons, system: str = SI) -> Sheet:
    """The key to `worksheet_sheet` of the same seat, lessons and system. Answers stand in both systems. Raises
    InputError.
    """
    lines = key(seat, asked_of(lessons), system)
    blocks = [Text(KEEP)]
    for lesson in lessons:
        mine = tuple(_row(line) for line in lines if line.asked.lesson == lesson)
        head = (
            "",
            f"Lesson {lesson}: question, and why",
            "answer",
            "wrong answer: the thinking behind it, and one question back",
        )
        blocks.append(Table(head, mine, (0.45, 3.6, 1.6, 5)))
    return Sheet(f"{title_of(seat)} · Key", tuple(blocks), 8.0, one_page=False, system=system)


def overview(seats, lessons, system: str = SI) -> Sheet:
    """The answers of many seats at a glance: a line for each seat, a column for each question. Raises InputError."""
    blocks = [Text(f"{KEEP} Columns are the questions by lesson and number; lessons {', '.join(lessons)}.")]
    for lesson in lessons:
        keys = {seat: key(seat, asked_of((lesson,)), system) for seat in seats}
        heads = tuple(f"{lesson} · {one.number}" for one in worksheet(seats[0], asked_of((lesson,)), system))
        rows = tuple((title_of(seat), *(short(line, system) for line in lines)) for seat, lines in keys.items())
        blocks.append(Table(("seat", *heads), rows, (2, *[1.6] * len(heads))))
    return Sheet("All seats at a glance", tuple(blocks), 8.5, one_page=False, system=system)


def short(line: KeyLine, system: str) -> str:
    """An answer without an option's words, the letters of an order run together."""
    return line.letters or line.answer[system]


def _row(line: KeyLine) -> tuple:
    why = f"\nWhy: {line.worked}"
    allowed = (
        "" if line.allowed == "exact" else f"\n{line.allowed}" + (f" ({line.why_allowed})" if line.why_allowed else "")
    )
    choices = "".join(f"\n{letter}: {words}" for letter, words in line.asked.choices)
    wrong = "\n".join(f"• {_both(one.answer)} ({one.name}): {one.thinking} {one.ask}" for one in line.misconceptions)
    return (
        str(line.asked.number),
        unbroken(f"{line.asked.text}{choices}{why}"),
        unbroken(f"{_both(line.answer)}{allowed}"),
        unbroken(wrong),
    )


def _both(answer: dict) -> str:
    """Both systems' answers, said once where they are the same."""
    metric, customary = (answer[system] for system in SYSTEMS)
    return metric if in_words_of(metric, US) == customary else f"{metric} ({customary})"
