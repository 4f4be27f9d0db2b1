"""Prints of a class: worksheet and key of a seat agree on paper, one side where one is promised, no word cut, markup escaped, no file written over."""

import re
from dataclasses import replace

import pypdfium2
import pytest

from lessons_lib import InputError
from lessons_lib.classroom.answer_key_panel import answer_key, key_prints
from lessons_lib.classroom.class_prints import GUESSES, guess_words
from lessons_lib.classroom.lesson_pages import lesson_page, lesson_pages
from lessons_lib.classroom.prints.bench_card import TYPE, bench_card
from lessons_lib.classroom.prints.keys import key_sheet, overview
from lessons_lib.classroom.prints.on_paper import on_paper
from lessons_lib.classroom.prints.records import commissioning_record, leave_home
from lessons_lib.classroom.prints.session_sheet import session_sheet
from lessons_lib.classroom.prints.worksheets import SEAT_QUESTIONS, seat_sheet, worksheet_sheet
from lessons_lib.classroom.prints.writing import plain_name, write_sheets
from lessons_lib.classroom.session import plan
from lessons_lib.exercises import key, lessons, of_lesson, question, variant
from lessons_lib.exercises.learner import EXAMPLE
from lessons_lib.exercises.seats import MOST, read_seats, title_of
from lessons_lib.quantities.display import SYSTEMS, US
from lessons_lib.sheets import Sheet, Text, bound
from lessons_lib.storage.spelling import in_words_of

PAPERS = ("A4", "Letter")
PAGES = list(lesson_pages())
on_both_papers = pytest.mark.parametrize("paper", PAPERS)


def flat(text: str) -> str:
    """Words without blanks and line breaks, which paper puts elsewhere."""
    return re.sub(r"\s|\u00ad|\ufffe", "", text)


def sides(sheet: Sheet, paper: str) -> list[str]:
    """The words of each side of the PDF."""
    document = pypdfium2.PdfDocument(sheet.pdf(paper))
    return [page.get_textpage().get_text_range() for page in document]


def on_sheet(sheet: Sheet, paper: str) -> str:
    return flat("".join(sides(sheet, paper)))


def one_side(sheet: Sheet, paper: str) -> bool:
    """Whether it takes one side without being made smaller."""
    return sheet.one_page and len(sides(replace(sheet, one_page=False), paper)) == 1


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("seat", [7, "Ana <b>"])
def test_printed_worksheet_and_key_of_a_seat_agree(seat, system, paper):
    chosen = ("02", "05", "10")
    asked, solved = (
        on_sheet(worksheet_sheet(seat, chosen, system), paper),
        on_sheet(key_sheet(seat, chosen, system), paper),
    )
    for line in key(seat, [one for lesson in chosen for one in of_lesson(lesson)], system):
        own = variant(question(line.asked.question), seat, system)
        for words in (own.text, *(f"{letter}: {text}" for letter, _, text in own.choices)):
            assert flat(words) in asked and flat(words) in solved, words
        assert flat(own.shown_answer()) in solved
        assert all(flat(one.thinking) in solved and flat(one.ask) in solved for one in line.misconceptions)
        assert flat(own.worked) not in asked
    assert flat(title_of(seat)) in asked and flat(title_of(seat)) in solved


@on_both_papers
def test_another_seat_has_another_worksheet_and_not_this_ones_key(paper):
    assert on_sheet(worksheet_sheet(7, ("05",)), paper) != on_sheet(worksheet_sheet(8, ("05",)), paper)


@on_both_papers
def test_every_lesson_can_be_printed_for_the_room(paper):
    seats = [1, 2]
    whole = bound([worksheet_sheet(seat, lessons()) for seat in seats])
    words = sides(whole, paper)
    assert (
        sum("Seat 1 · Worksheet" in side for side in words) == sum("Seat 2 · Worksheet" in side for side in words) == 1
    )
    for seat in seats:
        for one in of_lesson(lessons()[-1]):
            assert flat(variant(one, seat).text) in flat("".join(words))


def test_the_overview_says_what_the_keys_say():
    seats, chosen = ("1", "2", "Ana"), ("05", "10")
    words = on_sheet(overview(seats, chosen), "A4")
    asked = [one for lesson in chosen for one in of_lesson(lesson)]
    for seat in seats:
        answers = [line.answer[SYSTEMS[0]].partition(":")[0].replace(", ", "") for line in key(seat, asked)]
        for start in range(0, len(answers), 8):
            assert flat(title_of(seat) + "".join(answers[start : start + 8])) in words


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("lesson", PAGES)
def test_seat_sheets_take_one_side_and_give_nothing_away(lesson, system, paper):
    sheet = seat_sheet("Ana <b>", lesson, system, guess_words(lesson, system))
    assert one_side(sheet, paper)
    words, page = on_sheet(sheet, paper), lesson_page(lesson)
    for asked in (page.stop, page.bench, guess_words(lesson, system) or page.guess):
        assert flat(in_words_of(asked, system)) in words
    for one in of_lesson(lesson)[:SEAT_QUESTIONS]:
        own = variant(one, "Ana <b>", system)
        assert flat(own.text) in words and flat(own.worked) not in words


@pytest.mark.parametrize("lesson", sorted(GUESSES))
def test_a_guess_is_asked_in_the_readers_units(lesson):
    metric, customary = (guess_words(lesson, system) for system in SYSTEMS)
    assert metric.endswith("?") and customary.endswith("?")
    assert "°C" not in customary and "gpm" not in metric


@pytest.mark.parametrize("lesson", PAGES)
def test_a_bench_card_is_readable_at_arms_length(lesson):
    card, page = bench_card(lesson), lesson_page(lesson)
    assert TYPE >= 14 and card.type_size == TYPE and one_side(card, "A5")
    words = on_sheet(card, "A5")
    assert words.index(flat(page.stop)) < words.rindex("Atthebench") and flat(page.bench) in words
    assert "tenminutesend" not in words


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
def test_record_and_leave_home_sheet_take_one_side(system, paper):
    record, leaving = commissioning_record(system), leave_home()
    assert one_side(record, paper) and one_side(leaving, paper)
    words = on_sheet(record, paper)
    assert (
        ("psi" in words) == ("gpm" in words) == (system == US)
        and "nameandsignature" in words
        and "Neverheatadrytank" in words
    )
    assert "EMPTY" in on_sheet(leaving, paper) and "113°F" in on_sheet(leaving, paper)


@on_both_papers
def test_the_run_sheet_has_timetable_kit_and_risks(paper):
    made = plan(90, 12, 3, ("01", "02"))
    words = on_sheet(session_sheet(made), paper)
    assert all(flat(f"{one.lesson}{one.what}") in words for one in made.parts)
    assert all(flat(f"{one.count}{one.item}") in words for one in made.kit)
    assert all(flat(lesson_page(one).risks) in words for one in made.lessons)


def test_a_run_sheet_that_can_not_be_held_is_not_printed():
    with pytest.raises(InputError, match="20 minutes are too short"):
        session_sheet(plan(20, 12, 3, ("01", "02")))


@on_both_papers
@pytest.mark.parametrize("lesson", PAGES)
def test_a_lesson_on_paper_needs_no_kernel(lesson, paper):
    page = lesson_page(lesson)
    words = on_sheet(on_paper(page), paper)
    pictures = sum("application/pdf" in one.get("data", {}) for _, _, outputs in page.cells for one in outputs)
    assert pictures and sum(type(block).__name__ == "Picture" for block in on_paper(page).blocks) == pictures
    assert flat(page.stop) in words and flat(page.bench) in words and flat(page.guess) in words
    assert flat(page.risks) not in words and all(flat(variant(one, EXAMPLE).text) in words for one in of_lesson(lesson))
    assert "**" not in words and "RunAllCells" not in words and "](" not in words


def test_html_escapes_names_and_loads_nothing():
    page = worksheet_sheet("<script>alert(1)</script>", ("02",)).html("Letter")
    assert "&lt;script&gt;" in page and "<script" not in page and "http" not in page


@pytest.mark.parametrize(
    "typed, seats",
    [
        ("1-3", ["1", "2", "3"]),
        ("seats 2 to 4", ["2", "3", "4"]),
        ("3, 03, Seat 3", ["3"]),
        ("Ana; Ben\n7", ["Ana", "Ben", "7"]),
        ("5–6,,", ["5", "6"]),
        ("Anna-Lena", ["Anna-Lena"]),
        ("<b>x</b>", ["<b>x</b>"]),
    ],
)
def test_seats_are_read(typed, seats):
    assert list(read_seats(typed)) == seats


@pytest.mark.parametrize(
    "typed, why",
    [
        ("", "nothing"),
        (" , ;", "nothing"),
        ("12-1", "backwards"),
        (f"1-{MOST + 1}", "more than"),
        ("1-999999", "more than"),
    ],
)
def test_seats_that_can_not_be_read_are_said(typed, why):
    with pytest.raises(InputError, match=why):
        read_seats(typed)


def test_a_long_or_odd_list_of_seats_is_no_trouble():
    assert len(read_seats("x" * 10_000)[0]) <= 60
    assert plain_name("keys", "../../etc", "7").startswith("keys-etc-7") and "/" not in plain_name("../a")
    assert plain_name("Ana") != plain_name("Ána") and len(plain_name("x" * 500)) <= 60


def test_files_are_left_alone_unless_told(tmp_path):
    sheets = {"one": Sheet("one", (Text("first"),)), "bench-card-02": bench_card("02")}
    done = write_sheets(sheets, "Letter", where=tmp_path / "new")
    assert [file.name for file in done.written] == ["one-Letter.pdf", "bench-card-02-A5.pdf"] and not done.left
    before = {file: file.read_bytes() for file in done.written}
    sheets["one"] = Sheet("one", (Text("second"),))
    again = write_sheets(sheets, "Letter", where=tmp_path / "new")
    assert (
        not again.written and "not touched" in again.told() and before == {file: file.read_bytes() for file in before}
    )
    assert (
        write_sheets(sheets, "Letter", True, tmp_path / "new").written
        and done.written[0].read_bytes() != before[done.written[0]]
    )
    with pytest.raises(InputError, match="can't be used"):
        write_sheets(sheets, "A4", where=done.written[0])


def test_the_key_page_keeps_what_it_showed_and_says_why(tmp_path):
    page = answer_key()
    page.reveal.value = True
    shown = page.html
    for typed in ("12-1", "", "1-9999"):
        page.seats.box.value = typed
        assert page.html == shown and page.said.startswith("▲")
    page.seats.box.value = "<img src=x onerror=alert(1)>, 4"
    assert "<img" not in page.shown.value and "&lt;img" in page.shown.value and page.said == "● Ready"
    printer = key_prints(page)
    printer.button.click()
    assert printer.said.startswith("● Written") and len(list((tmp_path / "sheets").glob("*.pdf"))) == 3
    printer.button.click()
    assert "not touched" in printer.said
    for box in page.lessons.boxes.values():
        box.value = False
    printer.button.click()
    assert printer.said.startswith("▲") and "none is ticked" in page.said
    bundle = page._repr_mimebundle_()
    assert bundle["text/plain"] == page.sentence and "<table" in bundle["text/html"]


def test_pages_say_what_they_miss(tmp_path):
    with pytest.raises(InputError, match="no lesson"):
        lesson_pages(tmp_path)
    (tmp_path / "02-broken.ipynb").write_text("{", encoding="utf-8")
    with pytest.raises(InputError, match="can't be read"):
        lesson_pages(tmp_path)
    with pytest.raises(InputError, match="heading"):
        lesson_page("02").section("Nowhere")
    with pytest.raises(InputError, match="lesson"):
        lesson_page("99")
