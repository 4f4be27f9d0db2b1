"""Prints of a class: worksheet and key of a seat agree on paper, one side where one is promised, no word cut, markup escaped, no file written over."""

import json
import re
from dataclasses import replace
from functools import cache

import pypdfium2
import pytest
from own_thread import in_own_thread

from lessons_lib import InputError
from lessons_lib.classroom.answer_key_panel import answer_key, key_prints
from lessons_lib.classroom.class_prints import GUESSES, guess_words, seat_file
from lessons_lib.classroom.lesson_pages import lesson_page, lesson_pages
from lessons_lib.classroom.prints.bench_card import bench_card, cards, steps
from lessons_lib.classroom.prints.keys import key_sheet, overview, room_key, short
from lessons_lib.classroom.prints.on_paper import on_paper
from lessons_lib.classroom.prints.page_in_units import PagesInUnits
from lessons_lib.classroom.prints.records import commissioning_record, leave_home
from lessons_lib.classroom.prints.session_sheet import session_sheet
from lessons_lib.classroom.prints.worksheets import SEAT_QUESTIONS, seat_sheet, worksheet_sheet
from lessons_lib.classroom.prints.writing import PrintedSet, plain_name
from lessons_lib.classroom.session import plan
from lessons_lib.exercises import key, lessons, of_lesson, question, variant
from lessons_lib.exercises.learner import EXAMPLE
from lessons_lib.exercises.seats import MOST, read_seats, title_of
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.sheets import Blank, Picture, Sheet, Text, bound
from lessons_lib.sheets.blocks import HALF
from lessons_lib.sheets.blocks import PAPERS as PAPERS_IN_MM
from lessons_lib.storage import own_material, preferences
from lessons_lib.storage.spelling import in_words_of

PAPERS = ("A4", "Letter")
CROSSED = (SI, "Letter"), (US, "A4")
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
    return sheet.one_page and sheet.pages(paper) == 1


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
        for lesson in chosen:
            mine = key(seat, [one for one in asked if one.lesson == lesson])
            answers = [line.answer[SYSTEMS[0]].partition(":")[0].replace(", ", "") for line in mine]
            assert flat(title_of(seat) + "".join(answers)) in words


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


@pytest.mark.parametrize("lesson, system", [(one, SYSTEMS[int(one) % 2]) for one in PAGES])
def test_a_bench_card_is_readable_at_arms_length(lesson, system):
    card, page = bench_card(lesson, system), lesson_page(lesson)
    assert card.type_size >= 14 and all(one_side(card, half) for half in HALF.values())
    (side,) = sides(card, "half Letter")
    words, told = flat(side), []
    for number, step in enumerate(steps(page.bench), 1):
        told.append(words.index(flat(f"{number}{in_words_of(step, system)}")))
        assert re.search(rf"^{number}\b", side, re.MULTILINE), "a number in one line"
    assert words.index(flat(in_words_of(page.stop, system))) < told[0] and told == sorted(told)
    assert flat("".join(steps(page.bench))) == flat(page.bench), "no sentence is lost"
    assert "tenminutesend" not in words


@on_both_papers
def test_bench_cards_lie_two_on_a_sheet_as_many_as_there_are_benches(paper):
    made = cards(("02", "07"), {"02": 3, "07": 2})
    sheets = pypdfium2.PdfDocument(made.pdf(paper))
    assert len(sheets) == 3
    high, wide = (side * 72 / 25.4 for side in PAPERS_IN_MM[paper])  # A5 is rounded to whole mm
    assert all(abs(page.get_width() - wide) < 3 and abs(page.get_height() - high) < 3 for page in sheets)
    words = flat("".join(page.get_textpage().get_text_range() for page in sheets))
    assert [words.count(flat(lesson_page(one).title)) for one in ("02", "07")] == [3, 2]
    with pytest.raises(InputError, match="paper"):
        made.pdf("A5")


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
def test_a_seats_file_names_seat_lesson_and_page_on_every_side(system, paper):
    file = seat_file("7", ("02", "05"), system)
    words = sides(file, paper)
    assert all(f"Seat 7 · {'02' if '02' in side else '05'}" in side for side in words)
    assert all(f"page {number} of {len(words)}" in side for number, side in enumerate(words, 1))
    assert flat("Right, of ") in flat("".join(words))
    for lesson in ("02", "05"):
        assert any(f"Seat 7 · {lesson} · Seat sheet" in side for side in words)
        assert any(f"Seat 7 · {lesson} · Worksheet" in side for side in words)


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("seats", [("7",), ("1", "2", "Ana <b>", *map(str, range(3, 14)))], ids=len)
def test_the_rooms_key_says_what_each_seats_key_says(seats, system, paper):
    """Every answer, every wrong answer and the thinking behind it; the thinking once for all seats."""
    sheet = room_key(seats, ("02", "05"), system)
    words, asked = on_sheet(sheet, paper), [one for lesson in ("02", "05") for one in of_lesson(lesson)]
    one_seat = key_sheet("7", ("02", "05"), system).pages(paper)
    assert sheet.type_size >= 10 and sheet.pages(paper) <= 1 + one_seat * (len(seats) + 2) / 3
    keys = {seat: key(seat, asked, system) for seat in seats}
    unbroken = "".join(sides(sheet, paper)).replace("\u00a0", " ")
    assert all(in_words_of(short(line, system), system) in unbroken for lines in keys.values() for line in lines)
    assert "answer" in unbroken and all(title_of(seat) in unbroken for seat in seats)
    for lines in zip(*keys.values()):
        for one in {one.name: one for line in lines for one in line.misconceptions}.values():
            assert words.count(flat(in_words_of(f"{one.thinking} {one.ask}", system))) >= 1
        for seat, line in zip(keys, lines):
            given = [short(line, system)] if line.asked.choices else [line.answer[system]]
            wrong = [one.answer[system].partition(":")[0] for one in line.misconceptions]
            assert all(flat(in_words_of(text, system)) in words for text in (*given, *wrong)), seat
    assert all(flat(title_of(seat)) in words for seat in seats)


@pytest.mark.parametrize(
    "system, paper", [(SI, "A4"), (US, "Letter"), *(pytest.param(*one, marks=pytest.mark.million) for one in CROSSED)]
)
def test_no_side_is_blank(system, paper):
    """In the units that are read on a paper, and with `million` in the other ones."""
    for sheet in (seat_file("7", lessons(), system), room_key(("1", "2", "3"), lessons(), system)):
        above_the_foot = ["".join(side.splitlines()[:-1]) for side in sides(sheet, paper)]
        assert min(len(flat(words)) for words in above_the_foot) > 20


@on_both_papers
@pytest.mark.parametrize("system", SYSTEMS)
def test_record_and_leave_home_sheet_take_one_side(system, paper):
    record, leaving = commissioning_record(system), leave_home(system)
    assert one_side(record, paper) and one_side(leaving, paper)
    words = on_sheet(record, paper)
    assert (
        ("psi" in words) == ("gpm" in words) == (system == US)
        and "nameandsignature" in words
        and "Neverheatadrytank" in words
    )
    leaving = on_sheet(leaving, paper)
    assert "EMPTY" in leaving and "113°F" in leaving and ("disconnect" in leaving) == (system == US)


@on_both_papers
def test_the_run_sheet_has_timetable_kit_and_risks(paper):
    made = plan(90, 12, 3, ("01", "02"))
    words = on_sheet(session_sheet(made), paper)
    assert all(flat(f"{one.lesson}{one.what}") in words for one in made.parts)
    assert all(flat(f"{one.count}{one.item}") in words for one in made.kit)
    assert all(flat(in_words_of(lesson_page(one).risks, SI)) in words for one in made.lessons)
    assert "disconnect" in on_sheet(session_sheet(made, system=US), paper)


def test_a_run_sheet_that_can_not_be_held_is_not_printed():
    with pytest.raises(InputError, match="20 minutes are too short"):
        session_sheet(plan(20, 12, 3, ("01", "02")))


@pytest.fixture(scope="module")
def lesson_in():
    """Gives the function that makes a lesson for paper in a unit system, once."""
    runs = {system: PagesInUnits(system) for system in SYSTEMS}
    yield cache(lambda lesson, system: on_paper(runs[system].run(lesson_page(lesson)), system))


@pytest.mark.parametrize(
    "lesson, system, paper", [*((one, US, "Letter") for one in PAGES), ("02", SI, "A4"), ("10", SI, "A4")]
)
def test_a_lesson_on_paper_needs_no_kernel(lesson_in, lesson, system, paper):
    page, sheet = lesson_page(lesson), lesson_in(lesson, system)
    words = on_sheet(sheet, paper)
    pictures = sum("application/pdf" in one.get("data", {}) for _, _, outputs in page.cells for one in outputs)
    assert pictures and sum(isinstance(block, Picture) for block in sheet.blocks) == pictures
    for told in (page.stop, page.bench, guess_words(lesson, system)):
        assert flat(in_words_of(told, system)) in words
    assert flat(in_words_of(page.risks, system)) not in words
    rooms = [block.label for block in sheet.blocks if isinstance(block, Blank)]
    asked = [flat(variant(one, EXAMPLE, system).text) for one in of_lesson(lesson)]
    assert [one in flat(label) for one, label in zip(asked, rooms, strict=True)] == [True] * len(asked)
    assert not any(one in words for one in ("**", "](", "RunAllCells", "Pressaname", "Eachanswerismarked"))


@pytest.mark.parametrize("lesson", PAGES)
def test_a_lesson_on_paper_speaks_the_plans_units(lesson_in, lesson):
    """Its pictures, their sentences and its questions have no metric unit alone: words of the page may state both."""
    sheet = lesson_in(lesson, US)
    drawn = [block for block in sheet.blocks if isinstance(block, Picture)]
    said = [pypdfium2.PdfDocument(one.pdf)[0].get_textpage().get_text_range() for one in drawn]
    asked = zip((block.label for block in sheet.blocks if isinstance(block, Blank)), of_lesson(lesson), strict=True)
    said += [one.alt for one in drawn] + [label for label, one in asked if not one.own_unit]  # that one is foreign
    metric, both = r"\d\s?(?:°C|L/min|kPa|m/s|mm|W/m|m|L)(?![\w/²])", r"\S+\s\([^)]*\)"
    assert not [text for text in said if re.search(metric, re.sub(both, "", text))]


def test_a_page_is_run_for_a_reader_of_the_plan_with_the_schools_own_material(tmp_path):
    pages, page = PagesInUnits(US), lesson_page("02")

    def run(source: str) -> str:
        ran = pages.run(replace(page, cells=(page.cells[0], ("code", source, ()))))
        return ran.cells[1][2][0]["data"]["text/plain"]

    own = own_material.folder()
    told = run(
        "from lessons_lib.storage import own_material, preferences\n"
        "(str(own_material.folder()), preferences.unit_system(), preferences.folder().samefile('"
        + str(tmp_path)
        + "'))"
    )
    assert told == repr((str(own), US, False)) and preferences.unit_system() == SI
    with pytest.raises(InputError, match="^02 · How hot at the tap: .* before its time"):
        run("import os\nos._exit(1)")


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


def written(makers: dict, paper: str, where) -> PrintedSet:
    made = PrintedSet(makers, paper, where)
    shares = list(made.steps())
    assert shares == sorted(shares) and len(shares) == len(makers) and shares[-1] < 1
    return made


def test_an_earlier_set_is_put_aside(tmp_path):
    where = tmp_path / "new"
    first = written({"one": lambda: Sheet("one", (Text("first"),)), "two": lambda: bench_card("02")}, "Letter", where)
    assert [file.name for file in first.files] == ["one-Letter.pdf", "two-Letter.pdf"] and first.aside is None
    before = [file.read_bytes() for file in first.files]
    second = written({"one": lambda: Sheet("one", (Text("second"),))}, "Letter", where)
    assert [file.name for file in where.glob("*.pdf")] == ["one-Letter.pdf"]
    assert [(second.aside / file.name).read_bytes() for file in first.files] == before
    assert second.files[0].read_bytes() not in before
    assert second.told().startswith(f"Written: 1 file, to {where}. The earlier set was put aside, into earlier/")
    assert sorted(one.name for one in where.iterdir()) == ["earlier", "one-Letter.pdf"]


def test_a_set_that_fails_leaves_the_earlier_one(tmp_path):
    def spoilt():
        raise InputError("no such lesson")

    first = written({"one": lambda: Sheet("one", (Text("first"),))}, "A4", tmp_path / "new")
    with pytest.raises(InputError, match="no such lesson"):
        list(PrintedSet({"a": lambda: bench_card("02"), "b": spoilt}, "A4", tmp_path / "new").steps())
    assert [file for file in (tmp_path / "new").iterdir()] == list(first.files)
    with pytest.raises(InputError, match="can't be used"):
        list(PrintedSet({"a": lambda: bench_card("02")}, "A4", first.files[0]).steps())


@in_own_thread
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
    assert printer.said.startswith("● Written") and len(list((tmp_path / "prints" / "keys").glob("*.pdf"))) == 3
    assert (
        printer.links.value.count("download=") == 3 and ".pdf" not in printer.said and "<img" not in printer.links.value
    )
    printer.button.click()
    assert "put aside" in printer.said
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
    for title in ("Broken", "Mended"):  # as long, and written right after it
        cell = {"cell_type": "markdown", "source": [f"# 02 · {title}"]}
        (tmp_path / "02-broken.ipynb").write_text(json.dumps({"cells": [cell]}), encoding="utf-8")
        assert lesson_pages(tmp_path)["02"].name == title
    with pytest.raises(InputError, match="heading"):
        lesson_page("02").section("Nowhere")
    with pytest.raises(InputError, match="lesson"):
        lesson_page("99")
