"""Tables that an instructor changed, in a spreadsheet or by hand: read as they are meant, or a sentence with file, row and remedy."""

import pytest

from lessons_lib import InputError
from lessons_lib.classroom.answer_key_panel import answer_key
from lessons_lib.classroom.prints.worksheets import seat_sheet
from lessons_lib.classroom.session import lessons, plan
from lessons_lib.exercises import bank, read_class
from lessons_lib.panels.exercises import exercises
from lessons_lib.storage import tables

SESSION = (90, 12, 3, ("01", "02"))


def changed(file, change) -> None:
    file.write_bytes(change(file.read_text(encoding="utf-8")).encode("utf-8"))


def parted_anew(text: str, mark: str) -> str:
    """As a spreadsheet saves a table: every row with the same number of cells, comments in quotation marks, 1 for 01."""
    import csv
    import io

    rows = list(csv.reader(io.StringIO(text)))
    width = max(len(row) for row in rows if not row[0].startswith("#"))
    fresh = io.StringIO()
    writer = csv.writer(fresh, delimiter=mark, lineterminator="\r\n")
    for row in rows:
        cells = [cell.removeprefix("0") if cell.isdigit() and len(cell) == 2 else cell for cell in row]
        writer.writerow([*cells, *[""] * (width - len(row))])
    writer.writerow([""] * width)
    return fresh.getvalue()


CHANGES = {
    "a byte order mark": lambda text: "\ufeff" + text,
    "semicolons": lambda text: parted_anew(text, ";"),
    "commas": lambda text: parted_anew(text, ","),
    "tabs and a mark": lambda text: "\ufeff" + parted_anew(text, "\t"),
    "blanks": lambda text: text.replace(",", " , ") if '"' not in text else text,
}


@pytest.mark.parametrize("how", CHANGES)
def test_what_a_spreadsheet_saves_is_read_as_it_was(how, data):
    names = ("session_minutes", "kit", "readings", "pipes", "words", "work_order")
    before, planned, sheet = {name: tables.rows(name) for name in names}, plan(*SESSION), str(seat_sheet("7", "02"))
    for name in names:
        changed(data / f"{name}.csv", CHANGES[how])
    tables.rows.cache_clear()
    for name in ("session_minutes", "kit", "readings"):
        assert tables.rows(name) == before[name], name
    assert plan(*SESSION) == planned and lessons()[0] == "01" and str(seat_sheet("7", "02")) == sheet


def test_a_spreadsheet_of_western_europe(data):
    file = data / "readings.csv"
    file.write_bytes(file.read_text(encoding="utf-8").encode("cp1252"))
    assert any("38 °C" in row["what"] for row in tables.rows("readings"))


SLIPS = {
    "in words": (
        "session_minutes",
        "01,10,10,0,0,5,0,",
        "01,fifteen,10,0,0,5,0,",
        r'session_minutes.csv, row 7, path: "fifteen" was given; write a number in digits',
    ),
    "half a minute": (
        "session_minutes",
        "01,10,10,0,0,5,0,",
        "01,10.5,10,0,0,5,0,",
        r'row 7, path: "10.5" was given; write a whole number',
    ),
    "below nothing": (
        "session_minutes",
        "01,10,10,0,0,5,0,",
        "01,10,-10,0,0,5,0,",
        r'row 7, hands: "-10" was given; write a whole number',
    ),
    "400 digits": (
        "session_minutes",
        "01,10,10,0,0,5,0,",
        f"01,10,{'1' * 400},0,0,5,0,",
        r'row 7, hands: "1+…" was given',
    ),
    "left out": ("session_minutes", "01,10,10,0,0,5,0,", "01,10,10,0,0,,0,", r'row 7, talk: "" was given'),
    "another header": (
        "session_minutes",
        "lesson,path",
        "Lektion,path",
        r'row \d: there is no column "lesson"; the header says Lektion, path',
    ),
    "a comma too many": (
        "session_minutes",
        "01,10,10,0,0,5,0,",
        "01,10,10,0,0,5,0,,,7",
        r"row 7: 11 cells where the header has 9. Put a text",
    ),
    "a count in words": (
        "kit",
        "01,thermometer,bench,2",
        "01,thermometer,bench,two",
        r'kit.csv, row 9, count: "two" was given',
    ),
    "for everybody": (
        "kit",
        "01,thermometer,bench,2",
        "01,thermometer,everybody,2",
        r'kit.csv, row 9, per: "everybody" is not known',
    ),
}


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_is_a_sentence_with_file_row_and_remedy(slip, data):
    name, old, new, said = SLIPS[slip]
    assert old in (data / f"{name}.csv").read_text(encoding="utf-8")
    changed(data / f"{name}.csv", lambda text: text.replace(old, new, 1))
    tables.rows.cache_clear()
    with pytest.raises(InputError, match=said) as caught:
        plan(*SESSION)
    assert len(str(caught.value)) < 300
    changed(data / f"{name}.csv", lambda text: text.replace(new, old, 1))
    tables.rows.cache_clear()
    assert plan(*SESSION).parts, "mended: it goes on"


def test_an_unknown_kind_of_reading(data):
    changed(
        data / "readings.csv",
        lambda text: text.replace("02,air beside the pipe,temperature", "02,air beside the pipe,temprature"),
    )
    tables.rows.cache_clear()
    with pytest.raises(
        InputError, match=r'readings.csv, row \d+, kind: "temprature" is not known; the nearest are "temperature"'
    ):
        seat_sheet("7", "02")


def test_a_table_that_is_gone_and_one_that_is_a_spreadsheet(data):
    (data / "kit.csv").write_bytes(b"PK\x03\x04\x00\x00")
    with pytest.raises(InputError, match="kit.csv: .*not text"):
        tables.rows("kit")
    (data / "kit.csv").unlink()
    with pytest.raises(InputError, match="kit.csv: the file cannot be opened"):
        tables.rows("kit")


def test_a_pipe_row_that_is_no_number(data):
    from lessons_lib import Pipe
    from lessons_lib.runs import pipe

    changed(
        data / "pipes.csv",
        lambda text: text.replace(
            "copper L,1 in,copper,United States,in,1.125", "copper L,1 in,copper,United States,in,an inch"
        ),
    )
    tables.rows.cache_clear()
    pipe._nominal.cache_clear()
    with pytest.raises(InputError, match=r'pipes.csv, row \d+, outside_diameter: "an inch" was given'):
        Pipe.nominal("copper L", "1 in")
    pipe._nominal.cache_clear()


def spoil(data, lesson: str, change) -> None:
    changed(data / "questions" / f"{lesson}.toml", change)
    bank._bank.cache_clear()


def test_a_slip_in_one_file_of_questions_spoils_its_own_lesson_only(data):
    spoil(data, "05", lambda text: text.replace("[[question]]", "[[queston]]", 1))
    assert bank.lessons() == tuple(f"{number:02d}" for number in range(1, 15)) and len(bank.of_lesson("06")) > 1
    assert set(bank.broken()) == {"05"}
    with pytest.raises(InputError, match="05.toml"):
        bank.of_lesson("05")
    shown = exercises("05", 1, 3)
    assert "▲ The questions of this lesson cannot be shown. 05.toml" in repr(shown) and "05.toml" in shown.widget.value
    assert "text/plain" in shown._repr_mimebundle_() and exercises("06", 1, 2).exercises
    found = read_class(data / "class")
    assert any("lesson 05" in name and "05.toml" in why for name, why in found.skipped)
    key = answer_key()
    assert "● Ready" in key.said
    key.lessons.set(("05",))
    key.update()
    assert "05.toml" in key.said and "Ready" not in key.said
    spoil(data, "05", lambda text: text.replace("[[queston]]", "[[question]]", 1))
    assert not bank.broken()


def test_questions_with_a_byte_order_mark(data):
    before = bank.of_lesson("01")
    spoil(data, "01", lambda text: "\ufeff" + text)
    assert [one.id for one in bank.of_lesson("01")] == [one.id for one in before]


def test_one_id_in_two_files(data):
    spoil(data, "02", lambda text: text.replace(f'"{bank.of_lesson("02")[0].id}"', '"01-hot-share"', 1))
    assert set(bank.broken()) == {"02"} and "stands twice" in str(bank.broken()["02"])


QUESTION = """
[[question]]
id = "01-x"
kind = "number"
text = "How much? {cold}"
hint = "Think."
worked = "So."
answer = { by = "hot_share hot cold mixed", kind = "share" }
within = "1 %"
why_within = "reading"
panel = ""
repeats = ""
own_unit = false
[question.numbers]
hot = { kind = "temperature", metric = [60, 62], us = [140, 142] }
cold = { kind = "temperature", both = "8 to 12 step 2" }
mixed = { kind = "temperature", metric = [40], us = [104], foreign = false, follows = "hot" }
[question.steps]
first = { by = "hot_share hot cold mixed", kind = "share" }
[[question.mistakes]]
name = "a"
thinking = "b"
ask = "c"
by = "hot_share hot mixed cold"
before = ["a", "b"]
[[question.options]]
key = "a"
text = "b"
thinking = "c"
ask = "d"
name = "e"
"""
ODD = (
    '"call"',
    "5",
    "true",
    "[]",
    "[5]",
    "[[]]",
    "{}",
    "{ a = 1 }",
    "1979-05-27",
    "nan",
    '""',
    '"1 to 0 step 0"',
    '"0 to 9999999 step 0.001"',
    '"..  to . step ."',
)


@pytest.mark.parametrize("line", [line for line in QUESTION.splitlines() if "=" in line])
def test_any_other_value_is_a_question_or_a_sentence(line, tmp_path):
    file, word = tmp_path / "01.toml", line.partition(" =")[0]
    inside = [
        part.strip().partition(" =")[0] for part in line.partition("{")[2].rstrip("} ").split(", ") if " = " in part
    ]
    for value in ODD:
        lines = [
            f"{word} = {value}",
            *(
                line.replace(part, f"{one} = {value}")
                for one in inside
                for part in line.partition("{")[2].rstrip(" }").split(", ")
                if part.strip().startswith(f"{one} =")
            ),
        ]
        for fresh in lines:
            file.write_text(QUESTION.replace(line, fresh, 1), encoding="utf-8")
            try:
                bank.read(file)
            except InputError as error:
                assert str(error).startswith("01.toml") and len(str(error)) < 2000


def test_answer_as_a_word_is_told(tmp_path):
    file = tmp_path / "01.toml"
    file.write_text(
        QUESTION.replace('answer = { by = "hot_share hot cold mixed", kind = "share" }', 'answer = "call"'),
        encoding="utf-8",
    )
    with pytest.raises(
        InputError,
        match=r"01.toml, question 1 \(01-x\), answer: 'call' was given; of the kind number it must be a table like",
    ):
        bank.read(file)


@pytest.mark.parametrize(
    "text", ["x = " + "[" * 5000, "x = " + "1" * 5000, "question = 5", "question = [5]", "\x00", "[[question]]\n" * 2]
)
def test_hostile_files_of_questions(text, tmp_path):
    file = tmp_path / "01.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match="01.toml"):
        bank.read(file)
