"""The key to the worksheets: each seat's answers with the misconception behind each wrong one, and all seats at a
glance.
"""

import math

from ...exercises.key import KeyLine, Misconception, key, worksheet
from ...exercises.seats import title_of
from ...quantities.display import SI, SYSTEMS, US, unbroken
from ...sheets import Heading, Sheet, Table, Text
from ...storage.spelling import in_words_of
from .worksheets import asked_of

TYPE = 10.0  # [pt]
ACROSS, FREE = 86, 2  # usual letters of this type in a line of a sheet; that stay free in a cell
FEW_ROWS = 5  # of tables beside each other: below which one is enough
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
        blocks.append(Table(head, mine, (0.75, 3.5, 1.6, 4.8)))
    return Sheet(
        f"{title_of(seat)} · Key", tuple(blocks), TYPE, one_page=False, system=system, running=f"{title_of(seat)} · Key"
    )


def room_key(seats, lessons, system: str = SI) -> Sheet:
    """The key of a whole room: every question once, with the thinking behind its wrong answers, and under it a line a
    seat with that seat's answer and its wrong ones. Raises InputError.
    """
    keys = {seat: key(seat, asked_of(lessons), system) for seat in seats}
    blocks: list = [Text(f"{KEEP} The words of a question are those of {title_of(seats[0])}; numbers differ by seat.")]
    for of_one in zip(*keys.values(), strict=True):
        blocks += _of_one_question(dict(zip(keys, of_one)), system)
    which = f"lesson{'s' if len(lessons) > 1 else ''} {', '.join(lessons)}"
    return Sheet(
        f"Key of the room · {which}", tuple(blocks), TYPE, one_page=False, system=system, running=f"Key · {which}"
    )


def _of_one_question(lines: dict, system: str) -> list:
    """The blocks of one question. lines : seat → KeyLine"""
    first = next(iter(lines.values()))
    thinking = {kind: f"{one.thinking} {one.ask}" for line in lines.values() for kind, one in _kinds(line).items()}
    letters = {kind: chr(ord("a") + place) for place, kind in enumerate(thinking)}
    choices = "".join(f"\n{letter}: {words}" for letter, words in first.asked.choices)
    told = [
        Heading(first.asked.name),
        Text(unbroken(f"{first.asked.text}{choices}\nWhy: {first.worked}{_allowed(first)}")),
        *(Text(unbroken(f"{letters[kind]}) {kind[0]}: {words}")) for kind, words in thinking.items()),
    ]
    head = ("seat", "answer", *(f"{letter})" for letter in letters.values()))
    rows = tuple((title_of(seat), *_seat_row(line, thinking, system)) for seat, line in lines.items())
    if len({row[1:] for row in rows}) == 1 < len(rows):
        rows = (("every seat", *rows[0][1:]),)
    return [*told, _side_by_side(head, rows)]


def _side_by_side(head: tuple, rows: tuple) -> Table:
    """A table of short rows, several of them in a line where they have room, so that no side stays half empty; read
    from left to right.
    """
    widths = _widths(head, rows)
    parts = max(1, min(ACROSS // sum(widths), math.ceil(len(rows) / FEW_ROWS)))
    lines = (sum(rows[first : first + parts], ()) for first in range(0, len(rows), parts))
    cells = tuple((*line, *[""] * (parts * len(head) - len(line))) for line in lines)
    return Table(head * parts, cells, widths * parts)


def _widths(head: tuple, rows: tuple) -> tuple:
    """Gives how many letters wide the columns of a table are; where a line cannot hold them, only the first two, seat
    and answer, are as wide as their texts, and the others as their longest words.
    """
    columns = list(zip(head, *rows))
    whole = [max(map(len, cells)) + FREE for cells in columns]
    words = [max(len(word) for text in cells for word in text.split()) + FREE for cells in columns]
    return tuple(whole) if sum(whole) <= ACROSS else (*whole[:2], *words[2:])


def _kinds(line: KeyLine) -> dict:
    """(name, how often it was named before) → Misconception: two answers can come from one way of thinking."""
    found: dict[tuple, Misconception] = {}
    for one in line.misconceptions:
        found[one.name, sum(name == one.name for name, _ in found)] = one
    return found


def _seat_row(line: KeyLine, kinds, system: str) -> tuple:
    """One seat's answer, and what each mistake gives with its numbers; a dash where that is the right answer."""
    wrong = {kind: one.answer[system].partition(":")[0] for kind, one in _kinds(line).items()}
    return (short(line, system), *(wrong.get(kind, "–") for kind in kinds))


def overview(seats, lessons, system: str = SI) -> Sheet:
    """The answers of many seats at a glance: a line for each seat, a column for each question. Raises InputError."""
    blocks = [Text(f"{KEEP} Columns are the questions by lesson and number; lessons {', '.join(lessons)}.")]
    for lesson in lessons:
        keys = {seat: key(seat, asked_of((lesson,)), system) for seat in seats}
        heads = tuple(one.name for one in worksheet(seats[0], asked_of((lesson,)), system))
        rows = tuple((title_of(seat), *(short(line, system) for line in lines)) for seat, lines in keys.items())
        blocks.append(Table(("seat", *heads), rows, _widths(("seat", *heads), rows)))
    return Sheet(
        "All seats at a glance", tuple(blocks), TYPE, one_page=False, system=system, running="Answers at a glance"
    )


def short(line: KeyLine, system: str) -> str:
    """An answer without an option's words, the letters of an order run together."""
    return line.letters or line.answer[system]


def _row(line: KeyLine) -> tuple:
    why = f"\nWhy: {line.worked}"
    allowed = _allowed(line)
    choices = "".join(f"\n{letter}: {words}" for letter, words in line.asked.choices)
    wrong = "\n".join(f"• {_both(one.answer)} ({one.name}): {one.thinking} {one.ask}" for one in line.misconceptions)
    return (
        line.asked.name,
        unbroken(f"{line.asked.text}{choices}{why}"),
        unbroken(f"{_both(line.answer)}{allowed}"),
        unbroken(wrong),
    )


def _allowed(line: KeyLine) -> str:
    """The words on how close is close enough, on a line of its own; nothing where only the answer itself is right."""
    if line.allowed == "exact":
        return ""
    return f"\n{line.allowed}" + (f" ({line.why_allowed})" if line.why_allowed else "")


def _both(answer: dict) -> str:
    """Both systems' answers, said once where they are the same."""
    metric, customary = (answer[system] for system in SYSTEMS)
    return metric if in_words_of(metric, US) == customary else f"{metric} ({customary})"
